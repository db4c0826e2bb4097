"""Words of the quote, which customers read."""

from decimal import Decimal

from planner.pricing.figures import exact

QUOTE = "Quote"
NO_GARMENTS = "No garments are chosen yet."
FOR = "For"
NOBODY = "–"
QUOTED_ON = "Quoted on"
VALID_UNTIL = "Valid until"
DELIVERY = "Delivery"
TO_BE_AGREED = "to be agreed"
SUBTOTAL = "Subtotal"
DISCOUNT = "Discount"
TO_MINIMUM = "To the minimum order"
TOTAL = "Total"
OTHER_QUANTITIES = "Price of a garment at other quantities, in the same mix"
SIGNATURE = "Customer’s signature"
DATE = "Date"
RIGHTS = (
    "By signing, the customer confirms the right to use the artwork named here, and approves its place and "
    "size as shown. Small differences in shade between screen, paper and garment remain."
)


def garment(style: str, colour: str) -> str:
    return f"{style}, {colour}"


def printed(place: str, artwork: str, size: str) -> str:
    return f"{place[:1].upper()}{place[1:]}: {artwork}, {size}"


def times(count: int, each: str) -> str:
    return f"{count} × {each}"


def taken_off(amount: str) -> str:
    return f"\u2212{amount}"


def exempt(tax: str) -> str:
    return f"{tax}, exempt"


def taxed(tax: str, percent: Decimal) -> str:
    return f"{tax}, {exact(percent)} %"


def deposit(percent: Decimal) -> str:
    return f"Deposit to begin, {exact(percent)} %"
