"""What a finished job really took: typed in after the job, beside what was planned."""

from datetime import date
from decimal import Decimal

from pydantic import Field

from planner.shop.document import Document
from planner.shop.prices import Amount


class Actuals(Document):
    """One finished job. `pressings` counts every closing on a print, spoilt ones included."""

    title: str = Field(max_length=120)
    finished_on: date
    pressings: int = Field(ge=0)
    misprints: int = Field(ge=0)
    """Transfers spoilt at the press."""
    blanks_spoilt: int = Field(default=0, ge=0)
    press_min: float = Field(ge=0)
    """All time at the press, warm-up included."""
    planned_min: float = Field(ge=0)
    cost: Amount = Decimal(0)
    """What the job really cost."""
    planned_cost: Amount = Decimal(0)
    planned_misprints: float | None = Field(default=None, ge=0)
    """What the misprint rate of that day let expect; None: kept before this was kept."""
    revenue: Amount | None = None
    """What the customer paid for the garments, before tax; None: kept before this was kept."""
    learnt: bool = False
    """Whether the shop book's figures were corrected by it already."""
