"""Which files a transfer printer gets: one a layout, and one for each piece that is bought singly."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Self

from planner.buying.purchase import Order
from planner.job.document import Job
from planner.measures.geometry import Rect
from planner.paper.cut_marks import with_marks
from planner.paper.labels import piece_labels
from planner.paper.names import job_stem, safe_stem
from planner.paper.print_sheet import PrintPiece, PrintSheet, artwork_of_piece, piece_size, print_sheet
from planner.shop.book import Shop
from planner.shop.offers import SheetWish

DEFAULT_PPI = 300.0


@dataclass(frozen=True, slots=True)
class PrintFile:
    """One thing to print, as often as stated."""

    stem: str
    """Of its files' names: "winter-concert_film-a_sheet-1-of-3_print-12x"."""
    label: str
    """What it is called on the order: the layout's number, or the piece's label."""
    sheet: PrintSheet
    copies: int
    piece: str | None = None
    """Key of the piece, where it is one bought singly."""


@dataclass(frozen=True, slots=True)
class SheetWishes:
    """How a transfer printer wants its files, beyond their size and places."""

    mirrored: bool = False
    white_ground: bool = False
    cut_marks: bool = False
    """Marks at the corners of pieces, in the gaps between them."""
    labels: bool = False
    """The pieces' labels below them, in the gaps."""

    @classmethod
    def of(cls, wishes: Iterable[str]) -> Self:
        """From the names of wishes, as offers and commands give them."""
        named = {SheetWish(wish) for wish in wishes}
        return cls(
            mirrored=SheetWish.MIRRORED in named,
            white_ground=SheetWish.WHITE_GROUND in named,
            cut_marks=SheetWish.CUT_MARKS in named,
            labels=SheetWish.LABELS in named,
        )

    def joined(self, other: "SheetWishes") -> "SheetWishes":
        """What either of the two wishes."""
        return SheetWishes(
            self.mirrored or other.mirrored,
            self.white_ground or other.white_ground,
            self.cut_marks or other.cut_marks,
            self.labels or other.labels,
        )


NO_WISHES = SheetWishes()


def single_counts(order: Order) -> dict[str, int]:
    """How many of each piece are bought beside those on layouts."""
    counts = {
        piece.piece: piece.ordered - sum(layout.count_of(piece.piece) for layout in order.layouts)
        for piece in order.pieces
    }
    return {piece: count for piece, count in counts.items() if count > 0}


def print_files(job: Job, shop: Shop, order: Order, wishes: SheetWishes = NO_WISHES) -> tuple[PrintFile, ...]:
    """All files of an order: its layouts, then the pieces bought singly, fixes applied.

    The offer's standing wishes count as well as those given.
    """
    offer = shop.offer(order.offer)
    if offer is not None:
        wishes = SheetWishes.of(offer.wishes).joined(wishes)
    ppi = offer.art.needs_ppi if offer else DEFAULT_PPI
    start = f"{job_stem(job)}_{safe_stem(order.offer, 'offer')}"
    labels = piece_labels(job)
    files = []
    for number, layout in enumerate(order.layouts, 1):
        stem = f"{start}_sheet-{number}-of-{len(order.layouts)}_print-{layout.runs}x"
        sheet = with_marks(
            print_sheet(job, layout, ppi=ppi, title=stem),
            tuple(labels[placement.print] for placement in layout.placements),
            offer.gap_mm if offer else 0.0,
            cut_marks=wishes.cut_marks,
            piece_labels=wishes.labels,
        )
        files.append(PrintFile(stem, f"{number}", _as_wished(sheet, wishes), layout.runs))
    for piece, count in single_counts(order).items():
        label = labels[piece]
        stem = f"{start}_piece-{label}_print-{count}x"
        size = piece_size(job, piece)
        box = Rect(0, 0, size.width_mm, size.height_mm)
        alone = PrintSheet(size, ppi, (PrintPiece(artwork_of_piece(job, piece), box, size),), stem)
        files.append(PrintFile(stem, label, _as_wished(alone, wishes), count, piece))
    return tuple(files)


def _as_wished(sheet: PrintSheet, wishes: SheetWishes) -> PrintSheet:
    return replace(sheet, mirrored=wishes.mirrored, white_ground=wishes.white_ground)
