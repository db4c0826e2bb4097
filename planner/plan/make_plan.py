"""`make_plan`: a job and a shop book in, everything that follows from them out."""

from datetime import date

from planner.artwork.judge import judge
from planner.buying.purchase import Order, Purchase
from planner.buying.suits import suits
from planner.job.document import Job, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.figures import written_for
from planner.plan.model import Missing, Plan
from planner.plan.ordering import (
    Facts,
    faulty_pieces,
    is_arranged,
    outlines_of,
    purchase_of,
    sheets_apart,
    traits,
    way_of,
)
from planner.plan.stock import stock_findings
from planner.pressing.calendar_reckoning import late_findings, reckon_calendar
from planner.pressing.cards import press_cards
from planner.pressing.placement import placement_findings
from planner.pressing.work_order import press_work
from planner.pricing.quoting import make_quote
from planner.pricing.reckon import floor_findings, reckon_costs
from planner.shop.book import Shop
from planner.shop.garments import SizeGroup


def make_plan(job: Job, shop: Shop, *, facts: Facts, today: date) -> Plan:
    """The plan of a job on one day: pure, quick, the same for the same question.

    `facts` holds what was measured, by artwork key; of an artwork not measured yet only its pixel size is
    judged. Where nobody accepted layouts for what the job needs now, the plan holds a quick arrangement
    and is provisional. What it tells in words is written as in the shop's region.
    """
    with written_for(shop.region):
        return _plan(job, shop, facts, today)


def _plan(job: Job, shop: Shop, facts: Facts, today: date) -> Plan:
    purchase = purchase_of(job, shop, facts)
    work = press_work(job, shop)
    costs = reckon_costs(job, shop, purchase, work)
    days = {order.offer: order.days for order in purchase.orders} if purchase else {}
    calendar = reckon_calendar(job, shop, days, work.total_min, today)
    findings = [
        *(finding for print_ in job.prints for finding in _print_findings(job, shop, facts, print_)),
        *_purchase_findings(job, shop, facts, purchase),
        *stock_findings(job, shop),
        *late_findings(calendar, job.state),
        *floor_findings(costs, shop),
        *_job_findings(job),
    ]
    open_ones, decided = _by_decision(job, findings)
    return Plan(
        findings=open_ones,
        decided=decided,
        purchase=purchase,
        costs=costs,
        quote=make_quote(job, shop, costs),
        press_cards=press_cards(job, shop, _label_decisions(job, decided)),
        press_work=work,
        calendar=calendar,
        missing=_missing(job, shop, purchase),
        provisional=purchase is not None and not _all_arranged(job, purchase),
    )


def _print_findings(job: Job, shop: Shop, facts: Facts, print_: Print) -> tuple[Finding, ...]:
    artwork = job.artwork(print_.artwork)
    line = job.line(print_.line)
    measured = facts.get(artwork.key)
    key = job.offer_of(print_)
    offer = shop.offer(key) if key else None
    found = [
        *judge(measured, artwork, print_, line, offer.art if offer else None),
        *placement_findings(job, print_, shop.presses, shop.usual_widths),
    ]
    if offer is not None:
        # Judged at its print size an artwork is known better than by its traits.
        known = {finding.kind for finding in found} | ({FindingKind.SOFT_EDGES} if measured else set())
        suited = suits(job, print_, offer, traits(measured) if measured else None)
        found += [finding for finding in suited if finding.kind not in known]
    elif key is not None:
        found.append(
            Finding(kind=FindingKind.OFFER_GONE, seriousness=Seriousness.STOP, print=print_.key, offer=key)
        )
    return tuple(found)


def _purchase_findings(job: Job, shop: Shop, facts: Facts, purchase: Purchase | None) -> list[Finding]:
    return [
        finding
        for order in (purchase.orders if purchase else ())
        for finding in _order_findings(job, shop, facts, order)
    ]


