"""What a job costs the shop: for the shop's eyes only."""

from decimal import Decimal
from enum import StrEnum

from planner.shop.document import Document


class CostKind(StrEnum):
    """Kinds of cost, in the order they are shown."""

    BLANKS = "blanks"
    TRANSFERS = "transfers"
    DELIVERY_IN = "delivery of transfers"
    LABOUR = "press time"
    SPOILAGE = "spoilage"
    OVERHEAD = "overhead"
    PAYMENT_FEES = "payment fees"


class CostLine(Document):
    """One cost of the job, and how it came about."""

    kind: CostKind
    amount: Decimal
    how: str
    """The sum in figures: "36 × 4.10 + 4 × 2.00"."""
    line: str | None = None
    """Key of the garment line it belongs to, where it belongs to one."""
    offer: str | None = None
    """Key of the offer, for transfers and their delivery."""


class SizeCost(Document):
    """What one garment of one size costs and is sold at."""

    size: str
    count: int
    cost_each: Decimal
    price_each: Decimal


class LineCost(Document):
    """What one garment of a line costs, all shares in."""

    line: str
    pieces: int
    cost_each: Decimal
    """The average of its sizes."""
    price_each: Decimal
    """Of the sizes without a surcharge (or with the least); each size has its own in `by_size`."""
    margin_percent: Decimal
    """Over all sizes, after rounding the price, with its share of discount and minimum order."""
    by_size: tuple[SizeCost, ...] = ()
    cost_how: str = ""
    """How the cost of a garment at that price came about, before payment fees: "(4.10 × (1 + 2 %) + 3.3921) ×
    (1 + 12 %)". The second figure is its share of transfers, their delivery and press time."""
    how: str = ""
    """How the price came about: "7.42 ÷ (1 − 45 %) = 13.49, rounded up to 13.50"."""


class Costs(Document):
    """What the job costs and what it earns."""

    currency: str
    pieces: int
    lines: tuple[CostLine, ...] = ()
    by_line: tuple[LineCost, ...] = ()
    total: Decimal = Decimal(0)
    each: Decimal = Decimal(0)
    """Average cost of a garment."""
    revenue: Decimal = Decimal(0)
    """What the customer pays for the garments before tax, discount off. A delivery fee is left out: it
    is passed on at cost, and no profit."""
    profit: Decimal = Decimal(0)
    margin_percent: Decimal = Decimal(0)
    target_reachable: bool = True
    """False where margin and payment fees together eat the whole price: then garments are priced at cost."""
