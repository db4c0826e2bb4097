"""The shop's own lists: order of work at the press, blanks to buy, what to count on arrival, what to pick."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from planner.measures.figures import decimal, whole
from planner.measures.money import total
from planner.measures.temperature import format_temperature
from planner.paper import list_words as words
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


def work_story(papers: Papers) -> list[Flowable]:
    work, width = papers.plan.press_work, papers.width
    story: list[Flowable] = [StartOfPaper(words.WORK), *title(words.WORK, papers.job.title)]
    if not work.steps:
        return [*story, paragraph(words.NOTHING_TO_PRESS)]
    story.append(
        facts(
            [
                (words.WARM_UP, duration(work.warm_up_min)),
                (words.SETTING_ANEW, resets(work)),
                (words.ONCE_WARM, pace(work)),
                (words.TOGETHER, duration(work.total_min)),
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
                (words.CHANGE_SETTING, step.reset_before),
                (words.COVER_FINISHED, step.cover_finished),
            )
            if holds
        ]
        place = wording.place(print_.location, print_.place_name)
        what: list[Flowable] = [
            paragraph(line_name(line), style.STRONG_TEXT),
            paragraph(words.place_and_notes(place, notes), style.TEXT),
        ]
        rows.append(
            [
                tick(),
                f"{number}",
                labels[step.print],
                what,
                [
                    paragraph(format_temperature(step.setting_c)),
                    paragraph(presses.get(step.press, ""), style.FINE),
                ],
                whole(step.pieces),
                decimal(3600 / step.seconds_each, 0),
                decimal(step.minutes, 0),
            ]
        )
    story.append(
        table(
            words.WORK_HEADS,
            rows,
            (20, 20, 36, width - 338, 108, 50, 50, 54),
            figures=(5, 6, 7),
        )
    )
    story += [
        gap(2),
        paragraph(words.MINUTES_HOLD),
        paragraph(words.STARTING_VALUES),
    ]
    return story


def buying_story(papers: Papers) -> list[Flowable]:
    story: list[Flowable] = [StartOfPaper(words.BUYING), *title(words.BUYING, papers.job.title)]
    currency = papers.shop.currency
    blanks = blanks_to_buy(papers.job, papers.shop)
    if not blanks:
        return [*story, paragraph(words.NO_GARMENTS_TO_BUY)]
    story += _order_by(papers)
    rows: list[list[Cell] | str] = []
    for name, of_it in _by_style(blanks):
        rows.append(name)
        for blank in of_it:
            rows.append(
                [
                    tick(),
                    blank.size,
                    whole(blank.need),
                    whole(blank.spares),
                    whole(blank.order),
                    wording.money(blank.cost_each, currency),
                    wording.money(blank.cost_each * blank.order, currency),
                ]
            )
    rows.append(
        [
            "",
            words.TOGETHER,
            whole(sum(blank.need for blank in blanks)),
            whole(sum(blank.spares for blank in blanks)),
            whole(sum(blank.order for blank in blanks)),
            "",
            wording.money(total(blank.cost_each * blank.order for blank in blanks), currency),
        ]
    )
    story.append(
        table(
            words.BUYING_HEADS,
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
            said = when(deadline) if deadline.ordered else words.order_by(when(deadline))
            return [paragraph(words.sentence(said), style.STRONG_TEXT), gap(2)]
    return []


def arrivals_story(papers: Papers) -> list[Flowable]:
    """What must have come before pressing starts, to be counted and ticked."""
    story: list[Flowable] = [
        StartOfPaper(words.ARRIVALS),
        *title(words.ARRIVALS, words.COUNT_ARRIVED),
    ]
    labels = piece_labels(papers.job)
    for order in papers.plan.purchase.orders if papers.plan.purchase else ():
        offer = papers.shop.offer(order.offer)
        story += heading(words.transfers(offer.name if offer else order.offer))
        story += _ordered(papers, order.offer)
        rows: list[list[Cell]] = [
            [
                tick(),
                words.labelled(labels.get(piece.piece, ""), piece_name(papers.job, piece.piece)),
                whole(piece.need),
                whole(piece.ordered),
                _blank_field(),
            ]
            for piece in order.pieces
        ]
        story.append(
            table(
                words.TRANSFER_HEADS,
                rows,
                (20, papers.width - 260, 70, 70, 100),
                figures=(2, 3),
            )
        )
    from_shelf = [one for one in on_shelf(papers.job, papers.shop) if one.taken]
    if from_shelf:
        story += heading(words.FROM_STOCK)
        story.append(
            table(
                words.STOCK_HEADS,
                [
                    [
                        tick(),
                        words.labelled(labels.get(one.piece.key, ""), piece_name(papers.job, one.piece.key)),
                        whole(one.piece.count),
                        whole(one.taken),
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
        story += heading(words.BLANKS)
        story += _ordered(papers, None)
        to_count: list[list[Cell] | str] = []
        for name, of_it in _by_style(blanks):
            to_count.append(name)
            for blank in of_it:
                figures = (whole(blank.need), whole(blank.order))
                to_count.append([tick(), blank.size, *figures, _blank_field()])
        story.append(
            table(
                words.BLANK_HEADS,
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
            return [paragraph(words.sentence(f"{when(deadline)}, {slack(deadline)}"), style.FINE)]
    return []


def picking_story(papers: Papers) -> list[Flowable]:
    """Finished garments by line and size, to be packed."""
    story: list[Flowable] = [
        StartOfPaper(words.PICKING),
        *title(words.PICKING, papers.job.customer.name or papers.job.title),
    ]
    if papers.job.due:
        story += [
            paragraph(words.deliver_by(wording.day(papers.job.due)), style.STRONG_TEXT),
            gap(2),
        ]
    rows: list[list[Cell] | str] = []
    for line in papers.job.lines:
        if not line.count:
            continue
        prints = papers.job.prints_on(line.key)
        places = (wording.place(print_.location, print_.place_name) for print_ in prints)
        rows.append(words.printed_garment(line_name(line), places))
        for size in line.sizes:
            if size.count:
                rows.append([tick(), size.size, whole(size.count), _blank_field()])
    if not rows:
        return [*story, paragraph(words.NO_GARMENTS)]
    rows.append(["", words.TOGETHER, whole(sum(line.count for line in papers.job.lines)), ""])
    story.append(
        table(
            words.PICK_HEADS,
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
        groups.setdefault(words.blank(blank.style, blank.colour_name), []).append(blank)
    return list(groups.items())


def _blank_field() -> Flowable:
    def draw(pen: Pen, area: Area) -> None:
        pen.line(area.left, area.bottom + 1, area.right, area.bottom + 1, colour=style.GREY)

    return Drawn(90, 12, draw)
