"""Press cards: one page a print, its settings readable at two metres."""

from dataclasses import dataclass
from functools import partial

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable

from planner.measures.figures import short
from planner.measures.lengths import LengthUnit
from planner.measures.temperature import fahrenheit
from planner.paper import fonts, style, words
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.garment import draw_garment, garment_picture
from planner.paper.labels import print_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import height_of, paragraph
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.wording_press import over_label, pressings, to_the_side
from planner.pressing.card import PressCard, SizeToPress

NAME = words.PRESS_CARD
HEAD_HEIGHT = 62.0
SETTINGS_HEIGHT = 260.0
READABLE_HEIGHT = 220.0
"""Of the settings where steps and sizes need the room: the figures keep their size down to here."""
LEAST_HEIGHT = 185.0
"""Where a long decision over the care label needs room too, the figures shrink."""
FIGURE_FOOT = 20.0
"""From a figure's baseline to the next row: its name, and what keeps rows apart."""
GAP = 10.0
STEPS_COLUMNS, SIZES_COLUMNS = (0, 6, 12), (6, 6, 12)
MOST_BOXES = 50
"""From more garments of a size on, a box stands for ten."""
BOXES_LEFT, BOX_STEP = 72.0, 10.5
FIVE_BOXES = 5 * BOX_STEP + 3
NOTE_HEIGHT = 11.0
STEPS_HEAD, SIZES_HEAD = 19.0, 18.0
STEP_STYLES = (style.LEAD_TEXT, style.STEP_TEXT, style.TEXT, style.FINE_BLACK)
"""The largest that leaves room for all steps is taken."""


def press_cards_story(papers: Papers) -> list[Flowable]:
    cards = papers.plan.press_cards
    if not cards:
        return [
            StartOfPaper(words.PRESS_CARDS),
            *title(words.PRESS_CARDS),
            paragraph(words.NOTHING_TO_PRESS),
        ]
    story: list[Flowable] = []
    ordered = sorted(cards, key=lambda card: card.position)
    for number, card in enumerate(ordered, 1):
        line = papers.job.line(card.line)
        place = wording.place(card.location, card.place_name)
        name = words.card_of(number, len(ordered))
        for at, sizes in enumerate(_pages_of_sizes(papers, card)):
            if story:
                story.append(new_page())
            if at == 0:
                story.append(StartOfPaper(NAME, words.card_for(number, line.style, place)))
            part = _Part(card, name if at == 0 else words.more_sizes(name), sizes, at == 0)
            story.append(DrawnPage(partial(_draw_card, papers=papers, part=part)))
    return story


@dataclass(frozen=True, slots=True)
class _Part:
    """What one page shows of a card: all of it, or sizes that found no room on the first page."""

    card: PressCard
    name: str
    sizes: tuple[SizeToPress, ...]
    whole: bool


def _pages_of_sizes(papers: Papers, card: PressCard) -> list[tuple[SizeToPress, ...]]:
    """The card's sizes, as many to a page as fit."""
    page = Area(0, 0, papers.width, 0)
    width = page.column(*SIZES_COLUMNS).width
    room = _room_with_settings(papers, card) - _settings_height(papers, card)
    pages: list[list[SizeToPress]] = [[]]
    used = SIZES_HEAD
    for size in card.sizes:
        height = _size_height(papers, card, size, width)
        if used + height > room and pages[-1]:
            pages.append([])
            used, room, width = SIZES_HEAD, _room_below_head(papers, card), page.width
            height = _size_height(papers, card, size, width)
        pages[-1].append(size)
        used += height
    return [tuple(page) for page in pages]


def _room_below_head(papers: Papers, card: PressCard) -> float:
    """Height between a card's head and its cautions."""
    return papers.page.content_height - HEAD_HEIGHT - _cautions_height(papers.width, card) - GAP


def _room_with_settings(papers: Papers, card: PressCard) -> float:
    """The part of it that settings, steps and sizes share."""
    return _room_below_head(papers, card) - GAP - _over_label_height(papers.width, card)


