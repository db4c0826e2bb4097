"""Designs of one size on sheets with so many places in a row, as the literature has them."""

import itertools
from functools import cache

from planner.buying.packer import Packer
from planner.buying.run_plan import RunPlan, RunProblem
from planner.buying.run_prices import run_prices
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.validate import faults
from planner.shop.prices import BySheet
from tests.buying.offers import by_sheet


def slots(needs: list[int], places: int, table: BySheet, most_layouts: int | None = None) -> RunProblem:
    """Designs of one size on a sheet with so many places in a row."""
    wants = tuple(Want(str(n), str(n), Size(10, 10), need, 0) for n, need in enumerate(needs))
    packer = Packer(wants, table.sheets[0].size, gap_mm=0, margin_mm=0, way=Way.LOOSE, budget_s=10)
    return RunProblem(tuple(needs), packer, run_prices(table, "USD")[0], most_layouts)


def row_of(places: int, *steps: tuple[float, str], **fields: object) -> BySheet:
    return by_sheet(*steps, size=Size(10.0 * places, 10.0), **fields)  # type: ignore[arg-type]


def assert_sound(problem: RunProblem, plan: RunPlan) -> None:
    for number, need in enumerate(problem.needs):
        assert sum(run * column[number] for run, column in zip(plan.runs, plan.counts, strict=True)) >= need
    for column, layout in zip(plan.counts, plan.layouts, strict=True):
        assert not faults(layout, gap_mm=0, margin_mm=0, way=problem.packer.way)
        for number, want in enumerate(problem.packer.wants):
            assert layout.count_of(want.key) == column[number]


def brute_force(needs: list[int], places: int, cost_of: object, most_layouts: int) -> int:
    """The cheapest of all plans, every layout and every run tried; for a handful of places only."""
    columns = [c for c in itertools.product(range(places + 1), repeat=len(needs)) if 0 < sum(c) <= places]
    best = 10**9

    @cache
    def covers(chosen: tuple[tuple[int, ...], ...], runs: tuple[int, ...]) -> bool:
        made = [sum(r * c[n] for r, c in zip(runs, chosen, strict=True)) for n in range(len(needs))]
        return all(m >= q for m, q in zip(made, needs, strict=True))

    for layouts in range(1, most_layouts + 1):
        tuples = sorted(
            itertools.combinations_with_replacement(range(1, max(needs) + 1), layouts),
            key=cost_of,  # type: ignore[arg-type]
        )
        for runs in tuples:
            cost = cost_of(runs)  # type: ignore[operator]
            if cost >= best:
                break
            if any(covers(chosen, runs) for chosen in itertools.product(columns, repeat=layouts)):
                best = cost
                break
    return best
