"""What is worth saying about a comparison."""

from decimal import Decimal

from planner.buying.compare import Facts, compare, result_at
from planner.buying.purchase import PieceOrder, Purchase, Saving
from planner.buying.quantity import CostByQuantity, cost_by_quantity, spans_of_change, with_more
from planner.buying.split import cheapest_split
from planner.buying.suits import ArtTraits
from planner.job.document import Extra, Job
from planner.job.edits import add_extra, share_out
from planner.shop.book import Shop, Spares
from planner.shop.document import changed
from planner.window.offers import words
from planner.window.offers.curves import cheapest_words, curves_from
from planner.window.offers.figures import OfferShown, offers_shown
from planner.window.offers.hints import Hint, hints_for
from planner.window.offers.other_quantities import at_portion, cheapest_offers, joined, portions
from planner.work.ticket import Ticket
from tests.builders import A_DAY, a_line, a_shop
from tests.buying.offers import an_offer, breaks, by_area, by_piece, inches
from tests.window.offers.setting import (
    FACTS,
    ROLL,
    SHEETS,
    SINGLES,
    STRETCH,
    a_small_shop,
    back_and_leggings,
    compared,
    costs_of_two,
    curve,
    result_of,
    two_prints,
)


def rows(job: Job) -> tuple[OfferShown, ...]:
    return offers_shown(job, a_small_shop(), compared(), None)


def said(shown: tuple[OfferShown, ...], **known: object) -> tuple[Hint, ...]:
    given = {"costs": None, "purchase": None, "scope": None, **known}
    return hints_for(two_prints(), a_small_shop(), shown, **given)  # type: ignore[arg-type]


def test_a_cheaper_offer_is_named_with_what_it_saves_and_can_be_taken() -> None:
    saves = result_of(SHEETS).cost - min(row.result.cost for row in rows(two_prints()) if row.may_be_used)
    hint = said(rows(two_prints()))[0]
    assert f"${saves:.2f} less" in hint.sentence
    assert hint.offer == next(row.key for row in rows(two_prints()) if row.cheapest)


def test_where_the_cheapest_changes_every_quantity_is_priced() -> None:
    """Between 20 and 30 the sheets become the cheapest at 23 already, not first at 30."""
    rough = costs_of_two()
    (span,) = spans_of_change(rough)
    assert span == tuple(range(20, 31))
    sheets = {at: "90" if at < 24 else "60" for at in span}
    fine = CostByQuantity(
        curves=(
            curve(SHEETS, sheets, breaks=(24,)),
            curve(SINGLES, {at: str(80 + 4 * (at - 20)) for at in span}),
        ),
        crossings=(),
    )
    whole = with_more(rough, fine)
    assert [(each.quantity, each.before, each.after) for each in whole.crossings] == [(23, SINGLES, SHEETS)]
    assert spans_of_change(whole) == ()
    sheets_curve = next(each for each in whole.curves if each.offer == SHEETS)
    assert [point.quantity for point in sheets_curve.points] == [10, *span, 40]
    assert [point.quantity for point in sheets_curve.points if point.is_break] == [24]


def test_nothing_is_said_where_the_cheapest_is_chosen() -> None:
    cheapest = next(row.key for row in rows(two_prints()) if row.cheapest)
    shown = rows(changed(two_prints(), offer=cheapest))
    assert not [hint for hint in said(shown) if hint.offer]


def test_a_larger_order_that_costs_less_in_all_is_offered() -> None:
    base = result_of(SHEETS)
    result = changed(base, cost=Decimal(90), order=changed(base.order, savings=()))
    shown = offers_shown(two_prints(), a_small_shop(SHEETS), (result,), None)
    wider = changed(costs_of_two(), curves=(curve(SHEETS, {20: "90", 22: "84", 26: "80"}),), crossings=())
    hint = said(shown, costs=wider)[-1]
    assert hint.quantity == 22
    assert "2 more garments (22 in all)" in hint.sentence
    assert "$6.00 less" in hint.sentence


def test_searched_figures_are_not_held_against_quick_curves() -> None:
    result = changed(result_of(SHEETS), cost=Decimal(70))
    shown = offers_shown(two_prints(), a_small_shop(SHEETS), (result,), None)
    wider = changed(costs_of_two(), curves=(curve(SHEETS, {20: "90", 22: "84"}),), crossings=())
    assert not [hint for hint in said(shown, costs=wider) if hint.quantity]


