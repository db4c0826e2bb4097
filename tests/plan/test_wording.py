"""Every kind has a sentence, and sentences carry the figures."""

from datetime import date
from decimal import Decimal

import pytest
from babel.dates import format_skeleton
from babel.numbers import format_currency
from hypothesis import given
from hypothesis import strategies as st

from planner.buying.purchase import Order
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures import figures
from planner.measures.figures import written_for
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
        viewing_mm=600,
    )
    # 1,560 px at 300 ppi are 5.2 in; now they are 10.95 in, which needs 3,286 px. The eye: ISO 8596.
    assert wording.finding(finding, LengthUnit.INCH) == (
        "Prints at 142 ppi; this offer needs 300. Looked at from 24 in, the eye resolves 146. "
        "Print it 5.2 in wide, or ask for a file some 3,290 px wide."
    )


def test_a_file_just_large_enough_is_asked_for() -> None:
    # 640 px at 8 in are 80 ppi; 300 ppi are 2,400 px, and what they now have is 54.19 mm.
    finding = Finding(
        kind=FindingKind.TOO_COARSE, seriousness=Seriousness.STOP, found=80, needed=300, best_width_mm=54.19
    )
    assert "some 2,400 px wide" in wording.finding(finding, LengthUnit.INCH)


def test_nobody_is_told_to_print_a_back_as_small_as_a_thumb() -> None:
    finding = Finding(
        kind=FindingKind.TOO_COARSE, seriousness=Seriousness.STOP, found=20, needed=300, best_width_mm=17
    )
    assert wording.finding(finding, LengthUnit.INCH) == (
        "Prints at 20 ppi; this offer needs 300. Ask for a file some 3,020 px wide."
    )


@pytest.mark.parametrize(("found", "way"), [(0.4, "12.5 in wide"), (0.16, "larger")])
def test_a_gap_too_thin_is_told_a_width_that_is_not_out_of_the_world(found: float, way: str) -> None:
    gap = Finding(
        kind=FindingKind.THIN_GAPS,
        seriousness=Seriousness.LOOK,
        found=found,
        needed=0.5,
        best_width_mm=254 * 0.5 / found,
    )
    assert wording.finding(gap, LengthUnit.INCH) == (
        f"Thinnest gap {found:.2f} mm; under 0.50 mm it fills in. Print it {way}, or have the gap opened."
    )


def test_soft_edges_are_told_with_share_area_and_how_they_look_on_this_cloth() -> None:
    soft = Finding(
        kind=FindingKind.SOFT_EDGES,
        seriousness=Seriousness.STOP,
        found=0.31,
        area_mm2=12_345.6,
        on_dark=True,
    )
    assert wording.finding(soft, LengthUnit.INCH).startswith(
        "31 % of the artwork (19.1 in²) is half transparent: on this dark cloth"
    )
    assert "(12,346 mm²)" in wording.finding(soft, LengthUnit.MILLIMETRE)
    with written_for("DE"):
        assert "(12.346 mm²)" in wording.finding(soft, LengthUnit.MILLIMETRE)
        assert "(19,1 in²)" in wording.finding(soft, LengthUnit.INCH)
    assert "on this light cloth" in wording.finding(
        soft.model_copy(update={"on_dark": False}), LengthUnit.INCH
    )


def test_colours_are_told_by_their_words_with_difference_and_other_cloth() -> None:
    faint = Finding(
        kind=FindingKind.LOW_CONTRAST,
        seriousness=Seriousness.LOOK,
        found=0.54,
        needed=10,
        difference_de=0.94,
        subject="#1e1e20",
        detail="natural",
    )
    assert wording.finding(faint, LengthUnit.INCH) == (
        "54 % of the artwork is nearly the garment's colour (black), ΔE 0.9 where 10 is wanted, and will "
        "be hard to see. Outline it, or choose other cloth, such as natural."
    )


def test_missing_fonts_are_named_and_embedded_ones_are_no_trouble() -> None:
    loose = Finding(kind=FindingKind.TEXT_NOT_OUTLINED, seriousness=Seriousness.LOOK, detail="Harbour Gothic")
    assert "does not carry (Harbour Gothic)" in wording.finding(loose, LengthUnit.INCH)
    carried = Finding(kind=FindingKind.TEXT_NOT_OUTLINED, seriousness=Seriousness.NOTE, needed=0)
    assert "fonts are embedded" in wording.finding(carried, LengthUnit.INCH)


def test_one_of_a_thing_is_told_in_the_singular() -> None:
    one = Finding(kind=FindingKind.SPECKS, seriousness=Seriousness.LOOK, found=1, needed=0.5)
    many = Finding(kind=FindingKind.SPECKS, seriousness=Seriousness.LOOK, found=12, needed=0.5)
    assert wording.finding(one, LengthUnit.INCH).startswith("One speck is under 0.50 mm")
    assert wording.finding(many, LengthUnit.INCH).startswith("12 specks are under 0.50 mm")


