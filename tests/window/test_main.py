"""The window as a whole: files in and out, what is not saved, what it remembers, what goes wrong."""

import contextlib
import io
from decimal import Decimal
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QMenu, QWidget
from pytestqt.qtbot import QtBot

from planner.artwork.decoding import InProcess
from planner.artwork.facts import ArtworkFacts
from planner.artwork.read import UnreadableArtwork
from planner.job.document import Artwork
from planner.shop.document import changed
from planner.storage.job_file import read_job, write_job
from planner.storage.reports import write_report
from planner.window import wording
from planner.window.app import said_and_go_on
from planner.window.menus import fill_history
from planner.window.shop.book_window import ShopBookWindow
from planner.work.ticket import Ticket
from tests.builders import a_job, png_bytes
from tests.window.rig import Rig, click, drop_files, png_in, typed


def foot_button(rig: Rig, text: str) -> QAbstractButton:
    return next(
        button
        for button in rig.window.foot.findChildren(QAbstractButton)
        if button.text() == text and not button.isHidden()
    )


def press(rig: Rig, key: Qt.Key) -> None:
    QTest.keyClick(rig.window, key, Qt.KeyboardModifier.ControlModifier)


def test_a_job_saved_by_key_opens_again_the_same(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    job_rig.answers.save = tmp_path / "fair.transferjob"
    typed(job_rig.window.bar.title, "Saved", end=None)
    press(job_rig, Qt.Key.Key_S)
    job_rig.settle(qtbot)
    assert "fair.transferjob" in job_rig.window.foot.text.text()
    assert not job_rig.window.isWindowModified()
    kept = read_job(tmp_path / "fair.transferjob")
    assert kept.job == job_rig.desk.job
    job_rig.answers.open = tmp_path / "fair.transferjob"
    press(job_rig, Qt.Key.Key_O)
    job_rig.settle(qtbot)
    assert job_rig.desk.job == kept.job


def test_what_is_still_being_typed_is_saved_too(job_rig: Rig, tmp_path: Path) -> None:
    job_rig.answers.save = tmp_path / "fair.transferjob"
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "4 in", end=None)
    press(job_rig, Qt.Key.Key_S)
    assert read_job(tmp_path / "fair.transferjob").job.print_of("p1").width_mm == 4 * 25.4


