"""Costs and the quote of a whole job, worked by hand.

Harbour Lights: 36 choir shirts, 6 S, 14 M, 10 L at 4.10 and 6 2XL at 2.00 more. Nine sheets at 6.00,
delivery 10.00, 70 minutes at the press. Shop: 24.00 an hour, 2 % spoilage, 12 % overhead, 2.9 % payment
fees, 45 % margin to the next .05, 8.25 % tax, half as deposit. Terms: 5 % off, 12.00 for delivery.
"""

import re
from decimal import Decimal as D

import pytest

from planner.buying.purchase import ChargeKind, Order, PriceLine, Purchase
from planner.job.document import Customer, Job, SizeCount, Terms
from planner.job.findings import FindingKind, Seriousness
from planner.pressing.card import PressWork, WorkStep
from planner.pricing.costs import CostKind, Costs
from planner.pricing.quoting import make_quote
from planner.pricing.reckon import floor_findings, reckon_costs
from planner.shop.book import Rates, Shop
from planner.shop.garments import Location
from tests.pressing.jobs import a_job, a_line, a_print, a_shop, an_offer

K = CostKind
RATES = Rates(
    labour_hour=D(24),
    spoilage_percent=D(2),
    overhead_percent=D(12),
    payment_fee_percent=D("2.9"),
    percent=D(45),
    tax_percent=D("8.25"),
)
SIZES = (
    SizeCount(size="S", count=6),
    SizeCount(size="M", count=14),
    SizeCount(size="L", count=10),
    SizeCount(size="XL", count=0),
    SizeCount(size="2XL", count=6, surcharge=D(2)),
)


def the_job(**terms: object) -> Job:
    return a_job(
        [a_print(location=Location.FULL_FRONT)],
        [a_line(sizes=SIZES)],
        title="Concert shirts",
        note="They haggle.",
        customer=Customer(name="Harbour Lights", contact="The choir's treasurer", address=("Quay 4",)),
        terms=Terms.model_validate({"discount_percent": D(5), "delivery_fee": D(12)} | terms),
    )


def the_purchase(offer: str = "film") -> Purchase:
    lines = (
        PriceLine(what="9 sheets at 6.00", amount=D("54.00"), count=D(9), each=D(6)),
        PriceLine(what="delivery", amount=D("10.00"), kind=ChargeKind.DELIVERY),
    )
    return Purchase(orders=(Order(offer=offer, lines=lines, delivery=D(10), cost=D(64)),))


def the_work(minutes: float = 70, line: str = "g1") -> PressWork:
    step = WorkStep(
        press="big",
        print="p1",
        line=line,
        setting_c=143,
        pieces=36,
        minutes=minutes - 15,
        reset_before=False,
        cover_finished=False,
    )
    return PressWork(steps=(step,), warm_up_min=15, total_min=minutes)


@pytest.fixture
def shop() -> Shop:
    return a_shop(rates=RATES)


@pytest.fixture
def costs(shop: Shop) -> Costs:
    return reckon_costs(the_job(), shop, the_purchase(), the_work())


def test_every_cost_stands_with_its_sum_in_figures(costs: Costs) -> None:
    assert [(line.kind, line.amount, line.how) for line in costs.lines] == [
        (K.BLANKS, D("159.60"), "30 × 4.10 + 6 × 6.10"),
        (K.TRANSFERS, D("54.00"), "9 × 6.00"),
        (K.DELIVERY_IN, D("10.00"), "1 × 10.00"),
        (K.LABOUR, D("28.00"), "(15 warming up + 55 pressing) min × 24.00 ÷ 60"),
        (K.SPOILAGE, D("3.19"), "2 % × 159.60"),
        (K.OVERHEAD, D("30.57"), "12 % × (159.60 + 54.00 + 10.00 + 28.00 + 3.19)"),
        (K.PAYMENT_FEES, D("16.84"), "2.9 % × 580.65"),
    ]


@pytest.mark.parametrize("at", range(7))
def test_the_sum_in_figures_gives_the_amount_to_a_cent(costs: Costs, at: int) -> None:
    line = costs.lines[at]
    sum_ = re.sub("[a-z]+", "", line.how).replace("×", "*").replace("÷", "/").replace(" %", "/100")
    assert eval(sum_) == pytest.approx(float(line.amount), abs=0.005)


