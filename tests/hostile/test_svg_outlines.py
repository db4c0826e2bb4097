"""Outlines of drawings: traced artwork passes, what runs to and fro without end is refused undrawn."""

import math
import random

import pytest

from planner.artwork.decoding import InProcess
from planner.artwork.read import UnreadableArtwork
from planner.artwork.svg import safe_drawing
from tests.hostile.traps import heavy_traps, svg

_REFUSED = r"so many points.*Simplify its paths.*PNG"


def traced(points: int, seed: int = 1) -> str:
    """Many small ragged shapes, as tracing a photograph leaves them."""
    dice, made = random.Random(seed), []
    for _ in range(points // 50):
        x, y = 1000 * dice.random(), 1000 * dice.random()
        ring = ((8 * (0.9 + 0.1 * dice.random()), 2 * math.pi * turn / 50) for turn in range(50))
        made.append("M" + " ".join(f"{x + r * math.cos(a):.2f},{y + r * math.sin(a):.2f}" for r, a in ring))
    return "Z".join(made)


def to_and_fro(turns: int) -> str:
    return "M0 0" + "l9 90 l-9 -90 " * turns


@pytest.mark.parametrize("paint", ['fill="red"', 'fill="none" stroke="red"', 'style="stroke: red"'])
def test_traced_artwork_of_a_hundred_thousand_points_passes(paint: str) -> None:
    drawing = svg(f'<path d="{traced(100_000)}" {paint}/>', size='width="1000" height="1000"')
    assert safe_drawing(drawing, 4500, 4500, "crest.svg")


def test_a_halftone_of_sixty_thousand_dots_passes() -> None:
    dots = "".join(f'<path d="M{n % 250} {n // 250}q.3 0 .3 .3t-.3 .3t-.3-.3t.3-.3"/>' for n in range(60_000))
    assert safe_drawing(svg(dots + '<path d="M0 0h9" stroke="red"/>'), 4500, 4500, "halftone.svg")


@pytest.mark.parametrize(
    "body",
    [
        f'<path d="{to_and_fro(20_000)}" fill="red"/>',
        f'<path d="{to_and_fro(6_000)}" style="stroke: red"/>',
        f'<path d="{to_and_fro(6_000)}" stroke="red"/>',
        f'<style>path {{ stroke : red }}</style><path d="{to_and_fro(6_000)}"/>',
        f'<polyline points="{"0,0 9,90 " * 20_000}"/>',
        f'<path d="M0 0{"V90V0" * 20_000}"/>',
        f'<path id="a" d="{to_and_fro(1_000)}"/>' + '<use href="#a"/>' * 30,
    ],
)
def test_outlines_out_of_proportion_are_refused_with_a_sentence(body: str) -> None:
    with pytest.raises(UnreadableArtwork, match=_REFUSED):
        safe_drawing(svg(body), 300, 300, "zigzag.svg")


def test_the_drawing_of_six_hundred_thousand_points_is_refused_at_import() -> None:
    with pytest.raises(UnreadableArtwork, match=_REFUSED):
        InProcess().imported(heavy_traps()["many-points.svg"], "many-points.svg")


def test_curves_arcs_and_odd_paths_are_read_without_an_error() -> None:
    for path in (
        "M1 1c1 1 2 2 3 3s1 1 2 2q1 1 2 2t3 3a1 1 0 011 1h-5v4z",
        "L",
        "5 5",
        "M1e3-1e-3.5.5",
        "x1 2",
    ):
        assert safe_drawing(svg(f'<path d="{path}"/>'), 30, 30, "odd.svg")


def test_markers_at_too_many_points_are_refused_and_arrows_pass() -> None:
    with pytest.raises(UnreadableArtwork, match=r"repeats its markers.*PNG"):
        InProcess().imported(heavy_traps()["markers.svg"], "markers.svg")
    arrow = '<marker id="m"><path d="M0 0L9 4L0 9z"/></marker>'
    lines = f'<path marker-end="url(#m)" d="M0 0{"h.01" * 50_000}"/>'
    assert safe_drawing(svg(arrow + lines), 300, 300, "arrows.svg")
