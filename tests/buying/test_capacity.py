"""What sheets can hold at most, against an exact search for what they do hold."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from planner.buying.capacity import Rows, capacity_rows
from planner.buying.exact_fit import Fits, exact_fit
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Way

ROOM = (10, 9)
SIDES = st.tuples(st.integers(2, 10), st.integers(2, 9))


def rows_of(sides: list[tuple[int, int]], needs: list[int], turns: list[bool]) -> Rows:
    wants = tuple(
        Want(str(n), str(n), Size(10.0 * w, 10.0 * h), need, 0, may_turn=turn)
        for n, ((w, h), need, turn) in enumerate(zip(sides, needs, turns, strict=True))
    )
    return capacity_rows(wants, Size(100, 90), gap_mm=0, margin_mm=0, way=Way.LOOSE)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(SIDES, st.integers(1, 9), st.booleans()), min_size=1, max_size=3))
def test_whatever_fits_on_a_sheet_obeys_every_row(designs: list[tuple[tuple[int, int], int, bool]]) -> None:
    sides, needs, turns = (list(each) for each in zip(*designs, strict=True))
    rows = rows_of(sides, needs, turns)
    tops = [min(3, 90 // (w * h)) for w, h in sides]
    for counts in itertools.product(*(range(top + 1) for top in tops)):
        if any(counts) and exact_fit(sides, counts, turns, ROOM, most_nodes=2_000)[0] is Fits.YES:
            assert (rows @ np.array(counts)).max() <= 1


def test_a_piece_lies_one_way_for_all_rows_at_once() -> None:
    # Two pieces of 5 x 6 leave no room of 7 x 4 beside them, whichever way each of them lies.
    sides, counts, turns = [(5, 6), (7, 4)], [2, 1], [True, True]
    assert exact_fit(sides, counts, turns, ROOM, most_nodes=10_000)[0] is Fits.NEVER
    asked = np.sort(rows_of(sides, counts, turns) @ np.array(counts))
    assert asked[-1] > 1.3
    # The rows that the mean is of let them pass as one sheet and a fifteenth.
    assert asked[-2] < 1.07


@pytest.mark.parametrize(
    ("sides", "needs", "usual"),
    [
        ([(9, 3), (4, 9)], [1, 4], 2.0),
        ([(4, 8), (7, 3)], [5, 2], 2.69),
        ([(9, 4), (3, 4), (7, 3)], [7, 4, 1], 3.82),
    ],
)
def test_rows_made_to_measure_ask_for_all_the_sheets_that_it_takes(
    sides: list[tuple[int, int]], needs: list[int], usual: float
) -> None:
    """As many as mixtures of everything that fits take (by scipy's solver), parts of sheets counted."""
    turns = [True] * len(sides)
    fit = [
        counts
        for counts in itertools.product(*(range(90 // (w * h) + 1) for w, h in sides))
        if exact_fit(sides, counts, turns, ROOM, most_nodes=20_000)[0] is Fits.YES
    ]
    mixed = linprog(np.ones(len(fit)), A_ub=-np.array(fit).T, b_ub=-np.array(needs))
    found = float((rows_of(sides, needs, turns) @ np.array(needs)).max())
    assert found == pytest.approx(mixed.fun)
    assert found > 1.1 * usual
