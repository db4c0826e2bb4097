"""Artwork judged at the size it prints, on the cloth it prints on: arithmetic on measured facts.

Units of `Finding.found` and `Finding.needed`, by kind:

TOO_COARSE, LOOKS_ENLARGED: ppi. SOFT_EDGES: percent of the ink, none needed. THIN_STROKES, THIN_GAPS,
SPECKS: mm. BOX: percent of the printed area. LOW_CONTRAST: CIEDE2000. EMPTY_MARGIN: percent of the
paid area. HEAVY_AREA: cm². TOO_MANY_COLOURS: colours.
"""

import math

from planner.artwork.facts import ArtworkFacts, SoftLevel
from planner.job.document import Artwork, GarmentLine, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import MM_PER_INCH, effective_ppi
from planner.shop.garments import Location
from planner.shop.offers import ArtRule

VIEWING_MM = {
    Location.FULL_BACK: 600.0,
    Location.FULL_FRONT: 450.0,
    Location.TOTE_FRONT: 450.0,
    Location.LEG: 450.0,
}
"""Usual viewing distances: arm's length and more for backs, 450 mm for what is looked at across a table."""
IN_THE_HAND_MM = 300.0
"""Chest, nape, sleeves, caps: small prints are looked at from near."""
_COARSE_ARC_MINUTES = 1.5
"""Pixels as wide as this are seen by an eye of acuity 0.67 too: really coarse."""
_PPI_SLACK = 0.995
"""Pixel counts are whole numbers and widths are rounded: 299 ppi is 300."""
_EDGE_RAMP_MM = 0.25
_LEAST_SOFT_MM2 = 4.0
_LEAST_SOFT_SHARE = 0.001
_FADED_SHARE = 0.25


def eye_ppi(viewing_mm: float, arc_minutes: float = 1.0) -> float:
    """The finest that the eye resolves at a distance: one arc-minute to the pixel (ISO 8596, acuity 1.0)."""
    return MM_PER_INCH / (viewing_mm * math.tan(math.radians(arc_minutes / 60.0)))


def print_ppi(artwork: Artwork, print_: Print, facts: ArtworkFacts | None = None) -> float:
    """Effective ppi at the print's width. Both axes scale alike, so one figure holds for both."""
    width_px, height_px = (facts.width_px, facts.height_px) if facts else artwork.size_px
    height_mm = print_.width_mm * height_px / width_px
    return min(effective_ppi(width_px, print_.width_mm), effective_ppi(height_px, height_mm))


def judge(
    facts: ArtworkFacts | None, artwork: Artwork, print_: Print, line: GarmentLine, rule: ArtRule
) -> tuple[Finding, ...]:
    """What is to be said about one print. Without facts only what the pixel size tells."""
    findings = [*_coarse(artwork, print_, rule)]
    if facts is not None:
        if facts.ink is None:
            return (_finding(FindingKind.EMPTY_ARTWORK, Seriousness.STOP, artwork, print_),)
        findings += _soft(facts, artwork, print_, rule)
        findings += _box(facts, artwork, print_)
    return tuple(findings)


def _finding(
    kind: FindingKind, seriousness: Seriousness, artwork: Artwork, print_: Print, **more: object
) -> Finding:
    return Finding.model_validate(
        {"kind": kind, "seriousness": seriousness, "artwork": artwork.key, "print": print_.key, **more}
    )


def _coarse(artwork: Artwork, print_: Print, rule: ArtRule) -> list[Finding]:
    if artwork.vector:
        return []
    ppi = print_ppi(artwork, print_)
    if ppi >= rule.needs_ppi * _PPI_SLACK:
        return []
    viewing_mm = VIEWING_MM.get(print_.location, IN_THE_HAND_MM)
    too_coarse = ppi < min(eye_ppi(viewing_mm, _COARSE_ARC_MINUTES), rule.needs_ppi)
    width_px, _ = artwork.size_px
    return [
        _finding(
            FindingKind.TOO_COARSE,
            Seriousness.STOP if too_coarse else Seriousness.LOOK,
            artwork,
            print_,
            found=round(ppi, 1),
            needed=rule.needs_ppi,
            best_width_mm=round(width_px * MM_PER_INCH / rule.needs_ppi, 2),
        )
    ]


def _level(levels: tuple[SoftLevel, ...], wider_than_px: float) -> SoftLevel | None:
    """The first level wide enough; for a picture finer than all of them, the widest."""
    wide = [level for level in levels if level.wider_than_px > wider_than_px]
    return wide[0] if wide else None


def _soft(facts: ArtworkFacts, artwork: Artwork, print_: Print, rule: ArtRule) -> list[Finding]:
    if rule.soft_edges:
        return []
    mm_per_px = print_.width_mm / facts.width_px
    level = _level(facts.soft, max(2.0, min(_EDGE_RAMP_MM / mm_per_px, 32.0)))
    if level is None:
        return []
    area_mm2 = level.area_px * mm_per_px**2
    share = level.area_px / max(facts.ink_px, level.area_px)
    if area_mm2 < _LEAST_SOFT_MM2 or share < _LEAST_SOFT_SHARE:
        return []
    return [
        _finding(
            FindingKind.SOFT_EDGES,
            Seriousness.STOP if share >= _FADED_SHARE else Seriousness.LOOK,
            artwork,
            print_,
            found=round(100 * share, 1),
            needed=0,
            regions=level.regions,
        )
    ]


def _box(facts: ArtworkFacts, artwork: Artwork, print_: Print) -> list[Finding]:
    if facts.ground is not None:
        return [
            _finding(
                FindingKind.BOX,
                Seriousness.LOOK,
                artwork,
                print_,
                found=round(100 * facts.ground.share, 1),
                subject=facts.ground.hex,
            )
        ]
    if facts.rectangle:
        return [_finding(FindingKind.RECTANGLE, Seriousness.NOTE, artwork, print_)]
    return []
