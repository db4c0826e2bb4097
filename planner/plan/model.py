"""The plan: everything that follows from a job and a shop book."""

from enum import StrEnum

from planner.buying.purchase import Purchase
from planner.job.findings import Finding
from planner.pressing.calendar import Calendar
from planner.pressing.card import PressCard, PressWork
from planner.pricing.costs import Costs
from planner.pricing.quote import Quote
from planner.shop.document import Document


class Missing(StrEnum):
    """What a job still lacks before its packet can go out, in the order a person would fill it in."""

    CUSTOMER = "customer"
    GARMENTS = "garments"
    COUNTS = "counts"
    ARTWORK = "artwork"
    PRINTS = "prints"
    OFFER = "offer"
    ARRANGE = "arrange"
    DUE = "due date"


class Plan(Document):
    """What follows from a job and a shop book on one day."""

    findings: tuple[Finding, ...]
    """Worst first; those that a decision covers are in `decided` instead."""
    decided: tuple[Finding, ...] = ()
    purchase: Purchase | None = None
    """None while no offer is chosen or nothing is to be printed."""
    costs: Costs
    quote: Quote
    press_cards: tuple[PressCard, ...] = ()
    press_work: PressWork = PressWork()
    calendar: Calendar = Calendar()
    missing: tuple[Missing, ...] = ()
    provisional: bool = False
    """The sheets shown are a quick arrangement that nobody has accepted yet."""
