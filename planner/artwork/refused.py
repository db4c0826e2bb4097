"""What to say of files that hold no artwork the planner reads: what they are, and what to ask for instead."""

from pathlib import PurePath

from planner.artwork.source import ASK, TIFF, UnreadableArtwork

_NOT_READ = f"which the planner does not read. {ASK}"
_LAYERED = f"a layered working file, {_NOT_READ}"
_WORKING = f"a drawing program's working file, {_NOT_READ}"
_POSTSCRIPT = f"a PostScript file, {_NOT_READ}"
_PACKED = "a packed file. Unpack it, and drop the files that are in it."
_FROM_WITHIN = "Ask the customer for the picture that is in it, as a PNG, JPEG, SVG or PDF file of its own."
_OFFICE = f"an office document. {_FROM_WITHIN}"
_LIST = (
    "a list, no picture. Counts of sizes come in from a CSV file on the garments page; "
    "artwork must be a picture or a PDF."
)
_STITCHES = (
    "a stitch file of an embroidery machine: it holds needle points, no picture. Ask the customer for the "
    "drawing that it was made from, as a PNG with a transparent ground or a PDF."
)
_RAW = "a camera's raw file, which the planner does not read. Ask the customer for the photograph as a JPEG."
_FILM = "a film, no picture. Ask the customer for the picture itself."
_FONT = f"a font, no picture. {ASK}"
_PACKS = b"PK\x03\x04"
_OLD_OFFICE = b"\xd0\xcf\x11\xe0"

_STARTS = {
    b"8BPS": _LAYERED,
    b"gimp xcf": _LAYERED,
    b"%!PS": _POSTSCRIPT,
    b"\xc5\xd0\xd3\xc6": _POSTSCRIPT,
    b"Rar!": _PACKED,
    b"7z\xbc\xaf": _PACKED,
    b"\x1f\x8b": _PACKED,
    b"\x00\x00\x00\x0cjP": f"a JPEG 2000 file, {_NOT_READ}",
    b"\x00\x00\x00\x0cJXL ": f"a JPEG XL file, {_NOT_READ}",
    b"\xff\x0a": f"a JPEG XL file, {_NOT_READ}",
    b"{\\rtf": _OFFICE,
}
_SUFFIXES = {
    **dict.fromkeys((".psd", ".psb", ".xcf", ".kra", ".ora", ".procreate"), _LAYERED),
    **dict.fromkeys((".cdr", ".indd", ".idml", ".afdesign", ".dxf", ".emf", ".wmf", ".sketch"), _WORKING),
    **dict.fromkeys((".eps", ".ps", ".ai"), _POSTSCRIPT),
    **dict.fromkeys((".dst", ".pes", ".exp", ".jef", ".vp3", ".emb", ".hus", ".xxx"), _STITCHES),
    **dict.fromkeys((".docx", ".doc", ".odt", ".pages", ".pptx", ".ppt", ".odp", ".pub"), _OFFICE),
    **dict.fromkeys((".xlsx", ".xls", ".ods", ".csv", ".tsv"), _LIST),
    **dict.fromkeys((".mp4", ".mov", ".avi", ".webm", ".mkv"), _FILM),
    **dict.fromkeys((".ttf", ".otf", ".woff", ".woff2"), _FONT),
}
_RAW_SUFFIXES = frozenset((".cr2", ".cr3", ".nef", ".nrw", ".arw", ".dng", ".raf", ".orf", ".rw2", ".pef"))


def is_raw(media: str | None, name: str) -> bool:
    """Whether it is what a camera's sensor saw; such files pose as TIFF, with a thumbnail in front."""
    return media in (None, TIFF) and _suffix(name) in _RAW_SUFFIXES


def refusal(data: bytes, name: str) -> UnreadableArtwork:
    """What to say about content that the planner does not read."""
    if not data:
        return UnreadableArtwork(f"“{name}” is empty: it holds no bytes. Ask the customer to send it again.")
    said = _said(data, name) or f"no picture that the planner knows. {ASK}"
    return UnreadableArtwork(f"“{name}” is {said}")


def _said(data: bytes, name: str) -> str | None:
    if _suffix(name) in _RAW_SUFFIXES:
        return _RAW
    if data[:4] == b"RIFF" and data[8:11].lower() == b"cdr":
        return _WORKING
    for start, said in _STARTS.items():
        if data.startswith(start):
            return said
    if data[4:8] == b"ftyp":
        return _FILM
    # Packed and old office files are told apart by their names only.
    by_name = _SUFFIXES.get(_suffix(name))
    if by_name is None and data.startswith((_PACKS, _OLD_OFFICE)):
        return _PACKED if data.startswith(_PACKS) else _OFFICE
    start = data[:1024].lstrip().lower()
    if by_name is None and start.startswith((b"<!doctype html", b"<html")):
        return f"a web page. {_FROM_WITHIN}"
    return by_name


def _suffix(name: str) -> str:
    return PurePath(name).suffix.lower()
