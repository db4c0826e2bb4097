"""The shop's own lists: order of work at the press, blanks to buy, what to count on arrival, what to pick."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from planner.measures.money import total
from planner.measures.temperature import format_temperature
from planner.paper import style
from planner.paper.blocks import Cell, Drawn, StartOfPaper, facts, gap, heading, table, tick, title
from planner.paper.labels import piece_labels, print_labels
from planner.paper.papers import Papers
from planner.paper.pen import Area, Pen
from planner.paper.text import paragraph
from planner.paper.words import line_name, piece_name
from planner.plan import wording
from planner.plan.stock import on_shelf
from planner.plan.wording_dates import slack, when
from planner.plan.wording_press import duration, pace, resets
from planner.pressing.blanks import BlankToBuy, blanks_to_buy
from planner.pressing.calendar import Milestone

WORK, BUYING, ARRIVALS, PICKING = "Order of work", "Buying list", "Check-in list", "Pick list"


def work_story(papers: Papers) -> list[Flowable]:
    work, width = papers.plan.press_work, papers.width
    story: list[Flowable] = [StartOfPaper(WORK), *title(WORK, papers.job.title)]
    if not work.steps:
        return [*story, paragraph("Nothing to press yet.")]
    story.append(
        facts(
            [
                ("Warm-up", duration(work.warm_up_min)),
                ("Setting anew", resets(work)),
                ("Once warm", pace(work)),
                ("Together", duration(work.total_min)),
            ],
            width,
            columns=4,
        )
    )
    labels, presses = print_labels(papers.job), {press.key: press.name for press in papers.shop.presses}
    rows: list[list[Cell]] = []
    for number, step in enumerate(work.steps, 1):
        line, print_ = papers.job.line(step.line), papers.job.print_of(step.print)
        notes = [
            note
            for note, holds in (
                ("change the setting first", step.reset_before),
                ("cover finished prints", step.cover_finished),
            )
            if holds
        ]
        words: list[Flowable] = [
            paragraph(line_name(line), style.STRONG_TEXT),
            paragraph(", ".join([wording.place(print_.location, print_.place_name), *notes]), style.TEXT),
        ]
        rows.append(
            [
                tick(),
                f"{number}",
                labels[step.print],
                words,
                [
                    paragraph(format_temperature(step.setting_c)),
                    paragraph(presses.get(step.press, ""), style.FINE),
                ],
                f"{step.pieces:,}",
                f"{3600 / step.seconds_each:,.0f}",
                f"{step.minutes:.0f}",
            ]
        )
    story.append(
        table(
            ("", "", "Print", "Garment and place", "Setting", "Pieces", "An hour", "Minutes"),
            rows,
            (20, 20, 36, width - 338, 108, 50, 50, 54),
            figures=(5, 6, 7),
        )
    )
    story += [
        gap(2),
        paragraph(
            "Minutes hold loading, pre-press, pressing, second press, cooling and hand work of one person."
        ),
        paragraph("Settings are starting values: the transfer printer’s sheet and the garment’s label win."),
    ]
    return story


def buying_story(papers: Papers) -> list[Flowable]:
    story: list[Flowable] = [StartOfPaper(BUYING), *title(BUYING, papers.job.title)]
    currency = papers.shop.currency
    blanks = blanks_to_buy(papers.job, papers.shop)
    if not blanks:
        return [*story, paragraph("No garments to buy yet.")]
    story += _order_by(papers)
    rows: list[list[Cell] | str] = []
    for name, of_it in _by_style(blanks):
        rows.append(name)
        for blank in of_it:
            rows.append(
                [
                    tick(),
                    blank.size,
                    f"{blank.need:,}",
                    f"{blank.spares:,}",
                    f"{blank.order:,}",
                    wording.money(blank.cost_each, currency),
                    wording.money(blank.cost_each * blank.order, currency),
                ]
            )
    rows.append(
        [
            "",
            "Together",
            f"{sum(blank.need for blank in blanks):,}",
            f"{sum(blank.spares for blank in blanks):,}",
            f"{sum(blank.order for blank in blanks):,}",
            "",
            wording.money(total(blank.cost_each * blank.order for blank in blanks), currency),
        ]
    )
    story.append(
        table(
            ("", "Size", "Need", "Spares", "Order", "Each", "Amount"),
            rows,
            (20, papers.width - 390, 62, 62, 62, 84, 100),
            figures=(2, 3, 4, 5, 6),
            last_is_sum=True,
        )
    )
    return story


def _order_by(papers: Papers) -> list[Flowable]:
    """The last day to order the blanks, or when they were ordered; nothing without a due date."""
    for deadline in papers.plan.calendar.deadlines:
        if deadline.milestone is Milestone.ORDER_BLANKS:
            said = when(deadline) if deadline.ordered else f"order on or before {when(deadline)}"
            return [paragraph(f"{said[:1].upper()}{said[1:]}.", style.STRONG_TEXT), gap(2)]
    return []


def arrivals_story(papers: Papers) -> list[Flowable]:
    """What must have come before pressing starts, to be counted and ticked."""
    story: list[Flowable] = [
        StartOfPaper(ARRIVALS),
        *title(ARRIVALS, "Count what arrived before the press is warm."),
    ]
    labels = piece_labels(papers.job)
    for order in papers.plan.purchase.orders if papers.plan.purchase else ():
        offer = papers.shop.offer(order.offer)
        story += heading(f"Transfers: {offer.name if offer else order.offer}")
        story += _ordered(papers, order.offer)
        rows: list[list[Cell]] = [
            [
                tick(),
                f"{labels.get(piece.piece, '')}  {piece_name(papers.job, piece.piece)}",
                f"{piece.need:,}",
                f"{piece.ordered:,}",
                _blank_field(),
            ]
            for piece in order.pieces
        ]
        story.append(
            table(
                ("", "Piece", "Need", "Ordered", "Arrived"),
                rows,
                (20, papers.width - 260, 70, 70, 100),
                figures=(2, 3),
            )
        )
    from_shelf = [one for one in on_shelf(papers.job, papers.shop) if one.taken]
    if from_shelf:
        story += heading("Left-over transfers from stock")
        story.append(
            table(
                ("", "Piece", "Garments", "Take", "Counted"),
                [
                    [
                        tick(),
                        f"{labels.get(one.piece.key, '')}  {piece_name(papers.job, one.piece.key)}",
                        f"{one.piece.count:,}",
                        f"{one.taken:,}",
                        _blank_field(),
                    ]
                    for one in from_shelf
                ],
                (20, papers.width - 260, 70, 70, 100),
                figures=(2, 3),
            )
        )
    blanks = blanks_to_buy(papers.job, papers.shop)
    if blanks:
        story += heading("Blanks")
        story += _ordered(papers, None)
        to_count: list[list[Cell] | str] = []
        for name, of_it in _by_style(blanks):
            to_count.append(name)
            for blank in of_it:
                figures = (f"{blank.need:,}", f"{blank.order:,}")
                to_count.append([tick(), blank.size, *figures, _blank_field()])
        story.append(
            table(
                ("", "Size", "Need", "Ordered", "Arrived"),
                to_count,
                (20, papers.width - 260, 70, 70, 100),
                figures=(2, 3),
            )
        )
    return story


def _ordered(papers: Papers, offer: str | None) -> list[Flowable]:
    """When an offer's transfers (or the blanks) were ordered and arrive; nothing while they are not."""
    for deadline in papers.plan.calendar.deadlines:
        if deadline.ordered is not None and deadline.offer == offer:
            said = f"{when(deadline)}, {slack(deadline)}."
            return [paragraph(said[:1].upper() + said[1:], style.FINE)]
    return []


