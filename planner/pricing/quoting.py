"""The customer's quote from a job and its prices. Nothing of the costs gets into it but the prices."""

from datetime import timedelta
from decimal import Decimal

from planner.job.document import GarmentLine, Job, Print
from planner.job.pieces import print_size
from planner.measures.money import total
from planner.pricing.costs import Costs
from planner.pricing.quote import Quote, QuoteLine, QuotePrint
from planner.pricing.sums import customer_sums
from planner.shop.book import Shop


def make_quote(job: Job, shop: Shop, costs: Costs) -> Quote:
    """What the customer is asked to agree to, with tax, deposit and until when it holds."""
    lines = tuple(quote_line for line in job.lines for quote_line in _quote_lines(job, line, costs))
    sums = customer_sums(total(line.amount for line in lines), job, shop)
    head = shop.letterhead
    return Quote(
        title=job.title,
        customer=_customer(job),
        quoted_on=job.quoted_on,
        valid_until=job.quoted_on + timedelta(days=shop.rates.quote_valid_days),
        due=job.due,
        currency=shop.currency,
        lines=lines,
        subtotal=sums.subtotal,
        discount=sums.discount,
        top_up=sums.top_up,
        delivery=sums.delivery,
        tax_name=shop.rates.tax_name,
        tax_percent=sums.tax_percent,
        tax_exempt=job.terms.tax_exempt,
        tax=sums.tax,
        total=sums.total,
        deposit_percent=shop.rates.deposit_percent,
        deposit=sums.deposit,
        shop_name=head.name,
        shop_lines=tuple(text for text in (*head.address, head.email, head.phone) if text),
        terms=head.terms,
    )


def _customer(job: Job) -> tuple[str, ...]:
    who = job.customer
    return tuple(text for text in (who.name, who.contact, *who.address, who.email, who.phone) if text)


def _quote_lines(job: Job, line: GarmentLine, costs: Costs) -> list[QuoteLine]:
    """One line for each price among the sizes, in the order of the sizes."""
    cost = next((cost for cost in costs.by_line if cost.line == line.key), None)
    if cost is None:
        return []
    by_price: dict[Decimal, list[tuple[str, int]]] = {}
    for size in cost.by_size:
        by_price.setdefault(size.price_each, []).append((size.size, size.count))
    prints = tuple(_quote_print(job, print_) for print_ in job.prints_on(line.key))
    quote_lines = []
    for price, sizes in by_price.items():
        count = sum(count for _, count in sizes)
        quote_lines.append(
            QuoteLine(
                line=line.key,
                style=line.style,
                kind=line.kind,
                colour_name=line.colour.name,
                colour_hex=line.colour.hex,
                sizes=tuple(sizes),
                prints=prints,
                count=count,
                price_each=price,
                amount=price * count,
            )
        )
    return quote_lines


def _quote_print(job: Job, print_: Print) -> QuotePrint:
    artwork = job.artwork(print_.artwork)
    size = print_size(artwork, print_.width_mm)
    return QuotePrint(
        artwork=artwork.key,
        name=artwork.name,
        location=print_.location,
        place_name=print_.place_name,
        width_mm=size.width_mm,
        height_mm=size.height_mm,
    )
