"""Where a print usually sits and how wide it usually is: starting values, to be changed print by print.

All figures are common practice of the trade or, where a line says so, from memory; no standard fixes
them. A number typed for a print always wins over them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from planner.measures.lengths import MM_PER_INCH
from planner.pressing.card import Edge
from planner.shop.garments import GarmentKind, Location, SizeGroup, UsualWidth

COLLAR = "collar seam"
BACK_COLLAR = "back collar seam"


class Side(StrEnum):
    """Which face of a garment a location is on: prints on different sides never meet."""

    FRONT = "front"
    BACK = "back"
    LEFT_SLEEVE = "left sleeve"
    RIGHT_SLEEVE = "right sleeve"
    CAP = "cap"
    LEG = "leg"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Usual:
    """What is usual for one location and one group of sizes, in inches as the trade says it."""

    least_in: float
    most_in: float
    start_in: float
    """The width a new print starts with."""
    top_in: float
    aside_in: float = 0


SIDES = {
    Location.FULL_FRONT: Side.FRONT,
    Location.LEFT_CHEST: Side.FRONT,
    Location.TOTE_FRONT: Side.FRONT,
    Location.FULL_BACK: Side.BACK,
    Location.NAPE: Side.BACK,
    Location.LEFT_SLEEVE: Side.LEFT_SLEEVE,
    Location.RIGHT_SLEEVE: Side.RIGHT_SLEEVE,
    Location.CAP_FRONT: Side.CAP,
    Location.LEG: Side.LEG,
    Location.OTHER: Side.OTHER,
}

MARKS = {
    Location.FULL_FRONT: (COLLAR, Edge.TOP),
    Location.LEFT_CHEST: ("shoulder seam at the collar", Edge.TOP),
    Location.FULL_BACK: (BACK_COLLAR, Edge.TOP),
    Location.NAPE: (BACK_COLLAR, Edge.TOP),
    Location.LEFT_SLEEVE: ("sleeve hem", Edge.BOTTOM),
    Location.RIGHT_SLEEVE: ("sleeve hem", Edge.BOTTOM),
    Location.CAP_FRONT: ("brim seam", Edge.BOTTOM),
    Location.TOTE_FRONT: ("top edge of the bag", Edge.TOP),
    Location.LEG: ("waistband seam", Edge.TOP),
    Location.OTHER: (COLLAR, Edge.TOP),
}
"""What each location is measured from, and to which edge of the print."""

# Garments without a collar are measured from what they have instead.
_COLLAR_OF = {
    GarmentKind.TOTE: "top edge of the bag",
    GarmentKind.APRON: "top edge of the bib",
    GarmentKind.CAP: "brim seam",
    GarmentKind.LEGGINGS: "waistband seam",
}

# Adult and youth sleeves, napes, caps and totes share one usual width; what is smaller on youth and
# infant sizes than the trade's figures for adults is from memory.
_SLEEVE = Usual(2, 3.5, 3, 1)
_CAP = Usual(2, 4.5, 4, 0.5)  # width and offset from memory; the height limit is common practice
_TOTE = Usual(6, 10, 9, 4)  # offset below the opening from memory
_LEG = Usual(2, 4, 3, 6)  # from memory
_USUAL = {
    (Location.FULL_FRONT, SizeGroup.ADULT): Usual(10, 12, 11, 2.5),
    (Location.FULL_FRONT, SizeGroup.YOUTH): Usual(7, 10, 8.5, 2),
    (Location.FULL_FRONT, SizeGroup.INFANT): Usual(4, 5, 4.5, 1.5),
    (Location.FULL_BACK, SizeGroup.ADULT): Usual(10, 12, 11, 4.5),
    (Location.FULL_BACK, SizeGroup.YOUTH): Usual(7, 10, 8.5, 3.5),
    (Location.FULL_BACK, SizeGroup.INFANT): Usual(4, 5, 4.5, 2),
    (Location.LEFT_CHEST, SizeGroup.ADULT): Usual(3, 4, 3.5, 8, 4),
    (Location.LEFT_CHEST, SizeGroup.YOUTH): Usual(2.5, 3.5, 3, 6, 3),
    (Location.LEFT_CHEST, SizeGroup.INFANT): Usual(1.5, 2.5, 2, 4, 2),
    (Location.NAPE, SizeGroup.ADULT): Usual(1, 3, 2.5, 1),
    (Location.NAPE, SizeGroup.YOUTH): Usual(1, 2.5, 2, 1),
    (Location.NAPE, SizeGroup.INFANT): Usual(0.75, 1.5, 1.25, 0.75),
    (Location.LEFT_SLEEVE, SizeGroup.ADULT): _SLEEVE,
    (Location.LEFT_SLEEVE, SizeGroup.YOUTH): Usual(1.5, 3, 2.5, 1),
    (Location.LEFT_SLEEVE, SizeGroup.INFANT): Usual(1, 2, 1.5, 0.75),
    (Location.CAP_FRONT, SizeGroup.ADULT): _CAP,
    (Location.CAP_FRONT, SizeGroup.YOUTH): Usual(2, 4, 3.5, 0.5),
    (Location.CAP_FRONT, SizeGroup.INFANT): Usual(1.5, 3, 2.5, 0.5),
    (Location.TOTE_FRONT, SizeGroup.ADULT): _TOTE,
    (Location.TOTE_FRONT, SizeGroup.YOUTH): _TOTE,
    (Location.TOTE_FRONT, SizeGroup.INFANT): _TOTE,
    (Location.LEG, SizeGroup.ADULT): _LEG,
    (Location.LEG, SizeGroup.YOUTH): Usual(1.5, 3, 2.5, 4),
    (Location.LEG, SizeGroup.INFANT): Usual(1, 2, 1.5, 2),
}

CAP_MOST_HEIGHT_MM = 2.25 * MM_PER_INCH
"""A cap's front takes no more before the crown curves away (common practice)."""


