"""Papers as they will print: looked at, saved, printed or copied, while the job goes on being edited."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import (
    QCloseEvent,
    QColor,
    QGuiApplication,
    QIcon,
    QImage,
    QKeySequence,
    QPainter,
    QPixmap,
    QShortcut,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListView,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QSplitter,
    QWidget,
)

from planner.artwork.decoding import Decoder
from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.paper.names import job_stem, safe_stem
from planner.paper.registry import PAPERS
from planner.plan.model import Plan
from planner.plan.ordering import Facts
from planner.shop.book import Shop
from planner.window import wording
from planner.window.background import Background
from planner.window.look import APART, GRID, RELATED, TARGET, Type, tokens_of, type_font
from planner.window.preview import words
from planner.window.preview.making import Made, Wanted
from planner.window.preview.pages import PageView
from planner.window.preview.printing import AskPrinter, PrinterRefused, ask_printer, printer_for
from planner.window.preview.stack import Fit
from planner.window.preview.work import THUMB_PX, PreviewWork
from planner.window.screens import screen_ppi
from planner.window.widgets import SideWindow, StatusMark, button, column, label, line, row
from planner.work.ticket import Cancelled

_NAME = Qt.ItemDataRole.UserRole
_REMAKE_MS = 400
"""An edit under way is not made into a paper for each letter."""

AskFile = Callable[[QWidget, Path], Path | None]


class PreviewWindow(SideWindow):
    """One paper of the job at a time; follows the job without being asked."""

    def __init__(
        self,
        background: Background,
        file_of: Callable[[str], bytes | None],
        decoder: Decoder | None = None,
        *,
        ask_file: AskFile,
        ask_to_print: AskPrinter = ask_printer,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.work = PreviewWork(background, file_of, decoder)
        self._ask_file, self._ask_to_print = ask_file, ask_to_print
        self._asked: tuple[Job, Shop, Plan] | None = None
        self.facts: Callable[[], Facts] = dict
        """What was measured of the job's artwork."""
        self._folder = Path.home()
        self.papers = QListWidget()
        self.page_list = QListWidget()
        self.view = PageView(screen_ppi(self) / 72)
        self.save = button(words.SAVE, self._save, role="main", hint=words.SAVE_HINT)
        self.print_it = button(words.PRINT, self._print, hint=words.PRINT_HINT)
        self.copy = button(words.COPY, self._copy, hint=words.COPY_HINT)
        self.smaller = button("−", lambda: self.view.step_zoom(-1), hint=words.SMALLER)
        self.larger = button("+", lambda: self.view.step_zoom(1), hint=words.LARGER)
        self.width_fit = button(words.WIDTH, lambda: self.view.set_fit(Fit.WIDTH), role="link")
        self.whole_fit = button(words.WHOLE, lambda: self.view.set_fit(Fit.WHOLE), role="link")
        self.true_size = button(words.TRUE, lambda: self.view.set_zoom(1.0), role="link")
        self.zoom = label()
        self.where = label(quiet=True)
        self.message = label(wrap=True)
        self.mark = StatusMark(Seriousness.NOTE)
        self.progress = QProgressBar()
        self.stop = button(words.STOP, self.work.stop_printing, role="link")
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_REMAKE_MS)
        self._later.timeout.connect(self._make)
        self._fill_papers()
        self._build()
        self._wire()
        self._show_made(None)

    @property
    def paper(self) -> str:
        """Name of the paper chosen."""
        item = self.papers.currentItem()
        return str(item.data(_NAME)) if item is not None else "quote"

    def show_job(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show the papers of this job; the one in view is made anew, its place kept."""
        self._asked = (job, shop, plan)
        self.setWindowTitle(f"{words.TITLE} – {job.title or wording.UNTITLED}")
        if self.isVisible():
            self._later.start()

    def choose(self, paper: str) -> None:
        """Show a paper by its name."""
        for at in range(self.papers.count()):
            if self.papers.item(at).data(_NAME) == paper:
                self.papers.setCurrentRow(at)

    def _fill_papers(self) -> None:
        named = {name for _, names in words.GROUPS for name in names}
        others = tuple(name for name in PAPERS if name not in named)
        for group, names in words.GROUPS:
            shown = [name for name in names if name in PAPERS]
            shown += others if group == words.GROUPS[2][0] else ()
            if not shown:
                continue
            head = QListWidgetItem(group)
            head.setFlags(Qt.ItemFlag.NoItemFlags)
            head.setFont(type_font(self.font(), Type.SMALL))
            head.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
            head.setSizeHint(QSize(0, TARGET + GRID))
            self.papers.addItem(head)
            for name in shown:
                item = QListWidgetItem(words.name_of(name))
                item.setData(_NAME, name)
                item.setSizeHint(QSize(0, TARGET))
                self.papers.addItem(item)
        self.choose("quote")

    def _build(self) -> None:
        self.papers.setAccessibleName(words.PAPERS)
        self.papers.setFrameShape(QListWidget.Shape.NoFrame)
        self.papers.setMinimumWidth(36 * GRID)
        pages = self.page_list
        pages.setAccessibleName(words.PAGE_LIST)
        pages.setFrameShape(QListWidget.Shape.NoFrame)
        pages.setViewMode(QListView.ViewMode.IconMode)
        pages.setFlow(QListView.Flow.TopToBottom)
        pages.setMovement(QListView.Movement.Static)
        pages.setWrapping(False)
        pages.setIconSize(QSize(THUMB_PX, THUMB_PX))
        pages.setMinimumWidth(THUMB_PX + 10 * GRID)
        pages.setSpacing(GRID)
        for small in (self.smaller, self.larger):
            small.setFixedWidth(TARGET + GRID)
        self.smaller.setAccessibleName(words.SMALLER)
        self.larger.setAccessibleName(words.LARGER)
        self.zoom.setMinimumWidth(12 * GRID)
        self.zoom.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.progress.setFixedSize(40 * GRID, 2 * GRID)
        self.progress.setTextVisible(False)
        across = QSplitter(Qt.Orientation.Horizontal)
        for part in (self.papers, self.page_list, self.view):
            across.addWidget(part)
        across.setChildrenCollapsible(False)
        across.setHandleWidth(1)
        across.setStretchFactor(2, 1)
        across.setSizes([44 * GRID, THUMB_PX + 12 * GRID, 160 * GRID])
        whole = column(space=0)
        whole.addLayout(self._bar())
        whole.addWidget(line())
        whole.addWidget(across, 1)
        whole.addWidget(line())
        whole.addLayout(self._foot())
        self.setLayout(whole)
        self.resize(250 * GRID, 190 * GRID)
        self.setMinimumSize(150 * GRID, 100 * GRID)

    def _bar(self) -> QHBoxLayout:
        bar = row(space=GRID)
        bar.setContentsMargins(APART, RELATED, APART, RELATED)
        for part in (self.smaller, self.zoom, self.larger, self.width_fit, self.whole_fit, self.true_size):
            bar.addWidget(part)
        bar.addStretch(1)
        bar.addWidget(self.where)
        bar.addSpacing(RELATED)
        for part in (self.copy, self.print_it, self.save):
            bar.addWidget(part)
        return bar

    def _foot(self) -> QHBoxLayout:
        foot = row(space=RELATED)
        foot.setContentsMargins(APART, GRID, APART, GRID)
        foot.addWidget(self.mark)
        foot.addWidget(self.message, 1)
        foot.addWidget(self.progress)
        foot.addWidget(self.stop)
        self.message.setMinimumHeight(TARGET)
        return foot

    def _wire(self) -> None:
        key = QKeySequence.StandardKey
        for keys, doing in (
            (key.Save, self._save),
            (key.Print, self._print),
            (key.Copy, self._copy),
            (key.ZoomIn, lambda: self.view.step_zoom(1)),
            (key.ZoomOut, lambda: self.view.step_zoom(-1)),
        ):
            QShortcut(keys, self, doing)
        QShortcut(QKeySequence("Ctrl+0"), self, lambda: self.view.set_zoom(1.0))
        self.papers.currentItemChanged.connect(lambda now, before: self._paper_chosen())
        self.page_list.currentRowChanged.connect(self._page_chosen)
        self.view.pages_wanted.connect(self.work.draw)
        self.view.page_changed.connect(self._show_page)
        self.view.zoom_changed.connect(lambda zoom: self.zoom.setText(words.percent(zoom)))
        self.work.made.connect(self._show_made)
        self.work.not_made.connect(self._say_not_made)
        self.work.drawn.connect(self.view.show_picture)
        self.work.thumb_drawn.connect(self._show_thumb)
        self.work.printing.connect(self._show_printing)
        self.work.printed.connect(lambda pages: self._say(words.printed(pages)))
        self.work.not_printed.connect(self._say_not_printed)

    def _paper_chosen(self) -> None:
        self.work.drop()
        if self.isVisible():
            self._make()

    def _make(self) -> None:
        if self._asked is None:
            return
        self._say("")
        self._show_busy(words.MAKING)
        self.work.make(Wanted(self.paper, *self._asked, self.facts()))

    def _show_made(self, made: Made | None) -> None:
        """A paper was made; the same one as before keeps its place."""
        self._show_busy("")
        pages = len(made.sizes) if made else 0
        for part in (self.save, self.print_it, self.copy):
            part.setEnabled(pages > 0)
        if made is None:
            return
        same = self.page_list.property("paper") == made.paper
        self.page_list.setProperty("paper", made.paper)
        self._show_page_list(pages)
        self.view.show_pages(made.sizes, keep_place=same)
        self._show_page(self.view.page)
        if not pages:
            self._say(words.NOTHING)

    def _show_page_list(self, pages: int) -> None:
        blocked = self.page_list.blockSignals(True)
        while self.page_list.count() > pages:
            self.page_list.takeItem(self.page_list.count() - 1)
        while self.page_list.count() < pages:
            item = QListWidgetItem(str(self.page_list.count() + 1))
            item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter)
            item.setSizeHint(QSize(THUMB_PX + 4 * GRID, THUMB_PX + 6 * GRID))
            self.page_list.addItem(item)
        self.page_list.blockSignals(blocked)

    def _show_thumb(self, page: int, image: QImage) -> None:
        if page >= self.page_list.count():
            return
        framed = QPixmap.fromImage(image)
        painter = QPainter(framed)
        painter.setPen(QColor(tokens_of(self).edge))
        painter.drawRect(framed.rect().adjusted(0, 0, -1, -1))
        painter.end()
        framed.setDevicePixelRatio(2)
        icon = QIcon(framed)
        # A page chosen in the list must not be tinted: paper is white.
        icon.addPixmap(framed, QIcon.Mode.Selected)
        self.page_list.item(page).setIcon(icon)
        if self.view.picture(page) is None:
            self.view.show_picture(page, image, 0.0)

    def _show_page(self, page: int) -> None:
        pages = self.page_list.count()
        self.where.setText(words.page_of(page + 1, pages) if pages else "")
        blocked = self.page_list.blockSignals(True)
        self.page_list.setCurrentRow(page if pages else -1)
        self.page_list.blockSignals(blocked)

    def _page_chosen(self, page: int) -> None:
        self.view.go_to(page)

    def _save(self) -> None:
        made, asked = self.work.current, self._asked
        if made is None or asked is None or not self.save.isEnabled():
            return
        name = f"{job_stem(asked[0])}_{safe_stem(made.paper)}.pdf"
        path = self._ask_file(self, self._folder / name)
        if path is None:
            return
        try:
            path.write_bytes(made.pdf)
        except OSError as error:
            self._say(words.not_saved(path.name, error.strerror or str(error)), Seriousness.STOP)
            return
        self._folder = path.parent
        self._say(words.saved(path.name))

    def _print(self) -> None:
        made = self.work.current
        if made is None or not made.sizes or not self.print_it.isEnabled():
            return
        printer = printer_for(made, f"{words.name_of(made.paper)} – {self.windowTitle()}")
        if self._ask_to_print(printer, len(made.sizes), self):
            self.work.print_with(printer)

    def _copy(self) -> None:
        image = self.view.picture(self.view.page)
        if image is not None:
            QGuiApplication.clipboard().setImage(image)
            self._say(words.COPIED)

    def _say(self, sentence: str, serious: Seriousness = Seriousness.NOTE) -> None:
        self.message.setText(sentence)
        self.mark.show_seriousness(serious)
        self.mark.setVisible(bool(sentence))

    def _say_not_made(self, paper: str, error: Exception) -> None:
        self._show_busy("")
        self._say(words.not_made(paper, f"{type(error).__name__}: {error}"), Seriousness.STOP)

    def _say_not_printed(self, error: Exception) -> None:
        if isinstance(error, Cancelled):
            self._say(words.NOT_PRINTED)
        elif isinstance(error, PrinterRefused):
            self._say(words.NO_PRINTER, Seriousness.STOP)
        else:
            self._say(wording.trouble(error), Seriousness.STOP)

    def _show_busy(self, what: str) -> None:
        self.progress.setVisible(bool(what))
        self.progress.setAccessibleName(what)
        self.progress.setRange(0, 0)
        self.stop.setVisible(False)
        if what:
            self._say(what)
        elif self.message.text() == words.MAKING:
            self._say("")

    def _show_printing(self, done: int, of: int) -> None:
        self.progress.setVisible(of > 0)
        self.stop.setVisible(of > 0)
        self.progress.setRange(0, of)
        self.progress.setValue(done)
        if of:
            self._say(words.PRINTING)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.papers.setFocus()
        self._make()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._later.stop()
        self.work.drop()
        super().closeEvent(event)
