"""A transfer printer's ICC profile, read once for what it does to colours."""

from base64 import b64encode
from io import BytesIO
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from planner.artwork.gamut import lab_values
from planner.artwork.source import UnreadableArtwork
from planner.shop.offers import PROFILE_STEPS, PrintProfile

MOST_BYTES = 16_000_000
"""Profiles of presses with many inks have some 3 megabytes."""
_OUTPUT = "prtr"
_MODES = {"CMYK": "CMYK", "RGB ": "RGB", "GRAY": "L"}


def read_print_profile(data: bytes, name: str) -> PrintProfile:
    """How far colours move that are sent to the printer and measured on its print.

    Relative colorimetric with black point compensation both ways, as is common practice: that the darkest
    film is not black counts for nothing, that a colour is out of reach does.

    Raises:
        UnreadableArtwork: no profile, of no printer, or one that tells too little; a sentence.
    """
    if len(data) > MOST_BYTES:
        raise UnreadableArtwork(
            f"“{name}” is larger than any printer’s profile. Choose the .icc file itself."
        )
    try:
        printer = ImageCms.ImageCmsProfile(BytesIO(data))
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError) as error:
        raise UnreadableArtwork(
            f"“{name}” is no ICC profile. Ask the transfer printer for its profile, an .icc or .icm file."
        ) from error
    mode = _MODES.get(printer.profile.xcolor_space)
    if printer.profile.device_class != _OUTPUT or mode is None:
        raise UnreadableArtwork(
            f"“{name}” is no profile of a printer that takes grey, RGB or CMYK. Ask the transfer printer for "
            "its output profile."
        )
    try:
        moved = _moved(printer, mode)
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError) as error:
        raise UnreadableArtwork(
            f"“{name}” tells too little: it must lead from colours to inks and back. Ask the transfer "
            "printer for its full output profile."
        ) from error
    shifts = np.clip(np.round(moved), -128, 127).astype(np.int8)
    return PrintProfile(name=name[:255], shifts=b64encode(shifts.tobytes()).decode())


def _moved(printer: ImageCms.ImageCmsProfile, mode: str) -> NDArray[np.float64]:
    levels = np.linspace(0, 255, PROFILE_STEPS).round().astype(np.uint8)
    grid = np.stack(np.meshgrid(levels, levels, levels, indexing="ij"), axis=-1).reshape(1, -1, 3)
    srgb, lab = ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB")
    asked = Image.fromarray(grid)
    wanted = _through(asked, srgb, lab, "LAB")
    got = _through(_through(asked, srgb, printer, mode), printer, lab, "LAB")
    return np.asarray(lab_values(got) - lab_values(wanted), np.float64)


def _through(
    picture: Image.Image,
    start: Any,
    end: Any,
    mode: str,
) -> Image.Image:
    transform = ImageCms.buildTransform(
        start,
        end,
        picture.mode,
        mode,
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )
    made = ImageCms.applyTransform(picture, transform)
    assert made is not None
    return made
