"""What changed is shown, before → after, until somebody looks at it."""

from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.measures.lengths import LengthUnit
from planner.plan import wording as sentences
from planner.shop.document import changed
from planner.window.changes import Change, Place, Shown, difference
from planner.window.costs.figure import CHANGE_MS
from planner.window.told import Told
from tests.window.rig import Rig, click, typed


def test_a_difference_tells_what_changed_came_and_went() -> None:
    before = {
        "a": Shown("Sheets", Told.of("6")),
        "b": Shown("Runs", Told.of("2")),
        "d": Shown("Days", Told.of("3")),
    }
    after = {
        "a": Shown("Sheets", Told.of("7")),
        "c": Shown("Rush", Told.of("9")),
        "d": Shown("Days", Told.of("3")),
    }
    assert difference(before, after) == (
        Change("Sheets", "6", "7"),
        Change("Runs", "2", ""),
        Change("Rush", "", "9"),
    )


def test_figures_keep_what_they_were_until_somebody_has_seen_them(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    total = window.costs.figures["quote"]
    was = total.figure.text()
    _more(job_rig, "60")
    _more(job_rig, "70")
    qtbot.wait(CHANGE_MS // 40)
    # Two edits, one question: what was it when I looked last?
    assert total.before.text() == f"{was} →"
    assert f"was {was}" in total.accessibleName()
    told = "Changed since you looked, provisional until arranged: Total:"
    assert window.foot.text.text().startswith(told)
    click(window.foot.choices[0])
    assert total.before.text() == ""
    assert window.foot.text.text() == "Ctrl+K finds any command by typing."


def test_the_foot_no_longer_tells_of_sheets_that_an_edit_made_untrue(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    job_rig.desk.set_shop(changed(job_rig.desk.shop, search_s=0.2))
    click(window.bar.arrange)
    job_rig.settle(qtbot)
    assert window.foot.text.text().startswith("Arranged on ")
    _more(job_rig, "600")
    assert window.plan.provisional
    assert window.foot.text.text().startswith("Changed since you looked, provisional until arranged: ")
    click(window.bar.arrange)
    job_rig.settle(qtbot)
    assert window.foot.text.text().startswith("Arranged on ")
    window.foot.clear()
    assert window.foot.text.text().startswith("Changed since you looked: ")


def test_going_back_to_what_was_looked_at_is_no_change(job_rig: Rig) -> None:
    _more(job_rig, "60")
    job_rig.desk.undo_stack.undo()
    assert job_rig.window.since.in_short() == ""
    assert job_rig.window.costs.figures["quote"].before.text() == ""


def test_a_page_is_marked_until_it_was_visited_and_left(job_rig: Rig) -> None:
    window = job_rig.window
    pages = window.pages
    at = pages.indexOf(window.sheets)
    _more(job_rig, "600")
    bar = pages.tabBar()
    assert "→" in pages.tabToolTip(at)
    assert "→" in bar.accessibleTabName(at)
    pages.setCurrentWidget(window.sheets)
    assert "→" in pages.changed.text()
    pages.setCurrentWidget(window.garments)
    assert pages.tabToolTip(at) == ""
    assert window.since.changes(Place.SHEETS) == ()
    # The costs were not looked at by that.
    assert window.since.changes(Place.COSTS)


def test_new_changed_and_gone_findings_are_told(job_rig: Rig) -> None:
    window = job_rig.window
    width = window.artwork.cards["a1"].rows["p1"].print_width
    typed(width, "11 in")
    key = next(key for key in window.findings.rows if key.startswith("too coarse"))
    assert window.findings.rows[key].change.text() == "new"
    window.look_at(*Place)
    assert window.findings.rows[key].change.text() == ""
    typed(width, "12 in")
    assert "→" in window.findings.rows[key].change.text()
    typed(width, "3 in")
    assert window.since.known_findings is not None
    assert key in window.since.known_findings
    assert key not in window.findings.rows
    assert "gone" in window.foot.text.text()


def test_a_job_still_being_put_together_has_no_changes(rig: Rig) -> None:
    rig.desk.apply("Change title", edits.set_fields(rig.desk.job, title="Fair"))
    assert not rig.window.since.is_watching
    assert rig.window.foot.text.text() == "Ctrl+K finds any command by typing."


def test_another_job_on_the_desk_is_no_change(job_rig: Rig) -> None:
    _more(job_rig, "60")
    job_rig.desk.undo_stack.setClean()
    job_rig.window.cabinet.new(job_rig.window)
    assert not job_rig.window.since.is_watching
    assert job_rig.window.costs.figures["quote"].before.text() == ""


def test_another_region_or_unit_changes_no_figure(job_rig: Rig, qtbot: QtBot) -> None:
    window, desk = job_rig.window, job_rig.desk
    total = window.costs.figures["quote"]
    american = total.figure.text()
    desk.set_shop(changed(desk.shop, region="DE", unit=LengthUnit.MILLIMETRE))
    assert total.figure.text() == american.translate(str.maketrans(",.", ".,"))
    assert total.before.text() == ""
    assert all(window.since.changes(place) == () for place in Place)
    assert window.foot.text.text() == "Ctrl+K finds any command by typing."
    # What an edit changes then is told as that region writes it, before and after.
    german = total.figure.text()
    _more(job_rig, "600")
    assert total.before.text() == f"{german} →"
    assert window.since.changes(Place.COSTS)[0].before.startswith(german)


def _more(rig: Rig, count: str) -> None:
    rig.window.pages.setCurrentWidget(rig.window.garments)
    typed(rig.window.garments.forms["g1"].sizes.counts["M"], count, end=None)


def test_the_one_order_at_another_offer_is_a_change_and_two_are_told_apart(job_rig: Rig) -> None:
    window, job = job_rig.window, job_rig.desk.job
    job_rig.desk.apply("", edits.set_fields(job, offer="film-single"))
    (cost, *_) = window.since.changes(Place.OFFERS)
    assert cost.name == "Transfers"
    assert cost.before.startswith("$")
    assert cost.after.startswith("$")
    job_rig.desk.apply("", edits.add_print(job, changed(job.prints[0], key="p2", offer="film-roll")))
    told = {change.name: change for change in window.since.changes(Place.OFFERS)}
    assert told["Transfers"].after == sentences.money(window.plan.purchase.cost, "USD")
    assert told["Film roll, 22 in, Transfers"].before == ""
    # Sheets and their runs are told in all: two offers in the place of one leave none behind.
    job_rig.desk.apply("", job)
    window.since.look_at(Place.SHEETS)
    job_rig.desk.apply("", edits.add_print(job, changed(job.prints[0], key="p2", offer="film-roll")))
    sheets = {change.name: change for change in window.since.changes(Place.SHEETS)}
    assert all(change.after for change in sheets.values())
    assert ";" in sheets["Runs"].after
