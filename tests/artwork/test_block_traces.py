"""What the grid of blocks tells: the file's own steps, and which fine coefficients are missing."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from scipy.fft import dctn

from planner.artwork import block_traces
from planner.artwork.planes import planes_of
from planner.artwork.sharpness import detailed_tiles
from tests.artwork import samples
from tests.artwork.enlarged import enlarged, saved


def steps_found(picture: Image.Image) -> np.ndarray:
    tiles = detailed_tiles(planes_of(picture.copy()))
    top, left = block_traces._grid(tiles.transpose(0, 2, 1)), block_traces._grid(tiles)
    return block_traces._steps(block_traces._spectra(block_traces._blocks(tiles, top, left)))


@pytest.mark.parametrize("quality", [50, 75, 85])
def test_steps_found_in_the_pixels_are_those_of_the_file(quality: int) -> None:
    data = samples.encoded(samples.photograph("coffee.png"), "JPEG", quality=quality)
    with Image.open(BytesIO(data)) as opened:
        written = np.array(opened.quantization[0]).reshape(8, 8)
        decoded = opened.convert("RGB")
    assert np.abs(steps_found(decoded) - written).max() <= 2


def test_the_grid_is_found_where_a_jpeg_was_cropped() -> None:
    picture = saved(samples.photograph("coffee.png"), "JPEG 50")
    off_grid = picture.crop((3, 5, picture.width, picture.height))
    assert np.array_equal(steps_found(off_grid), steps_found(picture))


def test_a_picture_never_compressed_has_no_steps() -> None:
    assert (steps_found(samples.photograph("coffee.png")) == 1).all()


def test_spectra_are_those_of_scipy() -> None:
    blocks = np.random.default_rng(2).integers(0, 256, (20, 8, 8)).astype(np.float32)
    wanted = dctn(blocks - 128, axes=(1, 2), norm="ortho")
    assert np.allclose(block_traces._spectra(blocks), wanted, atol=1e-3)


def test_doubled_pixels_mirror_their_frequencies() -> None:
    photo = samples.photograph("camera.png")
    for picture, least, most in ((photo, 0.0, 0.4), (enlarged(photo, 2, "nearest"), 0.99, 1.001)):
        tiles = detailed_tiles(planes_of(picture.copy()))
        blocks = block_traces._blocks(tiles, 0, 0)
        mirrored = block_traces._mirrored(block_traces._spectra(blocks))
        assert all(least <= abs(one) <= most for one in mirrored)
