"""Forms that draw forms: what ends passes, what does not is refused before it is drawn."""

import zlib

import pytest

from planner.artwork.pdf_forms import refuse_endless
from planner.artwork.read import UnreadableArtwork
from tests.hostile.traps import pdf, stream, traps

_USE = b"/Resources << /XObject << /F 5 0 R >> >>"
_FORM = b"/Type /XObject /Subtype /Form /BBox [0 0 9 9]"


@pytest.mark.parametrize("name", ["form-loop.pdf", "form-laughs.pdf", "inflates.pdf"])
def test_a_page_that_never_ends_is_refused_with_a_sentence(name: str) -> None:
    with pytest.raises(UnreadableArtwork, match=r"would not end.*PNG"):
        refuse_endless(traps()[name], 0, name)


def test_a_form_drawn_a_thousand_times_passes() -> None:
    square = stream(zlib.compress(b"0 0 9 9 re f"), _FORM + b" /Filter /FlateDecode")
    refuse_endless(pdf(b"/F Do " * 1000, page=_USE, objects=[square]), 0, "stars.pdf")


def test_what_this_reader_cannot_open_is_left_to_the_one_that_draws() -> None:
    refuse_endless(b"%PDF-1.7 nothing", 0, "odd.pdf")
