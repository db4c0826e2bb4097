"""Plans in which every design is on one layout only: designs of like need share one, found by dynamic
programming over all ways to part them. The starting points of the search."""

from collections.abc import Callable, Sequence
from functools import cache

from planner.buying.packer import Counts
from planner.buying.run_plan import RunPlan, RunProblem
from planner.measures.layout import Layout

_Groups = tuple[tuple[int, ...], ...]
_Packed = tuple[int, Counts, Layout]
_GUESSED_FILL = 0.97
"""Load up to which a mixed layout usually packs."""


def grouped_plans(problem: RunProblem, *, most_groups: int = 12) -> list[RunPlan]:
    """The cheapest plan for each number of groups, every layout packed; numbers that do not work left out.

    Wants are sorted by need and parted into neighbours; a group's layout is run as often as its fullest
    packing needs.
    """

    @cache
    def layout_of(members: tuple[int, ...]) -> _Packed | None:
        return _shortest_run(problem, members)

    def run_of(members: tuple[int, ...]) -> int | None:
        found = layout_of(members)
        return None if found is None else found[0]

    plans = []
    for groups in _partings(problem, run_of, most_groups):
        found = [layout_of(members) for members in groups]
        plans.append(_plan(problem, [one for one in found if one is not None]))
    return plans


def guessed_plans(problem: RunProblem, loads: Sequence[float], *, most_groups: int = 12) -> list[RunPlan]:
    """The same with runs guessed by load, so that only the layouts of two plans need packing."""

    @cache
    def run_of(members: tuple[int, ...]) -> int | None:
        need = [problem.needs[number] for number in members]
        load = [loads[number] for number in members]

        def fits(run: int) -> bool:
            return sum(-(-n // run) * part for n, part in zip(need, load, strict=True)) <= _GUESSED_FILL

        low, high = 1, max(need)
        if not fits(high):
            return high if len(members) == 1 else None
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if fits(middle) else (middle + 1, high)
        return low

    def price(groups: _Groups) -> int:
        return problem.prices.of_plan([run_of(members) or 0 for members in groups])

    plans = []
    for groups in sorted(_partings(problem, run_of, most_groups), key=price)[:2]:
        found = [_packed_from(problem, members, run_of(members) or 1) for members in groups]
        if None not in found:
            plans.append(_plan(problem, [one for one in found if one is not None]))
    return plans


def _partings(
    problem: RunProblem, run_of: Callable[[tuple[int, ...]], int | None], most_groups: int
) -> list[_Groups]:
    """The cheapest parting of the wants, sorted by need, into one group, two groups and so on."""
    order = sorted(range(len(problem.needs)), key=lambda number: -problem.needs[number])
    count = len(order)

    @cache
    def cost(first: int, last: int) -> int | None:
        run = run_of(tuple(order[first:last]))
        # Breaks by the whole order have no price for one layout: sheets are all that counts.
        return None if run is None else problem.prices.of_run(run) if problem.prices.is_by_layout else run

    best: dict[int, tuple[int, tuple[tuple[int, int], ...]]] = {0: (0, ())}
    partings: list[_Groups] = []
    for _ in range(min(count, most_groups)):
        longer: dict[int, tuple[int, tuple[tuple[int, int], ...]]] = {}
        for last in range(1, count + 1):
            ways = [
                (before + more, (*parts, (first, last)))
                for first, (before, parts) in best.items()
                if first < last and (more := cost(first, last)) is not None
            ]
            if ways:
                longer[last] = min(ways)
        best = longer
        if count in best and problem.allows(len(best[count][1])):
            partings.append(tuple(tuple(order[first:last]) for first, last in best[count][1]))
    return partings


def _plan(problem: RunProblem, packed: Sequence[_Packed]) -> RunPlan:
    return problem.plan([one[0] for one in packed], [one[1] for one in packed], [one[2] for one in packed])


def _packed_at(problem: RunProblem, members: tuple[int, ...], run: int) -> _Packed | None:
    counts = [0] * len(problem.needs)
    for number in members:
        counts[number] = -(-problem.needs[number] // run)
    layout = problem.packer.pack(counts)
    return None if layout is None else (run, tuple(counts), layout)


def _packed_from(problem: RunProblem, members: tuple[int, ...], run: int) -> _Packed | None:
    """The group's layout at this run, or at the next longer one that packs."""
    longest = max(problem.needs[number] for number in members)
    while True:
        packed = _packed_at(problem, members, run)
        if packed is not None or run >= longest:
            return packed
        run = min(longest, run + max(1, run // 12))


def _shortest_run(problem: RunProblem, members: tuple[int, ...]) -> _Packed | None:
    """One layout with these wants alone, run as seldom as a quick packing allows."""
    needs, packer = problem.needs, problem.packer
    if sum(packer.shares[number] for number in members) > 1:
        return None
    high = max(needs[number] for number in members)
    best = _packed_at(problem, members, high)
    if best is None:
        return None
    low = max(1, int(sum(needs[number] * packer.shares[number] for number in members)))
    while low < high:
        middle = (low + high) // 2
        tried = _packed_at(problem, members, middle)
        if tried is None:
            low = middle + 1
        else:
            high, best = middle, tried
    return best
