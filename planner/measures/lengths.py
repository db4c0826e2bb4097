"""Lengths typed and shown in the shop's own unit, kept in millimetres.

Source of the factor: NIST SP 811, B.8 (1 in = 25.4 mm exactly).
"""

import re
from enum import StrEnum
from fractions import Fraction

from planner.measures import figures

MM_PER_INCH = 25.4
LONGEST_MM = 100_000.0
"""Nothing that a shop orders is longer than 100 m; more is a slip of the hand."""


class LengthUnit(StrEnum):
    """The units a length is typed and shown in."""

    INCH = "in"
    MILLIMETRE = "mm"


class UnreadableLength(ValueError):
    """What was typed is no length; the message says how to write one."""

    def __init__(self, typed: str) -> None:
        super().__init__(f"“{typed}” is not a length. Type for example 11 in, 280 mm or 3 1/2 in.")


class TwoLengths(UnreadableLength):
    """What was typed could be two lengths, one a thousand times the other; the message names both."""

    def __init__(self, sentence: str) -> None:
        ValueError.__init__(self, sentence)


_MM_PER_UNIT: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "inch": Fraction(254, 10),
    "inches": Fraction(254, 10),
    '"': Fraction(254, 10),
    "''": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "'": Fraction(3048, 10),
}

_VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}

_LONGEST_TYPED = 60
"""Letters; more digits than this are no length, and thousands of them no number that Python reads."""

_NUMBER = r"(?P<whole>\d+(?:[.,]\d+)*|[.,]\d+)?\s*(?:[-\s]\s*)?(?P<fraction>\d+\s*/\s*\d+)?"
_LENGTH = re.compile(rf"^{_NUMBER}\s*(?P<unit>[a-z]+|\"|''|')?\.?$")


def parse_length(typed: str, default: LengthUnit) -> float:
    """Millimetres from what a person typed; a bare number is in `default`.

    Reads decimals with point or comma, and fractions: "11 in", "280 mm", '3 1/2"', "3-1/2 in", "½ in".
    Thousands are never set apart in a length: "1,125" is asked for again where the comma is no decimal sign.

    Raises:
        UnreadableLength: it is no length, is zero or negative, or is longer than 100 m.
        TwoLengths: it could be two lengths.
    """
    if len(typed.strip()) > _LONGEST_TYPED:
        raise UnreadableLength(f"{typed.strip()[:_LONGEST_TYPED]}…")
    text = typed.strip().lower().replace("”", '"').replace("″", '"').replace("’", "'")
    for sign, digits in _VULGAR.items():
        text = text.replace(sign, f" {digits}")
    text = text.strip()
    # "7/2" has no whole part, but the pattern's whole would eat the 7.
    bare = re.match(r"^(\d+\s*/\s*\d+)(.*)$", text)
    match = _LENGTH.match(f"0 {text}" if bare else text)
    if match is None or (match["whole"] is None and match["fraction"] is None):
        raise UnreadableLength(typed)
    unit = _MM_PER_UNIT.get(match["unit"] or default.value)
    if unit is None:
        raise UnreadableLength(typed)
    try:
        amount = Fraction(figures.read(match["whole"], grouped=False)) if match["whole"] else Fraction(0)
    except figures.TwoFigures as error:
        raise TwoLengths(str(error)) from None
    except figures.NoFigure:
        raise UnreadableLength(typed) from None
    if match["fraction"]:
        above, below = (int(part) for part in match["fraction"].split("/"))
        if below == 0:
            raise UnreadableLength(typed)
        amount += Fraction(above, below)
    length_mm = float(amount * unit)
    if not 0 < length_mm <= LONGEST_MM:
        raise UnreadableLength(typed)
    return length_mm


def in_unit(length_mm: float, unit: LengthUnit) -> float:
    """The bare figure of a length in the given unit."""
    return length_mm / MM_PER_INCH if unit is LengthUnit.INCH else length_mm


def format_length(length_mm: float, unit: LengthUnit) -> str:
    """A length as shown: at most two decimals of an inch, one of a millimetre, no trailing zeros."""
    decimals = 2 if unit is LengthUnit.INCH else 1
    figure = f"{in_unit(length_mm, unit):.{decimals}f}".rstrip("0").rstrip(".")
    return f"{figures.written('0' if figure in ('', '-0') else figure)} {unit.value}"


def format_size(width_mm: float, height_mm: float, unit: LengthUnit) -> str:
    """Width × height as shown, the unit once: "11 × 8.5 in"."""
    width = format_length(width_mm, unit).removesuffix(f" {unit.value}")
    return f"{width} × {format_length(height_mm, unit)}"


def format_area(area_mm2: float, unit: LengthUnit) -> str:
    """An area in the square of the unit: "84.2 in²", "54,306 mm²"; small ones of an inch to the hundredth."""
    if unit is LengthUnit.MILLIMETRE:
        return f"{figures.decimal(area_mm2, 0)} mm²"
    square_inches = area_mm2 / MM_PER_INCH**2
    return f"{figures.decimal(square_inches, 1 if square_inches >= 0.95 else 2)} in²"


def effective_ppi(pixels: int, length_mm: float) -> float:
    """Pixels to the printed inch along one axis."""
    return pixels * MM_PER_INCH / length_mm
