"""Layout pages: each layout to scale, with what cutting and counting need."""

from collections.abc import Callable

from reportlab.lib.colors import Color
from reportlab.platypus import Flowable

from planner.buying.purchase import Order
from planner.measures.layout import Layout, Way
from planner.measures.lengths import MM_PER_INCH, LengthUnit, in_unit
from planner.paper import fonts, style
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.cuts import cuts_of, cuts_story, draw_cuts
from planner.paper.labels import piece_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.print_sheet import artwork_of_piece, piece_size
from planner.paper.text import paragraph
from planner.paper.words import piece_name
from planner.plan import wording
from planner.sheets.cuts import Cut

NAME = "Layout"
_WAYS = {
    Way.LOOSE: "cut along each box by hand",
    Way.STRAIGHT: "every cut runs edge to edge: trimmer, or ruler and knife",
    Way.OUTLINE: "cut along each outline with scissors",
}


def layouts_story(papers: Papers) -> list[Flowable]:
    orders = papers.plan.purchase.orders if papers.plan.purchase else ()
    pages = [(order, number, layout) for order in orders for number, layout in enumerate(order.layouts, 1)]
    if not pages:
        return [
            StartOfPaper("Layouts"),
            *title("Layouts"),
            paragraph("No sheets to cut: nothing is arranged, or the transfers are bought singly."),
        ]
    story: list[Flowable] = []
    for at, (order, number, layout) in enumerate(pages):
        if at:
            story.append(new_page())
        offer = papers.shop.offer(order.offer)
        name = f"Layout {number} of {len(order.layouts)}"
        bookmark = f"{name}, {offer.name}" if offer else name
        story.append(StartOfPaper(NAME, bookmark))
        cuts = cuts_of(papers, layout)
        story.append(DrawnPage(_drawing(papers, order, number, layout, cuts)))
        if cuts:
            story += [new_page(), *cuts_story(papers, name, cuts)]
    return story


def _drawing(
    papers: Papers, order: Order, number: int, layout: Layout, cuts: tuple[Cut, ...]
) -> Callable[[Pen, Area], None]:
    def draw(pen: Pen, area: Area) -> None:
        used = _draw_head(pen, area, papers, order, number, layout)
        legend_height = 30.0 + 13.0 * len({placement.print for placement in layout.placements})
        room = Area(area.left, area.top - used, area.width, area.height - used - legend_height)
        _draw_sheet(pen, room, papers, layout, cuts)
        _draw_legend(
            pen, Area(area.left, area.bottom + legend_height, area.width, legend_height), papers, layout
        )

    return draw


def _draw_head(pen: Pen, area: Area, papers: Papers, order: Order, number: int, layout: Layout) -> float:
    unit = papers.shop.unit
    heading = f"Layout {number} of {len(order.layouts)}"
    pen.text(area.left, area.top - 20, heading, style.TITLE, strong=True)
    runs = wording.count(layout.runs, "run")
    pen.text(area.right, area.top - 20, runs, style.TITLE, strong=True, align="right")
    size = wording.size(layout.sheet.width_mm, layout.sheet.height_mm, unit)
    pieces = wording.count(len(layout.placements), "piece")
    way = papers.job.way or papers.shop.way
    text = f"{size} · {pieces} a sheet · {100 * layout.fill:.1f} % filled · {_WAYS[way]}"
    pen.text(area.left, area.top - 40, text, style.BODY)
    return 62


def _draw_sheet(pen: Pen, room: Area, papers: Papers, layout: Layout, cuts: tuple[Cut, ...]) -> None:
    unit = papers.shop.unit
    ruler = 24.0
    scale = min(
        (room.width - ruler) / layout.sheet.width_mm, (room.height - ruler - 14) / layout.sheet.height_mm
    )
    # A whole ratio, so that a ruler laid on the paper tells the true length.
    ratio = max(1.0, _next_ratio(72 / MM_PER_INCH / scale))
    scale = 72 / MM_PER_INCH / ratio
    width, height = layout.sheet.width_mm * scale, layout.sheet.height_mm * scale
    sheet = Area(room.left + ruler, room.top - ruler + 6, width, height)
    pen.box(sheet, width=0.9)
    _draw_rulers(pen, sheet, layout, scale, unit)
    labels = piece_labels(papers.job)
    for placement in layout.placements:
        area = Area(
            sheet.left + placement.x_mm * scale,
            sheet.top - placement.y_mm * scale,
            placement.width_mm * scale,
            placement.height_mm * scale,
        )
        artwork = artwork_of_piece(papers.job, placement.print)
        turned = placement.turned_deg % 180 == 90
        upright = area
        if turned:
            x, y = area.left + area.width / 2, area.top - area.height / 2
            upright = Area(x - area.height / 2, y + area.width / 2, area.height, area.width)
        elif placement.turned_deg % 180:
            own = piece_size(papers.job, placement.print)
            x, y = area.left + area.width / 2, area.top - area.height / 2
            w, h = own.width_mm * scale, own.height_mm * scale
            upright = Area(x - w / 2, y + h / 2, w, h)
        # Light ink on white paper would not be seen.
        if papers.pictures.is_light(artwork):
            pen.box(area, stroke=None, fill=style.GREY)
        picture = papers.pictures.at(artwork, upright.width, upright.height)
        pen.picture(picture, upright, turned_deg=placement.turned_deg)
        pen.box(area, width=0.4, stroke=style.HAIRLINE)
        _draw_tag(pen, area, labels.get(placement.print, "?"))
    draw_cuts(pen, sheet, cuts, scale)
    pen.text(sheet.left, sheet.bottom - 12, f"Scale 1 : {ratio:g}", style.SMALL, colour=style.GREY)


