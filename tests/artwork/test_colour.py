"""Colours: checked against scikit-image and the published pairs."""

import numpy as np
import pytest
from skimage.color import deltaE_ciede2000, rgb2lab

from planner.artwork.colour import ciede2000, difference, hex_of_rgb, lab_of, rgb_of_hex

# Sharma, Wu & Dalal 2005, Table 1: pairs chosen to trip hue and mean-hue mistakes.
PUBLISHED = (
    ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
    ((50.0, 3.1571, -77.2803), (50.0, 0.0, -82.7485), 2.8615),
    ((50.0, 2.8361, -74.0200), (50.0, 0.0, -82.7485), 3.4412),
    ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, -1.1848, -84.8006), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, -0.9009, -85.5211), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, 0.0, 0.0), (50.0, -1.0, 2.0), 2.3669),
    ((50.0, -1.0, 2.0), (50.0, 0.0, 0.0), 2.3669),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0009), 7.1792),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0010), 7.1792),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0011), 7.2195),
    ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0012), 7.2195),
    ((50.0, -0.0010, 2.4900), (50.0, 0.0009, -2.4900), 4.8045),
    ((50.0, -0.0010, 2.4900), (50.0, 0.0011, -2.4900), 4.7461),
    ((50.0, 2.5, 0.0), (50.0, 0.0, -2.5), 4.3065),
    ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
    ((50.0, 2.5, 0.0), (61.0, -5.0, 29.0), 22.8977),
    ((50.0, 2.5, 0.0), (56.0, -27.0, -3.0), 31.9030),
    ((50.0, 2.5, 0.0), (58.0, 24.0, 15.0), 19.4535),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
)


@pytest.mark.parametrize(("first", "second", "expected"), PUBLISHED)
def test_published_pairs_come_out_to_the_fourth_decimal(
    first: tuple[float, ...], second: tuple[float, ...], expected: float
) -> None:
    assert round(float(ciede2000(first, second)), 4) == expected


def test_lab_is_that_of_scikit_image_for_colours_all_over_the_cube() -> None:
    rgb = np.random.default_rng(5).integers(0, 256, (4000, 3), dtype=np.uint8)
    assert np.abs(lab_of(rgb) - rgb2lab(rgb)).max() < 0.02


def test_difference_is_that_of_scikit_image_for_random_pairs() -> None:
    rng = np.random.default_rng(6)
    first = rng.uniform((0, -100, -100), (100, 100, 100), (5000, 3))
    second = first + rng.normal(0, 15, (5000, 3))
    assert np.abs(ciede2000(first, second) - deltaE_ciede2000(first, second)).max() < 1e-9


def test_black_and_white_are_a_hundred_apart_and_a_colour_is_none_from_itself() -> None:
    assert difference("#000000", "#ffffff") == pytest.approx(100, abs=0.01)
    assert difference("#12ab9f", "#12ab9f") == 0


def test_hex_is_read_and_written_back() -> None:
    assert rgb_of_hex("#0a1bff") == (10, 27, 255)
    assert hex_of_rgb([10, 27, 255]) == "#0a1bff"
