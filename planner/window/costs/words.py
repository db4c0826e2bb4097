"""Words of costs, quote and terms of a job, and of the price ladder."""

from planner.measures.figures import short, whole
from planner.measures.layout import Way
from planner.plan import wording as sentences
from planner.pricing.costs import CostKind
from planner.pricing.ladder import Rung, StepUp
from planner.shop.book import PriceBy, RoundTo

# What the job costs.
COSTS = "Cost and price"
SHOP_ONLY = "for the shop's eyes only"
PROVISIONAL = "Sheets are a quick arrangement; Arrange to settle the figures."
NO_TRANSFERS_YET = "Transfers are not in these figures yet: no offer is chosen for them."
NO_COSTS = "Costs follow as you type: garments, artwork, an offer."
COST_NAMES = {
    CostKind.BLANKS: "Blanks",
    CostKind.TRANSFERS: "Transfers",
    CostKind.DELIVERY_IN: "Delivery of transfers",
    CostKind.LABOUR: "Press time",
    CostKind.SPOILAGE: "Spoilage",
    CostKind.OVERHEAD: "Overhead",
    CostKind.PAYMENT_FEES: "Payment fees",
}
COST_EACH = "Cost each"
PRICE_EACH = "Price each"
PROFIT = "Profit"
HOW_TOTAL = "All costs above together."
HOW_EACH = "Cost in all ÷ number of garments."
HOW_MARGIN = "(price − cost) ÷ price."
HOW_PROFIT = "What the customer pays before tax − cost in all."


def left_out(transfers: int) -> str:
    """Transfers that the chosen offer cannot print."""
    are = "transfer is" if transfers == 1 else "transfers are"
    return f"{whole(transfers)} {are} not in these figures: the offer cannot print them."


# The quote, and dates.
QUOTE = "Quote"
BEFORE_TAX = "Before tax"
DISCOUNT = "Discount"
TOP_UP = "To the minimum order"
DELIVERY = "Delivery"
DEPOSIT = "Deposit"
DATES = "Dates"
NO_DUE = "Type a due date to see when to order."

# Terms of the job.
TERMS = "Terms of this job"
MARGIN_HERE = "Margin for this job"
DELIVERY_FEE = "Delivery fee"
RUSH = "Ask for rush"
CUT_APART = "Sheets are cut"
TAX_EXEMPT = "No sales tax on this job"


def way(how: Way) -> str:
    """How a printed sheet is cut apart."""
    return {
        Way.LOOSE: "loose, by hand",
        Way.STRAIGHT: "by straight cuts",
        Way.OUTLINE: "along outlines",
    }[how]


def way_in_short(how: Way) -> str:
    return {Way.LOOSE: "loose", Way.STRAIGHT: "straight", Way.OUTLINE: "outlines"}[how]


PRICE_BY = "Price by"
PRICES_END = "Prices end on"
LEAST_ORDER = "Minimum order"
PERCENT = {PriceBy.MARGIN: MARGIN_HERE, PriceBy.MARKUP: "Markup for this job"}
BY = {PriceBy.MARGIN: "margin", PriceBy.MARKUP: "markup"}
ENDS = {
    RoundTo.NONE: "any cent",
    RoundTo.FIVE_CENTS: "five cents",
    RoundTo.HALF: ".50",
    RoundTo.NINETY_NINE: ".99",
}

# The price ladder.
LADDER = "Ladder"
LADDER_HEAD = "Price ladder"
LADDER_HINT = (
    "What a garment costs the customer at other quantities in the same mix of sizes, before tax. Each is "
    "planned with sheets and blanks of its own; the job’s own quantity is the quote’s."
)
ON_QUOTE = "On the quote"
ON_QUOTE_HINT = "The quote and the packet show these quantities and prices, in the window and by command"
QUANTITIES = "Quantities…"
QUANTITIES_HINT = "Which quantities are shown stands in the shop book"
STOP = "Stop"
WORKING = "Planning other quantities…"
STOPPED = "Stopped before all quantities were planned."
AGAIN = "Plan them"
NO_COUNTS = "Type how many of each size first: other quantities follow the same mix."
NO_OFFER = "Choose an offer first: prices without transfers would mislead."
CHART = "Price of a garment by quantity"
CHART_KEYS = "Left and right go from quantity to quantity"
NOW = "now"


def heads(currency: str) -> tuple[str, ...]:
    """Of the ladder's table; money says in what."""
    return ("Quantity", f"Price each, {currency}", f"Total, {currency}", f"Cost each, {currency}", "Margin")


def as_shop(word: str) -> str:
    return f"shop: {word}"


def cost_to_price(sizes: str) -> str:
    return f"Cost → price: {sizes}"


def no_percentage(typed: str, most: int) -> str:
    return f"“{typed}” is no percentage. Type a figure from 0 to {most}, such as 45."


def under_floor(needed: float | None, lines: tuple[str, ...]) -> str:
    """What is under the floor: the whole job, or only some lines of it."""
    if not lines:
        return f"After rounding under the shop’s floor of {short(needed or 0)} %."
    return f"Under the shop’s floor of {short(needed or 0)} % after rounding: {', '.join(lines)}."


def rung(rung: Rung, currency: str, *, now: bool) -> str:
    """One quantity in a sentence."""
    here = ", the job’s own" if now else ""
    return (
        f"{whole(rung.quantity)}{here}: {sentences.money(rung.price_each, currency)} a garment, "
        f"{sentences.money(rung.total, currency)} in all, margin {sentences.percent(rung.margin_percent)}"
    )


def step_up(step: StepUp, now: Rung, currency: str) -> str:
    """Worth offering, and what it means for the customer."""
    at, was = step.rung, now.quantity
    more = f"{whole(step.more)} more garment{'s' if step.more > 1 else ''}"
    if step.extra < 0:
        means = f"{more} and {sentences.money(-step.extra, currency)} less to pay"
    elif step.extra == 0:
        means = f"{more} at the same price in all"
    else:
        means = f"{more} for {sentences.money(step.extra, currency)}"
    share = f"{whole(was)} × {whole(at.quantity)}/{whole(was)}"
    return (
        f"Your price at {whole(at.quantity)} is lower than at {share}: offer it. "
        f"{sentences.money(at.price_each, currency)} instead of {sentences.money(now.price_each, currency)} "
        f"a garment; {means}."
    )
