"""Layout pages: each layout to scale, with what cutting and counting need."""

from collections.abc import Callable

from reportlab.platypus import Flowable

from planner.buying.purchase import Order
from planner.measures.figures import whole
from planner.measures.layout import Layout, Way
from planner.paper import fonts, style, words
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.cuts import cuts_of, cuts_story
from planner.paper.labels import piece_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.print_sheet import piece_size
from planner.paper.sheet_drawing import draw_sheet
from planner.paper.text import paragraph
from planner.paper.words import piece_name
from planner.plan import wording
from planner.sheets.covered import covered_share
from planner.sheets.cuts import Cut

NAME = words.LAYOUT
_WAYS = {
    Way.LOOSE: words.CUT_LOOSE,
    Way.STRAIGHT: words.CUT_STRAIGHT,
    Way.OUTLINE: words.CUT_OUTLINE,
}


def layouts_story(papers: Papers) -> list[Flowable]:
    orders = papers.plan.purchase.orders if papers.plan.purchase else ()
    pages = [(order, number, layout) for order in orders for number, layout in enumerate(order.layouts, 1)]
    if not pages:
        return [
            StartOfPaper(words.LAYOUTS),
            *title(words.LAYOUTS),
            paragraph(words.NO_LAYOUTS),
        ]
    story: list[Flowable] = []
    for at, (order, number, layout) in enumerate(pages):
        if at:
            story.append(new_page())
        offer = papers.shop.offer(order.offer)
        name = words.layout_of(number, len(order.layouts))
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
        draw_sheet(pen, room, papers, layout, cuts)
        _draw_legend(
            pen, Area(area.left, area.bottom + legend_height, area.width, legend_height), papers, layout
        )

    return draw


def _draw_head(pen: Pen, area: Area, papers: Papers, order: Order, number: int, layout: Layout) -> float:
    unit = papers.shop.unit
    heading = words.layout_of(number, len(order.layouts))
    pen.text(area.left, area.top - 20, heading, style.TITLE, strong=True)
    runs = wording.count(layout.runs, "run")
    pen.text(area.right, area.top - 20, runs, style.TITLE, strong=True, align="right")
    size = wording.size(layout.sheet.width_mm, layout.sheet.height_mm, unit)
    way = papers.job.way or papers.shop.way
    # The outlines that pieces are cut by are not known here, and boxes cover more.
    filled = () if way is Way.OUTLINE else (words.filled(covered_share(layout)),)
    text = " · ".join((size, words.pieces_a_sheet(len(layout.placements)), *filled, _WAYS[way]))
    pen.text(area.left, area.top - 40, text, style.BODY)
    return 62


def _draw_legend(pen: Pen, area: Area, papers: Papers, layout: Layout) -> None:
    """What each label is: size, copies on this sheet, and what all runs yield."""
    labels = piece_labels(papers.job)
    unit = papers.shop.unit
    y = area.top - 12
    columns = (area.left, area.left + 30, area.right - 150, area.right - 70, area.right)
    for x, name, align in zip(
        columns,
        words.LEGEND_HEADS,
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
        pen.text(columns[3], y - 3, whole(here), align="right")
        pen.text(columns[4], y - 3, whole(here * layout.runs), align="right")
