"""What papers are made from."""

from dataclasses import dataclass
from decimal import Decimal

from planner.job.document import Job
from planner.paper.build import Imprint
from planner.paper.pictures import Pictures
from planner.paper.print_files import NO_WISHES, SheetWishes
from planner.paper.style import PageSize, page_size
from planner.plan.model import Plan
from planner.shop.book import Shop


@dataclass(frozen=True, slots=True)
class SheetFile:
    """A sheet file that was written and read back."""

    stem: str
    """Of the print file it belongs to; a sheet may have been made as PDF and as PNG."""
    name: str
    sha256: str
    verified: str
    """What was compared, with figures."""


@dataclass(frozen=True, slots=True)
class Papers:
    """A job, the shop book, the plan that follows from both, and the job's pictures."""

    job: Job
    shop: Shop
    plan: Plan
    pictures: Pictures
    sheet_files: tuple[SheetFile, ...] = ()
    wishes: SheetWishes = NO_WISHES
    """How sheet files are made, beyond size and places."""
    ladder: tuple[tuple[int, Decimal], ...] = ()
    """Quantities and the price of a garment at each, for the quote; empty: the quote shows none."""

    @property
    def page(self) -> PageSize:
        return page_size(self.shop.paper)

    @property
    def width(self) -> float:
        """Width of the column of text, in points."""
        return self.page.content_width

    def imprint(self, subject: str) -> Imprint:
        return Imprint(
            title=self.job.title,
            on=self.job.quoted_on,
            paper=self.shop.paper,
            author=self.shop.letterhead.name,
            subject=subject,
        )
