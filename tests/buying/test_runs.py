"""Layouts and runs: against brute force on tiny jobs, published optima, and what must always hold."""

import itertools
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.buying.capacity import capacity_rows
from planner.buying.effort import Effort
from planner.buying.exact_fit import Fits, exact_fit
from planner.buying.order import plan_order, quick_order
from planner.buying.packer import Packer
from planner.buying.purchase import Order
from planner.buying.run_bound import Proof, least_copies
from planner.buying.run_engine import search_runs
from planner.buying.run_leaf import LeafJudge
from planner.buying.run_plan import RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_pool import recombined
from planner.buying.run_prices import run_prices
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.validate import faults
from planner.shop.book import Spares
from planner.shop.prices import BySheet, CountedBy, SheetPrice
from tests.buying.offers import SHEET, an_offer, breaks, by_sheet, inches, needed
from tests.buying.places import assert_sound, brute_force, row_of, slots

D = Decimal
EXACT = Spares(count=0)
STEPS = ((1, "18"), (6, "12.50"), (12, "9.25"), (24, "7.10"), (50, "5.60"))


def rows_for(problem: RunProblem) -> object:
    return capacity_rows(
        problem.packer.wants, problem.packer.sheet, gap_mm=0, margin_mm=0, way=problem.packer.way
    )


@pytest.mark.parametrize("counted_by", list(CountedBy))
@pytest.mark.parametrize("set_up", ["0", "4"])
@pytest.mark.parametrize("needs", [[5, 3], [7, 1], [4, 4], [6, 5], [2, 7]])
def test_tiny_jobs_are_solved_and_bounded_as_brute_force_says(
    needs: list[int], set_up: str, counted_by: CountedBy
) -> None:
    table = row_of(3, (1, "6"), (3, "4"), (6, "3"), set_up=set_up, counted_by=counted_by)
    problem = slots(needs, 3, table, most_layouts=2)
    optimum = brute_force(needs, 3, problem.prices.of_plan, 2)
    rows = rows_for(problem)
    proof = Proof(problem, rows, most_layouts=2)
    plan = search_runs(problem, Effort(10, 2), end=1.0, proof=proof)
    assert_sound(problem, plan)
    assert plan.cost == optimum
    assert proof.bound(plan.cost).cost <= optimum


@pytest.mark.parametrize(
    ("set_up", "needs"), [("0.3", [8, 5, 4]), ("1", [4, 6, 3]), ("2", [8, 4, 5]), ("2", [5, 5, 6, 1])]
)
def test_looking_beyond_the_layouts_tried_proves_the_optimum_for_any_number(
    set_up: str, needs: list[int]
) -> None:
    problem = slots(needs, 2, row_of(2, (1, "5"), set_up=set_up))
    optimum = brute_force(needs, 2, problem.prices.of_plan, 3)
    proof = Proof(problem, rows_for(problem), most_layouts=1)
    # No plan as cheap as the cheapest is known yet.
    upper = 10 * optimum
    assert proof.bound_for_any(upper).cost < optimum
    proof.look_beyond(lambda: upper, lambda: False)
    assert proof.bound_for_any(upper).cost == optimum


@pytest.mark.parametrize(("templates", "pressings"), [(1, 550), (2, 418), (3, 408)])
def test_template_design_reaches_the_published_optimum(templates: int, pressings: int) -> None:
    # CSPLib problem 002, cat food: 9 slots, 7 variations (Proll & Smith, INFORMS J. on Computing 10(3),
    # 1998); in thousands of pressings.
    needs = [250, 255, 260, 500, 500, 800, 1100]
    problem = slots(needs, 9, row_of(9, (1, "0.01")), most_layouts=templates)
    rows = rows_for(problem)
    proof = Proof(problem, rows, most_layouts=templates)  # type: ignore[arg-type]
    plan = search_runs(problem, Effort(10, 8), end=1.0, proof=proof)  # type: ignore[arg-type]
    assert_sound(problem, plan)
    assert len(plan.runs) <= templates
    assert plan.cost == pressings
    assert proof.bound(plan.cost).cost <= pressings


def test_a_cover_printing_instance_reaches_the_published_solution() -> None:
    # Cover printing I001 (D. Romero, UNAM): 3 covers, 4 to a plate, 18,676 a plate and 13.44 an impression.
    problem = slots([4500, 9000, 16000], 4, row_of(4, (1, "13.44"), set_up="18676"))
    plan = search_runs(problem, Effort(10, 8), end=1.0)
    assert_sound(problem, plan)
    assert plan.cost == 13_647_200


