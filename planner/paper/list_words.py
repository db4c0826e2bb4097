"""Words of the shop's own lists."""

from collections.abc import Iterable

WORK, BUYING, ARRIVALS, PICKING = "Order of work", "Buying list", "Check-in list", "Pick list"
TOGETHER = "Together"


def sentence(said: str) -> str:
    return f"{said[:1].upper()}{said[1:]}."


# Order of work.
NOTHING_TO_PRESS = "Nothing to press yet."
WARM_UP = "Warm-up"
SETTING_ANEW = "Setting anew"
ONCE_WARM = "Once warm"
CHANGE_SETTING = "change the setting first"
COVER_FINISHED = "cover finished prints"
WORK_HEADS = ("", "", "Print", "Garment and place", "Setting", "Pieces", "An hour", "Minutes")
MINUTES_HOLD = "Minutes hold loading, pre-press, pressing, second press, cooling and hand work of one person."
STARTING_VALUES = "Settings are starting values: the transfer printer’s sheet and the garment’s label win."


def place_and_notes(place: str, notes: Iterable[str]) -> str:
    return ", ".join((place, *notes))


# Buying list.
NO_GARMENTS_TO_BUY = "No garments to buy yet."
BUYING_HEADS = ("", "Size", "Need", "Spares", "Order", "Each", "Amount")
NO_STYLE = "Style not named"


def order_by(day: str) -> str:
    return f"order on or before {day}"


def blank(style: str, colour: str) -> str:
    return f"{style or NO_STYLE}, {colour}"


# Check-in list.
COUNT_ARRIVED = "Count what arrived before the press is warm."
TRANSFER_HEADS = ("", "Piece", "Need", "Ordered", "Arrived")
FROM_STOCK = "Left-over transfers from stock"
STOCK_HEADS = ("", "Piece", "Garments", "Take", "Counted")
BLANKS = "Blanks"
BLANK_HEADS = ("", "Size", "Need", "Ordered", "Arrived")


def transfers(offer: str) -> str:
    return f"Transfers: {offer}"


def labelled(label: str, piece: str) -> str:
    return f"{label}  {piece}"


# Pick list.
NO_GARMENTS = "No garments yet."
PICK_HEADS = ("", "Size", "Count", "Packed")
NO_PRINT = "no print"


def deliver_by(day: str) -> str:
    return f"Deliver on or before {day}."


def printed_garment(line: str, places: Iterable[str]) -> str:
    return f"{line}: {', '.join(places) or NO_PRINT}"
