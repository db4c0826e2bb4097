"""Prints shared out among offers."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from planner.buying.compare import Facts
from planner.buying.split import Split, cheapest_split
from planner.buying.suits import ArtTraits
from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.job.edits import change_line
from planner.shop.book import Shop, Spares
from planner.shop.cloth import Cloth, Fibre, FibreShare
from planner.shop.document import changed
from planner.shop.offers import ClothRule
from planner.work.ticket import Cancelled, Ticket
from tests.buying.offers import INCH, an_offer, breaks, by_area, by_piece, inches

D = Decimal
FACTS = Facts(date(2026, 3, 2))
STRETCHY = Cloth(
    fibres=(FibreShare(fibre=Fibre.COTTON, percent=92), FibreShare(fibre=Fibre.SPANDEX, percent=8))
)
FILM = an_offer(by_area((0, "0.06")), key="film", delivery=D(10))
STRETCH = changed(
    an_offer(by_area((0, "0.10")), key="stretch", delivery=D(10)),
    cloth=ClothRule(fibres=(Fibre.COTTON, Fibre.SPANDEX), stretch=True),
)


def a_job(count: int) -> Job:
    """One print of 10 × 10 in on hoodies, one of 4 × 4 in on stretchy leggings."""
    return Job(
        quoted_on=FACTS.today,
        lines=(
            GarmentLine(key="hoodies", sizes=(SizeCount(size="M", count=count),)),
            GarmentLine(key="leggings", cloth=STRETCHY, sizes=(SizeCount(size="M", count=count),)),
        ),
        artworks=(Artwork(key="art", name="a.png", sha256="0" * 64, width_px=3000, height_px=3000),),
        prints=(
            Print(key="back", artwork="art", line="hoodies", width_mm=10 * INCH),
            Print(key="leg", artwork="art", line="leggings", width_mm=4 * INCH),
        ),
    )


def a_shop(*offers: object) -> Shop:
    return Shop(offers=offers, spares=Spares(count=0))  # type: ignore[arg-type]


def test_leggings_go_where_stretch_cloth_is_printed_and_hoodies_where_it_is_cheap() -> None:
    # Together at "stretch": 20 × (100 + 16) × 0.10 + 10 = 242. Parted: 20 × 6 + 10 + 20 × 1.60 + 10 = 172.
    split = cheapest_split(a_job(20), a_shop(FILM, STRETCH), FACTS)
    assert (split.offer_of("back"), split.offer_of("leg")) == ("film", "stretch")
    assert split.cost == D("172.00")


def test_prints_stay_together_where_a_second_delivery_costs_more() -> None:
    # Together: 2 × 11.60 + 10 = 33.20. Parted: 12 + 10 + 3.20 + 10 = 35.20.
    split = cheapest_split(a_job(2), a_shop(FILM, STRETCH), FACTS)
    assert [share.result.offer for share in split.shares] == ["stretch"]
    assert split.cost == D("33.20")


def area_and_piece(*, large: int, small: int, delivery: int) -> Split:
    """Ten of each print, priced by area or by the piece."""
    area = an_offer(by_area((0, "0.10")), key="area", delivery=D(delivery))
    piece = an_offer(by_piece((inches(6, 6), 4, breaks((1, "2.40")))), key="piece", delivery=D(delivery))
    sides = {f"large{at}": 6 for at in range(large)} | {f"small{at}": 2 for at in range(small)}
    line = GarmentLine(key="shirts", sizes=(SizeCount(size="M", count=10),))
    prints = tuple(
        Print(key=key, artwork="art", line="shirts", width_mm=side * INCH) for key, side in sides.items()
    )
    job = changed(a_job(10), lines=(line,), prints=prints)
    facts = replace(FACTS, traits={"art": ArtTraits(colours=1)})
    return cheapest_split(job, a_shop(area, piece), facts)


def test_prints_part_together_where_none_of_them_pays_a_second_delivery_alone() -> None:
    """Ten of each, three prints of 6 × 6 in and two of 2 × 2 in, a delivery 30 at either offer.

    By area: 10 × (3 × 36 + 2 × 4) × 0.10 + 30 = 146. By the piece: 10 × 5 × 2.40 + 30 = 150. Parted:
    10 × 2 × 4 × 0.10 + 30 + 10 × 3 × 2.40 + 30 = 140. From 146 one large print saves 36 − 24 = 12 of the
    30 that it adds, from 150 a small one 24 − 4 = 20.
    """
    split = area_and_piece(large=3, small=2, delivery=30)
    assert split.cost == D("140.00")
    assert {split.offer_of(key) for key in ("large0", "large1", "large2")} == {"piece"}
    assert {split.offer_of(key) for key in ("small0", "small1")} == {"area"}


def test_of_many_prints_those_part_that_are_cheaper_elsewhere() -> None:
    """As above with ten large, six small and a delivery of 100: at either offer 484, parted 464."""
    assert area_and_piece(large=10, small=6, delivery=100).cost == D("464.00")


def test_a_print_that_no_offer_takes_is_named() -> None:
    split = cheapest_split(a_job(20), a_shop(FILM), FACTS)
    assert split.nowhere == ("leg",)
    assert split.offer_of("leg") is None
    assert split.offer_of("back") == "film"


def test_a_shop_without_offers_buys_nothing() -> None:
    assert cheapest_split(a_job(2), a_shop(), FACTS).nowhere == ("back", "leg")


def test_a_print_on_no_garment_is_passed_over() -> None:
    job = change_line(a_job(20), "leggings", sizes=())
    split = cheapest_split(job, a_shop(FILM), FACTS)
    assert split.nowhere == ()
    assert [share.prints for share in split.shares] == [("back",)]


def test_the_search_hears_stop() -> None:
    ticket = Ticket()
    ticket.stop()
    with pytest.raises(Cancelled):
        cheapest_split(a_job(20), a_shop(FILM, STRETCH), FACTS, ticket=ticket)