def test_the_knapsack_of_the_bound_agrees_with_trying_everything() -> None:
    runs, weights = np.array([[7, 3]]), np.array([[0.6, 0.4]])
    found = least_copies(runs, weights, np.array([1, 7, 8, 13, 20]))
    for number, need in enumerate([1, 7, 8, 13, 20]):
        tried = [0.6 * a + 0.4 * b for a in range(4) for b in range(8) if 7 * a + 3 * b >= need]
        assert found[0, number] == pytest.approx(min(tried))


@pytest.mark.parametrize("needs", [[5, 3], [7, 2], [3, 3, 2]])
def test_runs_are_ruled_out_exactly_where_no_layouts_serve_them(needs: list[int]) -> None:
    problem = slots(needs, 3, row_of(3, (1, "6")))
    rows = np.asarray(rows_for(problem))
    judge = LeafJudge(needs, rows, problem.packer.shares)
    columns = [c for c in itertools.product(range(4), repeat=len(needs)) if sum(c) <= 3]
    for runs in itertools.combinations_with_replacement(range(max(needs), 0, -1), 2):
        possible = any(
            all(runs[0] * a + runs[1] * b >= need for a, b, need in zip(one, two, needs, strict=True))
            for one, two in itertools.product(columns, repeat=2)
        )
        assert judge.judge(runs, budget_s=5).is_ruled_out == (not possible)


def test_no_row_forbids_a_layout_that_packs() -> None:
    wants = tuple(
        Want(key, key, inches(w, h), 1, 0)
        for key, w, h in (("a", 5.25, 4.25), ("b", 3.75, 3.5), ("c", 10.5, 3))
    )
    rows = capacity_rows(wants, SHEET, gap_mm=0, margin_mm=0, way=Way.LOOSE)
    packer = Packer(wants, SHEET, gap_mm=0, margin_mm=0, way=Way.LOOSE, budget_s=10)
    packed = [c for c in itertools.product(range(7), range(8), range(5)) if any(c) and packer.packs(c)]
    assert len(packed) > 40
    assert (rows @ np.array(packed).T <= 1 + 1e-9).all()


def test_a_piece_too_long_to_be_turned_is_weighed_as_it_can_lie() -> None:
    # 95 wide goes on 100 × 90 in one position only: its long side in the other one has no weight there,
    # and a narrow piece's side weighs nothing by some of the functions.
    wants = (Want("long", "long", Size(95, 4), 3, 0), Want("badge", "badge", Size(40, 40), 5, 0))
    rows = capacity_rows(wants, Size(100, 90), gap_mm=0, margin_mm=0, way=Way.LOOSE)
    assert np.isfinite(rows).all()
    assert rows.min() >= 0
    # 22 strips of 4 fill 88 of 90.
    assert (rows @ np.array([22, 0])).max() <= 1


def planned(pieces: object, table: BySheet, way: Way = Way.LOOSE, rounds: int = 1, **fields: object) -> Order:
    return plan_order(
        an_offer(table, **fields),
        pieces,  # type: ignore[arg-type]
        spares=EXACT,
        currency="USD",
        way=way,
        rounds=rounds,
    )


PIECES = (needed("front", 10.5, 8.5, 48), needed("chest", 4, 3.5, 144), needed("nape", 2.5, 2, 72))


@pytest.mark.parametrize("counted_by", list(CountedBy))
@pytest.mark.parametrize("way", [Way.LOOSE, Way.STRAIGHT])
def test_a_plan_meets_every_need_on_real_sheets_and_beats_a_persons_two_ways(
    way: Way, counted_by: CountedBy
) -> None:
    table = by_sheet(*STEPS, set_up="3", counted_by=counted_by)
    order = planned(PIECES, table, way, gap_mm=3.0, margin_mm=5.0)
    assert not order.missing
    assert order.least_cost is not None
    assert order.least_cost <= order.cost
    for layout in order.layouts:
        assert not faults(layout, gap_mm=3.0, margin_mm=5.0, way=way)
    wants = tuple(Want(p.key, p.artwork, p.size, p.count, 0) for p in PIECES)
    packer = Packer(wants, SHEET, gap_mm=3.0, margin_mm=5.0, way=way, budget_s=10)
    problem = RunProblem((48, 144, 72), packer, run_prices(table, "USD")[0])
    by_hand = [one_layout_a_design(problem), one_mixed_layout(problem)]
    assert all(order.cost * 100 <= plan.cost for plan in by_hand if plan is not None)


