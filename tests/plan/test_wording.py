"""Every kind has a sentence, and sentences carry the figures."""

from decimal import Decimal

import pytest

from planner.buying.purchase import Order
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.pressing.card import Caution, PressStep, StepKind


@pytest.mark.parametrize("kind", FindingKind)
@pytest.mark.parametrize("found", [None, 1.0, 42.0])
def test_every_kind_of_finding_has_a_whole_sentence(kind: FindingKind, found: float | None) -> None:
    finding = Finding(kind=kind, seriousness=Seriousness.LOOK, found=found, needed=2, subject="ink")
    text = wording.finding(finding, LengthUnit.INCH)
    assert text.endswith((".", ")."))
    assert "{" not in text
    assert text[0].isupper() or text[0].isdigit() or text[0] == "?"


def test_a_coarse_print_is_told_with_both_figures_and_a_way_out() -> None:
    finding = Finding(
        kind=FindingKind.TOO_COARSE,
        seriousness=Seriousness.LOOK,
        found=142.4,
        needed=300,
        best_width_mm=132.08,
    )
    assert wording.finding(finding, LengthUnit.INCH) == (
        "Prints at 142 ppi; this offer needs 300. Print it 5.2 in wide, or ask for a larger file."
    )


def test_one_of_a_thing_is_told_in_the_singular() -> None:
    one = Finding(kind=FindingKind.SPECKS, seriousness=Seriousness.LOOK, found=1)
    many = Finding(kind=FindingKind.SPECKS, seriousness=Seriousness.LOOK, found=12)
    assert wording.finding(one, LengthUnit.INCH).startswith("One speck is")
    assert wording.finding(many, LengthUnit.INCH).startswith("12 specks are")


@pytest.mark.parametrize("caution", Caution)
def test_every_caution_has_its_words(caution: Caution) -> None:
    assert wording.caution(caution).endswith(".")


@pytest.mark.parametrize("kind", StepKind)
def test_every_press_step_has_its_words(kind: StepKind) -> None:
    assert wording.press_step(PressStep(kind=kind, seconds=15))


def test_a_bound_is_told_with_what_it_holds_for() -> None:
    order = Order(
        offer="film-sheet",
        cost=Decimal("385.00"),
        least_cost=Decimal("369.50"),
        most_layouts=4,
        one_size=True,
    )
    assert wording.bound(order, "USD") == (
        "Proven: no order of at most 4 distinct layouts on one sheet size costs less than $369.50 at this "
        "offer. This one is at most 4.2 % above that."
    )
    least = order.model_copy(update={"cost": Decimal("369.50"), "one_size": False, "most_layouts": None})
    assert wording.bound(least, "USD") == "Proven: no order costs less at this offer."
    assert wording.bound(Order(offer="film-sheet"), "USD") == ""
