"""The job at a glance, for the shop: who, when, what is still open, what it costs."""

from reportlab.platypus import Flowable

from planner.paper import style
from planner.paper.blocks import StartOfPaper, facts, gap, heading, table, title
from planner.paper.labels import print_labels
from planner.paper.papers import Papers
from planner.paper.text import paragraph
from planner.paper.words import line_name, size_counts
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.wording_dates import slack, what, when

NAME = "Summary"


def summary_story(papers: Papers) -> list[Flowable]:
    job, plan, width = papers.job, papers.plan, papers.width
    story: list[Flowable] = [
        StartOfPaper(NAME),
        *title(job.title or "Job without a title", job.customer.name),
    ]
    garments = sum(line.count for line in job.lines)
    sheets = sum(order.sheets for order in plan.purchase.orders) if plan.purchase else 0
    story.append(
        facts(
            [
                ("Quoted on", wording.day(job.quoted_on)),
                ("Due", wording.day(job.due) if job.due else "not agreed"),
                ("Garments", f"{garments:,}"),
                ("Sheets of transfers", f"{sheets:,}"),
                ("Customer pays", wording.money(plan.quote.total, plan.quote.currency)),
                ("Margin", f"{plan.costs.margin_percent:.1f} %"),
            ],
            width,
        )
    )
    if plan.provisional:
        story.append(
            paragraph(
                "The sheets are a first arrangement: accept or improve it before ordering.", style.STRONG_TEXT
            )
        )
    story += _findings(papers)
    story += _garments(papers)
    story += _prints(papers)
    story += _dates(papers)
    story += _costs(papers)
    if job.note:
        story += [*heading("Note"), paragraph(job.note)]
    return story


def _findings(papers: Papers) -> list[Flowable]:
    plan, unit = papers.plan, papers.shop.unit
    missing = [wording.missing(what) for what in plan.missing]
    if not (plan.findings or plan.decided or missing):
        return []
    labels = print_labels(papers.job)
    rows: list[list[str]] = [["To do", "", f"{sentence}."] for sentence in missing]
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
        text = f"{wording.finding(found, unit)} Decided: {reasons.get(found.id, '')}"
        rows.append(["Decided", labels.get(found.print or "", ""), text])
    return [
        *heading("Before it goes out"),
        table(("", "Print", "What is so, and what to do"), rows, (60, 40, papers.width - 100)),
    ]


def _garments(papers: Papers) -> list[Flowable]:
    rows = [
        [
            line_name(line),
            ", ".join(f"{share.percent:g} % {kind_name(share.fibre)}" for share in line.cloth.fibres),
            size_counts((size.size, size.count) for size in line.sizes if size.count),
            f"{line.count:,}",
        ]
        for line in papers.job.lines
    ]
    if not rows:
        return []
    width = papers.width
    return [
        *heading("Garments"),
        table(
            ("Style and colour", "Cloth", "Sizes", "Count"),
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
                f"{wording.place(print_.location, print_.place_name)}, {line.style or kind_name(line.kind)}",
                wording.length(print_.width_mm, unit),
                offer.name if offer else "no offer",
                f"{line.count:,}",
                f"{bought:,}" if bought else "–",
            ]
        )
    if not rows:
        return []
    width = papers.width
    return [
        *heading("Prints"),
        table(
            ("", "Artwork", "Where", "Wide", "Offer", "Need", "Ordered"),
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
                f"{named}, {offer.name}" if offer else named,
                when(deadline),
                slack(deadline),
            ]
        )
    if not rows:
        return []
    return [
        *heading("Last days"),
        table(
            ("", "On or before", "Room"),
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
            f"{kind_name(line.kind)}, {names[line.line]}" if line.line in names else kind_name(line.kind),
            line.how,
            wording.money(line.amount, costs.currency),
        ]
        for line in costs.lines
    ]
    rows.append(["Cost", "", wording.money(costs.total, costs.currency)])
    return [
        *heading("Costs, for the shop only"),
        table(
            ("", "How it came about", "Amount"),
            rows,
            (150, papers.width - 240, 90),
            figures=(2,),
            last_is_sum=True,
        ),
        gap(2),
        paragraph(
            f"Revenue {wording.money(costs.revenue, costs.currency)}, profit "
            f"{wording.money(costs.profit, costs.currency)}, margin {costs.margin_percent:.1f} %.",
            style.TEXT,
        ),
    ]
