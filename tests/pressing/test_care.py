"""The customer's care card covers the five care processes of ISO 3758:2012 and 16 CFR 423."""

import pytest

from planner.plan.wording_care import care
from planner.pressing.care import CareAdvice, CareKind, care_cards
from planner.shop.cloth import Cloth, Fibre, FibreShare
from planner.shop.garments import GarmentKind
from tests.pressing.jobs import a_job, a_line, a_print

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
    (card,) = care_cards(a_job(lines=[a_line(kind=kind, cloth=cloth)]))
    kinds = [advice.kind for advice in card.advice]
    assert len(set(kinds)) == len(kinds)
    for process, advice in FIVE.items():
        assert len(advice & set(kinds)) == 1, process
    assert kinds[0] is CareKind.WAIT
    assert kinds[-1] is CareKind.LABEL_WINS


def test_the_first_wash_waits_a_day() -> None:
    (card,) = care_cards(a_job())
    assert care(card.advice[0]) == (
        "Wait 24 hours after pressing before the first wash: the print is still setting."
    )


def test_the_iron_keeps_to_the_labels_dots() -> None:
    # ISO 3758:2012: two dots are 150 °C at most.
    (card,) = care_cards(a_job(lines=[a_line(cloth=Cloth(iron_dots=2))]))
    assert any(care(advice).endswith("at 302 °F / 150 °C or less.") for advice in card.advice)
    (card,) = care_cards(a_job(lines=[a_line(cloth=Cloth(iron_dots=0))]))
    assert any(advice.kind is CareKind.NO_IRON for advice in card.advice)


@pytest.mark.parametrize("kind", CareKind)
def test_every_piece_of_advice_is_a_whole_sentence(kind: CareKind) -> None:
    for figure in (None, 30.0):
        text = care(CareAdvice(kind=kind, figure=figure))
        assert text.endswith(".")
        assert "{" not in text


def test_only_garments_with_prints_get_a_card() -> None:
    job = a_job([a_print()], [a_line(), a_line("g2"), a_line("g3", counts={"M": 0})])
    assert [card.line for card in care_cards(job)] == ["g1"]