def test_pieces_bought_beyond_the_need_because_that_costs_less_are_told() -> None:
    base = result_of(SHEETS)
    savings = (Saving(piece="p1", more=2, saves=Decimal("8.00")),)
    result = changed(base, order=changed(base.order, savings=savings))
    hint = said(offers_shown(two_prints(), a_small_shop(SHEETS), (result,), None))[0]
    assert hint.sentence.startswith("2 more pieces of a1.png, left chest")
    assert "$8.00 less" in hint.sentence


def test_extras_that_ride_along_are_told() -> None:
    job = add_extra(two_prints(), Extra(key="x1", artwork="a1", width_mm=40, most=20))
    order = changed(result_of(SHEETS).order, pieces=(PieceOrder(piece="x1", need=0, spares=0, ordered=11),))
    hints = hints_for(
        job, a_small_shop(), rows(job), costs=None, purchase=Purchase(orders=(order,)), scope=None
    )
    told = [hint.sentence for hint in hints if "ride along" in hint.sentence]
    assert told == ["11 extra copies of a1.png ride along for nothing, in room already paid."]


def test_portions_overlap_by_one_and_join_to_what_one_question_gives() -> None:
    job, shop = two_prints(), a_small_shop(SHEETS, SINGLES)
    asked = portions(job)
    assert [each[0] for each in asked[1:]] == [each[-1] for each in asked[:-1]]
    some = asked[:2]
    found = [at_portion(job, shop, FACTS, (SHEETS, SINGLES), each, Ticket()) for each in some]
    every = sorted({quantity for each in some for quantity in each})
    assert joined(found) == cost_by_quantity(job, shop, FACTS, every)


def test_cheaper_sheets_that_a_search_found_can_be_arranged() -> None:
    dear = changed(result_of(SHEETS).order, cost=result_of(SHEETS).cost + 10)
    hints = said(rows(two_prints()), purchase=Purchase(orders=(dear,)))
    assert [hint.arrange for hint in hints if hint.arrange] == [True]


def test_the_chart_keeps_offers_that_are_the_cheapest_somewhere_before_others() -> None:
    costs = changed(
        costs_of_two(),
        curves=(*costs_of_two().curves, curve(ROLL, {10: "60", 20: "95", 30: "99", 40: "99"})),
    )
    assert cheapest_offers(costs, 20, most=2) == (SINGLES, SHEETS)
    assert cheapest_offers(costs, 20) == (SINGLES, SHEETS, ROLL)


def test_where_the_cheapest_changes_is_told_in_a_sentence() -> None:
    curves = curves_from(costs_of_two(), a_small_shop(), now=20, chosen=SHEETS, rough=False)
    assert cheapest_words(curves) == (
        "Cheapest: Film singles, no minimum at 10 to 20; Film gang sheets from 30."
    )
    one = changed(costs_of_two(), curves=costs_of_two().curves[:1], crossings=())
    alone = curves_from(one, a_small_shop(), now=20, chosen=None, rough=False)
    assert cheapest_words(alone) == "Film gang sheets is the cheapest at every quantity shown, 10 to 40."


def split_hints(job: Job, *, scope: str | None = None) -> list[Hint]:
    shop = a_shop()
    rows = offers_shown(job, shop, compare(job, shop, FACTS), scope)
    split = cheapest_split(job, shop, FACTS)
    hints = hints_for(job, shop, rows, costs=None, purchase=None, scope=scope, split=split)
    return [hint for hint in hints if hint.is_first]


def test_where_no_offer_takes_all_of_the_job_its_prints_can_be_bought_apart() -> None:
    job = back_and_leggings()
    assert not any(result.may_be_used for result in compare(job, a_shop(), FACTS))
    (hint,) = split_hints(job)
    cost = cheapest_split(job, a_shop(), FACTS).cost
    assert f"for ${cost:.2f}:\n" in hint.sentence
    assert "Stretch-formula sheets: a1.png, left chest, navy T-shirt, Leggings" in hint.sentence
    assert dict(hint.shared)["p2"] == STRETCH
    # Bought so, it is said and nothing is left to press; one print alone is no question of sharing out.
    (done,) = split_hints(share_out(job, dict(hint.shared)))
    assert (done.sentence, done.action) == (words.BOUGHT_BY_PRINT, "")
    assert split_hints(job, scope="p1") == []


