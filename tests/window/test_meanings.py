"""Every figure tells how it came about: what stands beside a figure is a formula, not its name again."""

from decimal import Decimal

from planner.job import edits
from planner.pressing.calendar import Milestone
from planner.pricing.costs import CostKind
from planner.shop.document import changed
from planner.window import meanings
from planner.window.offers import words
from planner.window.offers.figures import Column
from planner.window.offers.header import SortHeader
from tests.window.rig import Rig


def test_every_kind_of_cost_and_every_last_day_has_a_meaning() -> None:
    assert set(meanings.COSTS) == set(CostKind)
    assert all(meanings.last_day(milestone) for milestone in Milestone)
    assert set(words.MEANINGS) == {column.value for column in Column}


def test_no_figure_of_the_sidebar_is_without_an_explanation(job_rig: Rig) -> None:
    rig = job_rig
    shop = rig.desk.shop
    rig.desk.set_shop(changed(shop, rates=changed(shop.rates, tax_percent=Decimal("6"))))
    terms = changed(
        rig.desk.job.terms,
        discount_percent=Decimal("5"),
        delivery_fee=Decimal("9.00"),
        minimum_order=Decimal("5000"),
    )
    rig.desk.apply("Change terms", edits.set_fields(rig.desk.job, terms=terms))
    figures = rig.window.costs.figures
    assert {"discount", "delivery", "tax", "quote", "deposit", "top_up"} <= set(figures)
    silent = [key for key, figure in figures.items() if len(figure.how.text()) < 15]
    assert silent == []
    assert all(figure.how.text() in figure.toolTip() for figure in figures.values())


def test_the_quote_s_lines_add_up_to_its_total(job_rig: Rig) -> None:
    rig = job_rig
    terms = changed(rig.desk.job.terms, minimum_order=Decimal("5000"), delivery_fee=Decimal("9.00"))
    rig.desk.apply("Change terms", edits.set_fields(rig.desk.job, terms=terms))
    figures = rig.window.costs.figures
    shown = {
        key: Decimal(figure.figure.text().replace(",", ""))
        for key, figure in figures.items()
        if key in ("subtotal", "top_up", "delivery", "quote")
    }
    assert shown["quote"] == shown["subtotal"] + shown["top_up"] + shown["delivery"]


def test_a_sheet_tells_what_full_means(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    card = window.sheets.strip.cards[0]
    assert "÷ area of the sheet" in card.toolTip()


def test_the_heads_of_the_offers_tell_what_stands_below(job_rig: Rig) -> None:
    header = job_rig.window.offers.findChild(SortHeader)
    assert header is not None
    for button in header.buttons.values():
        assert "\n" in button.toolTip()
