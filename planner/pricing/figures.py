"""How amounts and percentages are written inside a sum in figures."""

from decimal import Decimal

from planner.measures.figures import written
from planner.measures.money import minor_units


def figure(amount: Decimal, currency: str) -> str:
    """The amount with the currency's decimals, or with more where it has more: "4.10", "0.035"."""
    shortest = amount.normalize()
    exponent = shortest.as_tuple().exponent
    assert isinstance(exponent, int)  # amounts are finite
    return written(f"{shortest:.{max(minor_units(currency), -exponent)}f}")


def percent(value: Decimal) -> str:
    """ "45 %", "2.9 %"; at most three decimals."""
    return f"{exact(value.quantize(Decimal('0.001')))} %"


def exact(value: Decimal) -> str:
    """A figure with the decimals that say something: "12", "2.5"."""
    return written(f"{value.normalize():f}")


def plus(terms: list[str]) -> str:
    """Terms joined by plus signs."""
    return " + ".join(terms)
