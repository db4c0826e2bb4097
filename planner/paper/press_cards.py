"""Press cards: one page a print, its settings readable at two metres."""

from collections.abc import Callable

from reportlab.platypus import Flowable

from planner.measures.lengths import LengthUnit
from planner.measures.temperature import fahrenheit
from planner.paper import fonts, style
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.garment import draw_garment, garment_picture
from planner.paper.labels import print_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph
from planner.paper.words import line_name
from planner.plan import wording
from planner.pressing.card import PressCard, SizeToPress

NAME = "Press card"
SETTINGS_HEIGHT = 268.0
OVER_LABEL_HEIGHT = 44.0
MOST_BOXES = 60
"""From more garments of a size on, a box stands for ten."""


def press_cards_story(papers: Papers) -> list[Flowable]:
    cards = papers.plan.press_cards
    if not cards:
        return [
            StartOfPaper("Press cards"),
            *title("Press cards"),
            paragraph("Nothing to press yet: a print needs a garment line with counts, and an offer."),
        ]
    story: list[Flowable] = []
    ordered = sorted(cards, key=lambda card: card.position)
    for number, card in enumerate(ordered, 1):
        line = papers.job.line(card.line)
        place = wording.place(card.location, card.place_name)
        if number > 1:
            story.append(new_page())
        story.append(StartOfPaper(NAME, f"Press card {number}: {line.style}, {place}"))
        story.append(DrawnPage(_drawing(papers, card, number, len(ordered))))
    return story


def _drawing(papers: Papers, card: PressCard, number: int, of: int) -> Callable[[Pen, Area], None]:
    def draw(pen: Pen, area: Area) -> None:
        used = _draw_head(pen, area, papers, card, number, of)
        used += _draw_settings(pen, area.below(used), papers, card)
        foot = _cautions_height(pen, area, card)
        _draw_cautions(pen, Area(area.left, area.bottom + foot, area.width, foot), card)
        middle = Area(area.left, area.top - used, area.width, area.height - used - foot - 12)
        _draw_steps(pen, middle.column(0, 5, 12), papers, card)
        _draw_sizes(pen, middle.column(5, 7, 12), papers, card)

    return draw


def _draw_head(pen: Pen, area: Area, papers: Papers, card: PressCard, number: int, of: int) -> float:
    line = papers.job.line(card.line)
    place = wording.place(card.location, card.place_name)
    label = print_labels(papers.job)[card.print]
    side = 46.0
    pen.box(Area(area.left, area.top, side, side), stroke=None, fill=style.BLACK)
    size = fonts.largest_size(label, side - 8, 34, 14)
    pen.text(
        area.left + side / 2,
        area.top - side / 2 - size * fonts.CAP_HEIGHT_EM / 2,
        label,
        size,
        strong=True,
        colour=style.WHITE,
        align="centre",
    )
    left = area.left + side + style.GUTTER
    room = area.right - left - 96
    heading = line_name(line)
    pen.text(left, area.top - 19, fonts.fitted(heading, room, 22, fonts.STRONG), 22, strong=True)
    artwork = papers.job.artwork(papers.job.print_of(card.print).artwork)
    under = f"{place} · {artwork.name}"
    pen.text(left, area.top - 41, fonts.fitted(under, room, style.HEADING), style.HEADING)
    pieces = sum(size.count for size in card.sizes)
    pen.text(
        area.right, area.top - 19, wording.count(pieces, "garment"), style.HEADING, strong=True, align="right"
    )
    pen.text(
        area.right, area.top - 37, f"Card {number} of {of}", style.BODY, colour=style.GREY, align="right"
    )
    pen.line(area.left, area.top - side - 8, area.right, area.top - side - 8, width=1.2)
    return side + 16


def _draw_settings(pen: Pen, area: Area, papers: Papers, card: PressCard) -> float:
    """Four large figures one under the other, the garment with its measures beside them."""
    height = SETTINGS_HEIGHT + (OVER_LABEL_HEIGHT if card.over_label else 0)
    figures = area.column(0, 5, 12)
    row = SETTINGS_HEIGHT / 4
    for at, (figure, name) in enumerate(_settings(papers, card)):
        baseline = figures.top - at * row - 44
        size = fonts.largest_size(figure, figures.width, style.FIGURE, 30)
        pen.text(figures.left, baseline, figure, size, strong=True)
        pen.text(figures.left + 2, baseline - 14, name, style.LEAD, colour=style.GREY)
    if card.over_label:
        _draw_over_label(pen, area.below(SETTINGS_HEIGHT + 2), card)
    line = papers.job.line(card.line)
    garment = garment_picture(papers.job, line, (papers.job.print_of(card.print),))
    right = area.column(5, 7, 12)
    drawing = Area(right.left, right.top, right.width, SETTINGS_HEIGHT - 6)
    back = garment.prints[0].on_back
    draw_garment(pen, drawing, garment, papers.pictures, back=back, measures=papers.shop.unit)
    pen.line(area.left, area.top - height, area.right, area.top - height, width=0.5)
    return height + 10


