"""The sheets panel: canvas, rulers, commands and strip. It shows layouts and tells of edits to them."""

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QMenu, QStackedWidget, QToolTip, QWidget

from planner.job.document import Job
from planner.measures.geometry import Rect
from planner.measures.lengths import LengthUnit
from planner.plan.model import Plan
from planner.plan.wording import count
from planner.sheets.outline import Outline
from planner.shop.book import Shop
from planner.window import meanings
from planner.window.look import GRID, RELATED, Type, tokens_of
from planner.window.pixmaps import PictureSource
from planner.window.sheet import words
from planner.window.sheet.acts import Act
from planner.window.sheet.bar_place import BarPlace
from planner.window.sheet.bench import BenchScene
from planner.window.sheet.canvas import Canvas
from planner.window.sheet.commands import PLACING, Commands
from planner.window.sheet.cut_list import CutList
from planner.window.sheet.drag import Drag, bounds_on_sheet
from planner.window.sheet.empty import Empty
from planner.window.sheet.facts import OfferShown, offers_shown, piece_facts
from planner.window.sheet.glide import Glide
from planner.window.sheet.hand import Hand
from planner.window.sheet.items import PieceItem
from planner.window.sheet.measure_screen import MeasureScreen
from planner.window.sheet.menus import fill_align, fill_context, fill_sheets, fill_zoom
from planner.window.sheet.next_step import next_step
from planner.window.sheet.over_strip import OverStrip
from planner.window.sheet.piece_words import chosen_words, piece_hint, sheet_words, tally_words
from planner.window.sheet.places import Spot
from planner.window.sheet.rows import (
    ArrangeRow,
    FaultBar,
    FocusFrame,
    InfoRow,
    SearchLine,
    command_button,
    menu_button,
)
from planner.window.sheet.rulers import THICK_PX, Rulers
from planner.window.sheet.strip import Strip
from planner.window.sheet.watch import Watch
from planner.window.widgets import column, label, line, row

_LOW_PX = 560
"""In a panel lower than this the strip gives height to the canvas."""


