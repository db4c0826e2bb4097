"""Lanes on real threads: newer work stops the older, and no late answer arrives."""

import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest
from pytestqt.qtbot import QtBot

from planner.window.background import Background
from planner.work.ticket import Cancelled, Ticket


class Told:
    def __init__(self) -> None:
        self.done: list[object] = []
        self.failed: list[Exception] = []
        self.steps: list[tuple[int, int]] = []
        self.threads: set[int] = set()

    def answer(self, value: object) -> None:
        self.threads.add(threading.get_ident())
        self.done.append(value)

    def step(self, done: int, of: int) -> None:
        self.steps.append((done, of))


@pytest.fixture
def background(qapp: object, qtbot: QtBot) -> Iterator[Background]:
    background = Background(ThreadPoolExecutor(2))
    yield background
    background.stop_all()
    qtbot.waitUntil(background.is_idle)
    background.shut_down()


def _until_stopped(ticket: Ticket) -> str:
    while not ticket.is_stopped:
        threading.Event().wait(0.001)
    return "best so far"


def test_answers_arrive_in_the_thread_of_the_window(background: Background, qtbot: QtBot) -> None:
    told = Told()
    background.start("a", lambda ticket: 42, done=told.answer, failed=told.failed.append)
    qtbot.waitUntil(background.is_idle)
    assert told.done == [42]
    assert told.threads == {threading.get_ident()}


def test_newer_work_in_a_lane_drops_the_older_answer(qapp: object, qtbot: QtBot) -> None:
    # One thread: the older answer is told before the newer work even starts.
    background = Background(ThreadPoolExecutor(1))
    told = Told()
    background.start("a", _until_stopped, done=told.answer, failed=told.failed.append)
    background.start("a", lambda ticket: "newer", done=told.answer, failed=told.failed.append)
    qtbot.waitUntil(background.is_idle)
    background.shut_down()
    assert told.done == ["newer"]
    assert told.failed == []


def test_lanes_do_not_stop_each_other(background: Background, qtbot: QtBot) -> None:
    told = Told()
    for lane in ("a", "b", "c", "d"):
        background.start(lane, lambda ticket, lane=lane: lane, done=told.answer, failed=told.failed.append)
    qtbot.waitUntil(background.is_idle)
    assert sorted(map(str, told.done)) == ["a", "b", "c", "d"]


def test_stopped_work_never_answers(background: Background, qtbot: QtBot) -> None:
    told = Told()
    background.start("a", _until_stopped, done=told.answer, failed=told.failed.append)
    background.stop("a")
    assert not background.is_busy("a")
    qtbot.waitUntil(background.is_idle)
    assert told.done == []


def test_hurried_work_hands_over_what_it_has(background: Background, qtbot: QtBot) -> None:
    told = Told()
    background.start("a", _until_stopped, done=told.answer, failed=told.failed.append)
    background.hurry("a")
    qtbot.waitUntil(background.is_idle)
    assert told.done == ["best so far"]


def test_hurried_work_with_nothing_to_hand_over_says_so(background: Background, qtbot: QtBot) -> None:
    told = Told()

    def work(ticket: Ticket) -> None:
        _until_stopped(ticket)
        ticket.step(0, 1)

    background.start("a", work, done=told.answer, failed=told.failed.append)
    background.hurry("a")
    qtbot.waitUntil(background.is_idle)
    assert [type(error) for error in told.failed] == [Cancelled]


def test_errors_and_steps_are_told(background: Background, qtbot: QtBot) -> None:
    told = Told()

    def work(ticket: Ticket) -> None:
        ticket.step(1, 3)
        raise ValueError("no")

    background.start("a", work, done=told.answer, failed=told.failed.append, progressed=told.step)
    qtbot.waitUntil(background.is_idle)
    assert told.steps == [(1, 3)]
    assert [str(error) for error in told.failed] == ["no"]


def test_four_hundred_tasks_all_answer(background: Background, qtbot: QtBot) -> None:
    told = Told()
    for number in range(400):
        background.start(
            f"lane {number}", lambda ticket, n=number: n, done=told.answer, failed=told.failed.append
        )
    qtbot.waitUntil(background.is_idle)
    assert sorted(told.done, key=str) == sorted(range(400), key=str)


def test_what_is_held_stops_and_begins_anew_once_let_go(background: Background, qtbot: QtBot) -> None:
    told = Told()
    began: list[int] = []

    def work(ticket: Ticket) -> str:
        began.append(len(began))
        return _until_stopped(ticket) if len(began) == 1 else "whole"

    background.start("a", work, done=told.answer, failed=told.failed.append)
    qtbot.waitUntil(lambda: bool(began))
    background.hold("a", "b")
    background.hold("a")
    background.start("b", lambda ticket: "new", done=told.answer, failed=told.failed.append)
    background.start("c", lambda ticket: "other", done=told.answer, failed=told.failed.append)
    qtbot.waitUntil(background.is_idle)
    assert told.done == ["other"]
    assert background.is_waiting("a")
    assert not background.is_busy("a")
    background.let_go("a", "b", "c")
    qtbot.waitUntil(background.is_idle)
    assert sorted(map(str, told.done)) == ["new", "other", "whole"]
    assert len(began) == 2


def test_what_is_stopped_while_held_never_begins(background: Background, qtbot: QtBot) -> None:
    told = Told()
    background.hold("a")
    background.start("a", lambda ticket: "never", done=told.answer, failed=told.failed.append)
    background.stop("a")
    background.let_go("a")
    qtbot.waitUntil(background.is_idle)
    assert told.done == []
