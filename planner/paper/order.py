"""The order to a transfer printer: what to print, how often, from which files."""

import re
from collections.abc import Sequence

from reportlab.platypus import Flowable

from planner.buying.purchase import Order, PriceLine
from planner.measures.figures import whole
from planner.paper import fonts, style
from planner.paper import order_words as words
from planner.paper.blocks import Cell, StartOfPaper, facts, gap, heading, new_page, table, title
from planner.paper.labels import piece_labels
from planner.paper.papers import Papers
from planner.paper.print_files import PrintFile, print_files
from planner.paper.text import paragraph
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.wording_dates import when

NAME = words.ORDER
BESIDE_FILE = 206.0
"""Points of the columns beside a file's: what is left holds an SHA-256 on one line, on A4 too."""


def orders_story(papers: Papers) -> list[Flowable]:
    orders = papers.plan.purchase.orders if papers.plan.purchase else ()
    if not orders:
        return [StartOfPaper(NAME), *title(NAME), paragraph(words.NOTHING_TO_ORDER)]
    story: list[Flowable] = []
    for at, order in enumerate(orders):
        if at:
            story.append(new_page())
        story += order_story(papers, order)
    return story


def order_story(papers: Papers, order: Order) -> list[Flowable]:
    """The order at one offer; it names no other printer and nothing of the customer."""
    offer = papers.shop.offer(order.offer)
    name = offer.name if offer else order.offer
    printer = offer.printer if offer else ""
    head = papers.shop.letterhead
    story: list[Flowable] = [StartOfPaper(NAME, f"{NAME}: {name}"), *title(NAME, printer or name)]
    rush = papers.job.terms.rush and offer is not None and offer.rush is not None
    story.append(
        facts(
            [
                (words.FROM, head.name),
                (words.REACH_US, "\n".join(part for part in (head.email, head.phone) if part)),
                (words.OUR_REFERENCE, papers.job.title),
                (words.KIND, kind_name(offer.kind) if offer else ""),
                (words.OFFER, name),
                (words.SERVICE, words.RUSH if rush else words.STANDARD),
            ],
            papers.width,
        )
    )
    by = _order_by(papers, order)
    if by:
        story += [paragraph(words.needed(by), style.STRONG_TEXT), gap(1)]
    if head.address:
        story.append(paragraph(words.deliver_to((head.name, *head.address))))
    files = print_files(papers.job, papers.shop, order, papers.wishes)
    story += [gap(2), paragraph(words.PLEASE_PRINT, style.TEXT), *_wishes(files)]
    story += _sheets(papers, [file for file in files if file.piece is None])
    story += _singles(papers, [file for file in files if file.piece is not None])
    return story + _charges(papers, order)


def _wishes(files: Sequence[PrintFile]) -> list[Flowable]:
    """What the files hold beside the pieces, so that nobody takes a mark for artwork or mirrors twice."""
    told = []
    if any(file.sheet.mirrored for file in files):
        told.append(words.MIRRORED_ALREADY)
    if any(file.sheet.white_ground for file in files):
        told.append(words.WHITE_GROUND)
    return [gap(1), paragraph(" ".join(told), style.STRONG_TEXT)] if told else []


def _order_by(papers: Papers, order: Order) -> str:
    for deadline in papers.plan.calendar.deadlines:
        if deadline.offer == order.offer and deadline.ordered is not None:
            return when(deadline)
        if deadline.offer == order.offer:
            return words.order_by(deadline.by, order.days)
    return ""


def _file_cell(papers: Papers, file: PrintFile) -> list[Flowable]:
    """A print file's name, and the fingerprints of what was made of it."""
    name = _broken(file.stem, papers.width - BESIDE_FILE - 10)
    cell: list[Flowable] = [paragraph(name, style.STRONG_TEXT)]
    made = [made for made in papers.sheet_files if made.stem == file.stem]
    for one in made:
        # The figure on a line of its own: broken in the middle, it is compared wrong.
        kind = one.name.rpartition(".")[2].upper()
        cell.append(paragraph(f"{kind}, SHA-256\n{one.sha256}", style.FINE))
    return cell if made else [*cell, paragraph(words.FINGERPRINT_COMES, style.FINE)]


def _broken(stem: str, width: float) -> str:
    """A file's name on as many lines as it takes, none ending within "sheet-1-of-2" or "print-12x"."""
    lines = [""]
    for part in re.findall(r"[^_]*_|[^_]+$", stem):
        if lines[-1] and fonts.width_of(lines[-1] + part, style.BODY, fonts.STRONG) > width:
            lines.append("")
        lines[-1] += part
    return "\n".join(lines)


def _sheets(papers: Papers, files: list[PrintFile]) -> list[Flowable]:
    if not files:
        return []
    rows: list[list[Cell]] = [
        [
            file.label,
            _file_cell(papers, file),
            wording.size(file.sheet.size.width_mm, file.sheet.size.height_mm, papers.shop.unit),
            whole(len(file.sheet.pieces)),
            whole(file.copies),
        ]
        for file in files
    ]
    rows.append(["", words.ALL_SHEETS, "", "", whole(sum(file.copies for file in files))])
    return [
        *heading(words.SHEETS_TO_PRINT),
        table(
            words.SHEET_HEADS,
            rows,
            (30, papers.width - BESIDE_FILE, 92, 40, 44),
            figures=(3, 4),
            last_is_sum=True,
        ),
    ]


def _singles(papers: Papers, files: list[PrintFile]) -> list[Flowable]:
    """Pieces bought singly, with their printed sizes and counts."""
    if not files:
        return []
    rows: list[list[Cell]] = [
        [
            file.label,
            _file_cell(papers, file),
            wording.size(file.sheet.size.width_mm, file.sheet.size.height_mm, papers.shop.unit),
            whole(file.copies),
        ]
        for file in files
    ]
    rows.append(["", words.ALL_SINGLES, "", whole(sum(file.copies for file in files))])
    return [
        *heading(words.SINGLES_TO_PRINT),
        table(
            words.SINGLE_HEADS,
            rows,
            (30, papers.width - BESIDE_FILE, 122, 54),
            figures=(3,),
            last_is_sum=True,
        ),
    ]


def _charge(papers: Papers, line: PriceLine) -> str:
    """A charge in the shop's own unit and currency, with the piece's label where it is for one."""
    if line.count is None or line.each is None or line.size is None:
        return line.what
    label = piece_labels(papers.job).get(line.piece or "", "")
    size = wording.size(line.size.width_mm, line.size.height_mm, papers.shop.unit)
    what = f"{label}, {size}" if label else size
    return words.charge(line.count, what, wording.money(line.each, papers.shop.currency))


def _charges(papers: Papers, order: Order) -> list[Flowable]:
    """What the shop expects to pay by the printer's price list, so that a slip is seen before the bill."""
    if not order.lines:
        return []
    currency = papers.shop.currency
    rows: list[list[Cell]] = [
        [_charge(papers, line), wording.money(line.amount, currency)] for line in order.lines
    ]
    rows.append([words.TOGETHER, wording.money(order.cost, currency)])
    return [
        *heading(words.WE_RECKON_WITH),
        table(words.CHARGE_HEADS, rows, (papers.width - 100, 100), figures=(1,), last_is_sum=True),
    ]
