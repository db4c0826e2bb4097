"""Left-over transfers: they lower what is ordered and nothing else, and never leave an order short."""

from datetime import date

import pypdfium2
import pytest

from planner.buying.compare import Facts, compare
from planner.buying.spares import spares_for
from planner.job import edits
from planner.job.document import Job
from planner.job.findings import FindingKind
from planner.job.fixes import Flip
from planner.job.pieces import design_of, needed_pieces
from planner.job.reorder import ordered_again
from planner.job.state import JobState
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.build import Imprint, pdf_of
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.paper.shop_lists import arrivals_story
from planner.plan.make_plan import make_plan
from planner.plan.model import Plan
from planner.plan.ordering import arrange_job
from planner.plan.stock import on_shelf, remains, settled_stock, take_from_stock, use_stock
from planner.plan.wording import finding as sentence
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.offers import TransferKind
from planner.shop.stock import Design, LeftOver, in_stock
from tests.builders import A_DAY, a_job, a_shop


def shop_with(job: Job, count: int, *, offer: str = "film-sheet") -> Shop:
    """A shop that holds so many transfers of the job's first print, of one offer's kind."""
    shop = a_shop()
    sold = shop.offer(offer)
    assert sold is not None
    piece = needed_pieces(job)[0]
    design = design_of(job.artwork(piece.artwork), piece.size, sold.kind)
    return changed(shop, left_over=(LeftOver(design=design, count=count, since=A_DAY, offer=offer),))


def plan_of(job: Job, shop: Shop) -> Plan:
    return make_plan(job, shop, facts={}, today=A_DAY)


def kinds(plan: Plan) -> set[FindingKind]:
    return {finding.kind for finding in plan.findings}


def ordered(plan: Plan) -> int:
    return (
        sum(piece.ordered for order in plan.purchase.orders for piece in order.pieces) if plan.purchase else 0
    )


def test_stock_of_the_design_is_told_and_used_only_when_chosen() -> None:
    job, _ = a_job(width_mm=250)
    shop = shop_with(job, 14)
    before = plan_of(job, shop)
    held = next(found for found in before.findings if found.kind is FindingKind.STOCK_HELD)
    assert held.found == 14
    assert "14 left-over transfers" in sentence(held, shop.unit)
    assert ordered(before) >= 20
    after = plan_of(use_stock(job, shop), shop)
    assert FindingKind.STOCK_HELD not in kinds(after)
    used = next(found for found in after.findings if found.kind is FindingKind.STOCK_USED)
    assert (used.found, used.subject) == (14, "")
    assert after.purchase is not None
    piece = after.purchase.orders[0].pieces[0]
    assert piece.need == 6
    assert before.purchase is not None
    assert after.purchase.cost < before.purchase.cost


def test_spares_cover_the_misprints_of_all_garments_not_only_of_new_transfers() -> None:
    job, _ = a_job()
    shop = shop_with(job, 14)
    # So clumsy a press that six pressings need fewer spares than twenty.
    shop = changed(shop, spares=changed(shop.spares, misprint_rate=0.1))
    assert spares_for(6, shop.spares) < spares_for(20, shop.spares)
    plan = plan_of(use_stock(job, shop), shop)
    assert plan.purchase is not None
    piece = plan.purchase.orders[0].pieces[0]
    assert piece.need + piece.spares + 14 == 20 + spares_for(20, shop.spares)


def test_no_order_is_made_where_stock_covers_need_and_spares() -> None:
    job, _ = a_job()
    shop = shop_with(job, 200)
    used = use_stock(job, shop)
    assert used.from_stock[0].count == 20 + spares_for(20, shop.spares)
    plan = plan_of(used, shop)
    assert plan.purchase is None
    assert not any(deadline.offer for deadline in plan.calendar.deadlines)
    assert arrange_job(used, shop, facts={}, rounds=1) == used


def test_need_covered_but_spares_not_orders_the_spares_alone() -> None:
    job, _ = a_job()
    shop = shop_with(job, 20)
    plan = plan_of(use_stock(job, shop), shop)
    assert plan.purchase is not None
    assert [(piece.need, piece.spares) for piece in plan.purchase.orders[0].pieces] == [
        (0, spares_for(20, shop.spares))
    ]


def test_garments_are_all_pressed_wherever_their_transfers_come_from() -> None:
    job, _ = a_job()
    shop = shop_with(job, 14)
    before, after = plan_of(job, shop), plan_of(use_stock(job, shop), shop)
    assert before.press_cards == after.press_cards
    assert before.press_work == after.press_work


@pytest.mark.parametrize("change", ["width", "fix", "file"])
def test_another_design_takes_nothing_from_stock(change: str) -> None:
    job, _ = a_job()
    shop = shop_with(job, 14)
    used = use_stock(job, shop)
    if change == "width":
        used = edits.change_print(used, "p1", width_mm=80)
    elif change == "fix":
        used = edits.set_fixes(used, "a1", (Flip(),))
    else:
        used = edits.change_artwork(used, "a1", sha256="0" * 64)
    plan = plan_of(used, shop)
    assert plan.purchase is not None
    assert plan.purchase.orders[0].pieces[0].need == 20
    assert FindingKind.STOCK_HELD not in kinds(plan)


