"""Dual feasible functions, usual ones and ones made to measure, against all that really fits in a line."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from planner.buying import dual_functions
from planner.buying.dual_functions import Line

ROOM = 19
LENGTHS = st.lists(st.integers(2, ROOM), min_size=1, max_size=4, unique=True)
DEMANDS = st.lists(st.integers(0, 20), min_size=4, max_size=4)


def all_that_fits(line: Line) -> np.ndarray:
    """Copies of each length, for everything that goes in the line."""
    tops = [line.room // length for length in line.lengths]
    every = np.array(list(itertools.product(*(range(top + 1) for top in tops))))
    return every[every @ np.array(line.lengths) <= line.room]


@settings(max_examples=60, deadline=None)
@given(LENGTHS, DEMANDS, st.sampled_from([ROOM, 7]), st.sampled_from([0, 1_000]))
def test_images_of_what_fits_in_a_line_add_up_to_1_at_most(
    lengths: list[int], demands: list[int], cells: int, over: float
) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(dual_functions, "_MOST_CELLS", cells)
        line = Line(ROOM, lengths)
        made = line.best(np.array(demands[: len(line.lengths)], dtype=float), over=over)
    functions = np.concatenate([line.usual, made[None]])
    assert (all_that_fits(line) @ functions.T).max() <= 1 + 1e-9
    assert (functions >= 0).all()


@settings(max_examples=60, deadline=None)
@given(LENGTHS, DEMANDS)
def test_the_best_function_counts_what_a_reference_solver_finds(
    lengths: list[int], demands: list[int]
) -> None:
    # scipy.optimize.linprog over everything that fits, where `best` only ever sees a part of it.
    line = Line(ROOM, lengths)
    asked = np.array(demands[: len(line.lengths)], dtype=float)
    fits = all_that_fits(line)
    known = linprog(-asked, A_ub=fits, b_ub=np.ones(len(fits)), bounds=(0, 1))
    assert asked @ line.best(asked, over=0) == pytest.approx(-known.fun, abs=1e-6)


def test_a_textbook_order_of_rolls_needs_as_many_as_published() -> None:
    # V. Chvatal, "Linear Programming", 1983, chapter 13: rolls of 100 in, finals of 45, 36, 31 and 14 in;
    # with parts of rolls counted 452.25 are needed (figures from memory), by length alone 415.24.
    line = Line(100, [45, 36, 31, 14])
    asked = np.array([211.0, 395.0, 610.0, 97.0])
    assert line.lengths == [14, 31, 36, 45]
    assert asked @ line.best(asked, over=0) == pytest.approx(452.25)
    assert asked @ line.usual[0] == pytest.approx(415.24)


def test_a_search_that_cannot_count_more_than_asked_ends_early() -> None:
    line = Line(100, [45, 36, 31, 14])
    asked = np.array([211.0, 395.0, 610.0, 97.0])
    assert asked @ line.best(asked, over=1_000) < 452