def test_the_same_rounds_give_the_same_order() -> None:
    table = by_sheet(*STEPS)
    assert planned(PIECES, table) == planned(PIECES, table)


def test_every_better_order_is_told_and_the_last_one_is_given() -> None:
    told: list[Order] = []
    order = plan_order(
        an_offer(by_sheet(*STEPS)),
        PIECES,
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        rounds=1,
        improved=told.append,
    )
    costs = [each.cost for each in told]
    assert costs == sorted(costs, reverse=True)
    assert all(each.provisional for each in told)
    assert not order.provisional
    assert order.cost <= costs[-1]


def test_eleven_sheets_become_twelve_where_that_is_cheaper() -> None:
    # 11 × 12.50 = 137.50; 12 × 9.25 = 111.00.
    order = planned((needed("front", 11, 17, 11),), by_sheet(*STEPS))
    assert order.cost == D("111.00") == order.least_cost
    assert [(s.more, s.saves) for s in order.savings] == [(1, D("26.50"))]
    assert order.pieces[0].surplus == 1


def test_one_more_sheet_that_is_delivered_free_is_bought() -> None:
    # 4 × 18 = 72 and 20 for delivery is 92; 5 × 18 = 90 is delivered free, being over 80.
    table = by_sheet((1, "18"))
    order = planned((needed("front", 11, 17, 4),), table, delivery=D(20), free_delivery_from=D(80))
    assert order.cost == D("90.00")
    assert order.savings[-1].saves == D("2.00")
    assert order.least_cost is not None
    assert order.least_cost <= order.cost


def test_a_piece_too_large_for_one_sheet_size_goes_on_the_other() -> None:
    table = BySheet(
        sheets=(
            SheetPrice(size=inches(8.5, 11), breaks=breaks((1, "5"))),
            SheetPrice(size=inches(11.5, 18), breaks=breaks((1, "9"))),
        )
    )
    order = planned((needed("back", 11, 12, 3), needed("chest", 8, 10, 1)), table)
    assert not order.missing
    # Three backs on large sheets; the chest print is cheapest on a small one.
    assert order.cost == D("32.00")
    assert order.least_cost is not None
    assert order.least_cost <= order.cost


def test_a_bound_for_one_sheet_size_says_so() -> None:
    # Eight 11 × 8.5 in on four large sheets at 9.00 or eight small ones at 5.00.
    table = BySheet(
        sheets=(
            SheetPrice(size=inches(8.5, 11), breaks=breaks((1, "5"))),
            SheetPrice(size=inches(11.5, 18), breaks=breaks((1, "9"))),
        )
    )
    order = planned((needed("front", 11, 8.5, 8),), table)
    assert order.cost == D("36.00") == order.least_cost
    assert order.one_size


@settings(max_examples=8, deadline=None)
@given(
    needs=st.lists(st.integers(1, 40), min_size=1, max_size=3),
    more=st.integers(1, 10),
    set_up=st.sampled_from(["0", "5"]),
    counted_by=st.sampled_from(list(CountedBy)),
)
def test_the_bound_never_exceeds_the_cost_of_a_larger_order(
    needs: list[int], more: int, set_up: str, counted_by: CountedBy
) -> None:
    # An order for more also serves for less, so what is proven for less must hold for it.
    table = by_sheet(*STEPS, set_up=set_up, counted_by=counted_by)
    sizes = ((10.5, 8.5), (4, 3.5), (2.5, 2))
    small = [needed(str(n), *sizes[n], need) for n, need in enumerate(needs)]
    large = [needed(str(n), *sizes[n], need + more) for n, need in enumerate(needs)]
    less, greater = planned(tuple(small), table), planned(tuple(large), table)
    for order in (less, greater):
        assert not order.missing
        assert order.least_cost is not None
        assert order.least_cost <= order.cost
    assert less.least_cost is not None
    if less.most_layouts is None or len(greater.layouts) <= less.most_layouts:
        assert less.least_cost <= greater.cost


@pytest.mark.parametrize("counted_by", list(CountedBy))
def test_cost_by_sheets_never_falls_when_a_need_rises(counted_by: CountedBy) -> None:
    # Buying up to a later break is part of every answer, so more never costs less.
    table = by_sheet(*STEPS, counted_by=counted_by)
    costs = [planned((needed("front", 11, 17, count),), table).cost for count in range(1, 30)]
    assert costs == sorted(costs)


