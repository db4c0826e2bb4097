"""What a customer is told about artwork before approving it: what will be seen, not what the shop may do.

Findings about prices, printers and dates are the shop's and have no sentence here.
"""

from planner.job.findings import Finding, FindingKind
from planner.measures.figures import plain
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.plan.kind_words import subject_name

_SENTENCES = {
    FindingKind.TOO_COARSE: "The file gives {ppi} pixels per inch at this size and will look soft.",
    FindingKind.LOOKS_ENLARGED: "The file looks enlarged from a smaller one: fine detail may be missing.",
    FindingKind.SOFT_EDGES: "Faint, see-through areas will print as a milky haze or not at all.",
    FindingKind.THIN_STROKES: "The thinnest lines are {mm} mm: they may not hold in the wash.",
    FindingKind.THIN_GAPS: "The narrowest gaps are {mm} mm: they may fill in.",
    FindingKind.SPECKS: "Single specks will not transfer.",
    FindingKind.BOX: "The motif stands in a box of flat colour, and the box will be printed.",
    FindingKind.RECTANGLE: "The picture prints as a rectangle with straight edges.",
    FindingKind.LOW_CONTRAST: "Parts are close to the garment’s colour and will be hard to see.",
    FindingKind.HEAVY_AREA: "Large solid areas feel heavy on the garment and may crease.",
    FindingKind.TOO_MANY_COLOURS: "This kind of print shows fewer colours than the artwork has.",
    FindingKind.OUT_OF_GAMUT: "Some colours are brighter than print can show and will look duller.",
    FindingKind.COLOURS_SHIFT: "Some colours are out of reach of this kind of print and will look different.",
    FindingKind.WIDER_THAN_USUAL: "The print is wider than usual for this place: {length}.",
    FindingKind.OVER_HARD_PART: "The print crosses a hard part{subject}, where it may not hold.",
    FindingKind.PRINTS_TOO_CLOSE: "This print comes close to another one.",
}


def to_accept(found: Finding, unit: LengthUnit) -> str | None:
    """The customer's sentence for a finding; None where it is no concern of the customer's."""
    sentence = _SENTENCES.get(found.kind)
    if sentence is None:
        return None
    figure = found.found or 0.0
    return sentence.format(
        ppi=f"{figure:.0f}",
        mm=plain(figure, 2),
        length=wording.length(figure, unit),
        subject=f" ({subject_name(found)})" if found.subject else "",
    )


def is_on_proof(found: Finding) -> bool:
    """Whether the customer reads of the finding, and of what the shop decided about it."""
    return found.print is not None and found.kind in _SENTENCES
