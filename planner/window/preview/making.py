"""Papers made and their pages drawn, off the UI thread. No Qt here."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from PIL import Image

from planner.artwork.decoding import Decoder
from planner.artwork.vectors import PDFIUM
from planner.job.document import Artwork, Job
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.paper.registry import PAPERS
from planner.plan.laddering import quoted_ladder
from planner.plan.model import Plan
from planner.plan.ordering import Facts
from planner.shop.book import Shop

MOST_PX = 24_000_000
"""Pixels of one page drawn; larger ones are drawn smaller and stretched."""


_PRICED = ("quote", "packet")
"""Papers that can show a price ladder."""


@dataclass(frozen=True, slots=True)
class Made:
    """A paper: its bytes, and the size of each page in points."""

    paper: str
    pdf: bytes
    sizes: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Wanted:
    """What a paper is made from."""

    paper: str
    job: Job
    shop: Shop
    plan: Plan
    facts: Facts = field(default_factory=dict)


class Maker:
    """Makes papers one at a time; the artwork's pictures are decoded once for all of them."""

    def __init__(self, file_of: Callable[[str], bytes | None], decoder: Decoder | None = None) -> None:
        self._file_of, self._decoder = file_of, decoder
        self._lock = threading.Lock()
        self._artworks: tuple[Artwork, ...] = ()
        self._pictures = self._new_pictures()

    def make(self, wanted: Wanted) -> Made:
        """The paper as a PDF, the same for the same job, plan and pictures."""
        with self._lock:
            if wanted.job.artworks != self._artworks:
                self._artworks, self._pictures = wanted.job.artworks, self._new_pictures()
            job, shop, plan = wanted.job, wanted.shop, wanted.plan
            prices = quoted_ladder(job, shop, plan, facts=wanted.facts) if wanted.paper in _PRICED else ()
            pdf = PAPERS[wanted.paper](Papers(job, shop, plan, self._pictures, ladder=prices))
        return Made(wanted.paper, pdf, page_sizes(pdf))

    def _new_pictures(self) -> Pictures:
        return Pictures(ArtworkInks(self._bytes_of, self._decoder))

    def _bytes_of(self, sha256: str) -> bytes:
        data = self._file_of(sha256)
        if data is None:
            raise KeyError(sha256)
        return data


def page_sizes(pdf: bytes) -> tuple[tuple[float, float], ...]:
    """Width and height of each page in points."""
    with _opened(pdf) as document:
        return tuple(document.get_page_size(number) for number in range(len(document)))


def page_picture(pdf: bytes, page: int, px_per_point: float) -> Image.Image:
    """A page on white, at so many pixels to the point or as many as may be."""
    with _opened(pdf) as document:
        width, height = document.get_page_size(page)
        most = (MOST_PX / max(1.0, width * height)) ** 0.5
        shown = document[page]
        try:
            bitmap = shown.render(scale=min(px_per_point, most), may_draw_forms=False)
            drawn: Image.Image = bitmap.to_pil().convert("RGB").copy()
            bitmap.close()
        finally:
            shown.close()
    return drawn


@contextmanager
def _opened(pdf: bytes) -> Iterator[Any]:
    """The open document; PDFium serves one thread at a time."""
    import pypdfium2

    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
        try:
            yield document
        finally:
            document.close()
