"""Press cards: settings, steps and cautions in working order."""

import pytest

from planner.job.document import GroupPlace, GroupWidth, SizeCount
from planner.plan.wording import caution, press_step
from planner.pressing.card import CONTACT_BURN_C, Caution, StepKind
from planner.pressing.cards import press_cards
from planner.shop.cloth import Cloth
from planner.shop.garments import HardPart, Location, SizeGroup
from planner.shop.offers import Peel
from planner.shop.starting import starting_shop
from tests.pressing.jobs import a_job, a_line, a_press, a_print, a_shop, an_offer

K = StepKind


def test_a_card_tells_the_steps_in_working_order_with_their_figures() -> None:
    setting = {"pre_press_s": 3, "press_s": 10, "second_press_s": 5, "cover_sheet": True, "peel": Peel.WARM}
    (card,) = press_cards(a_job(), a_shop([an_offer(press=setting)]))
    assert [(step.kind, step.seconds) for step in card.steps] == [
        (K.SET_PRESS, 10),
        (K.PRE_PRESS, 3),
        (K.PLACE, None),
        (K.COVER, None),
        (K.PRESS, 10),
        (K.PEEL, None),
        (K.SECOND_PRESS, 5),
        (K.COOL, None),
    ]
    assert card.steps[0].setting_c == 143
    assert card.steps[5].peel is Peel.WARM


def test_thick_parts_are_kept_from_the_pressure_wherever_the_platen_takes_them_in() -> None:
    # Common practice, no source: a zip lies under the platen when the back is pressed, not with a sleeve.
    places = {"front": Location.FULL_FRONT, "back": Location.FULL_BACK, "arm": Location.LEFT_SLEEVE}
    job = a_job(
        [a_print(key, 80, location=place) for key, place in places.items()],
        [a_line(hard_parts=(HardPart.ZIP, HardPart.POUCH_POCKET))],
    )
    said = {card.print: [press_step(step) for step in card.steps] for card in press_cards(job, a_shop())}
    told = "Thread the garment over the platen, or lay a pad in it: no pressure on its zip and pouch pocket"
    assert {key: told in steps for key, steps in said.items()} == {"front": True, "back": True, "arm": False}
    assert said["back"].index(told) == 1


def test_a_second_print_on_a_garment_covers_the_first_before_the_pre_press() -> None:
    job = a_job([a_print("front"), a_print("back", 200, location=Location.FULL_BACK)])
    front, back = press_cards(job, a_shop())
    assert (back.position, front.position) == (1, 2)
    assert not back.cover_finished
    assert front.cover_finished
    kinds = [step.kind for step in front.steps]
    assert kinds.index(K.COVER_FINISHED) < kinds.index(K.PRE_PRESS)
    assert K.COVER_FINISHED not in [step.kind for step in back.steps]


def test_a_print_over_the_platen_is_shifted_and_pressed_again_before_peeling() -> None:
    (card,) = press_cards(a_job(), a_shop(presses=[a_press(width_mm=250, height_mm=130)]))
    kinds = [step.kind for step in card.steps]
    assert card.pressings == 2
    assert kinds[kinds.index(K.PLACE) :] == [K.PLACE, K.PRESS, K.SHIFT, K.PEEL, K.COOL]
    shift = press_step(card.steps[kinds.index(K.SHIFT)])
    assert shift == "Shift the garment and press for 10 s again, until all of the print was pressed"


def test_sizes_carry_the_size_and_place_of_their_own_print() -> None:
    sizes = (
        SizeCount(size="M", count=8),
        SizeCount(size="YM", count=4, group=SizeGroup.YOUTH),
        SizeCount(size="XL", count=0),
    )
    youth = GroupWidth(group=SizeGroup.YOUTH, width_mm=200)
    (card,) = press_cards(a_job([a_print(group_widths=(youth,))], [a_line(sizes=sizes)]), a_shop())
    assert [(s.size, s.count, s.width_mm, s.height_mm) for s in card.sizes] == [
        ("M", 8, 250, 250),
        ("YM", 4, 200, 200),
    ]
    # Common practice: two inches below the collar on youth sizes.
    assert card.sizes[1].top_mm == pytest.approx(50.8)
    assert card.top_mm == card.sizes[0].top_mm > card.sizes[1].top_mm
    assert card.measured_from == "collar seam"


