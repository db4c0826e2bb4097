"""The rows of the list of jobs: chosen by what was typed, in the order of a column."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor

from planner.job.findings import Seriousness
from planner.job.state import JobState
from planner.plan import wording as sentences
from planner.storage.job_list import Listed
from planner.window.jobs import words
from planner.window.jobs.figures import next_last_day
from planner.window.look import Tokens, status_picture

TITLE, CUSTOMER, DUE, STATE, TOTAL, NEXT = range(6)
_Index = QModelIndex | QPersistentModelIndex
_STATES = tuple(JobState)


@dataclass(frozen=True, slots=True)
class Wish:
    """What of the list is shown, and in which order."""

    typed: str = ""
    states: frozenset[JobState] = frozenset(JobState)
    column: int = DUE
    falling: bool = False


def chosen(jobs: Sequence[Listed], wish: Wish) -> list[Listed]:
    """The jobs that have every word typed, ordered; unreadable files come last."""
    asked = wish.typed.casefold().split()
    kept = [
        job
        for job in jobs
        if all(word in _searched(job) for word in asked)
        and (job.summary is None or job.summary.state in wish.states)
    ]
    readable = [job for job in kept if job.summary is not None]
    readable.sort(key=lambda job: _title(job).casefold())
    # Without a figure to sort by, a job is at the end whichever way the column is turned.
    known = [job for job in readable if _key(job, wish.column) is not None]
    known.sort(key=lambda job: _key(job, wish.column), reverse=wish.falling)
    ordered = known + [job for job in readable if _key(job, wish.column) is None]
    if wish.column == DUE:
        # What is delivered is due no more.
        ordered.sort(key=lambda job: job.summary is not None and job.summary.state is JobState.DELIVERED)
    broken = sorted((job for job in kept if job.summary is None), key=lambda job: job.path.name.casefold())
    return [*ordered, *broken]


class JobsModel(QAbstractTableModel):
    """Shows jobs; the view's row numbers are those of `rows`."""

    def __init__(self, today: Callable[[], date], tokens: Callable[[], Tokens]) -> None:
        super().__init__()
        self._today, self._tokens = today, tokens
        self.rows: list[Listed] = []

    def show_rows(self, rows: list[Listed]) -> None:
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def row_of(self, path: Path | None) -> int | None:
        return next((at for at, job in enumerate(self.rows) if job.path == path), None)

    def rowCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008
        return len(words.COLUMNS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return words.COLUMNS[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(section)
        if role == Qt.ItemDataRole.ToolTipRole and section == NEXT:
            return words.NEXT_DAY_WHY
        return None

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        job, column = self.rows[index.row()], index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self.text(job, column)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._tip(job, column)
        if role == Qt.ItemDataRole.DecorationRole and (serious := self._mark(job, column)):
            return status_picture(serious, self._tokens(), ratio=2.0)
        if role == Qt.ItemDataRole.ForegroundRole and job.summary and job.summary.state is JobState.DELIVERED:
            return QColor(self._tokens().quiet)
        return None

    def text(self, job: Listed, column: int) -> str:
        """What stands in a cell."""
        summary = job.summary
        if summary is None:
            return job.path.name if column == TITLE else job.trouble if column == CUSTOMER else ""
        if column == TITLE:
            return _title(job)
        if column == CUSTOMER:
            return summary.customer
        if column == DUE:
            return sentences.day(summary.due) if summary.due else ""
        if column == STATE:
            return words.state(summary.state)
        if column == TOTAL:
            figures = summary.figures
            return sentences.money(figures.quote_total, figures.currency) if figures else words.NO_FIGURES
        following = next_last_day(summary.figures, summary.state)
        if following is None:
            return ""
        milestone, by = following
        return words.by_day(sentences.milestone(milestone), sentences.day(by), passed=by < self._today())

    def _tip(self, job: Listed, column: int) -> str | None:
        summary = job.summary
        if summary is None:
            return job.trouble
        if column == TITLE:
            return str(job.path)
        if column == DUE and summary.due:
            return words.days_to(summary.due, self._today())
        if column == TOTAL and summary.figures is None:
            return words.NO_FIGURES_WHY
        return self.text(job, column) or None

    def _mark(self, job: Listed, column: int) -> Seriousness | None:
        if job.summary is None:
            return Seriousness.STOP if column == TITLE else None
        if column != NEXT:
            return None
        following = next_last_day(job.summary.figures, job.summary.state)
        return Seriousness.LOOK if following is not None and following[1] < self._today() else None


def _side(column: int) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if column == TOTAL else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter


def _title(job: Listed) -> str:
    return (job.summary.title if job.summary else "") or f"{job.path.stem} ({words.UNTITLED})"


def _searched(job: Listed) -> str:
    summary = job.summary
    said = (summary.title, summary.customer, words.state(summary.state)) if summary else (job.trouble,)
    return " ".join((*said, job.path.name)).casefold()


def _key(job: Listed, column: int) -> Any:
    """What a column sorts by; None where a job has nothing there."""
    summary = job.summary
    assert summary is not None
    following = next_last_day(summary.figures, summary.state)
    keys: tuple[Any, ...] = (
        _title(job).casefold(),
        summary.customer.casefold() or None,
        summary.due,
        _STATES.index(summary.state),
        summary.figures.quote_total if summary.figures else None,
        following[1] if following else None,
    )
    return keys[column]
