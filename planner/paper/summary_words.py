"""Words of the summary of a job."""

from planner.measures import figures

SUMMARY = "Summary"
NO_TITLE = "Job without a title"
QUOTED_ON = "Quoted on"
DUE, NOT_AGREED = "Due", "not agreed"
GARMENTS = "Garments"
SHEETS = "Sheets of transfers"
CUSTOMER_PAYS = "Customer pays"
MARGIN = "Margin"
PROVISIONAL = "The sheets are a first arrangement: accept or improve it before ordering."
NOTE = "Note"


# Findings.
TO_DO = "To do"
DECIDED = "Decided"
BEFORE_IT_GOES_OUT = "Before it goes out"
FINDING_HEADS = ("", "Print", "What is so, and what to do")


def missing(sentence: str) -> str:
    return f"{sentence}."


def decided(sentence: str, reason: str) -> str:
    return f"{sentence} Decided: {reason}"


# Garments and prints.
GARMENT_HEADS = ("Style and colour", "Cloth", "Sizes", "Count")
PRINTS = "Prints"
PRINT_HEADS = ("", "Artwork", "Where", "Wide", "Offer", "Need", "Ordered")
NO_OFFER = "no offer"
NONE_ORDERED = "–"


def fibre(percent: float, name: str) -> str:
    return f"{figures.short(percent)} % {name}"


def where(place: str, garment: str) -> str:
    return f"{place}, {garment}"


# Last days.
LAST_DAYS = "Last days"
DAY_HEADS = ("", "On or before", "Room")


def order_from(named: str, offer: str) -> str:
    return f"{named}, {offer}"


# Costs.
COST = "Cost"
COSTS = "Costs, for the shop only"
COST_HEADS = ("", "How it came about", "Amount")


def cost_of(kind: str, garment: str) -> str:
    return f"{kind}, {garment}"


def earned(revenue: str, profit: str, margin: str) -> str:
    return f"Revenue {revenue}, profit {profit}, margin {margin}."
