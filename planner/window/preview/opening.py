"""Opens the preview when it is first asked for: most sittings do without, and it brings a PDF library."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from planner.artwork.decoding import Decoder
from planner.job.document import Job
from planner.plan.model import Plan
from planner.plan.ordering import Facts
from planner.shop.book import Shop
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.beside import come_up

if TYPE_CHECKING:
    from planner.window.preview.window import PreviewWindow


class Preview:
    """The preview of one job window, opened or not."""

    def __init__(
        self,
        background: Background,
        file_of: Callable[[str], bytes | None],
        asks: Asks,
        decoder: Decoder | None = None,
    ) -> None:
        self._background, self._file_of, self._decoder = background, file_of, decoder
        self._asks = asks
        self.facts: Callable[[], Facts] = dict
        self.window: PreviewWindow | None = None

    def open(self, parent: QWidget, job: Job, shop: Shop, plan: Plan) -> None:
        """Show the papers of a job in a window of their own, beside the job's."""
        from planner.window.preview.window import PreviewWindow

        if self.window is None:
            self.window = PreviewWindow(
                self._background,
                self._file_of,
                self._decoder,
                ask_file=self._asks.paper_to_save,
                parent=parent,
            )
            self.window.facts = self.facts
        self.window.show_job(job, shop, plan)
        come_up(self.window)

    def show_job(self, job: Job, shop: Shop, plan: Plan) -> None:
        """The job as it is now, if anybody looks at its papers."""
        if self.window is not None:
            self.window.show_job(job, shop, plan)

    def close(self) -> None:
        if self.window is not None:
            self.window.close()
