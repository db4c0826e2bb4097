"""What a job costs and earns: each cost as a line with its sum in figures, then shares and prices.

Amounts are rounded once, as each cost line is written; shares of garment lines are taken of these
rounded amounts and rounded once more only where they are shown.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from planner.buying.purchase import ChargeKind, Order, Purchase
from planner.job.document import GarmentLine, Job
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.pieces import pieces_of
from planner.measures.money import minor_units, round_money, total
from planner.pressing.card import PressWork
from planner.pricing import words
from planner.pricing.costs import CostKind, CostLine, Costs, LineCost, SizeCost
from planner.pricing.figures import exact, figure, percent, plus
from planner.pricing.prices import Priced, price_of
from planner.pricing.sums import CustomerSums, customer_sums
from planner.shop.book import Shop

Weights = Mapping[str, Decimal]
"""By key of the garment line."""


def reckon_costs(job: Job, shop: Shop, purchase: Purchase | None, work: PressWork) -> Costs:
    """Costs, prices and margin of a job; without a purchase the transfers are left out."""
    ordered = {line.key: line for line in job.lines if line.count}
    pieces = sum(line.count for line in ordered.values())
    direct = [
        *_blanks(ordered, shop),
        *_transfers(job, shop, purchase),
        *_labour(shop, work),
    ]
    direct += _spoilage(direct, shop)
    overhead = _overhead(direct, shop)
    shared = _shared_each(job, ordered, direct, purchase, work)
    priced = {key: _price_sizes(line, shared[key], job, shop) for key, line in ordered.items()}
    subtotal = total(size.price * size.count for sizes in priced.values() for size in sizes)
    sums = customer_sums(subtotal, job, shop)
    lines = [*direct, *overhead, *_payment_fees(sums, shop)]
    cost = total(line.amount for line in lines)
    fees = lines[-1].amount if lines and lines[-1].kind is CostKind.PAYMENT_FEES else Decimal(0)
    fee_rate = fees / subtotal if subtotal else Decimal(0)
    paid_rate = sums.revenue / subtotal if subtotal else Decimal(0)
    return Costs(
        currency=shop.currency,
        pieces=pieces,
        lines=tuple(lines),
        by_line=tuple(_line_cost(key, sizes, fee_rate, paid_rate, shop) for key, sizes in priced.items()),
        total=cost,
        each=round_money(cost / pieces, shop.currency) if pieces else Decimal(0),
        revenue=sums.revenue,
        profit=sums.revenue - cost,
        margin_percent=_margin(sums.revenue, cost),
        target_reachable=all(size.reachable for sizes in priced.values() for size in sizes),
    )


def floor_findings(costs: Costs, shop: Shop) -> tuple[Finding, ...]:
    """Garment lines whose margin is under the shop's floor.

    The job as a whole is no finding of its own: it is never under the floor without one of its lines.
    """
    floor = shop.rates.floor_margin_percent
    return tuple(
        Finding(
            kind=FindingKind.UNDER_FLOOR,
            seriousness=Seriousness.LOOK,
            line=line.line,
            found=float(line.margin_percent),
            needed=float(floor),
        )
        for line in costs.by_line
        if line.margin_percent < floor
    )


def _blanks(ordered: Mapping[str, GarmentLine], shop: Shop) -> list[CostLine]:
    lines = []
    for line in ordered.values():
        counts: dict[Decimal, int] = {}
        for size in line.sizes:
            each = line.blank_cost + size.surcharge
            counts[each] = counts.get(each, 0) + size.count
        terms = [f"{count} × {figure(each, shop.currency)}" for each, count in counts.items() if count]
        amount = round_money(total(each * count for each, count in counts.items()), shop.currency)
        lines.append(CostLine(kind=CostKind.BLANKS, amount=amount, how=plus(terms), line=line.key))
    return lines


def _transfers(job: Job, shop: Shop, purchase: Purchase | None) -> list[CostLine]:
    """Goods and delivery of each order; an order for one garment line alone belongs to that line."""
    lines = []
    for order in purchase.orders if purchase else ():
        goods = round_money(order.cost - order.delivery, shop.currency)
        keys = {print_.line for print_ in job.prints if job.offer_of(print_) == order.offer}
        only = next(iter(keys)) if len(keys) == 1 else None
        if goods:
            how = _goods_how(order, goods, shop)
            lines.append(
                CostLine(kind=CostKind.TRANSFERS, amount=goods, how=how, line=only, offer=order.offer)
            )
        if order.delivery:
            delivery = round_money(order.delivery, shop.currency)
            how = f"1 × {figure(delivery, shop.currency)}"
            lines.append(
                CostLine(kind=CostKind.DELIVERY_IN, amount=delivery, how=how, line=only, offer=order.offer)
            )
    return lines


def _goods_how(order: Order, goods: Decimal, shop: Shop) -> str:
    terms = []
    charges = [charge for charge in order.lines if charge.kind is not ChargeKind.DELIVERY]
    for charge in charges:
        amount = figure(charge.amount, shop.currency)
        product = charge.count * charge.each if charge.count is not None and charge.each is not None else None
        if product is not None and round_money(product, shop.currency) == charge.amount:
            terms.append(
                f"{exact(charge.count or Decimal(0))} × {figure(charge.each or Decimal(0), shop.currency)}"
            )
        elif charge.kind is ChargeKind.GOODS:
            terms.append(amount)
        else:
            terms.append(f"{words.CHARGES[charge.kind]} {amount}")
    # Charges that do not add up to the order's cost would show a sum that is none.
    if round_money(total(charge.amount for charge in charges), shop.currency) != goods:
        brought = f"{figure(order.delivery, shop.currency)} {words.CHARGES[ChargeKind.DELIVERY]}"
        return f"{figure(order.cost, shop.currency)} − {brought}"
    return plus(terms)


def _labour(shop: Shop, work: PressWork) -> list[CostLine]:
    minutes = _minutes(work.total_min)
    amount = round_money(minutes * shop.rates.labour_hour / 60, shop.currency)
    if not amount:
        return []
    beside = {
        "warming up": _minutes(work.warm_up_min),
        "changing temperature": _minutes(work.reset_min),
    }
    parts = {name: spent for name, spent in beside.items() if spent}
    parts["pressing"] = minutes - total(parts.values())
    told = plus([f"{exact(spent)} {name}" for name, spent in parts.items()])
    how = f"({told}) min × {figure(shop.rates.labour_hour, shop.currency)} ÷ 60"
    return [CostLine(kind=CostKind.LABOUR, amount=amount, how=how)]


def _minutes(spent_min: float) -> Decimal:
    """To the tenth, as they are told."""
    return Decimal(str(spent_min)).quantize(Decimal("0.1"), rounding=ROUND_HALF_UP).normalize()


def _spoilage(direct: list[CostLine], shop: Shop) -> list[CostLine]:
    blanks = total(line.amount for line in direct if line.kind is CostKind.BLANKS)
    share = shop.rates.spoilage_percent
    amount = round_money(blanks * share / 100, shop.currency)
    how = f"{percent(share)} × {figure(blanks, shop.currency)}"
    return [CostLine(kind=CostKind.SPOILAGE, amount=amount, how=how)] if amount else []


def _overhead(direct: list[CostLine], shop: Shop) -> list[CostLine]:
    share = shop.rates.overhead_percent
    amount = round_money(total(line.amount for line in direct) * share / 100, shop.currency)
    how = f"{percent(share)} × ({plus([figure(line.amount, shop.currency) for line in direct])})"
    return [CostLine(kind=CostKind.OVERHEAD, amount=amount, how=how)] if amount else []


def _payment_fees(sums: CustomerSums, shop: Shop) -> list[CostLine]:
    share = shop.rates.payment_fee_percent
    amount = round_money(sums.total * share / 100, shop.currency)
    how = f"{percent(share)} × {figure(sums.total, shop.currency)}"
    return [CostLine(kind=CostKind.PAYMENT_FEES, amount=amount, how=how)] if amount else []


def _shared_each(
    job: Job,
    ordered: Mapping[str, GarmentLine],
    direct: list[CostLine],
    purchase: Purchase | None,
    work: PressWork,
) -> dict[str, Decimal]:
    """Transfers, their delivery and press time a garment of each line: by printed area and by minutes."""
    by_count = {key: Decimal(line.count) for key, line in ordered.items()}
    minutes = dict.fromkeys(ordered, Decimal(0))
    for step in work.steps:
        if step.line in minutes:
            minutes[step.line] += Decimal(str(step.minutes))
    areas = {order.offer: _areas(job, order.offer) for order in purchase.orders} if purchase else {}
    shares = dict.fromkeys(ordered, Decimal(0))
    for line in direct:
        weights: Weights
        if line.kind is CostKind.LABOUR:
            weights = minutes
        elif line.kind in (CostKind.TRANSFERS, CostKind.DELIVERY_IN):
            weights = areas[line.offer or ""]
        else:
            continue
        weights = {key: weights.get(key, Decimal(0)) for key in ordered}
        if not any(weights.values()):
            weights = by_count
        whole = total(weights.values())
        for key in ordered:
            shares[key] += line.amount * weights[key] / whole
    return {key: share / ordered[key].count for key, share in shares.items()}


def _areas(job: Job, offer: str) -> dict[str, Decimal]:
    """Printed area that each garment line needs from an offer."""
    areas: dict[str, Decimal] = {}
    for print_ in job.prints:
        if job.offer_of(print_) == offer:
            area = sum(piece.count * piece.size.area_mm2 for piece in pieces_of(job, print_))
            areas[print_.line] = areas.get(print_.line, Decimal(0)) + Decimal(str(round(area, 3)))
    return areas


@dataclass(frozen=True, slots=True)
class _SizePriced:
    size: str
    count: int
    surcharge: Decimal
    cost: Decimal
    """Before payment fees, not rounded."""
    cost_how: str
    price: Decimal
    how: str
    reachable: bool


def _price_sizes(line: GarmentLine, shared: Decimal, job: Job, shop: Shop) -> list[_SizePriced]:
    """Sizes with the same surcharge share a cost and a price; a fixed price holds for all sizes."""
    rates = shop.rates
    priced = []
    for size in line.sizes:
        if not size.count:
            continue
        blank = (line.blank_cost + size.surcharge) * (1 + rates.spoilage_percent / 100)
        cost = (blank + shared) * (1 + rates.overhead_percent / 100)
        answer = (
            price_of(round_money(cost, shop.currency), rates, job.terms, shop.currency)
            if line.price_each is None
            else Priced(line.price_each, "fixed")
        )
        priced.append(
            _SizePriced(
                size=size.size,
                count=size.count,
                surcharge=size.surcharge,
                cost=cost,
                cost_how=_cost_how(line.blank_cost + size.surcharge, shared, shop),
                price=answer.price,
                how=answer.how,
                reachable=answer.target_reachable,
            )
        )
    return priced


def _cost_how(blank: Decimal, shared: Decimal, shop: Shop) -> str:
    rates = shop.rates
    told = figure(blank, shop.currency)
    if rates.spoilage_percent:
        told += f" × (1 + {percent(rates.spoilage_percent)})"
    # Two digits beyond the coins, so that the sum as told gives the cost.
    told += f" + {figure(shared.quantize(Decimal(1).scaleb(-minor_units(shop.currency) - 2)), shop.currency)}"
    return f"({told}) × (1 + {percent(rates.overhead_percent)})" if rates.overhead_percent else told


def _line_cost(
    key: str, sizes: list[_SizePriced], fee_rate: Decimal, paid_rate: Decimal, shop: Shop
) -> LineCost:
    """Payment fees, the discount and what lifts the job to its minimum order are shared by price."""
    count = sum(size.count for size in sizes)
    cost = total((size.cost + size.price * fee_rate) * size.count for size in sizes)
    paid = total(size.price * size.count for size in sizes) * paid_rate
    base = min(sizes, key=lambda size: size.surcharge)
    return LineCost(
        line=key,
        pieces=count,
        cost_each=round_money(cost / count, shop.currency),
        price_each=base.price,
        margin_percent=_margin(paid, cost),
        by_size=tuple(
            SizeCost(
                size=size.size,
                count=size.count,
                cost_each=round_money(size.cost + size.price * fee_rate, shop.currency),
                price_each=size.price,
            )
            for size in sizes
        ),
        cost_how=base.cost_how,
        how=base.how,
    )


def _margin(revenue: Decimal, cost: Decimal) -> Decimal:
    """Percent of the revenue, one decimal; all of it is lost where there is none."""
    if revenue <= 0:
        return Decimal(-100) if cost > 0 else Decimal(0)
    return ((revenue - cost) / revenue * 100).quantize(Decimal("0.1"), rounding=ROUND_HALF_UP)