def _settings_height(papers: Papers, card: PressCard) -> float:
    """Height of the settings: less than usual where steps and sizes then fit on one page."""
    page = Area(0, 0, papers.width, 0)
    room = _room_with_settings(papers, card)
    steps = _steps_height(card, STEP_STYLES[-1], page.column(*STEPS_COLUMNS).width)
    width = page.column(*SIZES_COLUMNS).width
    sizes = SIZES_HEAD + sum(_size_height(papers, card, size, width) for size in card.sizes)
    for needed, least in ((max(steps, sizes), READABLE_HEIGHT), (steps, LEAST_HEIGHT)):
        if room - needed >= least:
            return min(SETTINGS_HEIGHT, room - needed)
    return LEAST_HEIGHT


def _draw_card(pen: Pen, area: Area, *, papers: Papers, part: _Part) -> None:
    card = part.card
    _draw_head(pen, area, papers, part)
    used = HEAD_HEIGHT
    if part.whole:
        height = _settings_height(papers, card)
        _draw_settings(pen, area.below(used), papers, card, height)
        used += height + _over_label_height(area.width, card) + GAP
    foot = _cautions_height(area.width, card)
    _draw_cautions(pen, Area(area.left, area.bottom + foot, area.width, foot), card)
    middle = Area(area.left, area.top - used, area.width, area.height - used - foot - GAP)
    if part.whole:
        _draw_steps(pen, middle.column(*STEPS_COLUMNS), papers, card)
        middle = middle.column(*SIZES_COLUMNS)
    _draw_sizes(pen, middle, papers, part)


def _draw_head(pen: Pen, area: Area, papers: Papers, part: _Part) -> None:
    card = part.card
    line = papers.job.line(card.line)
    label = print_labels(papers.job)[card.print]
    side = 46.0
    pen.box(Area(area.left, area.top, side, side), stroke=None, fill=style.BLACK)
    size = fonts.largest_size(label, side - 8, 34, 14)
    baseline = area.top - side / 2 - size * fonts.CAP_HEIGHT_EM / 2
    pen.text(area.left + side / 2, baseline, label, size, strong=True, colour=style.WHITE, align="centre")
    left = area.left + side + style.GUTTER
    room = area.right - left - 108
    name = line.style or kind_name(line.kind)
    name_size = fonts.largest_size(name, room, 22, 14)
    pen.text(left, area.top - 19, fonts.fitted(name, room, name_size, fonts.STRONG), name_size, strong=True)
    # Colour and place come before the file's name: they must not be cut off.
    artwork = papers.job.artwork(papers.job.print_of(card.print).artwork)
    under = f"{line.colour.name} · {wording.place(card.location, card.place_name)} · {artwork.name}"
    room = area.right - left - fonts.width_of(part.name, style.SMALL) - 10
    under_size = fonts.largest_size(under, room, style.HEADING, style.LEAD, fonts.REGULAR)
    pen.text(left, area.top - 41, fonts.fitted(under, room, under_size), under_size)
    pieces = wording.count(sum(size.count for size in card.sizes), "garment")
    pen.text(area.right, area.top - 19, pieces, style.HEADING, strong=True, align="right")
    pen.text(area.right, area.top - 41, part.name, style.SMALL, colour=style.GREY, align="right")
    pen.line(area.left, area.top - side - 8, area.right, area.top - side - 8, width=1.2)


def _draw_settings(pen: Pen, area: Area, papers: Papers, card: PressCard, height: float) -> None:
    """Four large figures one under the other, the garment with its measures beside them."""
    figures = area.column(0, 5, 12)
    row = height / 4
    most = min(style.FIGURE, (row - FIGURE_FOOT) / fonts.CAP_HEIGHT_EM)
    for at, (figure, name) in enumerate(_settings(papers, card)):
        baseline = figures.top - (at + 1) * row + FIGURE_FOOT
        size = fonts.largest_size(figure, figures.width, most, 30)
        pen.text(figures.left, baseline, figure, size, strong=True)
        pen.text(figures.left + 2, baseline - 14, name, style.LEAD, colour=style.GREY)
    if card.over_label:
        _draw_over_label(pen, area.below(height + 2), card)
    line = papers.job.line(card.line)
    garment = garment_picture(papers.job, line, (papers.job.print_of(card.print),))
    right = area.column(5, 7, 12)
    drawing = Area(right.left, right.top, right.width, height - 6)
    back = garment.prints[0].on_back
    draw_garment(pen, drawing, garment, papers.pictures, back=back, measures=papers.shop.unit)
    level = area.top - height - _over_label_height(area.width, card)
    pen.line(area.left, level, area.right, level, width=0.5)


