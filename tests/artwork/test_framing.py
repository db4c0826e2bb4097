"""Trims, turns and flips of vector artwork: whatever their order, as on pixels, and vector to the end."""

import io

import numpy as np
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from planner.artwork.decoding import InProcess
from planner.artwork.fixes import apply_fixes, suggest_trim
from planner.artwork.framing import Framing, framing_of
from planner.artwork.read import artwork_from, import_artwork
from planner.artwork.vectors import PDF, draw, rasterise_on
from planner.job.document import Artwork
from planner.job.fixes import FixStep, Flip, KnockOut, QuarterTurn, Thicken, Trim
from planner.shop.document import changed

SIZE_PX = (600, 400)
"""Of 2 × 1⅓ in at 300 ppi."""


def a_page(rotate: int = 0) -> bytes:
    """Three squares of different colours and sizes in three corners: no turn or mirror looks like another."""
    buffer = io.BytesIO()
    canvas = Canvas(buffer, (144, 96), invariant=1)
    for colour, box in (
        ((1, 0, 0), (10, 10, 40, 30)),
        ((0, 0.6, 0), (90, 60, 30, 26)),
        ((0, 0, 1), (100, 12, 16, 16)),
    ):
        canvas.setFillColorRGB(*colour)
        canvas.rect(*box, stroke=0, fill=1)
    canvas.save()
    if not rotate:
        return buffer.getvalue()
    turned = io.BytesIO()
    with pikepdf.open(buffer) as pdf:
        pdf.pages[0].obj.Rotate = rotate
        pdf.save(turned)
    return turned.getvalue()


DRAWING = b"""<svg xmlns="http://www.w3.org/2000/svg" width="2in" height="1.3333333in" viewBox="0 0 144 96">
<rect x="10" y="56" width="40" height="30" fill="#f00"/>
<rect x="90" y="10" width="30" height="26" fill="#096"/>
<rect x="100" y="68" width="16" height="16" fill="#00f"/></svg>"""


def with_fixes(data: bytes, name: str, fixes: tuple[FixStep, ...]) -> Artwork:
    return changed(artwork_from(import_artwork(data, name), "a"), fixes=fixes)


def premultiplied(picture: Image.Image) -> NDArray[np.float64]:
    return np.asarray(picture.convert("RGBa")).astype(np.float64)


def unlike(one: Image.Image, other: Image.Image) -> float:
    """Share of pixels that differ by more than an edge's rounding."""
    assert one.size == other.size
    apart = np.abs(premultiplied(one) - premultiplied(other)).max(axis=2)
    return float((apart > 24).mean())


ROUND = (
    Trim(left_px=20, top_px=30, width_px=520, height_px=340),
    QuarterTurn(),
    Flip(),
    Trim(left_px=10, top_px=20, width_px=300, height_px=460),
    QuarterTurn(quarters=3),
    Flip(),
    QuarterTurn(quarters=2),
)


@pytest.mark.parametrize("steps", range(len(ROUND) + 1))
@pytest.mark.parametrize("kind", ["pdf", "turned pdf", "svg"])
def test_framed_drawings_look_as_framed_pixels(kind: str, steps: int) -> None:
    data, name = {
        "pdf": (a_page(), "a.pdf"),
        "turned pdf": (a_page(270), "a.pdf"),
        "svg": (DRAWING, "a.svg"),
    }[kind]
    artwork = with_fixes(data, name, ROUND[:steps])
    whole = draw(data, artwork.media, page=0, size_px=(artwork.width_px, artwork.height_px), name=name)
    wanted = apply_fixes(whole, artwork.fixes)
    seen = InProcess().picture(data, artwork, max(artwork.size_px))
    assert seen.size == artwork.size_px
    assert unlike(seen, wanted) < 0.01
    # Four times as fine it is drawn anew, not enlarged: edges stay one pixel wide.
    fine = InProcess().printed(data, artwork, tuple(4 * side for side in artwork.size_px))
    alpha = np.asarray(fine.getchannel("A"))
    assert fine.size == tuple(4 * side for side in artwork.size_px)
    assert float(((alpha > 8) & (alpha < 247)).mean()) < 0.01


