"""Takes a person to where something is missing or was found."""

from collections.abc import Callable

from PySide6.QtWidgets import QTabWidget

from planner.job.document import Job
from planner.job.findings import Finding, FindingKind
from planner.plan.model import Missing
from planner.window.artwork.closer import CloserPage
from planner.window.artwork.panel import ArtworkPanel
from planner.window.garments.panel import GarmentsPage
from planner.window.jobbar import JobBar
from planner.window.offers.panel import OffersPanel
from planner.window.sheet.panel import SheetsPanel

_ON_SHEETS = frozenset(
    {FindingKind.NOT_PLACED, FindingKind.SHEET_FAULT, FindingKind.SHEETS_APART, FindingKind.PIECE_SHORT}
)


class Guide:
    """Knows which panel shows what, and puts the cursor there."""

    def __init__(
        self,
        *,
        bar: JobBar,
        artwork: ArtworkPanel,
        pages: QTabWidget,
        garments: GarmentsPage,
        closer: CloserPage,
        sheets: SheetsPanel,
        offers: OffersPanel,
        choose_artwork: Callable[[], object],
        arrange: Callable[[], object],
    ) -> None:
        self._bar, self._artwork, self._pages = bar, artwork, pages
        self._garments, self._closer, self._sheets, self._offers = garments, closer, sheets, offers
        self._choose_artwork, self._arrange = choose_artwork, arrange

    def to_missing(self, missing: Missing) -> None:
        """Put the cursor where something is missing."""
        if missing in (Missing.GARMENTS, Missing.COUNTS):
            self._pages.setCurrentWidget(self._garments)
            self._garments.take_to(missing)
        elif missing is Missing.ARTWORK:
            self._choose_artwork()
        elif missing is Missing.PRINTS:
            self._artwork.take_to_prints()
        elif missing is Missing.OFFER:
            self._to_offers()
        elif missing is Missing.ARRANGE:
            self._arrange()
        else:
            self._bar.take_to(missing)

    def to_artwork(self, artwork: str) -> None:
        """Show an artwork large."""
        self._pages.setCurrentWidget(self._closer)
        self._closer.look_at(artwork, None)
        self._closer.canvas.setFocus()

    def to_finding(self, job: Job, finding: Finding) -> None:
        """Show a finding in place, its spots marked."""
        if finding.artwork or finding.print:
            print_key = (finding.print or "").partition("/")[0] or None
            artwork = finding.artwork or (job.print_of(print_key).artwork if print_key else "")
            self._artwork.take_to(artwork, print_key, finding.regions)
            if finding.regions:
                self._pages.setCurrentWidget(self._closer)
                self._closer.look_at(artwork, print_key, finding)
        elif finding.kind in _ON_SHEETS:
            self._pages.setCurrentWidget(self._sheets)
        elif finding.line:
            self._pages.setCurrentWidget(self._garments)
            self._garments.take_to_line(finding.line)
        elif finding.kind is FindingKind.LATE:
            self._bar.take_to(Missing.DUE)
        else:
            self._to_offers()

    def _to_offers(self) -> None:
        self._pages.setCurrentWidget(self._offers)
        self._offers.take_to_offers()
