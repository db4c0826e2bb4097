"""Which findings the planner can mend by itself, and the job that results."""

from collections.abc import Mapping

from planner.artwork.facts import ArtworkFacts
from planner.job import edits
from planner.job.document import Job
from planner.job.findings import Finding, FindingKind
from planner.job.fixes import Trim


def mended(job: Job, finding: Finding, facts: Mapping[str, ArtworkFacts]) -> Job | None:
    """The job with a finding mended, or None where a person has to do it."""
    if finding.kind is FindingKind.TOO_COARSE and finding.print and finding.best_width_mm:
        return edits.change_print(job, finding.print, width_mm=finding.best_width_mm)
    known = facts.get(finding.artwork or "")
    if finding.kind is FindingKind.EMPTY_MARGIN and known and known.ink:
        artwork = job.artwork(finding.artwork or "")
        trim = Trim(
            left_px=known.ink.left_px,
            top_px=known.ink.top_px,
            width_px=known.ink.width_px,
            height_px=known.ink.height_px,
        )
        if artwork.vector or artwork.size_px != (known.width_px, known.height_px):
            return None
        before = known.width_px
        job = edits.set_fixes(job, artwork.key, (*artwork.fixes, trim))
        # The motif keeps its printed size: only the empty margin goes.
        for print_ in job.prints:
            if print_.artwork == artwork.key:
                width_mm = print_.width_mm * trim.width_px / before
                job = edits.change_print(job, print_.key, width_mm=width_mm)
        return job
    return None
