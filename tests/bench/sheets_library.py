"""The same instances given to the libraries that the arranger is held against."""

from typing import Any

import rectpack
import spyrrow

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.nest import WORKERS
from planner.sheets.validate import faults

_MAXRECTS = (rectpack.MaxRectsBssf, rectpack.MaxRectsBaf, rectpack.MaxRectsBlsf, rectpack.MaxRectsBl)
_GUILLOTINE = (
    rectpack.GuillotineBssfSas,
    rectpack.GuillotineBssfMaxas,
    rectpack.GuillotineBafSas,
    rectpack.GuillotineBafMaxas,
)
_SORTS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI)


def rectpack_sheets(items: list[list[int]], width: int, height: int, way: Way) -> int | None:
    """Fewest sheets over its MaxRects variants; for straight cuts only separable layouts count.

    For those its guillotine variants are tried too, although some of their layouts cannot be cut.
    """
    best: int | None = None
    algorithms = _MAXRECTS + _GUILLOTINE if way is Way.STRAIGHT else _MAXRECTS
    for algorithm in algorithms:
        for sort in _SORTS:
            for bins in (rectpack.PackingBin.BFF, rectpack.PackingBin.BBF):
                packer = rectpack.newPacker(pack_algo=algorithm, sort_algo=sort, bin_algo=bins, rotation=True)
                for number, (w, h) in enumerate(items):
                    packer.add_rect(w, h, number)
                packer.add_bin(width, height, count=len(items))
                packer.pack()
                if best is not None and len(packer) >= best:
                    continue
                if way is Way.STRAIGHT and not _separable(packer, width, height):
                    continue
                best = len(packer)
    return best


def _separable(packer: Any, width: int, height: int) -> bool:
    sheets: dict[int, list[Placement]] = {}
    for sheet, x, y, w, h, number in packer.rect_list():
        sheets.setdefault(sheet, []).append(Placement(str(number), x, y, w, h))
    size = Size(width, height)
    return not any(
        faults(Layout(size, tuple(p)), gap_mm=0, margin_mm=0, way=Way.STRAIGHT) for p in sheets.values()
    )


def rectpack_height(items: list[list[int]], width: int, longest: int) -> int:
    """Shortest strip over its MaxRects variants."""
    best = longest
    for algorithm in _MAXRECTS:
        for sort in _SORTS:
            packer = rectpack.newPacker(pack_algo=algorithm, sort_algo=sort, rotation=True)
            for w, h in items:
                packer.add_rect(w, h)
            packer.add_bin(width, longest)
            packer.pack()
            if len(packer.rect_list()) == len(items):
                best = min(best, max(y + h for _, _, y, _, h, _ in packer.rect_list()))
    return best


def spyrrow_width(instance: dict[str, Any], seconds: float, seed: int) -> float:
    """Strip length found by the nesting library alone, with as many workers as here."""
    items = [
        spyrrow.Item(
            str(item["id"]),
            [(x, y) for x, y in item["shape"]],
            demand=item["demand"],
            allowed_orientations=item.get("allowed_orientations"),
        )
        for item in instance["items"]
    ]
    strip = spyrrow.StripPackingInstance("strip", strip_height=instance["strip_height"], items=items)
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        total_computation_time=max(1, round(seconds)),
        num_workers=WORKERS,
        seed=seed,
    )
    return float(strip.solve(config).width)
