"""One press card: the settings large, the steps in order, the cautions always beside them."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QLabel, QSizePolicy, QWidget

from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.measures.lengths import LengthUnit, format_length, format_size
from planner.measures.temperature import format_temperature
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.plan.wording_press import over_label, pressings, to_the_side
from planner.pressing.card import Edge, PressCard, SizeToPress
from planner.shop.book import Shop
from planner.window.flow import Flow
from planner.window.look import APART, GRID, RELATED, Type, tokens_of
from planner.window.names import line_name
from planner.window.press import words
from planner.window.widgets import StatusMark, column, emptied, held, label, row


class _Figure(QWidget):
    """A setting: the figure large, what it is beneath."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.figure = label("", Type.LARGE)
        inside = column(space=0)
        inside.addWidget(self.figure)
        inside.addWidget(label(name, Type.SMALL, quiet=True))
        self.setLayout(inside)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)


class Cautions(QFrame):
    """Cautions of a card, marked off by a two-tone stripe that no one mistakes for decoration."""

    def __init__(self) -> None:
        super().__init__()
        self._lines = column(space=GRID)
        whole = column(space=GRID)
        whole.setContentsMargins(APART, RELATED, RELATED, RELATED)
        whole.addWidget(label(words.CAUTION, strong=True))
        whole.addLayout(self._lines)
        self.setLayout(whole)
        self.sentences: tuple[str, ...] = ()

    def show_cautions(self, said: tuple[str, ...]) -> None:
        if said != self.sentences:
            self.sentences = said
            emptied(self._lines)
            for sentence in said:
                self._lines.addWidget(label(sentence, Type.SMALL, wrap=True))

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.field))
        painter.setClipRect(QRectF(0, 0, 6, self.height()))
        painter.fillRect(QRectF(0, 0, 6, self.height()), QColor("#ffffff" if tokens.dark else "#f6e3d4"))
        pen = painter.pen()
        pen.setColor(QColor(tokens.stop))
        pen.setWidthF(4)
        painter.setPen(pen)
        for y in range(-12, self.height() + 12, 12):
            painter.drawLine(-2, y + 10, 10, y - 2)
        painter.end()


class CardView(QWidget):
    """Settings, steps and cautions of one print on one garment line."""

    def __init__(self) -> None:
        super().__init__()
        self.title = label("", Type.LARGE, wrap=True)
        self.subtitle = label("", quiet=True, wrap=True)
        self.heat, self.time = _Figure(words.TEMPERATURE), _Figure(words.TIME)
        self.pressure, self.peel = _Figure(words.PRESSURE), _Figure(words.PEEL)
        self.warning = QWidget()
        self._warning_words = label("", wrap=True)
        warned = row()
        self._mark = StatusMark(Seriousness.STOP)
        warned.addWidget(self._mark)
        warned.addWidget(self._warning_words, 1)
        self.warning.setLayout(warned)
        self._steps = column(space=GRID)
        self.cautions = Cautions()
        figures = Flow(across=APART, down=RELATED)
        for figure in (self.heat, self.time, self.pressure, self.peel):
            figures.addWidget(figure)
        whole = column(space=RELATED)
        whole.addWidget(self.title)
        whole.addWidget(self.subtitle)
        whole.addLayout(figures)
        whole.addWidget(self.warning)
        whole.addSpacing(GRID)
        whole.addLayout(self._steps)
        whole.addSpacing(GRID)
        whole.addWidget(self.cautions)
        whole.addStretch(1)
        self.setLayout(whole)
        self.steps: tuple[str, ...] = ()

    def show_card(self, card: PressCard, job: Job, shop: Shop) -> None:
        place = sentences.place(card.location, card.place_name)
        offer = shop.offer(card.offer)
        press = next((press.name for press in shop.presses if press.key == card.press), "")
        self.title.setText(f"{place[:1].upper()}{place[1:]}, {line_name(job, job.line(card.line))}")
        self.subtitle.setText(" · ".join(filter(None, (offer.name if offer else "", press))))
        self.heat.figure.setText(format_temperature(card.setting_c))
        self.time.figure.setText(sentences.seconds(card.press_s))
        self.pressure.figure.setText(kind_name(card.pressure))
        self.peel.figure.setText(kind_name(card.peel))
        self.warning.setVisible(card.over_label)
        self._mark.show_seriousness(Seriousness.NOTE if card.label_decision else Seriousness.STOP)
        self._warning_words.setText(over_label(card))
        said = tuple(_step_words(card, shop.unit))
        if said != self.steps:
            self.steps = said
            emptied(self._steps)
            for number, sentence in enumerate(said, 1):
                self._steps.addWidget(_numbered(number, sentence))
        self.cautions.show_cautions(tuple(sentences.caution(caution) for caution in card.cautions))


def _numbered(number: int, sentence: str) -> QWidget:
    inside = row()
    figure = QLabel(f"{number}")
    figure.setProperty("quiet", True)
    figure.setFixedWidth(5 * GRID)
    inside.addWidget(figure, 0, Qt.AlignmentFlag.AlignTop)
    inside.addWidget(label(sentence, wrap=True), 1)
    return held(inside)


def _step_words(card: PressCard, unit: LengthUnit) -> list[str]:
    said = [sentences.press_step(step) for step in card.steps]
    alike: dict[str, list[str]] = {}
    for size in card.sizes:
        alike.setdefault(_how(card, size, unit), []).append(f"{size.size}: {size.count}")
    if len(alike) > 1:
        said.insert(0, words.sort_by_size(alike))
    return said


def _how(card: PressCard, size: SizeToPress, unit: LengthUnit) -> str:
    """ "8 × 4.78 in, 2 in below collar seam, on the centre line"."""
    above = card.measured_to is Edge.BOTTOM
    place = words.from_mark(format_length(size.top_mm, unit), card.measured_from, above=above)
    said = f"{format_size(size.width_mm, size.height_mm, unit)}, {place}, {to_the_side(size.aside_mm, unit)}"
    return said if size.pressings == card.pressings else f"{said}, {pressings(size.pressings)}"
