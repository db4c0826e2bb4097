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
from tests.paper.scenes import choir_papers

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
