"""What trims, flips and turns come to: a window on the page, mirrored or not, turned by quarters.

They change no ink, so that vector artwork stays vector under them.
"""

from dataclasses import dataclass

from PIL import Image

from planner.job.document import Artwork
from planner.job.fixes import Flip, QuarterTurn, Trim

Window = tuple[float, float, float, float]
"""Left, top, width and height as shares of a page."""
WHOLE: Window = (0.0, 0.0, 1.0, 1.0)
_TURNS = (None, Image.Transpose.ROTATE_270, Image.Transpose.ROTATE_180, Image.Transpose.ROTATE_90)


@dataclass(frozen=True, slots=True)
class Framing:
    """A window on the page; what is seen there is mirrored left to right if so, then turned clockwise."""

    window: Window = WHOLE
    flipped: bool = False
    quarters: int = 0

    def before_turns(self, size: tuple[int, int]) -> tuple[int, int]:
        """The size that the window is drawn at, to have `size` once it is turned."""
        return (size[1], size[0]) if self.quarters % 2 else size

    def applied(self, drawn: Image.Image) -> Image.Image:
        """What was drawn of the window, mirrored and turned."""
        if self.flipped:
            drawn = drawn.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        turn = _TURNS[self.quarters]
        return drawn if turn is None else drawn.transpose(turn)


def framing_of(artwork: Artwork) -> Framing:
    """What the framing steps among an artwork's fixes come to; its other fixes are left out."""
    window, flipped, quarters = WHOLE, False, 0
    width, height = float(artwork.width_px), float(artwork.height_px)
    for fix in artwork.fixes:
        match fix:
            case Flip():
                # Mirroring what was turned is turning the other way what was mirrored.
                flipped, quarters = not flipped, -quarters % 4
            case QuarterTurn():
                quarters = (quarters + fix.quarters) % 4
                if fix.quarters % 2:
                    width, height = height, width
            case Trim():
                kept = (
                    fix.left_px / width,
                    fix.top_px / height,
                    fix.width_px / width,
                    fix.height_px / height,
                )
                window = _within(window, _turned_back(kept, quarters, flipped=flipped))
                width, height = float(fix.width_px), float(fix.height_px)
            case _:
                pass
    return Framing(window, flipped, quarters)


def _turned_back(part: Window, quarters: int, *, flipped: bool) -> Window:
    """A part of what is seen as the part of the page that it shows."""
    x, y, width, height = part
    for _ in range(quarters):
        x, y, width, height = y, 1 - x - width, height, width
    return (1 - x - width if flipped else x), y, width, height


def _within(outer: Window, inner: Window) -> Window:
    x, y, width, height = outer
    return x + inner[0] * width, y + inner[1] * height, inner[2] * width, inner[3] * height
