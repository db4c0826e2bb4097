"""What the customer pays: the one sum that costs and quote share."""

from dataclasses import dataclass
from decimal import Decimal

from planner.job.document import Job
from planner.measures.money import round_money
from planner.shop.book import Shop


@dataclass(frozen=True, slots=True)
class CustomerSums:
    """total = subtotal − discount + top_up + delivery + tax, each rounded to the currency's coins."""

    subtotal: Decimal
    discount: Decimal
    top_up: Decimal
    """What lifts the garments to the minimum order."""
    delivery: Decimal
    tax_percent: Decimal
    tax: Decimal
    total: Decimal
    deposit: Decimal

    @property
    def revenue(self) -> Decimal:
        """For the garments, before tax and without the delivery fee."""
        return self.subtotal - self.discount + self.top_up


def customer_sums(subtotal: Decimal, job: Job, shop: Shop) -> CustomerSums:
    """Everything that follows from the garments' prices together.

    Tax is reckoned on garments and delivery at the rate the shop typed: whether delivery is taxed
    depends on the place, and the local tax office decides.
    """
    terms, rates, currency = job.terms, shop.rates, shop.currency
    discount = round_money(subtotal * terms.discount_percent / 100, currency)
    after = subtotal - discount
    top_up = max(terms.minimum_order - after, Decimal(0)) if subtotal else Decimal(0)
    tax_percent = Decimal(0) if terms.tax_exempt else rates.tax_percent
    before_tax = after + top_up + terms.delivery_fee
    tax = round_money(before_tax * tax_percent / 100, currency)
    return CustomerSums(
        subtotal=subtotal,
        discount=discount,
        top_up=top_up,
        delivery=terms.delivery_fee,
        tax_percent=tax_percent,
        tax=tax,
        total=before_tax + tax,
        deposit=round_money((before_tax + tax) * rates.deposit_percent / 100, currency),
    )
