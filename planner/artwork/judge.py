"""Artwork judged at the size it prints, on the cloth it prints on: arithmetic on measured facts.

Units of `Finding.found` and `Finding.needed`, by kind:

| kind | found | needed |
| --- | --- | --- |
| TOO_COARSE, LOOKS_ENLARGED | ppi | ppi |
| SOFT_EDGES | share of the ink, 0 to 1; `area_mm2`, `on_dark` | none |
| THIN_STROKES, THIN_GAPS | thinnest, mm | least width, mm |
| SPECKS | how many | least size, mm |
| BOX | share of the ground, 0 to 1; `subject` its colour | none |
| LOW_CONTRAST | share that disappears, 0 to 1; `subject` the colour nearest to the cloth, `difference_de` \
how far from it, `detail` cloth on which all would show | CIEDE2000 |
| EMPTY_MARGIN | share of the paid area, 0 to 1 | none |
| HEAVY_AREA | share of the ink, 0 to 1; `area_mm2` | area from which on it counts, mm² |
| OUT_OF_GAMUT | share of what the file shows, 0 to 1 | none |
| COLOURS_SHIFT | share of the ink, 0 to 1; `subject` the commonest of the colours | none |
| TEXT_NOT_OUTLINED | none; `detail` the fonts missing | 0 where none is missing |
| TOO_MANY_COLOURS | colours, none for gradients and photographs | colours |
"""

import math
from dataclasses import dataclass

from planner.artwork import shape_checks
from planner.artwork.facts import ArtworkFacts, Style
from planner.artwork.print_shift import colours_shift
from planner.artwork.shape_checks import Case
from planner.artwork.source import SourceNote
from planner.artwork.tone_checks import contrast, ground, heavy, margin, soft
from planner.job.document import Artwork, GarmentLine, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import MM_PER_INCH, effective_ppi
from planner.shop.document import changed
from planner.shop.garments import Location
from planner.shop.offers import ArtRule

VIEWING_MM = {
    Location.FULL_BACK: 600.0,
    Location.FULL_FRONT: 450.0,
    Location.TOTE_FRONT: 450.0,
    Location.LEG: 450.0,
}
"""Usual viewing distances: arm's length for backs, across a table for fronts."""
IN_THE_HAND_MM = 300.0
"""Chest, nape, sleeves, caps: small prints are looked at from near."""
_COARSE_ARC_MINUTES = 1.5
"""Pixels as wide as this are seen by an eye of acuity 0.67 too: really coarse."""
_PPI_SLACK = 0.995
"""Pixel counts are whole and widths are rounded: 299 ppi is 300."""
_GUESSED = {
    SourceNote.CMYK_WITHOUT_PROFILE: "from CMYK without a profile",
    SourceNote.UNUSABLE_PROFILE: "its profile cannot be used",
}
"""Where colours are a guess, and why."""
_SURE = 0.9
"""Nobody is told that a picture looks enlarged below this confidence."""


def eye_ppi(viewing_mm: float, arc_minutes: float = 1.0) -> float:
    """The finest that the eye resolves at a distance: one arc-minute to the pixel (ISO 8596, acuity 1.0)."""
    return MM_PER_INCH / (viewing_mm * math.tan(math.radians(arc_minutes / 60.0)))


def viewing_mm(location: Location) -> float:
    """From how far a print in this location is usually looked at."""
    return VIEWING_MM.get(location, IN_THE_HAND_MM)


def print_ppi(artwork: Artwork, print_: Print, width_mm: float | None = None) -> float:
    """Effective ppi of a print, at `width_mm` or its own width. The smaller of both axes counts."""
    width_px, height_px = artwork.size_px
    width_mm = width_mm or print_.width_mm
    # Prints keep the artwork's proportions, so that both axes agree but for rounding.
    height_mm = width_mm * height_px / width_px
    return min(effective_ppi(width_px, width_mm), effective_ppi(height_px, height_mm))


def judge(
    facts: ArtworkFacts | None, artwork: Artwork, print_: Print, line: GarmentLine, rule: ArtRule | None
) -> tuple[Finding, ...]:
    """What is to be said about one print. Without facts only what the pixel size tells.

    Without a rule of an offer it is judged by what most transfers need, and each finding says so.

    Where groups of sizes have widths of their own, coarseness is judged at the widest and detail at the
    narrowest.
    """
    if rule is None:
        found = judge(facts, artwork, print_, line, ArtRule())
        return tuple(changed(finding, offer_open=True) for finding in found)
    if facts is None:
        return tuple(_coarse(artwork, print_, rule))
    case = Case(facts, artwork, print_, line, rule)
    if facts.ink is None:
        return (case.finding(FindingKind.EMPTY_ARTWORK, Seriousness.STOP), *_source(case))
    return (
        *_coarse(artwork, print_, rule),
        *_enlarged(case),
        *soft(case),
        *shape_checks.thin(case, FindingKind.THIN_STROKES, facts.strokes),
        *shape_checks.thin(case, FindingKind.THIN_GAPS, facts.gaps),
        *shape_checks.specks(case),
        *ground(case),
        *contrast(case),
        *margin(case),
        *heavy(case),
        *_colours(case),
        *colours_shift(case),
        *_source(case),
    )


