"""Amounts of money: `Decimal` all through, rounded in one place."""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

# ISO 4217: currencies whose minor unit is not one hundredth.
_WITHOUT = ("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV")
_WITHOUT_CFA_CFP = ("XAF", "XOF", "XPF")
_THOUSANDTHS = ("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND")
_MINOR_UNITS = {
    **dict.fromkeys((*_WITHOUT, *_WITHOUT_CFA_CFP), 0),
    **dict.fromkeys(_THOUSANDTHS, 3),
    **dict.fromkeys(("CLF", "UYW"), 4),
}


def minor_units(currency: str) -> int:
    """Decimal places of an ISO 4217 currency."""
    return _MINOR_UNITS.get(currency, 2)


def round_money(amount: Decimal, currency: str) -> Decimal:
    """The amount to the currency's smallest coin, halves away from zero."""
    return amount.quantize(Decimal(1).scaleb(-minor_units(currency)), rounding=ROUND_HALF_UP)


def total(amounts: Iterable[Decimal]) -> Decimal:
    """The sum as a `Decimal` even of nothing."""
    return sum(amounts, Decimal(0))
