"""Fixes: the picture after each step, and that measuring it again says so."""

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from planner.artwork.check import import_measured
from planner.artwork.fixes import apply_fix, apply_fixes, suggest_trim
from planner.artwork.measure import measure
from planner.artwork.pixels import picture as fixed_picture
from planner.artwork.read import artwork_from, import_artwork
from planner.job.fixes import (
    FixStep,
    Flip,
    Halftone,
    HardenEdges,
    KnockOut,
    OutlineInk,
    QuarterTurn,
    Recolour,
    RemoveSpecks,
    Thicken,
    Trim,
)
from planner.shop.document import changed
from tests.artwork import samples

ALL_STEPS: tuple[FixStep, ...] = (
    Trim(left_px=10, top_px=5, width_px=300, height_px=200),
    KnockOut(colour="#ffffff"),
    RemoveSpecks(smaller_than_px=6),
    HardenEdges(),
    Halftone(cell_px=8),
    Thicken(by_px=2),
    OutlineInk(by_px=3, colour="#ffffff"),
    Recolour(colour="#143c8c", to="#00aa55"),
    Flip(),
    QuarterTurn(quarters=1),
)


def _alpha(picture: Image.Image) -> np.ndarray:
    return np.asarray(picture)[..., 3]


def _discs(radius: float = 40, side: int = 200, feather: float = 0.5) -> Image.Image:
    y, x = np.mgrid[:side, :side] + 0.5
    away = np.hypot(x - side / 2, y - side / 2)
    pixels = np.zeros((side, side, 4), np.uint8)
    pixels[..., :3] = (200, 20, 30)
    pixels[..., 3] = np.round(255 * np.clip((radius - away) / (2 * feather) + 0.5, 0, 1))
    return Image.fromarray(pixels)


@pytest.mark.parametrize("step", ALL_STEPS, ids=lambda step: step.step)
def test_each_step_gives_the_size_that_the_document_reckons_with(step: FixStep) -> None:
    data = samples.encoded(samples.logo())
    artwork = changed(artwork_from(import_artwork(data, "logo.png"), "a"), fixes=(step,))
    fixed = fixed_picture(artwork, data)
    assert fixed.mode == "RGBA"
    assert fixed.size == artwork.size_px
    assert (measure(data, artwork).width_px, measure(data, artwork).height_px) == artwork.size_px


def test_steps_are_applied_in_order_and_the_file_stays_as_it_is() -> None:
    logo = samples.logo()
    before = logo.tobytes()
    turned = apply_fixes(
        logo, (QuarterTurn(quarters=1), Trim(left_px=0, top_px=0, width_px=100, height_px=9))
    )
    assert turned.size == (100, 9)
    apply_fixes(logo, ALL_STEPS[1:])
    assert logo.tobytes() == before


def test_turning_and_flipping_back_gives_the_same_pixels() -> None:
    logo = samples.logo()
    assert apply_fixes(logo, (Flip(), Flip())).tobytes() == logo.tobytes()
    assert apply_fixes(logo, (QuarterTurn(quarters=3), QuarterTurn())).tobytes() == logo.tobytes()
    corner = Image.new("RGBA", (3, 2))
    corner.putpixel((0, 0), (9, 8, 7, 255))
    assert apply_fix(corner, QuarterTurn()).getpixel((1, 0)) == (9, 8, 7, 255)


def test_the_suggested_trim_leaves_the_ink_and_nothing_else() -> None:
    data = samples.encoded(samples.logo())
    imported, facts = import_measured(data, "logo.png")
    trim = suggest_trim(facts)
    assert trim is not None
    artwork = changed(artwork_from(imported, "a"), fixes=(trim,))
    after = measure(data, artwork)
    assert after.ink is not None
    assert (after.ink.width_px, after.ink.height_px) == (after.width_px, after.height_px)
    assert suggest_trim(after) is None
    assert after.ink_px == pytest.approx(facts.ink_px, rel=1e-3)


@pytest.mark.parametrize("ground", [(255, 255, 255), (30, 160, 80), (0, 0, 0)])
def test_knocking_out_a_ground_gives_the_motif_back_without_a_halo(ground: tuple[int, int, int]) -> None:
    logo = samples.logo()
    flat = samples.on_ground(logo, ground).convert("RGBA")
    cut = apply_fix(flat, KnockOut(colour="#{:02x}{:02x}{:02x}".format(*ground), tolerance_de=10))
    assert np.abs(_alpha(cut).astype(int) - _alpha(logo)).mean() < 1.0
    # On a strongly different cloth no pixel may be off by more than an edge's rounding.
    for cloth in ((255, 0, 255), (10, 10, 10)):
        wanted = np.asarray(samples.on_ground(logo, cloth)).astype(int)
        seen = np.asarray(samples.on_ground(cut, cloth)).astype(int)
        off = np.abs(wanted - seen).max(axis=2)
        assert (off > 40).mean() < 0.0005


