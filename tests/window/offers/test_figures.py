"""What the page shows of each offer."""

from datetime import date
from decimal import Decimal

import pytest

from planner.buying.compare import compare
from planner.buying.purchase import Purchase
from planner.job.document import Job
from planner.job.edits import change_print, set_fields
from planner.job.findings import Seriousness
from planner.shop.document import changed
from planner.window.offers import words
from planner.window.offers.figures import (
    Column,
    OfferShown,
    in_order,
    offers_shown,
    slack_days,
    with_standing,
)
from planner.window.offers.searching import better_of
from tests.builders import a_shop
from tests.window.offers.setting import (
    FACTS,
    ROLL,
    SHEETS,
    SINGLES,
    STRETCH,
    SUBLIMATION,
    a_small_shop,
    back_and_leggings,
    compared,
    result_of,
    two_prints,
)


def shown_for(job: Job, scope: str | None = None) -> dict[str, OfferShown]:
    return {row.key: row for row in offers_shown(job, a_small_shop(), compared(), scope)}


def test_the_cheapest_is_the_one_that_costs_least_among_those_that_may_be_used() -> None:
    rows = shown_for(two_prints())
    usable = {key: row.result.cost for key, row in rows.items() if row.may_be_used}
    assert [key for key, row in rows.items() if row.cheapest] == [min(usable, key=lambda key: usable[key])]
    assert SUBLIMATION not in usable


def test_an_offer_taken_for_one_print_only_is_said_to_be_chosen_for_some() -> None:
    rows = shown_for(change_print(two_prints(), "p2", offer=ROLL))
    assert rows[ROLL].marks[0] == rows[SHEETS].marks[0] == words.CHOSEN_FOR_SOME
    alone = shown_for(change_print(two_prints(), "p2", offer=ROLL), scope="p2")
    assert alone[ROLL].chosen
    assert not alone[SHEETS].chosen


def test_one_sentence_is_told_once_with_all_the_prints_it_meets() -> None:
    against = shown_for(two_prints())[SUBLIMATION].against
    assert len({each.sentence for each in against}) == len(against)
    assert against[0].seriousness is Seriousness.STOP
    assert against[0].prints == ("p1", "p2")


def test_the_row_is_spoken_with_its_figures_and_what_speaks_against_it() -> None:
    row = shown_for(two_prints())[SUBLIMATION]
    assert row.spoken.startswith(f"{row.name}: ")
    assert f"{row.cells[Column.COST].figure} USD" in row.spoken
    assert "Stop: " in row.spoken


@pytest.mark.parametrize("falling", [False, True])
@pytest.mark.parametrize("by", list(Column))
def test_sorting_keeps_those_ruled_out_below_and_each_group_in_order(by: Column, falling: bool) -> None:
    ordered = in_order(shown_for(two_prints()).values(), by, falling=falling)
    usable = [row.may_be_used for row in ordered]
    assert usable == sorted(usable, reverse=True)
    keys = [row.keys[by] for row in ordered if row.may_be_used]
    assert keys == sorted(keys, reverse=falling)  # type: ignore[type-var]


def test_slack_counts_open_days_between_arrival_and_due_date() -> None:
    # Thursday 3 to Friday 18 December 2026: eleven weekdays after the Thursday; one of them closed.
    shop = a_shop()
    assert slack_days(date(2026, 12, 3), date(2026, 12, 18), shop) == 11
    closed = changed(shop, closed_days=(date(2026, 12, 8), date(2026, 12, 12)))
    assert slack_days(date(2026, 12, 3), date(2026, 12, 18), closed) == 10
    assert slack_days(date(2026, 12, 18), date(2026, 12, 18), shop) == 0
    assert slack_days(date(2026, 12, 21), date(2026, 12, 18), shop) == -1
    assert slack_days(date(2026, 12, 21), None, shop) is None
    # Over Christmas, a public holiday of the shop's region that falls on a Friday in 2026.
    at_home = changed(shop, region="US")
    assert slack_days(date(2026, 12, 22), date(2026, 12, 29), at_home) == 4


def test_a_late_offer_warns_in_words() -> None:
    job = set_fields(two_prints(), due=date(2026, 11, 27))
    rows = {row.key: row for row in offers_shown(job, a_small_shop(), compared(job), None)}
    cell = rows[SHEETS].cells[Column.ARRIVES]
    assert cell.warns
    assert "late by" in cell.below


def test_accepted_sheets_stand_in_for_dearer_quick_ones_but_not_for_cheaper() -> None:
    result = result_of(SHEETS)
    order = changed(result.order, cost=result.cost - 5, provisional=False)
    taken = with_standing(compared(), Purchase(orders=(order,)), provisional=False)
    mine = next(each for each in taken if each.offer == SHEETS)
    assert mine.cost == result.cost - 5
    assert mine.cost_each == pytest.approx((result.cost - 5) / 20)
    dear = Purchase(orders=(changed(order, cost=result.cost + 1),))
    assert with_standing(compared(), dear, provisional=False) == compared()
    assert with_standing(compared(), Purchase(orders=(order,)), provisional=True) == compared()


def test_a_search_that_found_nothing_cheaper_keeps_the_known_sheets_and_brings_its_bound() -> None:
    known = result_of(SHEETS)
    worse = changed(
        known,
        cost=known.cost + 3,
        order=changed(known.order, cost=known.cost + 3, least_cost=known.cost - 1),
    )
    best = better_of(known, worse)
    assert best.cost == known.cost
    assert best.order.least_cost == known.cost - 1
    assert not best.provisional
    cheaper = changed(known, cost=known.cost - 1)
    assert better_of(known, cheaper) is cheaper


@pytest.mark.parametrize(
    ("share", "told"),
    [(0.0003, "under 0.1 %"), (0.03, "3 %"), (0.0289, "2.9 %"), (0.1264, "13 %")],
)
def test_the_distance_to_the_bound_has_one_digit_that_means_something(share: float, told: str) -> None:
    assert words.near_least(share) == f"at most {told} above the least"


def test_no_distance_is_the_least_possible() -> None:
    assert words.near_least(0.0) == "the least possible"


def test_each_kind_of_price_counts_in_its_own_unit() -> None:
    rows = shown_for(two_prints())
    units = {key: rows[key].cells[Column.SHEETS].unit for key in (SHEETS, ROLL, SINGLES)}
    assert units == {SHEETS: "sheets", ROLL: "in", SINGLES: "pieces"}
    length_mm = sum(layout.sheet.height_mm * layout.runs for layout in rows[ROLL].result.order.layouts)
    assert Decimal(rows[ROLL].cells[Column.SHEETS].figure) == round(Decimal(length_mm / 25.4))


def test_what_leaves_pieces_out_says_so_and_is_no_cheaper_than_what_takes_all() -> None:
    job, shop = back_and_leggings(), a_shop()
    rows = offers_shown(job, shop, compare(job, shop, FACTS), None)
    part = next(row for row in rows if row.key == STRETCH)
    refused = sum(each.count for each in part.result.order.not_placed)
    cell = part.cells[Column.COST]
    assert refused
    assert (cell.below, cell.warns) == (f"{refused} left out", True)
    ordered = in_order(rows, Column.COST, falling=False)
    assert [bool(row.result.order.not_placed) for row in ordered] == sorted(
        bool(row.result.order.not_placed) for row in rows
    )
    assert part.result.cost < max(row.result.cost for row in rows if not row.result.order.not_placed)
