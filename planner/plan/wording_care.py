"""Sentences of the customer's care card."""

from planner.measures.temperature import format_temperature
from planner.pressing.care import CareAdvice, CareKind

_SENTENCES = {
    CareKind.WAIT: "Wait {hours} hours after pressing before the first wash: the print is still setting.",
    CareKind.INSIDE_OUT: "Turn the garment inside out before you wash it.",
    CareKind.WASH_COOL: "Wash cool or warm, at {heat} or less, with a mild detergent.",
    CareKind.SPONGE: "Sponge it clean by hand with cool water and a drop of mild detergent.",
    CareKind.NO_BLEACH: "Keep bleach away from the print.",
    CareKind.NO_SOFTENER: "Leave out fabric softener: it loosens the print.",
    CareKind.DRY_LOW: "Tumble dry on low heat, or hang it up.",
    CareKind.LINE_DRY: "Hang it up to dry; no tumble dryer.",
    CareKind.IRON_AWAY: "Never put an iron straight on the print. Iron from the inside{limit}.",
    CareKind.NO_IRON: "Do not iron it.",
    CareKind.NO_SOLVENT: "Dry-cleaning solvents can dissolve the print: have it washed instead.",
    CareKind.LABEL_WINS: "Where the garment's own label asks for more care than this, follow the label.",
}


def care(advice: CareAdvice) -> str:
    """One piece of advice as the customer reads it."""
    figure = advice.figure or 0
    heat = format_temperature(figure)
    return _SENTENCES[advice.kind].format(
        hours=f"{figure:.0f}",
        heat=heat,
        limit=f", at {heat} or less" if advice.figure else "",
    )
