"""What transfer printers sell: offers, with their limits, days and press settings."""

from decimal import Decimal
from enum import StrEnum

from pydantic import Field

from planner.shop.cloth import Fibre
from planner.shop.document import Document
from planner.shop.prices import Amount, ByArea, PriceTable


class TransferKind(StrEnum):
    """Kinds of transfer, in the trade's terms."""

    FILM_SINGLE = "full-colour film, single images"
    FILM_SHEET = "full-colour film, gang sheet"
    FILM_ROLL = "full-colour film, roll"
    STRETCH = "stretch-formula transfer"
    SCREEN_PRINTED = "screen-printed transfer"
    SUBLIMATION = "dye-sublimation transfer"
    VINYL = "cut heat-transfer vinyl"


class Pressure(StrEnum):
    LIGHT = "light"
    MEDIUM = "medium"
    FIRM = "firm"


class Peel(StrEnum):
    HOT = "hot"
    WARM = "warm"
    COLD = "cold"


class PressSetting(Document):
    """How a transfer is pressed. Starting values: the transfer printer's own sheet always wins."""

    setting_c: float = Field(gt=0, le=260)
    press_s: float = Field(gt=0, le=600)
    pressure: Pressure
    peel: Peel
    pre_press_s: float = Field(default=3, ge=0, le=60)
    cover_sheet: bool = False
    second_press_s: float = Field(default=0, ge=0, le=600)


class ClothRule(Document):
    """Which cloths a transfer may go on."""

    fibres: tuple[Fibre, ...]
    """Fibres it holds on; a cloth with another fibre is a warning."""
    stretch: bool = False
    """Made for cloth with spandex."""
    coated: bool = False
    light_only: bool = False
    """Has no white of its own: needs white or light cloth."""
    least_polyester_percent: float = Field(default=0, ge=0, le=100)


PROFILE_STEPS = 18
"""Of red, green and blue, 15 levels of 255 apart."""
_SHIFTS_LETTERS = PROFILE_STEPS**3 * 4


class PrintProfile(Document):
    """What a transfer printer's ICC profile says of colours, as plain numbers.

    The profile itself is read once, where customers' files are: no book that is handed on can carry one.
    """

    name: str = Field(min_length=1, max_length=255)
    """Of its file."""
    shifts: str = Field(
        min_length=_SHIFTS_LETTERS, max_length=_SHIFTS_LETTERS, pattern=r"^[A-Za-z0-9+/]*$", repr=False
    )
    """Base64 of signed bytes: how far L*, a* and b* move in print, for each sRGB colour; red slowest."""


class ArtRule(Document):
    """Which artwork a transfer can show, and how fine."""

    needs_ppi: float = Field(default=300, gt=0)
    least_stroke_mm: float = Field(default=0.5, ge=0)
    least_speck_mm: float = Field(default=0.5, ge=0)
    most_colours: int | None = Field(default=None, ge=1)
    """None: any number, photographs included."""
    soft_edges: bool = False
    """Can show semi-transparent areas."""
    profile: PrintProfile | None = None
    """None: nobody knows which colours it cannot hold."""


class Rush(Document):
    """Faster production for a surcharge."""

    production_days: int = Field(ge=0)
    percent: Amount = Decimal(0)
    fee: Amount = Decimal(0)


class SheetWish(StrEnum):
    """How a transfer printer wants its sheet files, beyond size and places."""

    CUT_MARKS = "cut marks"
    """At the corners of pieces, in the gaps between them."""
    LABELS = "labels"
    """Each piece's label below it, in the gap."""
    MIRRORED = "mirrored"
    WHITE_GROUND = "white ground"


class Offer(Document):
    """One thing a transfer printer sells."""

    key: str
    name: str = Field(min_length=1, max_length=80)
    printer: str = Field(default="", max_length=80)
    """The transfer printer: for the shop and the order only, never on a customer's paper."""
    kind: TransferKind
    price: PriceTable
    cloth: ClothRule
    art: ArtRule = ArtRule()
    press: PressSetting
    gap_mm: float = Field(default=3.0, ge=0)
    margin_mm: float = Field(default=5.0, ge=0)
    least_order: Amount = Decimal(0)
    """Minimum charge for the order, before delivery."""
    least_pieces: int = Field(default=1, ge=1)
    production_days: int = Field(default=2, ge=0)
    """Working days."""
    delivery_days: int = Field(default=3, ge=0)
    """Working days."""
    delivery: Amount = Decimal(0)
    free_delivery_from: Amount | None = None
    rush: Rush | None = None
    finishing_s: float = Field(default=0, ge=0)
    """Extra hand work a piece, such as weeding vinyl."""
    wishes: tuple[SheetWish, ...] = ()
    """Standing wishes for every sheet file made for this offer."""

    @property
    def edge_mm(self) -> float:
        """The margin to keep along the edges: none where a group is paid by the area around its pieces."""
        return 0.0 if isinstance(self.price, ByArea) else self.margin_mm
