"""Papers say when things were ordered and when they arrive."""

from dataclasses import replace
from datetime import date

import pypdfium2

from planner.paper.papers import Papers
from planner.paper.registry import PAPERS
from planner.pressing.calendar import Calendar, Deadline, Milestone
from planner.shop.document import changed
from tests.paper.scenes import choir_papers

MONDAY, FRIDAY = date(2026, 9, 14), date(2026, 9, 18)


def text(papers: Papers, name: str) -> str:
    pages = pypdfium2.PdfDocument(PAPERS[name](papers))
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())


def test_check_in_list_and_summary_tell_what_is_on_its_way() -> None:
    papers = choir_papers()
    assert "Ordered Mon, Sep 14" not in text(papers, "check-in list")
    blanks = Deadline(
        milestone=Milestone.ORDER_BLANKS, by=FRIDAY, slack_days=-1, ordered=MONDAY, arrives=FRIDAY
    )
    plan = changed(papers.plan, calendar=Calendar(due=FRIDAY, deadlines=(blanks,)))
    told = "rdered Mon, Sep 14, 2026, arrives Fri, Sep 18, 2026"
    ordered = replace(papers, plan=plan)
    assert f"O{told}, 1 working day too late." in text(ordered, "check-in list")
    assert f"Blanks arrive o{told}" in text(ordered, "summary")
