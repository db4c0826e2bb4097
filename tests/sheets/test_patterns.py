"""Which sheets to use how often, against a worked example of the cutting-stock literature."""

from collections import Counter
from itertools import combinations_with_replacement

import pytest

from planner.sheets.lots import Lot
from planner.sheets.patterns import Patterns

ROLL_MM = 5600
CUTS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip
"""Widths in mm and how many of each: the paper mill's order in Wikipedia, "Cutting stock problem" (from
memory). 73 rolls are known to do, with 0.401 % of them left over, and fewer have not the width."""


def a_mill() -> Patterns[tuple[int, ...]]:
    """All ways to cut a roll."""
    patterns: Patterns[tuple[int, ...]] = Patterns({(str(width),): count for width, count in CUTS.items()})
    for number in range(1, 5):
        for widths in combinations_with_replacement(CUTS, number):
            if sum(widths) <= ROLL_MM:
                patterns.add(lots_of(widths), widths)
    return patterns


def lots_of(widths: tuple[int, ...]) -> list[Lot]:
    return [(str(width),) for width in widths]


def test_the_paper_mill_needs_as_many_rolls_as_are_known_to_do() -> None:
    patterns = a_mill()
    patterns.worths()
    assert 72 < patterns.least <= 73
    found = patterns.whole(budget_s=20, most_nodes=5000)
    assert found is not None
    assert len(found[0]) == 73
    assert sum(CUTS[width] * width for width in CUTS) / (73 * ROLL_MM) == pytest.approx(1 - 0.00401, abs=5e-6)


def test_rounding_takes_hardly_more_and_tells_what_is_too_many() -> None:
    patterns = a_mill()
    found = patterns.rounded()
    assert found is not None
    rolls, surplus = found
    assert 73 <= len(rolls) <= 76
    cut = Counter(str(width) for widths in rolls for width in widths)
    wanted = Counter({str(width): count for width, count in CUTS.items()})
    assert cut - wanted == Counter({lot[0]: count for lot, count in surplus.items()})
    assert not wanted - cut


def test_no_known_pattern_is_worth_more_than_a_roll_and_a_better_one_is() -> None:
    patterns: Patterns[None] = Patterns({("large",): 4, ("small",): 4})
    for lots in ([("large",)], [("small",), ("small",)]):
        assert patterns.add(lots, None)
    assert patterns.worths() == {("large",): pytest.approx(1), ("small",): pytest.approx(0.5)}
    assert patterns.least == pytest.approx(6)
    # Worth one and a half rolls, and so it is: four of it do instead of six.
    assert patterns.add([("small",), ("large",)], None)
    patterns.worths()
    assert patterns.least == pytest.approx(4)
    assert not patterns.add([("large",), ("small",)], None)
