"""A job's plan follows every edit, and accepted layouts hold exactly as long as the need does."""

import dataclasses
import io
from datetime import date
from decimal import Decimal

import pytest
from PIL import Image, ImageDraw

from planner.artwork.facts import ArtworkFacts
from planner.artwork.measure import measure
from planner.job import edits
from planner.job.document import Extra, GroupWidth, Job, Print, SizeCount, Terms
from planner.job.findings import FindingKind, Seriousness
from planner.measures.figures import write_for
from planner.measures.layout import Way
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.plan import wording
from planner.plan.demo import demo_job
from planner.plan.make_plan import make_plan
from planner.plan.model import Missing, Plan
from planner.plan.ordering import arrange_job
from planner.plan.wording_press import over_label
from planner.shop.book import Rates, Shop
from planner.shop.cloth import Cloth
from planner.shop.document import changed
from planner.shop.garments import Location, SizeGroup
from tests.artwork import samples
from tests.builders import A_DAY, a_job, a_line, a_shop, an_artwork, png_bytes

ROUNDS = 20


def measured(job: Job, artworks: dict[str, bytes]) -> dict[str, ArtworkFacts]:
    return {artwork.key: measure(artworks[artwork.sha256], artwork) for artwork in job.artworks}


def plan_of(job: Job, shop: Shop | None = None, facts: dict[str, ArtworkFacts] | None = None) -> Plan:
    return make_plan(job, shop or a_shop(), facts=facts or {}, today=A_DAY)


def arranged(job: Job, shop: Shop | None = None) -> Job:
    return arrange_job(job, shop or a_shop(), facts={}, rounds=ROUNDS)


def kinds(plan: Plan) -> set[FindingKind]:
    return {finding.kind for finding in plan.findings}


def test_an_empty_job_tells_what_is_missing_in_working_order() -> None:
    plan = plan_of(Job(quoted_on=A_DAY))
    assert plan.missing == (Missing.CUSTOMER, Missing.GARMENTS, Missing.ARTWORK, Missing.DUE)
    assert plan.purchase is None
    assert plan.quote.total == 0


def test_the_same_question_has_the_same_plan() -> None:
    job, artworks = a_job()
    facts = measured(job, artworks)
    assert plan_of(job, facts=facts) == plan_of(job, facts=facts)


def test_a_plan_is_written_as_in_the_shops_region_whatever_region_is_in_force() -> None:
    job, _ = a_job()
    german = changed(a_shop(), region="DE")
    here = [plan_of(job, shop) for shop in (a_shop(), german)]
    write_for("FR")
    assert [plan_of(job, shop) for shop in (a_shop(), german)] == here
    american, told = ([line.how for line in plan.costs.lines] for plan in here)
    # The signs of Unicode CLDR's en_DE.
    assert told == [how.translate({ord("."): ",", ord(","): "."}) for how in american]
    assert any("," in how for how in told)
    charges = [
        [line.what for order in plan.purchase.orders for line in order.lines]
        for plan in here
        if plan.purchase
    ]
    assert charges[0] != charges[1]


def test_a_plan_nobody_accepted_is_provisional_and_arranging_settles_it() -> None:
    job, _ = a_job()
    before = plan_of(job)
    assert before.provisional
    assert Missing.ARRANGE in before.missing
    after = plan_of(arranged(job))
    assert not after.provisional
    assert after.missing == ()
    assert after.purchase is not None
    assert before.purchase is not None
    assert after.purchase.cost <= before.purchase.cost


def test_every_need_is_met_with_a_spare() -> None:
    # One misprint in a hundred and 95 % confidence: P(Binomial(20, 0.01) = 0) = 0.818 is too little,
    # one spare gives P(Binomial(21, 0.01) <= 1) = 0.981 (any table of the binomial distribution).
    job, _ = a_job()
    plan = plan_of(arranged(job))
    assert plan.purchase is not None
    (piece,) = plan.purchase.orders[0].pieces
    assert (piece.need, piece.spares) == (20, 1)
    assert piece.ordered >= 21