def picking_story(papers: Papers) -> list[Flowable]:
    """Finished garments by line and size, to be packed."""
    story: list[Flowable] = [
        StartOfPaper(PICKING),
        *title(PICKING, papers.job.customer.name or papers.job.title),
    ]
    if papers.job.due:
        story += [
            paragraph(f"Deliver on or before {wording.day(papers.job.due)}.", style.STRONG_TEXT),
            gap(2),
        ]
    rows: list[list[Cell] | str] = []
    for line in papers.job.lines:
        if not line.count:
            continue
        prints = papers.job.prints_on(line.key)
        places = ", ".join(wording.place(print_.location, print_.place_name) for print_ in prints)
        rows.append(f"{line_name(line)}: {places or 'no print'}")
        for size in line.sizes:
            if size.count:
                rows.append([tick(), size.size, f"{size.count:,}", _blank_field()])
    if not rows:
        return [*story, paragraph("No garments yet.")]
    rows.append(["", "Together", f"{sum(line.count for line in papers.job.lines):,}", ""])
    story.append(
        table(
            ("", "Size", "Count", "Packed"),
            rows,
            (20, papers.width - 190, 70, 100),
            figures=(2,),
            last_is_sum=True,
        )
    )
    return story


def _by_style(blanks: Sequence[BlankToBuy]) -> list[tuple[str, list[BlankToBuy]]]:
    """Blanks under the name of their style and colour."""
    groups: dict[str, list[BlankToBuy]] = {}
    for blank in blanks:
        groups.setdefault(f"{blank.style or 'Style not named'}, {blank.colour_name}", []).append(blank)
    return list(groups.items())


def _blank_field() -> Flowable:
    def draw(pen: Pen, area: Area) -> None:
        pen.line(area.left, area.bottom + 1, area.right, area.bottom + 1, colour=style.GREY)

    return Drawn(90, 12, draw)
