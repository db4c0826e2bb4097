"""The table of prices by quantity, with what each figure was before an edit."""

from collections.abc import Callable, Hashable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from planner.measures.figures import whole
from planner.plan.laddering import Ladder
from planner.plan.wording import bare_money, percent
from planner.pricing.ladder import Rung
from planner.window import wording
from planner.window.costs import words
from planner.window.look import GRID, Type, type_font, wide_enough
from planner.window.told import Told
from planner.window.widgets import emptied, label

_GAP = 2 * GRID
_MONEY = ("price_each", "total", "cost_each")
_FIGURES = (*_MONEY, "margin_percent")
_PRICE = 1


class RungsTable(QWidget):
    """One line a quantity, the job's own in bold."""

    def __init__(self) -> None:
        super().__init__()
        self.befores: dict[tuple[int, str], QLabel] = {}
        """What a figure was, by quantity and the rung's field."""
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(GRID)
        self.setLayout(self._grid)

    def show_rungs(
        self, rungs: tuple[Rung, ...], ladder: Ladder, currency: str, was: Callable[[Rung, str], str]
    ) -> None:
        """Show these quantities; `was` tells what a field of a rung was, or nothing where it is the same."""
        emptied(self._grid)
        self.befores = {}
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        for at, head in enumerate(words.heads(currency) if rungs else ()):
            # Over the room for what a figure was too: a head is wider than most figures.
            self._grid.addWidget(
                label(head, Type.SMALL, quiet=True), 0, max(0, 2 * at - 1), 1, 2 if at else 1, right
            )
        now = ladder.now
        for line, rung in enumerate(rungs, 1):
            is_now = now is not None and rung.quantity == now.quantity
            quantity, *figures = cells(rung, currency, now=is_now)
            self._grid.addWidget(label(quantity, strong=is_now), line, 0, right)
            for at, (field, text) in enumerate(zip(_FIGURES, figures, strict=True), 1):
                before = label(_before(was(rung, field)), Type.SMALL, quiet=True)
                self.befores[rung.quantity, field] = before
                self._grid.addWidget(before, line, 2 * at - 1, right)
                self._grid.addWidget(label(text, strong=is_now or at == _PRICE), line, 2 * at, right)
        self._keep_room(rungs, currency)

    def _keep_room(self, rungs: tuple[Rung, ...], currency: str) -> None:
        """Room for what figures were, whether or not it is told: an edit must not make columns jump."""
        small = type_font(self.font(), Type.SMALL)
        rows = [cells(rung, currency, now=False) for rung in rungs]
        for at in range(1, len(_FIGURES) + 1):
            widest = max((wide_enough(small, _before(row[at])) for row in rows), default=0)
            self._grid.setColumnMinimumWidth(2 * at - 1, _GAP + widest)


def _before(text: str) -> str:
    # The unit is told by the figure beside it.
    return wording.before_it(text.removesuffix(" %"))


def cells(rung: Rung, currency: str, *, now: bool) -> tuple[str, ...]:
    """Quantity and figures of one line."""
    return (
        f"{words.NOW} {whole(rung.quantity)}" if now else whole(rung.quantity),
        *(_told(rung, field, currency).text for field in _FIGURES),
    )


def _told(rung: Rung, field: str, currency: str) -> Told:
    say = partial(bare_money, currency=currency) if field in _MONEY else percent
    return Told.of(getattr(rung, field), say)


def place_of(rung: Rung, field: str, ladder: Ladder, *, provisional: bool) -> Hashable:
    """Names a figure through edits: the job's own quantity is one line, whatever its count.

    Its sheets may have been searched for while those of other quantities are always quick ones.
    """
    is_now = ladder.now is not None and rung.quantity == ladder.now.quantity
    return ("now", field, provisional) if is_now else (rung.quantity, field)


def figures_of(ladder: Ladder, currency: str, *, provisional: bool) -> dict[Hashable, Told]:
    """What `Before` remembers of a ladder."""
    return {
        place_of(rung, field, ladder, provisional=provisional): _told(rung, field, currency)
        for rung in with_now(ladder)
        for field in _FIGURES
    }


def with_now(ladder: Ladder) -> tuple[Rung, ...]:
    """The shop's quantities and the job's own, smallest first."""
    every = {rung.quantity: rung for rung in (*ladder.rungs, *((ladder.now,) if ladder.now else ()))}
    return tuple(every[quantity] for quantity in sorted(every))