def test_raising_a_count_makes_the_plan_provisional_and_keeps_pinned_pieces() -> None:
    job = arranged(a_job()[0])
    layout, *others = edits.layouts_at(job, "film-sheet")
    pinned = dataclasses.replace(layout.placements[-1], pinned=True)
    by_hand = dataclasses.replace(layout, placements=(*layout.placements[:-1], pinned))
    job = edits.set_layouts(job, "film-sheet", (by_hand, *others))
    assert not plan_of(job).provisional
    more = edits.change_line(job, "g1", sizes=(SizeCount(size="M", count=90),))
    plan = plan_of(more)
    assert plan.provisional
    assert plan.purchase is not None
    order = plan.purchase.orders[0]
    assert order.pieces[0].ordered >= 90
    assert any(pinned in layout.placements for layout in order.layouts)
    settled = arranged(more)
    assert any(pinned in layout.placements for layout in edits.layouts_at(settled, "film-sheet"))


def test_a_piece_taken_off_a_sheet_by_hand_is_missed_not_put_back() -> None:
    job, _ = a_job(width_mm=230)
    job = arranged(job)
    before = edits.layouts_at(job, "film-sheet")
    bare = [dataclasses.replace(layout, placements=layout.placements[:1], runs=1) for layout in before]
    fewer = edits.set_layouts(job, "film-sheet", bare)
    plan = plan_of(fewer)
    assert not plan.provisional
    short = next(finding for finding in plan.findings if finding.kind is FindingKind.PIECE_SHORT)
    assert short.seriousness is Seriousness.STOP
    assert short.found == 21 - len(before)


def test_pieces_pushed_onto_each_other_by_hand_are_a_stop() -> None:
    job = arranged(a_job()[0])
    layout, *others = edits.layouts_at(job, "film-sheet")
    first, second, *rest = layout.placements
    on_top = dataclasses.replace(second, x_mm=first.x_mm + 1, y_mm=first.y_mm + 1, pinned=True)
    by_hand = dataclasses.replace(layout, placements=(first, on_top, *rest))
    plan = plan_of(edits.set_layouts(job, "film-sheet", (by_hand, *others)))
    assert FindingKind.SHEET_FAULT in kinds(plan)


def test_arranging_again_never_replaces_a_cheaper_layout() -> None:
    job = arranged(a_job()[0])
    before = plan_of(job).purchase
    again = plan_of(arranged(job)).purchase
    assert before is not None
    assert again is not None
    assert again.cost <= before.cost


def test_a_print_wider_than_every_sheet_is_named_as_not_fitting() -> None:
    job, _ = a_job(width_mm=800)
    plan = plan_of(job)
    assert {FindingKind.NOT_PLACED, FindingKind.TOO_LARGE_FOR_OFFER} & kinds(plan)
    assert plan.purchase is not None
    assert plan.purchase.orders[0].not_placed[0].count >= 20


def test_one_hundred_images_two_to_a_sheet_need_fifty_sheets() -> None:
    # Common practice arithmetic: two images 11 in wide fit a sheet 11.5 x 18 in.
    artwork, _ = an_artwork(size_px=(3300, 2400))
    job, _ = a_job()
    job = edits.replace_file(job, "a1", artwork)
    job = edits.change_print(job, "p1", width_mm=11 * MM_PER_INCH, location=Location.FULL_FRONT)
    job = edits.change_line(job, "g1", sizes=(SizeCount(size="M", count=100),))
    shop = a_shop()
    small = changed(
        shop.offer("film-sheet"),
        price=changed(shop.offer("film-sheet").price, sheets=shop.offer("film-sheet").price.sheets[:1]),  # type: ignore[union-attr]
    )
    shop = changed(
        shop,
        offers=(small,),
        spares=changed(shop.spares, count=0),
    )
    plan = plan_of(arranged(job, shop), shop)
    assert plan.purchase is not None
    assert plan.purchase.orders[0].sheets == 50


def test_a_width_of_its_own_for_youth_sizes_makes_a_second_piece() -> None:
    job, _ = a_job()
    job = edits.change_print(job, "p1", group_widths=(GroupWidth(group=SizeGroup.YOUTH, width_mm=50),))
    job = edits.change_line(
        job,
        "g1",
        sizes=(SizeCount(size="M", count=5), SizeCount(size="YM", count=3, group=SizeGroup.YOUTH)),
    )
    plan = plan_of(job)
    assert plan.purchase is not None
    assert {piece.piece: piece.need for piece in plan.purchase.orders[0].pieces} == {"p1": 5, "p1/youth": 3}


