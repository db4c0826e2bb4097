"""A printer's profile: which colours it cannot hold, against the matrices that the profile was made of.

The printer invented here mixes light from three primaries drawn towards white, so that what comes of a
colour is arithmetic: through the matrix, what is out of reach cut off, and back. Lab is scikit-image's.
"""

from collections.abc import Iterator

import numpy as np
import pytest
from PIL import Image, ImageDraw
from skimage import color

from planner.artwork.check import judge_file
from planner.artwork.guarded import Guarded
from planner.artwork.print_profile import MOST_BYTES, read_print_profile
from planner.artwork.print_shift import MOST_SHIFT_DE, shifts_de
from planner.artwork.source import UnreadableArtwork
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.shop.offers import ArtRule
from tests.artwork import samples
from tests.artwork.test_cmyk import a_cmyk_profile
from tests.artwork.test_profiles import GAMMA, SRGB_TO_D50, a_matrix_profile, a_wide_profile

WHITE_D50 = SRGB_TO_D50.sum(axis=1)
DULL = 0.7 * SRGB_TO_D50 + 0.1 * WHITE_D50[:, None]
"""Each primary keeps 70 % of itself; white stays white."""


def a_dull_printer() -> bytes:
    return a_matrix_profile(DULL, b"prtr")


def _expected_de(rgb: np.ndarray) -> np.ndarray:
    level = rgb / 255.0
    linear = np.where(level > 0.04045, ((level + 0.055) / 1.055) ** 2.4, level / 12.92)
    wanted = linear @ SRGB_TO_D50.T
    inks = np.clip(wanted @ np.linalg.inv(DULL).T, 0, 1)
    inks = (np.round(inks ** (1 / GAMMA) * 255) / 255) ** GAMMA
    got = inks @ DULL.T
    lab = [color.xyz2lab(xyz, illuminant="D50") for xyz in (wanted, got)]
    return np.asarray(color.deltaE_ciede2000(*lab))


def test_shifts_are_those_of_the_matrices() -> None:
    profile = read_print_profile(a_dull_printer(), "dull.icc")
    rgb = np.random.default_rng(3).integers(0, 256, (4000, 3)).astype(np.uint8)
    seen, expected = shifts_de(rgb, profile), _expected_de(rgb)
    assert (seen > MOST_SHIFT_DE).mean() > 0.1
    assert (seen <= MOST_SHIFT_DE).mean() > 0.1
    assert np.median(np.abs(seen - expected)) < 0.5
    assert np.quantile(np.abs(seen - expected), 0.99) < 2.5
    assert ((seen > MOST_SHIFT_DE) == (expected > MOST_SHIFT_DE)).mean() > 0.97


def _drawn() -> Image.Image:
    """The left half strong blue, a quarter grey; the rest is clear."""
    picture = Image.new("RGBA", (400, 200))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, 199, 199), fill=(0, 0, 255, 255))
    draw.rectangle((200, 0, 299, 199), fill=(120, 120, 120, 255))
    return picture


def _found(rule: ArtRule, picture: Image.Image) -> Finding | None:
    checked = judge_file(samples.encoded(picture), "a.png", 200, "#ffffff", rule=rule)
    kind = FindingKind.COLOURS_SHIFT
    return next((finding for finding in checked.findings if finding.kind is kind), None)


def test_what_the_print_cannot_hold_is_told_with_share_area_and_place() -> None:
    found = _found(ArtRule(profile=read_print_profile(a_dull_printer(), "dull.icc")), _drawn())
    assert found is not None
    assert found.seriousness is Seriousness.LOOK
    assert found.found == pytest.approx(2 / 3, abs=0.02)
    assert found.area_mm2 == pytest.approx(100 * 100, rel=0.03)
    assert found.subject == "#0000ff"
    (region,) = found.regions
    assert (region.x, region.y) == (0, 0)
    assert region.width == pytest.approx(0.5, abs=0.02)
    assert region.height == 1
    said = wording.finding(found, LengthUnit.MILLIMETRE)
    assert "67 %" in said
    assert "mm²) is in colours that this offer cannot print (blue)" in said


def test_without_a_profile_or_within_its_reach_nothing_is_told() -> None:
    profile = read_print_profile(a_dull_printer(), "dull.icc")
    assert _found(ArtRule(), _drawn()) is None
    mild = Image.new("RGBA", (300, 200), (130, 120, 110, 255))
    assert _found(ArtRule(profile=profile), mild) is None
    black_on_white = Image.new("RGBA", (300, 200), (255, 255, 255, 255))
    black_on_white.paste((0, 0, 0, 255), (50, 50, 250, 150))
    assert _found(ArtRule(profile=profile), black_on_white) is None


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"no profile at all", "is no ICC profile"),
        (a_wide_profile(), "no profile of a printer"),
        (a_cmyk_profile(), "lead from colours to inks and back"),
        (a_dull_printer()[:300], "ICC profile|tells too little"),
        (bytes(MOST_BYTES + 1), "larger than any"),
    ],
    ids=["other file", "of a screen", "one way", "cut short", "too large"],
)
def test_what_is_no_output_profile_is_refused_with_a_sentence(data: bytes, said: str) -> None:
    with pytest.raises(UnreadableArtwork, match=said):
        read_print_profile(data, "odd.icc")


@pytest.fixture
def guarded() -> Iterator[Guarded]:
    made = Guarded()
    yield made
    made.close()


def test_the_worker_reads_the_same_of_a_profile(guarded: Guarded) -> None:
    data = a_dull_printer()
    assert guarded.print_profile(data, "dull.icc") == read_print_profile(data, "dull.icc")
    with pytest.raises(UnreadableArtwork, match=r"odd\.icc"):
        guarded.print_profile(b"odd", "odd.icc")
