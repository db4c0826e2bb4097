"""The preview under a real mouse and real keys; papers are made and printed on threads, as in the program."""

import io
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import pikepdf
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QWheelEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from planner.job.document import Job
from planner.job.edits import set_fields
from planner.paper.registry import PAPERS
from planner.plan.make_plan import make_plan
from planner.window.background import Background
from planner.window.preview import words
from planner.window.preview.printing import printer_for
from planner.window.preview.window import PreviewWindow
from tests.builders import A_DAY, a_job, a_shop
from tests.window.rig import Rig, click

PLAIN, CTRL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier


@dataclass
class Looked:
    """A preview on two threads, with answers instead of dialogs."""

    folder: Path
    background: Background = field(default_factory=lambda: Background(ThreadPoolExecutor(2)))
    save_as: Path | None = None
    print_to: Path | None = None
    pages: tuple[int, int] | None = None
    offered: list[Path] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.job, self.files = a_job()
        self.window = PreviewWindow(
            self.background, self.files.get, ask_file=self._file, ask_to_print=self._printer
        )

    def show(self, job: Job | None = None) -> None:
        self.job = job or self.job
        shop = a_shop()
        self.window.show_job(self.job, shop, make_plan(self.job, shop, facts={}, today=A_DAY))

    def wait(self, qtbot: QtBot, paper: str) -> None:
        """Until a paper is made and its pages in view are sharp."""
        work, view = self.window.work, self.window.view
        qtbot.waitUntil(lambda: work.current is not None and work.current.paper == paper, timeout=15_000)
        qtbot.waitUntil(self.background.is_idle, timeout=15_000)
        QApplication.processEvents()
        qtbot.waitUntil(lambda: view.sharpness().get(view.page, 0.0) > 0, timeout=15_000)

    def _file(self, parent: QWidget, suggested: Path) -> Path | None:
        self.offered.append(suggested)
        return self.save_as

    def _printer(self, printer: QPrinter, pages: int, parent: QWidget) -> bool:
        if self.print_to is None:
            return False
        printer.setOutputFileName(str(self.print_to))
        if self.pages is not None:
            printer.setPrintRange(QPrinter.PrintRange.PageRange)
            printer.setFromTo(*self.pages)
        return True


@pytest.fixture
def looked(qtbot: QtBot, tmp_path: Path) -> Iterator[Looked]:
    made = Looked(tmp_path)
    qtbot.addWidget(made.window)
    made.show()
    made.window.show()
    with qtbot.waitActive(made.window):
        made.window.activateWindow()
    made.wait(qtbot, "quote")
    yield made
    made.background.stop_all()
    qtbot.waitUntil(made.background.is_idle, timeout=15_000)
    made.background.shut_down()


def test_every_paper_is_listed_once(looked: Looked) -> None:
    papers = looked.window.papers
    listed = [papers.item(at).data(Qt.ItemDataRole.UserRole) for at in range(papers.count())]
    assert sorted(name for name in listed if name) == sorted(PAPERS)


def test_arrows_choose_another_paper_past_the_heads_of_groups(looked: Looked, qtbot: QtBot) -> None:
    papers = looked.window.papers
    assert papers.hasFocus()
    for _ in range(3):
        QTest.keyClick(papers, Qt.Key.Key_Down)
    looked.wait(qtbot, "order")
    assert looked.window.paper == "order"


def test_a_page_is_shown_white_and_sharp_in_a_light_frame(looked: Looked) -> None:
    view = looked.window.view
    box = view.page_box(0)
    seen = view.viewport().grab().toImage()
    assert seen.pixelColor(box.topLeft() + QPoint(4, 4)).name() == "#ffffff"
    assert seen.pixelColor(QPoint(2, 40)).name() != "#ffffff"
    picture = view.picture(0)
    assert picture is not None
    assert picture.width() == pytest.approx(box.width(), abs=2)