class SheetsPanel(QWidget):
    """Shows every sheet of the plan; a gesture ends in one `layouts_edited` and changes nothing itself."""

    layouts_edited = Signal(str, object, str, str)
    """Offer key, its layouts after the edit, the undo step's title, and the gesture it belongs to."""
    arrange_requested = Signal()
    arrange_stopped = Signal()
    """Take the best sheets found so far."""
    arrange_dropped = Signal()
    """Stop searching and take nothing."""
    screen_measured = Signal(object)
    """Pixels to the inch of the screen as somebody measured it; None to forget that."""

    def __init__(self) -> None:
        super().__init__()
        self.bench = BenchScene()
        self.canvas = Canvas(self.bench)
        self.strip = Strip(self.bench)
        self._over_strip = OverStrip(self.strip)
        self.info, self.arrange, self.bar = InfoRow(), ArrangeRow(), FaultBar()
        self._line, self._glide = SearchLine(), Glide(self.canvas)
        self.cut_list = CutList()
        self._rulers = Rulers()
        self.commands = Commands(self.canvas, self._do)
        self.hand = Hand(self.canvas, self._tell)
        self._watch = Watch(self.canvas, self.hand, self.bar)
        self._shown: tuple[OfferShown, ...] = ()
        self._preview: tuple[OfferShown, ...] | None = None
        self._searching = False
        self._unit = LengthUnit.INCH
        self.empty = Empty(self.arrange_requested.emit)
        self._build()
        self._wire()
        self._refresh()

    def set_picture_source(self, source: PictureSource) -> None:
        """Where pictures come from: called with an artwork key and the longest side wanted in pixels."""
        self.bench.pictures.set_source(source)
        self.pictures_changed()

    def pictures_changed(self) -> None:
        """Ask for the pictures again: some were not there yet, or artwork was mended."""
        self.bench.pictures.forget()
        self.canvas.viewport().update()
        self.strip.refresh()

    def set_outlines(self, outlines: Mapping[str, Outline]) -> None:
        """Outlines by piece key (mm, unturned), so that sheets cut by outline are judged by them."""
        if self.bench.set_outlines(outlines):
            self._refresh()

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show a job's sheets as its plan has them. May be called again with the same; tells nothing."""
        self._unit = shop.unit
        self._shown = offers_shown(job, shop, plan)
        self.bench.facts = piece_facts(job)
        self.empty.say(*next_step(job, shop, plan))
        # A hand that holds a piece is not interrupted, unless its sheets changed beneath it.
        if self.canvas.is_dragging and self._shown == self.bench.offers:
            return
        self.canvas.take_back()
        self._refresh()

    def show_search(self, best: Any, running: bool, done: int, of: int) -> None:
        """Show a running search: how far it is, and its best sheets so far where it has some.

        `best` is a `planner.buying.purchase.Purchase`, or None. Sheets cannot be edited meanwhile.
        """
        self._preview, self._searching = None, running
        orders = getattr(best, "orders", ()) if running else ()
        if orders:
            by_key = {order.offer: order.layouts for order in orders}
            self._preview = tuple(
                offer.showing(by_key[offer.key], searching=True) if by_key.get(offer.key) else offer
                for offer in self._shown
            )
        sheets = count(sum(order.sheets for order in orders), "sheet")
        yours = sum(offer.sheets for offer in self._shown if not offer.provisional)
        told = words.searching(sheets, yours) if orders else words.SEARCHING
        # Away before the sentence comes: both at once would widen the whole window.
        if running:
            self._show_commands(False)
        self.arrange.show_running(running, told)
        self._line.show_share(done / of if running and of else 0.0)
        self._refresh()

    def _build(self) -> None:
        tools = row(space=GRID)
        tools.setContentsMargins(RELATED, GRID, RELATED, GRID)
        tools.addWidget(self.arrange)
        self._hands = [command_button(self.commands[key]) for key in ("turn", "duplicate", "remove", "pin")]
        *others, pin = self._hands
        for tool in others:
            tools.addWidget(tool)
        self._to_sheet = menu_button(words.TO_SHEET, self._fill_sheets, words.TO_SHEET_HINT)
        self._align = menu_button(
            words.ALIGN,
            lambda menu: fill_align(menu, self.commands),
            words.ALIGN_HINT,
        )
        tools.addWidget(self._to_sheet)
        tools.addWidget(self._align)
        # Last: its word changes with what is chosen, and what stood behind it would move each time.
        tools.addWidget(pin)
        tools.addStretch(1)
        self._zoom = menu_button("100 %", lambda menu: fill_zoom(menu, self.commands), words.ZOOM_HINT)
        tools.addWidget(self._zoom)
        whole = column(space=0)
        whole.addLayout(tools)
        whole.addWidget(self._line)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._bench_widget())
        self._stack.addWidget(self.empty)
        whole.addWidget(self._stack, 1)
        self._foot = QWidget()
        below = column(space=GRID)
        below.setContentsMargins(0, GRID, 0, 0)
        below.addWidget(self.info)
        below.addWidget(line())
        below.addWidget(self.strip)
        self._foot.setLayout(below)
        whole.addWidget(self._foot)
        self.setLayout(whole)

    def _bench_widget(self) -> QWidget:
        """Canvas and rulers, the bar that tells of faults over the canvas."""
        grid = QGridLayout()
        grid.setSpacing(0)
        grid.setContentsMargins(0, 0, 0, 0)
        self._corner = label("", Type.SMALL, quiet=True)
        self._corner.setFixedSize(THICK_PX, THICK_PX)
        self._corner.setAlignment(Qt.AlignmentFlag.AlignCenter)
        grid.addWidget(self._corner, 0, 0)
        grid.addWidget(self._rulers.top, 0, 1)
        grid.addWidget(self._rulers.side, 1, 0)
        grid.addWidget(FocusFrame(self.canvas), 1, 1)
        grid.addWidget(self.cut_list, 0, 2, 2, 1)
        self._bar_place = BarPlace(self.bar, self.canvas, grid, (1, 1))
        bench = QWidget()
        bench.setLayout(grid)
        return bench

    def _wire(self) -> None:
        self.arrange.arrange_pressed.connect(self.arrange_requested)
        self.arrange.stop_pressed.connect(self.arrange_stopped)
        self.arrange.keep_pressed.connect(self.arrange_dropped)
        self.canvas.dropped.connect(self._drop)
        self.canvas.pressed.connect(self._glide.finish)
        self.canvas.nudged.connect(self.hand.nudge)
        self.canvas.choice_changed.connect(self._choice_changed)
        self.canvas.view_changed.connect(self._show_view)
        self.canvas.pointer_moved.connect(self._show_pointer)
        self.canvas.dragged.connect(self._show_drag)
        self.canvas.let_go.connect(self._over_strip.let_go)
        self._rulers.top.scrolled.connect(lambda px: self.canvas.pan(px, 0))
        self._rulers.side.scrolled.connect(lambda px: self.canvas.pan(0, px))
        self.canvas.menu_asked.connect(self._open_menu)
        self.canvas.hint_wanted.connect(self._show_hint)
        self.info.placed.connect(self.hand.place)
        self.info.turned.connect(self.hand.turn_to)
        self.bar.settle_pressed.connect(self._settle)
        self.cut_list.cut_chosen.connect(self.bench.cuts.choose)
        self.strip.sheet_chosen.connect(self.canvas.go_to)
        self.strip.runs_edited.connect(self.hand.set_runs)

    def _refresh(self) -> None:
        """Everything on screen from what is shown."""
        self._show_bench()
        self._show_choice()

    def _show_bench(self) -> None:
        """The sheets, and what is of use beside them."""
        self._glide.finish()
        had = bool(self.bench.spots)
        was = [(spot.offer, spot.size) for spot in self.bench.spots]
        tokens = tokens_of(self)
        self.canvas.setBackgroundBrush(QColor(tokens.canvas))
        offers = self._preview or self._shown
        self.canvas.locked = self._preview is not None
        self.bench.show_offers(offers, self.bench.facts, self._unit, tokens, self.font())
        self._corner.setText(self._unit.value)
        some = bool(self.bench.spots)
        self._stack.setCurrentIndex(0 if some else 1)
        self._show_commands(some and not self._searching)
        for widget in (self._zoom, self._foot):
            widget.setVisible(some)
        self.arrange.arrange.setEnabled(some or self.empty.can_arrange)
        self.canvas.room_to_pan()
        now = self.canvas.current
        same = [
            spot for spot in self.bench.spots if now and (spot.offer, spot.sheet) == (now.offer, now.sheet)
        ]
        self.canvas.make_current(same[0] if same else next(iter(self.bench.spots), None))
        if self.bench.spots and (not had or was != [(spot.offer, spot.size) for spot in self.bench.spots]):
            self.canvas.refit(whole=not had)

    def _show_commands(self, shown: bool) -> None:
        """Beside what a running search says there is no room for commands that it keeps from working."""
        for widget in (*self._hands, self._to_sheet, self._align):
            widget.setVisible(shown)

    def _choice_changed(self) -> None:
        self.hand.begin_anew()
        self._watch.forget()
        self._show_choice()

    def _show_choice(self) -> None:
        """Words, place, strip and commands for what is chosen now."""
        pieces = self.bench.chosen()
        locked, current = self.canvas.locked, self.canvas.current
        self.commands.allow(
            len(pieces),
            locked=locked,
            may_turn=all(piece.facts is None or piece.facts.may_turn for piece in pieces),
            pins=not pieces or not all(piece.placement.pinned for piece in pieces),
            faulty=self._watch.is_faulty(pieces),
            cuts=self.bench.with_cuts if self.bench.is_cut_straight(current) else None,
        )
        for menu in (self._to_sheet, self._align):
            menu.setEnabled(bool(pieces) and not locked)
        if pieces:
            self.info.show_words(chosen_words(pieces, self._unit))
            box = bounds_on_sheet(pieces) if len({(p.offer, p.ref.sheet) for p in pieces}) == 1 else None
            self.info.show_place(box.x_mm if box else None, box.y_mm if box else None, self._unit)
        elif current is not None:
            offer = self.bench.offer(current.offer)
            told = sheet_words(offer, current.sheet, self._unit)
            self.info.show_words(told, f"{told}\n{meanings.SPARES}" if tally_words(offer) else told)
            self.info.show_place(None, None, self._unit)
        self.info.show_angle(self.hand.free_angle())
        self.info.setEnabled(not locked)
        self.strip.setEnabled(not locked)
        self.strip.show_sheets(self.bench.offers, self.bench.spots, current)
        if current is not None:
            self.strip.bring_into_view(self.bench.spots.index(current))
        self._watch.look()
        self._bar_place.keep_clear(self._watch.told_of)

    def _show_view(self) -> None:
        """Rulers and zoom after scrolling, zooming or a change of sheet."""
        spot = self.canvas.current
        self._zoom.setText(f"{self.canvas.percent:.0f} %")
        self.cut_list.show_cuts(self.bench.cuts_of(spot), self._unit)
        self._bar_place.keep_clear(self._watch.told_of)
        if spot is None:
            return
        pieces = [p for p in self.bench.chosen() if (p.offer, p.ref.sheet) == (spot.offer, spot.sheet)]
        self._show_rulers(spot, bounds_on_sheet(pieces) if pieces else None)

    def _show_rulers(self, spot: Spot, box: Rect | None) -> None:
        corner = self.canvas.viewportTransform().map(spot.origin)
        self._rulers.show_sheet(corner, self.canvas.px_per_mm, spot.size, box, self._unit)

    def _show_pointer(self, point: QPointF | None) -> None:
        self._rulers.show_pointer(None if point is None else self.canvas.viewportTransform().map(point))

    def _show_drag(self, drag: Drag, at: QPoint) -> None:
        """Where the pieces under the hand are now; over the strip they lie where they were."""
        self._over_strip.hold(at, drag.offer)
        if self._over_strip.is_held:
            drag.take_back()
        refused = self._over_strip.refuses(drag)
        shape = Qt.CursorShape.ForbiddenCursor if refused else Qt.CursorShape.ArrowCursor
        self.canvas.viewport().setCursor(shape)
        spot, box = drag.whereabouts()
        if spot is None:
            self.info.show_place(None, None, self._unit)
            return
        self.info.show_place(box.x_mm, box.y_mm, self._unit)
        if self.canvas.current != spot:
            self.canvas.make_current(spot)
        self._show_rulers(spot, box)

    def _show_hint(self, piece: PieceItem | None, at: QPoint) -> None:
        if piece is not None:
            QToolTip.showText(at, piece_hint(piece, self._unit), self.canvas)

    def _tell(self, offer: str, done: Act, gesture: str) -> None:
        """Show an edit and tell of it; what the plan makes of it is shown when it comes."""
        self._shown = tuple(
            shown.showing(done.layouts) if shown.key == offer else shown for shown in self._shown
        )
        self.bench.choose([])
        # Between the two nothing is chosen: fields hidden for that would lose the cursor.
        self._show_bench()
        self.hand.choose(offer, done.refs)
        self.canvas.find_chosen()
        self.layouts_edited.emit(offer, done.layouts, done.title, gesture)
        self._show_choice()

    def _drop(self, drag: Drag) -> None:
        if not self._over_strip.is_held:
            if not drag.strays():
                self.hand.drop(drag)
                return
        elif not self._over_strip.refuses(drag):
            drag.take_back()
            if (card := self._over_strip.target) is not None:
                self.hand.send_to(card.sheet)
            return
        drag.take_back()
        self._watch.stray(drag)
        self._show_choice()

    def _do(self, key: str) -> None:
        """Carry out a command by its key."""
        views = {
            "fit": self.canvas.fit,
            "fit chosen": self.canvas.fit_chosen,
            "real size": self.canvas.show_real_size,
            "in": lambda: self.canvas.zoom_by(1),
            "out": lambda: self.canvas.zoom_by(-1),
            "cloth": lambda: self.bench.show_on_cloth(self.commands["cloth"].isChecked()),
            "cuts": self._show_cuts,
            "measure screen": self._measure_screen,
            "all": self.hand.choose_sheet,
            "same": self.hand.choose_same,
            "next too": self.hand.choose_next_too,
        }
        if key in views:
            views[key]()
            return
        starts = {piece: QPointF(piece.pos()) for piece in self.bench.chosen()}
        self.hand.edit(key)
        if key in PLACING:
            self._glide.begin(starts)

    def _settle(self) -> None:
        # The button goes with the fault: on the sheets the piece can be moved on.
        self.canvas.setFocus()
        self._do("settle")

    def _show_cuts(self) -> None:
        self.bench.with_cuts = self.commands["cuts"].isChecked()
        self.canvas.make_current(self.canvas.current)

    def _measure_screen(self) -> None:
        asking = MeasureScreen(self.window(), self._unit)
        asking.measured.connect(self._take_measure)
        asking.open_below(self._zoom, asking.slider)

    def _take_measure(self, ppi: float | None) -> None:
        self.screen_measured.emit(ppi)
        self.canvas.show_real_size()

    def _offer_chosen(self) -> OfferShown | None:
        """The offer of what is chosen; None where nothing is, or nothing may be edited."""
        pieces = self.bench.chosen()
        return self.bench.offer(pieces[0].offer) if pieces and not self.canvas.locked else None

    def _fill_sheets(self, menu: QMenu) -> None:
        offer = self._offer_chosen()
        if offer is not None:
            fill_sheets(menu, self.bench, offer, self.hand)

    def _open_menu(self, at: QPoint) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        fill_context(menu, self.commands, self.hand, self.bench, self._offer_chosen())
        menu.popup(at)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.strip.set_small(self.height() < _LOW_PX)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._refresh()
