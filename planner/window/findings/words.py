"""Words of the list of findings."""

from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import LengthUnit, format_length

NO_FINDINGS = "Nothing found so far."
NO_FINDINGS_WHY = "Artwork is checked at its print size as soon as it is on a garment."
FOLD = "Fold"
UNFOLD = "Unfold"
GROUPS = {
    Seriousness.STOP: "Stop: do not send it like this",
    Seriousness.LOOK: "Look: you decide",
    Seriousness.NOTE: "Note: good to know",
}
DECIDED = "Decided"
NEW_FINDING = "new"
GONE_FINDINGS = "No longer found"
SHOW = "Show"
DECIDE = "Decide…"
REASON = "Why it is all right like this"
REASON_ON_PROOF = "Why it is all right: the customer reads it on the proof"
KEEP_DECISION = "Keep decision"
CANCEL = "Cancel"
TAKE_BACK = "Take back"


def fix_name(finding: Finding, unit: LengthUnit) -> str:
    """What mending a finding does."""
    if finding.kind in (FindingKind.TOO_COARSE, FindingKind.THIN_GAPS) and finding.best_width_mm:
        return f"Print it {format_length(finding.best_width_mm, unit)} wide"
    return {
        FindingKind.EMPTY_MARGIN: "Trim",
        FindingKind.BOX: "Knock out",
        FindingKind.SPECKS: "Remove specks",
        FindingKind.SOFT_EDGES: "Harden edges",
        FindingKind.THIN_STROKES: "Thicken",
        FindingKind.LOW_CONTRAST: "Outline",
        FindingKind.STOCK_HELD: "Use from stock",
        FindingKind.STOCK_USED: "Order new ones",
        FindingKind.STOCK_SHORT: "Order the others",
        FindingKind.LATE: "What would be in time…",
    }.get(finding.kind, "Mend")
