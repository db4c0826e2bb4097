"""The book a new shop starts with, held against what the trade says and what labels may say."""

import pytest

from planner.measures.temperature import fahrenheit
from planner.pressing.usual import usual
from planner.shop.cloth import Fibre
from planner.shop.garments import Location, SizeGroup
from planner.shop.offers import Peel, TransferKind
from planner.shop.starting import starting_shop
from planner.window.readings import read_fibres

OFFERS = starting_shop().offers
_THREE_FINGERS_IN = 3.0


@pytest.mark.parametrize(
    ("kind", "heat_f", "least_s", "most_s", "peel"),
    # Common practice, no source: every transfer printer's own sheet wins over these.
    [
        (TransferKind.FILM_SINGLE, 290, 15, 15, Peel.HOT),
        (TransferKind.FILM_SHEET, 290, 10, 10, Peel.HOT),
        (TransferKind.STRETCH, 270, 10, 15, None),
        (TransferKind.SCREEN_PRINTED, 375, 7, 10, Peel.HOT),
        (TransferKind.SUBLIMATION, 390, 45, 60, Peel.HOT),
        (TransferKind.VINYL, 305, 15, 15, Peel.WARM),
    ],
)
def test_press_settings_start_where_common_practice_has_them(
    kind: TransferKind, heat_f: float, least_s: float, most_s: float, peel: Peel | None
) -> None:
    (offer,) = (offer for offer in OFFERS if offer.kind is kind)
    assert fahrenheit(offer.press.setting_c) == pytest.approx(heat_f)
    assert least_s <= offer.press.press_s <= most_s
    assert peel is None or offer.press.peel is peel


def test_every_garment_is_pre_pressed_a_couple_of_seconds() -> None:
    # Common practice, no source: 2 to 5 s drive out moisture and flatten wrinkles.
    assert all(2 <= offer.press.pre_press_s <= 5 for offer in OFFERS)


def test_only_the_stretch_kind_takes_spandex() -> None:
    # Common practice, no source: other kinds crack or let go on stretch cloth.
    assert {offer.kind for offer in OFFERS if offer.cloth.stretch} == {TransferKind.STRETCH}


@pytest.mark.parametrize("group", [SizeGroup.ADULT, SizeGroup.YOUTH, SizeGroup.INFANT])
def test_a_full_front_starts_at_most_three_fingers_below_the_collar(group: SizeGroup) -> None:
    # Common practice, no source: three fingers, 3 in at most.
    place = usual(Location.FULL_FRONT, group)
    assert place is not None
    assert 0 < place.top_in <= _THREE_FINGERS_IN


@pytest.mark.parametrize(
    ("name", "fibre"),
    # 16 CFR 303.7 for man-made fibres sold in the US; ISO 2076 elsewhere.
    [
        ("acrylic", Fibre.ACRYLIC),
        ("polyester", Fibre.POLYESTER),
        ("rayon", Fibre.VISCOSE),
        ("lyocell", Fibre.VISCOSE),
        ("nylon", Fibre.NYLON),
        ("spandex", Fibre.SPANDEX),
        ("olefin", Fibre.POLYPROPYLENE),
        ("viscose", Fibre.VISCOSE),
        ("modal", Fibre.VISCOSE),
        ("polyamide", Fibre.NYLON),
        ("elastane", Fibre.SPANDEX),
        ("polypropylene", Fibre.POLYPROPYLENE),
    ],
)
def test_labels_are_read_by_the_generic_names_that_the_law_and_the_standard_give(
    name: str, fibre: Fibre
) -> None:
    shares = read_fibres(f"60 % cotton, 40 % {name}")
    assert {share.fibre: share.percent for share in shares} == {Fibre.COTTON: 60, fibre: 40}
