"""Offers side by side, and over quantities."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from planner.buying.compare import Effort, Facts, compare
from planner.buying.quantity import at_quantity, cost_by_quantity, usual_quantities
from planner.buying.suits import ArtTraits
from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.job.findings import FindingKind
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.shop.book import Shop, Spares
from planner.shop.cloth import Fibre
from planner.shop.document import changed
from planner.shop.offers import ArtRule, ClothRule, TransferKind
from planner.work.ticket import Cancelled, Ticket
from tests.buying.offers import INCH, an_offer, breaks, by_area, by_length, by_piece, by_sheet, inches

D = Decimal
MONDAY = date(2026, 3, 2)
SINGLE = an_offer(by_area((0, "0.06")), key="single", kind=TransferKind.FILM_SINGLE)
SHEETS = an_offer(by_sheet((1, "18"), (6, "9"), (24, "4")), key="sheets")
ROLL = an_offer(by_length((1, "9.00")), key="roll", kind=TransferKind.FILM_ROLL)
SCREEN = an_offer(
    by_piece((inches(14, 14), 4, breaks((1, "2.00"), (48, "0.60"))), set_up="20"),
    key="screen",
    kind=TransferKind.SCREEN_PRINTED,
    art=ArtRule(most_colours=4),
)
FACTS = Facts(MONDAY, {"art": ArtTraits(colours=2)})


def a_job(**fields: Any) -> Job:
    sizes = (SizeCount(size="S", count=4), SizeCount(size="M", count=8), SizeCount(size="L", count=12))
    return Job(
        **{
            "quoted_on": MONDAY,
            "lines": (GarmentLine(key="tees", sizes=sizes),),
            "artworks": (Artwork(key="art", name="a.png", sha256="0" * 64, width_px=3300, height_px=2550),),
            "prints": (Print(key="front", artwork="art", line="tees", width_mm=11 * INCH),),
            **fields,
        }
    )


def a_shop(*offers: Any) -> Shop:
    return Shop(offers=offers, spares=Spares(count=0))


def test_every_offer_is_priced_and_the_cheapest_comes_first() -> None:
    results = compare(a_job(), a_shop(SINGLE, SHEETS, ROLL, SCREEN), FACTS)
    # 24 prints of 11 × 8.5 in. Sheets hold two: 12 × 9 = 108, but 24 × 4 = 96. Area: 24 × 93.5 × 0.06.
    # By the piece two colours are set up for 40; 24 × 2 = 48, but 48 × 0.60 = 28.80.
    # Roll of 22 in: two abreast, 12 rows of 8.5 in: 102 in, 9 steps of 9.00.
    costs = {result.offer: result.cost for result in results}
    assert costs["sheets"] == D("96.00")
    assert costs["single"] == D("134.64")
    assert costs["screen"] == D("68.80")
    assert costs["roll"] == D("81.00")
    assert [result.offer for result in results] == ["screen", "roll", "sheets", "single"]
    assert all(result.provisional for result in results)
    assert results[0].cost_each == D("68.80") / 24


def test_a_forbidden_offer_is_shown_last_with_its_reason() -> None:
    dark = changed(a_job().lines[0], colour={"name": "navy", "hex": "#1b2a49"})
    rule = ClothRule(fibres=(Fibre.POLYESTER, Fibre.COTTON), light_only=True)
    cheap = changed(SHEETS, key="light only", cloth=rule, price=by_sheet((1, "1")))
    results = compare(a_job(lines=(dark,)), a_shop(cheap, SINGLE), FACTS)
    assert [(result.offer, result.may_be_used) for result in results] == [
        ("single", True),
        ("light only", False),
    ]
    assert results[1].findings[0].kind is FindingKind.NEEDS_LIGHT_CLOTH


def test_days_are_working_days_and_a_late_offer_says_how_late() -> None:
    slow = changed(SINGLE, key="slow", production_days=5, delivery_days=2)
    quick = changed(SINGLE, key="quick", production_days=1, delivery_days=1)
    job = a_job(due=date(2026, 3, 9))
    late = {result.offer: result for result in compare(job, a_shop(slow, quick), FACTS)}
    assert late["quick"].arrives == date(2026, 3, 4)
    assert late["slow"].arrives == date(2026, 3, 11)  # seven working days from Monday the 2nd
    finding = next(found for found in late["slow"].findings if found.kind is FindingKind.LATE)
    assert (finding.found, finding.needed) == (2, 7)
    assert wording.finding(finding, LengthUnit.INCH).startswith(
        "Late by 2 working days (transfers): 7 are needed and 5 left."
    )
    assert not late["slow"].may_be_used
    assert late["quick"].may_be_used


def test_a_calendar_with_holidays_can_be_handed_in() -> None:
    facts = Facts(MONDAY, FACTS.traits, arrives=lambda start, days: date(2026, 4, 1))
    assert compare(a_job(), a_shop(SINGLE), facts)[0].arrives == date(2026, 4, 1)


def test_press_time_counts_every_piece() -> None:
    # 24 × (3 s pre-press + 10 s) and no handwork.
    assert compare(a_job(), a_shop(SINGLE), FACTS)[0].press_s == 24 * 13


def test_the_exact_comparison_is_never_dearer_than_the_quick_one() -> None:
    shop = a_shop(SINGLE, SHEETS, ROLL, SCREEN)
    quick = {result.offer: result.cost for result in compare(a_job(), shop, FACTS)}
    for result in compare(a_job(), shop, FACTS, Effort(budget_s=2, rounds=1)):
        assert not result.provisional
        assert result.cost <= quick[result.offer]
        assert result.order.least_cost is not None
        assert result.order.least_cost <= result.cost


def test_the_winner_changes_with_the_quantity_and_every_crossing_is_named() -> None:
    # Film: 93.5 in² × 0.06 = 5.61 each. Screen: 40 + 2.00 each to 47, then 40 + 0.60 each;
    # buying 48 costs 68.80 in all, cheaper than 15 at 2.00. They cross at 40 / 3.61 = 11.08: from 12 on.
    chart = cost_by_quantity(a_job(), a_shop(SINGLE, SCREEN), FACTS, range(1, 61))
    assert [(c.quantity, c.before, c.after) for c in chart.crossings] == [(12, "single", "screen")]
    assert chart.cheapest_at(11) == "single"
    assert chart.cheapest_at(12) == "screen"
    screen = next(curve for curve in chart.curves if curve.offer == "screen")
    assert [point.cost for point in screen.points][9] == D("60.00")
    assert [point.quantity for point in screen.points if point.is_break] == [15]
    assert screen.points[14].cost == D("68.80")
    for quantity in range(1, 61):
        costs = {curve.offer: curve.points[quantity - 1].cost for curve in chart.curves}
        best = chart.cheapest_at(quantity)
        assert best is not None
        assert costs[best] == min(costs.values())


def test_forbidden_offers_are_not_in_the_chart() -> None:
    photo = Facts(MONDAY, {"art": ArtTraits(photograph=True)})
    chart = cost_by_quantity(a_job(), a_shop(SINGLE, SCREEN), photo, [10])
    assert [curve.offer for curve in chart.curves] == ["single"]


@pytest.mark.parametrize("quantity", [0, 1, 7, 24, 25, 100])
def test_sizes_keep_their_proportions_and_none_is_lost(quantity: int) -> None:
    sizes = at_quantity(a_job(), quantity).lines[0].sizes
    assert sum(size.count for size in sizes) == quantity
    for size, share in zip(sizes, (4 / 24, 8 / 24, 12 / 24), strict=True):
        assert abs(size.count - quantity * share) < 1


def test_the_usual_quantities_hold_the_present_one() -> None:
    for now in (0, 1, 24, 150, 500):
        quantities = usual_quantities(now)
        assert max(1, now) in quantities
        assert len(quantities) < 70


def test_a_comparison_can_be_stopped() -> None:
    ticket = Ticket()
    ticket.stop()
    with pytest.raises(Cancelled):
        compare(a_job(), a_shop(SINGLE), FACTS, ticket=ticket)
