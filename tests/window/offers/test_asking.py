"""Questions about offers, answered on real threads."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from planner.buying.compare import OfferResult
from planner.job import edits
from planner.job.document import Job
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.shop.document import changed
from planner.window.background import Background
from planner.window.main import MainWindow
from planner.window.offers.asking import CHART, OfferQuestions
from planner.window.offers.question import Question, priced_part
from planner.window.offers.searching import PartTicket
from planner.work.ticket import Cancelled, Ticket
from tests.builders import A_DAY, a_job
from tests.window.offers.setting import ROLL, SHEETS, a_small_shop, two_prints, with_medium
from tests.window.rig import Rig


class Asked:
    """Questions on two threads, and everything they told."""

    def __init__(self) -> None:
        self.background = Background(ThreadPoolExecutor(2))
        self.questions = OfferQuestions(self.background, lambda: A_DAY)
        self.compared: list[tuple[Question, tuple[OfferResult, ...]]] = []
        self.charted: list[bool] = []
        self.progress: list[tuple[int, int]] = []
        self.questions.compared.connect(lambda asked, results: self.compared.append((asked, results)))
        self.questions.charted.connect(lambda asked, costs, rough: self.charted.append(rough))
        self.questions.progressed.connect(lambda done, of: self.progress.append((done, of)))

    def ask(self, job: Job, scope: str | None = None) -> None:
        self.questions.ask(job, a_small_shop(SHEETS, ROLL), {}, scope)


@pytest.fixture
def asked(qapp: object, qtbot: QtBot) -> Iterator[Asked]:
    made = Asked()
    yield made
    made.questions.drop()
    qtbot.waitUntil(made.background.is_idle, timeout=20_000)
    made.background.shut_down()


def on_the_offers(rig: Rig, qtbot: QtBot) -> MainWindow:
    """The window on a job, its offers in front."""
    job, files = a_job()
    rig.desk.open(job, files, None)
    rig.settle(qtbot)
    rig.window.pages.setCurrentWidget(rig.window.offers)
    return rig.window


def test_a_window_closed_right_after_an_edit_asks_nothing_more(threaded_rig: Rig, qtbot: QtBot) -> None:
    window = on_the_offers(threaded_rig, qtbot)
    assert window.questions.question is not None
    threaded_rig.desk.undo_stack.setClean()
    window.close()
    assert window.questions.question is None
    assert not window.questions.waits


def test_a_question_is_answered_quickly_and_asked_once(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(two_prints())
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    assert {result.offer for result in asked.compared[0][1]} == {SHEETS, ROLL}
    assert all(result.provisional for result in asked.compared[0][1])
    asked.ask(two_prints())
    qtbot.waitUntil(asked.background.is_idle, timeout=10_000)
    assert len(asked.compared) == 1


def test_while_somebody_types_questions_wait_and_the_last_is_answered(asked: Asked, qtbot: QtBot) -> None:
    started: list[str] = []
    start = asked.background.start
    asked.background.start = lambda lane, *work, **then: (started.append(lane), start(lane, *work, **then))[1]  # type: ignore[method-assign]
    for count in (1, 12, 124):
        asked.ask(with_medium(two_prints(), count))
    assert started.count("offers") == 1
    assert asked.questions.is_held_up
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    assert started.count("offers") == 2
    (answered,) = asked.compared
    assert answered[0].job.lines[0].sizes[0].count == 124
    assert not asked.questions.is_held_up


def test_a_closer_look_is_not_ended_by_a_question_that_waited(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(with_medium(two_prints(), 1))
    asked.ask(with_medium(two_prints(), 12))
    asked.questions.look_closer()
    qtbot.waitUntil(lambda: len(asked.compared) >= 2, timeout=20_000)
    assert not any(result.provisional for result in asked.compared[-1][1])


def test_what_is_dear_rests_for_a_search_and_goes_on_after_it(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(two_prints())
    qtbot.waitUntil(lambda: asked.background.is_busy(CHART), timeout=10_000)
    asked.questions.rest()
    assert not asked.background.is_busy(CHART)
    assert asked.questions.waits
    # A question of now is compared at once; its chart rests with the other.
    asked.ask(with_medium(two_prints(), 14))
    qtbot.wait(800)
    assert asked.compared[-1][0].job.lines[0].sizes[0].count == 14
    assert not asked.background.is_busy(CHART)
    assert asked.charted == []
    asked.questions.go_on()
    qtbot.waitUntil(lambda: asked.charted[-1:] == [False], timeout=20_000)
    assert not asked.questions.waits


def test_while_sheets_are_arranged_the_chart_rests(threaded_rig: Rig, qtbot: QtBot) -> None:
    window = on_the_offers(threaded_rig, qtbot)
    qtbot.waitUntil(lambda: window.background.is_busy(CHART), timeout=10_000)
    window.arrange()
    assert window.arranging.is_busy
    assert not window.background.is_busy(CHART)
    qtbot.waitUntil(lambda: window.background.is_busy(CHART), timeout=10_000)
    assert not window.arranging.is_busy
    threaded_rig.settle(qtbot)


def test_only_the_newest_question_is_answered(asked: Asked, qtbot: QtBot) -> None:
    for number in range(5):
        asked.ask(with_medium(two_prints(), 10 + number))
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    qtbot.waitUntil(asked.background.is_idle, timeout=10_000)
    assert [question.job.lines[0].sizes[0].count for question, _ in asked.compared] == [14]


def test_what_no_price_depends_on_is_no_new_question(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(two_prints())
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    first = asked.questions.question
    asked.ask(changed(two_prints(), title="Another title", offer=ROLL))
    asked.ask(edits.change_print(two_prints(), "p2", offer=ROLL))
    assert asked.questions.question is first
    asked.ask(with_medium(two_prints(), 13))
    assert asked.questions.question is not first


def test_pinned_pieces_stay_part_of_the_question() -> None:
    placed = Placement("p1", 10, 10, 76.2, 50.8, pinned=True)
    layout = Layout(Size(292.1, 457.2), (placed,))
    pinned = edits.set_layouts(two_prints(), SHEETS, [layout])
    assert priced_part(pinned).arranged == pinned.arranged
    loose = edits.set_layouts(
        two_prints(), SHEETS, [replace(layout, placements=(replace(placed, pinned=False),))]
    )
    assert priced_part(loose).arranged == ()


def test_one_print_is_priced_alone(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(two_prints(), "p1")
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    order = asked.compared[0][1][0].order
    assert {piece.piece for piece in order.pieces} == {"p1"}


def test_a_closer_look_tells_each_offer_as_it_is_found(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(two_prints())
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    asked.questions.look_closer()
    assert asked.questions.is_looking_closer
    qtbot.waitUntil(lambda: len(asked.compared) == 3, timeout=20_000)
    qtbot.waitUntil(lambda: not asked.questions.is_looking_closer, timeout=10_000)
    quick, final = asked.compared[0][1], asked.compared[-1][1]
    assert not any(result.provisional for result in final)
    costs = {result.offer: result.cost for result in quick}
    assert all(result.cost <= costs[result.offer] for result in final)
    assert asked.progress[-1] == (0, 0)
    assert any(0 < done <= of for done, of in asked.progress)


def test_a_closer_look_that_is_stopped_keeps_the_quick_figures(asked: Asked, qtbot: QtBot) -> None:
    asked.ask(two_prints())
    qtbot.waitUntil(lambda: bool(asked.compared), timeout=10_000)
    asked.questions.look_closer()
    asked.questions.stop()
    assert not asked.questions.is_looking_closer
    qtbot.waitUntil(asked.background.is_idle, timeout=10_000)
    assert len(asked.compared[-1][1]) == 2


def test_the_chart_comes_rough_then_fine(asked: Asked, qtbot: QtBot) -> None:
    small = changed(
        two_prints(),
        prints=two_prints().prints[:1],
        lines=(changed(two_prints().lines[0], sizes=(changed(two_prints().lines[0].sizes[0], count=3),)),),
    )
    asked.ask(small)
    qtbot.waitUntil(lambda: asked.charted == [True, False], timeout=20_000)


def test_a_part_counts_within_the_whole_and_stops_with_it() -> None:
    steps: list[tuple[int, int]] = []
    whole = Ticket(lambda done, of: steps.append((done, of)))
    part = PartTicket(whole, 2, 4)
    part.step(1, 2)
    assert steps == [(250, 400)]
    assert not part.is_stopped
    whole.stop()
    assert part.is_stopped
    with pytest.raises(Cancelled):
        part.step(2, 2)
