"""Pieces that must share one sheet, at offers whose order is a roll's lengths or single images."""

from dataclasses import replace

import pytest

from planner.buying.order import plan_order, quick_order
from planner.buying.purchase import Order
from planner.job.pieces import NeededPiece
from planner.measures.layout import Way, sheets_with
from planner.shop.book import Spares
from planner.shop.offers import Offer
from planner.shop.prices import ByLength
from tests.buying.offers import INCH, an_offer, breaks, by_area, by_length, needed

PRICE = breaks((1, "8.00"))
MARKED = {"crest", "name"}
SHORT_ROLL = ByLength(width_mm=22 * INCH, longest_mm=24 * INCH, step_mm=12 * INCH, breaks=PRICE)


def pieces(*, marked: bool, crests: int = 6) -> tuple[NeededPiece, ...]:
    """Backs that fill three short lengths, and small pieces that a plain arrangement strews among them."""
    asked = (needed("back", 11, 9, 10), needed("crest", 4, 5, crests), needed("name", 11, 3, 3))
    return tuple(replace(piece, one_sheet=marked and piece.key in MARKED) for piece in asked)


def planned(offer: Offer, wanted: tuple[NeededPiece, ...], way: Way = Way.LOOSE) -> Order:
    return plan_order(offer, wanted, spares=Spares(count=0), currency="USD", way=way, rounds=3)


def copies(order: Order) -> dict[str, int]:
    return {piece.piece: piece.ordered for piece in order.pieces}


@pytest.mark.parametrize("way", [Way.LOOSE, Way.STRAIGHT])
def test_marked_pieces_share_one_of_several_lengths(way: Way) -> None:
    offer = an_offer(SHORT_ROLL)
    assert sheets_with(MARKED, planned(offer, pieces(marked=False), way).layouts) > 1, "else a mark is idle"
    order = planned(offer, pieces(marked=True), way)
    assert sheets_with(MARKED, order.layouts) == 1
    assert copies(order) == {"back": 10, "crest": 6, "name": 3}
    quick = quick_order(offer, pieces(marked=True), spares=Spares(count=0), currency="USD", way=way)
    assert sheets_with(MARKED, quick.layouts) == 1


def test_one_length_for_all_is_as_short_with_marks_as_without() -> None:
    offer = an_offer(by_length((1, "8.00")))
    assert planned(offer, pieces(marked=True)).cost == planned(offer, pieces(marked=False)).cost


def test_marked_pieces_are_one_group_where_images_are_sold_by_the_area() -> None:
    offer = an_offer(by_area((0, "0.06")))
    assert planned(offer, pieces(marked=False)).layouts == (), "single images cost least"
    order = planned(offer, pieces(marked=True))
    (group,) = order.layouts
    assert {placed.print for placed in group.placements} == MARKED
    assert copies(order) == {"back": 10, "crest": 6, "name": 3}


def test_what_no_single_group_or_length_holds_is_ordered_all_the_same() -> None:
    for price in (by_area((0, "0.06")), SHORT_ROLL):
        order = planned(an_offer(price), pieces(marked=True, crests=40))
        assert copies(order) == {"back": 10, "crest": 40, "name": 3}
