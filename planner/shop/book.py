"""Everything the shop knows between jobs."""

from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from planner.measures.layout import Way
from planner.measures.lengths import LengthUnit
from planner.shop.actuals import Actuals
from planner.shop.document import Document
from planner.shop.garments import Blank, UsualWidth
from planner.shop.offers import Offer
from planner.shop.prices import Amount
from planner.shop.stock import LeftOver


class PaperSize(StrEnum):
    LETTER = "Letter"
    A4 = "A4"


class PriceBy(StrEnum):
    """How the price of a piece follows from its cost."""

    MARGIN = "margin"
    """On price: price = cost ÷ (1 − margin)."""
    MARKUP = "markup"
    """On cost: price = cost × (1 + markup)."""


class RoundTo(StrEnum):
    """Where the price of a piece may end; it is always rounded up."""

    NONE = "none"
    FIVE_CENTS = ".05"
    HALF = ".50"
    NINETY_NINE = ".99"


class Press(Document):
    """A heat press of the shop."""

    key: str
    name: str
    platen_width_mm: float = Field(gt=0)
    platen_height_mm: float = Field(gt=0)
    warm_up_min: float = Field(default=15, ge=0)
    reset_min: float = Field(default=5, ge=0)
    """Time to change the temperature."""
    loading_s: float = Field(default=30, ge=0)
    """Load, align, peel and unload, a pressing."""


class Spares(Document):
    """How many transfers are ordered beyond the need."""

    misprint_rate: float = Field(default=0.01, ge=0, lt=1)
    confidence: float = Field(default=0.95, gt=0, lt=1)
    """Chance that the order finishes without a second one."""
    percent: float | None = Field(default=None, ge=0, le=100)
    """A plain percentage instead of the reckoning, where the shop prefers it."""
    count: int | None = Field(default=None, ge=0)
    """A plain count a print instead of the reckoning."""


class Rates(Document):
    """What the shop reckons with."""

    labour_hour: Amount = Decimal("24.00")
    overhead_percent: Amount = Decimal("12")
    """Of all other costs."""
    spoilage_percent: Amount = Decimal("2")
    """Garments ruined at the press, of the blanks' cost."""
    payment_fee_percent: Amount = Decimal("0")
    price_by: PriceBy = PriceBy.MARGIN
    percent: Decimal = Field(default=Decimal("45"), ge=0)
    """Target margin or markup."""
    floor_margin_percent: Amount = Decimal("30")
    """Below this margin the planner warns."""
    round_to: RoundTo = RoundTo.FIVE_CENTS
    tax_percent: Amount = Decimal("0")
    """The shop enters its own: the local tax office decides."""
    tax_name: str = "Sales tax"
    deposit_percent: Amount = Decimal("50")
    quote_valid_days: int = Field(default=30, ge=1)


class Logo(Document):
    """The picture on the shop's papers. The book's file keeps its bytes beside the document, by SHA-256."""

    name: str = Field(max_length=255)
    sha256: str = Field(pattern=r"^[0-9a-f]{64}$")
    media: Literal["image/png", "image/jpeg", "image/svg+xml"]
    width_px: int = Field(gt=0, le=100_000)
    height_px: int = Field(gt=0, le=100_000)
    vector: bool = False
    data: bytes = Field(default=b"", exclude=True, repr=False)
    """The file itself; never in the document's JSON."""


class Letterhead(Document):
    """How the shop signs its papers."""

    name: str = "Your shop"
    address: tuple[str, ...] = ()
    email: str = ""
    phone: str = ""
    terms: tuple[str, ...] = ()
    logo: Logo | None = None


class Shop(Document):
    """The shop book."""

    currency: str = Field(default="USD", pattern=r"^[A-Z]{3}$")
    unit: LengthUnit = LengthUnit.INCH
    paper: PaperSize = PaperSize.LETTER
    region: str = Field(default="US", pattern=r"^[A-Z]{2}(-[A-Z0-9]{1,3})?$")
    """Whose holidays count, ISO 3166."""
    closed_days: tuple[date, ...] = ()
    open_weekdays: tuple[int, ...] = (0, 1, 2, 3, 4)
    """Monday is 0."""
    letterhead: Letterhead = Letterhead()
    rates: Rates = Rates()
    spares: Spares = Spares()
    presses: tuple[Press, ...] = ()
    offers: tuple[Offer, ...] = ()
    blanks: tuple[Blank, ...] = ()
    usual_widths: tuple[UsualWidth, ...] = ()
    """Where the shop departs from common practice (see `planner.pressing.usual`)."""
    left_over: tuple[LeftOver, ...] = ()
    """Transfers on the shelf."""
    actuals: tuple[Actuals, ...] = ()
    """What finished jobs really took."""
    way: Way = Way.LOOSE
    search_s: float = Field(default=2.0, gt=0, le=120)
    """How long arranging may search."""
    ladder: tuple[Annotated[int, Field(gt=0, le=100_000)], ...] = (12, 24, 48, 72, 144)
    """Quantities whose price the shop likes to show; dozens, as garments are counted (common practice)."""
    blanks_delivery_days: int = Field(default=3, ge=0)
    hours_a_day: float = Field(default=6.0, gt=0, le=24)
    """Hours a day that the press is manned."""

    def offer(self, key: str) -> Offer | None:
        return next((offer for offer in self.offers if offer.key == key), None)
