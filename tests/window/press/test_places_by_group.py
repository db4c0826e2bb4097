"""A print dragged on one size moves on that size's group only: in a whole window, by a real mouse."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from planner.job import edits
from planner.job.document import SizeCount
from planner.pressing.placement import place
from planner.shop.document import changed
from planner.shop.garments import Location, SizeGroup
from planner.window.press.panel import PressPanel
from tests.builders import a_job
from tests.window.rig import Rig, typed

LEFT, PLAIN = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


def family(rig: Rig) -> PressPanel:
    """The press page of a job with adult and youth sizes; the adult M is shown first."""
    job, files = a_job()
    sizes = (SizeCount(size="M", count=8), SizeCount(size="YM", count=3, group=SizeGroup.YOUTH))
    rig.desk.open(edits.change_line(job, "g1", sizes=sizes), files, None)
    rig.window.pages.setCurrentWidget(rig.window.press)
    return rig.window.press


def choose(panel: PressPanel, at: int) -> None:
    panel.sizes.setCurrentIndex(at)
    panel.sizes.activated.emit(at)


def drag(panel: PressPanel, by: QPoint) -> None:
    view = panel.garment
    assert view.chosen is not None
    start = view.box_of(view.chosen).boundingRect().center().toPoint()
    QTest.mousePress(view, LEFT, PLAIN, start)
    for step in range(1, 6):
        QTest.mouseMove(view, start + by * step / 5)
    QTest.mouseRelease(view, LEFT, PLAIN, start + by)


def placed(rig: Rig, group: SizeGroup) -> tuple[float, float]:
    where = place(rig.desk.job.print_of("p1"), group)
    return where.top_mm, where.aside_mm


@pytest.mark.parametrize(
    ("shown", "moved", "still"),
    [(0, SizeGroup.ADULT, SizeGroup.YOUTH), (1, SizeGroup.YOUTH, SizeGroup.ADULT)],
)
def test_a_drag_moves_the_print_on_the_sizes_shown_and_on_no_others(
    rig: Rig, shown: int, moved: SizeGroup, still: SizeGroup
) -> None:
    panel = family(rig)
    choose(panel, shown)
    before = {group: placed(rig, group) for group in (moved, still)}
    drag(panel, QPoint(-40, 60))
    assert placed(rig, moved)[0] > before[moved][0] + 10
    assert placed(rig, moved)[1] < before[moved][1] - 10
    assert placed(rig, still) == before[still]
    card = panel.chosen_card
    assert card is not None
    tops = [placed(rig, group)[0] for group in (SizeGroup.ADULT, SizeGroup.YOUTH)]
    assert [size.top_mm for size in card.sizes] == tops
    rig.desk.undo_stack.undo()
    assert {group: placed(rig, group) for group in (moved, still)} == before


def test_a_number_typed_on_each_group_holds_for_that_group(rig: Rig) -> None:
    panel = family(rig)
    typed(panel.top, "170 mm")
    choose(panel, 1)
    typed(panel.top, "120 mm")
    assert (placed(rig, SizeGroup.ADULT)[0], placed(rig, SizeGroup.YOUTH)[0]) == (170, 120)


def test_the_page_says_which_sizes_move_where_a_line_has_several_groups(rig: Rig) -> None:
    panel = family(rig)
    assert panel.moves.isVisible()
    assert "adult" in panel.moves.text()
    choose(panel, 1)
    assert "youth" in panel.moves.text()
    job, files = a_job()
    rig.desk.open(job, files, None)
    assert panel.moves.isHidden()


def test_another_location_starts_where_it_usually_does_on_every_group(rig: Rig) -> None:
    panel = family(rig)
    drag(panel, QPoint(-40, 60))
    rig.gestures().change_print("p1", {"location": Location.FULL_FRONT}, "")
    fresh = changed(rig.desk.job.print_of("p1"), group_places=())
    for group in (SizeGroup.ADULT, SizeGroup.YOUTH):
        assert placed(rig, group) == (place(fresh, group).top_mm, place(fresh, group).aside_mm)
