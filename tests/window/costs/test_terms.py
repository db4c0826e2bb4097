"""The terms of one job, typed and chosen in the sidebar."""

from decimal import Decimal

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from planner.shop.book import PriceBy, RoundTo
from planner.shop.document import changed
from planner.window.widgets import Combo
from tests.window.rig import Rig, typed


def choose(combo: Combo, words: str) -> None:
    """By keys, as a person does: from the top down to the words."""
    combo.setFocus()
    QTest.keyClick(combo, Qt.Key.Key_Home)
    while combo.currentText() != words:
        before = combo.currentIndex()
        QTest.keyClick(combo, Qt.Key.Key_Down)
        assert combo.currentIndex() > before, f"{words} is no choice"


def test_a_markup_is_on_cost_and_a_margin_on_price(job_rig: Rig) -> None:
    """Worked example: 100 % markup and 50 % margin are one price (any cost-accounting text)."""
    terms = job_rig.window.costs.terms
    choose(terms.ends, "any cent")
    typed(terms.margin, "50")
    by_margin = job_rig.window.plan.costs.by_line[0].price_each
    choose(terms.price_by, "markup")
    typed(terms.margin, "100")
    assert job_rig.desk.job.terms.price_by is PriceBy.MARKUP
    assert job_rig.window.plan.costs.by_line[0].price_each == by_margin
    choose(terms.price_by, "margin")
    assert job_rig.desk.job.terms.percent is None, "a margin of 100 % cannot be"


def test_a_rounding_rule_for_this_job_alone(job_rig: Rig) -> None:
    terms = job_rig.window.costs.terms
    assert terms.ends.itemText(0) == "shop: five cents"
    choose(terms.ends, ".99")
    assert job_rig.desk.job.terms.round_to is RoundTo.NINETY_NINE
    assert str(job_rig.window.plan.costs.by_line[0].price_each).endswith(".99")
    choose(terms.ends, "shop: five cents")
    assert job_rig.desk.job.terms.round_to is None


def test_a_minimum_order_lifts_the_quote(job_rig: Rig) -> None:
    typed(job_rig.window.costs.terms.least, "2000")
    quote = job_rig.window.plan.quote
    assert quote.subtotal + quote.top_up == Decimal(2000)
    assert quote.total - quote.tax == Decimal(2000)


def test_the_sidebar_warns_under_the_shop_s_floor(job_rig: Rig) -> None:
    panel = job_rig.window.costs
    assert panel.floor.isHidden()
    typed(panel.terms.margin, "20")
    assert not panel.floor.isHidden()
    shop = job_rig.desk.shop
    job_rig.desk.set_shop(changed(shop, rates=changed(shop.rates, floor_margin_percent=Decimal(10))))
    assert panel.floor.isHidden()


def test_a_minimum_order_lifts_the_margin_of_the_lines_too(job_rig: Rig) -> None:
    panel = job_rig.window.costs
    typed(panel.terms.margin, "20")
    assert not panel.floor.isHidden()
    typed(panel.terms.least, "2000")
    assert panel.floor.isHidden(), "the customer pays far more than the garments cost"


def test_a_line_under_the_floor_is_named_where_the_job_as_a_whole_is_not(job_rig: Rig) -> None:
    job = job_rig.desk.job
    cheap = changed(job.lines[0], key="g9", style="Give-away", price_each=Decimal("0.50"))
    dear = changed(job.lines[0], price_each=Decimal(90))
    job_rig.desk.apply("Price", changed(job, lines=(dear, cheap)))
    panel = job_rig.window.costs
    assert panel.figures["margin"].figure.text() > "30"
    assert panel._floor_words.text().startswith("Under the shop’s floor of 30 % after rounding: ")


def test_a_discount_shows_up_above_the_total(job_rig: Rig) -> None:
    panel = job_rig.window.costs
    typed(panel.terms.discount, "5")
    group = panel._groups["quote"]
    places = {key: group.indexOf(panel.figures[key]) for key in ("subtotal", "discount", "quote", "deposit")}
    assert sorted(places, key=lambda key: places[key]) == ["subtotal", "discount", "quote", "deposit"]