def usual(location: Location, group: SizeGroup) -> Usual | None:
    """Starting values of a location on a group of sizes; None for a place of the shop's own."""
    if location is Location.RIGHT_SLEEVE:
        location = Location.LEFT_SLEEVE
    return _USUAL.get((location, SizeGroup.ADULT if group is SizeGroup.ONE_SIZE else group))


def usual_width(location: Location, group: SizeGroup, own: Sequence[UsualWidth] = ()) -> UsualWidth | None:
    """How wide prints usually are: as the shop's `own` table has it, or else by common practice.

    Both sleeves, and one size and adult sizes, share a row. None for a place that neither knows.
    """
    location = Location.LEFT_SLEEVE if location is Location.RIGHT_SLEEVE else location
    group = SizeGroup.ADULT if group is SizeGroup.ONE_SIZE else group
    for row in own:
        if (row.location, row.group) == (location, group):
            return row
    known = _USUAL.get((location, group))
    if known is None:
        return None
    least, start, most = (inches * MM_PER_INCH for inches in (known.least_in, known.start_in, known.most_in))
    return UsualWidth(location=location, group=group, least_mm=least, start_mm=start, most_mm=most)


def usual_widths(own: Sequence[UsualWidth] = ()) -> tuple[UsualWidth, ...]:
    """The whole table, the shop's own rows in place of common practice."""
    keys = dict.fromkeys((*_USUAL, *((row.location, row.group) for row in own)))
    found = (usual_width(location, group, own) for location, group in keys)
    return tuple(row for row in found if row is not None)


def start_width_mm(location: Location, group: SizeGroup, own: Sequence[UsualWidth] = ()) -> float:
    """The width a new print starts with; that of a left chest for a place that is not known."""
    known = usual_width(location, group, own) or usual_width(Location.LEFT_CHEST, SizeGroup.ADULT, own)
    assert known is not None  # common practice knows the left chest
    return known.start_mm


def mark_of(location: Location, kind: GarmentKind) -> tuple[str, Edge]:
    """What a location is measured from on this kind of garment, and to which edge of the print."""
    mark, edge = MARKS[location]
    if mark in (COLLAR, BACK_COLLAR):
        return _COLLAR_OF.get(kind, mark), edge
    return mark, edge
