"""Mending by hand: which fix, with which figures. It gives a step of the job; nothing is edited here."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from planner.artwork.colour_names import colour_name
from planner.artwork.facts import ArtworkFacts
from planner.artwork.fixes import suggest_trim
from planner.job.fixes import (
    MOST_OUTLINE_PX,
    MOST_THICKEN_PX,
    FixStep,
    Flip,
    Halftone,
    HardenEdges,
    KnockOut,
    OutlineInk,
    QuarterTurn,
    Recolour,
    RemoveSpecks,
    Thicken,
)
from planner.measures.figures import plain
from planner.measures.lengths import MM_PER_INCH, LengthUnit, format_length, parse_length
from planner.window.artwork import words
from planner.window.artwork.picture import swatch_icon
from planner.window.fields import Field
from planner.window.look import APART, RELATED, Type
from planner.window.readings import Unreadable, read_colour
from planner.window.widgets import Combo, button, column, label

_V = TypeVar("_V")
_LEAST_MM, _MOST_MM = 0.05, 10.0
_ALPHA_LEVELS = 255
_START_MM = 0.5
_REST_MS = 200
"""A figure is tried once nobody has typed for so long."""


@dataclass(frozen=True, slots=True)
class _Way:
    """One kind of fix: its name, the fields it needs, and the step they make."""

    name: str
    about: str
    fields: tuple[str, ...]
    step: Callable[["MendForm"], FixStep | None]
    in_pixels: bool = True
    """Whether it turns vector artwork into pixels."""


class MendForm(QWidget):
    """Chooses a fix for one artwork at the size that one of its prints has."""

    chosen = Signal(object)
    """A fix step, in pixels of the artwork as it is now."""
    tried = Signal(object)
    """The step that the fields mean as they stand, to be shown; None once the form is gone."""

    def __init__(
        self,
        facts: ArtworkFacts,
        px_per_mm: float,
        unit: LengthUnit,
        line_colour: str,
        *,
        prints: int = 1,
    ) -> None:
        super().__init__()
        self._prints = prints
        self.facts, self._px_per_mm = facts, px_per_mm
        self.way = Combo(words.MEND_WAY)
        self.colour = Combo(words.MEND_COLOUR)
        self.reach = Combo(words.MEND_REACH)
        self.scope = Combo(words.MEND_SCOPE)
        """Whether other prints of the artwork are mended too; where there are none, nobody is asked."""
        self.tolerance: Field[int] = _number(words.MEND_TOLERANCE, 10, 0, 60)
        self.to: Field[str] = Field(words.MEND_TO, read_colour, str, line_colour)
        self.amount: Field[float] = Field(
            words.MEND_AMOUNT,
            lambda typed: _read_amount(typed, unit),
            lambda amount_mm: _say_amount(amount_mm, unit),
            _START_MM,
        )
        self.threshold: Field[int] = _number(words.MEND_THRESHOLD, 50, 1, 100)
        self.lines: Field[int] = _number(words.MEND_LINES, 45, 10, 150)
        self._about = label(size=Type.SMALL, quiet=True, wrap=True)
        self._rows: dict[str, tuple[QWidget, QWidget]] = {}
        self.colours = tuple(dict.fromkeys(colour.hex for colour in facts.colours))
        self._ways = tuple(way for way in _WAYS if self.colours or "colour" not in way.fields)
        self.mend = button(words.MEND, self._tell)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(_REST_MS)
        self._rest.timeout.connect(self.try_on)
        self._build()
        self.way.activated.connect(self._show_way)
        for combo in (self.colour, self.reach):
            combo.currentIndexChanged.connect(self._rest.start)
        for field in self._fields:
            field.textEdited.connect(self._rest.start)
        self._show_way()

    def choose(self, name: str) -> None:
        """Take the way of this name, as if it had been picked."""
        self.way.setCurrentIndex([way.name for way in self._ways].index(name))
        self._show_way()

    def try_on(self) -> None:
        """Tell the step as the fields stand, unless one of them cannot be read."""
        self._rest.stop()
        if not any(field.typed is None for field in self._fields if field.isVisibleTo(self)):
            self.tried.emit(self._step())

    @property
    def amount_px(self) -> float:
        return _now(self.amount) * self._px_per_mm

    @property
    def is_for_one(self) -> bool:
        """Whether only the print that is looked at is to be mended."""
        return self._prints > 1 and self.scope.currentIndex() == 1

    @property
    def picked(self) -> str:
        return self.colours[self.colour.currentIndex()]

    @property
    def cell_px(self) -> float:
        """One halftone cell in pixels; never so small that it holds no dot."""
        return max(2.0, self._px_per_mm * MM_PER_INCH / _now(self.lines))

    @property
    def _fields(self) -> Sequence[Field[Any]]:
        return self.tolerance, self.to, self.amount, self.threshold, self.lines

    def _step(self) -> FixStep | None:
        return self._ways[self.way.currentIndex()].step(self)

    def _build(self) -> None:
        self.way.addItems([way.name for way in self._ways])
        self.reach.addItems([words.MEND_FROM_EDGES, words.MEND_EVERYWHERE])
        self.scope.addItems([words.mend_all_prints(self._prints), words.MEND_ONE_PRINT])
        for colour in self.facts.colours:
            if self.colour.count() < len(self.colours):
                share = words.colour_share(colour_name(colour.hex), colour.hex, colour.share)
                self.colour.addItem(swatch_icon(colour.hex), share)
        grid = QGridLayout()
        grid.setHorizontalSpacing(RELATED)
        grid.setVerticalSpacing(RELATED)
        named: tuple[tuple[str, QWidget], ...] = (
            ("colour", self.colour),
            ("reach", self.reach),
            ("to", self.to),
            ("tolerance", self.tolerance),
            ("amount", self.amount),
            ("threshold", self.threshold),
            ("lines", self.lines),
            ("scope", self.scope),
        )
        for at, (name, field) in enumerate(named):
            told = label(field.accessibleName(), quiet=True)
            grid.addWidget(told, at, 0)
            grid.addWidget(field, at, 1)
            self._rows[name] = (told, field)
        whole = column(space=RELATED, edge=APART)
        whole.addWidget(self.way)
        whole.addWidget(self._about)
        whole.addLayout(grid)
        whole.addWidget(self.mend)
        self.setLayout(whole)
        self.setFixedWidth(320)

    def _show_way(self) -> None:
        way = self._ways[self.way.currentIndex()]
        in_pixels = self.facts.vector and way.in_pixels
        self._about.setText(f"{way.about} {words.MEND_IN_PIXELS}" if in_pixels else way.about)
        for name, parts in self._rows.items():
            for part in parts:
                part.setVisible(name in way.fields or (name == "scope" and self._prints > 1))
        self.mend.setEnabled(way.step(self) is not None)
        self._rest.start()
        self.adjustSize()
        holder = self.parentWidget()
        if holder is not None:
            holder.adjustSize()

    def _tell(self) -> None:
        for field in self._fields:
            field.commit()
        step = self._step()
        if step is not None and not any(field.is_wrong for field in self._fields if field.isVisible()):
            self.chosen.emit(step)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if not event.spontaneous():
            self._rest.stop()
            self.tried.emit(None)


def _now(field: Field[_V]) -> _V:
    """What is being typed, or the last value that could be read."""
    typed = field.typed
    return field.value if typed is None else typed


def _knock_out(form: MendForm) -> FixStep:
    from_edges = form.reach.currentIndex() == 0
    return KnockOut(colour=form.picked, tolerance_de=_now(form.tolerance), from_edges=from_edges)


def _recolour(form: MendForm) -> FixStep:
    return Recolour(colour=form.picked, to=_now(form.to), tolerance_de=_now(form.tolerance))


def _harden(form: MendForm) -> FixStep:
    return HardenEdges(threshold=max(1, round(_now(form.threshold) / 100 * _ALPHA_LEVELS)))


_WAYS = (
    _Way(
        words.KNOCK_OUT,
        words.KNOCK_OUT_ABOUT,
        ("colour", "reach", "tolerance"),
        _knock_out,
    ),
    _Way(
        words.RECOLOUR,
        words.RECOLOUR_ABOUT,
        ("colour", "to", "tolerance"),
        _recolour,
    ),
    _Way(
        words.REMOVE_SPECKS,
        words.REMOVE_SPECKS_ABOUT,
        ("amount",),
        lambda form: RemoveSpecks(smaller_than_px=form.amount_px),
    ),
    _Way(
        words.HARDEN,
        words.HARDEN_ABOUT,
        ("threshold",),
        _harden,
    ),
    _Way(
        words.HALFTONE,
        words.HALFTONE_ABOUT,
        ("lines",),
        lambda form: Halftone(cell_px=form.cell_px),
    ),
    _Way(
        words.THICKEN,
        words.THICKEN_ABOUT,
        ("amount",),
        lambda form: Thicken(by_px=min(MOST_THICKEN_PX, form.amount_px)),
    ),
    _Way(
        words.OUTLINE,
        words.OUTLINE_ABOUT,
        ("amount", "to"),
        lambda form: OutlineInk(by_px=min(MOST_OUTLINE_PX, form.amount_px), colour=_now(form.to)),
    ),
    _Way(words.TRIM, words.TRIM_ABOUT, (), lambda form: suggest_trim(form.facts), in_pixels=False),
    _Way(words.FLIP, words.FLIP_ABOUT, (), lambda form: Flip(), in_pixels=False),
    _Way(words.TURN, words.TURN_ABOUT, (), lambda form: QuarterTurn(), in_pixels=False),
)


def _number(name: str, value: int, least: int, most: int) -> Field[int]:
    def read(typed: str) -> int:
        text = typed.strip().rstrip("%").strip()
        if not text.isdecimal() or not least <= int(text) <= most:
            raise Unreadable(words.not_a_number_within(least, most))
        return int(text)

    return Field(name, read, str, value)


def _read_amount(typed: str, unit: LengthUnit) -> float:
    amount_mm = parse_length(typed, unit)
    if not _LEAST_MM <= amount_mm <= _MOST_MM:
        limits = (
            format_length(_LEAST_MM, LengthUnit.MILLIMETRE),
            format_length(_MOST_MM, LengthUnit.MILLIMETRE),
        )
        raise Unreadable(words.not_a_length_within(*limits))
    return amount_mm


def _say_amount(amount_mm: float, unit: LengthUnit) -> str:
    """Hundredths of a millimetre or thousandths of an inch: a print's width needs less."""
    if unit is LengthUnit.INCH:
        return f"{plain(amount_mm / MM_PER_INCH, 3)} in"
    return f"{plain(amount_mm, 2)} mm"