@pytest.mark.parametrize("steps", range(len(ROUND) + 1))
@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
def test_a_framed_page_stays_vector_and_shows_the_same(rotate: int, steps: int) -> None:
    data = a_page(rotate)
    artwork = with_fixes(data, "a.pdf", ROUND[:steps])
    assert artwork.stays_vector
    page = InProcess().vector_page(data, artwork)
    assert page is not None
    with pikepdf.open(io.BytesIO(page)) as pdf:
        assert not [item for item in pdf.objects if item.get("/Subtype", "") == "/Image"]
    seen = rasterise_on(page, artwork.size_px, "white", name="a.pdf")
    wanted = Image.new("RGBA", artwork.size_px, "white")
    wanted.alpha_composite(InProcess().picture(data, artwork, max(artwork.size_px)))
    assert unlike(seen.convert("RGBA"), wanted) < 0.01


STEPS = st.lists(
    st.one_of(
        st.builds(Flip),
        st.builds(QuarterTurn, quarters=st.integers(1, 3)),
        st.builds(
            Trim,
            left_px=st.integers(0, 20),
            top_px=st.integers(0, 20),
            width_px=st.integers(30, 40),
            height_px=st.integers(20, 30),
        ),
    ),
    max_size=6,
)


@settings(max_examples=80, deadline=None)
@given(STEPS)
def test_any_order_of_steps_comes_to_one_window_and_one_turn(steps: list[FixStep]) -> None:
    """On a picture whose pixels all differ, with steps that stay inside it."""
    inside: list[FixStep] = []
    artwork = Artwork(key="a", name="a.pdf", sha256="0" * 64, width_px=64, height_px=48, vector=True)
    for step in steps:
        width, height = changed(artwork, fixes=tuple(inside)).size_px
        if not isinstance(step, Trim) or (
            step.left_px + step.width_px <= width and step.top_px + step.height_px <= height
        ):
            inside.append(step)
    artwork = changed(artwork, fixes=tuple(inside))
    ramp = np.arange(64 * 48, dtype=np.uint32).reshape(48, 64)
    channels = [(ramp >> shift & 255).astype(np.uint8) for shift in (0, 8)]
    picture = Image.fromarray(
        np.dstack([*channels, np.zeros_like(channels[0]), np.full_like(channels[0], 255)])
    )
    framing = framing_of(artwork)
    left, top, across, down = framing.window
    box = (round(left * 64), round(top * 48), round((left + across) * 64), round((top + down) * 48))
    assert framing.before_turns(artwork.size_px) == (box[2] - box[0], box[3] - box[1])
    seen = framing.applied(picture.crop(box))
    assert np.array_equal(np.asarray(seen), np.asarray(apply_fixes(picture, artwork.fixes)))


def test_no_step_frames_nothing() -> None:
    artwork = with_fixes(a_page(), "a.pdf", ())
    assert framing_of(artwork) == Framing()
    assert artwork.media == PDF


def test_a_page_is_trimmed_to_its_ink() -> None:
    data = a_page()
    artwork = with_fixes(data, "a.pdf", ())
    trim = suggest_trim(InProcess().measured(data, artwork))
    # In points, y upwards: ink from (10, 10) to (120, 86) on 144 × 96.
    assert trim is not None
    assert (
        np.abs(
            np.array([trim.left_px, trim.top_px, trim.width_px, trim.height_px]) * 0.24 - [10, 10, 110, 76]
        ).max()
        < 0.5
    )
    trimmed = changed(artwork, fixes=(trim,))
    facts = InProcess().measured(data, trimmed)
    assert facts.vector
    assert suggest_trim(facts) is None


def test_fixes_on_pixels_draw_the_artwork_in_its_own_pixels() -> None:
    data = a_page()
    artwork = changed(with_fixes(data, "a.pdf", (Thicken(by_px=6),)), width_px=1200, height_px=800)
    assert not artwork.stays_vector
    assert InProcess().vector_page(data, artwork) is None
    printed = InProcess().printed(data, artwork, (3000, 2000))
    assert printed.size == (1200, 800)
    assert not InProcess().measured(data, artwork).vector
    with_hole = changed(artwork, fixes=(KnockOut(colour="#ff0000", from_edges=False),))
    seen = np.asarray(InProcess().printed(data, with_hole))
    assert (seen[..., 0][seen[..., 3] > 128] < 200).all()
