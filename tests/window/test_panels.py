"""Panels in the real window, with real mouse and keys: what they tell becomes an edit with a name."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image, ImageDraw
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QImage, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QMenu, QScrollArea
from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.job.document import SizeCount
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.layout import Way
from planner.measures.lengths import LengthUnit
from planner.plan import wording as sentences
from planner.shop.document import changed
from planner.shop.garments import GarmentKind, HardPart, Location, SizeGroup
from planner.shop.prices import ByPiece
from planner.window.command_list import CommandList
from planner.window.customer_form import CustomerForm
from tests.artwork import samples
from tests.builders import png_bytes
from tests.window.rig import Rig, click, drop, drop_files, pick, png_in, typed


def choose(combo: QComboBox, text: str) -> None:
    """Pick an entry of a combo box as the keyboard does."""
    combo.setFocus()
    combo.setCurrentIndex(combo.findText(text))
    combo.activated.emit(combo.currentIndex())


def test_what_is_missing_leads_there(rig: Rig) -> None:
    bar = rig.window.bar
    link = next(
        button for button in bar.findChildren(QAbstractButton) if button.text() == "Type the customer's name"
    )
    click(link)
    assert QApplication.focusWidget() is bar.customer
    QTest.keyClicks(bar.customer, "Riverside")
    assert rig.desk.job.customer.name == "Riverside"
    assert not any(
        button.text() == "Type the customer's name"
        for button in bar.findChildren(QAbstractButton)
        if button.isVisible()
    )


def test_typing_a_title_is_one_step(rig: Rig) -> None:
    typed(rig.window.bar.title, "Winter concert", end=None)
    assert rig.desk.job.title == "Winter concert"
    assert rig.desk.undo_stack.count() == 1
    QTest.keyClick(rig.window.bar.title, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert rig.desk.job.title == ""
    assert rig.window.bar.title.text() == ""


def test_a_line_from_the_shop_book_brings_cloth_sizes_and_cost(rig: Rig) -> None:
    page = rig.window.garments
    blank = rig.desk.shop.blanks[0]
    pick(page.add.menu(), blank.style)
    line = rig.desk.job.lines[0]
    assert (line.style, line.kind, line.cloth, line.blank_cost) == (
        blank.style,
        blank.kind,
        blank.cloth,
        blank.cost,
    )
    form = page.forms[line.key]
    assert form.style_field.text() == blank.style


def test_counts_typed_and_pasted_from_a_spreadsheet(rig: Rig) -> None:
    pick(rig.window.garments.add.menu(), "Empty line")
    form = rig.window.garments.forms["g1"]
    typed(form.sizes.counts["M"], "12", end=None)
    assert rig.desk.job.line("g1").count == 12
    QGuiApplication.clipboard().setText("4\t8\t6")
    form.sizes.counts["S"].setFocus()
    QTest.keyClick(form.sizes.counts["S"], Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    counts = {size.size: size.count for size in rig.desk.job.line("g1").sizes}
    assert (counts["S"], counts["M"], counts["L"]) == (4, 8, 6)
    assert form.sizes.total.text() == "18 in all"


def test_a_fibre_mix_that_is_no_whole_is_answered_and_keeps_the_cloth(rig: Rig) -> None:
    pick(rig.window.garments.add.menu(), "Empty line")
    form = rig.window.garments.forms["g1"]
    cloth = rig.desk.job.line("g1").cloth
    typed(form.fibres, "60 % cotton, 30 % polyester")
    assert form.fibres.is_wrong
    assert rig.desk.job.line("g1").cloth == cloth
    typed(form.fibres, "60 % cotton, 40 % polyester")
    assert not form.fibres.is_wrong
    assert rig.desk.job.line("g1").cloth.fibres[1].percent == 40


def test_a_tote_bag_comes_in_one_size_and_prints_on_its_front(job_rig: Rig) -> None:
    rig = job_rig
    pick(rig.window.garments.add.menu(), "Empty line")
    key = rig.desk.job.lines[-1].key
    choose(rig.window.garments.forms[key].kind, GarmentKind.TOTE.value)
    assert [size.size for size in rig.desk.job.line(key).sizes] == ["One size"]
    pick(rig.window.artwork.cards["a1"].put_on.menu(), "tote")
    assert rig.desk.job.prints[-1].location is Location.TOTE_FRONT


def test_hard_parts_and_coating_are_ticked_in_the_lines_menu(job_rig: Rig) -> None:
    form = job_rig.window.garments.forms["g1"]
    menu = QMenu()
    form.fill_menu(menu)
    parts = next(action.menu() for action in menu.actions() if action.text() == "Hard parts")
    pick(parts, "chest pocket")
    pick(menu, "Coated")
    assert job_rig.desk.job.line("g1").hard_parts == (HardPart.CHEST_POCKET,)
    assert job_rig.desk.job.line("g1").cloth.coated
    job_rig.desk.undo_stack.undo()
    assert not job_rig.desk.job.line("g1").cloth.coated


def test_a_fixed_price_overrules_the_margin(job_rig: Rig) -> None:
    form = job_rig.window.garments.forms["g1"]
    typed(form.price, "19.90")
    assert job_rig.desk.job.line("g1").price_each == Decimal("19.90")
    assert job_rig.window.plan.quote.lines[0].price_each == Decimal("19.90")
    typed(form.price, "x")
    QTest.keyClick(form.price, Qt.Key.Key_Escape)
    assert form.price.text() == "19.90"


def test_a_colour_is_typed_by_name_or_picked(job_rig: Rig) -> None:
    form = job_rig.window.garments.forms["g1"]
    typed(form.colour.name, "maroon", end=None)
    assert job_rig.desk.job.line("g1").colour.name == "maroon"
    assert job_rig.desk.job.line("g1").colour.hex == "#5b1a2b"


def test_files_dropped_become_artwork_in_one_step(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    inks = {"a.png": "#d00000", "b.png": "#00d000"}
    paths = [png_in(tmp_path, name, png_bytes(ink=ink)) for name, ink in inks.items()]
    drop_files(rig.window.artwork, paths)
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["a.png", "b.png"]
    assert rig.desk.undo_stack.count() == 1
    assert len(rig.window.artwork.cards) == 2


def test_the_same_file_dropped_twice_is_one_artwork(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    path = png_in(tmp_path, "a.png", png_bytes())
    for _ in range(2):
        drop_files(rig.window.artwork, [path])
        rig.settle(qtbot)
    assert len(rig.desk.job.artworks) == 1
    assert rig.desk.undo_stack.count() == 1


def test_a_broken_file_is_told_where_it_was_dropped_and_the_good_one_comes_in(
    rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    good = png_in(tmp_path, "good.png", png_bytes())
    cut = png_in(tmp_path, "cut.png", png_bytes()[:400])
    drop_files(rig.window.artwork, [cut, good])
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["good.png"]
    assert any("cut.png" in sentence for sentence in rig.window.artwork.troubles())


def test_files_dropped_on_a_garment_line_are_put_on_it(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    path = png_in(tmp_path, "back.png", png_bytes(ink="#00aa77"))
    drop_files(job_rig.window.garments.forms["g1"], [path])
    job_rig.settle(qtbot)
    assert job_rig.desk.job.prints[-1].line == "g1"
    assert job_rig.desk.job.prints[-1].location is Location.FULL_BACK
    assert job_rig.desk.undo_stack.count() == 1


def test_a_picture_without_a_file_comes_in_with_nothing_lost(rig: Rig, qtbot: QtBot) -> None:
    image = QImage(40, 30, QImage.Format.Format_ARGB32)
    image.fill(0x80FF0000)
    mime = QMimeData()
    mime.setImageData(image)
    drop(rig.window.artwork, mime)
    rig.settle(qtbot)
    artwork = rig.desk.job.artworks[0]
    assert (artwork.width_px, artwork.height_px) == (40, 30)
    kept = QImage.fromData(rig.desk.artworks[artwork.sha256])
    assert kept.pixel(5, 5) == image.pixel(5, 5)


def test_a_width_typed_in_millimetres_moves_the_meter(job_rig: Rig) -> None:
    row = job_rig.window.artwork.cards["a1"].rows["p1"]
    # 900 px on 3 in are 300 ppi (arithmetic).
    assert row.meter.accessibleName() == "300 ppi, sharp"
    typed(row.print_width, "280 mm")
    assert job_rig.desk.job.print_of("p1").width_mm == pytest.approx(280)
    assert row.meter.accessibleName().startswith("82 ppi, too coarse")
    assert job_rig.desk.undo_stack.undoText() == "Change print width"


def test_a_location_brings_its_usual_width_unless_one_was_typed(job_rig: Rig) -> None:
    pick(job_rig.window.artwork.cards["a1"].put_on.menu(), "navy")
    row = job_rig.window.artwork.cards["a1"].rows["p2"]
    choose(row.location, Location.NAPE.value)
    assert job_rig.desk.job.print_of("p2").width_mm == pytest.approx(2.5 * 25.4)
    typed(row.print_width, "2 in")
    choose(row.location, Location.FULL_BACK.value)
    assert job_rig.desk.job.print_of("p2").width_mm == pytest.approx(50.8)


def test_a_finding_is_decided_with_a_reason_and_taken_back(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    finding = next(found for found in job_rig.window.plan.findings if found.kind is FindingKind.TOO_COARSE)
    row = job_rig.window.findings.rows[finding.id]
    click(row.decide_button)
    assert QApplication.focusWidget() is row.reason
    QTest.keyClicks(row.reason, "The customer wants it rough")
    QTest.keyClick(row.reason, Qt.Key.Key_Return)
    assert [decision.reason for decision in job_rig.desk.job.decisions] == ["The customer wants it rough"]
    decided = job_rig.window.findings.rows[finding.id]
    assert "The customer wants it rough" in decided.place.text()
    click(decided.back_button)
    assert job_rig.desk.job.decisions == ()


def test_a_coarse_print_is_made_as_wide_as_it_may_be(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    finding = next(found for found in job_rig.window.plan.findings if found.kind is FindingKind.TOO_COARSE)
    row = job_rig.window.findings.rows[finding.id]
    assert row.fix_button.text() == "Print it 3 in wide"
    click(row.fix_button)
    assert job_rig.desk.job.print_of("p1").width_mm == pytest.approx(76.2, abs=0.3)
    assert all(found.kind is not FindingKind.TOO_COARSE for found in job_rig.window.plan.findings)


def test_showing_a_finding_puts_the_cursor_on_its_print(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    finding = next(found for found in job_rig.window.plan.findings if found.kind is FindingKind.TOO_COARSE)
    click(job_rig.window.findings.rows[finding.id].show_button)
    assert QApplication.focusWidget() is job_rig.window.artwork.cards["a1"].rows["p1"].print_width


def test_an_artwork_is_looked_at_closely_at_print_size(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    QTest.mouseClick(window.artwork.cards["a1"].picture, Qt.MouseButton.LeftButton)
    assert window.pages.currentWidget() is window.closer
    canvas = window.closer.canvas
    assert QApplication.focusWidget() is canvas
    fitted = canvas.transform().m11()
    QTest.keyClick(canvas, Qt.Key.Key_1)
    # As large as printed: the screen's own pixels to the millimetre.
    per_mm = canvas.screen().physicalDotsPerInch() / 25.4
    assert canvas.transform().m11() == pytest.approx(per_mm, rel=0.001)
    assert window.closer.scale.text() == "100 %"
    QTest.keyClick(canvas, Qt.Key.Key_0)
    assert canvas.transform().m11() == pytest.approx(fitted)


def test_the_spots_of_a_finding_are_marked_on_the_artwork(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    picture = Image.new("RGBA", (900, 600))
    ImageDraw.Draw(picture).ellipse([0, 0, 700, 599], fill="#c82828")
    ImageDraw.Draw(picture).line([800, 0, 800, 599], fill="#c82828", width=1)
    picture.save(tmp_path / "thin.png")
    pick(rig.window.garments.add.menu(), "Empty line")
    drop_files(rig.window.garments.forms["g1"], [tmp_path / "thin.png"])
    rig.settle(qtbot)
    finding = next(f for f in rig.window.plan.findings if f.kind is FindingKind.THIN_STROKES)
    click(rig.window.findings.rows[finding.id].show_button)
    rig.settle(qtbot)
    assert rig.window.pages.currentWidget() is rig.window.closer
    closer, card = rig.window.closer, rig.window.artwork.cards["a1"]
    marked = _grabbed(rig)
    click(closer.marks)
    hidden = _grabbed(rig)
    assert hidden != marked
    click(closer.marks)
    assert _grabbed(rig) == marked
    closer.canvas.mark(())
    assert _grabbed(rig) == hidden
    # The card's marks go with the finding.
    assert card.picture.spots == finding.regions
    click(rig.window.findings.rows[finding.id].fix_button)
    rig.settle(qtbot)
    assert finding.id not in {each.id for each in rig.window.plan.findings}
    assert card.picture.spots == ()


def test_a_close_look_tells_findings_without_a_place_too(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    samples.logo(300, 200).save(tmp_path / "small.png")
    pick(rig.window.garments.add.menu(), "Empty line")
    drop_files(rig.window.garments.forms["g1"], [tmp_path / "small.png"])
    rig.settle(qtbot)
    coarse = next(f for f in rig.window.plan.findings if f.kind is FindingKind.TOO_COARSE)
    rig.window.pages.setCurrentWidget(rig.window.closer)
    rig.window.closer.look_at("a1", coarse.print, coarse)
    told = [each.text() for each in rig.window.closer.findChildren(QLabel)]
    assert sentences.finding(coarse, rig.desk.shop.unit) in told
    assert not rig.window.closer.marks.isVisible()


def test_a_card_tells_what_its_file_is(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    frames = [Image.new("RGB", (60, 40), colour) for colour in ("red", "blue")]
    frames[0].save(tmp_path / "waving.png", "GIF", save_all=True, append_images=frames[1:])
    exif = Image.Exif()
    exif[0x0112] = 6  # EXIF 2.32, 4.6.4 A: to be turned by a quarter.
    samples.photograph().save(tmp_path / "phone.jpg", exif=exif)
    drop_files(rig.window.artwork, [tmp_path / "waving.png", tmp_path / "phone.jpg"])
    rig.settle(qtbot)
    waving, phone = (rig.window.artwork.cards[key].about.text() for key in ("a1", "a2"))
    assert waving == (
        "GIF · 60 × 40 px · 1 flat colour · its name says another format · "
        "several pictures: the first is printed"
    )
    assert phone.endswith("px · photograph · turned upright by its tag")


def _grabbed(rig: Rig) -> QImage:
    return rig.window.closer.canvas.grab().toImage()


def test_typing_a_reason_outlives_an_edit_elsewhere(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    finding = next(found for found in job_rig.window.plan.findings if found.kind is FindingKind.TOO_COARSE)
    job_rig.window.findings.rows[finding.id].decide()
    QTest.keyClicks(job_rig.window.findings.rows[finding.id].reason, "Because")
    job_rig.gestures().set_title("Else", "")
    assert job_rig.window.findings.rows[finding.id].reason.text() == "Because"
    said = job_rig.window.findings.rows[finding.id].sentence.text()
    # Not even an edit of what the finding is about takes it away.
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11.5 in")
    row = job_rig.window.findings.rows[finding.id]
    assert row.sentence.text() != said
    assert row.is_deciding
    assert row.reason.text() == "Because"


def test_a_finding_that_went_leaves_its_row_to_another_without_its_words(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    coarse, note = (_found(job_rig, kind) for kind in (FindingKind.TOO_COARSE, FindingKind.HEAVY_AREA))
    panel = job_rig.window.findings
    _show(job_rig, coarse, fixable=frozenset({coarse.id}))
    row = panel.rows[coarse.id]
    _show(job_rig, note)
    assert panel.rows == {note.id: row}
    assert row.sentence.text() == sentences.finding(note, job_rig.desk.shop.unit)
    assert row.accessibleName() == f"new, {Seriousness.NOTE.value}: {row.sentence.text()}"
    assert [each.isHidden() for each in (row.fix_button, row.decide_button, row.back_button)] == [True] * 3


def test_the_row_in_which_a_reason_is_typed_goes_to_no_other_finding(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    coarse, note = (_found(job_rig, kind) for kind in (FindingKind.TOO_COARSE, FindingKind.HEAVY_AREA))
    panel = job_rig.window.findings
    _show(job_rig, coarse)
    row = panel.rows[coarse.id]
    row.decide()
    job_rig.window.bar.title.setFocus()
    _show(job_rig, note)
    assert panel.rows[note.id] is not row
    assert not panel.rows[note.id].is_deciding


def test_where_a_finding_was_mended_the_cursor_goes_to_the_next(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    coarse, wide, rights = (
        _found(job_rig, kind)
        for kind in (FindingKind.TOO_COARSE, FindingKind.WIDER_THAN_USUAL, FindingKind.RIGHTS)
    )
    panel = job_rig.window.findings
    _show(job_rig, coarse, wide, rights)
    panel.rows[coarse.id].take_cursor()
    _show(job_rig, wide, rights)
    assert panel.rows[wide.id].isAncestorOf(QApplication.focusWidget())
    # Of a note without a place there is nothing to do.
    _show(job_rig, rights)
    assert QApplication.focusWidget() is panel.fold_button


def _found(rig: Rig, kind: FindingKind) -> Finding:
    return next(found for found in rig.window.plan.findings if found.kind is kind)


def _show(rig: Rig, *findings: Finding, fixable: frozenset[str] = frozenset()) -> None:
    plan = changed(rig.window.plan, findings=findings)
    rig.window.findings.show_plan(rig.desk.job, rig.desk.shop, plan, fixable, known={})


def test_the_bar_names_every_offer_of_a_job_that_is_shared_out(job_rig: Rig) -> None:
    rig, bar = job_rig, job_rig.window.bar
    job = rig.desk.job
    second = changed(job.prints[0], key="p2", location=Location.FULL_BACK)
    rig.desk.apply("", edits.add_print(job, second))
    assert bar.offer.currentText() == "Film gang sheets"
    rig.gestures().share_out({"p1": "film-single", "p2": "film-roll"})
    assert bar.offer.currentText() == "Film singles, no minimum + Film roll, 22 in"
    assert "Film roll, 22 in: a1.png, full back, navy T-shirt" in bar.offer.toolTip()
    steps = rig.desk.undo_stack.count()
    choose(bar.offer, "Film singles, no minimum + Film roll, 22 in")
    assert rig.desk.undo_stack.count() == steps
    choose(bar.offer, "Film roll, 22 in")
    job = rig.desk.job
    assert {job.offer_of(print_) for print_ in job.prints} == {"film-roll"}
    assert (bar.offer.currentText(), bar.offer.toolTip()) == ("Film roll, 22 in", "Transfers from")
    rig.desk.undo_stack.undo()
    assert bar.offer.currentText() == "Film singles, no minimum + Film roll, 22 in"


def test_last_days_name_the_offer_where_there_are_several_to_order_from(job_rig: Rig) -> None:
    rig = job_rig
    rig.gestures().set_due(date(2026, 12, 18), "")
    second = changed(rig.desk.job.prints[0], key="p2", location=Location.FULL_BACK)
    rig.desk.apply("", edits.add_print(rig.desk.job, second))

    def orders() -> set[str]:
        figures = rig.window.costs.figures
        return {fig.name.text() for key, fig in figures.items() if key.startswith("date Order transfers")}

    assert orders() == {"Order transfers"}
    rig.gestures().share_out({"p1": "film-single", "p2": "film-roll"})
    assert orders() == {
        "Order transfers, Film singles, no minimum",
        "Order transfers, Film roll, 22 in",
    }


def test_a_print_on_no_garment_is_no_offer_of_the_bar(job_rig: Rig) -> None:
    job = job_rig.desk.job
    none = changed(job.lines[0], key="g2", sizes=(SizeCount(size="M", count=0),))
    second = changed(job.prints[0], key="p2", line="g2", offer="film-roll")
    job_rig.desk.apply("", edits.add_print(edits.add_line(job, none), second))
    assert job_rig.window.bar.offer.currentText() == "Film gang sheets"


def test_an_extra_is_added_sized_and_removed(job_rig: Rig) -> None:
    card = job_rig.window.artwork.cards["a1"]
    menu = QMenu()
    card.fill_more(menu)
    pick(menu, "Add as an extra")
    extra = job_rig.desk.job.extras[0]
    assert extra.width_mm == pytest.approx(76.2)
    row = card.extra_rows[extra.key]
    typed(row.width_row.field, "2 in")
    typed(row.most, "12", end=None)
    assert (job_rig.desk.job.extras[0].width_mm, job_rig.desk.job.extras[0].most) == (50.8, 12)
    menu = QMenu()
    row.fill_menu(menu)
    pick(menu, "Remove extra")
    assert job_rig.desk.job.extras == ()
    assert card.extra_rows == {}


def test_the_way_of_cutting_is_chosen_for_this_job(job_rig: Rig) -> None:
    choose(job_rig.window.costs.terms.way, "by straight cuts")
    assert job_rig.desk.job.way is Way.STRAIGHT
    choose(job_rig.window.costs.terms.way, "shop: loose")
    assert job_rig.desk.job.way is None


def test_costs_follow_a_count_and_show_what_was_before(job_rig: Rig) -> None:
    figure = job_rig.window.costs.figures["cost blanks"]
    assert figure.figure.text() == "80.00"
    typed(job_rig.window.garments.forms["g1"].sizes.counts["M"], "22", end=None)
    assert figure.figure.text() == "120.00"
    assert "→" in figure.before.text()
    QTest.mouseClick(figure, Qt.MouseButton.LeftButton)
    assert figure.how.isVisible()
    assert "4.00" in figure.how.text()


def test_terms_of_the_job_change_the_quote(job_rig: Rig) -> None:
    before = job_rig.window.plan.quote.total
    typed(job_rig.window.costs.terms.margin, "60 %")
    assert job_rig.desk.job.terms.percent == 60
    assert job_rig.window.plan.quote.total > before
    rush = job_rig.window.costs.terms.rush
    QTest.mouseClick(rush, Qt.MouseButton.LeftButton, pos=QPoint(8, rush.height() // 2))
    assert job_rig.desk.job.terms.rush


def test_details_of_the_customer_are_typed_over_the_window_and_undone(job_rig: Rig) -> None:
    click(job_rig.window.bar.details)
    form = job_rig.window.findChild(CustomerForm)
    assert form is not None
    assert QApplication.focusWidget() is form.fields["contact"]
    QTest.keyClicks(form.fields["contact"], "The treasurer")
    form.address.setFocus()
    QTest.keyClicks(form.address, "Allotment Lane 1")
    assert job_rig.desk.job.customer.contact == "The treasurer"
    assert job_rig.desk.job.customer.address == ("Allotment Lane 1",)
    assert job_rig.desk.undo_stack.count() == 2
    job_rig.desk.undo_stack.undo()
    assert form.address.toPlainText() == ""
    job_rig.desk.undo_stack.undo()
    assert form.fields["contact"].text() == ""
    QTest.keyClick(form.fields["contact"], Qt.Key.Key_Escape)
    assert not form.isVisible()


def test_youth_sizes_get_a_width_of_their_own(job_rig: Rig) -> None:
    sizes = job_rig.window.garments.forms["g1"].sizes
    sizes.edited.emit(
        (*job_rig.desk.job.line("g1").sizes, SizeCount(size="YM", group=SizeGroup.YOUTH, count=4)),
        "Sizes",
        "",
    )
    row = job_rig.window.artwork.cards["a1"].rows["p1"]
    menu = QMenu()
    row.fill_menu(menu)
    pick(menu, "Own width for youth sizes")
    typed(row.group_rows[SizeGroup.YOUTH].field, "2 in")
    print_ = job_rig.desk.job.print_of("p1")
    assert print_.width_for(SizeGroup.YOUTH) == pytest.approx(50.8)
    assert print_.width_for(SizeGroup.ADULT) == pytest.approx(76.2)


def test_a_print_says_how_it_may_be_turned_and_what_it_must_share(job_rig: Rig) -> None:
    row = job_rig.window.artwork.cards["a1"].rows["p1"]
    for words, fields in (
        ("To any angle, where cut by outline", (True, True)),
        ("Not at all", (False, False)),
        ("By quarter turns", (True, False)),
    ):
        menu = QMenu()
        row.fill_menu(menu)
        turning = next(action.menu() for action in menu.actions() if action.menu())
        pick(turning, words)
        print_ = job_rig.desk.job.print_of("p1")
        assert (print_.may_turn, print_.any_angle) == fields
    menu = QMenu()
    row.fill_menu(menu)
    pick(menu, "All on one sheet, with others marked so")
    assert job_rig.desk.job.print_of("p1").one_sheet


def test_sharing_a_sheet_is_no_choice_where_pieces_are_sold_one_by_one(job_rig: Rig) -> None:
    shop = job_rig.desk.shop
    by_piece = next(offer for offer in shop.offers if isinstance(offer.price, ByPiece))
    job_rig.desk.apply("offer", edits.change_print(job_rig.desk.job, "p1", offer=by_piece.key))
    menu = QMenu()
    job_rig.window.artwork.cards["a1"].rows["p1"].fill_menu(menu)
    (sharing,) = (action for action in menu.actions() if action.text().startswith("All on one sheet"))
    assert not sharing.isEnabled()
    assert sharing.text() == "All on one sheet: not at an offer by the piece"


def test_a_wheel_turned_over_a_choice_changes_nothing(job_rig: Rig) -> None:
    before = job_rig.desk.job
    combo = job_rig.window.garments.forms["g1"].kind
    combo.setFocus()
    centre = QPointF(combo.rect().center())
    turn = QWheelEvent(
        centre,
        QPointF(combo.mapToGlobal(combo.rect().center())),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(combo, turn)
    assert job_rig.desk.job == before
    assert combo.currentText() == GarmentKind.T_SHIRT.value


def test_findings_fold_away_and_leave_their_counts_and_the_page_their_room(job_rig: Rig) -> None:
    panel, pages = job_rig.window.findings, job_rig.window.pages
    open_px, page_px = panel.height(), pages.height()
    click(panel.fold_button)
    assert panel.is_folded
    assert panel.height() < 60
    assert pages.height() == page_px + open_px - panel.height()
    click(panel.fold_button)
    assert not panel.is_folded
    assert (panel.height(), pages.height()) == (open_px, page_px)


def test_lengths_switch_between_inches_and_millimetres(job_rig: Rig) -> None:
    row = job_rig.window.artwork.cards["a1"].rows["p1"]
    assert row.print_width.text() == "3 in"
    job_rig.window.menus.units[LengthUnit.MILLIMETRE].trigger()
    assert row.print_width.text() == "76.2 mm"
    assert job_rig.saved_shops[-1].unit is LengthUnit.MILLIMETRE


def test_a_command_is_found_by_typing(job_rig: Rig) -> None:
    listed = CommandList(job_rig.window, job_rig.window.menus.actions())
    listed.open()
    QTest.keyClicks(listed.search, "millim")
    assert listed.found.count() == 1
    QTest.keyClick(listed.search, Qt.Key.Key_Return)
    assert job_rig.desk.shop.unit is LengthUnit.MILLIMETRE


def test_every_control_has_a_name_a_screen_reader_can_say(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    for at in range(window.pages.count()):
        window.pages.setCurrentIndex(at)
    nameless = [
        f"{type(widget).__name__} in {type(widget.parent()).__name__}"
        for kind in (QLineEdit, QComboBox, QAbstractButton)
        for widget in window.findChildren(kind)
        if not widget.isHidden()
        and not (widget.accessibleName() or widget.property("text"))
        and not widget.objectName().startswith("qt_")
        and not isinstance(widget.parent(), QComboBox)
        and type(widget).__module__.startswith("planner")
    ]
    assert nameless == []


def test_whatever_can_be_clicked_is_large_enough(job_rig: Rig) -> None:
    # WCAG 2.2, 2.5.8: at least 24 by 24 px.
    small = [
        (button.text(), button.width(), button.height())
        for button in job_rig.window.findChildren(QAbstractButton)
        if button.isVisible()
        and min(button.width(), button.height()) < 24
        and not button.objectName().startswith("qt_")
    ]
    assert small == []


def test_stop_findings_are_counted_beside_their_shape(job_rig: Rig) -> None:
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
    stops = sum(found.seriousness is Seriousness.STOP for found in job_rig.window.plan.findings)
    texts = [label.text() for label in job_rig.window.findings.findChildren(QLabel)]
    assert f"0 → {stops} stop" in texts


def test_a_very_long_name_of_a_file_pushes_nothing_out_of_sight(
    rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    name = f"{'a name that a mail program made ' * 5}(3).png"
    samples.logo(300, 200).save(tmp_path / name)
    pick(rig.window.garments.add.menu(), "Empty line")
    drop_files(rig.window.garments.forms["g1"], [tmp_path / name])
    rig.settle(qtbot)
    assert rig.window.plan.findings
    for area in (rig.window.garments, rig.window.findings):
        bars = [area.horizontalScrollBar() for area in area.findChildren(QScrollArea)]
        assert bars
        assert not any(bar.isVisible() for bar in bars)
    told = [row.place.text() for row in rig.window.findings.rows.values() if row.place.text()]
    assert any("…" in place and "(3).png" in place for place in told)
