"""Blocks found again from what was kept are the blocks found anew."""

import pytest

from planner.buying.compare import Facts
from planner.buying.quantity import CostByQuantity, cost_by_quantity
from planner.sheets import groups
from planner.shop.document import changed
from tests.builders import A_DAY, a_job, a_shop


def curve() -> CostByQuantity:
    shop = a_shop()
    by_area = tuple(offer for offer in shop.offers if offer.key == "film-single")
    job, _ = a_job(width_mm=40)
    return cost_by_quantity(job, changed(shop, offers=by_area), Facts(today=A_DAY), [20, 40, 60])


def test_costs_do_not_depend_on_what_was_asked_before(monkeypatch: pytest.MonkeyPatch) -> None:
    kept: dict[object, int] = {}
    monkeypatch.setattr(groups, "_best_widths", kept)
    first = curve()
    assert kept
    assert curve() == first
    kept.clear()
    assert curve() == first
