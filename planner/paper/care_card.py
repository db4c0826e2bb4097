"""Care cards for the customer's people: four to a page, to be cut apart and put in each bag."""

from collections.abc import Callable

from reportlab.platypus import Flowable

from planner.paper import style, words
from planner.paper.blocks import DrawnPage, StartOfPaper, new_page, title
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph
from planner.plan.wording_care import care
from planner.pressing.care import CareCard, care_cards

NAME = words.CARE_CARD


def care_story(papers: Papers) -> list[Flowable]:
    cards = care_cards(papers.job, papers.shop)
    if not cards:
        return [StartOfPaper(NAME), *title(NAME), paragraph(words.NOTHING_TO_CARE_FOR)]
    story: list[Flowable] = []
    for at, card in enumerate(cards):
        if at:
            story.append(new_page())
        story.append(StartOfPaper(NAME, f"{NAME}: {card.style}, {card.colour_name}"))
        story.append(DrawnPage(_drawing(papers, card)))
    return story


def _drawing(papers: Papers, card: CareCard) -> Callable[[Pen, Area], None]:
    def draw(pen: Pen, area: Area) -> None:
        half_width, half_height = area.width / 2, area.height / 2
        for column in (0, 1):
            for row in (0, 1):
                cell = Area(
                    area.left + column * half_width, area.top - row * half_height, half_width, half_height
                )
                _draw_card(pen, cell, papers, card)
        middle_x, middle_y = area.left + half_width, area.top - half_height
        pen.line(middle_x, area.top, middle_x, area.bottom, width=0.4, colour=style.GREY, dash=(3, 3))
        pen.line(area.left, middle_y, area.right, middle_y, width=0.4, colour=style.GREY, dash=(3, 3))

    return draw


def _draw_card(pen: Pen, cell: Area, papers: Papers, card: CareCard) -> None:
    inside = Area(cell.left + 18, cell.top - 18, cell.width - 36, cell.height - 36)
    used = pen.paragraph(inside, words.HOW_TO_CARE, style.LEAD_STRONG)
    used += pen.paragraph(inside.below(used), f"{card.style}, {card.colour_name}", style.TEXT) + 6
    for advice in card.advice:
        used += pen.paragraph(inside.below(used), care(advice), style.TEXT) + 3
    pen.text(
        inside.left, inside.bottom, papers.shop.letterhead.name, style.SMALL, strong=True, colour=style.GREY
    )
