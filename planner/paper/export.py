"""Papers and sheet files written into a folder, each sheet file read back before it counts."""

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from planner.buying.purchase import Order
from planner.measures.figures import written_for
from planner.paper import file_words as words
from planner.paper.build import pdf_of
from planner.paper.cut_marks import MarkedInks
from planner.paper.image_streams import ImageStore
from planner.paper.names import job_stem, safe_stem
from planner.paper.order import order_story
from planner.paper.order_words import ORDER
from planner.paper.papers import Papers, SheetFile
from planner.paper.print_files import print_files
from planner.paper.print_sheet import PrintSheet
from planner.paper.registry import PAPERS
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.sheet_png import write_sheet_png
from planner.paper.verify import SheetFileDiffers, Verified, verify_pdf, verify_png
from planner.paper.writing import ExportRefused, ready_folder, refuse_strangers, written_whole
from planner.work.ticket import Cancelled, Ticket

SHEET_PDFS, SHEET_PNGS = "sheet PDFs", "sheet PNGs"
NAMES = (*PAPERS, SHEET_PDFS, SHEET_PNGS)
"""All that can be exported."""
USUAL = ("packet", "quote", "proof", "order", "placement guides", SHEET_PDFS, SHEET_PNGS)
"""What is exported where nobody names a paper."""

Said = Callable[[str], None]


def export(
    papers: Papers,
    folder: Path,
    names: Iterable[str] = USUAL,
    *,
    ticket: Ticket | None = None,
    said: Said = lambda _sentence: None,
    noted: Said = lambda _sentence: None,
) -> tuple[Path, ...]:
    """Write the named papers and sheet files; gives their paths in the order they were written.

    Earlier exports of the same name are replaced, any other file is left alone. `said` hears a sentence
    about every sheet file that was read back and found equal to the plan, `noted` one about every vector
    artwork that a sheet PDF holds as pixels.

    Raises:
        ExportRefused: a name is unknown, or the folder cannot be written to.
        SheetFileDiffers: a sheet file read back is not what was planned; it is not kept.
        Cancelled: the ticket was stopped; files written until then are whole.
    """
    wanted = tuple(dict.fromkeys(names))
    unknown = [name for name in wanted if name not in NAMES]
    if unknown:
        raise ExportRefused(words.no_paper(unknown[0], NAMES))
    file_names = _file_names(papers, wanted)
    twice = next((name for name in file_names if file_names.count(name) > 1), None)
    if twice is not None:
        raise ExportRefused(words.two_files(twice))
    ready_folder(folder)
    refuse_strangers(tuple(folder / name for name in file_names))
    ticket = ticket or Ticket()
    alone = [name for name in wanted if name in PAPERS]
    with written_for(papers.shop.region):
        sheets = _SheetFiles(papers, folder, said)
        written = sheets.write(
            [kind for kind in (SHEET_PDFS, SHEET_PNGS) if kind in wanted], ticket, len(alone)
        )
        for sentence in sheets.notes:
            noted(sentence)
        papers = replace(papers, sheet_files=tuple(sheets.made))
        before = len(written)
        for done, name in enumerate(alone, before):
            ticket.step(done, before + len(alone))
            for file_name, data in _papers_named(papers, name):
                path = folder / file_name
                with written_whole(path) as part:
                    part.write_bytes(data)
                written.append(path)
    return tuple(written)


def _orders(papers: Papers) -> tuple[Order, ...]:
    return papers.plan.purchase.orders if papers.plan.purchase else ()


def _order_file_name(papers: Papers, order: Order) -> str:
    return f"{job_stem(papers.job)}_order_{safe_stem(order.offer, 'offer')}.pdf"


def _paper_file_name(papers: Papers, name: str) -> str:
    return f"{job_stem(papers.job)}_{safe_stem(name)}.pdf"


