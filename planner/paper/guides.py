"""Placement guides at true size: a paper corner to lay on the collar and the centre line.

A guide shows the garment's mark, its centre line and as much of the print as the paper holds between
them; of a print wider than the paper that is one half, to be turned over for the other.
"""

from dataclasses import dataclass
from functools import partial

from reportlab.platypus import Flowable

from planner.measures.geometry import Rect
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.paper import fonts, style
from planner.paper import guide_words as words
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.garment import BACK
from planner.paper.labels import print_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.wording_press import to_the_side
from planner.pressing.card import Edge, PressCard, SizeToPress

PER_MM = 72 / MM_PER_INCH
HEAD, FOOT = 62.0, 46.0
CENTRE_LABEL = 54.0
"""Points that its name takes along the centre line."""
LEAST_SEEN_MM = 12.0
"""A guide that shows less of the print than this beside the mark leaves the mark out."""


@dataclass(frozen=True, slots=True)
class Guide:
    """One guide: the print and the part of the garment shown, from mark and centre line, in millimetres."""

    card: PressCard
    size: SizeToPress
    sizes: tuple[str, ...]
    printed: Rect
    shown: Rect

    @property
    def shows_mark(self) -> bool:
        return self.shown.y_mm <= 0 <= self.shown.bottom_mm

    @property
    def shows_centre(self) -> bool:
        return self.shown.x_mm <= 0 <= self.shown.right_mm

    @property
    def is_half(self) -> bool:
        return self.shown.width_mm < self.printed.width_mm - 0.1

    @property
    def is_cut(self) -> bool:
        """Whether the print's edge away from the mark is not shown."""
        shown, printed = self.shown, self.printed
        return printed.y_mm < shown.y_mm - 0.1 or printed.bottom_mm > shown.bottom_mm + 0.1


def guides_story(papers: Papers) -> list[Flowable]:
    """One guide for each print, print width and place."""
    page = papers.page
    room = Rect(0, 0, page.content_width / PER_MM, (page.content_height - HEAD - FOOT - 4) / PER_MM)
    story: list[Flowable] = []
    for card in papers.plan.press_cards:
        label = print_labels(papers.job)[card.print]
        for guide in guides_of(card, room.width_mm, room.height_mm):
            if story:
                story.append(new_page())
            story.append(StartOfPaper(words.PLACEMENT_GUIDE, words.guide_of(label, guide.sizes)))
            story.append(DrawnPage(partial(_draw_guide, papers=papers, guide=guide)))
    if not story:
        return [
            StartOfPaper(words.PLACEMENT_GUIDE),
            *title(words.PLACEMENT_GUIDE),
            paragraph(words.NOTHING_TO_PLACE),
        ]
    return story


def guides_of(card: PressCard, room_width_mm: float, room_height_mm: float) -> list[Guide]:
    """A card's guides for the room that a page has; sizes that share width and place share one."""
    found: dict[tuple[float, float, float], tuple[SizeToPress, list[str]]] = {}
    for size in card.sizes:
        key = (size.width_mm, size.top_mm, size.aside_mm)
        found.setdefault(key, (size, []))[1].append(size.size)
    guides = []
    for size, names in found.values():
        # Seen from the front the wearer's left is at the right; from behind it is at the left.
        aside_mm = -size.aside_mm if card.location in BACK else size.aside_mm
        above = card.measured_to is Edge.BOTTOM
        top_mm = -size.top_mm - size.height_mm if above else size.top_mm
        printed = Rect(aside_mm - size.width_mm / 2, top_mm, size.width_mm, size.height_mm)
        left, width = _across(printed, room_width_mm)
        top, height = _down(printed, room_height_mm, above=above)
        shown = Rect(left, top, width, height)
        guides.append(Guide(card, size, tuple(names), printed, shown))
    return guides


def _across(printed: Rect, room_mm: float) -> tuple[float, float]:
    """Left edge and width shown: with the centre line where both fit, else half, else the print's left."""
    left, right = min(0.0, printed.x_mm), max(0.0, printed.right_mm)
    if right - left <= room_mm:
        return left, right - left
    if abs(printed.x_mm + printed.right_mm) < 0.01:
        return 0.0, min(printed.right_mm, room_mm)
    return printed.x_mm, min(printed.width_mm, room_mm)


def _down(printed: Rect, room_mm: float, *, above: bool) -> tuple[float, float]:
    """Top edge and height shown: from the mark on, where enough of the print is seen then."""
    if above:
        if -printed.bottom_mm + LEAST_SEEN_MM > room_mm:
            height = min(printed.height_mm, room_mm)
            return printed.bottom_mm - height, height
        height = min(-printed.y_mm, room_mm)
        return -height, height
    if printed.y_mm + LEAST_SEEN_MM > room_mm:
        return printed.y_mm, min(printed.height_mm, room_mm)
    top = min(0.0, printed.y_mm)
    return top, min(printed.bottom_mm - top, room_mm)


def _draw_guide(pen: Pen, area: Area, *, papers: Papers, guide: Guide) -> None:
    _draw_head(pen, area, papers, guide)
    shown = guide.shown
    spare = area.width - shown.width_mm * PER_MM
    corner = Area(area.left + spare / 2, area.top - HEAD, shown.width_mm * PER_MM, shown.height_mm * PER_MM)
    _draw_print(pen, corner, papers, guide)
    _draw_marks(pen, corner, guide)
    _draw_check_rule(pen, area, papers.shop.unit)


