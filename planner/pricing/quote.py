"""The quote: what the customer sees. It holds no costs, so that none can leak into a paper."""

from datetime import date
from decimal import Decimal

from planner.shop.document import Document
from planner.shop.garments import GarmentKind, Location


class QuotePrint(Document):
    """A print as the customer knows it."""

    artwork: str
    """Key, to find the picture."""
    name: str
    location: Location
    place_name: str
    width_mm: float
    height_mm: float


class QuoteLine(Document):
    """Garments of one style and colour at one price; a garment line with dearer sizes gives several."""

    line: str
    style: str
    kind: GarmentKind
    colour_name: str
    colour_hex: str
    sizes: tuple[tuple[str, int], ...]
    """Size and count."""
    prints: tuple[QuotePrint, ...]
    count: int
    price_each: Decimal
    amount: Decimal


class Quote(Document):
    """Everything a customer's quote says."""

    title: str
    customer: tuple[str, ...]
    """Name, contact and address, line by line."""
    quoted_on: date
    valid_until: date
    due: date | None
    currency: str
    lines: tuple[QuoteLine, ...]
    subtotal: Decimal
    discount: Decimal
    delivery: Decimal
    tax_name: str
    tax_percent: Decimal
    tax: Decimal
    total: Decimal
    deposit_percent: Decimal
    deposit: Decimal
    shop_name: str
    shop_lines: tuple[str, ...]
    """Address, e-mail, phone."""
    terms: tuple[str, ...]
    top_up: Decimal = Decimal(0)
    """Added to reach the minimum order. total = subtotal − discount + top-up + delivery + tax."""
    tax_exempt: bool = False
