"""The shelf of left-over transfers: put in, taken out, never less than nothing."""

from datetime import date

from planner.shop.document import changed
from planner.shop.offers import TransferKind
from planner.shop.stock import Design, LeftOver, in_stock, put_in, taken_out

LOGO = Design(artwork="a" * 64, look="plain", width_mm=76.2, height_mm=50.8, kind=TransferKind.VINYL)
OLD, NEW = date(2026, 3, 1), date(2026, 9, 1)


def left(count: int, since: date, offer: str = "one") -> LeftOver:
    return LeftOver(design=LOGO, count=count, since=since, offer=offer)


def test_what_came_from_one_offer_lies_together_and_others_apart() -> None:
    stock = put_in(put_in((), left(3, OLD)), left(4, NEW))
    assert [(one.count, one.since) for one in stock] == [(7, NEW)]
    assert len(put_in(stock, left(1, NEW, "two"))) == 2


def test_the_oldest_goes_first_and_an_empty_heap_goes_away() -> None:
    stock = (left(5, NEW), left(3, OLD, "two"))
    after = taken_out(stock, LOGO, 4)
    assert [(one.offer, one.count) for one in after] == [("one", 4)]


def test_no_more_goes_than_there_is_and_other_designs_stay() -> None:
    other = changed(left(9, OLD), design=changed(LOGO, look="flipped"))
    after = taken_out((left(5, OLD), other), LOGO, 50)
    assert after == (other,)
    assert in_stock(after, LOGO) == 0