def test_prints_may_be_bought_at_two_offers() -> None:
    job, _ = a_job()
    job = edits.add_print(
        job,
        Print(key="p2", artwork="a1", line="g1", location=Location.NAPE, width_mm=60, offer="film-single"),
    )
    plan = plan_of(job)
    assert plan.purchase is not None
    assert {order.offer for order in plan.purchase.orders} == {"film-sheet", "film-single"}
    assert plan.purchase.cost == sum(order.cost for order in plan.purchase.orders)


def test_a_decision_settles_a_finding_until_its_figure_changes() -> None:
    job, _ = a_job(width_mm=200)
    coarse = next(f for f in plan_of(job).findings if f.kind is FindingKind.TOO_COARSE)
    decided = edits.decide(job, coarse, "The customer wants it grainy.")
    plan = plan_of(decided)
    assert FindingKind.TOO_COARSE not in kinds(plan)
    assert plan.decided == (coarse,)
    assert FindingKind.TOO_COARSE in kinds(plan_of(edits.change_print(decided, "p1", width_mm=220)))


def test_a_decision_about_the_care_label_stands_on_the_press_card_until_the_label_changes() -> None:
    job, _ = a_job()
    one_dot = Cloth(iron_dots=1)
    job = edits.change_line(job, "g1", cloth=one_dot)
    stop = next(f for f in plan_of(job).findings if f.kind is FindingKind.OVER_IRON_DOTS)
    (card,) = plan_of(job).press_cards
    assert over_label(card).endswith("The label wins over the offer: settle this before you press.")
    decided = edits.decide(job, stop, "One test piece held.")
    (card,) = plan_of(decided).press_cards
    assert card.over_label
    assert "The shop decided: “One test piece held”. Press a test piece first." in over_label(card)
    crossed_out = edits.change_line(decided, "g1", cloth=changed(one_dot, iron_dots=0))
    (card,) = plan_of(crossed_out).press_cards
    assert "settle this before you press" in over_label(card)


def test_a_due_date_too_near_is_a_stop_counted_in_working_days() -> None:
    job, _ = a_job()
    assert FindingKind.LATE not in kinds(plan_of(job))
    late = plan_of(edits.set_fields(job, due=date(2026, 11, 27)))
    assert FindingKind.LATE in kinds(late)


def test_a_price_under_the_floor_is_told() -> None:
    job, _ = a_job()
    job = edits.set_fields(job, terms=Terms(percent=Decimal(10)))
    assert FindingKind.UNDER_FLOOR in kinds(plan_of(job))


def test_costs_follow_the_shops_rates_at_once() -> None:
    job, _ = a_job()
    shop = a_shop()
    dear = changed(shop, rates=Rates(labour_hour=Decimal("60.00")))
    assert plan_of(job, dear).costs.total > plan_of(job, shop).costs.total


def test_an_offer_gone_from_the_shop_book_is_a_stop() -> None:
    job, _ = a_job(offer="film-sheet")
    plan = plan_of(job, changed(a_shop(), offers=()))
    assert FindingKind.OFFER_GONE in kinds(plan)
    assert Missing.OFFER in plan.missing


def test_what_is_joined_to_nothing_is_not_forgotten() -> None:
    job, _ = a_job()
    spare, _ = an_artwork("a2", png_bytes(ink="#224466"))
    plain = edits.add_artwork(edits.add_line(job, a_line("g2")), spare)
    found = {finding.kind: finding for finding in plan_of(plain).findings}
    assert found[FindingKind.ARTWORK_UNUSED].artwork == "a2"
    assert found[FindingKind.LINE_UNPRINTED].line == "g2"
    assert found[FindingKind.LINE_UNPRINTED].found == 20
    as_extra = edits.add_extra(plain, Extra(key="e1", artwork="a2", width_mm=50))
    assert FindingKind.ARTWORK_UNUSED not in kinds(plan_of(as_extra))
    uncounted = edits.change_line(plain, "g2", sizes=())
    assert FindingKind.LINE_UNPRINTED not in kinds(plan_of(uncounted))


def test_nothing_is_said_of_what_is_unjoined_while_nothing_is_joined_yet() -> None:
    job, _ = a_job()
    begun = edits.remove_prints(job, ["p1"])
    assert not kinds(plan_of(begun)) & {FindingKind.ARTWORK_UNUSED, FindingKind.LINE_UNPRINTED}


