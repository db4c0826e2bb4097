"""How the sums came about: each figure that is made of others, as a sum in figures.

Single costs and prices carry their own (`CostLine.how`, `LineCost.how`).
"""

from collections.abc import Mapping
from decimal import Decimal

from planner.job.document import Terms
from planner.pricing.costs import CostKind, Costs
from planner.pricing.figures import figure, percent, plus
from planner.pricing.quote import Quote


def costs_traced(costs: Costs) -> Mapping[str, str]:
    """The sums behind "total", "each", "profit" and "margin"."""
    kinds = {kind: Decimal(0) for kind in CostKind}
    for line in costs.lines:
        kinds[line.kind] += line.amount
    revenue, total = figure(costs.revenue, costs.currency), figure(costs.total, costs.currency)
    return {
        "total": plus([figure(amount, costs.currency) for amount in kinds.values() if amount]),
        "each": f"{total} ÷ {costs.pieces}",
        "profit": f"{revenue} − {total}",
        "margin": f"({revenue} − {total}) ÷ {revenue}",
    }


def quote_traced(quote: Quote, terms: Terms) -> Mapping[str, str]:
    """The sums behind the customer's figures, by the quote's names for them; empty where there is none."""

    def money(amount: Decimal) -> str:
        return figure(amount, quote.currency)

    garments = money(quote.subtotal) + (f" − {money(quote.discount)}" if quote.discount else "")
    added = [garments, *(money(amount) for amount in (quote.top_up, quote.delivery) if amount)]
    before_tax = plus(added)
    total = plus([before_tax, *([money(quote.tax)] if quote.tax else [])])
    return {
        "subtotal": plus([f"{line.count} × {money(line.price_each)}" for line in quote.lines]),
        "discount": f"{percent(terms.discount_percent)} × {money(quote.subtotal)}",
        "top_up": f"{money(terms.minimum_order)} − ({garments})",
        "tax": f"{percent(quote.tax_percent)} × ({before_tax})",
        "total": "" if total == money(quote.total) else total,
        "deposit": f"{percent(quote.deposit_percent)} × {money(quote.total)}",
    }
