"""How large a piece an offer can print, and in how many colours."""

from dataclasses import dataclass

from planner.buying.price import fits_in
from planner.measures.geometry import Size
from planner.shop.offers import Offer
from planner.shop.prices import ByArea, ByLength, ByPiece, BySheet


@dataclass(frozen=True, slots=True)
class Room:
    """The largest piece of one sheet, roll, group or row of a price table."""

    size: Size
    most_colours: int | None = None


def rooms_of(offer: Offer) -> tuple[Room, ...]:
    """Every room a piece may be bought in, margins taken off where a sheet has them."""
    table = offer.price
    lost = 2 * offer.margin_mm
    if isinstance(table, BySheet):
        sizes = [Size(s.size.width_mm - lost, s.size.height_mm - lost) for s in table.sheets]
        # A margin larger than half a sheet leaves no room: that is a room of nothing, not no room.
        return tuple(Room(Size(max(0.0, size.width_mm), max(0.0, size.height_mm))) for size in sizes)
    if isinstance(table, ByLength):
        return (Room(Size(max(0.0, table.width_mm - lost), max(0.0, table.longest_mm - lost))),)
    if isinstance(table, ByArea):
        return (Room(table.largest),)
    assert isinstance(table, ByPiece)
    return tuple(Room(row.largest, row.most_colours) for row in table.rows)


def takes_size(offer: Offer, size: Size, *, may_turn: bool) -> bool:
    """Whether a piece fits one of the offer's rooms, whatever its colours."""
    return any(_fits(room, size, may_turn) for room in rooms_of(offer))


def nearest_room(offer: Offer, size: Size, *, may_turn: bool) -> Room:
    """The room that a piece misses by least, where it fits none."""
    return min(rooms_of(offer), key=lambda room: _lacking(room.size, size, may_turn))


def most_colours_at(offer: Offer, size: Size, *, may_turn: bool) -> int | None:
    """Most colours that the offer prints at this size; None for any number."""
    by_row = [room.most_colours for room in rooms_of(offer) if _fits(room, size, may_turn)]
    limits = [most for most in (max((m for m in by_row if m), default=None), offer.art.most_colours) if most]
    return min(limits, default=None)


def largest_width_mm(offer: Offer, size: Size, *, may_turn: bool) -> float:
    """The largest width at which artwork of these proportions fits one of the rooms."""
    widest = 0.0
    for room in rooms_of(offer):
        for across in (room.size, room.size.turned()) if may_turn else (room.size,):
            widest = max(widest, min(across.width_mm, across.height_mm * size.width_mm / size.height_mm))
    return widest


def _fits(room: Room, size: Size, may_turn: bool) -> bool:
    return fits_in(size, room.size, may_turn=may_turn)


def _lacking(room: Size, size: Size, may_turn: bool) -> float:
    ways = (size, size.turned()) if may_turn else (size,)
    return min(max(way.width_mm - room.width_mm, way.height_mm - room.height_mm) for way in ways)
