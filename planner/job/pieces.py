"""Which pieces a job needs on its sheets: one kind for each print and print width."""

from dataclasses import dataclass

from planner.job.document import Artwork, Job, MadeFor, Print
from planner.measures.geometry import Size
from planner.shop.garments import SizeGroup


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


def print_size(artwork: Artwork, width_mm: float) -> Size:
    """The printed size in millimetres at a width, after the artwork's fixes."""
    width_px, height_px = artwork.size_px
    return Size(width_mm, width_mm * height_px / width_px)


def print_of_piece(piece_key: str) -> str:
    """Key of the print (or extra) that a piece's key belongs to."""
    return piece_key.partition("/")[0]


def pieces_of(job: Job, print_: Print) -> tuple[NeededPiece, ...]:
    """The pieces one print needs: one a width, those that no garment needs left out."""
    line = job.line(print_.line)
    own_groups = {own.group for own in print_.group_widths}
    counts: dict[SizeGroup | None, int] = {}
    for size in line.sizes:
        group = size.group if size.group in own_groups else None
        counts[group] = counts.get(group, 0) + size.count
    artwork = job.artwork(print_.artwork)
    return tuple(
        NeededPiece(
            key=print_.key if group is None else f"{print_.key}/{group.value}",
            print=print_.key,
            artwork=artwork.key,
            size=print_size(artwork, print_.width_mm if group is None else print_.width_for(group)),
            count=count,
            may_turn=print_.may_turn,
        )
        for group, count in counts.items()
        if count
    )


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
            count=piece.count,
        )
        for piece in pieces
    )
