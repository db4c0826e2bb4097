"""Every sheet for itself: what is cheapest where only the number of sheets counts."""

from planner.buying.effort import Effort
from planner.buying.run_plan import RunPlan, RunProblem
from planner.measures.layout import Layout
from planner.sheets.arrange import arrange
from planner.sheets.problem import FixedSheet, Request, grouped

_MOST_COPIES = 3_000
"""With more pieces arranging each of them singly takes too long."""


def sheet_by_sheet(problem: RunProblem, effort: Effort) -> RunPlan | None:
    """All copies arranged on as few sheets as possible, like sheets merged into runs."""
    if sum(problem.needs) > _MOST_COPIES:
        return None
    packer = problem.packer
    answer = arrange(
        Request(
            tuple(want.piece(need) for want, need in zip(packer.wants, problem.needs, strict=True)),
            (FixedSheet(packer.sheet),),
            packer.gap_mm,
            packer.margin_mm,
            packer.way,
            budget_s=effort.share_s(0.15),
            rounds=effort.rounds,
        )
    )
    if answer.left_over:
        return None
    layouts = grouped(answer.layouts)
    if not problem.allows(len(layouts)):
        return None
    keys = [want.key for want in packer.wants]
    counts = [
        tuple(sum(placed.print == key for placed in layout.placements) for key in keys) for layout in layouts
    ]
    singly = [Layout(layout.sheet, layout.placements) for layout in layouts]
    for column, layout in zip(counts, singly, strict=True):
        packer.learn(column, layout)
    return problem.plan([layout.runs for layout in layouts], counts, singly)
