"""Areas and colours at print size: soft edges, grounds, contrast with the cloth, margins, heavy areas."""

from planner.artwork.colour import difference
from planner.artwork.facts import InkBox
from planner.artwork.shape_checks import Case
from planner.job.findings import Finding, FindingKind, Region, Seriousness
from planner.shop.swatches import USUAL

_EDGE_RAMP_MM = 0.25
"""Half of a least stroke: a ramp as wide as this reads as an edge, not as a fade."""
_LEAST_SOFT_MM2 = 4.0
_LEAST_SOFT_SHARE = 0.001
_FADED_SHARE = 0.25
"""From here on it is not an edge that is soft, but the artwork that is faint."""

HARD_TO_SEE_DE = 10.0
"""CIEDE2000 to the cloth below which a colour is hard to see across a room (from memory)."""
_BORDERS_SHARE = 0.1
"""Share of the edges from where on a colour like the cloth's eats the shape away."""
_INNER_SHARE = 0.2
_GONE_SHARE = 0.6
_SHOWS_WELL_DE = 20.0
"""Cloth is only suggested where every colour that matters is twice as far from it as is hard to see."""
_MATTERS_SHARE = 0.03

_WHOLE_SHARE = 0.995
"""A flat ground that is all there is surrounds no motif."""

_LEAST_MARGIN_SHARE = 0.04
_WIDE_MARGIN_SHARE = 0.25
_LEAST_MARGIN_MM2 = 300.0

_HEAVY_BLOCK_MM = 40.0
"""Only blocks in which a square of this side fits count as solid."""
_HEAVY_MM2 = 20_000.0
_VERY_HEAVY_MM2 = 50_000.0
"""A hand and a half, a whole front: common practice warns of it without a figure, so these are ours."""


def soft(case: Case) -> tuple[Finding, ...]:
    """Semi-transparent ink in ramps wider than an edge needs."""
    if case.rule.soft_edges:
        return ()
    facts, mm_per_px = case.facts, case.mm_per_px
    if not facts.soft:
        return ()
    allowed_px = min(max(2.0, _EDGE_RAMP_MM / mm_per_px), 32.0)
    level = next((level for level in facts.soft if level.wider_than_px > allowed_px), None)
    if level is None:
        return ()
    area_mm2 = level.area_px * mm_per_px**2
    share = min(1.0, level.area_px / max(1.0, _covered_px(case)))
    if area_mm2 < _LEAST_SOFT_MM2 or share < _LEAST_SOFT_SHARE:
        return ()
    return (
        case.finding(
            FindingKind.SOFT_EDGES,
            Seriousness.STOP if share >= _FADED_SHARE else Seriousness.LOOK,
            found=round(share, 4),
            area_mm2=round(area_mm2, 1),
            on_dark=case.line.colour.is_dark,
            regions=level.regions,
        ),
    )


def _covered_px(case: Case) -> float:
    """Pixels with any ink: the solid ones, and the semi-transparent ones in full."""
    semi = case.facts.soft[0].area_px if case.facts.soft else 0.0
    return case.facts.ink_px + semi / 2


def ground(case: Case) -> tuple[Finding, ...]:
    """An opaque box, or a rectangle that may well be meant."""
    found = case.facts.ground
    if found is not None and found.share < _WHOLE_SHARE:
        return (
            case.finding(
                FindingKind.BOX, Seriousness.LOOK, found=found.share, subject=found.hex, regions=(_ink(case),)
            ),
        )
    if case.facts.rectangle:
        return (case.finding(FindingKind.RECTANGLE, Seriousness.NOTE),)
    return ()


