"""Placement guides whose marks say what to lay them on."""

import pypdfium2
import pypdfium2.raw as pdfium

from planner.paper.registry import PAPERS
from tests.paper.scenes import choir_papers


def test_the_line_to_lay_on_a_mark_runs_under_all_of_its_words() -> None:
    seen = 0
    for page in pypdfium2.PdfDocument(PAPERS["placement guides"](choir_papers())):
        words = [
            item.get_bounds()
            for item in page.get_objects((pdfium.FPDF_PAGEOBJ_TEXT,), textpage=page.get_textpage())
            if item.extract().startswith("lay this line")
        ]
        lines = [
            box
            for box in (item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_PATH,)))
            if box[3] - box[1] < 4
        ]
        for left, bottom, right, top in words:
            seen += 1
            assert any(
                line[0] <= left + 1 and line[2] >= right - 1 and bottom - 8 < line[1] < top + 8
                for line in lines
            )
    assert seen