def test_a_file_that_is_no_job_is_answered_and_changes_nothing(
    job_rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    wrong = tmp_path / "letter.transferjob"
    wrong.write_text("Dear choir")
    before = job_rig.desk.job
    job_rig.window.cabinet.open_over(job_rig.window, wrong)
    job_rig.settle(qtbot)
    assert "letter.transferjob" in job_rig.window.foot.text.text()
    assert job_rig.desk.job == before
    assert wrong.read_text() == "Dear choir"


def test_a_folder_that_cannot_be_written_to_is_answered(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    (tmp_path / "letter").write_text("no folder")
    job_rig.answers.save = tmp_path / "letter" / "fair.transferjob"
    typed(job_rig.window.bar.title, "x", end=None)
    press(job_rig, Qt.Key.Key_S)
    job_rig.settle(qtbot)
    assert "fair.transferjob" in job_rig.window.foot.text.text()
    assert job_rig.window.isWindowModified()


def test_closing_with_changes_asks_in_the_window_and_can_be_taken_back(job_rig: Rig) -> None:
    typed(job_rig.window.bar.title, "Changed", end=None)
    job_rig.window.close()
    assert job_rig.window.isVisible()
    assert QApplication.focusWidget() is foot_button(job_rig, "Save")
    click(foot_button(job_rig, "Keep working"))
    assert job_rig.window.isVisible()
    job_rig.window.close()
    click(foot_button(job_rig, "Close without saving"))
    assert not job_rig.window.isVisible()


def test_saving_on_closing_closes(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    job_rig.answers.save = tmp_path / "fair.transferjob"
    typed(job_rig.window.bar.title, "Changed", end=None)
    job_rig.window.close()
    click(foot_button(job_rig, "Save"))
    job_rig.settle(qtbot)
    assert not job_rig.window.isVisible()
    assert read_job(tmp_path / "fair.transferjob").job.title == "Changed"


def test_opening_over_changes_asks_first(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    other, files = a_job(width_mm=50)
    write_job(tmp_path / "other.transferjob", other, files)
    job_rig.answers.open = tmp_path / "other.transferjob"
    typed(job_rig.window.bar.title, "Changed", end=None)
    press(job_rig, Qt.Key.Key_O)
    assert job_rig.desk.job.title == "Changed"
    click(foot_button(job_rig, "Close without saving"))
    job_rig.settle(qtbot)
    assert job_rig.desk.job == other


def test_a_job_file_dropped_anywhere_opens_and_artwork_comes_in(
    rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    job, files = a_job()
    write_job(tmp_path / "fair.transferjob", job, files)
    drop_files(rig.window, [tmp_path / "fair.transferjob"])
    rig.settle(qtbot)
    assert rig.desk.job == job
    drop_files(rig.window, [png_in(tmp_path, "more.png", png_bytes(ink="#123456"))])
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["a1.png", "more.png"]


def test_the_history_names_all_steps_and_goes_back_to_any(job_rig: Rig) -> None:
    before = job_rig.desk.job
    typed(job_rig.window.bar.title, "Changed", end=Qt.Key.Key_Tab)
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "2 in")
    menu = QMenu()
    fill_history(menu, job_rig.desk.undo_stack)
    names = [action.text() for action in menu.actions()]
    assert names == ["Change print width", "Change title", "As it was opened"]
    menu.actions()[-1].trigger()
    assert job_rig.desk.job == before
    fill_history(menu, job_rig.desk.undo_stack)
    menu.actions()[0].trigger()
    assert job_rig.desk.job.title == "Changed"
    assert job_rig.desk.job.print_of("p1").width_mm == 50.8


def test_two_works_at_once_are_both_told_and_stopped_each(job_rig: Rig) -> None:
    foot = job_rig.window.foot
    stopped: list[str] = []
    foot.stop_requested.connect(stopped.append)
    foot.show_work("a", "Reading…", 1, 3)
    foot.show_work("b", "Arranging…")
    click(foot.stop)
    foot.show_work("b", "")
    assert foot.stop.isVisible()
    click(foot.stop)
    foot.show_work("a", "")
    assert not foot.stop.isVisible()
    assert stopped == ["b", "a"]


def test_the_demo_is_opened_by_a_link_and_never_over_changes(rig: Rig, qtbot: QtBot) -> None:
    link = next(
        button
        for button in rig.window.garments.findChildren(QAbstractButton)
        if button.text() == "Look at a finished example job"
    )
    click(link)
    rig.settle(qtbot)
    demo = rig.desk.job
    assert len(demo.artworks) == 4
    assert not link.isVisible()
    typed(rig.window.bar.title, "My own", end=None)
    rig.window.cabinet.open_demo(rig.window)
    rig.settle(qtbot)
    assert rig.desk.job.title == "My own"
    click(foot_button(rig, "Close without saving"))
    assert rig.desk.job == demo


def test_sizes_are_remembered(job_rig: Rig, qtbot: QtBot) -> None:
    # The offscreen screen is 800 px square, and Qt keeps restored windows on their screen: only the
    # height can tell.
    job_rig.window.resize(960, 640)
    job_rig.window.panels.across.setSizes([340, 360, 300])
    kept = job_rig.window.panels.across.sizes()
    job_rig.window.close()
    again = job_rig.new_window()
    qtbot.addWidget(again)
    again.show()
    qtbot.waitExposed(again)
    assert again.height() == 640
    qtbot.waitUntil(lambda: again.panels.across.sizes() == kept)


def test_an_error_nobody_foresaw_is_said_and_the_program_goes_on(job_rig: Rig) -> None:
    hook = said_and_go_on(job_rig.window.foot.warn)
    with contextlib.redirect_stderr(io.StringIO()) as told:
        error = KeyError("g9")
        hook(KeyError, error, None)
    assert "KeyError" in told.getvalue()
    assert "Your job is still here" in job_rig.window.foot.text.text()


def test_an_error_nobody_foresaw_leaves_a_report_that_is_told_of(job_rig: Rig, tmp_path: Path) -> None:
    hook = said_and_go_on(job_rig.window.foot.warn, lambda error: write_report(error, tmp_path))
    with contextlib.redirect_stderr(io.StringIO()):
        hook(KeyError, KeyError("g9"), None)
    (report,) = tmp_path.glob("report *.txt")
    assert report.name in job_rig.window.foot.text.text()
    assert foot_button(job_rig, wording.OPEN_FOLDER)


def test_an_edit_of_the_shop_book_tells_what_it_does_to_the_open_job(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.book.open()
    book = window.findChild(ShopBookWindow)
    assert book is not None
    assert book.isVisible()
    before = window.plan.costs.total
    rates = changed(job_rig.desk.shop.rates, labour_hour=Decimal("60.00"))
    book.shop_edited.emit(changed(job_rig.desk.shop, rates=rates), "Change labour an hour")
    assert window.plan.costs.total > before
    assert "Change labour an hour: this job's cost" in window.foot.text.text()
    # The job's window may lie behind the book's.
    assert window.foot.text.text() in [told.text() for told in book.findChildren(QLabel)]
    assert job_rig.saved_shops[-1].rates.labour_hour == 60
    window.close()
    assert not book.isVisible()


def test_only_the_main_window_opens(qtbot: QtBot, job_rig: Rig) -> None:
    opened = []

    class Watch(QObject):
        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            if event.type() is QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
                opened.append(type(watched).__name__)
            return False

    watch = Watch()
    app = QApplication.instance()
    assert app is not None
    app.installEventFilter(watch)
    try:
        window = job_rig.new_window()
        qtbot.addWidget(window)
        window.show()
        typed(window.artwork.cards["a1"].rows["p1"].print_width, "11 in")
        for at in range(window.pages.count()):
            window.pages.setCurrentIndex(at)
        QApplication.processEvents()
    finally:
        app.removeEventFilter(watch)
    assert opened == ["MainWindow"]


def test_nothing_jumps_when_figures_change(job_rig: Rig) -> None:
    form = job_rig.window.garments.forms["g1"]
    before = (job_rig.window.panels.across.sizes(), job_rig.window.panels.centre.sizes(), form.sizes.pos())
    typed(form.sizes.counts["M"], "9999", end=None)
    QApplication.processEvents()
    panels = job_rig.window.panels
    assert (panels.across.sizes(), panels.centre.sizes(), form.sizes.pos()) == before


def test_the_whole_job_can_be_reached_by_tab(job_rig: Rig) -> None:
    window = job_rig.window
    window.bar.title.setFocus()
    seen = []
    for _ in range(200):
        focused = QApplication.focusWidget()
        if focused is None or focused in seen:
            break
        seen.append(focused)
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    form, row = window.garments.forms["g1"], window.artwork.cards["a1"].rows["p1"]
    wanted = (
        window.bar.customer,
        window.bar.due,
        window.bar.offer,
        window.bar.arrange,
        window.bar.export,
        row.line,
        row.print_width,
        form.style_field,
        form.fibres,
        form.sizes.counts["M"],
        window.costs.terms.margin,
    )
    missed = [widget.accessibleName() for widget in wanted if widget not in seen]
    assert missed == []
    assert seen.index(window.bar.customer) < seen.index(row.print_width) < seen.index(form.style_field)


class Broken(InProcess):
    """A reader that breaks down over every file."""

    def measured(self, data: bytes, artwork: Artwork, ticket: Ticket | None = None) -> ArtworkFacts:
        raise UnreadableArtwork(f"“{artwork.name}” cannot be read.")


def test_artwork_that_broke_its_reader_down_is_kept_from_the_papers(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    job_rig.settle(qtbot)
    window.gallery._decoder = Broken()
    window.gallery._facts.clear()
    window.show_plan()
    job_rig.settle(qtbot)
    job_rig.answers.folder = Path("/nowhere")
    window.exporting.start()
    assert "Nothing was exported: “a1.png” cannot be read" in window.foot.text.text()
    assert window.gallery.file_that_reads(job_rig.desk.job.artworks[0].sha256) is None
