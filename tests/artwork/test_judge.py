"""Findings at print size: arithmetic, and drawn pictures of which we know what is wrong."""

import pytest
from PIL import Image

from planner.artwork.check import judge_file
from planner.artwork.judge import eye_ppi, judge
from planner.job.document import Artwork, GarmentLine, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.shop.garments import Location
from planner.shop.offers import ArtRule
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
    allowed = _findings(samples.with_shadow(samples.logo()), rule=ArtRule(soft_edges=True))
    assert FindingKind.SOFT_EDGES not in allowed


def test_a_white_ground_is_a_box_and_a_photograph_is_a_rectangle() -> None:
    boxed = _findings(samples.on_ground(samples.logo(), (255, 255, 255)))
    assert boxed[FindingKind.BOX].subject == "#ffffff"
    photo = _findings(samples.photograph("chelsea.png"))
    assert FindingKind.BOX not in photo
    assert photo[FindingKind.RECTANGLE].seriousness is Seriousness.NOTE


def test_an_empty_picture_is_a_stop() -> None:
    found = _findings(Image.new("RGBA", (200, 100), (255, 255, 255, 0)))
    assert list(found) == [FindingKind.EMPTY_ARTWORK]
    assert found[FindingKind.EMPTY_ARTWORK].seriousness is Seriousness.STOP
