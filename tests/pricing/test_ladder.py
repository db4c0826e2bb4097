"""The price ladder: other quantities, each from a plan of its own."""

from decimal import Decimal as D
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.buying.purchase import Order, PriceLine, Purchase
from planner.job.document import Arranged, Job, SizeCount
from planner.measures.geometry import Size
from planner.measures.layout import Layout
from planner.pressing.work_order import press_work
from planner.pricing.costs import Costs
from planner.pricing.ladder import NothingToScale, Rung, ladder, scaled, step_up
from planner.pricing.reckon import reckon_costs
from planner.shop.book import Rates, RoundTo
from tests.pressing.jobs import a_job, a_line, a_press, a_shop

RATES = Rates(
    labour_hour=D(30),
    spoilage_percent=D(0),
    overhead_percent=D(0),
    percent=D(50),
    round_to=RoundTo.NONE,
)
SHOP = a_shop(rates=RATES, presses=[a_press(warm_up_min=20, loading_s=47)])


def counts_of(job: Job) -> dict[str, int]:
    return {size.size: size.count for line in job.lines for size in line.sizes}


def plan_at(job: Job) -> Costs:
    """Four shirts to the sheet at 6.00, from the third sheet on at 5.00; 60 s a shirt at the press."""
    sheets = ceil(sum(line.count for line in job.lines) / 4)
    each = D(5) if sheets >= 3 else D(6)
    charge = PriceLine(what="sheets", amount=each * sheets, count=D(sheets), each=each)
    order = Order(offer="film", lines=(charge,), cost=charge.amount)
    return reckon_costs(job, SHOP, Purchase(orders=(order,)), press_work(job, SHOP))


def test_a_ladder_worked_by_hand() -> None:
    # A shirt takes 47 + 3 + 10 = 60 s, the warm-up 20 min; a minute costs 0.50, a blank 4.10.
    #  4: blanks 16.40, 1 sheet 6.00, 24 min 12.00:  34.40,  8.60 each, 17.20 to the customer.
    # 12: blanks 49.20, 3 sheets 15.00, 32 min 16.00: 80.20, 6.68 each, 13.36 to the customer.
    # 13: blanks 53.30, 4 sheets 20.00, 33 min 16.50: 89.80, 6.91 each, 13.82 to the customer.
    rungs = ladder(a_job(), [12, 4, 13, 12, 0], plan_at)
    assert [(r.quantity, r.cost_each, r.price_each, r.total) for r in rungs] == [
        (4, D("8.60"), D("17.20"), D("68.80")),
        (12, D("6.68"), D("13.36"), D("160.32")),
        (13, D("6.91"), D("13.82"), D("179.66")),
    ]


def test_one_sheet_more_makes_the_larger_order_dearer_each_and_the_next_full_one_is_offered() -> None:
    rungs = ladder(a_job(), [12, 13, 16, 24], plan_at)
    assert rungs[1].price_each > rungs[0].price_each
    offered = step_up(rungs, rungs[1])
    assert offered is not None
    assert (offered.rung.quantity, offered.more) == (16, 3)
    assert offered.extra == offered.rung.total - rungs[1].total
    assert step_up(rungs, rungs[-1]) is None


def test_a_larger_order_at_the_same_price_each_is_not_offered() -> None:
    fields = {"total": D(0), "cost_each": D(0), "margin_percent": D(0)}
    now, same = (Rung(quantity=n, price_each=D(9), **fields) for n in (12, 24))
    assert step_up([now, same], now) is None


def test_sizes_keep_their_mix_by_largest_remainder() -> None:
    # 6 : 14 : 10 : 6 of 36, at 50: quotas 8.33, 19.44, 13.89, 8.33; the two missing go to .89 and .44.
    job = a_job(lines=[a_line(counts={"S": 6, "M": 14, "L": 10, "2XL": 6})])
    assert counts_of(scaled(job, 50)) == {"S": 8, "M": 20, "L": 14, "2XL": 8}
    assert scaled(job, 36) == job


def test_a_small_rung_keeps_the_mix_of_lines_though_one_comes_in_many_sizes() -> None:
    # 60 shirts in ten sizes and 40 bags: of 12 garments 7.2 and 4.8, so 7 and 5. Shared out by size at once,
    # each size of shirts has a quota of 0.72 and the bags 4.8: ten and five are too many, and bags would win.
    shirts = tuple(SizeCount(size=str(n), count=6) for n in range(10))
    job = a_job(lines=[a_line("g1", sizes=shirts), a_line("g2", {"one size": 40})])
    assert [line.count for line in scaled(job, 12).lines] == [7, 5]
    few = tuple(SizeCount(size=str(n), count=3) for n in range(20))
    job = a_job(lines=[a_line("g1", sizes=few), a_line("g2", {"one size": 40})])
    assert [line.count for line in scaled(job, 6).lines] == [4, 2]


@given(st.lists(st.integers(0, 60), min_size=1, max_size=6).filter(any), st.integers(1, 400))
def test_a_scaled_job_has_exactly_the_garments_asked_for(counts: list[int], quantity: int) -> None:
    sizes = tuple(SizeCount(size=str(n), count=count) for n, count in enumerate(counts))
    job = a_job(lines=[a_line("g1", sizes=sizes), a_line("g2", {"M": 3})])
    assert sum(line.count for line in scaled(job, quantity).lines) == quantity


def test_layouts_made_for_another_quantity_are_left_out() -> None:
    layouts = (Layout(Size(100, 100), ()),)
    job = a_job(arranged=(Arranged(offer="film", layouts=layouts),))
    assert scaled(job, 24).arranged == ()


def test_without_counts_there_is_no_ladder_and_scaling_says_what_to_type() -> None:
    job = a_job(lines=[a_line(counts={"M": 0})])
    assert ladder(job, [12, 24], plan_at) == ()
    with pytest.raises(NothingToScale, match="Type how many of each size first"):
        scaled(job, 12)
