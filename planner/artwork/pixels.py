"""Artwork files as pixels: decoded whole, as a quick thumbnail, or with their fixes applied."""

import struct
import zlib
from collections.abc import Iterable

from PIL import Image

from planner.artwork import source
from planner.artwork.convert import is_srgb_profile, orientation_of, scale_key, upright_srgb
from planner.artwork.framing import framing_of
from planner.artwork.refused import refusal
from planner.artwork.source import SourceNote, UnreadableArtwork
from planner.job.document import Artwork

_PIECE_BYTES = 1 << 20
DEFAULT_PPI = 300.0
"""At which vector artwork becomes pixels where nobody asks for another figure."""


def decode(data: bytes, *, page: int = 0, ppi: float | None = None, name: str = "The artwork") -> Image.Image:
    """The artwork upright, "RGBA", 8-bit sRGB; alpha exactly as in the file.

    Of vector artwork the given page at `ppi` (of the size that it states itself; 300 by default).

    Raises:
        UnreadableArtwork: damaged, cut short, too large, or no picture.
    """
    picture, _ = decode_native(data, page=page, ppi=ppi, name=name)
    if picture.mode == "RGB":
        picture.putalpha(255)
    return picture


def decode_native(
    data: bytes, *, page: int = 0, ppi: float | None = None, name: str = "The artwork"
) -> tuple[Image.Image, frozenset[SourceNote]]:
    """As `decode`, but "RGB" where the file cannot be transparent, with notes on what was converted."""
    media = source.media_of(data)
    if media is None:
        raise refusal(data, name)
    if media in source.VECTOR_MEDIA:
        from planner.artwork.vectors import describe, rasterise

        notes = describe(data, media, name=name, page=page).notes
        return rasterise(data, media, page=page, ppi=ppi or DEFAULT_PPI, name=name), notes
    with source.reading(name):
        opened = source.open_picture(data, media, name)
        told = source.notes_of(opened, media, name)
        picture, converted = upright_srgb(source.decoded(data, opened))
    return picture, converted | told


def thumbnail(data: bytes, *, most_px: int, page: int = 0, name: str = "The artwork") -> Image.Image:
    """The artwork upright, "RGBA", at most `most_px` on its longer side, never larger than it is.

    Much quicker than `decode` for JPEG, whose decoder can leave out detail.

    Raises:
        UnreadableArtwork: as `decode`.
    """
    media = source.media_of(data)
    if media is None:
        raise refusal(data, name)
    if media in source.VECTOR_MEDIA:
        from planner.artwork.vectors import rasterise_to

        return rasterise_to(data, media, page=page, most_px=most_px, name=name)
    with source.reading(name):
        opened = source.open_picture(data, media, name)
        scale_key(opened)
        if media == source.JPEG:
            # Each scale of the decoder's is a mean of whole blocks (ITU-T T.81, A.3.3): none is coarser.
            opened.draft(None, (most_px, most_px))
        # Asking a PNG for its orientation decodes it.
        picture = source.decoded(data, opened, thinned_to=_thinned(opened.size, most_px))
        orientation = orientation_of(picture)
        profile = picture.info.get("icc_profile")
        picture.load()
        small = _shrunk(picture, _within(opened.size, most_px))
        small.format, small.info = picture.format, {**picture.info, "icc_profile": profile}
        if orientation != 1:
            small.info["exif"] = _orientation_block(orientation)
        upright, _ = upright_srgb(small)
    if upright.mode == "RGB":
        upright.putalpha(255)
    return upright


def _within(size: tuple[int, int], most_px: int) -> tuple[int, int]:
    """Such a size in its proportions, its longer side `most_px` at most."""
    longer = max(size)
    if longer <= most_px:
        return size
    return max(1, round(size[0] * most_px / longer)), max(1, round(size[1] * most_px / longer))