def test_saving_writes_the_very_paper_under_a_name_that_tells_job_and_paper(
    looked: Looked, qtbot: QtBot
) -> None:
    looked.save_as = looked.folder / "mine.pdf"
    click(looked.window.save)
    assert looked.offered[0].name == "spring-fair_quote.pdf"
    made = looked.window.work.current
    assert made is not None
    assert looked.save_as.read_bytes() == made.pdf
    with pikepdf.open(looked.save_as) as document:
        assert len(document.pages) == len(made.sizes)
    assert looked.window.message.text() == words.saved("mine.pdf")


def test_a_folder_that_cannot_be_written_to_is_said(looked: Looked) -> None:
    looked.save_as = looked.folder / "no such folder" / "mine.pdf"
    QTest.keyClick(looked.window, Qt.Key.Key_S, CTRL)
    assert "could not be written" in looked.window.message.text()


def test_saying_no_in_the_dialog_changes_nothing(looked: Looked) -> None:
    click(looked.window.save)
    click(looked.window.print_it)
    assert looked.window.message.text() == ""


def test_printing_sends_every_page_at_its_true_size(looked: Looked, qtbot: QtBot) -> None:
    looked.window.choose("proof")
    looked.wait(qtbot, "proof")
    looked.print_to = looked.folder / "printed.pdf"
    with qtbot.waitSignal(looked.window.work.printed, timeout=20_000) as printed:
        QTest.keyClick(looked.window, Qt.Key.Key_P, CTRL)
    made = looked.window.work.current
    assert made is not None
    assert printed.args == [len(made.sizes)]
    with pikepdf.open(looked.print_to) as document:
        sizes = [tuple(float(edge) for edge in page.mediabox)[2:] for page in document.pages]
    assert len(sizes) == len(made.sizes)
    for (width, height), (want_width, want_height) in zip(sizes, made.sizes, strict=True):
        assert width == pytest.approx(want_width, abs=1)
        assert height == pytest.approx(want_height, abs=1)
    assert looked.window.message.text() == words.printed(len(made.sizes))


def test_printing_some_pages_sends_those(looked: Looked, qtbot: QtBot) -> None:
    looked.window.choose("packet")
    looked.wait(qtbot, "packet")
    looked.print_to, looked.pages = looked.folder / "two.pdf", (2, 3)
    with qtbot.waitSignal(looked.window.work.printed, timeout=20_000) as printed:
        click(looked.window.print_it)
    assert printed.args == [2]
    with pikepdf.open(looked.print_to) as document:
        assert len(document.pages) == 2


@pytest.mark.qt_log_ignore("^QPainter::begin", extend=True)
def test_a_printer_that_takes_nothing_is_said(looked: Looked, qtbot: QtBot) -> None:
    looked.print_to = looked.folder / "no such folder" / "printed.pdf"
    with qtbot.waitSignal(looked.window.work.not_printed, timeout=20_000):
        click(looked.window.print_it)
    assert looked.window.message.text() == words.NO_PRINTER


def test_a_page_across_is_printed_across(looked: Looked) -> None:
    from planner.window.preview.making import Made

    printer = printer_for(Made("layouts", b"", ((842.0, 595.0),)), "Layouts")
    assert printer.pageLayout().orientation() is printer.pageLayout().Orientation.Landscape
    assert printer.pageLayout().fullRectPoints().width() == pytest.approx(842, abs=1)


def test_copying_puts_the_page_on_the_clipboard(looked: Looked) -> None:
    QTest.keyClick(looked.window, Qt.Key.Key_C, CTRL)
    image = QGuiApplication.clipboard().image()
    picture = looked.window.view.picture(0)
    assert picture is not None
    assert image.size() == picture.size()


def test_the_page_list_goes_to_a_page_and_follows_the_view(looked: Looked, qtbot: QtBot) -> None:
    looked.window.choose("packet")
    looked.wait(qtbot, "packet")
    pages = looked.window.page_list
    item = pages.item(3)
    pages.scrollToItem(item)
    QTest.mouseClick(pages.viewport(), Qt.MouseButton.LeftButton, PLAIN, pages.visualItemRect(item).center())
    assert looked.window.view.page == 3
    assert looked.window.where.text() == words.page_of(4, pages.count())
    looked.window.view.setFocus()
    QTest.keyClick(looked.window.view, Qt.Key.Key_PageDown)
    assert pages.currentRow() == 4
    assert not pages.item(3).icon().isNull()


