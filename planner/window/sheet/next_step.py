"""What to do while there are no sheets."""

from planner.job.document import Job
from planner.plan.model import Missing, Plan
from planner.shop.book import Shop
from planner.window.sheet import words
from planner.window.sheet.facts import facts_of, piece_facts
from planner.window.sheet.piece_words import refused_words


def next_step(job: Job, shop: Shop, plan: Plan) -> tuple[str, str, bool]:
    """For a bench with no sheets: what is so, what to do, and whether Arrange is that."""
    for missing in (Missing.GARMENTS, Missing.ARTWORK, Missing.PRINTS, Missing.COUNTS, Missing.OFFER):
        if missing in plan.missing:
            return words.NO_SHEETS_YET, _STEPS[missing], False
    if not job.prints:
        return words.NO_SHEETS_YET, _STEPS[Missing.PRINTS], False
    orders = plan.purchase.orders if plan.purchase else ()
    refused = tuple(piece for order in orders for piece in order.not_placed)
    if refused and not any(order.lines for order in orders):
        facts = piece_facts(job)
        told = refused_words(refused, lambda key: facts_of(facts, key).name, shop.unit)
        return words.NOTHING_FITS, told, False
    if orders and Missing.ARRANGE not in plan.missing:
        return (
            words.NOTHING_TO_GANG,
            words.NOTHING_TO_GANG_WHY,
            False,
        )
    return (
        words.NOT_ARRANGED,
        words.NOT_ARRANGED_WHY,
        True,
    )


_STEPS = {
    Missing.GARMENTS: words.ADD_GARMENTS,
    Missing.ARTWORK: words.ADD_ARTWORK,
    Missing.PRINTS: words.ADD_PRINTS,
    Missing.COUNTS: words.TYPE_COUNTS,
    Missing.OFFER: words.CHOOSE_OFFER,
}
