"""All papers of a job by name, each on its own or bundled as the packet."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from reportlab.platypus import Flowable

from planner.measures.figures import written_for
from planner.paper import list_words, words
from planner.paper.blocks import new_page
from planner.paper.build import pdf_of
from planner.paper.care_card import care_story
from planner.paper.garment import garment_picture
from planner.paper.guide_words import PLACEMENT_GUIDES
from planner.paper.guides import guides_story
from planner.paper.layouts import layouts_story
from planner.paper.order import orders_story
from planner.paper.order_words import ORDER
from planner.paper.papers import Papers
from planner.paper.press_cards import press_cards_story
from planner.paper.proof import proof_story
from planner.paper.quote import QuoteLook, quote_pdf, quote_story
from planner.paper.quote_words import QUOTE
from planner.paper.shop_lists import arrivals_story, buying_story, picking_story, work_story
from planner.paper.summary import summary_story
from planner.paper.summary_words import SUMMARY

Story = Callable[[Papers], list[Flowable]]
Paper = Callable[[Papers], bytes]


def quote_look(papers: Papers) -> QuoteLook:
    """What the quote shows beside its words; nothing in it tells a cost."""
    garments = {line.key: garment_picture(papers.job, line) for line in papers.job.lines}
    logo = papers.shop.letterhead.logo
    return QuoteLook(papers.shop.paper, papers.shop.unit, garments, papers.ladder, logo)


def _quote(papers: Papers) -> bytes:
    return quote_pdf(papers.plan.quote, quote_look(papers), papers.pictures)


def _quote_story(papers: Papers) -> list[Flowable]:
    return quote_story(papers.plan.quote, quote_look(papers), papers.pictures)


_IN_PACKET: tuple[tuple[str, str, Story], ...] = (
    ("summary", SUMMARY, summary_story),
    ("quote", QUOTE, _quote_story),
    ("proof", words.PROOF, proof_story),
    ("order", ORDER, orders_story),
    ("buying list", list_words.BUYING, buying_story),
    (words.CHECK_IN_LIST, list_words.ARRIVALS, arrivals_story),
    ("layouts", words.LAYOUTS, layouts_story),
    (words.ORDER_OF_WORK, list_words.WORK, work_story),
    ("press cards", words.PRESS_CARDS, press_cards_story),
    ("pick list", list_words.PICKING, picking_story),
    ("care card", words.CARE_CARD, care_story),
)
"""The name by which a paper is asked for, its title, and what stands in it."""
_ALONE = (("placement guides", PLACEMENT_GUIDES, guides_story),)


def packet(papers: Papers) -> bytes:
    """The bundle of a job's papers as one PDF, for the shop."""
    story: list[Flowable] = []
    for _, _, part in _IN_PACKET:
        if story:
            story.append(new_page())
        story += part(papers)
    return pdf_of(story, papers.imprint(words.PACKET))


def _paper(title: str, story: Story) -> Paper:
    return lambda papers: pdf_of(story(papers), papers.imprint(title))


def _as_the_shop_writes(paper: Paper) -> Paper:
    def made(papers: Papers) -> bytes:
        with written_for(papers.shop.region):
            return paper(papers)

    return made


PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        name: _as_the_shop_writes(paper)
        for name, paper in {
            **{name: _paper(title, story) for name, title, story in (*_IN_PACKET, *_ALONE)},
            "quote": _quote,
            "packet": packet,
        }.items()
    }
)
"""What each name gives: the paper as PDF bytes, the same for the same job, plan and pictures."""
