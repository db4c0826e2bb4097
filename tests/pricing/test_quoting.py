"""The customer's quote can hold no costs: neither its type nor what is in it."""

import typing
from decimal import Decimal as D

from pydantic import BaseModel

from planner.pricing.quote import Quote
from planner.pricing.quoting import make_quote
from planner.pricing.reckon import reckon_costs
from planner.shop.book import Letterhead
from tests.pressing.jobs import a_shop
from tests.pricing.test_reckon import RATES, the_job, the_purchase, the_work

SECRET_WORDS = ("cost", "margin", "markup", "profit", "printer", "offer", "note", "labour", "overhead", "fee")


def models_in(model: type[BaseModel]) -> set[type[BaseModel]]:
    """A document's own type and all types its fields are made of."""
    found = {model}
    waiting: list[object] = [field.annotation for field in model.model_fields.values()]
    while waiting:
        kind = waiting.pop()
        waiting += typing.get_args(kind)
        if isinstance(kind, type) and issubclass(kind, BaseModel) and kind not in found:
            found.add(kind)
            waiting += [field.annotation for field in kind.model_fields.values()]
    return found


def test_no_field_of_a_quote_can_carry_what_only_the_shop_knows() -> None:
    models = models_in(Quote)
    assert {model.__name__ for model in models} == {"Quote", "QuoteLine", "QuotePrint"}
    names = {name for model in models for name in model.model_fields}
    assert not [name for name in names for word in SECRET_WORDS if word in name]


def test_nothing_of_costs_printer_or_notes_stands_in_a_quote() -> None:
    shop = a_shop(
        rates=RATES, letterhead=Letterhead(name="Quayside Press", address=("Quay 1",), email="us@quay")
    )
    job = the_job()
    costs = reckon_costs(job, shop, the_purchase(), the_work())
    text = make_quote(job, shop, costs).model_dump_json()
    offer = shop.offers[0]
    assert "Harbour Lights" in text
    for secret in (offer.printer, offer.name, job.note, "9 × 6.00"):
        assert secret not in text
    amounts = [line.amount for line in costs.lines] + [costs.total, costs.each, costs.profit]
    sizes = [size.cost_each for line in costs.by_line for size in line.by_size]
    for amount in {*amounts, *sizes, costs.margin_percent} - {D(12)}:
        assert f'"{amount}"' not in text


def test_the_shop_signs_with_its_letterhead() -> None:
    head = Letterhead(name="Quayside Press", address=("Quay 1", "Port"), phone="555", terms=("Half now.",))
    shop = a_shop(rates=RATES, letterhead=head)
    quote = make_quote(the_job(), shop, reckon_costs(the_job(), shop, the_purchase(), the_work()))
    assert (quote.shop_name, quote.shop_lines, quote.terms) == (
        "Quayside Press",
        ("Quay 1", "Port", "555"),
        ("Half now.",),
    )
    (print_,) = quote.lines[0].prints
    assert (print_.artwork, print_.width_mm, print_.height_mm) == ("a1", 250, 250)
