"""The panels of a window: made, laid out, and wired to the edits that hands make in them."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QSplitter, QWidget

from planner.job.document import Job
from planner.plan.model import Plan
from planner.plan.ordering import Facts, outlines_of
from planner.shop.book import Shop
from planner.window import wording
from planner.window.artwork.closer import CloserPage
from planner.window.artwork.panel import ArtworkPanel
from planner.window.background import Background
from planner.window.costs import words
from planner.window.costs.panel import CostsPanel
from planner.window.findings.panel import FindingsPanel
from planner.window.foot import Foot
from planner.window.gallery import Gallery
from planner.window.garments.panel import GarmentsPage
from planner.window.gestures import Gestures
from planner.window.jobbar import JobBar
from planner.window.ladder.panel import LadderPanel
from planner.window.offers.panel import OffersPanel
from planner.window.pages import Pages
from planner.window.press.panel import PressPanel
from planner.window.sheet.panel import SheetsPanel
from planner.window.widgets import column, line

_PAGES_PX, _FINDINGS_PX = 700, 180
"""Heights that the pages and the findings below them start with."""


class Panels(QWidget):
    """The bar on top, artwork at the left, pages over findings, costs at the right; none knows another."""

    def __init__(
        self,
        gallery: Gallery,
        background: Background,
        foot: Foot,
        *,
        picture: Callable[[str, int], QImage | None],
        currency: str,
        today: Callable[[], date],
    ) -> None:
        super().__init__()
        self.bar = JobBar(today)
        self.artwork = ArtworkPanel(gallery)
        self.garments = GarmentsPage()
        self.closer = CloserPage(gallery)
        self.sheets = SheetsPanel()
        self.sheets.set_picture_source(picture)
        # The bar's Arrange is the window's one main button; this is the same one nearer by.
        self.sheets.arrange.arrange.setProperty("role", "")
        self.offers = OffersPanel()
        self.press = PressPanel(today)
        self.press.set_picture_source(picture)
        self.ladder = LadderPanel(background)
        self.findings = FindingsPanel()
        self.costs = CostsPanel(currency)
        self.pages = self._pages()
        self.centre = _splitter(Qt.Orientation.Vertical, self.pages, self.findings)
        self.centre.setStretchFactor(0, 1)
        self.centre.setSizes([_PAGES_PX, _FINDINGS_PX])
        self._findings_px = _FINDINGS_PX
        self.findings.folded.connect(self._share_height)
        self.across = _splitter(Qt.Orientation.Horizontal, self.artwork, self.centre, self.costs)
        self.across.setStretchFactor(1, 1)
        whole = column(space=0)
        whole.addWidget(self.bar)
        whole.addWidget(line())
        whole.addWidget(self.across, 1)
        whole.addWidget(foot)
        self.setLayout(whole)

    def show_plan(self, job: Job, shop: Shop, plan: Plan, facts: Facts) -> None:
        """Show what a job is and what follows from it; before → after is not told here."""
        self.bar.show_plan(job, shop, plan)
        for page in (self.offers, self.ladder):
            page.expect(job, shop)
        self.artwork.show_job(job, shop, plan.findings)
        show_in = self.pages.show_in
        show_in(self.garments, lambda: self.garments.show_job(job, shop))
        show_in(self.closer, lambda: self.closer.show_plan(job, shop, plan))
        show_in(self.sheets, lambda: self._show_sheets(job, shop, plan, facts))
        show_in(self.offers, lambda: self.offers.show_plan(job, shop, plan))
        show_in(self.press, lambda: self.press.show_plan(job, shop, plan))
        show_in(self.ladder, lambda: self.ladder.show_plan(job, shop, plan, facts))

    def tell(self, gestures: Gestures) -> None:
        """Make every plain edit that a hand makes in a panel; what asks more of a window is wired there."""
        bar = self.bar
        bar.title_edited.connect(gestures.set_title)
        bar.customer_edited.connect(gestures.set_customer)
        bar.due_edited.connect(gestures.set_due)
        bar.offer_chosen.connect(gestures.set_offer)
        bar.shared_offer_chosen.connect(lambda offer: gestures.choose_offer(offer, None))
        art = self.artwork
        art.put_on_requested.connect(gestures.put_on)
        art.remove_requested.connect(gestures.remove_artwork)
        art.turn_requested.connect(gestures.turn_artwork)
        art.flip_requested.connect(gestures.flip_artwork)
        art.fix_taken_back.connect(gestures.take_back_fix)
        art.print_set_apart.connect(gestures.set_apart)
        self.closer.mend_requested.connect(gestures.mend_artwork)
        self.closer.fix_taken_back.connect(gestures.take_back_fix)
        art.print_changed.connect(gestures.change_print)
        art.print_removed.connect(gestures.remove_print)
        art.extra_requested.connect(gestures.add_extra)
        art.extra_changed.connect(gestures.change_extra)
        art.extra_removed.connect(gestures.remove_extra)
        self.garments.line_changed.connect(gestures.change_line)
        self.garments.line_duplicated.connect(gestures.duplicate_line)
        self.garments.line_removed.connect(gestures.remove_line)
        self.press.ordered.connect(gestures.set_ordered)
        self.press.placement_edited.connect(gestures.place_print)
        self.sheets.layouts_edited.connect(gestures.set_layouts)
        self.offers.offer_chosen.connect(gestures.choose_offer)
        self.offers.prints_shared.connect(gestures.share_out)
        self.offers.quantity_chosen.connect(gestures.plan_for)
        self.offers.room_taken.connect(gestures.let_ride_along)
        self.costs.terms_edited.connect(gestures.set_terms)
        self.costs.way_chosen.connect(gestures.set_way)
        self.ladder.terms_edited.connect(gestures.set_terms)
        self.findings.decided.connect(gestures.decide)
        self.findings.undecided.connect(gestures.undecide)

    def _share_height(self, folded: bool) -> None:
        """Give the pages what folded findings leave, and take it back: a splitter keeps its shares else."""
        pages_px, findings_px = self.centre.sizes()
        if folded:
            self._findings_px = findings_px
        now_px = self.findings.maximumHeight() if folded else self._findings_px
        self.centre.setSizes([pages_px + findings_px - now_px, now_px])

    def _show_sheets(self, job: Job, shop: Shop, plan: Plan, facts: Facts) -> None:
        self.sheets.set_outlines(outlines_of(job, shop, facts))
        self.sheets.show_plan(job, shop, plan)

    def _pages(self) -> Pages:
        pages = Pages()
        pages.addTab(self.garments, wording.GARMENTS)
        pages.addTab(self.closer, wording.CLOSER)
        pages.addTab(self.sheets, wording.SHEETS)
        pages.addTab(self.offers, wording.OFFERS)
        pages.addTab(self.press, wording.PRESS)
        pages.addTab(self.ladder, words.LADDER)
        return pages


def _splitter(direction: Qt.Orientation, *parts: QWidget) -> QSplitter:
    splitter = QSplitter(direction)
    for part in parts:
        splitter.addWidget(part)
    splitter.setChildrenCollapsible(False)
    splitter.setHandleWidth(1)
    return splitter
