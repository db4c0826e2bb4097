"""Enlarged photographs are found out; untouched ones and drawn art are not accused."""

import numpy as np
import pytest
from PIL import Image, ImageDraw

from planner.artwork.check import judge_file
from planner.artwork.facts import Sharpness, Style
from planner.artwork.palette import palette_of
from planner.artwork.planes import planes_of
from planner.artwork.sharpness import sharpness_of
from planner.job.findings import FindingKind, Seriousness
from tests.artwork import samples
from tests.artwork.enlarged import HELD_BACK, KERNELS, cropped, drawings, enlarged, reworked, saved

SURE = 0.9


def sharpness(picture: Image.Image) -> Sharpness | None:
    planes = planes_of(picture.copy())
    return sharpness_of(planes, palette_of(planes).style)


@pytest.mark.parametrize("name", HELD_BACK)
@pytest.mark.parametrize("saving", ["as it is", "JPEG 90", "mosaic"])
def test_untouched_photographs_are_not_accused(name: str, saving: str) -> None:
    told = sharpness(saved(cropped(samples.photograph(name)), saving))
    assert told is not None
    assert told.confidence <= SURE


@pytest.mark.parametrize("kernel", KERNELS)
@pytest.mark.parametrize("factor", [2.0, 3.0, 4.0])
def test_photographs_enlarged_twice_and_more_are_found_out(factor: float, kernel: str) -> None:
    for name in ("camera.png", "coffee.png"):
        told = sharpness(enlarged(samples.photograph(name), factor, kernel))
        assert told is not None
        assert told.confidence > SURE
        assert factor / 1.7 < told.scale < factor * 1.5


@pytest.mark.parametrize("saving", ["JPEG 75", "JPEG 50"])
def test_strong_compression_hides_an_enlargement_no_more(saving: str) -> None:
    for name in ("coffee.png", "camera.png"):
        for kernel in KERNELS:
            told = sharpness(saved(enlarged(samples.photograph(name), 2.0, kernel), saving))
            assert told is not None
            assert told.confidence > SURE, (name, kernel)


@pytest.mark.parametrize("name", HELD_BACK)
def test_honest_photographs_after_several_hands_are_not_accused(name: str) -> None:
    for sent in reworked((name,)):
        told = sharpness(sent.picture)
        assert told is None or told.confidence <= SURE, sent.saving


def test_soft_drawings_are_not_accused_however_they_were_saved() -> None:
    for sent in drawings(2, seed=21):
        told = sharpness(sent.picture)
        assert told is None or told.confidence <= SURE, (sent.photograph, sent.saving)


@pytest.mark.parametrize("factor", [1, 2, 4])
def test_flat_art_is_never_accused_even_when_enlarged(factor: int) -> None:
    for picture in (samples.logo(), samples.on_ground(samples.logo(), (255, 255, 255)), samples.line_art(3)):
        big = picture.resize((picture.width * factor, picture.height * factor), Image.Resampling.BICUBIC)
        assert sharpness(big) is None


def test_busy_drawings_are_not_accused() -> None:
    rng = np.random.default_rng(11)
    for _ in range(2):
        big = Image.new("RGB", (2400, 1800), tuple(rng.integers(0, 256, 3)))
        draw = ImageDraw.Draw(big)
        for _ in range(500):
            x, y, r = rng.integers(0, 2400), rng.integers(0, 1800), rng.integers(8, 120)
            draw.ellipse((x - r, y - r, x + r, y + r), fill=tuple(rng.integers(0, 256, 3)))
        told = sharpness(big.resize((800, 600), Image.Resampling.BOX))
        assert told is not None
        assert told.confidence <= SURE


def test_soft_gradients_are_not_accused() -> None:
    y, x = np.mgrid[:600, :800]
    for run in (x * 0.3, np.hypot(x - 400, y - 300) * 0.4, 120 + 100 * np.sin(x / 60) * np.cos(y / 80)):
        picture = Image.fromarray(np.stack([run, 255 - run, run / 2], axis=-1).round().astype(np.uint8))
        told = sharpness(picture)
        assert told is None or told.confidence <= SURE


def test_an_enlarged_photograph_stays_a_photograph() -> None:
    for name in ("coffee.png", "rocket.jpg", "hubble_deep_field.jpg"):
        planes = planes_of(enlarged(samples.photograph(name), 4, "bicubic"))
        assert palette_of(planes).style is Style.PHOTOGRAPH


def test_the_finding_says_as_good_as_how_many_ppi_and_never_stops() -> None:
    big = enlarged(samples.photograph("coffee.png"), 3, "Lanczos")
    at_300_ppi_mm = big.width / 300 * 25.4
    found = {f.kind: f for f in judge_file(samples.encoded(big), "a.png", at_300_ppi_mm).findings}
    assert FindingKind.TOO_COARSE not in found
    finding = found[FindingKind.LOOKS_ENLARGED]
    assert finding.seriousness is Seriousness.LOOK
    assert finding.found == pytest.approx(100, rel=0.35)
    assert finding.confidence is not None
    assert finding.confidence > SURE
    # Printed so small that even the detail it has is fine enough, there is nothing to say.
    small = judge_file(samples.encoded(big), "a.png", at_300_ppi_mm / 6).findings
    assert FindingKind.LOOKS_ENLARGED not in {f.kind for f in small}
