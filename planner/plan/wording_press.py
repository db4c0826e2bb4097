"""Sentences of the press room: what wins over a card, and how long the work takes."""

from planner.measures.lengths import LengthUnit, format_length
from planner.measures.temperature import format_temperature
from planner.plan.wording import count
from planner.pressing.card import PressCard, PressWork


def over_label(card: PressCard) -> str:
    """That the press is hotter than the care label allows, who wins, and what the shop decided."""
    if card.label_limit_c:
        said = f"Hotter than the garment’s care label allows ({format_temperature(card.label_limit_c)})."
    else:
        said = "The garment’s care label forbids ironing."
    if card.label_decision:
        return f"{said} The shop decided: “{card.label_decision.rstrip('.')}”. Press a test piece first."
    return f"{said} The label wins over the offer: settle this before you press."


def to_the_side(aside_mm: float, unit: LengthUnit) -> str:
    """How far a print's centre is from the garment's centre line: "4 in to the wearer’s left"."""
    if not aside_mm:
        return "on the centre line"
    return f"{format_length(abs(aside_mm), unit)} to the wearer’s {'left' if aside_mm > 0 else 'right'}"


def pressings(times: int) -> str:
    """ "pressed once", "pressed 2 times"."""
    return "pressed once" if times == 1 else f"pressed {times} times"


def duration(minutes: float) -> str:
    """ "45 min", "3 h 20 min"."""
    whole = round(minutes)
    return f"{whole} min" if whole < 60 else f"{whole // 60} h {whole % 60:02d} min"


def resets(work: PressWork) -> str:
    """ "none", "2 times, 10 min"."""
    return f"{count(work.resets, 'time')}, {duration(work.reset_min)}" if work.resets else "none"


def pace(work: PressWork) -> str:
    """ "about 58 prints an hour": once the presses are warm."""
    return f"about {count(max(1, round(work.pieces_an_hour)), 'print')} an hour"
