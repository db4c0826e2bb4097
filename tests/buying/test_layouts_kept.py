"""What a shop pinned stays, room that is left is used, outlines may be nested, and work can be stopped."""

from decimal import Decimal

import pytest

from planner.buying import by_sheet as by_sheet_module
from planner.buying.order import plan_order, quick_order
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.arrange import Improved, arrange
from planner.sheets.problem import Arrangement, Piece, Request
from planner.sheets.validate import faults
from planner.shop.book import Spares
from planner.work.ticket import Ticket
from tests.buying.offers import INCH, SHEET, an_offer, by_length, by_sheet, inches, needed

D = Decimal
EXACT = Spares(count=0)
OFFER = an_offer(by_sheet((1, "9.00"), (12, "7.50")), gap_mm=3.0, margin_mm=5.0)
PIECES = (needed("front", 10.5, 8, 10), needed("chest", 4, 3.5, 20))


def test_pinned_pieces_stay_where_they_are_and_as_often_as_they_were() -> None:
    front = inches(10.5, 8)
    pin = Placement("front", 15, 40, front.width_mm, front.height_mm, pinned=True)
    loose = Placement("front", 15, 245, front.width_mm, front.height_mm)
    order = plan_order(
        OFFER,
        PIECES,
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        pinned=(Layout(SHEET, (pin, loose), 4),),
        rounds=1,
    )
    kept = [layout for layout in order.layouts if pin in layout.placements]
    assert [layout.runs for layout in kept] == [4]
    assert len(kept[0].placements) > 1, "the free room beside it is used"
    assert not order.missing
    for layout in order.layouts:
        assert not faults(layout, gap_mm=3.0, margin_mm=5.0, way=Way.LOOSE)
    assert order.least_cost is not None
    assert order.least_cost <= order.cost


def test_a_sheet_printed_anyway_carries_what_is_wanted_a_little_less_often() -> None:
    pin = Placement("badge", 5, 5, 2 * INCH, 2 * INCH, pinned=True)
    pieces = (needed("badge", 2, 2, 12), needed("front", 10.5, 8, 11))
    order = plan_order(
        OFFER,
        pieces,
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        pinned=(Layout(SHEET, (pin,), 12),),
        rounds=1,
    )
    assert [layout.runs for layout in order.layouts] == [12], "eleven fronts need no sheet of their own"
    assert order.cost == D("90.00")


def test_what_lay_beside_a_pinned_piece_stays_where_no_filling_carries_more() -> None:
    pin = Placement("badge", 5, 300, 2 * INCH, 2 * INCH, pinned=True)
    loose = Placement("front", 12, 60, 10.5 * INCH, 8 * INCH)
    pieces = (needed("badge", 2, 2, 4), needed("front", 10.5, 8, 4))
    order = plan_order(
        OFFER,
        pieces,
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        pinned=(Layout(SHEET, (pin, loose), 4),),
        rounds=1,
    )
    (layout,) = order.layouts
    assert set(layout.placements) == {pin, loose}


def test_small_logos_fill_the_room_that_is_left_for_nothing() -> None:
    pieces = (needed("back", 10.5, 12, 12),)
    logo = Piece("logo", 2 * INCH, 1.5 * INCH, 200)
    bare = plan_order(OFFER, pieces, spares=EXACT, currency="USD", way=Way.LOOSE, rounds=1)
    filled = plan_order(OFFER, pieces, spares=EXACT, currency="USD", way=Way.LOOSE, extras=(logo,), rounds=1)
    assert filled.cost == bare.cost == D("90.00")
    logos = next(piece for piece in filled.pieces if piece.piece == "logo")
    assert (logos.need, logos.spares) == (0, 0)
    assert logos.ordered >= 12 * 8
    assert logos.ordered <= 200
    for layout in filled.layouts:
        assert not faults(layout, gap_mm=3.0, margin_mm=5.0, way=Way.LOOSE)


def test_outlines_never_cost_more_than_their_boxes() -> None:
    triangle = ((0.0, 0.0), (8 * INCH, 0.0), (0.0, 8 * INCH))
    pieces = (needed("pennant", 8, 8, 8),)
    offer = an_offer(by_sheet((1, "9.00")))
    boxes = quick_order(offer, pieces, spares=EXACT, currency="USD", way=Way.LOOSE)
    nested = plan_order(
        offer,
        pieces,
        spares=EXACT,
        currency="USD",
        way=Way.OUTLINE,
        outlines={"pennant": triangle},
        budget_s=2.0,
    )
    assert not nested.missing
    assert nested.cost <= boxes.cost
    # Eight triangles of 32 in² are 256 in²: more than one sheet of 207 in².
    assert nested.least_cost == D("18.00")
    for layout in nested.layouts:
        assert not faults(layout, gap_mm=0, margin_mm=0, way=Way.OUTLINE, outlines={"pennant": triangle})


def test_every_better_order_by_outline_is_told_and_the_search_hears_stop(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    triangle = ((0.0, 0.0), (8 * INCH, 0.0), (0.0, 8 * INCH))
    ticket = Ticket()
    heard: list[int] = []

    def stopped_at_the_first(request: Request, ticket: Ticket | None, improved: Improved) -> Arrangement:
        def told(answer: Arrangement) -> None:
            assert ticket is not None
            ticket.stop()
            improved(answer)

        return arrange(request, ticket, told)

    monkeypatch.setattr(by_sheet_module, "arrange", stopped_at_the_first)
    order = plan_order(
        an_offer(by_sheet((1, "9.00"))),
        (needed("pennant", 8, 8, 16),),
        spares=EXACT,
        currency="USD",
        way=Way.OUTLINE,
        outlines={"pennant": triangle},
        budget_s=1.0,
        ticket=ticket,
        improved=lambda order: heard.append(order.sheets),
    )
    assert ticket.is_stopped
    assert heard
    assert not order.missing


def test_stopped_work_hands_over_the_best_order_so_far() -> None:
    ticket = Ticket()
    ticket.stop()
    order = plan_order(OFFER, PIECES, spares=EXACT, currency="USD", way=Way.LOOSE, budget_s=30, ticket=ticket)
    assert not order.missing
    assert order.least_cost is not None
    assert order.least_cost <= order.cost


def test_a_roll_longer_than_the_longest_becomes_several() -> None:
    # Two abreast on 22 in; 200 in hold 22 rows of 9 in: 50 pieces are 25 rows, 225 in.
    offer = an_offer(by_length((1, "9.00")))
    order = plan_order(
        offer, (needed("front", 11, 9, 50),), spares=EXACT, currency="USD", way=Way.LOOSE, rounds=2
    )
    assert not order.missing
    assert order.sheets == 2
    assert all(layout.sheet.height_mm <= 200 * INCH + 1e-6 for layout in order.layouts)
    assert order.cost >= 19 * D("9.00")
    assert order.least_cost is not None
    assert order.least_cost <= order.cost
