"""What the customer reads on the proof: what is to be accepted, and why the shop prints it so."""

from dataclasses import replace

import pypdfium2
import pytest

from planner.job.edits import decide
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.paper.papers import Papers
from planner.paper.registry import PAPERS
from planner.paper.to_accept import is_on_proof
from planner.shop.document import changed
from tests.paper.scenes import PRINTER, choir_papers

COARSE = Finding(
    kind=FindingKind.TOO_COARSE,
    seriousness=Seriousness.STOP,
    artwork="photo",
    print="p1",
    found=109,
    needed=300,
)
PRICE = Finding(kind=FindingKind.RIGHTS, seriousness=Seriousness.NOTE)
REASON = "The choir has no larger file and likes it soft."


def text_of(papers: Papers) -> str:
    pages = pypdfium2.PdfDocument(PAPERS["proof"](papers))
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())


def decided(finding: Finding, reason: str) -> Papers:
    papers = choir_papers()
    plan = changed(papers.plan, findings=(), decided=(finding,))
    return replace(papers, plan=plan, job=decide(papers.job, finding, reason))


def test_a_decision_s_reason_is_printed_beside_what_it_is_about() -> None:
    text = text_of(decided(COARSE, REASON))
    assert f"will look soft. Decided: {REASON}" in text
    assert is_on_proof(COARSE)


def test_what_is_no_concern_of_the_customer_s_stays_off_the_proof_reason_and_all() -> None:
    assert REASON not in text_of(decided(PRICE, REASON))
    assert not is_on_proof(PRICE)


def test_a_reason_given_for_another_figure_is_not_printed() -> None:
    papers = decided(COARSE, REASON)
    worse = changed(COARSE, found=60)
    text = text_of(replace(papers, plan=changed(papers.plan, decided=(), findings=(worse,))))
    assert "60 pixels per inch" in text
    assert REASON not in text


@pytest.mark.parametrize("length", [400])
def test_the_longest_reason_finds_room(length: int) -> None:
    reason = ("word " * 100)[: length - 1].strip() + "."
    assert reason in text_of(decided(COARSE, reason))


def test_no_kind_of_finding_lets_the_shop_s_affairs_onto_the_proof() -> None:
    inside = ("offer", "printer", "price", "cost", "margin", "floor", "misprint", "spare", "minimum", "stock")
    papers = choir_papers()
    findings = tuple(
        Finding(
            kind=kind,
            seriousness=Seriousness.STOP,
            artwork="photo",
            print="p1",
            line="tees",
            # The one subject that a sentence names is a part of the garment.
            subject="zip" if kind is FindingKind.OVER_HARD_PART else PRINTER,
            found=109,
            needed=300,
        )
        for kind in FindingKind
    )
    for at in range(0, len(findings), 5):
        plan = changed(papers.plan, findings=findings[at : at + 5], decided=())
        text = text_of(replace(papers, plan=plan)).lower()
        text = text.replace("colours on paper differ a little from the printed transfer", "")
        assert PRINTER.lower() not in text
        assert [word for word in inside if word in text] == []
