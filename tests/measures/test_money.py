"""Currencies' minor units and rounding, held against Babel's data and ISO 4217."""

from decimal import Decimal

import pytest
from babel.numbers import get_currency_precision, list_currencies

from planner.measures.money import minor_units, round_money, total

# ISO 4217 list one gives these a minor unit; the CLDR data in Babel leave it out, because coins that
# small have gone out of use. The planner keeps to ISO 4217.
OUT_OF_USE = {"AFN", "ALL", "IQD", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "RSD", "SOS", "SYP", "YER"}
# No longer in ISO 4217 list one.
WITHDRAWN = {"ADP", "BYR", "ESP", "ITL", "LUF", "MGF", "MRO", "SLL", "STD", "TMM", "TRL", "ZMK", "ZWD"}


def test_minor_units_agree_with_babel_where_coins_are_in_use() -> None:
    known = {code for code in list_currencies() if len(code) == 3} - OUT_OF_USE - WITHDRAWN
    assert len(known) > 250
    differing = {code for code in known if minor_units(code) != get_currency_precision(code)}
    assert differing == set()


def test_currencies_babel_shortens_keep_their_iso_minor_units() -> None:
    assert {code: minor_units(code) for code in OUT_OF_USE} == {
        code: 3 if code == "IQD" else 2 for code in OUT_OF_USE
    }


@pytest.mark.parametrize(
    ("amount", "currency", "rounded"),
    [
        ("2.675", "USD", "2.68"),  # a binary float would give 2.67
        ("2.665", "USD", "2.67"),  # half to even would give 2.66
        ("-2.675", "USD", "-2.68"),
        ("1249.5", "JPY", "1250"),
        ("0.0005", "KWD", "0.001"),
        ("3", "EUR", "3.00"),
    ],
)
def test_halves_round_away_from_zero_to_the_smallest_coin(amount: str, currency: str, rounded: str) -> None:
    assert str(round_money(Decimal(amount), currency)) == rounded


def test_the_total_of_nothing_is_a_decimal() -> None:
    assert total([]) == Decimal(0)
    assert isinstance(total([]), Decimal)
    assert total([Decimal("0.1")] * 3) == Decimal("0.3")
