"""Sheets that cost less than what a search finds are kept, and still take what is to fill their room."""

from decimal import Decimal
from typing import Any

import pytest

from planner.buying.order import plan_order
from planner.buying.purchase import Order
from planner.job import edits
from planner.job.document import Extra, Job
from planner.plan import ordering
from planner.plan.ordering import arrange_job, purchase_of
from planner.shop.document import changed
from tests.builders import a_job, a_shop

OFFER = "film-sheet"


def dear(*given: Any, **named: Any) -> Order:
    """What a search without luck comes back with."""
    found = plan_order(*given, **named)
    return changed(found, cost=found.cost + Decimal(1000))


def cost_of(job: Job) -> Decimal:
    purchase = purchase_of(job, a_shop(), {})
    assert purchase
    return purchase.cost


def test_sheets_kept_for_their_price_are_filled_with_extras(monkeypatch: pytest.MonkeyPatch) -> None:
    job = arrange_job(a_job(width_mm=200)[0], a_shop(), facts={}, rounds=1)
    pieces = [layout.placements for layout in edits.layouts_at(job, OFFER)]
    monkeypatch.setattr(ordering, "plan_order", dear)
    filled = job
    for most in (90, 20):
        extra = Extra(key="x1", artwork="a1", width_mm=40, most=most)
        filled = arrange_job(edits.set_fields(filled, extras=(extra,)), a_shop(), facts={}, rounds=1)
        layouts = edits.layouts_at(filled, OFFER)
        assert [tuple(p for p in layout.placements if p.print != "x1") for layout in layouts] == pieces
        assert 0 < sum(layout.count_of("x1") for layout in layouts) <= most
        assert cost_of(filled) == cost_of(job)
