"""The outline never cuts into the ink, and saves room where there is room to save."""

from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image, ImageDraw
from shapely import Polygon, contains_xy

from planner.artwork.outline import TOLERANCE, Corners, at_size, outline_of
from planner.artwork.planes import FAINT, planes_of

INK = (200, 40, 30, 255)


def outlined(
    draw: Callable[[ImageDraw.ImageDraw], None], size: tuple[int, int] = (1200, 900)
) -> tuple[Image.Image, Corners]:
    picture = Image.new("RGBA", size, (0, 0, 0, 0))
    draw(ImageDraw.Draw(picture))
    return picture, outline_of(planes_of(picture))


def ring(draw: ImageDraw.ImageDraw) -> None:
    draw.ellipse([10, 10, 1190, 890], outline=INK, width=12)


def star(draw: ImageDraw.ImageDraw) -> None:
    angles = np.linspace(0, 2 * np.pi, 11)[:-1]
    reach = np.where(np.arange(10) % 2, 160, 440)
    draw.polygon(
        [(600 + r * np.sin(a), 450 - r * np.cos(a)) for r, a in zip(reach, angles, strict=True)], fill=INK
    )


def words_apart(draw: ImageDraw.ImageDraw) -> None:
    for left in range(40, 1100, 130):
        draw.rectangle([left, 60 + left // 3, left + 90, 180 + left // 3], fill=INK)


def hairline(draw: ImageDraw.ImageDraw) -> None:
    draw.line([(20, 880), (1180, 20)], fill=INK, width=2)
    draw.line([(600, 450), (1180, 880)], fill=INK, width=2)


def two_far_apart(draw: ImageDraw.ImageDraw) -> None:
    draw.ellipse([0, 0, 120, 120], fill=INK)
    draw.ellipse([1080, 780, 1199, 899], fill=INK)


SHAPES = [ring, star, words_apart, hairline, two_far_apart]


@pytest.mark.parametrize("draw", SHAPES)
def test_no_ink_lies_outside_the_outline(draw: Callable[[ImageDraw.ImageDraw], None]) -> None:
    picture, corners = outlined(draw)
    polygon = Polygon([(x * picture.width, y * picture.height) for x, y in corners])
    assert polygon.is_valid
    rows, columns = np.nonzero(np.asarray(picture.getchannel("A")) >= FAINT)
    # A pixel's four corners, not its middle: that is what the scissors meet.
    for dx, dy in ((0, 0), (1, 0), (0, 1), (1, 1)):
        assert contains_xy(polygon.buffer(1e-6), columns + dx, rows + dy).all()


def test_a_star_takes_less_room_than_its_box_and_little_more_than_itself() -> None:
    picture, corners = outlined(star)
    polygon = Polygon([(x * picture.width, y * picture.height) for x, y in corners])
    ink = np.count_nonzero(np.asarray(picture.getchannel("A")))
    around = Polygon(polygon.exterior).length * TOLERANCE * max(picture.size) * 1.6
    assert ink <= polygon.area <= ink + around
    assert len(corners) <= 40


@pytest.mark.parametrize("size", [(40, 30), (7, 5), (1, 1)])
def test_small_and_solid_pictures_are_cut_by_their_box(size: tuple[int, int]) -> None:
    assert outlined(lambda draw: draw.rectangle([0, 0, *size], fill=INK), size)[1] == ()


def test_an_empty_picture_has_no_outline() -> None:
    assert outlined(lambda draw: None)[1] == ()


def test_an_outline_follows_the_print_size() -> None:
    assert at_size(((0.0, 0.5), (1.0, 0.25)), 100, 80) == ((0.0, 40.0), (100.0, 20.0))
