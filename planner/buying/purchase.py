"""What is bought from transfer printers: offers chosen, layouts and runs, and what it costs."""

from decimal import Decimal

from pydantic import Field

from planner.measures.layout import Layout
from planner.shop.document import Document


class PieceOrder(Document):
    """How many copies of one piece are needed and how many the order yields."""

    piece: str
    """Piece key (see `planner.job.pieces`), or an extra's key."""
    need: int = Field(ge=0)
    """What garments need."""
    spares: int = Field(ge=0)
    """Wanted beyond the need, so that the order finishes."""
    ordered: int = Field(ge=0)

    @property
    def surplus(self) -> int:
        """Copies beyond need and spares; negative where pieces are missing."""
        return self.ordered - self.need - self.spares


class PriceLine(Document):
    """One charge of a transfer printer, and how it came about."""

    what: str
    """For example "36 sheets 11.5 × 18 in at 6.00"."""
    amount: Decimal


class NotPlaced(Document):
    """Pieces that go on no sheet of the offer, and why."""

    piece: str
    count: int
    width_mm: float
    height_mm: float
    most_width_mm: float
    most_height_mm: float


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
    days: int = 0
    """Working days from order to arrival."""
    not_placed: tuple[NotPlaced, ...] = ()

    @property
    def sheets(self) -> int:
        return sum(layout.runs for layout in self.layouts)


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