def test_another_kind_of_transfer_takes_nothing_from_stock() -> None:
    job, _ = a_job()
    shop = shop_with(job, 14)
    used = use_stock(job, shop)
    other = next(offer for offer in shop.offers if offer.kind is TransferKind.STRETCH)
    moved = edits.set_fields(used, offer=other.key)
    plan = plan_of(moved, shop)
    assert plan.purchase is not None
    assert plan.purchase.orders[0].pieces[0].need == 20
    film_roll = next(offer for offer in shop.offers if offer.kind is TransferKind.FILM_ROLL)
    by_offer = {
        result.offer: sum(piece.need for piece in result.order.pieces)
        for result in compare(used, shop, Facts(today=A_DAY))
    }
    assert by_offer["film-sheet"] == 6
    assert by_offer[film_roll.key] == 6
    assert by_offer[other.key] == 20


def test_sheets_arranged_before_stock_was_used_hold_no_more_and_are_arranged_anew() -> None:
    job, _ = a_job()
    shop = shop_with(job, 14)
    arranged = arrange_job(job, shop, facts={}, rounds=1)
    assert not plan_of(arranged, shop).provisional
    used = use_stock(arranged, shop)
    assert plan_of(used, shop).provisional
    again = arrange_job(used, shop, facts={}, rounds=1)
    assert not plan_of(again, shop).provisional


def test_stock_that_went_elsewhere_stops_the_job_until_the_others_are_ordered() -> None:
    job, _ = a_job()
    used = use_stock(job, shop_with(job, 14))
    less = shop_with(job, 5)
    short = next(found for found in plan_of(used, less).findings if found.kind is FindingKind.STOCK_SHORT)
    assert (short.found, short.needed) == (5, 14)
    mended = use_stock(used, less, "p1")
    assert mended.from_stock[0].count == 5
    assert FindingKind.STOCK_SHORT not in kinds(plan_of(mended, less))


def test_two_lines_with_the_same_print_share_one_stock() -> None:
    job, _ = a_job()
    job = edits.duplicate_line(job, "g1")
    shop = shop_with(job, 30)
    used = use_stock(job, shop)
    assert sum(taken.count for taken in used.from_stock) == 30
    assert FindingKind.STOCK_SHORT not in kinds(plan_of(used, shop))
    more = take_from_stock(used, shop, {"p2": 20})
    assert FindingKind.STOCK_SHORT in kinds(plan_of(more, shop))


def test_a_settled_job_moves_its_surplus_into_stock_for_the_next() -> None:
    job, _ = a_job()
    shop = shop_with(job, 14)
    used = arrange_job(use_stock(job, shop), shop, facts={}, rounds=1)
    left = remains(used, shop, plan_of(used, shop).purchase)
    assert left[0].left == left[0].ordered + 14 - 20
    stock = settled_stock(used, shop, left, {left[0].piece: left[0].left - 1}, date(2026, 12, 18))
    assert in_stock(stock, left[0].design) == left[0].left - 1
    shop = changed(shop, left_over=stock)
    done = changed(used, state=JobState.DELIVERED, stock_settled=True)
    assert not kinds(plan_of(done, shop)) & {FindingKind.STOCK_HELD, FindingKind.STOCK_SHORT}
    again = ordered_again(done, A_DAY)
    assert not again.from_stock
    assert on_shelf(again, shop)[0].useful == min(left[0].left - 1, on_shelf(again, shop)[0].wanted)


def test_the_check_in_list_says_what_to_take_from_stock() -> None:
    job, files = a_job()
    shop = shop_with(job, 14)
    job = use_stock(job, shop)
    papers = Papers(job, shop, plan_of(job, shop), Pictures(ArtworkInks(files.__getitem__)))
    imprint = Imprint(title=job.title, on=A_DAY, paper=shop.paper, subject="Check-in list")
    document = pypdfium2.PdfDocument(pdf_of(arrivals_story(papers), imprint))
    text = document[0].get_textpage().get_text_bounded()
    document.close()
    assert "Left-over transfers from stock" in text
    assert "14" in text


def test_sizes_typed_in_inches_and_millimetres_are_one_size() -> None:
    job, _ = a_job()
    piece = needed_pieces(job)[0]
    design = design_of(job.artwork("a1"), piece.size, TransferKind.FILM_SHEET)
    near = changed(design, width_mm=76.0)
    far = changed(design, width_mm=75.0)
    assert isinstance(design, Design)
    assert design.is_same(near)
    assert not design.is_same(far)


def test_transfers_bought_at_another_offer_are_named_for_their_press_settings() -> None:
    job, _ = a_job()
    shop = shop_with(job, 14, offer="film-roll")
    used = next(
        found
        for found in plan_of(use_stock(job, shop), shop).findings
        if found.kind is FindingKind.STOCK_USED
    )
    sold = shop.offer("film-roll")
    assert sold is not None
    assert used.subject == sold.name
    assert sold.name in sentence(used, shop.unit)
