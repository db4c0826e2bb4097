"""Where zips, pockets, seams and buttons lie on a flat garment, as boxes a print must stay clear of.

The boxes are typical of adult sizes and from memory: garments differ, so a print over one is a matter
to look at, never forbidden. Origin and axes as in `planner.pressing.placement`.
"""

from planner.measures.geometry import Rect
from planner.measures.lengths import MM_PER_INCH
from planner.pressing.usual import Side
from planner.shop.garments import HardPart

USUAL_LENGTH_MM = 24.5 * MM_PER_INCH
"""Front of an adult garment from the collar seam to the hem, where the shop book does not say."""
_ZIP_HALF_MM = 15.0
_SEAM_HALF_MM = 6.0
_PLACKET_HALF_MM = 20.0
_PLACKET_LONG_MM = 6 * MM_PER_INCH
_CHEST_POCKET = Rect(2 * MM_PER_INCH, 4 * MM_PER_INCH, 4 * MM_PER_INCH, 5 * MM_PER_INCH)
_POUCH_HALF_MM = 6.5 * MM_PER_INCH
_POUCH_HIGH_MM = 11 * MM_PER_INCH
"""From the upper edge of a pouch pocket to the hem, the rib included."""


def hard_part_boxes(part: HardPart, side: Side, length_mm: float | None) -> tuple[Rect, ...]:
    """Boxes that a part takes on one side of a garment; none where it is not on that side.

    `length_mm` is the garment's length below its mark, None where it is not known.
    """
    length_mm = USUAL_LENGTH_MM if length_mm is None else length_mm
    if part is HardPart.CENTRE_SEAM and side in (Side.FRONT, Side.BACK):
        return (_centred(_SEAM_HALF_MM, 0, length_mm),)
    if part is HardPart.CENTRE_SEAM and side is Side.CAP:
        return (_centred(_SEAM_HALF_MM, -length_mm, length_mm),)
    if side is not Side.FRONT:
        return ()
    return {
        HardPart.ZIP: (_centred(_ZIP_HALF_MM, 0, length_mm),),
        HardPart.BUTTONS: (_centred(_PLACKET_HALF_MM, 0, _PLACKET_LONG_MM),),
        HardPart.CHEST_POCKET: (_CHEST_POCKET,),
        HardPart.POUCH_POCKET: (_centred(_POUCH_HALF_MM, length_mm - _POUCH_HIGH_MM, _POUCH_HIGH_MM),),
    }[part]


def under_pressure(parts: tuple[HardPart, ...], side: Side) -> tuple[HardPart, ...]:
    """Parts that a platen takes in with a print on one side: of a body those of its other side too."""
    if side in (Side.FRONT, Side.BACK):
        return parts
    return tuple(part for part in parts if side is Side.CAP and part is HardPart.CENTRE_SEAM)


def _centred(half_width_mm: float, y_mm: float, height_mm: float) -> Rect:
    return Rect(-half_width_mm, y_mm, 2 * half_width_mm, height_mm)
