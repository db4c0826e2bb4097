"""The sheets panel: canvas, rulers, commands and strip. It shows layouts and tells of edits to them."""

from collections.abc import Collection, Mapping
from typing import Any

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QMenu, QStackedLayout, QToolTip, QWidget

from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.measures.geometry import Rect
from planner.measures.layout import Placement
from planner.measures.lengths import LengthUnit
from planner.plan.model import Plan
from planner.plan.wording import count
from planner.shop.book import Shop
from planner.window.look import APART, GRID, RELATED, Type, tokens_of
from planner.window.pixmaps import PictureSource
from planner.window.sheet import moves
from planner.window.sheet.acts import Act, act, to_sheet
from planner.window.sheet.bench import BenchScene, Spot
from planner.window.sheet.canvas import Canvas
from planner.window.sheet.commands import Commands
from planner.window.sheet.drag import Drag, bounds_on_sheet
from planner.window.sheet.empty import Empty
from planner.window.sheet.facts import OfferShown, facts_of, next_step, offers_shown, piece_facts
from planner.window.sheet.items import PieceItem
from planner.window.sheet.moves import Ref
from planner.window.sheet.rows import ArrangeRow, FaultBar, InfoRow, SearchLine, command_button, menu_button
from planner.window.sheet.rulers import THICK_PX, Ruler
from planner.window.sheet.strip import Strip
from planner.window.sheet.words import chosen_words, piece_hint, sheet_words, stray_words, tally_words
from planner.window.widgets import column, label, line, row

_LOW_PX = 560
"""In a panel lower than this the strip gives height to the canvas."""


