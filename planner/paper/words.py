"""Phrases that several papers share."""

from collections.abc import Iterable

from planner.job.document import GarmentLine


def size_counts(sizes: Iterable[tuple[str, int]]) -> str:
    """ "S × 4 · M × 12"; a size never parts from its count at a line's end."""
    return " · ".join(f"{size}\u00a0×\u00a0{count:,}" for size, count in sizes)


def line_name(line: GarmentLine) -> str:
    """How a garment line is called: "Everyday tee, ash grey"."""
    return f"{line.style or line.kind.value}, {line.colour.name}"
