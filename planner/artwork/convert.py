"""Any picture that Pillow opens as upright 8-bit sRGB, alpha kept as it is."""

from functools import lru_cache
from io import BytesIO

import numpy as np
from PIL import Image, ImageCms

from planner.artwork.gamut import BeyondSrgb, beyond_srgb
from planner.artwork.source import SourceNote

_ORIENTATION = 0x0112
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_SAME_AS_SRGB = 3
"""Levels of 255 between a profile and sRGB that count as none; copies of sRGB differ by 1 or 2."""

_CUT_OFF_SHARE = 0.01


def orientation_of(picture: Image.Image) -> int:
    """The orientation tag (EXIF 2.32, 4.6.4 A: 1 to 8); 1 where there is none that makes sense.

    Pillow turns TIFF files itself while it decodes them, and the HEIC reader HEIC files.
    """
    if picture.format in ("TIFF", "HEIF"):
        return 1
    try:
        tag = picture.getexif().get(_ORIENTATION, 1)
    except Exception:  # A damaged tag block says nothing about the pixels.
        return 1
    return tag if tag in _TURNS else 1


def upright_srgb(picture: Image.Image) -> tuple[Image.Image, frozenset[SourceNote]]:
    """The picture as upright 8-bit sRGB, "RGB" where it is opaque for certain, else "RGBA".

    Decodes `picture` and may reuse its memory: do not use it afterwards.
    """
    notes: set[SourceNote] = set()
    plain, profile, orientation = _own_colours(picture, notes)
    converted = _to_srgb(plain, profile, notes)
    if orientation != 1:
        notes.add(SourceNote.TURNED)
        converted = converted.transpose(_TURNS[orientation])
    return converted, frozenset(notes)


def cut_off(picture: Image.Image) -> BeyondSrgb | None:
    """What `upright_srgb` cuts off of the picture's colours, upright; None if nothing.

    Decodes `picture` and may reuse its memory: do not use it afterwards.
    """
    plain, profile, orientation = _own_colours(picture, set())
    beyond = beyond_srgb(plain, profile) if profile is not None else None
    if beyond is None or orientation == 1:
        return beyond
    turned = Image.fromarray(beyond.mask).transpose(_TURNS[orientation])
    return BeyondSrgb(beyond.share, np.asarray(turned))


def _own_colours(picture: Image.Image, notes: set[SourceNote]) -> tuple[Image.Image, bytes | None, int]:
    """The picture decoded with 8 bits a channel in colours of its own, their profile, and its orientation."""
    if any(";16" in str(tile[3]) for tile in getattr(picture, "tile", ())):
        notes.add(SourceNote.DEPTH_REDUCED)
    scale_key(picture)
    # Of a PNG this decodes already: its tags may stand behind the pixels.
    orientation = orientation_of(picture)
    profile = picture.info.get("icc_profile")
    picture.load()
    plain = _eight_bits(_adobe_put_right(picture), notes)
    return plain, profile if isinstance(profile, bytes) else None, orientation


def scale_key(picture: Image.Image) -> None:
    """Bring a PNG's one transparent colour to the depth that Pillow decodes to; call before decoding.

    PNG states it in samples of the file (W3C PNG, 11.3.2.1), Pillow compares it with rescaled ones.
    """
    key = picture.info.get("transparency")
    tiles = getattr(picture, "tile", None)
    if picture.format != "PNG" or key is None or not tiles:
        return
    raw_mode = str(tiles[0][3])
    if isinstance(key, int) and raw_mode in ("L;2", "L;4"):
        picture.info["transparency"] = key * 255 // ((1 << int(raw_mode[-1])) - 1)
    elif isinstance(key, tuple) and raw_mode.startswith("RGB;16"):
        picture.info["transparency"] = tuple(level >> 8 for level in key)


def _adobe_put_right(picture: Image.Image) -> Image.Image:
    """CMYK JPEGs carry ink upside down if an Adobe marker says so; Pillow takes that for granted."""
    if picture.mode == "CMYK" and picture.format == "JPEG" and "adobe" not in picture.info:
        from PIL import ImageChops

        return ImageChops.invert(picture)
    return picture


def _eight_bits(picture: Image.Image, notes: set[SourceNote]) -> Image.Image:
    """The picture with 8 bits a channel and transparency as a channel, in a mode of its own colours."""
    mode = picture.mode
    if mode.startswith("I") or mode == "F":
        notes.add(SourceNote.DEPTH_REDUCED)
        return _grey_of_depth(picture)
    if "transparency" in picture.info and mode in ("1", "L", "P", "RGB"):
        return picture.convert("RGBA")
    if mode == "P":
        return picture.convert("RGBA" if picture.palette and picture.palette.mode == "RGBA" else "RGB")
    if mode in ("1", "HSV", "YCbCr", "RGBX"):
        return picture.convert("L" if mode == "1" else "RGB")
    if mode in ("PA", "La", "RGBa"):
        return picture.convert("LA" if mode == "La" else "RGBA")
    return picture


