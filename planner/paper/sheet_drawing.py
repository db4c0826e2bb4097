"""A layout drawn to scale: pieces with their labels, rulers, cuts. Long rolls are drawn in stretches."""

from dataclasses import dataclass

from planner.measures.figures import short
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.measures.lengths import MM_PER_INCH, LengthUnit, in_unit
from planner.paper import fonts, style, words
from planner.paper.cuts import draw_cuts
from planner.paper.labels import piece_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.print_sheet import artwork_of_piece, piece_size
from planner.plan import wording
from planner.sheets.cuts import Cut

RULER, CAPTION = 24.0, 18.0
MOST_STRETCHES = 6
POINTS_PER_MM = 72 / MM_PER_INCH
# Whole or simple ratios, so that a ruler laid on the paper tells the true length.
_RATIOS = (
    1,
    1.25,
    1.5,
    2,
    2.5,
    3,
    4,
    5,
    6,
    8,
    10,
    12,
    15,
    20,
    25,
    30,
    40,
    50,
    60,
    80,
    100,
    150,
    200,
    300,
    500,
)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A part of the sheet's length, side by side with the others."""

    seen: Area
    """Where it is drawn."""
    whole: Area
    """Where the whole sheet would be drawn."""
    start_mm: float
    end_mm: float


def draw_sheet(pen: Pen, room: Area, papers: Papers, layout: Layout, cuts: tuple[Cut, ...]) -> None:
    """The layout as large as the room allows."""
    stretches, ratio = _best_division(room, layout.sheet)
    scale = POINTS_PER_MM / ratio
    each_mm = layout.sheet.height_mm / stretches
    for number in range(stretches):
        left = room.left + RULER + number * (layout.sheet.width_mm * scale + RULER + style.STEP)
        top = room.top - RULER + 6
        start_mm, end_mm = number * each_mm, (number + 1) * each_mm
        width, height = layout.sheet.width_mm * scale, layout.sheet.height_mm * scale
        seen = Area(left, top, width, each_mm * scale)
        whole = Area(left, top + start_mm * scale, width, height)
        _draw_stretch(pen, papers, layout, _Stretch(seen, whole, start_mm, end_mm), scale, cuts)
    unit = papers.shop.unit
    sides = (layout.sheet.width_mm, layout.sheet.height_mm)
    caption = words.drawn_at(ratio, *(wording.length(side, unit) for side in sides), stretches=stretches)
    pen.text(room.left + RULER, room.top - RULER + 6 - each_mm * scale - 13, caption, style.SMALL)


def _best_division(room: Area, sheet: Size) -> tuple[int, float]:
    """Into how many stretches a sheet is best divided, and the scale's ratio then."""

    def ratio(stretches: int) -> float:
        width = (room.width - stretches * RULER - (stretches - 1) * style.STEP) / stretches
        height = room.height - RULER - CAPTION
        if width <= 0:
            return float("inf")
        least = POINTS_PER_MM * max(sheet.width_mm / width, sheet.height_mm / stretches / height)
        return next((known for known in _RATIOS if known >= least), least)

    best = min(range(1, MOST_STRETCHES + 1), key=ratio)
    # One piece of paper is easier to read than several: divide only where much is won.
    return (best, ratio(best)) if ratio(best) <= 0.6 * ratio(1) else (1, ratio(1))


def _draw_stretch(
    pen: Pen, papers: Papers, layout: Layout, stretch: _Stretch, scale: float, cuts: tuple[Cut, ...]
) -> None:
    seen = stretch.seen
    is_divided = stretch.end_mm - stretch.start_mm < layout.sheet.height_mm - 1e-6
    labels = piece_labels(papers.job)
    pen.canvas.saveState()
    if is_divided:
        clip = pen.canvas.beginPath()
        clip.rect(seen.left - 6, seen.bottom, seen.width + 12, seen.height)
        pen.canvas.clipPath(clip, stroke=0, fill=0)
    for placement in layout.placements:
        if placement.y_mm < stretch.end_mm and placement.box.bottom_mm > stretch.start_mm:
            _draw_piece(pen, papers, placement, stretch, scale, labels.get(placement.print, "?"))
    draw_cuts(pen, stretch.whole, cuts, scale)
    pen.canvas.restoreState()
    pen.box(seen, width=0.9)
    _draw_rulers(pen, stretch, layout, scale, papers.shop.unit)


def _draw_piece(
    pen: Pen, papers: Papers, placement: Placement, stretch: _Stretch, scale: float, label: str
) -> None:
    whole = stretch.whole
    area = Area(
        whole.left + placement.x_mm * scale,
        whole.top - placement.y_mm * scale,
        placement.width_mm * scale,
        placement.height_mm * scale,
    )
    artwork = artwork_of_piece(papers.job, placement.print)
    own = piece_size(papers.job, placement.print)
    width, height = own.width_mm * scale, own.height_mm * scale
    x, y = area.left + area.width / 2, area.top - area.height / 2
    upright = Area(x - width / 2, y + height / 2, width, height)
    # Light ink on white paper would not be seen.
    if papers.pictures.is_light(artwork):
        pen.box(area, stroke=None, fill=style.GREY)
    picture = papers.pictures.at(artwork, width, height)
    pen.picture(picture, upright, turned_deg=placement.turned_deg)
    pen.box(area, width=0.4, stroke=style.HAIRLINE)
    _draw_tag(pen, area, min(area.top, stretch.seen.top), label)


def _draw_tag(pen: Pen, area: Area, top: float, label: str) -> None:
    """The piece's label on a plate of its own in the corner, so that no letter stands on a picture."""
    size = max(style.SMALL, min(14.0, area.height * 0.3, area.width * 0.3))
    width = fonts.width_of(label, size, fonts.STRONG) + size * 0.7
    pen.box(Area(area.left, top, width, size * 1.25), stroke=style.BLACK, fill=style.WHITE, width=0.4)
    pen.text(area.left + width / 2, top - size * 0.95, label, size, strong=True, align="centre")


def _draw_rulers(pen: Pen, stretch: _Stretch, layout: Layout, scale: float, unit: LengthUnit) -> None:
    """Marks along the top and the left edge, as close as their figures allow."""
    step_mm, seen = _ruler_step(unit, scale), stretch.seen
    for at in range(int(layout.sheet.width_mm / step_mm + 1e-6) + 1):
        x = seen.left + at * step_mm * scale
        pen.line(x, seen.top, x, seen.top + 5, width=0.4, colour=style.GREY)
        figure = short(in_unit(at * step_mm, unit))
        pen.text(x, seen.top + 7, figure, style.SMALL, colour=style.GREY, align="centre")
    first = -int(-(stretch.start_mm - 1e-6) // step_mm)
    for at in range(first, int(stretch.end_mm / step_mm + 1e-6) + 1):
        y = seen.top - (at * step_mm - stretch.start_mm) * scale
        pen.line(seen.left - 5, y, seen.left, y, width=0.4, colour=style.GREY)
        figure = short(in_unit(at * step_mm, unit))
        pen.text(seen.left - 7, y - 2.8, figure, style.SMALL, colour=style.GREY, align="right")


def _ruler_step(unit: LengthUnit, scale: float) -> float:
    one = MM_PER_INCH if unit is LengthUnit.INCH else 10.0
    return next((steps * one for steps in (1, 2, 5, 10, 20, 50, 100) if steps * one * scale >= 20), 200 * one)