@dataclass(frozen=True, slots=True)
class Resolution:
    """Effective ppi held against what is needed and what the eye sees: what a meter shows."""

    ppi: float
    needed: float
    eye: float
    """What the eye resolves at the location's usual viewing distance."""
    coarse: float
    """Below this it is really coarse."""

    @property
    def seriousness(self) -> Seriousness | None:
        """None: it will do."""
        if self.ppi >= self.needed * _PPI_SLACK:
            return None
        return Seriousness.STOP if self.ppi < self.coarse else Seriousness.LOOK


def resolution(artwork: Artwork, print_: Print, rule: ArtRule) -> Resolution:
    """How fine a print comes out at its widest."""
    distance_mm = viewing_mm(print_.location)
    return Resolution(
        ppi=print_ppi(artwork, print_, max(_widths_mm(print_))),
        needed=rule.needs_ppi,
        eye=eye_ppi(distance_mm),
        coarse=min(eye_ppi(distance_mm, _COARSE_ARC_MINUTES), rule.needs_ppi),
    )


def _widths_mm(print_: Print) -> tuple[float, ...]:
    return (print_.width_mm, *(group.width_mm for group in print_.group_widths))


def _coarse(artwork: Artwork, print_: Print, rule: ArtRule) -> tuple[Finding, ...]:
    if artwork.stays_vector:
        return ()
    seen = resolution(artwork, print_, rule)
    if seen.seriousness is None:
        return ()
    width_px, _ = artwork.size_px
    return (
        Finding(
            kind=FindingKind.TOO_COARSE,
            seriousness=seen.seriousness,
            artwork=artwork.key,
            print=print_.key,
            found=round(seen.ppi, 1),
            needed=rule.needs_ppi,
            best_width_mm=round(width_px * MM_PER_INCH / rule.needs_ppi, 2),
            viewing_mm=viewing_mm(print_.location),
        ),
    )


def _enlarged(case: Case) -> tuple[Finding, ...]:
    sharpness = case.facts.sharpness
    if case.artwork.stays_vector or sharpness is None or sharpness.confidence <= _SURE:
        return ()
    as_good_as = print_ppi(case.artwork, case.print_, case.widest_mm) / sharpness.scale
    if as_good_as >= case.rule.needs_ppi * _PPI_SLACK:
        return ()
    return (
        case.finding(
            FindingKind.LOOKS_ENLARGED,
            Seriousness.LOOK,
            found=round(as_good_as),
            needed=case.rule.needs_ppi,
            confidence=round(sharpness.confidence, 3),
        ),
    )


def _colours(case: Case) -> tuple[Finding, ...]:
    most, flat = case.rule.most_colours, case.facts.flat_colours
    if most is None or (flat is not None and flat <= most):
        return ()
    return (
        case.finding(
            FindingKind.TOO_MANY_COLOURS,
            Seriousness.STOP,
            found=flat,
            needed=most,
            subject="" if case.facts.style is Style.FLAT else case.facts.style.value,
        ),
    )


def _source(case: Case) -> tuple[Finding, ...]:
    """What the file itself brought along."""
    notes, found = set(case.facts.notes), []
    if guessed := next((said for note, said in _GUESSED.items() if note in notes), ""):
        found.append(case.finding(FindingKind.CONVERTED, Seriousness.LOOK, subject=guessed))
    elif notes & {SourceNote.FROM_CMYK, SourceNote.FROM_PROFILE, SourceNote.FROM_LAB}:
        found.append(case.finding(FindingKind.CONVERTED, Seriousness.NOTE))
    if SourceNote.OUT_OF_SRGB in notes:
        beyond = case.facts.out_of_srgb
        share, regions = (beyond.share, beyond.regions) if beyond else (None, ())
        found.append(case.finding(FindingKind.OUT_OF_GAMUT, Seriousness.NOTE, found=share, regions=regions))
    if SourceNote.FONT_NOT_EMBEDDED in notes:
        names = ", ".join(case.facts.loose_fonts)
        found.append(case.finding(FindingKind.TEXT_NOT_OUTLINED, Seriousness.LOOK, detail=names))
    elif SourceNote.TEXT_NOT_OUTLINED in notes:
        found.append(case.finding(FindingKind.TEXT_NOT_OUTLINED, Seriousness.NOTE, needed=0))
    return tuple(found)
