"""Words of the order to a transfer printer."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from planner.plan.wording import count, day
from planner.pricing.figures import exact

ORDER = "Order for transfers"
NOTHING_TO_ORDER = "Nothing to order yet: no offer is chosen."
FROM = "From"
REACH_US = "Reach us"
OUR_REFERENCE = "Our reference"
KIND = "Kind"
OFFER = "Offer"
SERVICE = "Service"
RUSH, STANDARD = "rush", "standard"
PLEASE_PRINT = (
    "Please print every file as often as stated, at 100 % of its size, unmirrored unless your process asks "
    "for it, and keep transparent areas free of ink, white and adhesive. Files are sRGB; what is given as "
    "PDF and as PNG is the same in both. If a file’s fingerprint differs from the one given here, ask "
    "before you print."
)
MIRRORED_ALREADY = "These files are mirrored already: print them as they are."
WHITE_GROUND = "Their ground is white, not transparent."
FINGERPRINT_COMES = "fingerprint: comes with the files"
SHEETS_TO_PRINT = "Sheets to print"
SHEET_HEADS = ("Sheet", "File", "Size", "Pieces", "Print")
ALL_SHEETS = "All sheets"
SINGLES_TO_PRINT = "Single pieces to print"
SINGLE_HEADS = ("", "File", "Printed size", "Print")
ALL_SINGLES = "All single pieces"
WE_RECKON_WITH = "We reckon with"
CHARGE_HEADS = ("", "Amount")
TOGETHER = "Together"


def needed(by: str) -> str:
    return f"Needed: {by}"


def deliver_to(address: Iterable[str]) -> str:
    return f"Deliver to: {', '.join(address)}"


def order_by(last_day: date, working_days: int) -> str:
    return f"order placed on or before {day(last_day)}, {count(working_days, 'working day')} to arrival"


def charge(number: Decimal, what: str, each: str) -> str:
    return f"{exact(number)} of {what} at {each}"
