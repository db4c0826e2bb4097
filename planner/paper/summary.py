"""The job at a glance, for the shop: who, when, what is still open, what it costs."""

from reportlab.platypus import Flowable

from planner.measures.figures import whole
from planner.paper import style
from planner.paper import summary_words as words
from planner.paper.blocks import StartOfPaper, facts, gap, heading, table, title
from planner.paper.labels import print_labels
from planner.paper.papers import Papers
from planner.paper.text import paragraph
from planner.paper.words import line_name, size_counts
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.wording_dates import slack, what, when


def summary_story(papers: Papers) -> list[Flowable]:
    job, plan, width = papers.job, papers.plan, papers.width
    story: list[Flowable] = [
        StartOfPaper(words.SUMMARY),
        *title(job.title or words.NO_TITLE, job.customer.name),
    ]
    garments = sum(line.count for line in job.lines)
    sheets = sum(order.sheets for order in plan.purchase.orders) if plan.purchase else 0
    story.append(
        facts(
            [
                (words.QUOTED_ON, wording.day(job.quoted_on)),
                (words.DUE, wording.day(job.due) if job.due else words.NOT_AGREED),
                (words.GARMENTS, whole(garments)),
                (words.SHEETS, whole(sheets)),
                (words.CUSTOMER_PAYS, wording.money(plan.quote.total, plan.quote.currency)),
                (words.MARGIN, wording.percent(plan.costs.margin_percent)),
            ],
            width,
        )
    )
    if plan.provisional:
        story.append(paragraph(words.PROVISIONAL, style.STRONG_TEXT))
    story += _findings(papers)
    story += _garments(papers)
    story += _prints(papers)
    story += _dates(papers)
    story += _costs(papers)
    if job.note:
        story += [*heading(words.NOTE), paragraph(job.note)]
    return story


def _findings(papers: Papers) -> list[Flowable]:
    plan, unit = papers.plan, papers.shop.unit
    missing = [wording.missing(what) for what in plan.missing]
    if not (plan.findings or plan.decided or missing):
        return []
    labels = print_labels(papers.job)
    rows: list[list[str]] = [[words.TO_DO, "", words.missing(sentence)] for sentence in missing]
    for found in plan.findings:
        rows.append(
            [
                wording.seriousness(found.seriousness),
                labels.get(found.print or "", ""),
                wording.finding(found, unit),
            ]
        )
    reasons = {decision.finding: decision.reason for decision in papers.job.decisions}
    for found in plan.decided:
        text = words.decided(wording.finding(found, unit), reasons.get(found.id, ""))
        rows.append([words.DECIDED, labels.get(found.print or "", ""), text])
    return [
        *heading(words.BEFORE_IT_GOES_OUT),
        table(words.FINDING_HEADS, rows, (60, 40, papers.width - 100)),
    ]


def _garments(papers: Papers) -> list[Flowable]:
    rows = [
        [
            line_name(line),
            ", ".join(words.fibre(share.percent, kind_name(share.fibre)) for share in line.cloth.fibres),
            size_counts((size.size, size.count) for size in line.sizes if size.count),
            whole(line.count),
        ]
        for line in papers.job.lines
    ]
    if not rows:
        return []
    width = papers.width
    return [
        *heading(words.GARMENTS),
        table(
            words.GARMENT_HEADS,
            rows,
            (150, 120, width - 320, 50),
            figures=(3,),
        ),
    ]


def _prints(papers: Papers) -> list[Flowable]:
    job, unit = papers.job, papers.shop.unit
    labels = print_labels(job)
    ordered = {
        piece.piece: piece
        for order in (papers.plan.purchase.orders if papers.plan.purchase else ())
        for piece in order.pieces
    }
    rows = []
    for print_ in job.prints:
        line = job.line(print_.line)
        offer = papers.shop.offer(job.offer_of(print_) or "")
        bought = sum(piece.ordered for key, piece in ordered.items() if key.partition("/")[0] == print_.key)
        rows.append(
            [
                labels[print_.key],
                job.artwork(print_.artwork).name,
                words.where(
                    wording.place(print_.location, print_.place_name), line.style or kind_name(line.kind)
                ),
                wording.length(print_.width_mm, unit),
                offer.name if offer else words.NO_OFFER,
                whole(line.count),
                whole(bought) if bought else words.NONE_ORDERED,
            ]
        )
    if not rows:
        return []
    width = papers.width
    return [
        *heading(words.PRINTS),
        table(
            words.PRINT_HEADS,
            rows,
            (24, (width - 196) * 0.34, (width - 196) * 0.32, 56, (width - 196) * 0.34, 52, 64),
            figures=(5, 6),
        ),
    ]


def _dates(papers: Papers) -> list[Flowable]:
    rows = []
    for deadline in papers.plan.calendar.deadlines:
        offer = papers.shop.offer(deadline.offer or "")
        named = what(deadline)
        rows.append(
            [
                words.order_from(named, offer.name) if offer else named,
                when(deadline),
                slack(deadline),
            ]
        )
    if not rows:
        return []
    return [
        *heading(words.LAST_DAYS),
        table(
            words.DAY_HEADS,
            rows,
            (papers.width - 330, 220, 110),
        ),
    ]


def _costs(papers: Papers) -> list[Flowable]:
    costs = papers.plan.costs
    if not costs.lines:
        return []
    names = {line.key: line.style or kind_name(line.kind) for line in papers.job.lines}
    rows = [
        [
            words.cost_of(kind_name(line.kind), names[line.line])
            if line.line in names
            else kind_name(line.kind),
            line.how,
            wording.money(line.amount, costs.currency),
        ]
        for line in costs.lines
    ]
    rows.append([words.COST, "", wording.money(costs.total, costs.currency)])
    return [
        *heading(words.COSTS),
        table(
            words.COST_HEADS,
            rows,
            (150, papers.width - 240, 90),
            figures=(2,),
            last_is_sum=True,
        ),
        gap(2),
        paragraph(
            words.earned(
                wording.money(costs.revenue, costs.currency),
                wording.money(costs.profit, costs.currency),
                wording.percent(costs.margin_percent),
            ),
            style.TEXT,
        ),
    ]