def test_prices_follow_from_the_cost_of_each_size(costs: Costs) -> None:
    # Shared by each: (54 + 10 + 28) ÷ 36 = 2.5556. M: (4.10 × 1.02 + 2.5556) × 1.12 = 7.55.
    # Fees are 2.9 % × 1.0825 = 3.139 % of the price: 7.55 ÷ (1 − 0.45 − 0.03139) = 14.56, up to 14.60.
    # 2XL: (6.10 × 1.02 + 2.5556) × 1.12 = 9.83; 9.83 ÷ 0.51861 = 18.95, up to 19.00.
    (line,) = costs.by_line
    assert [(size.size, size.price_each) for size in line.by_size] == [
        ("S", D("14.60")),
        ("M", D("14.60")),
        ("L", D("14.60")),
        ("2XL", D("19.00")),
    ]
    assert line.price_each == D("14.60")
    assert line.how == "7.55 ÷ (1 − 45 % − 3.139 %) = 14.5582, rounded up"
    # With fees of 16.84 ÷ 552.00 of each price: 7.546 + 0.445 = 7.99 and 9.831 + 0.580 = 10.41.
    assert [size.cost_each for size in line.by_size][1:] == [D("7.99"), D("7.99"), D("10.41")]


def test_totals_and_margin_come_after_rounding_and_discount(costs: Costs) -> None:
    # 30 × 14.60 + 6 × 19.00 = 552.00, less 5 % = 524.40. Costs 302.20; 222.20 of 524.40 are 42.4 %.
    assert (costs.pieces, costs.total, costs.each) == (36, D("302.20"), D("8.39"))
    assert (costs.revenue, costs.profit, costs.margin_percent) == (D("524.40"), D("222.20"), D("42.4"))
    (line,) = costs.by_line
    assert (line.pieces, line.cost_each, line.margin_percent) == (36, D("8.39"), D("42.4"))


def test_the_quote_adds_up_as_by_hand(shop: Shop, costs: Costs) -> None:
    quote = make_quote(the_job(), shop, costs)
    assert [(line.sizes, line.count, line.price_each, line.amount) for line in quote.lines] == [
        ((("S", 6), ("M", 14), ("L", 10)), 30, D("14.60"), D("438.00")),
        ((("2XL", 6),), 6, D("19.00"), D("114.00")),
    ]
    assert (quote.subtotal, quote.discount, quote.top_up, quote.delivery) == (
        D("552.00"),
        D("27.60"),
        D(0),
        D(12),
    )
    # 8.25 % of 536.40 is 44.253; half of 580.65 is 290.325.
    assert (quote.tax, quote.total, quote.deposit) == (D("44.25"), D("580.65"), D("290.33"))
    assert quote.customer == ("Harbour Lights", "The choir's treasurer", "Quay 4")
    assert (quote.valid_until - quote.quoted_on).days == 30


def test_an_exempt_customer_pays_no_tax(shop: Shop) -> None:
    job = the_job(tax_exempt=True)
    quote = make_quote(job, shop, reckon_costs(job, shop, the_purchase(), the_work()))
    assert (quote.tax_percent, quote.tax, quote.tax_exempt) == (0, 0, True)
    assert quote.total == quote.subtotal - quote.discount + quote.delivery


def test_a_small_order_is_lifted_to_the_minimum(shop: Shop) -> None:
    job = the_job(minimum_order=D(600))
    costs = reckon_costs(job, shop, the_purchase(), the_work())
    quote = make_quote(job, shop, costs)
    assert quote.top_up == D("75.60")  # 600.00 − 524.40
    assert quote.subtotal - quote.discount + quote.top_up == costs.revenue == D(600)
    # 8.25 % of 612.00 is 50.49.
    assert (quote.tax, quote.total) == (D("50.49"), D("662.49"))


def test_a_fixed_price_holds_for_every_size_and_the_margin_tells_what_it_earns(shop: Shop) -> None:
    job = the_job()
    job = job.model_copy(update={"lines": (job.lines[0].model_copy(update={"price_each": D("9.50")}),)})
    costs = reckon_costs(job, shop, the_purchase(), the_work())
    (line,) = costs.by_line
    assert {size.price_each for size in line.by_size} == {D("9.50")}
    # 36 × 9.50 = 342.00, less 5 % = 324.90; costs 285.36 and fees: (324.90 + 12) × 1.0825 × 2.9 % = 10.58.
    assert (costs.revenue, costs.total) == (D("324.90"), D("295.94"))
    assert line.margin_percent == costs.margin_percent == D("8.9")
    (finding,) = floor_findings(costs, shop)
    assert (finding.kind, finding.seriousness) == (FindingKind.UNDER_FLOOR, Seriousness.LOOK)
    assert (finding.line, finding.found, finding.needed) == ("g1", 8.9, 30)


def test_a_margin_over_the_floor_is_no_finding(shop: Shop, costs: Costs) -> None:
    assert floor_findings(costs, shop) == ()


def two_lines() -> Job:
    lines = [a_line("g1", {"M": 10}), a_line("g2", {"M": 10})]
    # 200 × 200 on the first, 100 × 100 on the second: four times the area.
    return a_job([a_print("p1", 200), a_print("p2", 100, line="g2")], lines)


