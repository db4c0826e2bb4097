"""Measurements of drawn pictures of which we know the answer, and against scipy.ndimage."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageDraw
from scipy import ndimage

from planner.artwork import specks, strokes
from planner.artwork.facts import ArtworkFacts, Style
from planner.artwork.measure import measure_picture
from planner.artwork.specks import SPECK_ALPHA, speck_boxes
from planner.job.document import Artwork
from planner.work.ticket import Cancelled, Ticket
from tests.artwork import samples


def facts_of(picture: Image.Image, ticket: Ticket | None = None) -> ArtworkFacts:
    artwork = Artwork(key="a", name="a", sha256="0" * 64, width_px=picture.width, height_px=picture.height)
    return measure_picture(picture.copy(), artwork, ticket=ticket)


def _main_width(facts: ArtworkFacts) -> float:
    """The width that half the length of all thin strokes does not reach."""
    whole = facts.strokes[-1].length_px
    return next(thin.width_px for thin in facts.strokes if thin.length_px >= whole / 2)


@pytest.mark.parametrize("stroke_px", [0.6, 1, 1.4, 2, 2.6, 3, 4, 5.5, 7, 9, 12, 15.5])
def test_stroke_widths_are_right_to_a_pixel(stroke_px: float) -> None:
    facts = facts_of(samples.line_art(stroke_px))
    assert _main_width(facts) == pytest.approx(stroke_px, abs=1.0)
    assert facts.strokes[-1].length_px == pytest.approx(5 * 260, rel=0.15)


@pytest.mark.parametrize("angle", range(0, 91, 15))
@pytest.mark.parametrize("stroke_px", [2, 3, 5, 8, 12])
def test_stroke_widths_are_right_at_every_angle(stroke_px: int, angle: int) -> None:
    big = Image.new("L", (1600, 1600))
    ImageDraw.Draw(big).rectangle((160, 800, 1440, 800 + 4 * stroke_px - 1), fill=255)
    alpha = big.rotate(angle + 0.7, resample=Image.Resampling.BICUBIC).resize(
        (400, 400), Image.Resampling.BOX
    )
    picture = Image.new("RGBA", alpha.size, (10, 10, 10, 0))
    picture.putalpha(alpha)
    assert _main_width(facts_of(picture)) == pytest.approx(stroke_px, abs=1.0)


@pytest.mark.parametrize("angle", [0, 27, 33, 45])
@pytest.mark.parametrize("stroke_px", [16.5, 23.6, 33.1, 47.2])
def test_wide_strokes_are_right_to_a_pixel_too(stroke_px: float, angle: int) -> None:
    y, x = (np.mgrid[:1680, :1680] + 0.5) / 4
    turn = np.radians(angle)
    across = (x - 210.3) * np.cos(turn) + (y - 210) * np.sin(turn)
    along = (y - 210) * np.cos(turn) - (x - 210.3) * np.sin(turn)
    bar = (np.abs(across) < stroke_px / 2) & (np.abs(along) < 150)
    covered = bar.reshape(420, 4, 420, 4).mean(axis=(1, 3))
    picture = Image.new("RGBA", (420, 420))
    picture.putalpha(Image.fromarray((covered * 255).round().astype(np.uint8)))
    assert _main_width(facts_of(picture)) == pytest.approx(stroke_px, abs=1.0)


@pytest.mark.parametrize("gap_px", [2, 3, 5, 8, 12])
def test_gaps_are_measured_like_strokes(gap_px: int) -> None:
    picture = Image.new("RGBA", (300, 200), (0, 0, 0, 0))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((40, 40, 139, 159), fill="black")
    draw.rectangle((140 + gap_px, 40, 250, 159), fill="black")
    facts = facts_of(picture)
    assert facts.gaps[0].width_px == pytest.approx(gap_px, abs=0.5)
    assert facts.gaps[-1].regions[0].x == pytest.approx(140 / 300, abs=0.03)


def test_solid_shapes_with_corners_and_spikes_have_no_thin_strokes() -> None:
    picture = Image.new("RGBA", (600, 600), (0, 0, 0, 0))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((50, 50, 200, 200), fill="black")
    draw.regular_polygon((400, 150, 110), 3, fill="black")
    draw.polygon([(60, 550), (160, 260), (260, 550)], fill="black")
    draw.ellipse((320, 320, 560, 560), fill="black")
    facts = facts_of(picture)
    assert [thin for thin in facts.strokes if thin.width_px < 16] == []
    assert facts.gaps == ()


@pytest.mark.parametrize("stroke_px", [3, 17, 18, 30])
def test_strokes_are_found_in_every_part_of_a_large_picture(stroke_px: int) -> None:
    picture = Image.new("RGBA", (1500, 1300), (0, 0, 0, 0))
    draw = ImageDraw.Draw(picture)
    places = [(20, 30), (1300, 60), (505, 508), (700, 1250), (1020, 640)]
    for x, y in places:
        draw.rectangle((x, y, x + 90, y + stroke_px - 1), fill="black")
    thin = facts_of(picture).strokes[-1]
    assert thin.count == len(places)
    assert thin.width_px == pytest.approx(stroke_px, abs=1)
    for x, y in places:
        assert any(
            region.x - 0.01 <= x / 1500 <= region.x + region.width + 0.01
            and region.y - 0.01 <= y / 1300 <= region.y + region.height + 0.01
            for region in thin.regions
        )


def test_strokes_along_the_pictures_edge_are_found() -> None:
    # As after a trim: the outermost strokes end where the picture does.
    picture = Image.new("RGBA", (400, 300), (0, 0, 0, 0))
    ImageDraw.Draw(picture).rectangle((0, 0, 399, 299), outline="black", width=3)
    strokes = facts_of(picture).strokes
    assert strokes[-1].width_px == pytest.approx(3, abs=0.5)
    assert strokes[-1].length_px == pytest.approx(2 * (400 + 300), rel=0.05)


def test_specks_are_the_components_that_scipy_finds() -> None:
    rng = np.random.default_rng(3)
    alpha = np.zeros((2300, 500), np.uint8)
    for _ in range(150):
        y, x, size = rng.integers(0, 2280), rng.integers(0, 480), rng.integers(1, 14)
        alpha[y : y + size, x : x + rng.integers(1, 14)] = rng.integers(SPECK_ALPHA, 256)
    alpha[1000:1100, 100:400] = 255
    labels, _ = ndimage.label(alpha >= SPECK_ALPHA, structure=np.ones((3, 3)))
    expected = sorted(
        (where[1].start, where[0].start, where[1].stop - where[1].start, where[0].stop - where[0].start)
        for where in ndimage.find_objects(labels)
        if max(where[0].stop - where[0].start, where[1].stop - where[1].start) <= 12
    )
    assert sorted(map(tuple, speck_boxes(alpha, 12).tolist())) == expected
    assert len(expected) > 50


def test_soft_areas_are_counted_and_clean_edges_are_not() -> None:
    assert facts_of(samples.logo()).soft == ()
    faded = np.zeros((400, 600, 4), np.uint8)
    faded[100:200, 100:300] = (200, 0, 0, 255)
    faded[250:350, 100:300] = (200, 0, 0, 120)
    soft = facts_of(Image.fromarray(faded)).soft
    assert soft[0].area_px == pytest.approx(100 * 200)
    region = soft[0].regions[0]
    assert region.y == pytest.approx(250 / 400, abs=0.02)
    assert region.height == pytest.approx(100 / 400, abs=0.03)


@pytest.mark.parametrize("ground", [(255, 255, 255), (12, 12, 12), (200, 40, 60)])
def test_flat_grounds_are_found_with_their_colour(ground: tuple[int, int, int]) -> None:
    facts = facts_of(samples.on_ground(samples.logo(), ground))
    assert facts.ground is not None
    assert facts.ground.hex == "#{:02x}{:02x}{:02x}".format(*ground)
    assert facts.ground.share == pytest.approx(1 - 0.64 * np.pi / 4, abs=0.02)


def test_a_ground_that_runs_from_one_colour_to_another_is_found() -> None:
    y, x = np.mgrid[:400, :600]
    run = np.stack([60 + x * 0.2, 90 + y * 0.1, 200 - x * 0.1], axis=-1).round().astype(np.uint8)
    picture = Image.fromarray(run).convert("RGBA")
    boxed = Image.alpha_composite(picture, samples.logo())
    facts = facts_of(boxed)
    assert facts.ground is not None
    assert facts.ground.gradient


@pytest.mark.parametrize("name", samples.PHOTOGRAPHS)
def test_photographs_are_rectangles_not_boxes_nor_flat_art(name: str) -> None:
    facts = facts_of(samples.photograph(name))
    assert facts.rectangle
    assert facts.style is not Style.FLAT
    assert facts.flat_colours is None
    # Space and the moon's plain do end in one dark or grey tone on all four sides.
    if name not in ("hubble_deep_field.jpg", "moon.png"):
        assert facts.ground is None


@pytest.mark.parametrize("quality", [None, 90, 75])
def test_flat_colours_are_counted_through_jpeg_noise(quality: int | None) -> None:
    flat = samples.on_ground(samples.logo(900, 600), (255, 255, 255))
    if quality is not None:
        flat = Image.open(BytesIO(samples.encoded(flat, "JPEG", quality=quality)))
    facts = facts_of(flat.convert("RGB"))
    assert facts.style is Style.FLAT
    assert facts.flat_colours == 4


def test_colours_of_thin_lines_are_counted_too() -> None:
    picture = Image.new("RGB", (900, 600), "white")
    draw = ImageDraw.Draw(picture)
    draw.ellipse((100, 100, 500, 500), fill=(20, 60, 140))
    for x in range(520, 880, 30):
        draw.line((x, 60, x, 540), fill=(200, 20, 30), width=3)
    assert facts_of(picture).flat_colours == 3


def test_main_colours_tell_area_from_edge() -> None:
    colours = {colour.hex: colour for colour in facts_of(samples.logo()).colours}
    assert colours["#143c8c"].edge_share > 0.95
    assert colours["#fadc3c"].edge_share < 0.02
    assert colours["#fadc3c"].share == pytest.approx(0.46, abs=0.02)


def test_solid_blocks_are_told_from_scattered_ink() -> None:
    block = Image.new("RGBA", (800, 800), (0, 0, 0, 0))
    ImageDraw.Draw(block).rectangle((100, 100, 499, 499), fill="black")
    levels = facts_of(block).solid
    assert levels[-1].side_px == pytest.approx(400, rel=0.3)
    assert levels[0].area_px == pytest.approx(400 * 400, rel=0.03)
    assert facts_of(samples.line_art(4)).solid == ()


def test_the_ink_box_is_tight() -> None:
    picture = Image.new("RGBA", (90, 70), (5, 5, 5, 0))
    picture.paste((5, 5, 5, 255), (13, 7, 51, 33))
    ink = facts_of(picture).ink
    assert ink is not None
    assert (ink.left_px, ink.top_px, ink.width_px, ink.height_px) == (13, 7, 38, 26)


@pytest.mark.parametrize("size", [(1, 1), (2, 900), (900, 1), (3, 3), (17, 40)])
@pytest.mark.parametrize("mode", ["RGB", "RGBA"])
def test_tiny_and_narrow_pictures_are_measured_too(size: tuple[int, int], mode: str) -> None:
    picture = Image.new(mode, size, (200, 30, 40) if mode == "RGB" else (200, 30, 40, 140))
    facts = facts_of(picture)
    assert (facts.width_px, facts.height_px) == size
    assert facts.ink is not None


def test_measuring_stops_when_asked() -> None:
    ticket = Ticket()
    ticket.stop()
    with pytest.raises(Cancelled):
        facts_of(samples.logo(), ticket)


def test_facts_survive_being_written_and_read() -> None:
    facts = facts_of(samples.with_shadow(samples.logo()))
    assert ArtworkFacts.model_validate_json(facts.model_dump_json()) == facts


def test_dust_without_end_is_counted_until_it_is_beyond_doubt(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(specks, "MOST_FOUND", 500)
    alpha = np.zeros((4000, 200), np.uint8)
    alpha[::8, ::8] = 255
    found = len(speck_boxes(alpha, 12))
    assert 500 <= found < 4000 / 8 * 200 / 8 / 4


def test_busy_pictures_have_the_components_that_scipy_finds_too() -> None:
    alpha = np.where(np.random.default_rng(5).random((500, 300)) < 0.15, 255, 0).astype(np.uint8)
    labels, _ = ndimage.label(alpha, structure=np.ones((3, 3)))
    expected = sorted(
        (where[1].start, where[0].start, where[1].stop - where[1].start, where[0].stop - where[0].start)
        for where in ndimage.find_objects(labels)
    )
    assert sorted(map(tuple, speck_boxes(alpha, 64).tolist())) == expected


def test_thin_places_without_end_are_left_at_so_many(monkeypatch: pytest.MonkeyPatch) -> None:
    many = samples.line_art(2, height=2000)
    all_px = facts_of(many).strokes[-1].length_px
    monkeypatch.setattr(strokes, "MOST_POINTS", 500)
    assert 500 <= facts_of(many).strokes[-1].length_px < all_px / 2
