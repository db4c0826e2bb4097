"""Layouts and how often each is run: the plans that the search compares, and a person's two ways."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.buying.packer import Counts, Packer
from planner.buying.run_prices import RunPrices
from planner.measures.layout import Layout


@dataclass(frozen=True, slots=True)
class RunPlan:
    """Copies of each want on each layout, the layouts themselves, their runs, and the cost in coins."""

    cost: int
    runs: tuple[int, ...]
    counts: tuple[Counts, ...]
    layouts: tuple[Layout, ...]


@dataclass(frozen=True)
class RunProblem:
    """Wants on one sheet size: what the search for layouts and runs is about."""

    needs: tuple[int, ...]
    """Copies to order at least, spares included; none is 0."""
    packer: Packer
    prices: RunPrices
    most_layouts: int | None = None
    """No plan may have more distinct layouts; None: any number."""

    def plan(self, runs: Sequence[int], counts: Sequence[Counts], layouts: Sequence[Layout]) -> RunPlan:
        """The plan with its cost, longest run first."""
        order = sorted(range(len(runs)), key=lambda number: -runs[number])
        return RunPlan(
            self.prices.of_plan(runs),
            tuple(runs[number] for number in order),
            tuple(counts[number] for number in order),
            tuple(layouts[number] for number in order),
        )

    def allows(self, layouts: int) -> bool:
        return self.most_layouts is None or layouts <= self.most_layouts


def one_layout_a_design(problem: RunProblem) -> RunPlan | None:
    """What a person does first: every sheet full of one design, run until its need is met."""
    if not problem.allows(len(problem.needs)):
        return None
    runs, counts, layouts = [], [], []
    for number, need in enumerate(problem.needs):
        most = problem.packer.most(number)
        runs.append(-(-need // most))
        counts.append(tuple(most if other == number else 0 for other in range(len(problem.needs))))
        layouts.append(problem.packer.filled(number))
    return problem.plan(runs, counts, layouts)


def one_mixed_layout(problem: RunProblem, *, rounds: int = 1) -> RunPlan | None:
    """What a person does second: one layout with all designs, run until the largest need is met.

    The shortest run whose copies pack, found by halving; None where not even one copy of each packs.
    """

    def packed(run: int) -> tuple[Counts, Layout | None]:
        counts = tuple(-(-need // run) for need in problem.needs)
        return counts, problem.packer.pack(counts, rounds=rounds)

    shares = problem.packer.shares
    area = sum(need * share for need, share in zip(problem.needs, shares, strict=True))
    low, high = max(1, int(area * 0.9)), max(problem.needs)
    counts, layout = packed(high)
    if layout is None:
        return None
    best = (high, counts, layout)
    while low < high:
        middle = (low + high) // 2
        counts, layout = packed(middle)
        if layout is None:
            low = middle + 1
        else:
            high = middle
            best = (middle, counts, layout)
    run, counts, layout = best
    return problem.plan((run,), (counts,), (layout,))
