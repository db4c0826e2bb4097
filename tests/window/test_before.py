"""What figures were before an edit, on pages that are worked out behind the window."""

from pytestqt.qtbot import QtBot

from planner.buying.compare import OfferResult, compare
from planner.measures.lengths import LengthUnit
from planner.shop.document import changed
from planner.window.before import Before
from planner.window.changes import Place
from planner.window.offers.figures import Column
from planner.window.told import Told
from tests.window.offers.setting import FACTS, SHEETS
from tests.window.rig import Rig, click, typed

COST = "cost"


def answered(before: Before, asked: object, cost: str) -> str:
    before.ask(asked)
    before.take({COST: Told.of(cost)})
    return before.was(COST)


def test_what_an_edit_changed_is_told_until_somebody_looks() -> None:
    before = Before()
    assert answered(before, "20 shirts", "90") == ""
    assert answered(before, "30 shirts", "120") == "90"
    # Two edits, one question: what was it when I looked last?
    assert answered(before, "40 shirts", "150") == "90"
    assert before.look_at()
    assert before.was(COST) == ""
    assert answered(before, "20 shirts", "90") == "150"


def test_a_figure_that_a_search_bettered_is_no_change_of_an_edit() -> None:
    before = Before()
    answered(before, "20 shirts", "90")
    assert answered(before, "20 shirts", "85") == ""
    # What it is held against is what somebody saw last.
    assert answered(before, "30 shirts", "120") == "85"
    assert answered(before, "30 shirts", "110") == "85"


def test_going_back_to_what_was_looked_at_is_no_change() -> None:
    before = Before()
    answered(before, "20 shirts", "90")
    answered(before, "30 shirts", "120")
    assert answered(before, "20 shirts", "90") == ""


def test_what_was_looked_at_before_it_was_worked_out_is_no_change() -> None:
    before = Before()
    answered(before, "20 shirts", "90")
    before.ask("30 shirts")
    before.look_at()
    before.take({COST: Told.of("120")})
    assert before.was(COST) == ""


def test_rows_of_offers_tell_what_an_edit_changed(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.offers)
    was = _figure(job_rig, qtbot, Column.COST)
    assert _was(job_rig) == {}
    typed(window.artwork.cards["a1"].rows["p1"].print_width, "12 in")
    qtbot.waitUntil(lambda: _was(job_rig).get(Column.COST) == was, timeout=10_000)
    head = window.offers.offers.rows[SHEETS].head
    assert f"was {was}" in head.accessibleName()
    assert f"Cost: {was} → {_figure(job_rig, qtbot, Column.COST)}" in head.toolTip()
    click(window.foot.choices[0])
    assert _was(job_rig) == {}


def test_rows_of_offers_forget_what_was_once_the_page_is_left(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.offers)
    _figure(job_rig, qtbot, Column.COST)
    typed(window.artwork.cards["a1"].rows["p1"].print_width, "12 in")
    qtbot.waitUntil(lambda: bool(_was(job_rig)), timeout=10_000)
    window.pages.setCurrentWidget(window.garments)
    window.pages.setCurrentWidget(window.offers)
    assert _was(job_rig) == {}


def test_a_closer_look_is_no_edit(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.offers)
    _figure(job_rig, qtbot, Column.COST)
    question = window.questions.question
    assert question is not None
    quick = compare(question.job, question.shop, FACTS)
    for cost in (3, 2):
        window.offers.show_results(question, tuple(_searched(result, cost) for result in quick))
        assert _figure(job_rig, qtbot, Column.COST) == f"{cost}.00"
        assert _was(job_rig) == {}
    # Nor is a searched answer held against the quick one of an edit.
    typed(window.artwork.cards["a1"].rows["p1"].print_width, "12 in")
    qtbot.waitUntil(lambda: bool(_was(job_rig)), timeout=10_000)
    assert _was(job_rig)[Column.COST] not in ("3.00", "2.00")


def test_a_job_still_being_put_together_has_no_befores(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.since.forget()
    job_rig.desk.apply("Take the offer away", changed(job_rig.desk.job, offer=None))
    assert not window.since.is_watching
    window.pages.setCurrentWidget(window.offers)
    was = _figure(job_rig, qtbot, Column.COST)
    typed(window.artwork.cards["a1"].rows["p1"].print_width, "12 in")
    qtbot.waitUntil(lambda: _figure(job_rig, qtbot, Column.COST) != was, timeout=10_000)
    assert _was(job_rig) == {}


def test_the_ladder_tells_what_an_edit_changed(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.ladder)
    qtbot.waitUntil(lambda: bool(window.ladder.ladder.rungs), timeout=10_000)
    first = window.ladder.ladder.rungs[0]
    before = f"{first.price_each:.2f} →"
    typed(window.costs.terms.margin, "60")
    told = window.ladder.table.befores
    assert told[first.quantity, "price_each"].text() == ""
    qtbot.waitUntil(lambda: window.ladder.ladder.rungs[0] != first, timeout=10_000)
    told = window.ladder.table.befores
    assert told[first.quantity, "price_each"].text() == before
    # What the garment costs the shop is the same.
    assert told[first.quantity, "cost_each"].text() == ""
    window.look_at(*Place)
    assert not any(each.text() for each in window.ladder.table.befores.values())


def test_the_job_s_own_quantity_is_one_line_of_the_ladder_whatever_its_count(
    job_rig: Rig, qtbot: QtBot
) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.ladder)
    qtbot.waitUntil(lambda: window.ladder.ladder.now is not None, timeout=10_000)
    now = window.ladder.ladder.now
    assert now is not None
    window.offers.quantity_chosen.emit(now.quantity + 10)
    qtbot.waitUntil(lambda: window.ladder.ladder.now != now, timeout=10_000)
    assert window.ladder.table.befores[now.quantity + 10, "total"].text() == f"{now.total:,.2f} →"
    window.pages.setCurrentWidget(window.garments)
    window.pages.setCurrentWidget(window.ladder)
    assert not any(each.text() for each in window.ladder.table.befores.values())


def test_rows_of_offers_tell_no_change_where_only_the_region_or_unit_is_another(
    job_rig: Rig, qtbot: QtBot
) -> None:
    window, desk = job_rig.window, job_rig.desk
    window.pages.setCurrentWidget(window.offers)
    american = _figure(job_rig, qtbot, Column.COST)
    desk.set_shop(changed(desk.shop, region="DE", unit=LengthUnit.MILLIMETRE))
    german = american.translate(str.maketrans(",.", ".,"))
    qtbot.waitUntil(lambda: _figure(job_rig, qtbot, Column.COST) == german, timeout=10_000)
    shown = [row.head.shown for row in window.offers.offers.rows.values()]
    assert [each.was for each in shown if each] == [{}] * len(shown)


def _figure(rig: Rig, qtbot: QtBot, column: Column) -> str:
    """As the row of the sheets shows it."""
    rows = rig.window.offers.offers.rows
    qtbot.waitUntil(lambda: SHEETS in rows, timeout=10_000)
    shown = rows[SHEETS].head.shown
    assert shown is not None
    return shown.cells[column].figure


def _was(rig: Rig) -> dict[Column, str]:
    shown = rig.window.offers.offers.rows[SHEETS].head.shown
    assert shown is not None
    return dict(shown.was)


def _searched(result: OfferResult, cost: int) -> OfferResult:
    order = changed(result.order, cost=cost, provisional=False)
    return changed(result, order=order, cost=cost, provisional=False)