def _draw_head(pen: Pen, area: Area, papers: Papers, guide: Guide) -> None:
    card, size, unit = guide.card, guide.size, papers.shop.unit
    line = papers.job.line(card.line)
    label = print_labels(papers.job)[card.print]
    place = wording.place(card.location, card.place_name)
    heading = words.heading(label, line.style or kind_name(line.kind), place)
    shown = fonts.fitted(heading, area.width, style.HEADING, fonts.STRONG)
    pen.text(area.left, area.top - 14, shown, style.HEADING, strong=True)
    is_above = card.measured_to is Edge.BOTTOM
    reach = wording.length(size.top_mm, unit)
    text = words.instructions(
        words.where(guide.sizes, reach, card.measured_from, is_above=is_above),
        words.aside(to_the_side(size.aside_mm, unit), is_centred=not size.aside_mm),
        wording.size(size.width_mm, size.height_mm, unit),
        is_half=guide.is_half,
        is_cut=guide.is_cut,
        is_above=is_above,
    )
    pen.paragraph(Area(area.left, area.top - 20, area.width, 0), text)


def _draw_print(pen: Pen, corner: Area, papers: Papers, guide: Guide) -> None:
    """The print at true size with its creases, the artwork pale so that ink is saved."""
    canvas, printed = pen.canvas, guide.printed
    whole = Area(
        corner.left + (printed.x_mm - guide.shown.x_mm) * PER_MM,
        corner.top - (printed.y_mm - guide.shown.y_mm) * PER_MM,
        printed.width_mm * PER_MM,
        printed.height_mm * PER_MM,
    )
    canvas.saveState()
    clip = canvas.beginPath()
    clip.rect(corner.left - 1, corner.bottom - 1, corner.width + 2, corner.height + 2)
    canvas.clipPath(clip, stroke=0, fill=0)
    artwork = papers.job.artwork(papers.job.print_of(guide.card.print).artwork)
    if papers.pictures.is_light(artwork):
        pen.box(whole, stroke=None, fill=style.MIDDLE)
    else:
        canvas.setFillAlpha(0.35)
    pen.picture(papers.pictures.at(artwork, min(whole.width, 400), min(whole.height, 400)), whole)
    canvas.setFillAlpha(1)
    pen.box(whole, width=1)
    middle_x, middle_y = whole.left + whole.width / 2, whole.top - whole.height / 2
    for x1, y1, x2, y2 in (
        (middle_x, whole.top, middle_x, whole.bottom),
        (whole.left, middle_y, whole.right, middle_y),
    ):
        pen.line(x1, y1, x2, y2, width=0.6, dash=(8, 3, 2, 3))
    canvas.restoreState()


def _draw_marks(pen: Pen, corner: Area, guide: Guide) -> None:
    """The mark and the centre line, each saying what to lay it on."""
    shown = guide.shown
    if guide.shows_mark:
        level = corner.top + shown.y_mm * PER_MM
        below = guide.card.measured_to is Edge.BOTTOM
        text = words.lay_on(guide.card.measured_from)
        left = corner.left + 6
        centre = corner.left - shown.x_mm * PER_MM
        long = fonts.width_of(text, style.BODY, fonts.STRONG)
        if guide.shows_centre and left < centre + 6 < left + long:
            left = centre + 6
        reach = max(corner.right + 12, left + long)
        pen.line(corner.left - 12, level, reach, level, width=1.6)
        pen.text(left, level - 11 if below else level + 4, text, style.BODY, strong=True)
    if guide.shows_centre:
        x = corner.left - shown.x_mm * PER_MM
        pen.line(x, corner.top + 12, x, corner.bottom - 6, width=1.2, dash=(10, 3, 2, 3))
        pen.canvas.saveState()
        pen.canvas.translate(x - 4, _centre_label_at(corner, guide))
        pen.canvas.rotate(90)
        pen.text(0, 0, words.CENTRE_LINE, style.SMALL, strong=True)
        pen.canvas.restoreState()


def _centre_label_at(corner: Area, guide: Guide) -> float:
    """Where the centre line says what it is: between mark and print where the line runs through the print.

    Where they are too near one another, inside the print.
    """
    printed, shown = guide.printed, guide.shown
    from_mm, to_mm = (0.0, printed.y_mm) if printed.y_mm > 0 else (printed.bottom_mm, 0.0)
    room = (to_mm - from_mm) * PER_MM
    if printed.x_mm < 0 < printed.right_mm and guide.shows_mark and room > CENTRE_LABEL:
        return corner.top - (to_mm - shown.y_mm) * PER_MM + (room - CENTRE_LABEL) / 2 + 6
    lowest_mm = (
        min(printed.bottom_mm, shown.bottom_mm) if printed.x_mm < 0 < printed.right_mm else shown.bottom_mm
    )
    return corner.top - (lowest_mm - shown.y_mm) * PER_MM + 6


def _draw_check_rule(pen: Pen, area: Area, unit: LengthUnit) -> None:
    """A rule to hold a ruler against: a guide printed at another scale is worse than none."""
    long_mm, steps = (100.0, 10) if unit is LengthUnit.MILLIMETRE else (101.6, 4)
    length = long_mm * PER_MM
    level = area.bottom + 14
    pen.line(area.left, level, area.left + length, level, width=0.8)
    for at in range(steps + 1):
        x = area.left + length * at / steps
        pen.line(x, level, x, level + (8 if at in (0, steps) else 5), width=0.8)
    note = words.check_rule(wording.length(long_mm, unit))
    pen.paragraph(
        Area(area.left + length + 14, level + 16, area.width - length - 14, 24), note, style.FINE_BLACK
    )
