"""How often the press must close on one print."""

import math

from planner.measures.geometry import Size
from planner.shop.book import Press

_SLACK_MM = 0.05


def pressings_on(size: Size, press: Press) -> int:
    """Closings one print needs on a press, the garment lying straight or turned by a quarter."""
    return min(
        _tiles(size, press.platen_width_mm, press.platen_height_mm),
        _tiles(size, press.platen_height_mm, press.platen_width_mm),
    )


def _tiles(size: Size, width_mm: float, height_mm: float) -> int:
    across = math.ceil((size.width_mm - _SLACK_MM) / width_mm)
    down = math.ceil((size.height_mm - _SLACK_MM) / height_mm)
    return max(across, 1) * max(down, 1)
