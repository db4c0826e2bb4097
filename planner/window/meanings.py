"""What figures mean: the formula in words and, where there is one, its source. Sums are told beside these."""

from planner.measures.figures import whole
from planner.pressing.calendar import Milestone
from planner.pricing.costs import CostKind

COSTS = {
    CostKind.BLANKS: "How many of each × what one blank costs, its size's surcharge included.",
    CostKind.TRANSFERS: "What the chosen offer charges for the sheets, lengths or pieces of this order.",
    CostKind.DELIVERY_IN: "What the transfer printer asks for bringing them.",
    CostKind.LABOUR: (
        "Minutes at the press, warm-up and changes of temperature included, × what an hour costs. "
        "Minutes for each step are starting values of common practice."
    ),
    CostKind.SPOILAGE: "Garments ruined at the press: a share of what the blanks cost, from the shop book.",
    CostKind.OVERHEAD: "Rent, power and all else: a share of the costs above, from the shop book.",
    CostKind.PAYMENT_FEES: "What the payment service keeps: a share of what the customer pays.",
}
COST_EACH = (
    "Cost: the blank with spoilage, and this garment's share of transfers, delivery in and press time; "
    "overhead on both."
)
PRICE_EACH = "By margin: cost ÷ (1 − margin), rounded up. By markup: cost × (1 + markup), rounded up."
SUBTOTAL = "Price each × how many, over all garment lines."
DISCOUNT = "A share of the sum of prices, as typed in the terms below."
TOP_UP = "What lifts the garments to the minimum order."
DELIVERY = "The delivery fee typed in the terms below."
TAX = "The rate is the shop's own, on what is taxed; the local tax office decides."
TOTAL = "All of the quote's lines above together."
DEPOSIT = "This share of the total, from the shop book; half is common practice."

_DAYS = {
    Milestone.APPROVE: "The first day on which transfers must be ordered.",
    Milestone.ORDER_TRANSFERS: (
        "Counted back from the start of pressing: the offer's working days from order to arrival."
    ),
    Milestone.ORDER_BLANKS: "Counted back from the start of pressing: working days until blanks arrive.",
    Milestone.PRESS: "Counted back from delivery: working days that the pressing takes.",
    Milestone.DELIVER: "The due date, or the last day before it on which the shop is open.",
}
WORKING_DAYS = "Weekends, holidays of the region and closed days of the shop book do not count."


def last_day(milestone: Milestone) -> str:
    """How a last day is found."""
    return f"{_DAYS[milestone]} {WORKING_DAYS}"


VECTOR = "Drawn by lines, not pixels: it prints sharp at any width."


def sheet_card(number: int, percent: float, runs: int) -> str:
    """What stands on a sheet's card."""
    times = "once" if runs == 1 else f"{whole(runs)} times"
    return (
        f"Sheet {number} is printed {times}.\n"
        f"{percent:.0f} % full: boxes of all its pieces ÷ area of the sheet."
    )


SPARES = (
    "Spares are the fewest extra transfers with which the order finishes without a second one, at the shop "
    "book's certainty: each pressing goes wrong with the misprint rate (binomial distribution). "
    "What the sheets hold beyond need and spares is over: it came with sheets that had room."
)