_HELD_AGAINST_A_FIGURE = {
    FindingKind.TOO_COARSE: (142, 300, "142 ppi", "needs 300"),
    FindingKind.LOOKS_ENLARGED: (142, 300, "142 ppi", "needs 300"),
    FindingKind.THIN_STROKES: (0.4, 0.5, "0.40 mm", "0.50 mm"),
    FindingKind.THIN_GAPS: (0.4, 0.5, "0.40 mm", "0.50 mm"),
    FindingKind.SPECKS: (12, 0.5, "12 specks", "0.50 mm"),
    FindingKind.HEAVY_AREA: (0.8, 50_000, "80 %", "from 77.5 in² on"),
    FindingKind.TOO_MANY_COLOURS: (6, 4, "6 colours", "prints 4"),
    FindingKind.NEEDS_STRETCH: (8, 0, "8 % (ink)", "takes none"),
    FindingKind.FIBRE_UNSUITED: (40, 0, "40 % (ink)", "without it"),
    FindingKind.TOO_LITTLE_POLYESTER: (50, 65, "50 % polyester", "needs 65 %"),
    FindingKind.NEEDS_LIGHT_CLOTH: (14.4, 85, "has 14 (ink)", "lightness 85 or more"),
    FindingKind.DYE_MIGRATION: (160, 150, "320 °F", "above 302 °F"),
    FindingKind.OVER_IRON_DOTS: (160, 110, "320 °F", "allows 230 °F"),
    FindingKind.UNDER_LEAST_PIECES: (12, 24, "12 pieces", "24 at least"),
    FindingKind.OVER_PLATEN: (508, 406.4, "20 in", "takes 16 in"),
    FindingKind.TOO_LARGE_FOR_OFFER: (508, 406.4, "20 in", "prints 16 in at most"),
    FindingKind.WIDER_THAN_USUAL: (127, 101.6, "5 in wide", "4 in is the usual most"),
    FindingKind.OVER_GARMENT: (127, 101.6, "5 in", "leaves 4 in"),
    FindingKind.OVER_HARD_PART: (25.4, 0, "1 in over", "lie clear of it"),
    FindingKind.PRINTS_TOO_CLOSE: (12.7, 25.4, "0.5 in from", "leave 1 in"),
    FindingKind.LATE: (3, 10, "Late by 3 working days (ink)", "10 are needed and 7 left"),
    FindingKind.UNDER_FLOOR: (31.5, 40, "31.5 %", "floor of 40 %"),
}


@pytest.mark.parametrize("kind", _HELD_AGAINST_A_FIGURE)
def test_what_is_held_against_a_figure_names_the_one_found_and_the_one_needed(kind: FindingKind) -> None:
    found, needed, told_found, told_needed = _HELD_AGAINST_A_FIGURE[kind]
    finding = Finding(kind=kind, seriousness=Seriousness.STOP, found=found, needed=needed, subject="ink")
    sentence = wording.finding(finding, LengthUnit.INCH)
    assert told_found in sentence
    assert told_needed in sentence


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


ENGLISH = ("US", "GB", "DE", "FR", "CH", "AT", "NL", "IN", "CA", "AU", "ZA", "SE", "IE")


@given(
    st.sampled_from(ENGLISH),
    st.decimals(-10_000_000, 10_000_000, places=3),
    st.sampled_from(("USD", "EUR", "GBP", "CHF", "JPY", "KWD", "INR", "BRL")),
)
def test_amounts_are_written_as_cldr_writes_them(territory: str, amount: Decimal, currency: str) -> None:
    """Unicode CLDR, through babel's own slower formatting."""
    with figures.written_for(territory):
        told = wording.money(amount, currency)
    assert told == format_currency(amount, currency, locale=f"en_{territory}").replace("\u202f", "\u00a0")


@given(st.sampled_from(ENGLISH), st.dates())
def test_days_are_written_as_cldr_writes_them(territory: str, on: date) -> None:
    with figures.written_for(territory):
        assert wording.day(on) == format_skeleton("yMMMEd", on, locale=f"en_{territory}")
        assert wording.short_day(on) == format_skeleton("MMMEd", on, locale=f"en_{territory}")


@pytest.mark.parametrize(
    ("territory", "told"),
    # The patterns of pt_BR and el_GR with English names of currencies; ar_EG runs from right to left.
    [
        ("BR", "R$\u00a01.234,50"),
        ("GR", "1.234,50\u00a0R$"),
        ("EG", "R$1,234.50"),
        ("DE", "1.234,50\u00a0R$"),
    ],
)
def test_an_amount_stands_as_it_does_where_cldr_has_no_english(territory: str, told: str) -> None:
    with figures.written_for(territory):
        assert wording.money(Decimal("1234.5"), "BRL") == told


def test_a_sentence_in_germany_has_german_figures() -> None:
    finding = Finding(
        kind=FindingKind.TOO_COARSE,
        seriousness=Seriousness.LOOK,
        found=142.4,
        needed=300,
        best_width_mm=132.08,
        viewing_mm=600,
    )
    with figures.written_for("DE"):
        assert wording.finding(finding, LengthUnit.INCH).endswith(
            "Print it 5,2 in wide, or ask for a file some 3.290 px wide."
        )
        assert wording.share(0.029) == "2,9 %"
        assert wording.share(0.0001) == "under 0,1 %"
        assert wording.count(1200, "sheet") == "1.200 sheets"
