"""Artwork files taken in: what they are, how large, and what was noticed on the way."""

import hashlib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from PIL import Image

from planner.artwork import source
from planner.artwork.convert import upright_srgb
from planner.artwork.refused import is_raw, refusal
from planner.artwork.source import SourceNote, UnreadableArtwork
from planner.job.document import Artwork

__all__ = ["Imported", "SourceNote", "UnreadableArtwork", "artwork_from", "import_artwork"]


@dataclass(frozen=True, slots=True)
class Imported:
    """What a file turned out to be."""

    name: str
    sha256: str
    media: str
    width_px: int
    """Upright, orientation tag obeyed. Of vector artwork: its stated size at 300 ppi."""
    height_px: int
    vector: bool
    page_count: int
    notes: frozenset[SourceNote]
    tagged_ppi: tuple[float, float] | None
    """What the file itself says of its resolution, x and y: nothing to rely on."""


def import_artwork(data: bytes, name: str, *, page: int = 0) -> Imported:
    """What a file is; it is decoded once to be sure that it can be.

    Raises:
        UnreadableArtwork: it is no artwork that can be used; the message says what to ask for.
    """
    imported, _ = import_decoded(data, name, page=page)
    return imported


def import_decoded(data: bytes, name: str, *, page: int = 0) -> tuple[Imported, Image.Image]:
    """As `import_artwork`, with the decoded picture ("RGB" or "RGBA"), so that nobody decodes twice.

    Raises:
        UnreadableArtwork: as `import_artwork`.
    """
    media = source.media_of(data)
    if media is None or is_raw(media, name):
        raise refusal(data, name)
    if len(data) > source.MOST_BYTES:
        raise UnreadableArtwork(
            f"“{name}” has {len(data) // 1_000_000} megabytes, the planner takes up to "
            f"{source.MOST_BYTES // 1_000_000}. Ask the customer for the artwork at print size, 300 ppi."
        )
    notes = {SourceNote.MISLABELLED} if source.is_mislabelled(media, name) else set()
    if media in source.VECTOR_MEDIA:
        return _import_vector(data, name, media, page, notes)
    # Hashing leaves Python's lock alone, so that it costs nothing beside the decoding.
    with ThreadPoolExecutor(1) as beside, source.reading(name):
        digest = beside.submit(hashlib.sha256, data)
        opened = source.open_picture(data, media, name)
        tagged = _tagged_ppi(opened.info.get("dpi"))
        notes |= source.notes_of(opened, media, name)
        upright, converted = upright_srgb(source.decoded(data, opened))
    imported = Imported(
        name=name,
        sha256=digest.result().hexdigest(),
        media=media,
        width_px=upright.width,
        height_px=upright.height,
        vector=False,
        page_count=1,
        notes=frozenset(notes | converted),
        tagged_ppi=tagged,
    )
    return imported, upright


def _import_vector(
    data: bytes, name: str, media: str, page: int, notes: set[SourceNote]
) -> tuple[Imported, Image.Image]:
    from planner.artwork.vectors import describe, draw

    about = describe(data, media, name=name, page=page)
    width_px, height_px = (max(1, round(side / 72 * 300)) for side in (about.width_pt, about.height_pt))
    imported = Imported(
        name=name,
        sha256=hashlib.sha256(data).hexdigest(),
        media=media,
        width_px=width_px,
        height_px=height_px,
        vector=True,
        page_count=about.page_count,
        notes=frozenset(notes | about.notes),
        tagged_ppi=None,
    )
    return imported, draw(data, media, page=page, size_px=(width_px, height_px), name=name)


def artwork_from(imported: Imported, key: str) -> Artwork:
    """The artwork that goes into the job for a file that was taken in."""
    return Artwork(
        key=key,
        name=imported.name[:255],
        sha256=imported.sha256,
        media=imported.media,
        width_px=imported.width_px,
        height_px=imported.height_px,
        vector=imported.vector,
    )


def _tagged_ppi(tag: object) -> tuple[float, float] | None:
    """Some files state nonsense (zero, text, a fraction over zero)."""
    try:
        x, y = (float(figure) for figure in tag)  # type: ignore[attr-defined]
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    return (x, y) if 1 <= x <= 100_000 and 1 <= y <= 100_000 else None
