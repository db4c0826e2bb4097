"""Temperatures held against NIST SP 811 (2008), B.8: t/°C = (t/°F − 32)/1.8."""

from fractions import Fraction

import pytest

from planner.measures.lengths import LengthUnit
from planner.measures.temperature import celsius, fahrenheit, format_temperature, in_scale


@pytest.mark.parametrize(
    ("degrees_c", "degrees_f"),
    # The fixed points everybody knows, where the scales cross, and the press settings of the trade.
    [(0, 32), (100, 212), (-40, -40), (37, 98.6), (140, 284), (150, 302), (200, 392)],
)
def test_scales_agree_with_the_definition(degrees_c: float, degrees_f: float) -> None:
    assert fahrenheit(degrees_c) == pytest.approx(degrees_f)
    assert celsius(degrees_f) == pytest.approx(degrees_c)


@pytest.mark.parametrize("degrees_f", range(200, 501, 5))
def test_every_setting_of_a_press_survives_the_way_there_and_back(degrees_f: int) -> None:
    exact = (Fraction(degrees_f) - 32) / Fraction(18, 10)
    assert celsius(degrees_f) == pytest.approx(float(exact), rel=1e-15)
    assert f"{fahrenheit(celsius(degrees_f)):.0f}" == str(degrees_f)


def test_both_scales_are_shown_in_whole_degrees() -> None:
    assert format_temperature(celsius(290)) == "290 °F / 143 °C"
    assert format_temperature(150) == "302 °F / 150 °C"


def test_one_scale_goes_with_the_shops_unit() -> None:
    assert in_scale(celsius(290), LengthUnit.INCH) == "290 °F"
    assert in_scale(celsius(290), LengthUnit.MILLIMETRE) == "143 °C"
