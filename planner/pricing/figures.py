"""How amounts and percentages are written inside a sum in figures."""

from decimal import Decimal

from planner.measures.money import minor_units


def figure(amount: Decimal, currency: str) -> str:
    """The amount with the currency's decimals, or with more where it has more: "4.10", "0.035"."""
    exact = amount.normalize()
    exponent = exact.as_tuple().exponent
    assert isinstance(exponent, int)  # amounts are finite
    return f"{exact:.{max(minor_units(currency), -exponent)}f}"


def percent(value: Decimal) -> str:
    """ "45 %", "2.9 %"; at most three decimals."""
    return f"{value.quantize(Decimal('0.001')).normalize():f} %"


def plus(terms: list[str]) -> str:
    """Terms joined by plus signs."""
    return " + ".join(terms)
