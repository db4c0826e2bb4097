"""The plan as JSON: the keys are a promise to whoever reads them; add some, rename none."""

from decimal import Decimal
from typing import Any

from planner.buying.purchase import Order, Purchase
from planner.job.document import Job
from planner.job.findings import Finding
from planner.measures.layout import Layout
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.document import Document


def plan_as_json(job: Job, shop: Shop, plan: Plan) -> dict[str, Any]:
    """The plan in plain values, amounts as numbers in the shop's currency, dates as ISO 8601."""
    purchase = plan.purchase
    return {
        "title": job.title,
        "currency": shop.currency,
        "findings": [finding_as_json(finding, shop.unit) for finding in plan.findings],
        "decided": [finding_as_json(finding, shop.unit) for finding in plan.decided],
        "purchase": _purchase(purchase) if purchase else None,
        "cost": plain(purchase.cost) if purchase else None,
        "least_cost": plain(purchase.least_cost) if purchase else None,
        "costs": plain(plan.costs),
        "quote": plain(plan.quote),
        "press_cards": [plain(card) for card in plan.press_cards],
        "press_work": plain(plan.press_work),
        "calendar": plain(plan.calendar),
        "missing": [wording.missing(what) for what in plan.missing],
        "provisional": plan.provisional,
    }


def finding_as_json(finding: Finding, unit: LengthUnit) -> dict[str, Any]:
    """A finding's kind and figures, and the sentence made of them."""
    return {**plain(finding), "sentence": wording.finding(finding, unit)}


def plain(value: Any) -> Any:
    """Documents, tuples and amounts as JSON's own kinds of value; amounts become numbers."""
    if isinstance(value, Document):
        return {name: plain(getattr(value, name)) for name in type(value).model_fields}
    if isinstance(value, Layout):
        return _layout(value)
    if isinstance(value, tuple):
        return [plain(part) for part in value]
    if isinstance(value, frozenset):
        return sorted(plain(part) for part in value)
    if isinstance(value, Decimal):
        return float(value)
    if hasattr(value, "isoformat"):
        return value.isoformat()
    if hasattr(value, "__dataclass_fields__"):
        return {name: plain(getattr(value, name)) for name in value.__dataclass_fields__}
    return value


def _purchase(purchase: Purchase) -> dict[str, Any]:
    return {
        "offer": purchase.orders[0].offer,
        "layouts": [
            {**_layout(layout), "offer": order.offer} for order in purchase.orders for layout in order.layouts
        ],
        "orders": [_order(order) for order in purchase.orders],
    }


def _order(order: Order) -> dict[str, Any]:
    told = plain(order)
    del told["layouts"]
    return {**told, "sheets": order.sheets}


def _layout(layout: Layout) -> dict[str, Any]:
    return {
        "sheet": {"width_mm": layout.sheet.width_mm, "height_mm": layout.sheet.height_mm},
        "runs": layout.runs,
        "pieces": [
            {name: getattr(placement, name) for name in placement.__dataclass_fields__}
            for placement in layout.placements
        ],
    }
