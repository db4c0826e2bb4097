"""The buying list of blanks."""

from decimal import Decimal

from planner.job.document import SizeCount
from planner.pressing.blanks import blanks_to_buy
from planner.shop.book import Rates
from planner.shop.cloth import Swatch
from tests.pressing.jobs import a_job, a_line, a_print, a_shop

NAVY = Swatch(name="navy", hex="#1b2a4a")


def test_spares_for_spoilage_go_to_the_sizes_ordered_most() -> None:
    # 4 % of 36 is 1.44: two spares. Shares 20/36 and 12/36 and 4/36 of two: 1.11, .67, .22.
    line = a_line(counts={"S": 12, "M": 20, "XL": 4, "2XL": 0})
    blanks = blanks_to_buy(a_job(lines=[line]), a_shop(rates=Rates(spoilage_percent=Decimal(4))))
    assert [(b.size, b.need, b.spares, b.order) for b in blanks] == [
        ("S", 12, 1, 13),
        ("M", 20, 1, 21),
        ("XL", 4, 0, 4),
    ]


def test_the_same_style_and_colour_on_two_lines_is_bought_once() -> None:
    lines = [a_line("g1", {"M": 10}), a_line("g2", {"M": 5, "L": 5}), a_line("g3", {"M": 3}, colour=NAVY)]
    job = a_job([a_print()], lines)
    blanks = blanks_to_buy(job, a_shop(rates=Rates(spoilage_percent=Decimal(0))))
    assert [(b.colour_name, b.size, b.order, b.lines) for b in blanks] == [
        ("white", "M", 15, ("g1", "g2")),
        ("white", "L", 5, ("g2",)),
        ("navy", "M", 3, ("g3",)),
    ]


def test_extended_sizes_cost_their_surcharge() -> None:
    sizes = (SizeCount(size="M", count=1), SizeCount(size="3XL", count=1, surcharge=Decimal("2.50")))
    blanks = blanks_to_buy(a_job(lines=[a_line(sizes=sizes)]), a_shop())
    assert [b.cost_each for b in blanks] == [Decimal("4.10"), Decimal("6.60")]
