"""`planner plan`: the plan of a job, told."""

import json
import sys
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path

from planner.artwork.guarded import Guarded
from planner.commands import words
from planner.commands.as_json import plan_as_json
from planner.commands.opening import Opened, opened_job
from planner.commands.parsing import SentenceParser
from planner.measures.layout import Way
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.wording_dates import what, when
from planner.sheets.covered import covered_share


def plan(arguments: Sequence[str]) -> int:
    """Print the plan of a job, in words or as JSON."""
    parser = SentenceParser(prog="planner plan", description=words.PLAN)
    parser.add_argument("file", type=Path, metavar="FILE", help=words.JOB_FILE)
    parser.add_argument("--json", action="store_true", help=words.AS_JSON)
    wanted = parser.parse_args(arguments)
    with closing(Guarded()) as decoder:
        opened = opened_job(wanted.file, decoder)
    if wanted.json:
        told = json.dumps(plan_as_json(opened.job, opened.shop, opened.plan), indent=1, ensure_ascii=False)
    else:
        told = "\n".join(_in_words(opened))
    sys.stdout.write(told + "\n")
    return 0


def _in_words(opened: Opened) -> Iterator[str]:
    job, shop, the_plan = opened.job, opened.shop, opened.plan
    way = job.way or shop.way
    yield words.job_for(job.title, job.customer.name)
    if job.due:
        yield words.due(wording.day(job.due))
    for finding in the_plan.findings:
        about = f" [{finding.print or finding.artwork or finding.line or finding.offer}]"
        about = about if about != " [None]" else ""
        yield f"{wording.seriousness(finding.seriousness)}{about}: {wording.finding(finding, shop.unit)}"
    for order in the_plan.purchase.orders if the_plan.purchase else ():
        offer = shop.offer(order.offer)
        yield ""
        yield f"{offer.name if offer else order.offer}: {wording.money(order.cost, shop.currency)}"
        if near := wording.bound(order, shop.currency):
            yield f"  {near}"
        for number, layout in enumerate(order.layouts, 1):
            sheet = wording.size(layout.sheet.width_mm, layout.sheet.height_mm, shop.unit)
            # The outlines that pieces are cut by are not known here, and boxes cover more.
            filled = "" if way is Way.OUTLINE else words.filled(covered_share(layout))
            runs, pieces = wording.count(layout.runs, "run"), wording.count(len(layout.placements), "piece")
            yield f"  {words.layout(number, runs, sheet, pieces)}{filled}"
        for piece in order.pieces:
            yield f"  {words.piece(piece.piece, piece.need, piece.spares, piece.ordered)}"
    yield ""
    for line in the_plan.costs.lines:
        yield f"{kind_name(line.kind):<24}{wording.money(line.amount, shop.currency):>14}   {line.how}"
    yield f"{words.COST:<24}{wording.money(the_plan.costs.total, shop.currency):>14}"
    yield f"{words.QUOTE:<24}{wording.money(the_plan.quote.total, shop.currency):>14}"
    for deadline in the_plan.calendar.deadlines:
        yield f"{what(deadline):<24}  {when(deadline)}"
