"""Which pieces a job needs on its sheets: one kind for each print and print width."""

import hashlib
from dataclasses import dataclass, replace

from planner.job.document import Artwork, Job, MadeFor, Print
from planner.measures.geometry import Size
from planner.shop.garments import SizeGroup
from planner.shop.offers import TransferKind
from planner.shop.stock import Design, stands_in

_LEAST_MM = 0.1
"""A picture many times wider than high still makes a piece that can be placed."""


@dataclass(frozen=True, slots=True)
class NeededPiece:
    """Copies of one print at one width that the garments need, spares not counted."""

    key: str
    """The print's key; with "/group" behind it for a group of sizes with a width of its own."""
    print: str
    artwork: str
    size: Size
    count: int
    may_turn: bool
    any_angle: bool = False
    one_sheet: bool = False
    stock: tuple[tuple[TransferKind, int], ...] = ()
    """Left-over transfers that the shop chose to use, by their kind."""

    def from_stock(self, kind: TransferKind) -> int:
        """How many of a kind need not be ordered; another kind cannot stand in for it."""
        return sum(count for of, count in self.stock if stands_in(of, kind))


def print_size(artwork: Artwork, width_mm: float) -> Size:
    """The printed size in millimetres at a width, after the artwork's fixes."""
    width_px, height_px = artwork.size_px
    return Size(width_mm, max(_LEAST_MM, width_mm * height_px / width_px))


def look_of(artwork: Artwork) -> str:
    """Digest of what is printed of a file: its page and its fixes."""
    told = (artwork.page, tuple(fix.model_dump_json() for fix in artwork.fixes))
    return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


def design_of(artwork: Artwork, size: Size, kind: TransferKind) -> Design:
    """What a transfer must be to serve for a piece."""
    return Design(
        artwork=artwork.sha256,
        look=look_of(artwork),
        width_mm=size.width_mm,
        height_mm=size.height_mm,
        kind=kind,
    )


def print_of_piece(piece_key: str) -> str:
    """Key of the print (or extra) that a piece's key belongs to."""
    return piece_key.partition("/")[0]


def group_of_piece(piece_key: str) -> SizeGroup | None:
    """The group of sizes that a piece is for; None where its print has no width of its own for them."""
    group = piece_key.partition("/")[2]
    return SizeGroup(group) if group else None


def pieces_of(job: Job, print_: Print) -> tuple[NeededPiece, ...]:
    """The pieces one print needs: one a width, those that no garment needs left out."""
    line = job.line(print_.line)
    own_groups = {own.group for own in print_.group_widths}
    counts: dict[SizeGroup | None, int] = {}
    for size in line.sizes:
        group = size.group if size.group in own_groups else None
        counts[group] = counts.get(group, 0) + size.count
    artwork = job.artwork(print_.artwork)
    pieces = (
        NeededPiece(
            key=print_.key if group is None else f"{print_.key}/{group.value}",
            print=print_.key,
            artwork=artwork.key,
            size=print_size(artwork, print_.width_mm if group is None else print_.width_for(group)),
            count=count,
            may_turn=print_.may_turn,
            any_angle=print_.any_angle,
            one_sheet=print_.one_sheet,
        )
        for group, count in counts.items()
        if count
    )
    return tuple(_with_stock(job, artwork, piece) for piece in pieces)


def _with_stock(job: Job, artwork: Artwork, piece: NeededPiece) -> NeededPiece:
    # Nearly all jobs use none, and this runs for every edit.
    if not job.from_stock:
        return piece
    stock = tuple(
        (taken.design.kind, taken.count)
        for taken in job.from_stock
        if taken.piece == piece.key
        and taken.design.is_same(design_of(artwork, piece.size, taken.design.kind))
    )
    return replace(piece, stock=stock)


def needed_pieces(job: Job) -> tuple[NeededPiece, ...]:
    """All pieces the job's garments need, in the order of its prints."""
    return tuple(piece for print_ in job.prints for piece in pieces_of(job, print_))


def pieces_at(job: Job, offer: str) -> tuple[NeededPiece, ...]:
    """The pieces of all prints that are bought at one offer."""
    return tuple(
        piece for print_ in job.prints if job.offer_of(print_) == offer for piece in pieces_of(job, print_)
    )


def what_layouts_serve(pieces: tuple[NeededPiece, ...]) -> tuple[MadeFor, ...]:
    """The pieces as layouts remember them, so that a change of size or count is noticed."""
    return tuple(
        MadeFor(
            piece=piece.key,
            width_mm=piece.size.width_mm,
            height_mm=piece.size.height_mm,
            # To order, not to press: using what lies in stock is a change of need.
            count=piece.count - sum(count for _, count in piece.stock),
        )
        for piece in pieces
    )
