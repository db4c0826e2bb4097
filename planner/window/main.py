"""The main window: one job, its plan shown everywhere, and what the panels ask for beyond a plain edit."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import QMimeData, QSettings
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget

from planner.artwork.decoding import Decoder
from planner.job.document import Job
from planner.measures.lengths import LengthUnit
from planner.plan.make_plan import make_plan
from planner.plan.model import Missing, Plan
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.version import PROGRAM
from planner.window import wording
from planner.window.about import show_about
from planner.window.arranging import LANE as ARRANGE_LANE
from planner.window.arranging import Arranging
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.bookkeeping import Bookkeeping
from planner.window.cabinet import Cabinet
from planner.window.changes import Place, Since
from planner.window.customer_form import open_details
from planner.window.desk import Desk
from planner.window.door import Door
from planner.window.exporting import Exporting
from planner.window.fields import Field
from planner.window.firstrun import FirstNeeds
from planner.window.fixes import Fixes
from planner.window.foot import Foot
from planner.window.gallery import Gallery
from planner.window.garments.importing import CountImport
from planner.window.gestures import Gestures
from planner.window.guide import Guide
from planner.window.handbook import Handbook
from planner.window.intake import Intake
from planner.window.jobs.opening import Jobs
from planner.window.lateness import Lateness
from planner.window.menus import Doings, Menus
from planner.window.offers.asking import OfferQuestions
from planner.window.panels import Panels
from planner.window.preview.opening import Preview
from planner.window.remembered import LEAST_PX, Remembered
from planner.window.screens import Screens
from planner.window.shop import words as shop_words
from planner.window.tab_order import in_reading_order


class MainWindow(QMainWindow):
    """One job in a window."""

    def __init__(
        self,
        desk: Desk,
        background: Background,
        *,
        settings: QSettings,
        asks: Asks,
        today: Callable[[], date],
        save_shop: Callable[[Shop], None],
        decoder: Decoder | None = None,
        saving: Background | None = None,
    ) -> None:
        super().__init__()
        self.desk, self.background = desk, background
        self._today, self._save_shop = today, save_shop
        self.gallery = Gallery(background, desk.file_of, decoder)
        self.foot = Foot()
        self.cabinet = Cabinet(desk, background, self.foot, asks, today, saving)
        self.intake = Intake(desk, background, decoder)
        self.arranging = Arranging(desk, background, self.foot)
        self.questions = OfferQuestions(background, today)
        self.preview = Preview(background, self.gallery.file_that_reads, asks, decoder)
        self.handbook = Handbook(self)
        self.cabinet.decoder = decoder
        self.cabinet.facts = self.preview.facts = lambda: self.gallery.facts(self.desk.job)
        self.screens = Screens(settings, self)
        self.gestures = Gestures(desk)
        self.since = Since()
        self.panels = panels = Panels(
            self.gallery,
            background,
            self.foot,
            picture=self._picture,
            currency=desk.shop.currency,
            today=today,
        )
        self.bar, self.artwork, self.pages = panels.bar, panels.artwork, panels.pages
        self.garments, self.closer, self.sheets = panels.garments, panels.closer, panels.sheets
        self.offers, self.press, self.ladder = panels.offers, panels.press, panels.ladder
        self.findings, self.costs = panels.findings, panels.costs
        self.plan: Plan = self._plan_at(desk.shop)
        self.book = Bookkeeping(self, desk, self.foot, asks, today, lambda: self.plan, self._plan_at)
        self.book.decoder = decoder
        self.jobs = Jobs(
            self, desk, self.cabinet, background, self.foot, asks, settings, today, lambda: self.plan
        )
        self.first = FirstNeeds(settings, desk, self.foot, self.book)
        self.door = Door(self, asks, self.intake, self.artwork, self.foot)
        self.lateness = Lateness(self, desk, background, self.foot, today)
        self.fixes = Fixes(desk, self.gallery, self.lateness)
        self.counts = CountImport(self, desk, asks)
        self._closing = False
        self.setCentralWidget(panels)
        self.setMinimumSize(LEAST_PX)
        self.setAcceptDrops(True)
        self.guide = Guide(
            bar=self.bar,
            artwork=self.artwork,
            pages=self.pages,
            garments=self.garments,
            closer=self.closer,
            sheets=self.sheets,
            offers=self.offers,
            choose_artwork=self.door.choose,
            arrange=self.arrange,
        )
        self.exporting = Exporting(
            self,
            desk,
            gallery=self.gallery,
            foot=self.foot,
            guide=self.guide,
            first=self.first,
            cabinet=self.cabinet,
            plan=lambda: self.plan,
        )
        self._remembered = Remembered(settings, self, panels.across, panels.centre, self.findings)
        self.menus = Menus(self, desk.undo_stack, self._doings())
        self._wire_panels()
        self._wire_work()
        self._remembered.restore()
        self.show_plan()

    def show_plan(self) -> None:
        """Work the plan out and show it everywhere."""
        job, shop = self.desk.job, self.desk.shop
        self.plan = plan = self._plan_at(shop)
        self.panels.show_plan(job, shop, plan, self.gallery.facts(job))
        self.preview.show_job(job, shop, plan)
        starts = self.since.take(job, shop, plan)
        self.costs.show_plan(job, shop, plan, held=self.since.is_watching)
        if starts or not self.since.is_watching:
            self._look_at_pages(self.offers, self.ladder)
        if starts:
            self.costs.look_at()
        self._show_changes()
        self.book.show_shop(self.desk.book)
        self.menus.show_unit(shop.unit)
        self.menus.show_state(job.state, keeps_prices=job.prices is not None)
        self._show_title()

    def look_at(self, *places: Place) -> None:
        """Somebody has looked at what changed in these places."""
        self.since.look_at(*places)
        if Place.COSTS in places:
            self.costs.look_at()
            self.ladder.look_at()
        if Place.OFFERS in places:
            self.offers.look_at()
        self._show_changes()

    def settle(self) -> None:
        """Take what is still being typed: nothing may save or print a job that lacks it."""
        focused = QApplication.focusWidget()
        if isinstance(focused, Field):
            focused.commit()

    def arrange(self) -> None:
        """Search for the best sheets, and watch."""
        self.settle()
        if self.arranging.start(self.gallery.facts(self.desk.job)):
            before = self.focusWidget()
            self.pages.setCurrentWidget(self.sheets)
            # Where the page that had the cursor went out of sight, Qt hands it to whatever comes next.
            if before is not None and not before.isVisible():
                self.sheets.canvas.setFocus()

    def _show_changes(self) -> None:
        """Say before → after wherever a figure is another one than when somebody looked."""
        plan, since = self.plan, self.since
        job, shop = self.desk.job, self.desk.shop
        self.findings.show_plan(job, shop, plan, self.fixes.fixable(plan), since.known_findings)
        self.pages.show_changes({page: since.changes(place) for place, page in self._places().items()})
        told = since.in_short()
        seen = (wording.SEEN, lambda: self.look_at(*Place))
        sentence = wording.changed_since(told, provisional=plan.provisional) if told else ""
        self.foot.stand(sentence, (seen,) if told else ())

    def _places(self) -> dict[Place, QWidget]:
        return {Place.SHEETS: self.sheets, Place.OFFERS: self.offers, Place.PRESS: self.press}

    def _left(self, page: QWidget) -> None:
        places = (place for place, at in self._places().items() if at is page and self.since.changes(place))
        if left := tuple(places):
            self.look_at(*left)
        self._look_at_pages(page)

    def _look_at_pages(self, *pages: QWidget) -> None:
        """Of the pages whose figures follow behind the window."""
        for page in (self.offers, self.ladder):
            if page in pages:
                page.look_at()

    def _plan_at(self, shop: Shop) -> Plan:
        job = self.desk.job
        return make_plan(job, shop, facts=self.gallery.facts(job), today=self._today())

    def _picture(self, artwork_key: str, most_px: int) -> QImage | None:
        artwork = next((one for one in self.desk.job.artworks if one.key == artwork_key), None)
        return self.gallery.picture(artwork, most_px) if artwork else None

    def _compare(self, print_key: str | None) -> None:
        job = self.desk.job
        self.questions.ask(job, self.desk.shop, self.gallery.facts(job), print_key)

    def _doings(self) -> Doings:
        return Doings(
            new=self._settled(lambda: self.cabinet.new(self)),
            open=self._settled(lambda: self.cabinet.open_chosen(self)),
            open_demo=self._settled(lambda: self.cabinet.open_demo(self)),
            jobs=self.jobs.open,
            order_again=self._settled(self.jobs.order_again),
            set_state=self.jobs.finishing.set_state,
            use_todays_prices=self.book.use_todays,
            after_job=self._settled(self.jobs.finishing.open_after),
            left_over=self.jobs.finishing.open_stock,
            save=self._settled(lambda: self.cabinet.save(self)),
            save_as=self._settled(lambda: self.cabinet.save_as(self)),
            preview=self._settled(self._open_preview),
            export=self._settled(self.exporting.start),
            choose_artwork=self.door.choose,
            paste=self.door.paste,
            add_line=lambda: self.guide.to_missing(Missing.GARMENTS),
            go_next=self.bar.follow_next,
            import_counts=self._settled(self.counts.choose),
            arrange=self.arrange,
            set_unit=self._set_unit,
            shop_book=self.book.open,
            find_command=self._find_command,
            go_to=self.pages.go_to,
            pages=tuple(self.pages.tabText(at) for at in range(self.pages.count())),
            guide=self._open_guide,
            about=lambda: show_about(self.foot),
        )

    def _settled(self, doing: Callable[[], object]) -> Callable[[], object]:
        def act() -> None:
            self.settle()
            doing()

        return act

    def _wire_panels(self) -> None:
        self.panels.tell(self.gestures)
        bar = self.bar
        bar.details_requested.connect(lambda: open_details(self, bar.customer, self.desk, self.gestures))
        bar.state_chosen.connect(self.jobs.finishing.set_state)
        bar.arrange_requested.connect(self.arrange)
        bar.export_requested.connect(self._settled(self.exporting.start))
        bar.next_followed.connect(self.guide.to_missing)
        bar.finding_followed.connect(lambda finding: self.guide.to_finding(self.desk.job, finding))
        art = self.artwork
        art.dropped.connect(self._dropped)
        art.choose_requested.connect(self.door.choose)
        art.paste_requested.connect(self.door.paste)
        art.replace_requested.connect(self.door.replace)
        art.page_requested.connect(self.intake.take_page)
        art.look_requested.connect(self.guide.to_artwork)
        page = self.garments
        art.put_on_new_requested.connect(self._put_on_new)
        page.line_added.connect(self._add_line)
        page.files_dropped.connect(lambda key, paths: self.door.take(paths, key))
        page.artwork_dropped.connect(lambda key, artwork: art.cards[artwork].put_on_line(key))
        page.print_followed.connect(lambda key: art.take_to(self.desk.job.print_of(key).artwork, key))
        page.counts_requested.connect(self.counts.choose)
        self.garments.demo_requested.connect(lambda: self.cabinet.open_demo(self))
        self.garments.jobs_requested.connect(self.jobs.open)
        self.sheets.arrange_requested.connect(self.arrange)
        self.sheets.arrange_stopped.connect(self.arranging.hurry)
        self.sheets.arrange_dropped.connect(self.arranging.drop)
        self.sheets.screen_measured.connect(lambda ppi: self.screens.keep(self.screen(), ppi))
        self.offers.comparison_wanted.connect(self._compare)
        self.offers.closer_look_requested.connect(self.questions.look_closer)
        self.offers.closer_look_stopped.connect(self.questions.stop)
        self.offers.arrange_requested.connect(self.arrange)
        self.ladder.quantities_requested.connect(lambda: self.book.open(shop_words.QUANTITIES_ON_A_LADDER))
        self.ladder.troubled.connect(lambda error: self.foot.warn(wording.trouble(error)))
        self.pages.left.connect(self._left)
        found = self.findings
        found.shown.connect(lambda finding: self.guide.to_finding(self.desk.job, finding))
        found.fix_requested.connect(self.fixes.fix)

    def _wire_work(self) -> None:
        self.desk.job_changed.connect(self._job_changed)
        self.desk.shop_changed.connect(self._shop_changed)
        self.desk.file_changed.connect(self._show_title)
        self.desk.undo_stack.cleanChanged.connect(self._clean_changed)
        self.gallery.facts_changed.connect(self.show_plan)
        self.gallery.pictures_changed.connect(self.sheets.pictures_changed)
        self.gallery.pictures_changed.connect(self.press.pictures_changed)
        self.arranging.arranged.connect(self._say_arranged)
        self.arranging.searched.connect(self.sheets.show_search)
        self.arranging.searched.connect(self._make_way)
        self.questions.compared.connect(self.offers.show_results)
        self.questions.charted.connect(self.offers.show_costs)
        self.questions.split_found.connect(self.offers.show_split)
        self.questions.room_found.connect(self.offers.show_room)
        self.questions.progressed.connect(self.offers.show_search)
        self.questions.chart_progressed.connect(self.offers.show_chart_work)
        self.questions.troubled.connect(lambda error: self.foot.warn(wording.trouble(error)))
        self.gallery.troubled.connect(lambda artwork, error: self.artwork.show_trouble(str(error)))
        self.intake.troubled.connect(self.artwork.show_trouble)
        self.intake.told.connect(self.foot.say)
        self.intake.replacing.connect(self.artwork.expect_replacement)
        self.intake.work_changed.connect(self.foot.show_work)
        self.cabinet.opened.connect(self._opened)
        self.foot.stop_requested.connect(self._stop_work)

    def _job_changed(self, before: Job, after: Job) -> None:
        self.foot.pass_on()
        self.since.note_edit()
        self.show_plan()

    def _clean_changed(self, clean: bool) -> None:
        self._show_title()

    def _opened(self) -> None:
        self.arranging.drop()
        self.questions.drop()
        self.artwork.clear_troubles()
        self.costs.forget_changes()
        self.findings.forget()
        self.since.forget()
        self.show_plan()
        self.book.tell_kept()

    def _shop_changed(self) -> None:
        self._save_shop(self.desk.book)
        self.foot.pass_on()
        self.since.note_edit()
        self.show_plan()

    def _stop_work(self, owner: str) -> None:
        if owner == ARRANGE_LANE:
            self.arranging.hurry()
        elif not self.intake.stop(owner):
            self.background.stop(owner)
            self.foot.show_work(owner, "")

    def _make_way(self, best: object, runs: bool, done: int, of: int) -> None:
        """While sheets are arranged nothing else that is dear may slow the search."""
        if runs:
            self.questions.rest()
        else:
            self.questions.go_on()

    def _say_arranged(self, are_others: bool) -> None:
        if (bought := self.plan.purchase) is not None:
            told = wording.arranged(bought, self.plan.costs.currency, are_others=are_others)
            left_out = any(order.not_placed for order in bought.orders)
            (self.foot.warn if left_out else self.foot.say)(told)

    def _put_on_new(self, artwork: str, blank: object) -> None:
        key = self.gestures.put_on_new(artwork, blank)
        self.pages.setCurrentWidget(self.garments)
        self.garments.take_to_line(key)

    def _add_line(self, blank: object) -> None:
        key = self.gestures.add_line(blank)
        self.garments.take_to_line(key)

    def _open_guide(self) -> None:
        self.handbook.open([*self.menus.actions(), *self.sheets.canvas.actions()])

    def _open_preview(self) -> None:
        self.preview.open(self, self.desk.job, self.desk.shop, self.plan)

    def _set_unit(self, unit: LengthUnit) -> None:
        self.desk.set_shop(changed(self.desk.book, unit=unit))

    def _find_command(self) -> None:
        from planner.window.command_list import CommandList

        CommandList(self, self.menus.actions()).open()

    def _show_title(self) -> None:
        job: Job = self.desk.job
        name = self.desk.path.name if self.desk.path else job.title or wording.UNTITLED
        self.setWindowTitle(f"{name}[*] — {PROGRAM}")
        self.setWindowModified(not self.desk.is_saved)

    def _dropped(self, mime: QMimeData) -> None:
        self.door.take_dropped(mime, lambda path: self.cabinet.open_over(self, path))

    def focusNextPrevChild(self, following: bool) -> bool:
        """Rows come and go: the order is made when somebody tabs, not at every edit."""
        in_reading_order(self.centralWidget())
        return super().focusNextPrevChild(following)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        mime = event.mimeData()
        if mime.hasUrls() or mime.hasImage() or mime.hasHtml():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        self._dropped(event.mimeData())
        event.acceptProposedAction()

    def closeEvent(self, event: QCloseEvent) -> None:
        self.settle()
        if not self._closing and (self.cabinet.saving.is_busy or not self.desk.is_saved):
            event.ignore()
            self.cabinet.when_safe(self, self._close_now)
            return
        self._remembered.keep()
        self.book.close()
        self.jobs.close()
        self.preview.close()
        self.handbook.close()
        # The chart waits for a pause: it must not begin when nothing can answer any more.
        self.questions.drop()
        self.background.stop_all()
        event.accept()

    def _close_now(self) -> None:
        self._closing = True
        self.close()
