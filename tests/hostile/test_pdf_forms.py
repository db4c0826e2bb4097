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


def test_outlines_that_run_to_and_fro_are_refused_and_dots_and_traces_pass() -> None:
    zigzag = b"0 0 m " + b"90 80 l 1 2 l " * 40_000 + b"f"
    with pytest.raises(UnreadableArtwork, match=r"so many points.*Simplify.*PNG"):
        refuse_endless(pdf(zigzag), 0, "zigzag.pdf")
    dots = b"".join(b"%d %d m %d.4 %d l %d %d.4 l f " % ((n % 250, n // 250) * 3) for n in range(100_000))
    refuse_endless(pdf(dots), 0, "halftone.pdf")
    walk = b"0 0 m " + b"".join(b"%d %d.5 l " % (n // 400, n % 7) for n in range(200_000)) + b"f"
    refuse_endless(pdf(walk), 0, "trace.pdf")


def test_outlines_in_forms_count_as_often_as_they_are_drawn() -> None:
    zigzag = stream(b"0 0 m " + b"90 80 l 1 2 l " * 2000 + b"f", _FORM)
    refuse_endless(pdf(b"/F Do " * 2, page=_USE, objects=[zigzag]), 0, "few.pdf")
    with pytest.raises(UnreadableArtwork, match="so many points"):
        refuse_endless(pdf(b"/F Do " * 40, page=_USE, objects=[zigzag]), 0, "many.pdf")


def test_what_this_reader_cannot_open_is_left_to_the_one_that_draws() -> None:
    refuse_endless(b"%PDF-1.7 nothing", 0, "odd.pdf")
