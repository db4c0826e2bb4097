"""Phrases that several papers share."""

from collections.abc import Iterable

from planner.job.document import GarmentLine, Job
from planner.paper.print_sheet import artwork_of_piece
from planner.plan import wording


def size_counts(sizes: Iterable[tuple[str, int]]) -> str:
    """ "S × 4 · M × 12"; a size never parts from its count at a line's end."""
    return ", ".join(f"{size}\u00a0×\u00a0{count:,}" for size, count in sizes)


def line_name(line: GarmentLine) -> str:
    """How a garment line is called: "Everyday tee, ash grey"."""
    return f"{line.style or line.kind.value}, {line.colour.name}"


def piece_name(job: Job, piece_key: str) -> str:
    """What a piece is: artwork, garment and place, and the group of sizes where it has a width of its own."""
    artwork = artwork_of_piece(job, piece_key)
    if any(extra.key == piece_key for extra in job.extras):
        return f"{artwork.name}, extra"
    print_key, _, group = piece_key.partition("/")
    print_ = job.print_of(print_key)
    line = job.line(print_.line)
    place = wording.place(print_.location, print_.place_name)
    parts = [artwork.name, f"{line.style or line.kind.value} {place}", group]
    return ", ".join(part for part in parts if part)
