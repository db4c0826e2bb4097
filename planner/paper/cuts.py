"""Numbered straight cuts: on the layout's drawing, and as a list to set the trimmer by."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from planner.measures.layout import Layout, Way
from planner.paper import fonts, style, words
from planner.paper.blocks import Cell, heading, table, tick
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph
from planner.plan import wording
from planner.sheets.cuts import Cut, Direction, cuts_if_any, set_ups

PLATE_STEP = 3.0
"""Points that a cut's number is moved along its line at a time."""
_HOW = {
    Direction.DOWN: words.CUT_DOWN,
    Direction.ACROSS: words.CUT_ACROSS,
}


def cuts_of(papers: Papers, layout: Layout) -> tuple[Cut, ...]:
    """The cuts of a layout that is cut straight; none of another, or where hands have made it inseparable."""
    if (papers.job.way or papers.shop.way) is not Way.STRAIGHT:
        return ()
    return cuts_if_any(layout)


def cuts_story(papers: Papers, name: str, cuts: tuple[Cut, ...]) -> list[Flowable]:
    """The list of cuts in working order, with what to set the trimmer's stop to."""
    rows: list[list[Cell]] = []
    for cut in cuts:
        stop = words.STOP_AS_IT_IS
        if cut.is_new_setting:
            stop = wording.length(cut.measure_mm, papers.shop.unit)
        part = wording.size(cut.part.width_mm, cut.part.height_mm, papers.shop.unit)
        stop_style = style.STRONG_TEXT if cut.is_new_setting else style.TEXT
        rows.append([tick(), f"{cut.step}", paragraph(stop, stop_style), _HOW[cut.direction], part])
    counted = words.cuts_counted(len(cuts), set_ups(cuts))
    return [
        *heading(f"{name}: {counted}"),
        table(words.CUT_HEADS, rows, (20, 34, 84, papers.width - 258, 120)),
    ]


def draw_cuts(pen: Pen, sheet: Area, cuts: tuple[Cut, ...], scale: float) -> None:
    """Each cut as a dashed line with its number where it begins, on a plate of its own."""
    for cut in cuts:
        (x1, y1), (x2, y2) = (
            (sheet.left + x_mm * scale, sheet.top - y_mm * scale) for x_mm, y_mm in cut.line_mm
        )
        pen.line(x1, y1, x2, y2, width=0.6, dash=(4, 2))
    placed: list[Area] = []
    for cut in cuts:
        plate = _plate(sheet, cut, scale, placed)
        placed.append(plate)
        pen.box(plate, fill=style.WHITE, width=0.3)
        middle = plate.left + plate.width / 2
        pen.text(middle, plate.bottom + 2.4, str(cut.step), style.SMALL, strong=True, align="centre")


def _plate(sheet: Area, cut: Cut, scale: float, placed: Sequence[Area]) -> Area:
    """Where a cut's number stands: on its line, as near its end as no earlier number is covered.

    Near the end rather than the beginning, where the pieces' own labels stand.
    """
    (x1, y1), (x2, y2) = (
        (sheet.left + x_mm * scale, sheet.top - y_mm * scale) for x_mm, y_mm in sorted(cut.line_mm)
    )
    width = fonts.width_of(str(cut.step), style.SMALL, fonts.STRONG) + 4
    steps = max(1, int((abs(x2 - x1) + abs(y2 - y1)) / PLATE_STEP))
    plates = [
        Area(x2 + (x1 - x2) * at / steps - width / 2, y2 + (y1 - y2) * at / steps + 5, width, 10)
        for at in range(steps + 1)
    ]
    return next((plate for plate in plates if not any(_overlap(plate, other) for other in placed)), plates[0])


def _overlap(one: Area, other: Area) -> bool:
    return (
        one.left < other.right
        and other.left < one.right
        and one.bottom < other.top
        and other.bottom < one.top
    )
