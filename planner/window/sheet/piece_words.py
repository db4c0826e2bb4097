"""Sentences of the sheets panel."""

from collections.abc import Callable, Sequence

from planner.buying.purchase import NotPlaced, NotPlacedReason
from planner.measures.figures import short, whole
from planner.measures.lengths import LengthUnit, format_length, format_size
from planner.plan.wording import count
from planner.window.sheet import words
from planner.window.sheet.facts import OfferShown
from planner.window.sheet.items import PieceItem


def chosen_words(pieces: list[PieceItem], unit: LengthUnit) -> str:
    """What is chosen: one piece with its facts, or how many."""
    if len(pieces) > 1:
        return f"{count(len(pieces), 'piece')} chosen"
    return " · ".join(_facts(pieces[0], unit))


def piece_hint(piece: PieceItem, unit: LengthUnit) -> str:
    """Artwork, print, size and resolution of a piece, line by line."""
    return "\n".join(_facts(piece, unit))


def _facts(piece: PieceItem, unit: LengthUnit) -> list[str]:
    facts, placement = piece.facts, piece.placement
    if facts is None or facts.artwork is None:
        return ["No garment needs this piece any more", "Remove it, or Arrange again"]
    said = [
        facts.name,
        format_size(facts.size.width_mm, facts.size.height_mm, unit),
        "vector artwork" if facts.ppi is None else f"{facts.ppi:.0f} ppi",
        f"on {facts.garment}",
    ]
    if placement.turned_deg:
        said.append(f"turned {short(placement.turned_deg)}°")
    if placement.pinned:
        said.append("pinned")
    return said


def sheet_words(offer: OfferShown, sheet: int, unit: LengthUnit) -> str:
    """The current sheet, what all sheets yield, and what the offer asks to be kept clear.

    What changes most comes first: a narrow window cuts the end.
    """
    size = offer.layouts[sheet].sheet
    told = (
        f"Sheet {sheet + 1} of {len(offer.layouts)}",
        "provisional: not accepted yet" if offer.provisional else "",
        tally_words(offer),
        format_size(size.width_mm, size.height_mm, unit),
        f"gap {format_length(offer.room.gap_mm, unit)}",
        f"margin {format_length(offer.room.margin_mm, unit)}",
    )
    return " · ".join(filter(None, told))


def over_words(copies: int) -> str:
    """Copies on the sheets that are neither needed nor spares."""
    return f"{whole(copies)} over"


def tally_words(offer: OfferShown) -> str:
    """Whether the sheets yield what the garments need; empty until the plan knows."""
    if not offer.tally or offer.missing or offer.not_placed:
        return ""
    spares = sum(min(piece.spares, piece.ordered - piece.need) for piece in offer.tally)
    over = sum(max(0, piece.surplus) for piece in offer.tally)
    beside = (count(spares, "spare") if spares else "", over_words(over) if over else "")
    return ", ".join(filter(None, ("all pieces on the sheets", *beside)))


def missing_words(offer: OfferShown, name_of: Callable[[str], str]) -> str:
    """Which pieces the garments still need."""
    short = offer.missing
    listed = ", ".join(f"{piece.need - piece.ordered} × “{name_of(piece.piece)}”" for piece in short[:3])
    more = f" and {count(len(short) - 3, 'more print')}" if len(short) > 3 else ""
    return f"The sheets yield too few: {listed}{more} missing. Add them, or print a sheet more often."


def refused_words(refused: Sequence[NotPlaced], name_of: Callable[[str], str], unit: LengthUnit) -> str:
    """Which pieces an offer cannot print, and what can be done; the first of them stands for all."""
    first = refused[0]
    name = name_of(first.piece)
    copies = f"{count(first.count, 'copy', 'copies')} {'is' if first.count == 1 else 'are'}"
    if first.reason is NotPlacedReason.TOO_MANY_COLOURS:
        told = words.too_colourful(name, first.colours or 0, first.most_colours or 0, copies)
    else:
        wide, high = first.width_mm, first.height_mm
        told = words.too_large(
            name,
            format_size(wide, high, unit),
            format_size(first.most_width_mm, first.most_height_mm, unit),
            copies,
            would_fit_turned=high <= first.most_width_mm and wide <= first.most_height_mm,
        )
    more = len(refused) - 1
    return f"{told} {words.and_more(count(more, 'more print'))}" if more else told


def stray_words(piece: PieceItem, offer: str) -> str:
    """Why a piece went back: it was dropped on another offer's sheet."""
    name = f"“{piece.facts.name}”" if piece.facts else "This piece"
    return (
        f"{name} is bought at “{offer}” and cannot go on a sheet of another offer. "
        "Choose another offer for the print first."
    )