def _settings(papers: Papers, card: PressCard) -> tuple[tuple[str, str], ...]:
    """Figure and what it is: temperature in the shop's scale first."""
    scales = (f"{fahrenheit(card.setting_c):.0f} °F", f"{card.setting_c:.0f} °C")
    if papers.shop.unit is LengthUnit.MILLIMETRE:
        scales = scales[::-1]
    return (
        (scales[0], words.temperature(scales[1])),
        (f"{short(card.press_s)} s", _pressed(card)),
        (kind_name(card.pressure), words.PRESSURE),
        (kind_name(card.peel), words.PEEL),
    )


def _pressed(card: PressCard) -> str:
    if card.pressings == 1:
        return words.PRESS
    fewer = any(size.pressings < card.pressings for size in card.sizes)
    return words.press_times(card.pressings, at_most=fewer)


def _over_label_style(width: float, card: PressCard) -> ParagraphStyle:
    """Smaller where a decision is long."""
    long = height_of(over_label(card), style.LEAD_STRONG, width - 20) > 2 * style.LEAD_STRONG.leading
    return style.STRONG_TEXT if long else style.LEAD_STRONG


def _over_label_height(width: float, card: PressCard) -> float:
    if not card.over_label:
        return 0
    return height_of(over_label(card), _over_label_style(width, card), width - 20) + 24


def _draw_over_label(pen: Pen, area: Area, card: PressCard) -> None:
    height = _over_label_height(area.width, card) - 10
    pen.box(Area(area.left, area.top, area.width, height), width=1.6)
    inside = Area(area.left + 10, area.top - 7, area.width - 20, height)
    pen.paragraph(inside, over_label(card), _over_label_style(area.width, card))


def _steps_height(card: PressCard, text_style: ParagraphStyle, width: float) -> float:
    sentences = (wording.press_step(step) for step in card.steps)
    return STEPS_HEAD + sum(height_of(text, text_style, width - 18) + 3 for text in sentences)


def _draw_steps(pen: Pen, area: Area, papers: Papers, card: PressCard) -> None:
    """The steps in order, in the largest type that fits."""
    pen.text(area.left, area.top - 10, words.STEPS, style.LEAD, strong=True)
    offer = papers.shop.offer(card.offer)
    press = next((press.name for press in papers.shop.presses if press.key == card.press), "")
    notes = " · ".join(part for part in (press, offer.name if offer else "") if part)
    notes = fonts.fitted(notes, area.width - 48, style.SMALL, fonts.REGULAR)
    pen.text(area.right, area.top - 10, notes, style.SMALL, colour=style.GREY, align="right")
    text_style = next(
        (kind for kind in STEP_STYLES if _steps_height(card, kind, area.width) <= area.height),
        STEP_STYLES[-1],
    )
    used = STEPS_HEAD
    for number, step in enumerate(card.steps, 1):
        row = area.below(used)
        baseline = row.top - text_style.leading + 0.28 * text_style.fontSize
        pen.text(row.left, baseline, f"{number}", text_style.fontSize, strong=True)
        text = Area(row.left + 18, row.top, row.width - 18, row.height)
        used += pen.paragraph(text, wording.press_step(step), text_style) + 3