def test_the_demo_shows_one_file_too_coarse_and_fits_in_time() -> None:
    job, artworks = demo_job(A_DAY)
    plan = plan_of(job, facts=measured(job, dict(artworks)))
    stops = [finding for finding in plan.findings if finding.seriousness is Seriousness.STOP]
    assert {(stop.kind, stop.artwork) for stop in stops} == {(FindingKind.TOO_COARSE, "a4")}
    assert plan.calendar.slack_days is not None
    assert plan.calendar.slack_days > 0
    assert len({line.cloth for line in job.lines}) >= 2


def test_before_an_offer_is_chosen_a_need_is_called_the_usual_one() -> None:
    job, artworks = demo_job(A_DAY)
    open_job = changed(job, offer=None, prints=tuple(changed(print_, offer=None) for print_ in job.prints))
    facts = measured(job, dict(artworks))
    told = {
        is_open: {
            finding.id: wording.finding(finding, LengthUnit.INCH)
            for finding in plan_of(one, facts=facts).findings
            if finding.kind in (FindingKind.TOO_COARSE, FindingKind.THIN_STROKES)
        }
        for is_open, one in ((False, job), (True, open_job))
    }
    assert {"p5", "p1"} <= {name.split("|")[2] for name in told[True]}
    assert all("this offer" in said and "usually" not in said for said in told[False].values())
    assert all("transfers usually" in said and "offer" not in said for said in told[True].values())
    assert set(told[True]) & set(told[False]), "decisions made before hold on"


def test_soft_edges_are_told_once_a_print_with_their_figures() -> None:
    job, _ = a_job()
    motif = samples.with_shadow(samples.logo())
    artwork, data = an_artwork(data=samples.encoded(motif), size_px=motif.size)
    job = changed(job, artworks=(artwork,))
    facts = measured(job, {artwork.sha256: data})
    soft = [one for one in plan_of(job, facts=facts).findings if one.kind is FindingKind.SOFT_EDGES]
    assert len(soft) == len(job.prints)
    assert all(one.found is not None and one.area_mm2 for one in soft)


@pytest.mark.parametrize("offer", [offer.key for offer in a_shop().offers])
def test_every_offer_of_the_starting_book_can_price_a_plain_job(offer: str) -> None:
    job, _ = a_job(width_mm=90, offer=offer)
    job = edits.change_line(job, "g1", sizes=(SizeCount(size="M", count=36),))
    plan = plan_of(job)
    assert plan.purchase is not None
    assert plan.purchase.cost > 0
    assert plan.purchase.orders[0].pieces[0].ordered >= 36


def test_sheets_cut_by_outline_let_pieces_nest_and_are_judged_by_outline() -> None:
    job, _ = a_job(width_mm=150, offer="film-roll")
    wedge = io.BytesIO()
    picture = Image.new("RGBA", (900, 900), (0, 0, 0, 0))
    ImageDraw.Draw(picture).polygon([(0, 0), (899, 0), (0, 899)], fill="#d96b2b")
    picture.save(wedge, "PNG")
    artwork, data = an_artwork(data=wedge.getvalue(), size_px=(900, 900))
    job = edits.set_fields(edits.replace_file(job, "a1", artwork), way=Way.OUTLINE)
    facts = measured(job, {artwork.sha256: data})
    assert facts["a1"].outline
    shop = changed(a_shop(), search_s=3)
    nested = arrange_job(job, shop, facts=facts)
    plan = plan_of(nested, shop, facts)
    boxes = arrange_job(edits.set_fields(job, way=Way.LOOSE), shop, facts=facts, rounds=ROUNDS)
    assert FindingKind.SHEET_FAULT not in kinds(plan)
    assert plan.purchase is not None
    assert not plan.purchase.orders[0].missing
    length = sum(layout.sheet.height_mm for layout in edits.layouts_at(nested, "film-roll"))
    assert length < sum(layout.sheet.height_mm for layout in edits.layouts_at(boxes, "film-roll"))


def test_a_margin_larger_than_the_sheet_leaves_every_piece_without_room() -> None:
    job, _ = a_job()
    shop = a_shop()
    offers = tuple(
        changed(offer, margin_mm=900) if offer.key == "film-sheet" else offer for offer in shop.offers
    )
    plan = plan_of(job, changed(shop, offers=offers))
    assert FindingKind.NOT_PLACED in kinds(plan)
