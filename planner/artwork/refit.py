"""Fixes fitted to another file: pixels scaled to its own, trims measured anew."""

from collections.abc import Callable

from planner.job.document import Artwork
from planner.job.fixes import (
    MOST_OUTLINE_PX,
    MOST_THICKEN_PX,
    FixStep,
    Halftone,
    OutlineInk,
    RemoveSpecks,
    Thicken,
    Trim,
)
from planner.shop.document import changed

_LEAST_CELL_PX = 2.0
_LEAST_PX = 0.5


def refitted(
    before: Artwork, file: Artwork, trim_of: Callable[[Artwork], Trim | None]
) -> tuple[FixStep, ...]:
    """The fixes of `before` as another file needs them, so that they mean the same in print.

    `trim_of` gives the trim to the ink of an artwork with its fixes, None where nothing is to trim. A trim
    with nothing to cut keeps all: the next file may have a margin again.
    """
    made: tuple[FixStep, ...] = ()
    for number, step in enumerate(before.fixes):
        was = changed(before, fixes=before.fixes[:number])
        now = changed(file, fixes=made)
        scale = now.size_px[0] / was.size_px[0]
        if isinstance(step, Trim):
            width_px, height_px = now.size_px
            whole = Trim(left_px=0, top_px=0, width_px=width_px, height_px=height_px)
            made = (*made, trim_of(now) or whole)
        else:
            made = (*made, scaled(step, scale))
    return made


def drawn_finer(artwork: Artwork, size_px: tuple[int, int]) -> Artwork:
    """Vector artwork that is drawn in other pixels for its fixes, which are scaled with them."""
    scale = size_px[0] / artwork.width_px
    finer = changed(artwork, width_px=size_px[0], height_px=size_px[1])
    return changed(finer, fixes=tuple(scaled(step, scale) for step in artwork.fixes))


def scaled(step: FixStep, scale: float) -> FixStep:
    """A step in pixels so many times as fine."""
    match step:
        case Trim():
            sides = {
                name: max(least, round(getattr(step, name) * scale))
                for name, least in (("left_px", 0), ("top_px", 0), ("width_px", 1), ("height_px", 1))
            }
            return changed(step, **sides)
        case RemoveSpecks():
            return changed(step, smaller_than_px=max(_LEAST_PX, step.smaller_than_px * scale))
        case Halftone():
            return changed(step, cell_px=max(_LEAST_CELL_PX, step.cell_px * scale))
        case Thicken():
            return changed(step, by_px=min(MOST_THICKEN_PX, max(_LEAST_PX, step.by_px * scale)))
        case OutlineInk():
            return changed(step, by_px=min(MOST_OUTLINE_PX, max(_LEAST_PX, step.by_px * scale)))
        case _:
            return step
