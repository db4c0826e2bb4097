"""Strokes, gaps and specks held against the least that a transfer can hold at print size."""

from dataclasses import dataclass
from typing import Any

from planner.artwork.facts import ArtworkFacts, Thin
from planner.artwork.specks import MOST_FOUND
from planner.job.document import Artwork, GarmentLine, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.shop.offers import ArtRule

_MEASURED_TO_PX = 0.5
"""Widths are measured to half a pixel: what is short by less is not accused."""
_LEAST_LENGTH = 3.0
"""In least widths: a shorter thin place holds by what is around it."""
_FAR_UNDER = 0.5
"""Under this share of the least width it is certain to be lost."""
_FAR_LENGTH_MM = 10.0


@dataclass(frozen=True, slots=True)
class Case:
    """One artwork as one print on one garment line at one offer's rule."""

    facts: ArtworkFacts
    artwork: Artwork
    print_: Print
    line: GarmentLine
    rule: ArtRule

    @property
    def widest_mm(self) -> float:
        return max(self.print_.width_mm, *(group.width_mm for group in self.print_.group_widths), 0.0)

    @property
    def narrowest_mm(self) -> float:
        return min((self.print_.width_mm, *(group.width_mm for group in self.print_.group_widths)))

    @property
    def finest_mm_per_px(self) -> float:
        """A pixel's size where the print is narrowest: what counts for detail."""
        return self.narrowest_mm / self.facts.width_px

    @property
    def mm_per_px(self) -> float:
        """A pixel's size where the print is widest: what counts for areas."""
        return self.widest_mm / self.facts.width_px

    def finding(self, kind: FindingKind, seriousness: Seriousness, **more: Any) -> Finding:
        return Finding(
            kind=kind, seriousness=seriousness, artwork=self.artwork.key, print=self.print_.key, **more
        )


def thin(case: Case, kind: FindingKind, widths: tuple[Thin, ...]) -> tuple[Finding, ...]:
    """Strokes (or gaps) thinner than the offer's least width, if there is enough of them to matter."""
    mm_per_px = case.finest_mm_per_px
    least_px = case.rule.least_stroke_mm / mm_per_px
    enough_px = _LEAST_LENGTH * max(1.0, least_px)
    under = [width for width in widths if width.width_px < least_px - _MEASURED_TO_PX]
    telling = [width for width in under if width.length_px >= enough_px]
    if not telling:
        return ()
    # Each step counts all narrower ones: the first that is long enough is the thinnest that matters.
    thinnest, all_of_them = telling[0], under[-1]
    lost_px = max(
        (width.length_px for width in under if width.width_px < _FAR_UNDER * least_px - _MEASURED_TO_PX),
        default=0.0,
    )
    lost = kind is FindingKind.THIN_STROKES and lost_px * mm_per_px >= _FAR_LENGTH_MM
    return (
        case.finding(
            kind,
            Seriousness.STOP if lost else Seriousness.LOOK,
            found=round(thinnest.width_px * mm_per_px, 2),
            needed=case.rule.least_stroke_mm,
            best_width_mm=round(_holding_width_mm(case, thinnest.width_px), 1),
            regions=all_of_them.regions,
        ),
    )


def _holding_width_mm(case: Case, thinnest_px: float) -> float:
    """The print width at which the thinnest stroke is just wide enough."""
    return case.rule.least_stroke_mm / thinnest_px * case.facts.width_px


def specks(case: Case) -> tuple[Finding, ...]:
    """Isolated bits smaller than the offer can transfer."""
    least_px = case.rule.least_speck_mm / case.finest_mm_per_px
    under = [speck for speck in case.facts.specks if speck.across_px < least_px]
    if not under:
        return ()
    all_looked_at = case.facts.specks[-1].count < MOST_FOUND
    return (
        case.finding(
            FindingKind.SPECKS,
            Seriousness.LOOK,
            found=under[-1].count,
            needed=case.rule.least_speck_mm,
            subject="" if all_looked_at else "at least",
            regions=under[-1].regions,
        ),
    )