def _thinned(size: tuple[int, int], most_px: int) -> tuple[int, int]:
    """A whole fraction of a size that leaves twice as many pixels as are wanted, or a few more."""
    every = max(1, max(size) // (2 * most_px))
    return max(1, size[0] // every), max(1, size[1] // every)


def _shrunk(picture: Image.Image, size: tuple[int, int]) -> Image.Image:
    """Reduced before colours are converted, for that costs by the pixel."""
    if picture.size == size:
        return picture.copy()
    keyed = "transparency" in picture.info and picture.mode != "P"
    if picture.mode in ("RGB", "L", "CMYK", "LAB") and not keyed:
        return picture.resize(size, Image.Resampling.BOX, reducing_gap=2.0)
    if picture.mode in ("RGBA", "LA"):
        coarse = picture.resize(_thinned(picture.size, max(size)), Image.Resampling.NEAREST)
        return coarse.resize(size, Image.Resampling.BOX)
    return picture.resize(size, Image.Resampling.NEAREST)


def _orientation_block(orientation: int) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    return exif.tobytes()


def picture(artwork: Artwork, data: bytes) -> Image.Image:
    """The artwork decoded with its fixes applied, in the pixels that it states: what is printed.

    Raises:
        UnreadableArtwork: as `decode`.
    """
    from planner.artwork.fixes import apply_fixes

    return apply_fixes(unmended(artwork, data), artwork.fixes)


def unmended(artwork: Artwork, data: bytes) -> Image.Image:
    """The artwork without its fixes, "RGBA", in the pixels that these are reckoned in.

    Raises:
        UnreadableArtwork: as `decode`.
    """
    if not artwork.vector:
        return decode(data, page=artwork.page, name=artwork.name)
    from planner.artwork.vectors import draw

    size_px = artwork.width_px, artwork.height_px
    return draw(data, artwork.media, page=artwork.page, size_px=size_px, name=artwork.name)


def drawn_to(artwork: Artwork, data: bytes, most_px: int) -> Image.Image:
    """Artwork that stays vector, framed by its fixes, `most_px` on its longer side.

    Raises:
        UnreadableArtwork: as `decode`.
    """
    from planner.artwork.vectors import draw

    longer = max(artwork.size_px)
    width, height = (max(1, round(side * most_px / longer)) for side in artwork.size_px)
    framing = framing_of(artwork)
    seen = draw(
        data,
        artwork.media,
        page=artwork.page,
        size_px=framing.before_turns((width, height)),
        name=artwork.name,
        window=framing.window,
    )
    return framing.applied(seen)


def is_plain_jpeg(artwork: Artwork, data: bytes) -> bool:
    """Whether the file's own bytes may be printed as they are.

    A JPEG, baseline or progressive, in RGB or grey, upright, sRGB or without a profile, no fixes.
    """
    if artwork.fixes or source.media_of(data) != source.JPEG:
        return False
    try:
        with source.reading(artwork.name):
            picture = source.open_picture(data, source.JPEG)
            profile = picture.info.get("icc_profile")
            return (
                picture.mode in ("RGB", "L")
                and orientation_of(picture) == 1
                and (profile is None or (picture.mode == "RGB" and is_srgb_profile(profile)))
            )
    except UnreadableArtwork:
        return False


_CHANGES_COLOUR = {b"tRNS", b"gAMA", b"cHRM", b"iCCP", b"cICP", b"eXIf"}
"""Chunks (W3C PNG, 11.3) that make the pixels shown others than the samples, or turn them."""


def is_plain_png(artwork: Artwork, data: bytes) -> bool:
    """Whether the file's own samples may be printed as they are.

    A PNG in 8-bit RGB or grey, not interlaced, opaque, sRGB or without a word on colour, no fixes.
    """
    if artwork.fixes or source.media_of(data) != source.PNG:
        return False
    # W3C PNG, 11.2.1: depth, colour type (0 grey, 2 RGB), compression, filter, interlace.
    if data[24:29] not in (b"\x08\x00\x00\x00\x00", b"\x08\x02\x00\x00\x00"):
        return False
    at, kinds, rows = 8, [], []
    while at + 8 <= len(data):
        length, kind = struct.unpack_from(">I4s", data, at)
        kinds.append(kind)
        if kind == b"IDAT":
            rows.append(data[at + 8 : at + 8 + length])
        at += 12 + length
    # W3C PNG, 11.3.2.3: beside an sRGB chunk, gamma and chromaticities only repeat it.
    changes = _CHANGES_COLOUR - {b"gAMA", b"cHRM"} if b"sRGB" in kinds else _CHANGES_COLOUR
    if at != len(data) or kinds[-1] != b"IEND" or changes.intersection(kinds):
        return False
    width, height = struct.unpack_from(">II", data, 16)
    channels = 3 if data[25] == 2 else 1
    return _inflates_to(height * (1 + width * channels), rows)


def _inflates_to(size: int, deflated: Iterable[bytes]) -> bool:
    """Whether the chunks are one whole zlib stream of just so many bytes; never holds more than a piece."""
    unpacker = zlib.decompressobj()
    found = 0
    try:
        for waiting in deflated:
            if waiting and unpacker.eof:
                return False
            made = b"more"
            while (waiting or made) and not unpacker.eof:
                made = unpacker.decompress(waiting, _PIECE_BYTES)
                waiting = unpacker.unconsumed_tail
                found += len(made)
                if found > size:
                    return False
    except zlib.error:
        return False
    return found == size and unpacker.eof and not unpacker.unused_data
