"""The text of a PDF page, and the fonts that it is set in but that the file does not carry."""

import ctypes
from dataclasses import dataclass
from typing import Any

_MOST_OBJECTS = 20_000
_MOST_NAMES = 3
_MOST_DEPTH = 12
_NAME_BYTES = 256
_SUBSET_TAG = 7
"""ISO 32000-1, 9.6.4: six capitals and a plus sign stand before the name of a subset."""


@dataclass(frozen=True, slots=True)
class PageText:
    """Whether a page shows text as text, and the first few fonts that are not inside the file."""

    has_text: bool
    loose_fonts: tuple[str, ...]


def text_of(shown: Any) -> PageText:
    """What a page of PDFium's says of its text; call while PDFium is yours.

    Fonts are often listed that no text uses: only what is drawn counts, in forms too.
    """
    from pypdfium2 import raw

    has_text = False
    loose: dict[str, None] = {}
    for number, part in enumerate(shown.get_objects([raw.FPDF_PAGEOBJ_TEXT], max_depth=_MOST_DEPTH)):
        if number == _MOST_OBJECTS or len(loose) == _MOST_NAMES:
            break
        # Scanners lay invisible text over their pictures, to be searched.
        if raw.FPDFTextObj_GetTextRenderMode(part.raw) == raw.FPDF_TEXTRENDERMODE_INVISIBLE:
            continue
        has_text = True
        font = raw.FPDFTextObj_GetFont(part.raw)
        if font and raw.FPDFFont_GetIsEmbedded(font) == 0:
            loose[_name(raw, font)] = None
    return PageText(has_text, tuple(loose))


def _name(raw: Any, font: Any) -> str:
    buffer = ctypes.create_string_buffer(_NAME_BYTES)
    raw.FPDFFont_GetBaseFontName(font, buffer, _NAME_BYTES)
    name = buffer.value.decode("utf-8", "replace")
    return name[_SUBSET_TAG:] if name[_SUBSET_TAG - 1 : _SUBSET_TAG] == "+" else name