def _settings(papers: Papers, card: PressCard) -> tuple[tuple[str, str], ...]:
    """Figure and what it is: temperature in the shop's scale first."""
    scales = (f"{fahrenheit(card.setting_c):.0f} °F", f"{card.setting_c:.0f} °C")
    if papers.shop.unit is LengthUnit.MILLIMETRE:
        scales = scales[::-1]
    return (
        (scales[0], f"temperature · {scales[1]}"),
        (f"{card.press_s:g} s", "press" if card.pressings == 1 else f"press, {card.pressings} times"),
        (card.pressure.value, "pressure"),
        (card.peel.value, "peel"),
    )


def _draw_over_label(pen: Pen, area: Area, card: PressCard) -> None:
    limit = "do not iron" if not card.label_limit_c else f"{card.label_limit_c:.0f} °C at most"
    text = f"Hotter than the garment’s label ({limit}). The label wins: settle this before you press."
    height = OVER_LABEL_HEIGHT - 10
    pen.box(Area(area.left, area.top, area.width, height), width=1.6)
    pen.paragraph(Area(area.left + 10, area.top - 7, area.width - 20, height), text, style.LEAD_STRONG)


def _draw_steps(pen: Pen, area: Area, papers: Papers, card: PressCard) -> None:
    pen.text(area.left, area.top - 10, "Steps", style.LEAD, strong=True)
    used = 20.0
    for number, step in enumerate(card.steps, 1):
        row = area.below(used)
        pen.text(row.left, row.top - 11, f"{number}", style.LEAD, strong=True)
        text = Area(row.left + 18, row.top, row.width - 18, row.height)
        used += pen.paragraph(text, wording.press_step(step), style.LEAD_TEXT) + 3
    offer = papers.shop.offer(card.offer)
    press = next((press.name for press in papers.shop.presses if press.key == card.press), "")
    notes = " · ".join(part for part in (press, offer.name if offer else "") if part)
    pen.paragraph(area.below(used + 4), notes, style.FINE)


def _draw_sizes(pen: Pen, area: Area, papers: Papers, card: PressCard) -> None:
    pen.text(area.left, area.top - 10, "Sizes", style.LEAD, strong=True)
    pen.text(area.right, area.top - 10, "tick each garment", style.SMALL, colour=style.GREY, align="right")
    one_place = len({(size.width_mm, size.top_mm, size.aside_mm) for size in card.sizes}) == 1
    used = 18.0
    for size in card.sizes:
        used += _draw_size_row(pen, area.below(used), size, papers.shop.unit, one_place=one_place)


def _draw_size_row(pen: Pen, area: Area, size: SizeToPress, unit: LengthUnit, *, one_place: bool) -> float:
    """A size, its count and its boxes; gives the height used."""
    pen.line(area.left, area.top, area.right, area.top, width=0.25, colour=style.HAIRLINE)
    name = fonts.fitted(size.size, 52, style.LEAD, fonts.STRONG)
    pen.text(area.left, area.top - 14, name, style.LEAD, strong=True)
    pen.text(area.left + 78, area.top - 14, f"{size.count}", style.LEAD, align="right")
    each = 1 if size.count <= MOST_BOXES else 10
    boxes = -(-size.count // each)
    left, side, step = area.left + 88, 8.0, 10.5
    five = 5 * step + 3
    fives_a_row = max(1, int((area.right - left + 3) // five))
    for at in range(boxes):
        group, within = divmod(at, 5)
        row, column = divmod(group, fives_a_row)
        pen.tick_box(left + column * five + within * step, area.top - 14 - row * 12, side)
    rows = -(-boxes // (5 * fives_a_row))
    height = 7 + rows * 12.0
    notes = [] if each == 1 else ["a box is ten garments"]
    if not one_place:
        notes.insert(
            0,
            f"{wording.size(size.width_mm, size.height_mm, unit)}, {wording.length(size.top_mm, unit)} from "
            "the mark",
        )
    if notes:
        pen.text(left, area.top - height - 5, " · ".join(notes), style.SMALL, colour=style.GREY)
        height += 11
    return height + 1


def _cautions_text(card: PressCard) -> str:
    return " ".join(wording.caution(caution) for caution in card.cautions)


def _cautions_height(pen: Pen, area: Area, card: PressCard) -> float:
    block = paragraph(_cautions_text(card), style.TEXT)
    _, height = block.wrapOn(pen.canvas, area.width - 20, 1000)
    return float(height) + 34


def _draw_cautions(pen: Pen, area: Area, card: PressCard) -> None:
    pen.box(area, width=1.2)
    inside = Area(area.left + 10, area.top - 6, area.width - 20, area.height - 10)
    first = "The transfer printer’s sheet and the garment’s label win over this card."
    used = pen.paragraph(inside, first, style.LEAD_STRONG)
    pen.paragraph(inside.below(used + 1), _cautions_text(card), style.TEXT)
