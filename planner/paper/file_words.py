"""Words about the files of an export: what was read back, what stands in the way of writing."""

from collections.abc import Iterable
from pathlib import Path

from planner.measures import figures

SHEET = "Sheet"
"""Title of a sheet file without one of its own."""

# Export.
LOOKS_DIFFERENT = "as vectors it would look different"
FIXES_ON_PIXELS = "its fixes work on pixels"


def no_paper(name: str, names: Iterable[str]) -> str:
    return f"There is no paper called “{name}”. There are: {', '.join(names)}."


def two_files(name: str) -> str:
    return (
        f"Two files would be called {name}: two offers of the shop book have keys too alike. "
        "Rename one of them."
    )


def as_pixels(artwork: str, why: str) -> str:
    return f"{artwork} is printed as pixels: {why}."


# Writing.
def folder_not_made(folder: Path, why: str) -> str:
    return f"The folder {folder} cannot be made ({why}). Choose another folder."


def stranger(path: Path) -> str:
    return (
        f"{path.name} is in {path.parent} already and was not made by the planner. "
        "Move it away, or choose another folder."
    )


def not_written(path: Path, why: str) -> str:
    return (
        f"{path.name} could not be written to {path.parent} ({why}). "
        "Free some room there, or choose another folder."
    )


# Reading back.
DAMAGED = "it is damaged"
NO_PNG = "it is no PNG"
NO_RESOLUTION = "it does not say its resolution"
OTHER_GROUND = "its ground is another than asked for"
STRAY = "something is printed where nothing should be"


def verified(name: str, size: str, pieces: int, worst_dots: float, ppi: float, pixels: int) -> str:
    counted = "1 piece" if pieces == 1 else f"{figures.whole(pieces)} pieces"
    return (
        f"{name}: verified, {size}, {counted} at most {figures.plain(worst_dots, 2)} px off at "
        f"{figures.plain(ppi, 0)} ppi, colour and alpha of {figures.whole(pixels)} pixels equal"
    )


def differs(name: str, what: str) -> str:
    return f"{name} was written but does not hold what was planned: {what}. It was not kept; export again."


def pages(number: int) -> str:
    return f"it has {number} pages instead of one"


def other_size(seen_mm: tuple[float, float], planned_mm: tuple[float, float]) -> str:
    seen, planned = (" × ".join(figures.plain(side, 2) for side in size) for size in (seen_mm, planned_mm))
    return f"the sheet is {seen} mm instead of {planned} mm"


def other_size_px(seen: tuple[int, int], planned: tuple[int, int]) -> str:
    return f"it is {seen[0]} × {seen[1]} px instead of {planned[0]} × {planned[1]}"


def pictures(seen: int, planned: int) -> str:
    return f"it holds {seen} pictures instead of {planned}"


def pieces(seen: int, planned: int) -> str:
    return f"it shows {seen} pieces instead of {planned}"


def no_vectors(artwork: str) -> str:
    return f"{artwork} is no longer vector artwork"


def other_jpeg(artwork: str) -> str:
    return f"{artwork} is not the file’s own JPEG"


def other_pixel_count(artwork: str) -> str:
    return f"{artwork} has another number of pixels"


def other_colours(artwork: str) -> str:
    return f"{artwork} has other colours"


def other_transparency(artwork: str) -> str:
    return f"{artwork} has another transparency"


def off_its_place(artwork: str, dots: float) -> str:
    return f"a piece of {artwork} lies {figures.plain(dots, 2)} px from its place"


def says_resolution(per_metre: int) -> str:
    return f"it says {per_metre} pixels per metre"


def ends_early(rows: int, of: int) -> str:
    return f"it ends after {rows} of {of} rows"


def other_pixels(left_px: int, top_px: int) -> str:
    return f"a piece at {left_px}, {top_px} px has other pixels"
