"""Findings at print size: arithmetic, and drawn pictures of which we know what is wrong."""

import pytest
from PIL import Image

from planner.artwork.check import judge_file
from planner.artwork.colour import difference
from planner.artwork.facts import ArtworkFacts, InkBox, MainColour, OutOfSrgb, SolidLevel, Specks, Style, Thin
from planner.artwork.judge import eye_ppi, judge, viewing_mm
from planner.artwork.source import SourceNote
from planner.artwork.specks import MOST_FOUND
from planner.job.document import Artwork, GarmentLine, GroupWidth, Print
from planner.job.findings import Finding, FindingKind, Region, Seriousness
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.shop.cloth import Swatch
from planner.shop.garments import Location, SizeGroup
from planner.shop.offers import ArtRule
from planner.shop.swatches import USUAL
from tests.artwork import samples


def _findings(
    picture: Image.Image, width_mm: float = 100, cloth: str = "#202020", **how: object
) -> dict[FindingKind, Finding]:
    checked = judge_file(samples.encoded(picture), "sample.png", width_mm, cloth, **how)  # type: ignore[arg-type]
    return {finding.kind: finding for finding in checked.findings}


def _coarse(width_px: int, width_mm: float, location: Location = Location.FULL_FRONT) -> Finding | None:
    artwork = Artwork(key="a", name="a.png", sha256="0" * 64, width_px=width_px, height_px=width_px // 2)
    print_ = Print(key="p", artwork="a", line="l", width_mm=width_mm, location=location)
    found = judge(None, artwork, print_, GarmentLine(key="l"), ArtRule())
    return found[0] if found else None


def test_one_arc_minute_at_600_mm_is_146_ppi() -> None:
    # ISO 8596: visual acuity 1.0 resolves one minute of arc.
    assert round(eye_ppi(600)) == 146
    assert round(eye_ppi(300)) == 291
    assert viewing_mm(Location.FULL_BACK) == 600
    assert viewing_mm(Location.OTHER) == 300


def test_11_in_at_300_ppi_needs_3300_px() -> None:
    # Common practice; arithmetic.
    assert _coarse(3300, 11 * 25.4) is None
    short = _coarse(3000, 11 * 25.4)
    assert short is not None
    assert short.found == pytest.approx(272.7)
    assert short.needed == 300
    assert short.best_width_mm == pytest.approx(10 * 25.4)


@pytest.mark.parametrize(
    ("ppi", "location", "seriousness"),
    [
        (299, Location.FULL_FRONT, None),
        (200, Location.FULL_FRONT, Seriousness.LOOK),
        (100, Location.FULL_FRONT, Seriousness.STOP),
        (150, Location.FULL_BACK, Seriousness.LOOK),
        (110, Location.FULL_BACK, Seriousness.LOOK),
        (90, Location.FULL_BACK, Seriousness.STOP),
        (250, Location.LEFT_CHEST, Seriousness.LOOK),
        (150, Location.LEFT_CHEST, Seriousness.STOP),
    ],
)
def test_coarse_is_judged_by_how_near_the_print_is_looked_at(
    ppi: int, location: Location, seriousness: Seriousness | None
) -> None:
    finding = _coarse(ppi * 10, 254, location)
    assert (finding.seriousness if finding else None) is seriousness


def test_vector_artwork_is_never_coarse() -> None:
    artwork = Artwork(key="a", name="a.pdf", sha256="0" * 64, width_px=90, height_px=90, vector=True)
    print_ = Print(key="p", artwork="a", line="l", width_mm=280)
    assert judge(None, artwork, print_, GarmentLine(key="l"), ArtRule()) == ()


def test_a_clean_badge_has_no_soft_edges_and_no_box() -> None:
    found = _findings(samples.logo())
    assert FindingKind.SOFT_EDGES not in found
    assert FindingKind.BOX not in found
    assert FindingKind.RECTANGLE not in found


def test_a_soft_shadow_is_found_where_it_is() -> None:
    found = _findings(samples.with_shadow(samples.logo()))
    soft = found[FindingKind.SOFT_EDGES]
    assert soft.found is not None
    assert 0.02 < soft.found < 0.4
    assert soft.regions
    assert soft.area_mm2 is not None
    assert soft.on_dark
    assert not _findings(samples.with_shadow(samples.logo()), cloth="#efe6d2")[FindingKind.SOFT_EDGES].on_dark
    allowed = _findings(samples.with_shadow(samples.logo()), rule=ArtRule(soft_edges=True))
    assert FindingKind.SOFT_EDGES not in allowed


def test_a_white_ground_is_a_box_and_a_photograph_is_a_rectangle() -> None:
    boxed = _findings(samples.on_ground(samples.logo(), (255, 255, 255)))
    assert boxed[FindingKind.BOX].subject == "#ffffff"
    assert FindingKind.BOX not in _findings(Image.new("RGB", (300, 200), (20, 60, 120)))
    photo = _findings(samples.photograph("chelsea.png"))
    assert FindingKind.BOX not in photo
    assert photo[FindingKind.RECTANGLE].seriousness is Seriousness.NOTE


def test_cloth_is_suggested_on_which_all_of_the_artwork_shows() -> None:
    # All usual colours by CIEDE2000; the published formula is checked in test_colour.
    dark = Image.new("RGBA", (300, 200), (30, 30, 32, 255))
    found = _findings(dark, cloth="#17171a")[FindingKind.LOW_CONTRAST]
    assert found.difference_de is not None
    assert found.difference_de < found.needed == 10
    swatch = next(swatch for swatch in USUAL if swatch.name == found.detail)
    assert difference("#1e1e20", swatch.hex) >= 20
    others = [each for each in USUAL if difference("#1e1e20", each.hex) >= 20]
    assert min(others, key=lambda each: difference(each.hex, "#17171a")) == swatch


def test_drawn_hairlines_are_too_thin_until_they_are_printed_large() -> None:
    # Bars of 3 px on 400 px: 0.3 mm at 40 mm, 0.75 mm at 100 mm.
    small = _findings(samples.line_art(3), 40, "#ffffff")[FindingKind.THIN_STROKES]
    assert small.found == pytest.approx(0.3, abs=0.05)
    assert FindingKind.THIN_STROKES not in _findings(samples.line_art(3), 100, "#ffffff")


def test_an_empty_picture_is_a_stop() -> None:
    found = _findings(Image.new("RGBA", (200, 100), (255, 255, 255, 0)))
    assert list(found) == [FindingKind.EMPTY_ARTWORK]
    assert found[FindingKind.EMPTY_ARTWORK].seriousness is Seriousness.STOP


def _facts(**more: object) -> ArtworkFacts:
    """A picture of 1000 × 500 px, full of ink, about which nothing else is known."""
    known: dict[str, object] = {
        "sha256": "0" * 64,
        "width_px": 1000,
        "height_px": 500,
        "ink": InkBox(left_px=0, top_px=0, width_px=1000, height_px=500),
        "ink_px": 400_000,
        "has_alpha": True,
        "rectangle": False,
    }
    return ArtworkFacts.model_validate({**known, **more})


def _judged(
    facts: ArtworkFacts,
    width_mm: float = 84.0,
    *,
    cloth: str = "#ffffff",
    rule: ArtRule | None = None,
    groups: tuple[GroupWidth, ...] = (),
) -> dict[FindingKind, Finding]:
    artwork = Artwork(key="a", name="a.png", sha256="0" * 64, width_px=1000, height_px=500)
    print_ = Print(key="p", artwork="a", line="l", width_mm=width_mm, group_widths=groups)
    line = GarmentLine(key="l", colour=Swatch(name="cloth", hex=cloth))
    found = judge(facts, artwork, print_, line, rule or ArtRule())
    return {finding.kind: finding for finding in found}


HERE = (Region(x=0.1, y=0.2, width=0.3, height=0.1),)
STROKES = (
    Thin(width_px=3, length_px=2, count=1),
    Thin(width_px=4, length_px=300, count=2),
    Thin(width_px=5, length_px=500, count=3, regions=HERE),
    Thin(width_px=9, length_px=900, count=4),
)


def test_thin_strokes_are_judged_at_print_size() -> None:
    # 0.1 mm to the pixel: 0.5 mm are 5 px. Half a pixel is the measure's own error, so 4.5 px and more pass.
    finding = _judged(_facts(strokes=STROKES), 100)[FindingKind.THIN_STROKES]
    assert finding.found == pytest.approx(0.4)
    assert finding.needed == 0.5
    assert finding.seriousness is Seriousness.LOOK
    # At 125 mm the 4 px are half a millimetre.
    assert finding.best_width_mm == pytest.approx(125)
    assert FindingKind.THIN_STROKES not in _judged(_facts(strokes=STROKES), 150)
    smaller = _judged(_facts(strokes=STROKES), 80)[FindingKind.THIN_STROKES]
    assert smaller.regions == HERE
    finer = ArtRule(least_stroke_mm=0.2)
    assert FindingKind.THIN_STROKES not in _judged(_facts(strokes=STROKES), 100, rule=finer)


def test_strokes_far_too_thin_are_a_stop_but_gaps_only_a_look() -> None:
    found = _judged(_facts(strokes=STROKES, gaps=STROKES), 40)
    assert found[FindingKind.THIN_STROKES].seriousness is Seriousness.STOP
    assert found[FindingKind.THIN_GAPS].seriousness is Seriousness.LOOK


def test_the_narrowest_group_counts_for_detail_and_the_widest_for_coarseness() -> None:
    groups = (GroupWidth(group=SizeGroup.YOUTH, width_mm=80), GroupWidth(group=SizeGroup.ADULT, width_mm=254))
    found = _judged(_facts(strokes=STROKES), 150, groups=groups)
    assert found[FindingKind.THIN_STROKES].found == pytest.approx(0.32)
    assert found[FindingKind.TOO_COARSE].found == pytest.approx(100)


def test_specks_under_the_least_size_are_counted() -> None:
    specks = (
        Specks(across_px=2, count=7),
        Specks(across_px=4, count=9, regions=HERE),
        Specks(across_px=6, count=12),
    )
    found = _judged(_facts(specks=specks), 100)[FindingKind.SPECKS]
    assert (found.found, found.regions) == (9, HERE)
    assert FindingKind.SPECKS not in _judged(_facts(specks=specks), 100, rule=ArtRule(least_speck_mm=0.1))


def test_specks_beyond_counting_are_told_as_so_many_at_least() -> None:
    some = _judged(_facts(specks=(Specks(across_px=4, count=9),)), 100)[FindingKind.SPECKS]
    assert "at least" not in wording.finding(some, LengthUnit.MILLIMETRE)
    dust = _judged(_facts(specks=(Specks(across_px=4, count=MOST_FOUND),)), 100)[FindingKind.SPECKS]
    assert "at least" in wording.finding(dust, LengthUnit.MILLIMETRE)


@pytest.mark.parametrize(
    ("cloth", "share", "edge_share", "seriousness"),
    [
        ("#101010", 0.3, 0.4, Seriousness.LOOK),
        ("#101010", 0.9, 0.8, Seriousness.STOP),
        ("#101010", 0.3, 0.01, Seriousness.NOTE),
        ("#101010", 0.1, 0.01, None),
        ("#ffffff", 0.9, 0.8, None),
    ],
)
def test_a_colour_like_the_cloth_is_judged_by_area_and_by_edge(
    cloth: str, share: float, edge_share: float, seriousness: Seriousness | None
) -> None:
    # CIEDE2000 of #141414 and #101010 is about 1, of #141414 and white about 94.
    colours = (
        MainColour(hex="#141414", share=share, edge_share=edge_share, regions=HERE),
        MainColour(hex="#d02030", share=1 - share, edge_share=1 - edge_share),
    )
    finding = _judged(_facts(colours=colours), cloth=cloth).get(FindingKind.LOW_CONTRAST)
    assert (finding.seriousness if finding else None) is seriousness
    if finding:
        assert finding.line == "l"
        assert finding.subject == "#141414"
        assert finding.found == pytest.approx(share)
        assert finding.regions == HERE


def test_empty_margins_are_told_as_a_share_of_the_paid_area() -> None:
    ink = InkBox(left_px=100, top_px=50, width_px=800, height_px=400)
    finding = _judged(_facts(ink=ink), 100)[FindingKind.EMPTY_MARGIN]
    assert finding.found == pytest.approx(0.36)
    assert finding.area_mm2 == pytest.approx(0.36 * 100 * 50)
    assert finding.seriousness is Seriousness.LOOK
    assert len(finding.regions) == 4
    thin = InkBox(left_px=5, top_px=5, width_px=990, height_px=490)
    assert FindingKind.EMPTY_MARGIN not in _judged(_facts(ink=thin), 100)


def test_large_solid_areas_are_heavy_and_small_ones_are_not() -> None:
    solid = (SolidLevel(side_px=100, area_px=400_000), SolidLevel(side_px=200, area_px=390_000, regions=HERE))
    # 300 mm wide: 0.09 mm² to the pixel, blocks of 40 mm are 133 px.
    finding = _judged(_facts(solid=solid), 300)[FindingKind.HEAVY_AREA]
    assert finding.area_mm2 == pytest.approx(390_000 * 0.09)
    assert finding.found == pytest.approx(390 / 400)
    assert finding.seriousness is Seriousness.NOTE
    assert FindingKind.HEAVY_AREA not in _judged(_facts(solid=solid), 150)
    assert _judged(_facts(solid=solid), 400)[FindingKind.HEAVY_AREA].seriousness is Seriousness.LOOK


def test_offers_by_colour_stop_what_has_too_many_and_photographs() -> None:
    three = ArtRule(most_colours=3)
    assert FindingKind.TOO_MANY_COLOURS not in _judged(_facts(flat_colours=3), rule=three)
    four = _judged(_facts(flat_colours=4), rule=three)[FindingKind.TOO_MANY_COLOURS]
    assert (four.found, four.needed, four.seriousness) == (4, 3, Seriousness.STOP)
    photo = _judged(_facts(style=Style.PHOTOGRAPH), rule=three)[FindingKind.TOO_MANY_COLOURS]
    assert (photo.found, photo.subject) == (None, "photograph")
    assert FindingKind.TOO_MANY_COLOURS not in _judged(_facts(flat_colours=40))


def test_the_file_s_own_history_is_told() -> None:
    guessed = _judged(_facts(notes=(SourceNote.FROM_CMYK, SourceNote.CMYK_WITHOUT_PROFILE)))
    assert guessed[FindingKind.CONVERTED].seriousness is Seriousness.LOOK
    known = _judged(_facts(notes=(SourceNote.FROM_PROFILE, SourceNote.OUT_OF_SRGB)))
    assert known[FindingKind.CONVERTED].seriousness is Seriousness.NOTE
    assert known[FindingKind.OUT_OF_GAMUT].seriousness is Seriousness.NOTE
    beyond = OutOfSrgb(share=0.25, regions=HERE)
    told = _judged(_facts(notes=(SourceNote.OUT_OF_SRGB,), out_of_srgb=beyond))[FindingKind.OUT_OF_GAMUT]
    assert (told.found, told.regions) == (0.25, HERE)
    assert wording.finding(told, LengthUnit.MILLIMETRE).startswith(
        "25 % of the artwork is in colours outside"
    )
    assert FindingKind.CONVERTED not in _judged(_facts())


def test_a_sound_print_has_no_findings() -> None:
    assert _judged(_facts()) == {}
