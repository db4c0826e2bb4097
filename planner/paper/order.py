"""The order to a transfer printer: what to print, how often, from which files."""

from reportlab.platypus import Flowable

from planner.buying.purchase import Order
from planner.job.pieces import print_of_piece
from planner.paper import style
from planner.paper.blocks import Cell, StartOfPaper, facts, gap, heading, new_page, table, title
from planner.paper.labels import piece_labels
from planner.paper.names import sheet_file_stem
from planner.paper.papers import Papers
from planner.paper.print_sheet import artwork_of_piece, piece_size
from planner.paper.text import paragraph
from planner.plan import wording

NAME = "Order for transfers"
CHECK = (
    "Please print every sheet as often as stated, at 100 % of its size, unmirrored unless your process asks "
    "for it, and keep transparent areas free of ink, white and adhesive. Files are sRGB; a sheet "
    "given as PDF and as PNG is the same in both. If a file’s fingerprint differs from the one given "
    "here, ask before you print."
)


def orders_story(papers: Papers) -> list[Flowable]:
    orders = papers.plan.purchase.orders if papers.plan.purchase else ()
    if not orders:
        return [StartOfPaper(NAME), *title(NAME), paragraph("Nothing to order yet: no offer is chosen.")]
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
                ("From", head.name),
                ("Reach us", " · ".join(part for part in (head.email, head.phone) if part)),
                ("Our reference", papers.job.title),
                ("Kind", offer.kind.value if offer else ""),
                ("Offer", name),
                ("Service", "rush" if rush else "standard"),
            ],
            papers.width,
        )
    )
    by = _order_by(papers, order)
    if by:
        story += [paragraph(f"Needed: {by}", style.STRONG_TEXT), gap(1)]
    if head.address:
        story.append(paragraph("Deliver to: " + ", ".join((head.name, *head.address))))
    story += _sheets(papers, order) if order.layouts else _singles(papers, order)
    story += _charges(papers, order)
    story += [gap(3), paragraph(CHECK, style.TEXT)]
    return story


def _order_by(papers: Papers, order: Order) -> str:
    for deadline in papers.plan.calendar.deadlines:
        if deadline.offer == order.offer:
            return (
                f"order placed on or before {wording.day(deadline.by)}, {order.days} working days to arrival"
            )
    return ""


def _sheets(papers: Papers, order: Order) -> list[Flowable]:
    unit = papers.shop.unit
    files = [file for file in papers.sheet_files if file.offer == order.offer]
    rows: list[list[Cell]] = []
    for at, layout in enumerate(order.layouts):
        names = [paragraph(sheet_file_stem(papers.job, order, at), style.STRONG_TEXT)]
        made = [file for file in files if file.layout == at]
        for file in made:
            names.append(
                paragraph(f"{file.name.rpartition('.')[2].upper()}, SHA-256 {file.sha256}", style.FINE)
            )
        if not made:
            names.append(paragraph("fingerprint: made with the sheet files", style.FINE))
        rows.append(
            [
                f"{at + 1}",
                names,
                wording.size(layout.sheet.width_mm, layout.sheet.height_mm, unit),
                f"{len(layout.placements):,}",
                f"{layout.runs:,}",
            ]
        )
    rows.append(["", "All sheets", "", "", f"{order.sheets:,}"])
    width = papers.width
    return [
        *heading("Sheets to print"),
        table(
            ("Sheet", "File", "Size", "Pieces", "Print"),
            rows,
            (36, width - 240, 104, 46, 54),
            figures=(3, 4),
            last_is_sum=True,
        ),
    ]


def _singles(papers: Papers, order: Order) -> list[Flowable]:
    """Pieces bought singly: artwork files with their printed sizes and counts."""
    labels = piece_labels(papers.job)
    unit = papers.shop.unit
    rows: list[list[Cell]] = []
    for piece in order.pieces:
        artwork = artwork_of_piece(papers.job, piece.piece)
        size = piece_size(papers.job, piece.piece)
        rows.append(
            [
                labels.get(piece.piece) or labels.get(print_of_piece(piece.piece), ""),
                [
                    paragraph(artwork.name, style.STRONG_TEXT),
                    paragraph(f"SHA-256 {artwork.sha256}", style.FINE),
                ],
                wording.size(size.width_mm, size.height_mm, unit),
                f"{piece.ordered:,}",
            ]
        )
    rows.append(["", "All pieces", "", f"{sum(piece.ordered for piece in order.pieces):,}"])
    return [
        *heading("Pieces to print"),
        table(
            ("", "File", "Printed size", "Print"),
            rows,
            (30, papers.width - 200, 116, 54),
            figures=(3,),
            last_is_sum=True,
        ),
    ]


def _charges(papers: Papers, order: Order) -> list[Flowable]:
    """What the shop expects to pay by the printer's price list, so that a slip is seen before the bill."""
    if not order.lines:
        return []
    currency = papers.shop.currency
    rows: list[list[Cell]] = [[line.what, wording.money(line.amount, currency)] for line in order.lines]
    rows.append(["Together", wording.money(order.cost, currency)])
    return [
        *heading("We reckon with"),
        table(("", "Amount"), rows, (papers.width - 100, 100), figures=(1,), last_is_sum=True),
    ]
