"""What is bought from transfer printers: offers chosen, layouts and runs, and what it costs."""

from decimal import Decimal
from enum import StrEnum

from pydantic import Field

from planner.measures.geometry import Size
from planner.measures.layout import Layout
from planner.shop.document import Document


class PieceOrder(Document):
    """How many copies of one piece are needed and how many the order yields."""

    piece: str
    """Piece key (see `planner.job.pieces`), or an extra's key."""
    need: int = Field(ge=0)
    """What garments need beyond the pieces taken from stock."""
    spares: int = Field(ge=0)
    """Wanted beyond the need, so that the order finishes."""
    ordered: int = Field(ge=0)

    @property
    def surplus(self) -> int:
        """Copies beyond need and spares; negative where pieces are missing."""
        return self.ordered - self.need - self.spares


class ChargeKind(StrEnum):
    """What a charge of a transfer printer is for."""

    GOODS = "goods"
    SET_UP = "set-up"
    LEAST_ORDER = "least order"
    """What lifts the goods to the offer's least order."""
    RUSH = "rush"
    DELIVERY = "delivery"


class PriceLine(Document):
    """One charge of a transfer printer, and how it came about."""

    what: str
    """For example "36 sheets 11.5 × 18 in at 6.00"."""
    amount: Decimal
    kind: ChargeKind = ChargeKind.GOODS
    count: Decimal | None = None
    """How many units were charged: sheets, steps, images, pieces, layouts or colours."""
    each: Decimal | None = None
    """Price of one of them."""
    size: Size | None = None
    """Size of a sheet, an image or a piece."""
    piece: str | None = None
    """Key of the piece charged, where the line belongs to one."""


class NotPlacedReason(StrEnum):
    """Why pieces cannot be bought at an offer."""

    TOO_LARGE = "too large"
    TOO_MANY_COLOURS = "too many colours"


class NotPlaced(Document):
    """Pieces that go on no sheet of the offer, and why."""

    piece: str
    count: int
    width_mm: float
    height_mm: float
    most_width_mm: float
    most_height_mm: float
    reason: NotPlacedReason = NotPlacedReason.TOO_LARGE
    colours: int | None = None
    most_colours: int | None = None


class Saving(Document):
    """Buying more that costs less: the plan already does it, and says so."""

    piece: str | None = None
    """Key of the piece to add, None where whole sheets or lengths are added."""
    more: int
    """How many more of it (or of sheets, steps) than needed are bought."""
    saves: Decimal
    """What the order would have cost more without them."""


class Order(Document):
    """What is ordered from one offer."""

    offer: str
    """Key of the offer."""
    layouts: tuple[Layout, ...] = ()
    """Empty where pieces are bought singly and no sheet is made up."""
    pieces: tuple[PieceOrder, ...] = ()
    lines: tuple[PriceLine, ...] = ()
    """Goods, set-up, minimum, rush, delivery: together the cost."""
    delivery: Decimal = Decimal(0)
    """The part of the cost that is delivery."""
    cost: Decimal = Decimal(0)
    least_cost: Decimal | None = None
    """Proven lower bound on the cost of this order at this offer; None until known."""
    most_layouts: int | None = None
    """The bound holds for orders of at most so many distinct layouts; None: for any."""
    one_size: bool = False
    """The bound holds for orders on sheets of one size only: several sizes mixed might cost less."""
    days: int = 0
    """Working days from order to arrival."""
    not_placed: tuple[NotPlaced, ...] = ()
    savings: tuple[Saving, ...] = ()
    """Where more is bought than needed because that costs less."""
    provisional: bool = False
    """A quick answer; the search has not run yet."""

    @property
    def sheets(self) -> int:
        return sum(layout.runs for layout in self.layouts)

    @property
    def gap(self) -> float | None:
        """How far the cost may be above the least possible, as a share of that; None while unknown."""
        if self.least_cost is None:
            return None
        return float(self.cost / self.least_cost - 1) if self.least_cost else 0.0

    @property
    def missing(self) -> tuple[PieceOrder, ...]:
        """Pieces of which fewer are ordered than the garments need."""
        return tuple(piece for piece in self.pieces if piece.ordered < piece.need)


class Purchase(Document):
    """All orders of a job, one an offer."""

    orders: tuple[Order, ...]

    @property
    def cost(self) -> Decimal:
        return sum((order.cost for order in self.orders), Decimal(0))

    @property
    def least_cost(self) -> Decimal | None:
        """Proven bound on the cost, None until every order has one."""
        bounds = [order.least_cost for order in self.orders if order.least_cost is not None]
        return sum(bounds, Decimal(0)) if len(bounds) == len(self.orders) else None

    def order_at(self, offer: str) -> Order | None:
        return next((order for order in self.orders if order.offer == offer), None)
