"""One print of an artwork: on which garment line, where, how wide, from which offer, how sharp."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QWidget

from planner.artwork.judge import print_ppi
from planner.job.document import Job, Print
from planner.job.findings import FindingKind, Seriousness
from planner.job.pieces import print_size
from planner.measures.lengths import LengthUnit, format_length
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.garments import Location
from planner.window import wording
from planner.window.artwork.meter import PpiMeter
from planner.window.fields import LengthField
from planner.window.look import GRID, Type
from planner.window.names import line_name
from planner.window.widgets import button, column, label, row


class PrintRow(QWidget):
    """The controls of one print."""

    changed = Signal(str, object, str)
    """Print key, the fields that change, and the gesture."""
    removed = Signal(str)

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
        self.line = _combo(wording.GARMENT)
        self.location = _combo(wording.LOCATION)
        self.print_width = LengthField(wording.PRINT_WIDTH, 100.0, LengthUnit.INCH)
        self.height_label = label(size=Type.SMALL, quiet=True)
        self.offer = _combo(wording.PRINT_OFFER)
        self.meter = PpiMeter()
        self._lines: tuple[str, ...] = ()
        self._offers: tuple[str | None, ...] = ()
        self.location.addItems([location.value for location in Location])
        self._build()
        self.line.activated.connect(lambda at: self._emit(line=self._lines[at]))
        self.location.activated.connect(lambda at: self._emit(location=list(Location)[at]))
        self.offer.activated.connect(lambda at: self._emit(offer=self._offers[at]))
        self.print_width.edited.connect(
            lambda width_mm, gesture: self.changed.emit(self.key, {"width_mm": width_mm}, gesture)
        )

    def show_print(self, job: Job, shop: Shop, plan: Plan, print_: Print) -> None:
        """Show one print as the job has it."""
        self._lines = tuple(line.key for line in job.lines)
        _fill(self.line, [line_name(job, line) for line in job.lines], self._lines.index(print_.line))
        self.location.setCurrentIndex(list(Location).index(print_.location))
        self.print_width.show_length(print_.width_mm, shop.unit)
        artwork = job.artwork(print_.artwork)
        height_mm = print_size(artwork, print_.width_mm).height_mm
        self.height_label.setText(f"{wording.WIDE} × {format_length(height_mm, shop.unit)}")
        self._offers = (None, *(offer.key for offer in shop.offers))
        own = self._offers.index(print_.offer) if print_.offer in self._offers else 0
        _fill(self.offer, [wording.AS_THE_JOB, *(offer.name for offer in shop.offers)], own)
        self._show_meter(job, shop, plan, print_)

    def _show_meter(self, job: Job, shop: Shop, plan: Plan, print_: Print) -> None:
        artwork = job.artwork(print_.artwork)
        if artwork.vector:
            self.meter.show_vector()
            return
        offer = shop.offer(job.offer_of(print_) or "")
        need = offer.art.needs_ppi if offer else 300.0
        width = format_length(print_.width_mm, shop.unit)
        self.meter.show_ppi(
            print_ppi(artwork, print_),
            need,
            coarse_finding(plan, print_.key),
            wording.meter_how(artwork.size_px[0], width, need),
        )

    def _build(self) -> None:
        remove = button(wording.REMOVE_PRINT, lambda: self.removed.emit(self.key), role="link")
        remove.setText("×")
        remove.setToolTip(wording.REMOVE_PRINT)
        remove.setFixedWidth(7 * GRID)
        place = row(space=GRID)
        place.addWidget(self.line, 1)
        place.addWidget(self.location, 1)
        place.addWidget(remove)
        size = row(space=GRID)
        size.addWidget(self.print_width)
        size.addWidget(self.height_label)
        size.addStretch(1)
        size.addWidget(self.offer)
        whole = column(space=GRID)
        whole.addLayout(place)
        whole.addLayout(size)
        whole.addWidget(self.meter)
        self.setLayout(whole)

    def _emit(self, **fields: object) -> None:
        self.changed.emit(self.key, fields, "")


def coarse_finding(plan: Plan, print_key: str) -> Seriousness | None:
    """How serious the plan takes a print's resolution, decided or not."""
    return next(
        (
            finding.seriousness
            for finding in (*plan.findings, *plan.decided)
            if finding.print == print_key and finding.kind is FindingKind.TOO_COARSE
        ),
        None,
    )


def _combo(name: str) -> QComboBox:
    made = QComboBox()
    made.setAccessibleName(name)
    made.setToolTip(name)
    made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    made.setMinimumContentsLength(9)
    return made


def _fill(combo: QComboBox, names: list[str], current: int) -> None:
    if [combo.itemText(at) for at in range(combo.count())] != names:
        combo.clear()
        combo.addItems(names)
    combo.setCurrentIndex(current)
