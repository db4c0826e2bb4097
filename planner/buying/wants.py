"""What an order must yield: needed pieces with their spares, ready for arranging and pricing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planner.buying.limits import takes_size
from planner.buying.spares import spares_for
from planner.job.document import Job
from planner.job.pieces import NeededPiece, print_size
from planner.measures.geometry import Size
from planner.sheets.problem import Piece
from planner.shop.book import Spares
from planner.shop.offers import Offer
from planner.shop.prices import ByPiece

Outline = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Want:
    """One kind of piece, and how many copies of it an order must yield."""

    key: str
    artwork: str
    size: Size
    need: int
    spares: int
    may_turn: bool = True
    outline: Outline | None = None
    any_angle: bool = False
    one_sheet: bool = False
    """All copies must be on one sheet, with those of the other wants marked so."""

    @property
    def wanted(self) -> int:
        """Copies to order at least: the need and its spares."""
        return self.need + self.spares

    def piece(self, count: int, *, key: str | None = None) -> Piece:
        """The same as a question to the arranger."""
        return Piece(
            key or self.key,
            self.size.width_mm,
            self.size.height_mm,
            count,
            self.may_turn,
            self.outline,
            any_angle=self.any_angle,
        )


def wants_of(
    offer: Offer,
    pieces: Sequence[NeededPiece],
    spares: Spares,
    outlines: Mapping[str, Outline] | None = None,
) -> tuple[Want, ...]:
    """The pieces with their spares, lifted to the offer's least number of pieces.

    What the shop takes from stock is not ordered. It counts against need and spares together: the garments
    are pressed all the same, so just as many misprints must be covered. What the least number adds counts
    as spares: nobody needs it, but it must be ordered. An offer by the piece counts it by design, all
    others count the pieces of the order.
    """
    wants = [
        Want(
            piece.key,
            piece.artwork,
            piece.size,
            max(0, piece.count - stocked),
            spares_for(piece.count, spares) - max(0, stocked - piece.count),
            piece.may_turn,
            (outlines or {}).get(piece.key),
            piece.any_angle,
            piece.one_sheet,
        )
        for piece in pieces
        if (stocked := piece.from_stock(offer.kind)) < wanted_of(piece, spares)
    ]
    if isinstance(offer.price, ByPiece):
        together: dict[tuple[str, Size], int] = {}
        for want in wants:
            design = (want.artwork, want.size)
            together[design] = together.get(design, 0) + want.wanted
        lifted = set()
        for number, want in enumerate(wants):
            design = (want.artwork, want.size)
            if design not in lifted:
                lifted.add(design)
                wants[number] = _with_more(want, offer.least_pieces - together[design])
    elif wants:
        most = max(range(len(wants)), key=lambda number: wants[number].need)
        lacking = offer.least_pieces - sum(want.wanted for want in wants)
        wants[most] = _with_more(wants[most], lacking)
    return tuple(wants)


def wanted_of(piece: NeededPiece, spares: Spares) -> int:
    """Copies of a piece that must be at hand, from the printer or from stock: the need and its spares."""
    return piece.count + spares_for(piece.count, spares)


def placeable(offer: Offer, wants: Sequence[Want]) -> tuple[tuple[Want, ...], tuple[Want, ...]]:
    """The wants that fit what the offer prints on, and those that do not."""
    fit = [takes_size(offer, want.size, may_turn=want.may_turn) for want in wants]
    yes = tuple(want for want, fits in zip(wants, fit, strict=True) if fits)
    no = tuple(want for want, fits in zip(wants, fit, strict=True) if not fits)
    return yes, no


def extra_pieces(job: Job, outlines: Mapping[str, Outline] | None = None) -> tuple[Piece, ...]:
    """The job's extras as pieces that nobody needs; a piece's count is the most that may be added."""
    pieces = []
    for extra in job.extras:
        size = print_size(job.artwork(extra.artwork), extra.width_mm)
        pieces.append(
            Piece(
                extra.key,
                size.width_mm,
                size.height_mm,
                extra.most,
                extra.may_turn,
                (outlines or {}).get(extra.key),
                value=extra.value,
                any_angle=extra.any_angle,
            )
        )
    return tuple(pieces)


def _with_more(want: Want, more: int) -> Want:
    return want if more <= 0 else replace(want, spares=want.spares + more)
