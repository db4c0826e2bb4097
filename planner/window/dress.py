"""Dresses the application: Fusion, our palette and a small style sheet, following the system's scheme."""

from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from planner.window.look import GRID, TARGET, Tokens, Type, palette, tokens_for, type_px

_MARKS = Path(__file__).parent / "marks"


def style_sheet(tokens: Tokens, base: QFont) -> str:
    """What Fusion does not draw as we want it: edges, focus, the three roles of a button, type sizes."""
    arrow = (_MARKS / f"down-{'dark' if tokens.dark else 'light'}.svg").as_posix()
    tick = (_MARKS / f"tick-{'dark' if tokens.dark else 'light'}.svg").as_posix()
    inner = TARGET - 2
    return f"""
QLabel[type="small"], QPushButton[type="small"] {{ font-size: {type_px(base, Type.SMALL)}px; }}
QLabel[type="large"], QLineEdit[type="large"] {{
    font-size: {type_px(base, Type.LARGE)}px; font-weight: 600; }}
QLabel[strong="true"] {{ font-weight: 600; }}
QLabel[quiet="true"] {{ color: {tokens.quiet}; }}
QLabel[complaint="true"] {{ background: {tokens.field}; color: {tokens.text};
    border: 2px solid {tokens.stop}; border-radius: 3px; padding: {GRID}px; }}
QLineEdit, QPlainTextEdit, QComboBox {{
    background: {tokens.field}; color: {tokens.text};
    border: 1px solid {tokens.edge}; border-radius: 3px; padding: 0 {GRID}px; min-height: {inner}px;
    selection-background-color: {tokens.accent}; selection-color: {tokens.on_accent};
    placeholder-text-color: {tokens.quiet}; }}
QPlainTextEdit {{ padding: {GRID}px; }}
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus {{
    border: 2px solid {tokens.accent}; padding: 0 {GRID - 1}px; min-height: {inner - 2}px; }}
QLineEdit:disabled, QComboBox:disabled {{ color: {tokens.quiet}; border-color: {tokens.line};
    background: {tokens.ground}; }}
QLineEdit[quiet="true"] {{ border-color: transparent; background: transparent; }}
QLineEdit[quiet="true"]:hover {{ border-color: {tokens.edge}; }}
QLineEdit[quiet="true"]:focus {{ border-color: {tokens.accent}; background: {tokens.field}; }}
QLineEdit[wrong="true"], QLineEdit[wrong="true"]:focus {{ border: 2px solid {tokens.stop};
    padding: 0 {GRID - 1}px; min-height: {inner - 2}px; }}
QComboBox::drop-down {{ border: none; width: {5 * GRID}px; }}
QComboBox::down-arrow {{ image: url("{arrow}"); width: 10px; height: 10px; }}
QComboBox QAbstractItemView {{ background: {tokens.field}; color: {tokens.text};
    selection-background-color: {tokens.chosen}; selection-color: {tokens.text};
    border: 1px solid {tokens.edge}; outline: none; }}
QPushButton {{ color: {tokens.text}; background: {tokens.field}; border: 1px solid {tokens.edge};
    border-radius: 3px; padding: 0 {3 * GRID}px; min-height: {inner}px; }}
QPushButton:hover {{ border-color: {tokens.accent}; }}
QPushButton:pressed {{ background: {tokens.chosen}; }}
QPushButton:disabled {{ color: {tokens.quiet}; background: {tokens.ground}; border-color: {tokens.line}; }}
QPushButton:focus {{ border: 2px solid {tokens.accent}; padding: 0 {3 * GRID - 1}px;
    min-height: {inner - 2}px; }}
QPushButton[role="main"] {{ color: {tokens.on_accent}; background: {tokens.accent};
    border-color: {tokens.accent}; font-weight: 600; }}
QPushButton[role="main"]:focus {{ border: 2px solid {tokens.text}; }}
QPushButton[role="main"]:disabled {{ color: {tokens.quiet}; background: {tokens.ground};
    border-color: {tokens.line}; }}
QPushButton[role="link"] {{ color: {tokens.accent}; background: transparent; border: 1px solid transparent;
    padding: 0 {GRID}px; text-align: left; }}
QPushButton[role="link"]:hover {{ text-decoration: underline; }}
QPushButton[role="link"]:focus {{ border: 2px solid {tokens.accent}; padding: 0 {GRID - 1}px;
    min-height: {inner - 2}px; }}
QPushButton[role="link"]:disabled {{ color: {tokens.quiet}; text-decoration: none; }}
QPushButton[role="link"][opens="true"] {{ padding-right: {4 * GRID}px; }}
QPushButton::menu-indicator {{ image: url("{arrow}"); subcontrol-position: right center; right: {GRID}px;
    width: 10px; height: 10px; }}
QCheckBox {{ spacing: {2 * GRID}px; min-height: {TARGET - 4}px; }}
QCheckBox::indicator {{ width: 14px; height: 14px; background: {tokens.field};
    border: 1px solid {tokens.edge}; border-radius: 2px; }}
QCheckBox::indicator:hover, QCheckBox::indicator:focus {{ border-color: {tokens.accent}; }}
QCheckBox::indicator:checked {{ background: {tokens.accent}; border-color: {tokens.accent};
    image: url("{tick}"); }}
QCheckBox:focus {{ color: {tokens.accent}; }}
QTableWidget {{ background: {tokens.ground}; border: 2px solid {tokens.ground}; outline: none;
    selection-background-color: {tokens.chosen}; selection-color: {tokens.text}; }}
QTableWidget::item {{ padding: {GRID}px {2 * GRID}px; border-bottom: 1px solid {tokens.line}; }}
QTableWidget::item:selected {{ background: {tokens.chosen}; color: {tokens.text}; }}
QTableWidget:focus {{ border-color: {tokens.accent}; }}
QHeaderView {{ background: {tokens.ground}; }}
QHeaderView::section {{ color: {tokens.quiet}; background: {tokens.ground}; border: none;
    border-bottom: 1px solid {tokens.line}; padding: {GRID}px {2 * GRID}px; }}
QWidget[role="foot"][attention="true"] {{ background: {tokens.chosen}; }}
QFrame[role="popover"] {{ background: {tokens.ground}; border: 1px solid {tokens.edge}; }}
QListWidget {{ background: {tokens.ground}; border: none; outline: none; }}
QListWidget::item {{ min-height: {TARGET}px; padding: 0 {2 * GRID}px; }}
QListWidget::item:selected {{ background: {tokens.chosen}; color: {tokens.text}; }}
QTabWidget::pane {{ border: none; }}
QTabBar::tab {{ color: {tokens.quiet}; background: transparent; border: none;
    border-bottom: 2px solid transparent; padding: 0 {3 * GRID}px; min-height: {TARGET + 2}px; }}
QTabBar::tab:hover {{ color: {tokens.text}; }}
QTabBar::tab:selected {{ color: {tokens.text}; border-bottom: 2px solid {tokens.accent}; }}
QTabBar::tab:focus {{ background: {tokens.chosen}; }}
QSplitter::handle {{ background: {tokens.line}; }}
QSplitter::handle:hover {{ background: {tokens.accent}; }}
QScrollArea, QScrollArea > QWidget > QWidget[plain="true"] {{ background: transparent; border: none; }}
QToolTip {{ color: {tokens.text}; background: {tokens.field}; border: 1px solid {tokens.edge};
    padding: {GRID}px; }}
QFrame[role="line"] {{ background: {tokens.line}; border: none; }}
"""


class Dress(QObject):
    """Keeps the application dressed for the scheme that the system asks for."""

    changed = Signal()

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._app = app
        self._base = QFont(app.font())
        app.setStyle("Fusion")
        app.styleHints().colorSchemeChanged.connect(self._follow)
        self._follow(app.styleHints().colorScheme())

    def wear(self, *, dark: bool) -> None:
        """Dress for one scheme, whatever the system says."""
        tokens = tokens_for(dark)
        self._app.setPalette(palette(tokens))
        self._app.setStyleSheet(style_sheet(tokens, self._base))
        self.changed.emit()

    def _follow(self, scheme: Qt.ColorScheme) -> None:
        self.wear(dark=scheme is Qt.ColorScheme.Dark)