def _size_notes(card: PressCard, size: SizeToPress, unit: LengthUnit, width: float) -> tuple[str, ...]:
    """Lines below a size: how it departs from the card's picture, and what its boxes stand for."""
    shown = max(card.sizes, key=lambda size: size.count)
    facts = []
    if (size.width_mm, size.height_mm) != (shown.width_mm, shown.height_mm):
        facts.append(wording.size(size.width_mm, size.height_mm, unit))
    if size.top_mm != shown.top_mm:
        facts.append(words.from_the_mark(wording.length(size.top_mm, unit)))
    if size.aside_mm != shown.aside_mm:
        facts.append(to_the_side(size.aside_mm, unit))
    if size.pressings != card.pressings:
        facts.append(pressings(size.pressings))
    if size.count > MOST_BOXES:
        facts.append(words.BOX_OF_TEN)
    lines: list[str] = []
    for fact in facts:
        longer = f"{lines[-1]} · {fact}" if lines else fact
        if lines and fonts.width_of(longer, style.SMALL) <= width - BOXES_LEFT:
            lines[-1] = longer
        else:
            lines.append(fact)
    return tuple(lines)


def _draw_sizes(pen: Pen, area: Area, papers: Papers, part: _Part) -> None:
    pen.text(area.left, area.top - 10, words.SIZES, style.LEAD, strong=True)
    pen.text(area.right, area.top - 10, words.TICK_EACH, style.SMALL, colour=style.GREY, align="right")
    used = SIZES_HEAD
    for size in part.sizes:
        notes = _size_notes(part.card, size, papers.shop.unit, area.width)
        _draw_size_row(pen, area.below(used), size, notes)
        used += _row_height(size, area.width, notes)


def _boxes(size: SizeToPress, width: float) -> tuple[int, int, int]:
    """How many boxes a size has, how many garments each stands for, how many groups of five a row holds."""
    each = 1 if size.count <= MOST_BOXES else 10
    return -(-size.count // each), each, max(1, int((width - BOXES_LEFT + 3) // FIVE_BOXES))


def _row_height(size: SizeToPress, width: float, notes: tuple[str, ...]) -> float:
    boxes, _, fives_a_row = _boxes(size, width)
    return 8 + 12.0 * -(-boxes // (5 * fives_a_row)) + NOTE_HEIGHT * len(notes)


def _size_height(papers: Papers, card: PressCard, size: SizeToPress, width: float) -> float:
    return _row_height(size, width, _size_notes(card, size, papers.shop.unit, width))


def _draw_size_row(pen: Pen, area: Area, size: SizeToPress, notes: tuple[str, ...]) -> None:
    """A size, its count and its boxes to tick, with notes below."""
    pen.line(area.left, area.top, area.right, area.top, width=0.25, colour=style.HAIRLINE)
    name_size = fonts.largest_size(size.size, 42, style.LEAD, style.SMALL)
    name = fonts.fitted(size.size, 42, name_size, fonts.STRONG)
    pen.text(area.left, area.top - 14, name, name_size, strong=True)
    pen.text(area.left + BOXES_LEFT - 10, area.top - 14, f"{size.count}", style.LEAD, align="right")
    boxes, _, fives_a_row = _boxes(size, area.width)
    for at in range(boxes):
        group, within = divmod(at, 5)
        row, column = divmod(group, fives_a_row)
        x = area.left + BOXES_LEFT + column * FIVE_BOXES + within * BOX_STEP
        pen.tick_box(x, area.top - 14 - row * 12, BOX_STEP - 2.5)
    level = area.top - _row_height(size, area.width, notes) + 5
    for above, note in enumerate(reversed(notes)):
        pen.text(area.left + BOXES_LEFT, level + above * NOTE_HEIGHT, note, style.SMALL, colour=style.GREY)


def _cautions_text(card: PressCard) -> str:
    return " ".join(wording.caution(caution) for caution in card.cautions)


def _cautions_height(width: float, card: PressCard) -> float:
    return height_of(_cautions_text(card), style.TEXT, width - 20) + 34


def _draw_cautions(pen: Pen, area: Area, card: PressCard) -> None:
    pen.box(area, width=1.2)
    inside = Area(area.left + 10, area.top - 6, area.width - 20, area.height - 10)
    first = words.WHO_WINS
    used = pen.paragraph(inside, first, style.LEAD_STRONG)
    pen.paragraph(inside.below(used + 1), _cautions_text(card), style.TEXT)
