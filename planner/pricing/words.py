"""Words inside the sums of costs."""

from planner.buying.purchase import ChargeKind

CHARGES = {
    ChargeKind.GOODS: "goods",
    ChargeKind.SET_UP: "set-up",
    ChargeKind.LEAST_ORDER: "least order",
    ChargeKind.RUSH: "rush",
    ChargeKind.DELIVERY: "delivery",
}
"""What a charge of a transfer printer is for, before its amount."""
