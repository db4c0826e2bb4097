"""Where pages lie, and how they are drawn."""

import io

import pikepdf
import pytest
from PySide6.QtCore import QSize

from planner.window.preview.making import MOST_PX, page_picture, page_sizes
from planner.window.preview.stack import Fit, Stack

LETTER, A4_ACROSS = (612.0, 792.0), (842.0, 595.0)


def a_pdf(*sizes: tuple[float, float]) -> bytes:
    """Blank pages of these sizes, written by another library than the one that reads them."""
    with pikepdf.new() as document:
        for size in sizes:
            document.add_blank_page(page_size=size)
        buffer = io.BytesIO()
        document.save(buffer)
    return buffer.getvalue()


def test_sizes_are_those_of_the_pages() -> None:
    assert page_sizes(a_pdf(LETTER, A4_ACROSS)) == (LETTER, A4_ACROSS)


def test_a_page_is_drawn_at_the_pixels_asked_for_and_white() -> None:
    drawn = page_picture(a_pdf(LETTER), 0, 2.0)
    assert drawn.size == (1224, 1584)
    assert drawn.getpixel((600, 800)) == (255, 255, 255)


def test_a_huge_page_is_drawn_with_no_more_pixels_than_may_be() -> None:
    width, height = page_picture(a_pdf((1600, 14000)), 0, 4.0).size
    assert width * height <= MOST_PX * 1.01
    assert height / width == pytest.approx(14000 / 1600, rel=0.01)


def test_pages_lie_below_each_other_in_the_middle() -> None:
    stack = Stack((LETTER, A4_ACROSS), 0.5, 10)
    assert stack.tops == (10, 10 + 396 + 10)
    assert stack.height == 10 + 396 + 10 + 297.5 + 10
    assert stack.box(0, 800).center().x() == 400
    assert stack.box(1, 800).width() == 421


def test_only_pages_in_view_count_as_visible() -> None:
    stack = Stack((LETTER,) * 5, 1.0, 10)
    assert list(stack.visible(0, 500)) == [0]
    assert list(stack.visible(600, 500)) == [0, 1]
    assert list(stack.visible(2 * 802 + 5, 20)) == [2]
    assert list(Stack((), 1.0, 10).visible(0, 500)) == []


def test_a_fit_leaves_the_gap_on_both_sides() -> None:
    stack = Stack((LETTER, A4_ACROSS), 1.0, 0)
    zoom = stack.fitting(Fit.WIDTH, QSize(862, 400), 1.0, 10, 1.0, 0)
    assert zoom == pytest.approx(1.0)
    whole = stack.fitting(Fit.WHOLE, QSize(862, 406), 1.0, 10, 1.0, 0)
    assert whole == pytest.approx(396 / 792)
    assert stack.fitting(Fit.NONE, QSize(862, 400), 1.0, 10, 0.7, 0) == 0.7
