"""Words of the placement guides."""

from collections.abc import Iterable

PLACEMENT_GUIDE, PLACEMENT_GUIDES = "Placement guide", "Placement guides"
NOTHING_TO_PLACE = "Nothing to place yet."
CENTRE_LINE = "centre line"


def guide_of(label: str, sizes: Iterable[str]) -> str:
    return f"{PLACEMENT_GUIDE} {label}, {', '.join(sizes)}"


def heading(label: str, garment: str, place: str) -> str:
    return f"{label}  {garment}, {place}"


def where(sizes: Iterable[str], reach: str, measured_from: str, *, is_above: bool) -> str:
    """How far the print's edge lies from the mark; upwards where `is_above`."""
    edge, side = ("lower", "above") if is_above else ("upper", "below")
    return f"{', '.join(sizes)}: {edge} edge {reach} {side} the {measured_from}"


def aside(to_the_side: str, *, is_centred: bool) -> str:
    return to_the_side if is_centred else f"centre {to_the_side}"


def instructions(where: str, aside: str, size: str, *, is_half: bool, is_cut: bool, is_above: bool) -> str:
    text = f"{where}, {aside}; print {size}"
    if is_half:
        text += ". One half: turn over for the other"
    if is_cut:
        text += f". The print goes on beyond this paper, to its {'upper' if is_above else 'lower'} edge"
    return text


def lay_on(measured_from: str) -> str:
    return f"lay this line on the {measured_from}"


def check_rule(long: str) -> str:
    return f"This rule is {long} long. If a ruler says otherwise, print again at 100 %, not “fit to page”."