def shared_shop() -> Shop:
    """Large prints are cheaper by the piece, small ones by their area."""
    area = an_offer(by_area((0, "0.06")), key="area", name="By area", delivery=Decimal(10))
    row = (inches(14, 14), 4, breaks((1, "2.00")))
    piece = an_offer(by_piece(row), key="piece", name="By the piece", delivery=Decimal(10))
    return changed(a_shop(), offers=(area, piece), spares=Spares(count=0))


ONE_COLOUR = Facts(today=A_DAY, traits={"a1": ArtTraits(colours=1)})


def sharing_hints(job: Job, purchase: Purchase | None = None) -> tuple[Hint, ...]:
    shop = shared_shop()
    rows = offers_shown(job, shop, compare(job, shop, ONE_COLOUR), None)
    split = cheapest_split(job, shop, ONE_COLOUR)
    return hints_for(job, shop, rows, costs=None, purchase=purchase, scope=None, split=split)


def bought(job: Job) -> Purchase:
    """The job's prints at their offers, quickly arranged."""
    results = [
        result_at(
            offer,
            job,
            shared_shop(),
            ONE_COLOUR,
            prints=[print_ for print_ in job.prints if job.offer_of(print_) == offer.key],
        )
        for offer in shared_shop().offers
    ]
    return Purchase(orders=tuple(result.order for result in results))


def test_prints_bought_apart_are_told_where_that_costs_less_than_any_one_offer() -> None:
    """Twenty garments with a chest print of 3 × 2 in and a back of 250 mm × 166.7 mm, 64.58 in².

    By area in all: 20 × (6 + 64.58) × 0.06 + 10 = 94.70; by the piece 20 × 2 × 2.00 + 10 = 90.00;
    parted 20 × 6 × 0.06 + 10 + 20 × 2.00 + 10 = 67.20.
    """
    job = changed(two_prints(), offer="piece")
    hint = next(hint for hint in sharing_hints(job) if hint.shared)
    assert hint.sentence.startswith(
        "Bought apart, the prints cost $67.20: $22.80 less than all of them at By the piece.\n"
    )
    assert dict(hint.shared) == {"p1": "area", "p2": "piece"}
    assert not hint.is_first
    assert hint.saves == Decimal("22.80")


def test_a_job_that_is_shared_out_is_told_what_that_saves() -> None:
    shared = share_out(two_prints(), {"p1": "area", "p2": "piece"})
    (hint,) = sharing_hints(shared, bought(shared))
    assert (
        hint.sentence == "The prints are bought apart: that saves $22.80 against all of them at By the piece."
    )
    assert not hint.action


def test_a_job_that_is_shared_out_the_dear_way_is_told_the_cheap_one() -> None:
    shared = share_out(two_prints(), {"p1": "piece", "p2": "area"})
    hint = next(hint for hint in sharing_hints(shared, bought(shared)) if hint.shared)
    assert dict(hint.shared) == {"p1": "area", "p2": "piece"}
    assert hint.saves == bought(shared).cost - Decimal("67.20")


def test_a_job_that_is_shared_out_in_vain_is_told_the_one_offer() -> None:
    """One garment: parted 0.36 + 10 + 2.00 + 10 = 22.36; by the piece 2 × 2.00 + 10 = 14.00."""
    job = changed(two_prints(), lines=(a_line(medium=1, large=0),))
    shared = share_out(job, {"p1": "area", "p2": "piece"})
    (hint,) = sharing_hints(shared, bought(shared))
    assert (hint.offer, hint.saves) == ("piece", Decimal("8.36"))
    assert "All of it at By the piece costs $8.36 less than shared out among the 2 offers" in hint.sentence
    assert sharing_hints(changed(job, offer="piece")) == ()


def test_a_print_that_no_offer_takes_is_named_and_nothing_is_offered() -> None:
    (hint,) = split_hints(back_and_leggings(back_in=40))
    assert "no offer of the shop book may be used for a1.png, full back, navy" in hint.sentence
    assert not hint.shared
    assert not hint.action