def test_the_wheel_zooms_and_holds_what_is_under_the_pointer(looked: Looked, qtbot: QtBot) -> None:
    view = looked.window.view
    at = QPointF(view.page_box(0).center().x(), 300.0)
    held = (at.y() - view.page_box(0).top()) / view.page_box(0).height()
    for _ in range(4):
        _wheel(view.viewport(), at, 120)
    assert view.zoom > 1.0
    now = (at.y() - view.page_box(0).top()) / view.page_box(0).height()
    assert now == pytest.approx(held, abs=0.01)
    looked.wait(qtbot, "quote")
    qtbot.waitUntil(lambda: (view.picture(0) or _nothing()).width() >= view.page_box(0).width() - 2)


def test_true_size_is_a_printed_inch_to_the_screens_inch(looked: Looked) -> None:
    from planner.window.screens import screen_ppi

    QTest.keyClick(looked.window, Qt.Key.Key_0, CTRL)
    made = looked.window.work.current
    assert made is not None
    inches = made.sizes[0][0] / 72
    assert looked.window.view.page_box(0).width() == pytest.approx(inches * screen_ppi(looked.window), abs=2)
    assert looked.window.zoom.text() == "100 %"


def test_an_edit_of_the_job_makes_the_paper_anew_and_keeps_the_place(looked: Looked, qtbot: QtBot) -> None:
    looked.window.choose("packet")
    looked.wait(qtbot, "packet")
    looked.window.view.go_to(2)
    before = looked.window.work.current
    looked.show(set_fields(looked.job, title="Autumn fair"))
    qtbot.waitUntil(lambda: looked.window.work.current is not before, timeout=15_000)
    qtbot.waitUntil(looked.background.is_idle, timeout=15_000)
    assert looked.window.view.page == 2
    assert "Autumn fair" in looked.window.windowTitle()
    made = looked.window.work.current
    assert made is not None
    with pikepdf.open(io.BytesIO(made.pdf)) as document:
        assert "Autumn fair" in str(document.docinfo["/Title"])


def test_a_job_with_nothing_in_it_has_papers_too(looked: Looked, qtbot: QtBot) -> None:
    looked.show(Job(quoted_on=A_DAY))
    for paper in PAPERS:
        looked.window.choose(paper)
        looked.wait(qtbot, paper)
        made = looked.window.work.current
        assert made is not None
        assert made.sizes


def test_a_paper_that_cannot_be_made_is_said_and_the_others_still_work(looked: Looked, qtbot: QtBot) -> None:
    kept = dict(looked.files)
    looked.files.clear()
    looked.show(set_fields(looked.job, artworks=(looked.job.artworks[0].model_copy(update={"name": "b"}),)))
    qtbot.waitUntil(lambda: "could not be made" in looked.window.message.text(), timeout=15_000)
    looked.files.update(kept)
    looked.window.choose("buying list")
    looked.wait(qtbot, "buying list")
    assert looked.window.message.text() == ""


def test_the_preview_opens_from_the_menu_beside_the_job_and_closes_with_it(
    job_rig: Rig, qtbot: QtBot
) -> None:
    window = job_rig.window
    assert window.preview.window is None
    QTest.keyClick(window, Qt.Key.Key_P, CTRL)
    preview = window.preview.window
    assert preview is not None
    assert preview.isVisible()
    assert window.isEnabled()
    job_rig.settle(qtbot)
    job_rig.gestures().set_title("Another fair", "")
    assert "Another fair" in preview.windowTitle()
    job_rig.desk.undo_stack.setClean()
    window.close()
    assert not preview.isVisible()


def _nothing() -> QWidget:
    return QWidget()


def _wheel(target: QWidget, at: QPointF, delta: int) -> None:
    event = QWheelEvent(
        at,
        QPointF(target.mapToGlobal(at.toPoint())),
        QPoint(),
        QPoint(0, delta),
        Qt.MouseButton.NoButton,
        CTRL,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(target, event)
