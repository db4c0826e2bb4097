"""The quote shows prices and nothing of what they are made of."""

import inspect
import io

import pikepdf
import pypdfium2
import pytest

from planner.paper.quote import quote_pdf, quote_story
from planner.paper.registry import PAPERS
from planner.shop.book import PaperSize
from tests.paper.scenes import PRINTER, SECRET_COST, SECRET_MARGIN, choir_papers


def text_of(pdf: bytes) -> str:
    return "\n".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf))


@pytest.fixture(scope="module")
def quote() -> bytes:
    return PAPERS["quote"](choir_papers())


SECRETS = (
    PRINTER,
    "Quillfeather",
    str(SECRET_COST),
    str(SECRET_MARGIN),
    "762.97",
    "754.03",
    "4.10",
    "margin",
    "cost",
    "gang sheet",
)


def test_a_quote_tells_prices_and_who_it_is_for(quote: bytes) -> None:
    text = text_of(quote)
    for shown in ("Harbour Lights Community Choir", "$18.50", "$1,611.81", "Sales tax, 6.25 %", "$94.81"):
        assert shown in text


@pytest.mark.parametrize("secret", SECRETS)
def test_no_cost_margin_or_printer_stands_in_the_quote(quote: bytes, secret: str) -> None:
    assert secret.lower() not in text_of(quote).lower()
    with pikepdf.open(io.BytesIO(quote)) as pdf:
        assert secret.lower() not in repr(dict(pdf.docinfo)).lower()
        unpacked = io.BytesIO()
        pdf.save(unpacked, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized)
    if not secret[0].isdigit():  # drawing coordinates look like amounts
        assert secret.lower().encode() not in unpacked.getvalue().lower()


def test_the_same_secrets_do_stand_in_the_shop_s_own_papers() -> None:
    text = text_of(PAPERS["packet"](choir_papers()))
    assert PRINTER in text
    assert str(SECRET_COST) in text


def test_the_quote_is_made_from_nothing_that_holds_costs() -> None:
    for function in (quote_pdf, quote_story):
        annotations = {str(p.annotation) for p in inspect.signature(function).parameters.values()}
        assert not any(name in text for text in annotations for name in ("Plan", "Costs", "Shop", "Papers"))


@pytest.mark.parametrize(
    ("paper", "points"), [(PaperSize.LETTER, (612, 792)), (PaperSize.A4, (595.28, 841.89))]
)
def test_pages_are_letter_or_a4(paper: PaperSize, points: tuple[float, float]) -> None:
    # ISO 216: A4 is 210 × 297 mm; Letter is 8.5 × 11 in; a PDF unit is 1/72 in (ISO 32000-1, 8.3.2.3).
    for page in pypdfium2.PdfDocument(PAPERS["quote"](choir_papers(paper))):
        assert page.get_size() == pytest.approx(points, abs=0.01)
