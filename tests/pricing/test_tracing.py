"""What is told of a figure gives that figure when it is worked out."""

import re
from decimal import ROUND_HALF_UP, Decimal

from planner.job.document import Terms
from planner.plan.make_plan import make_plan
from planner.pricing.tracing import costs_traced, quote_traced
from planner.shop.document import changed
from tests.builders import A_DAY, a_job, a_line, a_shop


def worked_out(told: str) -> Decimal:
    """A sum in figures reckoned by Python's own arithmetic."""
    text = re.sub(r"([\d.]+) %", r"(D('\1')/100)", told)
    text = re.sub(r"(?<![\d.'])(\d[\d.]*)(?![\d.'])", r"D('\1')", text)
    result = eval(text.replace("×", "*").replace("÷", "/").replace("−", "-"), {"D": Decimal})
    assert isinstance(result, Decimal)
    return result


def cents(amount: Decimal) -> Decimal:
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


def test_sums_as_told_give_the_figures() -> None:
    job, _ = a_job()
    line = a_line()
    dear = changed(line.sizes[1], surcharge=Decimal("2.50"))
    job = changed(
        job,
        lines=(changed(line, sizes=(line.sizes[0], dear)),),
        terms=Terms(
            discount_percent=Decimal("7.5"), minimum_order=Decimal(900), delivery_fee=Decimal("12.30")
        ),
    )
    shop = a_shop()
    rates = changed(shop.rates, tax_percent=Decimal("8.25"), payment_fee_percent=Decimal("2.9"))
    plan = make_plan(job, changed(shop, rates=rates), facts={}, today=A_DAY)
    costs, quote = plan.costs, plan.quote
    traced = costs_traced(costs)
    assert worked_out(traced["total"]) == costs.total
    assert cents(worked_out(traced["each"])) == costs.each
    assert worked_out(traced["profit"]) == costs.profit
    margin = worked_out(traced["margin"]) * 100
    assert margin.quantize(Decimal("0.1"), ROUND_HALF_UP) == costs.margin_percent
    told = quote_traced(quote, job.terms)
    assert quote.discount > 0
    assert quote.top_up > 0
    for name in ("subtotal", "discount", "top_up", "tax", "total", "deposit"):
        assert cents(worked_out(told[name])) == getattr(quote, name), name


def test_a_garment_s_cost_as_told_is_what_its_price_is_reckoned_from() -> None:
    job, _ = a_job()
    (line,) = make_plan(job, a_shop(), facts={}, today=A_DAY).costs.by_line
    cost = cents(worked_out(line.cost_how))
    assert line.how.startswith(f"{cost} ÷ (1 − 45 %)")