def test_transfers_are_shared_by_area_and_press_time_by_minutes() -> None:
    rates = Rates(
        spoilage_percent=D(0), overhead_percent=D(0), percent=D(0), labour_hour=D(60), tax_percent=D(0)
    )
    work = the_work(35).steps[0].model_copy(update={"minutes": 15})
    other = work.model_copy(update={"minutes": 5, "line": "g2", "print": "p2"})
    # 35 minutes at 1.00: the warm-up of 15 is shared as the 20 minutes of pressing are, 3 to 1.
    costs = reckon_costs(
        two_lines(), a_shop(rates=rates), the_purchase(), PressWork(steps=(work, other), total_min=35)
    )
    # Blanks 4.10; transfers and delivery 64.00 as 4 to 1: 5.12 and 1.28; minutes 26.25 and 8.75.
    assert [line.cost_each for line in costs.by_line] == [
        D("4.10") + D("5.12") + D("2.63"),
        D("4.10") + D("1.28") + D("0.88"),
    ]
    assert costs.total == D("82.00") + D("64.00") + D("35.00")


def test_an_order_for_one_line_alone_burdens_no_other() -> None:
    job = two_lines()
    job = job.model_copy(
        update={"prints": (job.prints[0], job.prints[1].model_copy(update={"offer": "other"}))}
    )
    purchase = Purchase(orders=(*the_purchase().orders, *the_purchase("other").orders))
    shop = a_shop([an_offer(), an_offer("other")], rates=RATES)
    costs = reckon_costs(job, shop, purchase, PressWork())
    assert [(line.line, line.offer) for line in costs.lines if line.kind is K.TRANSFERS] == [
        ("g1", "film"),
        ("g2", "other"),
    ]
    first, second = costs.by_line
    assert first.cost_each == second.cost_each


def test_an_order_no_print_asks_for_any_more_is_shared_by_garments() -> None:
    rates = Rates(spoilage_percent=D(0), overhead_percent=D(0), percent=D(0))
    costs = reckon_costs(two_lines(), a_shop(rates=rates), the_purchase("left over"), PressWork())
    assert [line.cost_each for line in costs.by_line] == [D("7.30"), D("7.30")]  # 4.10 + 64.00 ÷ 20


def test_shares_of_the_lines_add_up_to_the_total_but_for_rounding(shop: Shop, costs: Costs) -> None:
    for some in (costs, reckon_costs(two_lines(), shop, the_purchase(), the_work())):
        shares = sum(line.cost_each * line.pieces for line in some.by_line)
        assert abs(shares - some.total) <= D("0.005") * some.pieces + D("0.02")


def test_without_a_purchase_or_counts_what_is_known_is_reckoned(shop: Shop) -> None:
    costs = reckon_costs(the_job(), shop, None, PressWork())
    assert {line.kind for line in costs.lines} == {K.BLANKS, K.SPOILAGE, K.OVERHEAD, K.PAYMENT_FEES}
    nothing = a_job(lines=[a_line(counts={"M": 0})], terms=Terms(minimum_order=D(60)))
    empty = reckon_costs(nothing, shop, None, PressWork())
    assert (empty.pieces, empty.total, empty.each, empty.by_line) == (0, 0, 0, ())
    assert floor_findings(empty, shop) == ()
    quote = make_quote(nothing, shop, empty)
    assert (quote.lines, quote.total) == ((), 0)


def test_charges_of_a_printer_keep_their_names_in_the_sum(shop: Shop) -> None:
    lines = (
        PriceLine(what="goods", amount=D("12.34"), count=D(1234), each=D("0.01")),
        PriceLine(what="images", amount=D("5.00"), count=D(3), each=D("0.50")),  # lifted to a least charge
        PriceLine(what="set-up", amount=D("25.00"), kind=ChargeKind.SET_UP),
        PriceLine(what="delivery", amount=D("10.00"), kind=ChargeKind.DELIVERY),
    )
    order = Order(offer="film", lines=lines, delivery=D(10), cost=D("52.34"))
    costs = reckon_costs(the_job(), shop, Purchase(orders=(order,)), the_work())
    transfers = next(line for line in costs.lines if line.kind is K.TRANSFERS)
    assert transfers.how == "1234 × 0.01 + 5.00 + set-up 25.00"
    unexplained = order.model_copy(update={"lines": lines[:1]})
    costs = reckon_costs(the_job(), shop, Purchase(orders=(unexplained,)), the_work())
    transfers = next(line for line in costs.lines if line.kind is K.TRANSFERS)
    assert (transfers.amount, transfers.how) == (D("42.34"), "52.34 − 10.00 delivery")


@pytest.mark.parametrize("percent", [D(100), D(98)])
def test_an_impossible_margin_is_said_and_found_under_the_floor(shop: Shop, percent: D) -> None:
    job = the_job(percent=percent)
    costs = reckon_costs(job, shop, the_purchase(), the_work())
    assert not costs.target_reachable
    assert [finding.kind for finding in floor_findings(costs, shop)] == [FindingKind.UNDER_FLOOR]