def test_the_print_is_laid_on_the_centre_line_only_where_it_is_there_on_all_sizes() -> None:
    sizes = (SizeCount(size="M", count=8), SizeCount(size="YM", count=4, group=SizeGroup.YOUTH))
    for aside_mm in (0, 12):
        own = GroupPlace(group=SizeGroup.YOUTH, top_mm=60, aside_mm=aside_mm)
        (card,) = press_cards(a_job([a_print(group_places=(own,))], [a_line(sizes=sizes)]), a_shop())
        assert [size.aside_mm for size in card.sizes] == [0, aside_mm]
        (laid,) = [step for step in card.steps if step.kind is K.PLACE]
        assert laid.on_centre == (not aside_mm)


def test_the_burn_caution_names_the_heat_that_every_press_setting_is_far_above() -> None:
    # ASTM C1055: contact with metal at 60 °C for five seconds is where lasting harm to skin begins.
    assert CONTACT_BURN_C == 60
    assert "140 °F / 60 °C" in caution(Caution.BURN)
    assert "ASTM C1055" in caution(Caution.BURN)
    assert all(offer.press.setting_c >= 2 * CONTACT_BURN_C for offer in starting_shop().offers)


def test_every_card_carries_every_caution_and_childrens_sizes_one_more() -> None:
    (adult,) = press_cards(a_job(), a_shop())
    assert set(adult.cautions) == set(Caution) - {Caution.CHILDREN}
    infant = a_line(sizes=(SizeCount(size="6M", count=4, group=SizeGroup.INFANT),))
    (card,) = press_cards(a_job(lines=[infant]), a_shop())
    assert set(card.cautions) == set(Caution)
    none_ordered = a_line(
        sizes=(SizeCount(size="M", count=1), SizeCount(size="6M", count=0, group=SizeGroup.INFANT))
    )
    (card,) = press_cards(a_job(lines=[none_ordered]), a_shop())
    assert Caution.CHILDREN not in card.cautions


@pytest.mark.parametrize(
    ("dots", "setting_c", "limit_c", "over"),
    # ISO 3758:2012: one dot 110 °C, two dots 150 °C, three dots 200 °C; crossed out: do not iron.
    [
        (1, 111, 110, True),
        (1, 110, 110, False),
        (2, 151, 150, True),
        (3, 199, 200, False),
        (0, 100, 0, True),
        (None, 220, None, False),
    ],
)
def test_the_card_says_where_the_press_is_hotter_than_the_care_label(
    dots: int | None, setting_c: float, limit_c: float | None, over: bool
) -> None:
    line = a_line(cloth=Cloth(iron_dots=dots))
    (card,) = press_cards(a_job(lines=[line]), a_shop([an_offer(setting_c=setting_c)]))
    assert (card.label_limit_c, card.over_label) == (limit_c, over)


def test_there_is_a_card_for_each_print_that_can_be_pressed_and_no_other() -> None:
    job = a_job(
        [a_print("p1"), a_print("p2", offer="gone"), a_print("p3", line="g2"), a_print("p4", line="g3")],
        [a_line(), a_line("g2"), a_line("g3", counts={"M": 0})],
    )
    assert [card.print for card in press_cards(job, a_shop())] == ["p1", "p3"]


def test_a_card_carries_why_the_shop_presses_hotter_than_the_label_allows() -> None:
    job = a_job([a_print("front"), a_print("back", location=Location.FULL_BACK)])
    cards = press_cards(job, a_shop(), {"front": "One test piece held."})
    assert {card.print: card.label_decision for card in cards} == {
        "front": "One test piece held.",
        "back": "",
    }


def test_the_crease_lies_on_the_centre_line_only_where_the_print_does() -> None:
    places = {
        "front": Location.FULL_FRONT,
        "chest": Location.LEFT_CHEST,
        "arm": Location.RIGHT_SLEEVE,
    }
    job = a_job([a_print(key, 80, location=place) for key, place in places.items()])
    placing = {
        card.print: next(step for step in card.steps if step.kind is K.PLACE)
        for card in press_cards(job, a_shop())
    }
    assert "on the centre lines of garment and platen" in press_step(placing["front"])
    assert "on the centre lines of sleeve and platen" in press_step(placing["arm"])
    assert "at its distance from the garment’s centre line" in press_step(placing["chest"])
