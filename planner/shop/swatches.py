"""Garment colours by their names."""

from collections.abc import Iterable

from planner.shop.cloth import Swatch

# Colours that most blanks come in, under plain names; how they look is our own reckoning.
USUAL = (
    Swatch(name="white", hex="#ffffff"),
    Swatch(name="natural", hex="#efe6d2"),
    Swatch(name="heather grey", hex="#b4b4b6"),
    Swatch(name="charcoal", hex="#45474b"),
    Swatch(name="black", hex="#17171a"),
    Swatch(name="navy", hex="#1b2a49"),
    Swatch(name="royal blue", hex="#1f4fa8"),
    Swatch(name="light blue", hex="#a9c8e4"),
    Swatch(name="forest green", hex="#1f4a37"),
    Swatch(name="red", hex="#b3202c"),
    Swatch(name="maroon", hex="#5b1a2b"),
    Swatch(name="purple", hex="#4b2d73"),
    Swatch(name="gold", hex="#e3a82b"),
    Swatch(name="orange", hex="#dd6122"),
    Swatch(name="pink", hex="#e9b3c3"),
    Swatch(name="brown", hex="#4d3529"),
)
UNKNOWN_HEX = "#9a9a9a"
"""How a colour looks of which only the name is known."""


def swatch_named(name: str, own: Iterable[Swatch] = ()) -> Swatch | None:
    """The colour of that name, a style's own before the usual ones; None where it is not known."""
    wanted = name.strip().casefold()
    return next((swatch for swatch in (*own, *USUAL) if swatch.name.casefold() == wanted), None)