class SheetsPanel(QWidget):
    """Shows every sheet of the plan; a gesture ends in one `layouts_edited` and changes nothing itself."""

    layouts_edited = Signal(str, object, str, str)
    """Offer key, its layouts after the edit, the undo step's title, and the gesture it belongs to."""
    arrange_requested = Signal()
    arrange_stopped = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.bench = BenchScene()
        self.canvas = Canvas(self.bench)
        self.strip = Strip(self.bench)
        self.info, self.arrange, self.bar = InfoRow(), ArrangeRow(), FaultBar()
        self._line = SearchLine()
        self._top, self._side = Ruler(upright=False), Ruler(upright=True)
        self.commands = Commands(self.canvas, self._do)
        self._shown: tuple[OfferShown, ...] = ()
        self._preview: tuple[OfferShown, ...] | None = None
        self._unit = LengthUnit.INCH
        self._gestures = 0
        self._merges = ""
        self._strayed = ""
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

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show a job's sheets as its plan has them. May be called again with the same; tells nothing."""
        self._unit = shop.unit
        self._shown = offers_shown(job, shop, plan)
        self.bench.facts = piece_facts(job)
        self.empty.say(*next_step(job, plan))
        # A hand that holds a piece is not interrupted; the release shows what is new.
        if not self.canvas.is_dragging:
            self._refresh()

    def show_search(self, best: Any, running: bool, done: int, of: int) -> None:
        """Show a running search: how far it is, and its best sheets so far where it has some.

        `best` is a `planner.buying.purchase.Purchase`, or None. Sheets cannot be edited meanwhile.
        """
        self._preview = None
        orders = getattr(best, "orders", ()) if running else ()
        if orders:
            by_key = {order.offer: order.layouts for order in orders}
            self._preview = tuple(
                offer.showing(by_key[offer.key], searching=True) if by_key.get(offer.key) else offer
                for offer in self._shown
            )
        words = "Searching"
        if orders:
            words = f"Searching: {count(sum(order.sheets for order in orders), 'sheet')} so far"
        self.arrange.show_running(running, words)
        self._line.show_share(done / of if running and of else 0.0)
        self._refresh()

    def send_to(self, sheet: int | None) -> None:
        """Move the chosen pieces to another sheet of their offer; None is a new one."""
        for offer, refs in self._chosen_by_offer().items():
            shown = self.bench.offer(offer)
            done = to_sheet(shown.layouts, refs, sheet, shown.room)
            if done is not None:
                self._tell(offer, done)

    # Building.

    def _build(self) -> None:
        tools = row(space=GRID)
        tools.setContentsMargins(RELATED, GRID, RELATED, GRID)
        tools.addWidget(self.arrange)
        tools.addSpacing(RELATED)
        self._hands = [command_button(self.commands[key]) for key in ("turn", "duplicate", "remove", "pin")]
        for tool in self._hands:
            tools.addWidget(tool)
        self._to_sheet = menu_button("To sheet", self._fill_sheets, "Move the chosen pieces to another sheet")
        self._align = menu_button("Align", self._fill_align, "Bring pieces in line or space them equally")
        tools.addWidget(self._to_sheet)
        tools.addWidget(self._align)
        tools.addStretch(1)
        self._zoom = menu_button("100 %", self._fill_zoom, "How large the sheets are drawn")
        tools.addWidget(self._zoom)
        grid = QGridLayout()
        grid.setSpacing(0)
        grid.setContentsMargins(0, 0, 0, 0)
        self._corner = label("", Type.SMALL, quiet=True)
        self._corner.setFixedSize(THICK_PX, THICK_PX)
        self._corner.setAlignment(Qt.AlignmentFlag.AlignCenter)
        grid.addWidget(self._corner, 0, 0)
        grid.addWidget(self._top, 0, 1)
        grid.addWidget(self._side, 1, 0)
        grid.addWidget(self.canvas, 1, 1)
        over = column(edge=APART)
        over.addWidget(self.bar)
        grid.addLayout(over, 1, 1, Qt.AlignmentFlag.AlignBottom)
        whole = column(space=0)
        whole.addLayout(tools)
        whole.addWidget(self._line)
        bench = QWidget()
        bench.setLayout(grid)
        self._stack = QStackedLayout()
        self._stack.addWidget(bench)
        self._stack.addWidget(self.empty)
        whole.addLayout(self._stack, 1)
        self._foot = QWidget()
        below = column(space=GRID)
        below.setContentsMargins(0, GRID, 0, 0)
        below.addWidget(self.info)
        below.addWidget(line())
        below.addWidget(self.strip)
        self._foot.setLayout(below)
        whole.addWidget(self._foot)
        self.setLayout(whole)

    def _wire(self) -> None:
        self.arrange.arrange_pressed.connect(self.arrange_requested)
        self.arrange.stop_pressed.connect(self.arrange_stopped)
        self.canvas.dropped.connect(self._drop)
        self.canvas.nudged.connect(self._nudge)
        self.canvas.choice_changed.connect(self._choice_changed)
        self.canvas.view_changed.connect(self._show_view)
        self.canvas.pointer_moved.connect(self._show_pointer)
        self.canvas.dragged.connect(self._show_drag)
        self.canvas.menu_asked.connect(self._open_menu)
        self.canvas.hint_wanted.connect(self._show_hint)
        self.info.placed.connect(self._place)
        self.bar.settle_pressed.connect(lambda: self._do("settle"))
        self.bar.show_pressed.connect(self._show_fault)
        self.strip.sheet_chosen.connect(self.canvas.go_to)
        self.strip.runs_edited.connect(self._set_runs)

    # Showing.

    def _refresh(self) -> None:
        """Everything on screen from what is shown."""
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
        for widget in (*self._hands, self._to_sheet, self._align, self._zoom, self._foot):
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
        self._show_choice()

    def _choice_changed(self) -> None:
        self._merges = self._strayed = ""
        self._show_choice()

    def _show_choice(self) -> None:
        """Words, place, strip and commands for what is chosen now."""
        pieces = self.bench.chosen()
        locked = self.canvas.locked
        self.commands.allow(
            len(pieces),
            locked=locked,
            may_turn=all(piece.facts is None or piece.facts.may_turn for piece in pieces),
            pins=not pieces or not all(piece.placement.pinned for piece in pieces),
            faulty=self._faulty(pieces),
        )
        for menu in (self._to_sheet, self._align):
            menu.setEnabled(bool(pieces) and not locked)
        current = self.canvas.current
        if pieces:
            self.info.show_words(chosen_words(pieces, self._unit))
            box = bounds_on_sheet(pieces) if len({(p.offer, p.ref.sheet) for p in pieces}) == 1 else None
            self.info.show_place(box.x_mm if box else None, box.y_mm if box else None, self._unit)
        elif current is not None:
            offer = self.bench.offer(current.offer)
            tally = tally_words(offer, lambda key: facts_of(self.bench.facts, key).name)
            self.info.show_words(
                " · ".join(filter(None, (sheet_words(offer, current.sheet, self._unit), tally)))
            )
            self.info.show_place(None, None, self._unit)
        self.info.setEnabled(not locked)
        self.strip.setEnabled(not locked)
        self.strip.show_sheets(self.bench.offers, self.bench.spots, current)
        if current is not None:
            self.strip.bring_into_view(self.bench.spots.index(current))
        self._show_faults(pieces)

    def _faulty(self, pieces: Collection[PieceItem]) -> bool:
        return any(
            piece.ref.piece in mark.indices
            for piece in pieces
            for mark in self.bench.marks_on(self.bench.spot(piece.offer, piece.ref.sheet))
        )

    def _show_faults(self, pieces: list[PieceItem]) -> None:
        """The chosen pieces' first fault with a way out; else the first of any sheet, and how many more."""
        found = [(spot, mark) for spot in self.bench.spots for mark in self.bench.marks_on(spot)]
        own = {(piece.offer, piece.ref) for piece in pieces}
        ours = [
            (spot, mark)
            for spot, mark in found
            if any((spot.offer, Ref(spot.sheet, number)) in own for number in mark.indices)
        ]
        self.bench.offer_spot(())
        if self._strayed:
            self.bar.say(self._strayed, seriousness=Seriousness.NOTE, settle=False, show=False)
            return
        if not found or self.canvas.locked:
            self.bar.say("", seriousness=Seriousness.STOP, settle=False, show=False)
            return
        spot, mark = (ours or found)[0]
        more = len(ours or found) - 1
        words = mark.sentence if ours else f"Sheet {spot.sheet + 1}: {mark.sentence}"
        if more:
            words += f" {count(more, 'more fault')}."
        settles = bool(ours) and self._offer_spot(pieces)
        self.bar.say(words, seriousness=Seriousness.STOP, settle=settles, show=not ours)

    def _offer_spot(self, pieces: list[PieceItem]) -> bool:
        """Outline where the chosen pieces could go; False where there is no room on their sheets."""
        offer = self.bench.offer(pieces[0].offer)
        refs = [piece.ref for piece in pieces if piece.offer == offer.key]
        settled = moves.settled(offer.layouts, refs, offer.room)
        if settled is None:
            return False
        boxes = []
        for ref in refs:
            spot, placement = self.bench.spot(offer.key, ref.sheet), moves.placement_at(settled, ref)
            box = placement.box
            at = spot.origin + QPointF(box.x_mm, box.y_mm)
            boxes.append(QRectF(at.x(), at.y(), box.width_mm, box.height_mm))
        self.bench.offer_spot(boxes)
        return True

    def _show_view(self) -> None:
        """Rulers and zoom after scrolling, zooming or a change of sheet."""
        spot = self.canvas.current
        self._zoom.setText(f"{self.canvas.percent:.0f} %")
        if spot is None:
            return
        pieces = [p for p in self.bench.chosen() if (p.offer, p.ref.sheet) == (spot.offer, spot.sheet)]
        self._show_rulers(spot, bounds_on_sheet(pieces) if pieces else None)

    def _show_rulers(self, spot: Spot, box: Rect | None) -> None:
        corner, scale = self.canvas.viewportTransform().map(spot.origin), self.canvas.px_per_mm
        for ruler, origin_px, length_mm, span_mm in (
            (self._top, corner.x(), spot.size.width_mm, (box.x_mm, box.right_mm) if box else None),
            (self._side, corner.y(), spot.size.height_mm, (box.y_mm, box.bottom_mm) if box else None),
        ):
            ruler.show_scale(
                origin_px=origin_px, px_per_mm=scale, length_mm=length_mm, unit=self._unit, span_mm=span_mm
            )

    def _show_pointer(self, point: QPointF | None) -> None:
        at = None if point is None else self.canvas.viewportTransform().map(point)
        self._top.show_pointer(at.x() if at else None)
        self._side.show_pointer(at.y() if at else None)

    def _show_drag(self, drag: Drag) -> None:
        """Where the pieces under the hand are now."""
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

    def _show_fault(self) -> None:
        for spot in self.bench.spots:
            for mark in self.bench.marks_on(spot):
                pieces = [self.bench.piece(spot.offer, Ref(spot.sheet, number)) for number in mark.indices]
                self.canvas.choose([piece for piece in pieces if piece is not None])
                self.canvas.fit_chosen()
                self.canvas.setFocus()
                return

    # Editing.

    def _next_gesture(self) -> str:
        self._gestures += 1
        return f"sheets {self._gestures}"

    def _tell(self, offer: str, done: Act, gesture: str = "") -> None:
        """Show an edit and tell of it; what the plan makes of it is shown when it comes."""
        gesture = gesture or self._next_gesture()
        self._shown = tuple(
            shown.showing(done.layouts) if shown.key == offer else shown for shown in self._shown
        )
        self.bench.choose([])
        self._refresh()
        self._choose_refs(offer, done.refs)
        self.layouts_edited.emit(offer, done.layouts, done.title, gesture)
        self._show_choice()

    def _choose_refs(self, offer: str, refs: Collection[Ref]) -> None:
        found = [self.bench.piece(offer, ref) for ref in refs]
        self.canvas.choose([piece for piece in found if piece is not None])

    def _chosen_by_offer(self) -> dict[str, list[Ref]]:
        refs: dict[str, list[Ref]] = {}
        for piece in self.bench.chosen():
            refs.setdefault(piece.offer, []).append(piece.ref)
        return refs

    def _drop(self, drag: Drag) -> None:
        if drag.strays():
            drag.take_back()
            self._refresh()
            self._strayed = stray_words(drag.pieces[0], self.bench.offer(drag.offer).name)
            self._show_choice()
            return
        gesture = self._next_gesture()
        arrivals: dict[str, dict[Ref, tuple[int, Placement]]] = {}
        for (offer, ref), arrival in drag.arrivals().items():
            arrivals.setdefault(offer, {})[ref] = arrival
        for offer, pieces in arrivals.items():
            self._carry(offer, pieces, gesture)
        self._merges = gesture

    def _carry(self, offer: str, pieces: Mapping[Ref, tuple[int, Placement]], gesture: str) -> None:
        layouts, refs = moves.transferred(self.bench.offer(offer).layouts, pieces)
        self._tell(offer, Act(layouts, refs, f"Move {count(len(refs), 'piece')}"), gesture)

    def _nudge(self, dx_mm: float, dy_mm: float) -> None:
        # Nudges in a row are one step; so is settling after a drop.
        gesture = self._merges or self._next_gesture()
        for offer, refs in self._chosen_by_offer().items():
            layouts = moves.moved(self.bench.offer(offer).layouts, refs, dx_mm, dy_mm)
            self._tell(offer, Act(layouts, tuple(refs), f"Move {count(len(refs), 'piece')}"), gesture)
        self._merges = gesture

    def _place(self, left_mm: float | None, top_mm: float | None) -> None:
        box = bounds_on_sheet(self.bench.chosen())
        self._merges = ""
        self._nudge(
            0.0 if left_mm is None else left_mm - box.x_mm, 0.0 if top_mm is None else top_mm - box.y_mm
        )
        self._merges = ""

    def _set_runs(self, spot: Spot, runs: int) -> None:
        layouts = moves.with_runs(self.bench.offer(spot.offer).layouts, spot.sheet, runs)
        self._tell(spot.offer, Act(layouts, (), f"Print sheet {spot.sheet + 1} {count(runs, 'time')}"))

    def _do(self, key: str) -> None:
        """Carry out a command by its key."""
        views = {
            "fit": self.canvas.fit,
            "fit chosen": self.canvas.fit_chosen,
            "real size": self.canvas.real_size,
            "in": lambda: self.canvas.zoom_by(1),
            "out": lambda: self.canvas.zoom_by(-1),
            "cloth": lambda: self.bench.show_on_cloth(self.commands["cloth"].isChecked()),
            "all": self._choose_sheet,
            "same": self._choose_same,
        }
        if key in views:
            views[key]()
            return
        gesture = self._merges if key == "settle" and self._merges else self._next_gesture()
        for offer, refs in self._chosen_by_offer().items():
            shown = self.bench.offer(offer)
            done = act(key, shown.layouts, refs, shown.room)
            if done is not None:
                self._tell(offer, done, gesture)

    def _choose_sheet(self) -> None:
        spot = self.canvas.current
        if spot is not None:
            numbers = range(len(self.bench.layout(spot).placements))
            self._choose_refs(spot.offer, [Ref(spot.sheet, number) for number in numbers])

    def _choose_same(self) -> None:
        prints = {(piece.offer, piece.placement.print) for piece in self.bench.chosen()}
        self.canvas.choose([p for p in self.bench.all_pieces() if (p.offer, p.placement.print) in prints])

    # Menus.

    def _fill_sheets(self, menu: QMenu) -> None:
        pieces = self.bench.chosen()
        offer = self.bench.offer(pieces[0].offer)
        own = {piece.ref.sheet for piece in pieces}
        for at, layout in enumerate(offer.layouts):
            action = menu.addAction(f"Sheet {at + 1}, {layout.fill * 100:.0f} % full")
            action.setEnabled(own != {at})
            action.triggered.connect(lambda _on=False, at=at: self.send_to(at))
        menu.addSeparator()
        menu.addAction("New sheet").triggered.connect(lambda _on=False: self.send_to(None))

    def _fill_align(self, menu: QMenu) -> None:
        for side in moves.Side:
            menu.addAction(self.commands[side.value])
        menu.addSeparator()
        menu.addAction(self.commands["distribute across"])
        menu.addAction(self.commands["distribute down"])

    def _fill_zoom(self, menu: QMenu) -> None:
        for key in ("fit", "fit chosen", "real size", "in", "out"):
            menu.addAction(self.commands[key])
        menu.addSeparator()
        menu.addAction(self.commands["cloth"])

    def _open_menu(self, at: QPoint) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        if self.bench.chosen():
            for key in ("settle", "turn", "duplicate", "remove", "pin"):
                if key != "settle" or self.commands[key].isEnabled():
                    menu.addAction(self.commands[key])
            if not self.canvas.locked:
                self._fill_sheets(menu.addMenu("To sheet"))
                self._fill_align(menu.addMenu("Align"))
            menu.addSeparator()
            menu.addAction(self.commands["same"])
        menu.addAction(self.commands["all"])
        menu.addSeparator()
        self._fill_zoom(menu)
        menu.popup(at)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.strip.set_small(self.height() < _LOW_PX)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._refresh()