def _next_ratio(least: float) -> float:
    for ratio in (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200):
        if ratio >= least:
            return ratio
    return float(-(-least // 100) * 100)


def _draw_tag(pen: Pen, area: Area, label: str) -> None:
    """The piece's label on a plate of its own in the corner, so that no letter stands on a picture."""
    size = max(style.SMALL, min(14.0, area.height * 0.3, area.width * 0.3))
    width = fonts.width_of(label, size, fonts.STRONG) + size * 0.7
    height = size * 1.25
    pen.box(Area(area.left, area.top, width, height), stroke=style.BLACK, fill=style.WHITE, width=0.4)
    pen.text(area.left + width / 2, area.top - size * 0.95, label, size, strong=True, align="centre")


def _draw_rulers(pen: Pen, sheet: Area, layout: Layout, scale: float, unit: LengthUnit) -> None:
    """Marks along the top and the left edge, every unit or every ten, figures where there is room."""
    step_mm, colour = _ruler_step(unit, scale), style.GREY
    for across, length_mm in ((True, layout.sheet.width_mm), (False, layout.sheet.height_mm)):
        at = 0
        while at * step_mm <= length_mm + 1e-6:
            _draw_mark(pen, sheet, across, at * step_mm * scale, f"{in_unit(at * step_mm, unit):g}", colour)
            at += 1
    size = wording.length(layout.sheet.width_mm, unit)
    pen.text(sheet.right, sheet.bottom - 12, f"{size} wide", style.SMALL, strong=True, align="right")
    pen.canvas.saveState()
    pen.canvas.translate(sheet.right + 10, sheet.top)
    pen.canvas.rotate(-90)
    pen.text(0, 0, f"{wording.length(layout.sheet.height_mm, unit)} high", style.SMALL, strong=True)
    pen.canvas.restoreState()


def _draw_mark(pen: Pen, sheet: Area, across: bool, offset: float, figure: str, colour: Color) -> None:
    if across:
        x = sheet.left + offset
        pen.line(x, sheet.top, x, sheet.top + 5, width=0.4, colour=colour)
        pen.text(x, sheet.top + 7, figure, style.SMALL, colour=colour, align="centre")
    else:
        y = sheet.top - offset
        pen.line(sheet.left - 5, y, sheet.left, y, width=0.4, colour=colour)
        pen.text(sheet.left - 7, y - 2.8, figure, style.SMALL, colour=colour, align="right")


def _ruler_step(unit: LengthUnit, scale: float) -> float:
    one = MM_PER_INCH if unit is LengthUnit.INCH else 10.0
    for steps in (1, 2, 5, 10, 20, 50, 100):
        if steps * one * scale >= 20:
            return steps * one
    return 200 * one


def _draw_legend(pen: Pen, area: Area, papers: Papers, layout: Layout) -> None:
    """What each label is: size, copies on this sheet, and what all runs yield."""
    labels = piece_labels(papers.job)
    unit = papers.shop.unit
    y = area.top - 12
    columns = (area.left, area.left + 30, area.right - 150, area.right - 70, area.right)
    for x, name, align in zip(
        columns,
        ("", "Piece", "Size", "A sheet", "All runs"),
        ("left", "left", "right", "right", "right"),
        strict=True,
    ):
        pen.text(x, y, name, style.SMALL, colour=style.GREY, align=align)
    pen.line(area.left, y - 4, area.right, y - 4, width=0.8)
    for key in sorted(
        {placement.print for placement in layout.placements}, key=lambda key: labels.get(key, key)
    ):
        y -= 13
        size = piece_size(papers.job, key)
        here = sum(1 for placement in layout.placements if placement.print == key)
        pen.text(columns[0], y - 3, labels.get(key, "?"), style.BODY, strong=True)
        name = piece_name(papers.job, key)
        pen.text(columns[1], y - 3, fonts.fitted(name, columns[2] - columns[1] - 80, style.BODY))
        pen.text(columns[2], y - 3, wording.size(size.width_mm, size.height_mm, unit), align="right")
        pen.text(columns[3], y - 3, f"{here:,}", align="right")
        pen.text(columns[4], y - 3, f"{here * layout.runs:,}", align="right")
