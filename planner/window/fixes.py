"""What the planner mends by itself: which findings, and the undo step that does it."""

from planner.job.findings import Finding, FindingKind
from planner.plan.model import Plan
from planner.window.desk import Desk
from planner.window.findings.words import fix_name
from planner.window.gallery import Gallery
from planner.window.lateness import Lateness
from planner.window.mending import mended


class Fixes:
    """Mends what a finding tells of, or opens the ways to be in time."""

    def __init__(self, desk: Desk, gallery: Gallery, lateness: Lateness) -> None:
        self._desk, self._gallery, self._lateness = desk, gallery, lateness

    def fixable(self, plan: Plan) -> frozenset[str]:
        """Ids of the plan's findings that `fix` has an answer to."""
        job, shop = self._desk.job, self._desk.shop
        facts = self._gallery.facts(job)
        return frozenset(
            found.id
            for found in plan.findings
            if found.kind is FindingKind.LATE or mended(job, shop, found, facts)
        )

    def fix(self, finding: Finding) -> None:
        job, shop = self._desk.job, self._desk.shop
        facts = self._gallery.facts(job)
        if finding.kind is FindingKind.LATE:
            self._lateness.open(facts)
            return
        after = mended(job, shop, finding, facts)
        if after is not None:
            self._desk.apply(fix_name(finding, shop.unit), after)
