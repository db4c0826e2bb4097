"""Which findings the planner can mend by itself, and the job that results. The file is never touched."""

import math
from collections.abc import Mapping

from planner.artwork.facts import ArtworkFacts
from planner.artwork.fixes import suggest_trim
from planner.artwork.refit import drawn_finer
from planner.job import edits
from planner.job.document import Artwork, Job
from planner.job.findings import Finding, FindingKind
from planner.job.fixes import FRAMING, FixStep, HardenEdges, KnockOut, OutlineInk, RemoveSpecks, Thicken
from planner.measures.lengths import MM_PER_INCH
from planner.plan.stock import on_shelf, take_from_stock, use_stock
from planner.plan.wording import is_within_reach
from planner.shop.book import Shop
from planner.shop.cloth import Swatch

_MENDED_BY_WIDTH = frozenset({FindingKind.TOO_COARSE, FindingKind.THIN_GAPS})
_DRAWN_PPI = 600.0
"""Twice what offers need: an edge drawn so fine is not coarse where a printer is finer than asked."""
_MOST_DRAWN_PX = 60_000_000
_OUTLINE_MM = 0.8
"""A line around ink that shows across a room and holds on cloth: from memory."""


def mended(job: Job, shop: Shop, finding: Finding, facts: Mapping[str, ArtworkFacts]) -> Job | None:
    """The job with a finding mended, or None where a person has to do it."""
    if finding.kind in (FindingKind.STOCK_HELD, FindingKind.STOCK_SHORT):
        return use_stock(job, shop, finding.print)
    if finding.kind is FindingKind.STOCK_USED:
        pieces = [one.piece.key for one in on_shelf(job, shop) if one.piece.print == finding.print]
        return take_from_stock(job, shop, dict.fromkeys(pieces, 0))
    if finding.kind in _MENDED_BY_WIDTH:
        return _of_better_width(job, finding)
    artwork = next((one for one in job.artworks if one.key == finding.artwork), None)
    known = facts.get(finding.artwork or "")
    # Steps are in pixels: facts of an earlier state do not fit.
    if artwork is None or known is None:
        return None
    if artwork.size_px != (known.width_px, known.height_px):
        return None
    step = _step(job, shop, finding, artwork, known)
    if step is None:
        return None
    if finding.kind is FindingKind.LOW_CONTRAST and finding.print and _is_on_other_cloth(job, finding.print):
        # The line that shows on this cloth may be lost on the others, or spoil them.
        job = edits.set_apart(job, finding.print)
        artwork = job.artwork(job.print_of(finding.print).artwork)
    return with_fix(job, artwork, step)


def _is_on_other_cloth(job: Job, print_key: str) -> bool:
    """Whether the print's artwork is printed on cloth of another colour too."""
    print_ = job.print_of(print_key)
    cloths = {job.line(other.line).colour.hex for other in job.prints if other.artwork == print_.artwork}
    return len(cloths) > 1


def _of_better_width(job: Job, finding: Finding) -> Job | None:
    """The print no wider than its pixels allow, or no narrower than its gaps; on all groups of sizes."""
    best_mm = finding.best_width_mm
    if finding.print is None or best_mm is None or not is_within_reach(finding):
        return None
    print_ = job.print_of(finding.print)
    nearer = min if finding.kind is FindingKind.TOO_COARSE else max
    groups = tuple(
        own.model_copy(update={"width_mm": nearer(own.width_mm, best_mm)}) for own in print_.group_widths
    )
    width_mm = nearer(print_.width_mm, best_mm)
    return edits.change_print(job, print_.key, width_mm=width_mm, group_widths=groups)


def with_fix(job: Job, artwork: Artwork, step: FixStep) -> Job:
    """The job with one more fix; where it changes the picture's width the motif keeps its printed size.

    A step that works on pixels counts in those of `drawn_for_fixes`.
    """
    if not isinstance(step, FRAMING):
        artwork = drawn_for_fixes(job, artwork)
        job = edits.replace_file(job, artwork.key, artwork)
    before = artwork.size_px[0]
    job = edits.set_fixes(job, artwork.key, (*artwork.fixes, step))
    grown = job.artwork(artwork.key).size_px[0] / before
    for print_ in job.prints:
        if print_.artwork == artwork.key and grown != 1:
            groups = tuple(
                own.model_copy(update={"width_mm": own.width_mm * grown}) for own in print_.group_widths
            )
            job = edits.change_print(job, print_.key, width_mm=print_.width_mm * grown, group_widths=groups)
    return job


def drawn_for_fixes(job: Job, artwork: Artwork) -> Artwork:
    """Vector artwork in as many pixels as fixes need that work on them.

    Other artwork, and such as is mended in pixels already, is as it is.
    """
    return drawn_finely(job, artwork) if artwork.stays_vector else artwork


def drawn_finely(job: Job, artwork: Artwork) -> Artwork:
    """Vector artwork in so many pixels that its widest print has plenty, its fixes scaled with it."""
    prints = [print_ for print_ in job.prints if print_.artwork == artwork.key]
    widths_mm = [
        width_mm
        for print_ in prints
        for width_mm in (print_.width_mm, *(own.width_mm for own in print_.group_widths))
    ]
    times = max(widths_mm, default=0.0) / MM_PER_INCH * _DRAWN_PPI / artwork.size_px[0]
    most = math.sqrt(_MOST_DRAWN_PX / (artwork.width_px * artwork.height_px))
    times = max(1.0, min(times, most))
    return drawn_finer(artwork, (round(artwork.width_px * times), round(artwork.height_px * times)))


def _step(job: Job, shop: Shop, finding: Finding, artwork: Artwork, facts: ArtworkFacts) -> FixStep | None:
    kind = finding.kind
    if kind is FindingKind.EMPTY_MARGIN:
        return suggest_trim(facts)
    if kind is FindingKind.BOX:
        ground = facts.ground
        return None if ground is None or ground.gradient else KnockOut(colour=ground.hex)
    if kind is FindingKind.SOFT_EDGES:
        return HardenEdges()
    px_per_mm = _px_per_mm(job, finding, drawn_for_fixes(job, artwork))
    if px_per_mm is None:
        return None
    if kind is FindingKind.SPECKS:
        return RemoveSpecks(smaller_than_px=max(1.0, _least_speck_mm(job, shop, finding) * px_per_mm))
    if kind is FindingKind.THIN_STROKES and finding.found is not None and finding.needed is not None:
        # Thickening grows both sides of a stroke.
        return Thicken(by_px=max(0.5, (finding.needed - finding.found) / 2 * px_per_mm + 0.5))
    if kind is FindingKind.LOW_CONTRAST and finding.line is not None:
        colour = outline_colour(job.line(finding.line).colour)
        return OutlineInk(by_px=max(1.0, _OUTLINE_MM * px_per_mm), colour=colour)
    return None


def outline_colour(cloth: Swatch) -> str:
    """White on dark cloth, black on light."""
    return "#ffffff" if cloth.is_dark else "#000000"


def _px_per_mm(job: Job, finding: Finding, artwork: Artwork) -> float | None:
    print_ = next((one for one in job.prints if one.key == finding.print), None)
    return artwork.size_px[0] / print_.width_mm if print_ else None


def _least_speck_mm(job: Job, shop: Shop, finding: Finding) -> float:
    print_ = next(one for one in job.prints if one.key == finding.print)
    offer = shop.offer(job.offer_of(print_) or "")
    return offer.art.least_speck_mm if offer else 0.5
