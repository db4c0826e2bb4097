"""Press cards with all that one card can hold, on one page each and in nobody's way."""

from dataclasses import replace

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from planner.job import edits
from planner.job.document import GroupPlace, GroupWidth, SizeCount
from planner.measures.lengths import LengthUnit
from planner.paper import style
from planner.paper.papers import Papers
from planner.paper.registry import PAPERS
from planner.pressing.cards import press_cards
from planner.shop.book import PaperSize
from planner.shop.document import changed
from planner.shop.garments import HardPart, SizeGroup
from tests.paper.scenes import choir_papers


def full_papers(paper: PaperSize, decision: str, sizes: int = 3) -> Papers:
    """Cards of a print over the platen on three groups of sizes, by an offer that asks for every step."""
    papers = choir_papers(paper, unit=LengthUnit.MILLIMETRE)
    first = papers.job.prints[0]
    counts = (
        SizeCount(size="12M", count=3, group=SizeGroup.INFANT),
        SizeCount(size="YM", count=7, group=SizeGroup.YOUTH),
        SizeCount(size="M", count=60),
        *(SizeCount(size=f"{at}XL", count=5) for at in range(2, sizes - 1)),
    )
    job = edits.change_line(papers.job, first.line, sizes=counts, hard_parts=tuple(HardPart))
    job = edits.change_print(
        job,
        first.key,
        width_mm=600.0,
        group_widths=(
            GroupWidth(group=SizeGroup.YOUTH, width_mm=215.9),
            GroupWidth(group=SizeGroup.INFANT, width_mm=114.3),
        ),
        group_places=(GroupPlace(group=SizeGroup.INFANT, top_mm=31.7, aside_mm=-112.5),),
    )
    asked = {"cover_sheet": True, "pre_press_s": 3.0, "second_press_s": 5.0}
    offers = tuple(changed(offer, press=changed(offer.press, **asked)) for offer in papers.shop.offers)
    shop = changed(papers.shop, offers=offers)
    cards = tuple(
        changed(card, over_label=True, label_limit_c=110.0, label_decision=decision)
        for card in press_cards(job, shop)
        if card.print == first.key
    )
    return replace(papers, job=job, shop=shop, plan=changed(papers.plan, press_cards=cards))


def lines_of(page: pypdfium2.PdfPage) -> dict[str, tuple[float, float, float, float]]:
    """Left, bottom, right and top of each line of text."""
    textpage = page.get_textpage()
    objects = page.get_objects((pdfium.FPDF_PAGEOBJ_TEXT,), max_depth=1, textpage=textpage)
    return {item.extract(): item.get_bounds() for item in objects}


@pytest.mark.parametrize("paper", list(PaperSize))
@pytest.mark.parametrize("decision", ["", "A test piece held. " * 20])
def test_the_last_step_stands_above_the_cautions_however_many_there_are(
    paper: PaperSize, decision: str
) -> None:
    page = pypdfium2.PdfDocument(PAPERS["press cards"](full_papers(paper, decision)))[0]
    lines = lines_of(page)
    (last,) = (box for text, box in lines.items() if text.startswith("Let it cool"))
    (caution,) = (box for text, box in lines.items() if "label win over this card" in text)
    assert last[1] > caution[3] + 6
    assert max(box[2] for box in lines.values()) <= page.get_width() - style.SIDE_MARGIN + 1


def test_a_card_takes_no_second_page_for_a_size_or_two() -> None:
    assert len(pypdfium2.PdfDocument(PAPERS["press cards"](full_papers(PaperSize.LETTER, "", 5)))) == 1


def test_a_size_that_fits_the_platen_is_pressed_once_and_says_so() -> None:
    papers = full_papers(PaperSize.LETTER, "")
    (card,) = papers.plan.press_cards
    assert [size.pressings for size in card.sizes] == [1, 1, 2]
    text = " ".join(lines_of(pypdfium2.PdfDocument(PAPERS["press cards"](papers))[0]))
    assert text.count("pressed once") == 2
    assert "press, up to 2 times" in text
