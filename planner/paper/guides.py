"""Placement guides at true size: to cut out, crease and lay on the garment under the transfer."""

import itertools
from collections.abc import Callable

from reportlab.platypus import Flowable

from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.paper import fonts, style
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.labels import print_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph
from planner.plan import wording
from planner.pressing.card import Edge, PressCard, SizeToPress

NAME = "Placement guide"
PER_MM = 72 / MM_PER_INCH
HEAD, FOOT = 46.0, 34.0


def guides_story(papers: Papers) -> list[Flowable]:
    """One guide for each print and print width; a print larger than the paper takes several pages."""
    story: list[Flowable] = []
    for card in papers.plan.press_cards:
        for size, names in _widths(card):
            label = print_labels(papers.job)[card.print]
            tiles = _tiles(papers, Size(size.width_mm, size.height_mm))
            for number, tile in enumerate(tiles, 1):
                if story:
                    story.append(new_page())
                sheet = f", part {number} of {len(tiles)}" if len(tiles) > 1 else ""
                story.append(StartOfPaper(NAME, f"{NAME} {label}, {', '.join(names)}{sheet}"))
                story.append(DrawnPage(_drawing(papers, card, size, names, tile, sheet)))
    if not story:
        return [StartOfPaper(NAME), *title(NAME), paragraph("Nothing to place yet.")]
    return story


def _widths(card: PressCard) -> list[tuple[SizeToPress, list[str]]]:
    """Sizes that share width and place, with the sizes' names."""
    found: dict[tuple[float, float, float], tuple[SizeToPress, list[str]]] = {}
    for size in card.sizes:
        key = (size.width_mm, size.top_mm, size.aside_mm)
        found.setdefault(key, (size, []))[1].append(size.size)
    return list(found.values())


def _room(papers: Papers) -> Size:
    page = papers.page
    return Size(page.content_width / PER_MM, (page.content_height - HEAD - FOOT - 4) / PER_MM)


def _tiles(papers: Papers, size: Size) -> list[tuple[float, float]]:
    """Left and top, in millimetres on the print, of each page that is needed."""
    room = _room(papers)

    def starts(length: float, each: float) -> list[float]:
        return [at * each for at in range(max(1, -(-int(length * 100) // int(each * 100))))]

    return [
        (left, top)
        for top, left in itertools.product(
            starts(size.height_mm, room.height_mm), starts(size.width_mm, room.width_mm)
        )
    ]


def _drawing(
    papers: Papers,
    card: PressCard,
    size: SizeToPress,
    names: list[str],
    tile: tuple[float, float],
    part: str,
) -> Callable[[Pen, Area], None]:
    def draw(pen: Pen, area: Area) -> None:
        _draw_head(pen, area, papers, card, size, names, part)
        room = Area(area.left, area.top - HEAD, area.width, area.height - HEAD - FOOT)
        _draw_print(pen, room, papers, card, size, tile)
        _draw_check_rule(pen, area, papers.shop.unit)

    return draw


def _draw_head(
    pen: Pen,
    area: Area,
    papers: Papers,
    card: PressCard,
    size: SizeToPress,
    names: list[str],
    part: str,
) -> None:
    line = papers.job.line(card.line)
    label = print_labels(papers.job)[card.print]
    place = wording.place(card.location, card.place_name)
    heading = f"{label}  {line.style or line.kind.value}, {place}, {', '.join(names)}{part}"
    pen.text(
        area.left,
        area.top - 14,
        fonts.fitted(heading, area.width, style.HEADING, fonts.STRONG),
        style.HEADING,
        strong=True,
    )
    unit = papers.shop.unit
    edge = "lower" if card.measured_to is Edge.BOTTOM else "upper"
    side = "above" if card.measured_to is Edge.BOTTOM else "below"
    text = f"{edge} edge {wording.length(size.top_mm, unit)} {side} the {card.measured_from}"
    if size.aside_mm:
        towards = "left" if size.aside_mm > 0 else "right"
        text += f", centre {wording.length(abs(size.aside_mm), unit)} to the wearer’s {towards}"
    else:
        text += ", on the centre line"
    text += f"; print {wording.size(size.width_mm, size.height_mm, unit)}"
    pen.text(area.left, area.top - 31, fonts.fitted(text, area.width, style.BODY), style.BODY)


def _draw_print(
    pen: Pen, room: Area, papers: Papers, card: PressCard, size: SizeToPress, tile: tuple[float, float]
) -> None:
    """The print's box at true size with its creases; the artwork pale, so that ink is saved."""
    canvas = pen.canvas
    width, height = size.width_mm * PER_MM, size.height_mm * PER_MM
    whole = Area(
        room.left - tile[0] * PER_MM + (max(0.0, room.width - width) / 2 if tile == (0, 0) else 0),
        room.top + tile[1] * PER_MM,
        width,
        height,
    )
    canvas.saveState()
    clip = canvas.beginPath()
    clip.rect(room.left - 1, room.bottom, room.width + 2, room.height + 1)
    canvas.clipPath(clip, stroke=0, fill=0)
    canvas.setFillAlpha(0.35)
    artwork = papers.job.artwork(papers.job.print_of(card.print).artwork)
    pen.picture(papers.pictures.at(artwork, min(width, 400), min(height, 400)), whole)
    canvas.setFillAlpha(1)
    pen.box(whole, width=0.8)
    middle_x, middle_y = whole.left + width / 2, whole.top - height / 2
    for x1, y1, x2, y2 in (
        (middle_x, whole.top + 10, middle_x, whole.bottom - 10),
        (whole.left - 10, middle_y, whole.right + 10, middle_y),
    ):
        pen.line(x1, y1, x2, y2, width=0.6, dash=(8, 3, 2, 3))
    canvas.restoreState()


def _draw_check_rule(pen: Pen, area: Area, unit: LengthUnit) -> None:
    """A rule to hold a ruler against: a guide printed at another scale is worse than none."""
    long_mm, steps, text = (100.0, 10, "100 mm") if unit is LengthUnit.MILLIMETRE else (101.6, 4, "4 in")
    length = long_mm * PER_MM
    level = area.bottom + 14
    pen.line(area.left, level, area.left + length, level, width=0.8)
    for at in range(steps + 1):
        x = area.left + length * at / steps
        pen.line(x, level, x, level + (8 if at in (0, steps) else 5), width=0.8)
    note = f"This rule is {text} long. If a ruler says otherwise, print again at 100 %, not “fit to page”."
    pen.text(area.left + length + 12, level + 1, note, style.SMALL)