def _file_names(papers: Papers, names: tuple[str, ...]) -> list[str]:
    """Every file that an export would write."""
    found = []
    for name in names:
        if name in (SHEET_PDFS, SHEET_PNGS):
            ending = "pdf" if name == SHEET_PDFS else "png"
            found += [
                f"{file.stem}.{ending}"
                for order in _orders(papers)
                for file in print_files(papers.job, papers.shop, order, papers.wishes)
            ]
        elif name == "order" and _orders(papers):
            found += [_order_file_name(papers, order) for order in _orders(papers)]
        else:
            found.append(_paper_file_name(papers, name))
    return found


def _papers_named(papers: Papers, name: str) -> list[tuple[str, bytes]]:
    """File names and bytes of a paper; orders go to different printers, so each is a file of its own."""
    if name == "order" and _orders(papers):
        return [
            (
                _order_file_name(papers, order),
                pdf_of(order_story(papers, order), papers.imprint(ORDER)),
            )
            for order in _orders(papers)
        ]
    return [(_paper_file_name(papers, name), PAPERS[name](papers))]


class _SheetFiles:
    """Writes the sheets of a job and reads them back."""

    def __init__(self, papers: Papers, folder: Path, said: Said) -> None:
        self._papers, self._folder, self._said = papers, folder, said
        self._store = ImageStore(MarkedInks(papers.pictures.inks))
        self.made: list[SheetFile] = []
        self._as_pixels: dict[str, str] = {}

    @property
    def notes(self) -> tuple[str, ...]:
        """A sentence about each vector artwork that lies in a sheet PDF as pixels."""
        return tuple(self._as_pixels.values())

    def write(self, kinds: list[str], ticket: Ticket, steps_after: int) -> list[Path]:
        """All files of the kinds asked for; the ticket counts files, `steps_after` more come later."""
        paths: list[Path] = []
        job, shop = self._papers.job, self._papers.shop
        wishes = self._papers.wishes
        files = [file for order in _orders(self._papers) for file in print_files(job, shop, order, wishes)]
        steps = len(files) * len(kinds) + steps_after
        for file in files:
            for kind in kinds:
                ticket.step(len(paths), steps)
                ending = "pdf" if kind == SHEET_PDFS else "png"
                path = self._folder / f"{file.stem}.{ending}"
                with written_whole(path) as part:
                    try:
                        verified = self._write_one(kind, file.sheet, part, _Stops(ticket))
                    except SheetFileDiffers as differs:
                        raise SheetFileDiffers(path, differs.what) from differs
                    digest = _sha256(part)
                sentence = replace(verified, path=path).sentence(shop.unit)
                self._said(sentence)
                self.made.append(SheetFile(file.stem, path.name, digest, sentence))
                paths.append(path)
        return paths

    def _write_one(self, kind: str, sheet: PrintSheet, path: Path, ticket: Ticket) -> Verified:
        if kind == SHEET_PDFS:
            path.write_bytes(sheet_pdf(sheet, self._store))
            self._note_pixels(sheet)
            return verify_pdf(path, sheet, self._store.inks)
        placed = write_sheet_png(sheet, self._store.inks, path, ticket=ticket)
        return verify_png(path, sheet, placed)

    def _note_pixels(self, sheet: PrintSheet) -> None:
        for artwork in {piece.artwork.key: piece.artwork for piece in sheet.pieces}.values():
            if artwork.vector and self._store.inks.vector_page(artwork) is None:
                stays = artwork.stays_vector
                why = words.LOOKS_DIFFERENT if stays else words.FIXES_ON_PIXELS
                self._as_pixels[artwork.key] = words.as_pixels(artwork.name, why)


class _Stops(Ticket):
    """Stops when the whole export is stopped, and keeps its own steps to itself."""

    def __init__(self, whole: Ticket) -> None:
        super().__init__()
        self._whole = whole

    def step(self, done: int, of: int) -> None:
        if self._whole.is_stopped:
            raise Cancelled


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
