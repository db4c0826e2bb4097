"""What stories are made of: headings, paragraphs, tables, whole pages drawn by hand."""

import itertools
from collections.abc import Callable, Sequence
from typing import Any, cast

from reportlab.platypus import CondPageBreak, Flowable, LongTable, PageBreak, Spacer, TableStyle

from planner.paper import fonts, style
from planner.paper.paper_canvas import PaperCanvas
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph

Cell = str | Flowable | Sequence[Flowable]
HEADED = 96.0
"""Points for a heading, a table's head and its first row of two lines."""
MOST_TOGETHER = 14
"""Rows of a table that may be kept on one page: more would leave too much of a page empty."""


def gap(steps: float) -> Spacer:
    """Empty room of some grid steps."""
    return Spacer(1, steps * style.STEP)


class StartOfPaper(Flowable):
    """Marks where a paper starts: a bookmark, and the name in the footers from here on."""

    def __init__(self, name: str, bookmark: str | None = None, level: int = 0) -> None:
        super().__init__()
        self._name, self._bookmark, self._level = name, bookmark or name, level

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return 0, 0

    def draw(self) -> None:
        cast(PaperCanvas, self.canv).start_paper(self._name, self._bookmark, self._level)


class DrawnPage(Flowable):
    """Takes all the room that a page still has, and is drawn by a function."""

    def __init__(self, draw: Callable[[Pen, Area], None], least_height: float = 200) -> None:
        super().__init__()
        self._draw, self._least = draw, least_height

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        self.width, self.height = width, max(height - 1, self._least)
        return self.width, self.height

    def draw(self) -> None:
        self._draw(Pen(self.canv), Area(0, self.height, self.width, self.height))


class Drawn(Flowable):
    """A drawing of fixed size inside a story."""

    def __init__(self, width: float, height: float, draw: Callable[[Pen, Area], None]) -> None:
        super().__init__()
        self.width, self.height, self._draw = width, height, draw

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self._draw(Pen(self.canv), Area(0, self.height, self.width, self.height))


def title(text: str, under: str = "") -> list[Flowable]:
    """A paper's own heading, with what it is about beneath."""
    parts: list[Flowable] = [paragraph(text, style.TITLE_TEXT)]
    if under:
        parts.append(paragraph(under, style.LEAD_TEXT))
    parts.append(gap(4))
    return parts


def heading(text: str) -> list[Flowable]:
    """A heading with room for it and some lines after it; else it starts the next page."""
    return [CondPageBreak(HEADED), gap(4), paragraph(text, style.LEAD_STRONG), gap(1)]


def facts(pairs: Sequence[tuple[str, str]], width: float, columns: int = 3) -> Flowable:
    """Named figures in columns: the name small above, the figure beneath."""
    cells: list[list[Cell]] = []
    for at in range(0, len(pairs), columns):
        row: list[Cell] = [
            [paragraph(name, style.FINE), paragraph(value or "–", style.STRONG_TEXT)]
            for name, value in pairs[at : at + columns]
        ]
        cells.append(row + [""] * (columns - len(row)))
    return LongTable(
        cells,
        colWidths=[width / columns] * columns,
        style=TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("FONTNAME", (0, 0), (-1, -1), fonts.REGULAR),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), style.GUTTER),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
            ]
        ),
    )


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[Cell] | str],
    widths: Sequence[float],
    *,
    figures: Sequence[int] = (),
    last_is_sum: bool = False,
) -> Flowable:
    """A table that breaks between rows and repeats its head; columns in `figures` stand right.

    Figures of one column have the same number of decimals, so right is also on the decimal point. A row
    that is text alone heads the rows after it: they go to the next page together, and where they are too
    many for that the heading never stands last on a page. A sum never stands alone.
    """

    def shown(cell: Cell, column: int, *, strong: bool = False, small: bool = False) -> Cell:
        if not isinstance(cell, str):
            return cell
        right = column in figures
        if small:
            return paragraph(cell, style.FINE_RIGHT if right else style.FINE)
        if strong:
            return paragraph(cell, style.STRONG_RIGHT if right else style.STRONG_TEXT)
        return paragraph(cell, style.TEXT_RIGHT if right else style.TEXT)

    cells = [[shown(cell, at, small=True) for at, cell in enumerate(head)]]
    grouped: list[tuple[Any, ...]] = []
    for number, row in enumerate(rows, 1):
        if isinstance(row, str):
            headed = list(itertools.takewhile(lambda later: not isinstance(later, str), rows[number:]))
            together = len(headed) if len(headed) <= MOST_TOGETHER else 1
            cells.append([paragraph(row, style.STRONG_TEXT), *[""] * (len(head) - 1)])
            grouped += [
                ("SPAN", (0, number), (-1, number)),
                ("TOPPADDING", (0, number), (-1, number), 9),
                ("NOSPLIT", (0, number), (-1, number + together)),
            ]
            continue
        strong = last_is_sum and number == len(rows)
        cells.append([shown(cell, at, strong=strong) for at, cell in enumerate(row)])
    rules: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("FONTNAME", (0, 0), (-1, -1), fonts.REGULAR),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-2, -1), 10),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ("LINEBELOW", (0, 0), (-1, 0), 0.8, style.BLACK),
        ("LINEBELOW", (0, 1), (-1, -2), 0.25, style.HAIRLINE),
    ]
    rules += grouped
    if last_is_sum and rows:
        rules.append(("LINEABOVE", (0, -1), (-1, -1), 0.8, style.BLACK))
        rules.append(("NOSPLIT", (0, len(rows) - 1), (-1, len(rows))))
    return LongTable(cells, colWidths=list(widths), repeatRows=1, style=TableStyle(rules), hAlign="LEFT")


def tick() -> Flowable:
    """A box to tick in a table."""

    def draw(pen: Pen, area: Area) -> None:
        pen.tick_box(area.left, area.bottom + 1, 9)

    return Drawn(12, 12, draw)


def new_page() -> Flowable:
    return PageBreak()