def _order_findings(job: Job, shop: Shop, facts: Facts, order: Order) -> list[Finding]:
    counted = (
        (FindingKind.NOT_PLACED, sum(piece.count for piece in order.not_placed)),
        (
            FindingKind.PIECE_SHORT,
            sum(max(0, -piece.surplus) for piece in order.pieces if piece.piece not in _not_placed(order)),
        ),
        (FindingKind.SHEET_FAULT, _faulty(job, shop, facts, order)),
    )
    found = [
        Finding(kind=kind, seriousness=Seriousness.STOP, offer=order.offer, found=count)
        for kind, count in counted
        if count
    ]
    offer = shop.offer(order.offer)
    apart = sheets_apart(job, offer, order) if offer else 0
    if apart:
        found.append(
            Finding(
                kind=FindingKind.SHEETS_APART, seriousness=Seriousness.LOOK, offer=order.offer, found=apart
            )
        )
    return found


def _not_placed(order: Order) -> frozenset[str]:
    return frozenset(piece.piece for piece in order.not_placed)


def _faulty(job: Job, shop: Shop, facts: Facts, order: Order) -> int:
    offer = shop.offer(order.offer)
    # A quick arrangement is in order by itself; only what hands or an older rule left is looked at.
    if offer is None or not is_arranged(job, order):
        return 0
    return faulty_pieces(order, offer, way_of(job, shop), outlines_of(job, shop, facts))


def _job_findings(job: Job) -> list[Finding]:
    found = []
    if job.prints:
        found.append(Finding(kind=FindingKind.RIGHTS, seriousness=Seriousness.NOTE))
        found += _forgotten(job)
    children = any(
        size.count and size.group in (SizeGroup.YOUTH, SizeGroup.INFANT)
        for line in job.lines
        for size in line.sizes
    )
    if children:
        found.append(Finding(kind=FindingKind.CHILDREN, seriousness=Seriousness.NOTE))
    return found


def _forgotten(job: Job) -> list[Finding]:
    """Artwork and garments that nothing joins; told only once something else is joined."""
    used = {print_.artwork for print_ in job.prints} | {extra.artwork for extra in job.extras}
    printed = {print_.line for print_ in job.prints}
    unused = [
        Finding(kind=FindingKind.ARTWORK_UNUSED, seriousness=Seriousness.LOOK, artwork=artwork.key)
        for artwork in job.artworks
        if artwork.key not in used
    ]
    unprinted = [
        Finding(
            kind=FindingKind.LINE_UNPRINTED, seriousness=Seriousness.LOOK, line=line.key, found=line.count
        )
        for line in job.lines
        if line.count and line.key not in printed
    ]
    return unused + unprinted


def _by_decision(job: Job, findings: list[Finding]) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    worst_first = sorted(findings, key=lambda finding: list(Seriousness).index(finding.seriousness))
    decided = tuple(
        finding for finding in worst_first if any(decision.covers(finding) for decision in job.decisions)
    )
    return tuple(finding for finding in worst_first if finding not in decided), decided


def _label_decisions(job: Job, decided: tuple[Finding, ...]) -> dict[str, str]:
    """Why prints are pressed hotter than the care label, by print."""
    reasons = {decision.finding: decision.reason for decision in job.decisions}
    return {
        finding.print: reasons[finding.id]
        for finding in decided
        if finding.kind is FindingKind.OVER_IRON_DOTS and finding.print is not None
    }


def _all_arranged(job: Job, purchase: Purchase) -> bool:
    return all(is_arranged(job, order) for order in purchase.orders)


def _missing(job: Job, shop: Shop, purchase: Purchase | None) -> tuple[Missing, ...]:
    lacking = {
        Missing.CUSTOMER: not job.customer.name.strip(),
        Missing.GARMENTS: not job.lines,
        Missing.COUNTS: bool(job.lines) and not any(line.count for line in job.lines),
        Missing.ARTWORK: not job.artworks,
        Missing.PRINTS: bool(job.lines) and bool(job.artworks) and not job.prints,
        Missing.OFFER: any(shop.offer(job.offer_of(print_) or "") is None for print_ in job.prints),
        Missing.ARRANGE: purchase is not None and not _all_arranged(job, purchase),
        Missing.DUE: job.due is None,
    }
    return tuple(what for what in Missing if lacking[what])
