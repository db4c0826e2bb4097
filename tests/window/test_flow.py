"""Fields break into another row where the width ends, and share what a row has left."""

import pytest
from PySide6.QtWidgets import QSizePolicy, QWidget
from pytestqt.qtbot import QtBot

from planner.window.flow import Flow


def part(width: int, height: int = 20, *, grows: bool = False) -> QWidget:
    made = QWidget()
    made.setMinimumSize(width, height)
    policy = QSizePolicy.Policy.Expanding if grows else QSizePolicy.Policy.Fixed
    made.setSizePolicy(policy, QSizePolicy.Policy.Fixed)
    return made


@pytest.fixture
def holder(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    return made


def laid(holder: QWidget, flow: Flow, width: int, *parts: QWidget) -> None:
    for each in parts:
        flow.addWidget(each)
    holder.setLayout(flow)
    holder.resize(width, flow.heightForWidth(width))
    holder.show()


def test_parts_stand_side_by_side_while_they_fit(holder: QWidget) -> None:
    parts = [part(100), part(100), part(100)]
    laid(holder, Flow(across=10, down=5), 320, *parts)
    assert [each.x() for each in parts] == [0, 110, 220]
    assert {each.y() for each in parts} == {0}


def test_the_rest_goes_into_the_next_row(holder: QWidget) -> None:
    parts = [part(100), part(100), part(100)]
    flow = Flow(across=10, down=5)
    laid(holder, flow, 319, *parts)
    assert [(each.x(), each.y()) for each in parts] == [(0, 0), (110, 0), (0, 25)]
    assert flow.heightForWidth(319) == 45
    assert flow.heightForWidth(320) == 20


def test_those_that_grow_share_what_is_left_up_to_their_most(holder: QWidget) -> None:
    wide, narrow, fixed = part(100, grows=True), part(100, grows=True), part(50)
    narrow.setMaximumWidth(120)
    laid(holder, Flow(across=10, down=5), 400, narrow, wide, fixed)
    assert narrow.width() == 120
    assert wide.width() == 400 - 120 - 50 - 20
    assert fixed.x() == 350


def test_a_hidden_part_takes_no_room_and_parts_are_level_at_the_bottom(holder: QWidget) -> None:
    low, gone, high = part(50, 20), part(50), part(50, 40)
    flow = Flow(across=10, down=5)
    for each in (low, gone, high):
        flow.addWidget(each)
    gone.hide()
    holder.setLayout(flow)
    holder.resize(200, flow.heightForWidth(200))
    holder.show()
    assert high.x() == 60
    assert low.y() + low.height() == high.y() + high.height()


def test_a_part_wider_than_the_row_is_made_as_wide_as_the_row(holder: QWidget) -> None:
    made = part(100, grows=True)
    made.setMinimumWidth(0)
    laid(holder, Flow(), 80, made)
    assert made.width() == 80
