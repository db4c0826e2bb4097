"""One question to the planners of an order, and what they find."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from planner.buying.purchase import Saving
from planner.buying.wants import Want
from planner.measures.layout import Layout, Way
from planner.sheets.problem import Piece
from planner.shop.offers import Offer


@dataclass(frozen=True)
class Ask:
    """What is wanted at an offer, and how hard to look.

    `rounds` limits the search by its number of attempts, so that the answer is the same on every machine;
    `budget_s` caps it by the clock.
    """

    offer: Offer
    wants: tuple[Want, ...]
    currency: str
    way: Way
    rush: bool = False
    colours: Mapping[str, int] = field(default_factory=dict)
    extras: tuple[Piece, ...] = ()
    pinned: tuple[Layout, ...] = ()
    budget_s: float = 2.0
    rounds: int | None = None
    seed: int = 0


@dataclass(frozen=True, slots=True)
class Found:
    """What is to be bought: layouts with their runs, copies bought singly, and what was proven."""

    layouts: tuple[Layout, ...] = ()
    singles: tuple[tuple[str, int], ...] = ()
    """Piece key and copies bought as single images or pieces."""
    least_goods: Decimal | None = None
    """Proven lower bound on goods and set-up, before the least order, rush and delivery."""
    most_layouts: int | None = None
    one_size: bool = False
    """The bound is for orders on sheets of one size."""
    savings: tuple[Saving, ...] = ()
    provisional: bool = False