def test_knocking_out_from_the_edges_keeps_what_is_enclosed() -> None:
    ring = Image.new("RGBA", (100, 100), (255, 255, 255, 255))
    ring.paste((0, 0, 200, 255), (20, 20, 80, 80))
    ring.paste((255, 255, 255, 255), (40, 40, 60, 60))
    from_edges = apply_fix(ring, KnockOut(colour="#ffffff"))
    assert from_edges.getpixel((50, 50)) == (255, 255, 255, 255)
    assert _alpha(from_edges)[5, 5] == 0
    everywhere = apply_fix(ring, KnockOut(colour="#ffffff", from_edges=False))
    assert _alpha(everywhere)[50, 50] == 0
    assert everywhere.getpixel((30, 30)) == (0, 0, 200, 255)


def test_removing_specks_takes_the_small_and_leaves_the_large() -> None:
    picture = _discs()
    draw = np.array(picture)
    draw[10:13, 10:13, 3] = 255
    draw[180, 20, 3] = 60
    draw[20:30, 170:180, 3] = 255
    cleaned = _alpha(apply_fix(Image.fromarray(draw), RemoveSpecks(smaller_than_px=6)))
    assert not cleaned[5:18, 5:18].any()
    assert cleaned[180, 20] == 0
    assert (cleaned[20:30, 170:180] == 255).all()
    assert (cleaned[50:150, 50:150] == _alpha(picture)[50:150, 50:150]).all()


def test_hardened_edges_are_solid_or_clear() -> None:
    hard = _alpha(apply_fix(samples.with_shadow(samples.logo()), HardenEdges(threshold=100)))
    assert set(np.unique(hard)) == {0, 255}


def test_a_halftone_prints_as_much_ink_as_the_fade_had() -> None:
    fade = np.zeros((256, 256, 4), np.uint8)
    fade[..., 3] = np.linspace(20, 235, 256).round()[None, :]
    dots = _alpha(apply_fix(Image.fromarray(fade), Halftone(cell_px=8, angle_deg=30)))
    assert set(np.unique(dots)) <= {0, 255}
    for left in range(0, 256, 64):
        was = fade[:, left : left + 64, 3].mean() / 255
        assert (dots[:, left : left + 64] / 255).mean() == pytest.approx(was, abs=0.02)


def test_a_halftone_leaves_clean_edges_alone() -> None:
    logo = samples.logo()
    assert (_alpha(apply_fix(logo, Halftone(cell_px=8))) == _alpha(logo)).all()


@pytest.mark.parametrize("by_px", [1, 2.5, 6])
def test_thickening_grows_the_ink_by_what_is_asked(by_px: float) -> None:
    disc = _discs(40)
    thick = apply_fix(disc, Thicken(by_px=by_px))
    area = _alpha(thick).sum() / 255
    assert (area / np.pi) ** 0.5 == pytest.approx(40 + by_px, abs=0.5)
    seen = np.asarray(thick)
    assert (seen[seen[..., 3] > 0][:, :3] == (200, 20, 30)).all()


def test_thickening_takes_each_colour_from_the_nearest_ink() -> None:
    two = np.zeros((60, 100, 4), np.uint8)
    two[20:40, 20:40] = (255, 0, 0, 255)
    two[20:40, 60:80] = (0, 0, 255, 255)
    thick = np.asarray(apply_fix(Image.fromarray(two), Thicken(by_px=5)))
    assert tuple(thick[30, 42]) == (255, 0, 0, 255)
    assert tuple(thick[30, 57]) == (0, 0, 255, 255)


def test_an_outline_is_as_wide_as_asked_and_lies_around_the_ink_only() -> None:
    disc = _discs(40)
    lined = np.asarray(apply_fix(disc, OutlineInk(by_px=5, colour="#00ff00"))).astype(int)
    green = (lined[..., 1] > 200) & (lined[..., 3] > 127)
    red = (lined[..., 0] > 150) & (lined[..., 1] < 100) & (lined[..., 3] > 127)
    assert (green.sum() + red.sum()) == pytest.approx(np.pi * 45**2, rel=0.02)
    assert red.sum() == pytest.approx(np.pi * 40**2, rel=0.03)
    # Against scipy: the outline ends where the distance from the ink does.
    ink = np.pad(_alpha(disc), 5) >= 128
    away = ndimage.distance_transform_edt(~ink)
    assert (lined[..., 3][away > 6.5] == 0).all()
    assert (lined[..., 3][away <= 4.5] == 255).all()


def test_recolouring_exchanges_the_flat_colour_exactly_and_leaves_the_others() -> None:
    logo = samples.logo()
    seen = np.asarray(apply_fix(logo, Recolour(colour="#143c8c", to="#00aa55")))
    was = np.asarray(logo)
    blue = (was[..., :3] == (20, 60, 140)).all(axis=2) & (was[..., 3] == 255)
    yellow = (was[..., :3] == (250, 220, 60)).all(axis=2)
    assert (seen[blue][:, :3] == (0, 170, 85)).all()
    assert (seen[yellow] == was[yellow]).all()
    assert (seen[..., 3] == was[..., 3]).all()
