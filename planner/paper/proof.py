"""The approval proof: each print at true size where it fits, for the customer to sign."""

from collections.abc import Callable

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from planner.job.document import Print
from planner.job.pieces import print_size
from planner.measures.lengths import MM_PER_INCH
from planner.paper import fonts, style, words
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.garment import draw_garment, garment_picture, shown_size
from planner.paper.labels import print_labels
from planner.paper.logo import draw_logo, logo_size
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import height_of, paragraph
from planner.paper.to_accept import to_accept
from planner.plan import wording
from planner.plan.kind_words import kind_name

NAME = words.PROOF


def proof_story(papers: Papers) -> list[Flowable]:
    if not papers.job.prints:
        return [StartOfPaper(NAME), *title(NAME), paragraph(words.NO_PRINTS)]
    story: list[Flowable] = []
    for at, print_ in enumerate(papers.job.prints):
        if at:
            story.append(new_page())
        label = print_labels(papers.job)[print_.key]
        name = papers.job.artwork(print_.artwork).name
        story.append(StartOfPaper(NAME, words.proof_of(label, name)))
        story.append(DrawnPage(_drawing(papers, print_)))
    return story


def _drawing(papers: Papers, print_: Print) -> Callable[[Pen, Area], None]:
    def draw(pen: Pen, area: Area) -> None:
        used = _draw_head(pen, area, papers, print_)
        foot = 78.0
        notes = "\n".join(_notes(papers, print_))
        notes_height = height_of(notes, style.TEXT, area.width) + 24 if notes else 0.0
        middle = Area(area.left, area.top - used, area.width, area.height - used - foot - notes_height - 8)
        _draw_true_size(pen, middle, papers, print_)
        if notes:
            room = Area(area.left, area.bottom + foot + notes_height, area.width, notes_height)
            used = pen.paragraph(room, words.PLEASE_NOTE, style.STRONG_TEXT)
            pen.paragraph(room.below(used), notes)
        _draw_signature(pen, Area(area.left, area.bottom + foot, area.width, foot))

    return draw


def _draw_head(pen: Pen, area: Area, papers: Papers, print_: Print) -> float:
    line = papers.job.line(print_.line)
    artwork = papers.job.artwork(print_.artwork)
    label = print_labels(papers.job)[print_.key]
    garment = garment_picture(papers.job, line, (print_,))
    picture = Area(area.right - 92, area.top, 92, 100)
    draw_garment(pen, picture, garment, papers.pictures, back=garment.prints[0].on_back)
    room = area.width - 110
    logo = papers.shop.letterhead.logo
    if logo is not None:
        width, _ = logo_size(logo)
        room -= width + 12
        draw_logo(pen, picture.left - 12 - width, area.top, logo, papers.pictures)
    name = fonts.fitted(words.proof(label), room, style.TITLE, fonts.STRONG)
    pen.text(area.left, area.top - 20, name, style.TITLE, strong=True)
    pen.text(area.left, area.top - 40, fonts.fitted(artwork.name, room, style.LEAD), style.LEAD)
    place = wording.place(print_.location, print_.place_name)
    where = f"{line.style or kind_name(line.kind)}, {line.colour.name}, {place}"
    pen.text(area.left, area.top - 58, fonts.fitted(where, room, style.LEAD), style.LEAD)
    pen.text(area.left, area.top - 74, fonts.fitted(_widths(papers, print_), room, style.BODY), style.BODY)
    return 108


def _widths(papers: Papers, print_: Print) -> str:
    """Printed size, by group of sizes where they differ."""
    artwork = papers.job.artwork(print_.artwork)
    unit = papers.shop.unit
    size = print_size(artwork, print_.width_mm)
    text = wording.size(size.width_mm, size.height_mm, unit)
    for own in print_.group_widths:
        other = print_size(artwork, own.width_mm)
        text += words.other_sizes(own.group, wording.size(other.width_mm, other.height_mm, unit))
    return text


def _draw_true_size(pen: Pen, area: Area, papers: Papers, print_: Print) -> None:
    artwork = papers.job.artwork(print_.artwork)
    line = papers.job.line(print_.line)
    shown = shown_size(line)
    size = print_size(artwork, print_.width_for(shown.group) if shown else print_.width_mm)
    width, height = (side * 72 / MM_PER_INCH for side in (size.width_mm, size.height_mm))
    rim, caption = 10.0, 22.0
    scale = min(1.0, (area.width - 2 * rim) / width, (area.height - 2 * rim - caption) / height)
    width, height = width * scale, height * scale
    left = area.left + (area.width - width) / 2
    ground = Area(left - rim, area.top, width + 2 * rim, height + 2 * rim)
    pen.box(ground, fill=HexColor(line.colour.hex), stroke=style.HAIRLINE)
    picture = Area(left, area.top - rim, width, height)
    pen.picture(papers.pictures.at(artwork, width, height), picture)
    for end in (picture.left, picture.right):
        pen.line(end, ground.bottom - 2, end, ground.bottom - 10, width=0.5)
    shown_as = words.TRUE_SIZE if scale == 1 else words.shown_at(scale)
    level = ground.bottom - 6
    pen.arrow(picture.left, level, picture.right, level)
    pen.text(
        area.left + area.width / 2,
        level - 12,
        words.size_on_cloth(
            shown_as, wording.size(size.width_mm, size.height_mm, papers.shop.unit), line.colour.name
        ),
        style.BODY,
        align="centre",
    )


def _notes(papers: Papers, print_: Print) -> list[str]:
    """What the customer must know and accept before anything is printed, and why the shop printed it so."""
    plan, decisions = papers.plan, papers.job.decisions
    notes = []
    for found in (*plan.findings, *plan.decided):
        sentence = to_accept(found, papers.shop.unit) if found.print == print_.key else None
        if sentence is None:
            continue
        reason = next((decision.reason for decision in decisions if decision.covers(found)), "")
        notes.append(words.to_note(sentence, reason))
    return list(dict.fromkeys(notes))


def _draw_signature(pen: Pen, area: Area) -> None:
    pen.paragraph(area, words.APPROVED, style.TEXT)
    for column, name in (
        (area.column(0, 5, 12), words.NAME),
        (area.column(5, 4, 12), words.SIGNATURE),
        (area.column(9, 3, 12), words.DATE),
    ):
        pen.line(column.left, area.bottom + 14, column.right, area.bottom + 14, width=0.6)
        pen.text(column.left, area.bottom + 3, name, style.SMALL, colour=style.GREY)
