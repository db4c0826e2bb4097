"""Buying: published cover printing and template instances, and invented jobs at stepped sheet prices.

    python -m tests.bench.buying SET... [--seconds S] [--json OUT] [--limit N]

A set is a JSON file, told by what is in it: cover printing instances (reference: the published solution),
CSPLib 002 template instances (reference: the published optimum), or jobs with price tables (reference: the
proven bound; a second row gives the saving against the better of a person's two ways in percent, and the
last two its mean over all jobs priced by run and over all priced by the whole order).
"""

import argparse
import json
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import fmean
from typing import Any

from planner.buying.by_sheet import USUAL_LAYOUTS
from planner.buying.capacity import capacity_rows
from planner.buying.effort import Effort
from planner.buying.order import plan_order
from planner.buying.packer import Packer
from planner.buying.run_bound import Proof
from planner.buying.run_engine import search_runs
from planner.buying.run_plan import RunPlan, RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_prices import run_prices
from planner.buying.wants import Want
from planner.job.pieces import NeededPiece
from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.shop.book import Spares
from planner.shop.cloth import Fibre
from planner.shop.offers import ClothRule, Offer, Peel, PressSetting, Pressure, TransferKind
from planner.shop.prices import BySheet, CountedBy
from tests.bench.report import Row, add_json_option, row, show
from tests.buying.offers import by_sheet
from tests.buying.places import row_of, slots

INCH = 25.4


def solved(problem: RunProblem, seconds: float) -> tuple[RunPlan, float]:
    began = time.perf_counter()
    packer = problem.packer
    rows = capacity_rows(packer.wants, packer.sheet, gap_mm=0, margin_mm=0, way=packer.way)
    proof = Proof(problem, rows, most_layouts=problem.most_layouts or USUAL_LAYOUTS)
    plan = search_runs(problem, Effort(seconds, None), end=1.0, proof=proof)
    took = time.perf_counter() - began
    for number, need in enumerate(problem.needs):
        made = sum(run * counts[number] for run, counts in zip(plan.runs, plan.counts, strict=True))
        assert made >= need, "a need is not met"
    return plan, took


def covers(data: dict[str, Any], seconds: float, limit: int | None) -> Iterator[Row]:
    for instance in data["instances"][:limit]:
        places, each = instance["slots"], str(instance["cost_per_impression"])
        table = row_of(places, (1, each), set_up=str(instance["cost_per_plate"]))
        problem = slots(instance["demand"], places, table)
        plan, took = solved(problem, seconds)
        best = instance["published_solution"]["cost"]
        yield row(f"cover {instance['name']}", "cost", plan.cost / 100, reference=best, seconds=took)


def templates(data: dict[str, Any], seconds: float, limit: int | None) -> Iterator[Row]:
    for instance in data["instances"][:limit]:
        published = instance["published_optimum"]
        if isinstance(published, str):
            published = [{"templates": t, "pressings": None} for t in (1, 2, 3)]
        for known in published:
            places = instance["slots"]
            table = row_of(places, (1, "0.01"))
            problem = slots(instance["demand"], places, table, most_layouts=known["templates"])
            plan, took = solved(problem, seconds)
            name = f"{instance['name']} {known['templates']} templates"
            yield row(name, "cost", plan.cost, reference=known["pressings"], seconds=took)


def jobs(data: dict[str, Any], seconds: float, limit: int | None) -> Iterator[Row]:
    sheet = Size(*(side * INCH for side in data["sheet_in"]))
    savings: dict[str, list[tuple[float, float]]] = {}
    for job in data["jobs"][:limit]:
        pieces = tuple(
            NeededPiece(
                str(n), str(n), str(n), Size(d["width_in"] * INCH, d["height_in"] * INCH), d["need"], True
            )
            for n, d in enumerate(job["designs"])
        )
        for name, prices in data["prices"].items():
            table = by_sheet(
                *((start, str(each)) for start, each in prices["breaks"]),
                size=sheet,
                counted_by=CountedBy.LAYOUT if prices["kind"] == "run" else CountedBy.ORDER,
                set_up=str(prices["setup"]),
            )
            began = time.perf_counter()
            order = plan_order(
                _offer(table),
                pieces,
                spares=Spares(count=0),
                currency="USD",
                way=Way.LOOSE,
                budget_s=seconds,
            )
            took = time.perf_counter() - began
            assert not order.missing, "a need is not met"
            assert order.least_cost is not None
            name = f"{job['name']}, {name}"
            yield row(name, "cost", float(order.cost), reference=float(order.least_cost), seconds=took)
            hand = by_hand(table, pieces)
            saving = 100 * (1 - float(order.cost) / hand)
            yield row(name, "saving by hand %", saving, seconds=took)
            savings.setdefault(prices["kind"], []).append((saving, took))
    for kind, each in savings.items():
        mean = fmean(saving for saving, _ in each)
        yield row(f"all priced by {kind}", "mean saving %", mean, seconds=sum(took for _, took in each))


def by_hand(table: BySheet, pieces: tuple[NeededPiece, ...]) -> float:
    """The better of one layout a design and one mixed layout run until the largest need is met."""
    wants = tuple(Want(p.key, p.artwork, p.size, p.count, 0) for p in pieces)
    packer = Packer(wants, table.sheets[0].size, gap_mm=0, margin_mm=0, way=Way.LOOSE, budget_s=0.1)
    problem = RunProblem(tuple(w.need for w in wants), packer, run_prices(table, "USD")[0])
    plans = (one_layout_a_design(problem), one_mixed_layout(problem, rounds=20))
    return min(plan.cost for plan in plans if plan is not None) / 100


def _offer(table: BySheet) -> Offer:
    return Offer(
        key="bench",
        name="bench",
        kind=TransferKind.FILM_SHEET,
        price=table,
        cloth=ClothRule(fibres=(Fibre.COTTON,)),
        press=PressSetting(setting_c=143, press_s=10, pressure=Pressure.MEDIUM, peel=Peel.HOT),
        gap_mm=0,
        margin_mm=0,
    )


def rows_of(path: Path, seconds: float | None, limit: int | None) -> Iterator[Row]:
    data = json.loads(path.read_text(encoding="utf-8"))
    if "jobs" in data:
        return jobs(data, seconds or 2.0, limit)
    if data["instances"] and "covers" in data["instances"][0]:
        return covers(data, seconds or 10.0, limit)
    return templates(data, seconds or 10.0, limit)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.buying", description=__doc__)
    parser.add_argument("sets", metavar="SET", nargs="+", type=Path, help="a JSON file of instances")
    parser.add_argument("--seconds", type=float, help="for each instance (jobs: 2, published sets: 10)")
    parser.add_argument("--limit", type=int, metavar="N", help="only the first N instances of each set")
    add_json_option(parser)
    asked = parser.parse_args()
    show([r for path in asked.sets for r in rows_of(path, asked.seconds, asked.limit)], asked.json)


if __name__ == "__main__":
    main()
