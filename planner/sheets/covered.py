"""How full a sheet is."""

from collections.abc import Mapping

from shapely import clip_by_rect, union_all

from planner.measures.layout import Layout
from planner.sheets.outline import Outline
from planner.sheets.validate import placed_outline


def covered_share(layout: Layout, outlines: Mapping[str, Outline] | None = None) -> float:
    """Share of a sheet that pieces cover, from 0 to 1: inside their outlines by print key, else boxes.

    What lies twice in one place counts once, and what hangs over the edge counts for nothing.
    """
    known = outlines or {}
    shapes = [placed_outline(placement, known.get(placement.print)) for placement in layout.placements]
    covered = clip_by_rect(union_all(shapes), 0, 0, layout.sheet.width_mm, layout.sheet.height_mm)
    return float(covered.area) / layout.sheet.area_mm2
