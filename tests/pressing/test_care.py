"""The customer's care card covers the five care processes of ISO 3758:2012 and 16 CFR 423."""

import pytest

from planner.plan.wording_care import care
from planner.pressing.care import CareAdvice, CareKind, care_cards
from planner.shop.cloth import Cloth, Fibre, FibreShare
from planner.shop.garments import GarmentKind
from tests.pressing.jobs import a_job, a_line, a_print, a_shop, an_offer

FIVE = {
    "washing": {CareKind.WASH_COOL, CareKind.SPONGE},
    "bleaching": {CareKind.NO_BLEACH},
    "drying": {CareKind.DRY_LOW, CareKind.LINE_DRY},
    "ironing": {CareKind.IRON_AWAY, CareKind.NO_IRON},
    "professional care": {CareKind.NO_SOLVENT},
}
STRETCHY = (FibreShare(fibre=Fibre.POLYESTER, percent=88), FibreShare(fibre=Fibre.SPANDEX, percent=12))


@pytest.mark.parametrize("kind", GarmentKind)
@pytest.mark.parametrize("cloth", [Cloth(), Cloth(fibres=STRETCHY, iron_dots=1), Cloth(iron_dots=0)])
def test_each_care_process_is_advised_on_exactly_once(kind: GarmentKind, cloth: Cloth) -> None:
    (card,) = care_cards(a_job(lines=[a_line(kind=kind, cloth=cloth)]), a_shop())
    kinds = [advice.kind for advice in card.advice]
    assert len(set(kinds)) == len(kinds)
    for process, advice in FIVE.items():
        assert len(advice & set(kinds)) == 1, process
    assert kinds[0] is CareKind.WAIT
    assert kinds[-1] is CareKind.LABEL_WINS


def test_the_first_wash_waits_a_day() -> None:
    (card,) = care_cards(a_job(), a_shop())
    assert care(card.advice[0]) == (
        "Wait 24 hours after pressing before the first wash: the print is still setting."
    )


@pytest.mark.parametrize(
    ("dots", "setting_c", "iron_c"),
    # ISO 3758:2012: one dot is 110 °C at most, two are 150 °C, three 200 °C; crossed out: do not iron.
    [(2, 190, 150), (1, 190, 110), (3, 190, 150), (3, 143, 110), (None, 143, 110), (3, 210, 200)],
)
def test_the_iron_keeps_to_the_labels_dots_and_under_the_heat_that_set_the_print(
    dots: int | None, setting_c: float, iron_c: float
) -> None:
    job, shop = a_job(lines=[a_line(cloth=Cloth(iron_dots=dots))]), a_shop([an_offer(setting_c=setting_c)])
    (card,) = care_cards(job, shop)
    (advice,) = (advice for advice in card.advice if advice.kind is CareKind.IRON_AWAY)
    assert advice.figure == iron_c
    assert care(advice).endswith(f"{iron_c} °C or less.")


def test_no_iron_is_advised_where_the_label_forbids_it() -> None:
    (card,) = care_cards(a_job(lines=[a_line(cloth=Cloth(iron_dots=0))]), a_shop())
    assert any(advice.kind is CareKind.NO_IRON for advice in card.advice)


@pytest.mark.parametrize("kind", CareKind)
def test_every_piece_of_advice_is_a_whole_sentence(kind: CareKind) -> None:
    for figure in (None, 30.0):
        text = care(CareAdvice(kind=kind, figure=figure))
        assert text.endswith(".")
        assert "{" not in text


def test_only_garments_with_prints_get_a_card() -> None:
    job = a_job([a_print()], [a_line(), a_line("g2"), a_line("g3", counts={"M": 0})])
    assert [card.line for card in care_cards(job, a_shop())] == ["g1"]
