"""The short guide shipped with the program, in a window of its own beside the job."""

from collections.abc import Sequence

from PySide6.QtCore import QSize
from PySide6.QtGui import QAction, QKeySequence, QTextBlockFormat, QTextCursor
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QTextBrowser, QWidget

from planner.plan import wording as sentences
from planner.pressing.card import Caution
from planner.shop.resources import resource
from planner.window import wording
from planner.window.beside import come_up
from planner.window.look import APART, GRID, RELATED, TARGET
from planner.window.widgets import SideWindow, row

_CHAPTER = "## "


def chapters(text: str, actions: Sequence[QAction]) -> dict[str, str]:
    """The guide's chapters by name, in order, with the program's own keys and cautions filled in."""
    filled = text.replace("{keys}", key_table(actions)).replace("{cautions}", _cautions())
    found: dict[str, str] = {}
    for part in f"\n{filled}".split(f"\n{_CHAPTER}")[1:]:
        name, _, body = part.partition("\n")
        found[name.strip()] = body.strip()
    return found


def key_table(actions: Sequence[QAction]) -> str:
    """All commands that have keys, as a table in the guide's markup."""
    rows = [
        f"| {_plain(action.text())} | {key} |"
        for action in actions
        if (key := _key(action)) and action.text()
    ]
    return "\n".join((f"| {wording.GUIDE_COMMAND} | {wording.GUIDE_KEYS} |", "| --- | --- |", *rows))


def _key(action: QAction) -> str:
    """The first of its keys: the others are what some keyboards have besides."""
    return action.shortcut().toString(QKeySequence.SequenceFormat.NativeText).replace("|", "\\|")


def _plain(text: str) -> str:
    return text.replace("&", "").rstrip("…")


def _cautions() -> str:
    return "\n".join(f"- {sentences.caution(caution)}" for caution in Caution)


class HandbookWindow(SideWindow):
    """Chapters at the left, the chosen one beside them."""

    def __init__(self, actions: Sequence[QAction], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(wording.GUIDE_TITLE)
        self.resize(960, 720)
        folder = resource("guide")
        self._chapters = chapters((folder / "guide.md").read_text("utf-8"), actions)
        self.names = QListWidget()
        self.names.setAccessibleName(wording.GUIDE_CHAPTERS)
        for name in self._chapters:
            item = QListWidgetItem(name, self.names)
            item.setSizeHint(QSize(0, max(TARGET, self.names.fontMetrics().height() + RELATED)))
        self.names.setFixedWidth(50 * GRID)
        self.page = QTextBrowser()
        self.page.setAccessibleName(wording.GUIDE_TITLE)
        self.page.setSearchPaths([str(folder)])
        self.page.setOpenLinks(False)
        self.page.document().setDocumentMargin(APART)
        self.page.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.names.currentTextChanged.connect(self._show)
        whole = row(space=0)
        whole.setContentsMargins(0, RELATED, 0, 0)
        whole.addWidget(self.names)
        whole.addWidget(self.page, 1)
        self.setLayout(whole)
        self.names.setCurrentRow(0)
        self.names.setFocus()

    def _show(self, name: str) -> None:
        self.page.setMarkdown(f"{_CHAPTER}{name}\n\n{self._chapters[name]}")
        cursor = QTextCursor(self.page.document())
        cursor.select(QTextCursor.SelectionType.Document)
        space = QTextBlockFormat()
        space.setBottomMargin(RELATED)
        cursor.mergeBlockFormat(space)
        self.page.moveCursor(QTextCursor.MoveOperation.Start)


class Handbook:
    """The guide of one job window, opened or not."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent
        self.window: HandbookWindow | None = None

    def open(self, actions: Sequence[QAction]) -> None:
        """Show the guide; the keys it lists are those of these actions."""
        if self.window is None:
            self.window = HandbookWindow(actions, self._parent)
        come_up(self.window)

    def close(self) -> None:
        if self.window is not None:
            self.window.close()