def _grey_of_depth(picture: Image.Image) -> Image.Image:
    values = np.asarray(picture)
    if picture.mode == "F":
        top = float(values.max(initial=0.0))
        values = np.nan_to_num(values) * (255.0 if top <= 1 else 255.0 / max(top, 255.0))
        grey = np.clip(values + 0.5, 0, 255).astype(np.uint8)
    else:
        wide = np.clip(values, 0, 65535).astype(np.uint32)
        grey = ((wide * 255 + 32767) // 65535).astype(np.uint8)
    eight = Image.fromarray(grey)
    key = picture.info.get("transparency")
    if isinstance(key, int):
        eight.putalpha(Image.fromarray(np.where(values == key, 0, 255).astype(np.uint8)))
    return eight


def _to_srgb(picture: Image.Image, profile: bytes | None, notes: set[SourceNote]) -> Image.Image:
    if picture.mode == "CMYK":
        notes.add(SourceNote.FROM_CMYK)
        if profile is None:
            notes.add(SourceNote.CMYK_WITHOUT_PROFILE)
    if picture.mode == "LAB":
        notes.add(SourceNote.FROM_LAB)
        return _applied(picture, lab_to_srgb())
    if profile is not None:
        transform = _transform(profile, picture.mode)
        if transform == "same":
            pass
        elif isinstance(transform, ImageCms.ImageCmsTransform):
            if picture.mode != "CMYK":
                notes.add(SourceNote.FROM_PROFILE)
            beyond = beyond_srgb(picture, profile)
            if beyond is not None and beyond.share > _CUT_OFF_SHARE:
                notes.add(SourceNote.OUT_OF_SRGB)
            return _applied(picture, transform)
        else:
            notes.add(SourceNote.UNUSABLE_PROFILE)
    if picture.mode in ("RGB", "RGBA"):
        return picture
    return picture.convert("RGBA" if picture.mode == "LA" else "RGB")


def _applied(picture: Image.Image, transform: ImageCms.ImageCmsTransform) -> Image.Image:
    if picture.mode in ("RGB", "RGBA"):
        ImageCms.applyTransform(picture, transform, inPlace=True)
        return picture
    if picture.mode == "LA":
        alpha = picture.getchannel("A")
        colour = ImageCms.applyTransform(picture.getchannel("L"), transform)
        assert colour is not None
        colour.putalpha(alpha)
        return colour
    converted = ImageCms.applyTransform(picture, transform)
    assert converted is not None
    return converted


@lru_cache(maxsize=8)
def _transform(profile: bytes, mode: str) -> "ImageCms.ImageCmsTransform | str | None":
    """The transform to sRGB, "same" for a profile that is sRGB, None for one that does not fit.

    Relative colorimetric with black point compensation, as is common practice for print.
    """
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        fits = {"RGB": "RGB ", "RGBA": "RGB ", "L": "GRAY", "LA": "GRAY", "CMYK": "CMYK"}
        if source.profile.xcolor_space != fits.get(mode):
            return None
        # Extra channels are copied by Pillow beside the transform, so alpha comes through untouched.
        from_mode, to_mode = ("L", "RGB") if mode == "LA" else (mode, mode if mode == "RGBA" else "RGB")
        transform = ImageCms.buildTransform(
            source,
            ImageCms.createProfile("sRGB"),
            from_mode,
            to_mode,
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return None
    if mode in ("RGB", "RGBA") and _is_identity(transform, mode):
        return "same"
    return transform


def _is_identity(transform: ImageCms.ImageCmsTransform, mode: str) -> bool:
    steps = np.arange(0, 256, 15, dtype=np.uint8)
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(1, -1, 3)
    probe = Image.fromarray(grid).convert(mode)
    seen = ImageCms.applyTransform(probe, transform)
    assert seen is not None
    after = np.asarray(seen.convert("RGB")).astype(np.int16)
    return int(np.abs(after - grid).max()) <= _SAME_AS_SRGB


@lru_cache(maxsize=1)
def lab_to_srgb() -> ImageCms.ImageCmsTransform:
    """From Pillow's "LAB" mode (CIELAB, D50 as in the ICC's connection space) to sRGB."""
    return ImageCms.buildTransform(
        ImageCms.createProfile("LAB"),
        ImageCms.createProfile("sRGB"),
        "LAB",
        "RGB",
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
    )


def is_srgb_profile(profile: bytes) -> bool:
    """Whether an embedded RGB profile is sRGB for all that the eye can tell."""
    return _transform(profile, "RGB") == "same"