def test_a_quick_order_is_never_under_the_proven_bound() -> None:
    table = by_sheet(*STEPS)
    quick = quick_order(an_offer(table), PIECES, spares=EXACT, currency="USD", way=Way.LOOSE)
    searched = planned(PIECES, table)
    assert searched.least_cost is not None
    assert searched.least_cost <= searched.cost <= quick.cost


THREE = (("front", 5.25, 4.25, 60), ("chest", 3.75, 3.5, 24), ("back", 10.5, 3.0, 24))


@pytest.mark.parametrize("counted_by", list(CountedBy))
def test_three_designs_are_proven_cheapest(counted_by: CountedBy) -> None:
    pieces = [needed(key, width, height, count) for key, width, height, count in THREE]
    table = by_sheet(*STEPS, counted_by=counted_by)
    order = plan_order(
        an_offer(table), pieces, spares=EXACT, currency="USD", way=Way.LOOSE, budget_s=60, rounds=8
    )
    assert not order.missing
    assert order.cost == order.least_cost


@settings(max_examples=12, deadline=None)
@given(
    needs=st.lists(st.integers(1, 9), min_size=2, max_size=3),
    sides=st.lists(st.tuples(st.integers(2, 6), st.integers(2, 6)), min_size=3, max_size=3),
)
def test_with_few_designs_no_plan_of_all_that_fit_costs_less_than_the_one_proven(
    needs: list[int], sides: list[tuple[int, int]]
) -> None:
    """Every plan of one or two layouts, over every selection that fits by the exact search."""
    room = (10, 9)
    table = by_sheet(*STEPS, size=Size(100, 90))
    wants = tuple(
        Want(str(n), str(n), Size(10.0 * w, 10.0 * h), need, 0)
        for n, (need, (w, h)) in enumerate(zip(needs, sides, strict=False))
    )
    problem = RunProblem(
        tuple(needs),
        Packer(wants, Size(100, 90), gap_mm=0, margin_mm=0, way=Way.LOOSE, budget_s=10),
        run_prices(table, "USD")[0],
    )
    rows = capacity_rows(wants, Size(100, 90), gap_mm=0, margin_mm=0, way=Way.LOOSE)
    proof = Proof(problem, rows, most_layouts=3)
    plan = search_runs(problem, Effort(60, 8), end=1.0, proof=proof)
    assert_sound(problem, plan)
    turns = [True] * len(needs)
    tops = [min(need, 90 // (w * h)) for need, (w, h) in zip(needs, sides, strict=False)]
    columns = [
        column
        for column in itertools.product(*(range(top + 1) for top in tops))
        if any(column)
        and exact_fit(sides[: len(needs)], column, turns, room, most_nodes=20_000)[0] is Fits.YES
    ]
    fullest = [c for c in columns if not any(d != c and all(map(int.__le__, c, d)) for d in columns)]
    price = problem.prices.of_plan
    best = min(
        price(runs)
        for layouts in (1, 2)
        for runs in itertools.combinations_with_replacement(range(1, max(needs) + 1), layouts)
        if any(
            all(
                sum(r * c[n] for r, c in zip(runs, chosen, strict=True)) >= need
                for n, need in enumerate(needs)
            )
            for chosen in itertools.product(fullest, repeat=layouts)
        )
    )
    assert proof.bound(plan.cost).cost <= plan.cost <= best


@pytest.mark.parametrize("set_up", ["0", "8.00"])
def test_layouts_found_anywhere_are_mixed_at_least_as_well_as_one_layout_a_design(set_up: str) -> None:
    table = by_sheet((1, "9.50"), (10, "8.25"), (25, "7.25"), counted_by=CountedBy.ORDER, set_up=set_up)
    sides = ((4.0, 2.5), (7.0, 2.25), (3.0, 1.75), (8.5, 3.25))
    needs = (65, 40, 80, 54)
    wants = tuple(Want(str(n), str(n), inches(*side), needs[n], 0) for n, side in enumerate(sides))
    packer = Packer(wants, SHEET, gap_mm=0, margin_mm=0, way=Way.LOOSE, budget_s=10)
    problem = RunProblem(needs, packer, run_prices(table, "USD")[0])
    singly = one_layout_a_design(problem)
    assert singly is not None
    alone = recombined(problem, singly, Effort(60, 8))
    assert alone is not None
    assert_sound(problem, alone)
    # Of full sheets of one design each there is only one mixture.
    assert alone.cost == singly.cost
    assert packer.packs((5, 4, 4, 0))
    mixed = recombined(problem, singly, Effort(60, 8))
    assert mixed is not None
    assert_sound(problem, mixed)
    assert mixed.cost < singly.cost