def contrast(case: Case) -> tuple[Finding, ...]:
    """Main colours so near the cloth's that they disappear.

    What borders on cloth eats the shape away; what lies inside other ink only reads as a hole.
    """
    cloth = case.line.colour.hex
    like = [colour for colour in case.facts.colours if difference(colour.hex, cloth) < HARD_TO_SEE_DE]
    if not like:
        return ()
    share = sum(colour.share for colour in like)
    edge_share = sum(colour.edge_share for colour in like)
    if edge_share >= _BORDERS_SHARE:
        gone = min(share, edge_share) >= _GONE_SHARE
        seriousness = Seriousness.STOP if gone else Seriousness.LOOK
    elif share >= _INNER_SHARE:
        seriousness = Seriousness.NOTE
    else:
        return ()
    nearest = min(like, key=lambda colour: difference(colour.hex, cloth))
    return (
        case.finding(
            FindingKind.LOW_CONTRAST,
            seriousness,
            line=case.line.key,
            found=round(min(1.0, share), 4),
            needed=HARD_TO_SEE_DE,
            difference_de=round(difference(nearest.hex, cloth), 1),
            subject=nearest.hex,
            detail=_better_cloth(case),
            regions=tuple(region for colour in like for region in colour.regions)[:12],
        ),
    )


def _better_cloth(case: Case) -> str:
    """The usual cloth colour most like the garment's on which all of the artwork shows; empty if none is."""
    inks = [colour.hex for colour in case.facts.colours if colour.share >= _MATTERS_SHARE]
    showing = [
        swatch for swatch in USUAL if all(difference(ink, swatch.hex) >= _SHOWS_WELL_DE for ink in inks)
    ]
    cloth = case.line.colour.hex
    return min(showing, key=lambda swatch: difference(swatch.hex, cloth)).name if inks and showing else ""


def margin(case: Case) -> tuple[Finding, ...]:
    """Clear margin around the ink: the paid area is the whole box."""
    facts = case.facts
    if facts.ink is None:
        return ()
    all_px = facts.width_px * facts.height_px
    empty = 1.0 - facts.ink.width_px * facts.ink.height_px / all_px
    area_mm2 = empty * all_px * case.mm_per_px**2
    if empty < _LEAST_MARGIN_SHARE or area_mm2 < _LEAST_MARGIN_MM2:
        return ()
    return (
        case.finding(
            FindingKind.EMPTY_MARGIN,
            Seriousness.LOOK if empty >= _WIDE_MARGIN_SHARE else Seriousness.NOTE,
            found=round(empty, 4),
            area_mm2=round(area_mm2, 1),
            regions=_around(facts.ink, facts.width_px, facts.height_px),
        ),
    )


def heavy(case: Case) -> tuple[Finding, ...]:
    """Unbroken ink so large that it feels heavy, does not breathe and creases."""
    facts, mm_per_px = case.facts, case.mm_per_px
    block = next((level for level in facts.solid if level.side_px * mm_per_px >= _HEAVY_BLOCK_MM), None)
    if block is None or block.area_px * mm_per_px**2 < _HEAVY_MM2:
        return ()
    area_mm2 = block.area_px * mm_per_px**2
    is_very_heavy = area_mm2 >= _VERY_HEAVY_MM2
    return (
        case.finding(
            FindingKind.HEAVY_AREA,
            Seriousness.LOOK if is_very_heavy else Seriousness.NOTE,
            found=round(min(1.0, block.area_px / max(1.0, facts.ink_px)), 4),
            needed=_VERY_HEAVY_MM2 if is_very_heavy else _HEAVY_MM2,
            area_mm2=round(area_mm2),
            regions=block.regions,
        ),
    )


def _ink(case: Case) -> Region:
    facts = case.facts
    ink = facts.ink
    assert ink is not None
    return Region(
        x=ink.left_px / facts.width_px,
        y=ink.top_px / facts.height_px,
        width=ink.width_px / facts.width_px,
        height=ink.height_px / facts.height_px,
    )


def _around(ink: InkBox, width_px: int, height_px: int) -> tuple[Region, ...]:
    """The bands left, right, above and below the ink."""
    left, right = ink.left_px / width_px, (ink.left_px + ink.width_px) / width_px
    top, bottom = ink.top_px / height_px, (ink.top_px + ink.height_px) / height_px
    bands = (
        Region(x=0, y=0, width=1, height=top),
        Region(x=0, y=bottom, width=1, height=1 - bottom),
        Region(x=0, y=top, width=left, height=bottom - top),
        Region(x=right, y=top, width=1 - right, height=bottom - top),
    )
    return tuple(band for band in bands if band.width > 0.002 and band.height > 0.002)
