"""How well pieces are arranged on published sets, against the best known and a library in the same run.

    python -m tests.bench.sheets SET.json... [--seconds S] [--way loose|straight|outline] [--limit N]
        [--every K] [--part I/N] [--workers W] [--json OUT]

A set is a JSON file with `instances`: fixed sheets (W, H, items), strips (W, H_opt, items) or outlines
(strip_height, items with shape and demand). Fixed sheets cut by outline take their outlines from the
set named by --shapes and are held against boxes; a second table tells for each job how many sheets its
outlines' area fills at least, and how full sheets would have to be for one fewer than boxes. Every
layout passes the validator, or the run fails.
"""

import argparse
import json
from concurrent.futures import ProcessPoolExecutor
from math import ceil
from pathlib import Path
from typing import Any

from planner.measures.layout import Way
from tests.bench.report import Row, add_json_option, row, show
from tests.bench.sheets_run import Outcome, run_instance

_USUAL_PIECES, _FIRST_S = 100, 0.1
"""So many pieces should have a first valid answer within so long."""


def main() -> None:
    arguments = _arguments()
    rows: list[Row] = []
    by_outline: list[Outcome] = []
    for path in arguments.sets:
        instances = json.loads(path.read_text(encoding="utf-8"))["instances"]
        part, parts = arguments.part
        instances = instances[:: arguments.every][part - 1 :: parts][: arguments.limit]
        shapes = _shapes(arguments.shapes or path.parent / "strip_irregular.json", arguments.way)
        shapes = shapes[arguments.first_shape :] + shapes[: arguments.first_shape]
        jobs = [
            (instance, Way(arguments.way), arguments.seconds, arguments.seed, shapes)
            for instance in instances
        ]
        outcomes = _run(jobs, arguments.workers)
        if arguments.verbose:
            _tell(outcomes)
        rows += _rows(path.stem, outcomes)
        by_outline += [outcome for outcome in outcomes if outcome.library == "boxes"]
    show(rows, arguments.json)
    _tell_bounds(by_outline)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("sets", nargs="+", type=Path, metavar="SET")
    parser.add_argument("--seconds", type=float, default=2.0, help="for each instance")
    parser.add_argument("--way", choices=[way.value for way in Way], default="loose")
    parser.add_argument("--limit", type=int, help="only the first so many instances")
    parser.add_argument("--every", type=int, default=1, help="only every so-many-th instance")
    parser.add_argument(
        "--part", type=_part, default=(1, 1), metavar="I/N", help="only every N-th instance from the I-th on"
    )
    parser.add_argument("--workers", type=int, default=1, help="processes at once")
    parser.add_argument(
        "--shapes", type=Path, help="outlines for fixed sheets; strip_irregular.json beside the set else"
    )
    parser.add_argument(
        "--first-shape", type=int, default=0, metavar="N", help="give the first size the N-th of them, from 0"
    )
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--verbose", action="store_true", help="also one line an instance")
    add_json_option(parser)
    return parser.parse_args()


def _part(text: str) -> tuple[int, int]:
    """Part and parts; all parts together are the whole set, each instance once."""
    part, parts = map(int, text.split("/"))
    if not 1 <= part <= parts:
        raise ValueError(text)
    return part, parts


def _shapes(path: Path, way: str) -> list[Any]:
    """All outlines of a nesting set, one after the other."""
    if way != Way.OUTLINE.value or not path.exists():
        return []
    instances = json.loads(path.read_text(encoding="utf-8"))["instances"]
    return [item for instance in instances for item in instance["items"]]


def _run(jobs: list[tuple[Any, Way, float, int, list[Any]]], workers: int) -> list[Outcome]:
    if workers == 1:
        return [run_instance(*job) for job in jobs]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(run_instance, *zip(*jobs, strict=True)))


def _tell(outcomes: list[Outcome]) -> None:
    for o in outcomes:
        print(
            f"{o.name}: {o.value:g}, published {o.published}, {o.library}: {o.by_library}, {o.seconds:.2f} s"
        )


def _tell_bounds(outcomes: list[Outcome]) -> None:
    """Each job on sheets by outline beside its area bound, so that one sees where fewer are possible."""
    if not outcomes:
        return
    print(f"\n{'job':<20} {'sheets':>7} {'boxes':>7} {'area bound':>11}  one fewer than boxes is full to")
    for o in outcomes:
        assert o.bound is not None
        assert o.by_library is not None
        fewer = o.by_library - 1
        full = f"{o.bound / fewer:.1%}" if _could_be_fewer(o) else "never: boxes are at the bound"
        print(f"{o.name:<20} {o.value:>7g} {o.by_library:>7g} {_area_bound(o):>11}  {full}")


def _area_bound(outcome: Outcome) -> int:
    """Sheets below which no arrangement can be; rounding must not cost an exact fit."""
    return ceil((outcome.bound or 0) - 1e-6)


def _could_be_fewer(outcome: Outcome) -> bool:
    return outcome.by_library is not None and outcome.by_library > _area_bound(outcome)


def _rows(name: str, outcomes: list[Outcome]) -> list[Row]:
    """Sums over a set; densities as means. Only instances with a published value count against it."""
    if not outcomes:
        return []
    figure = outcomes[0].figure
    seconds = sum(o.seconds for o in outcomes)
    share = len(outcomes) if figure == "density" else 1
    value = sum(o.value for o in outcomes) / share
    published = [o.published for o in outcomes if o.published is not None]
    reference = sum(published) / share if len(published) == len(outcomes) else None
    rows = [row(name, figure, value, reference=reference, seconds=seconds)]
    bounded = [o.bound for o in outcomes if o.bound is not None]
    if outcomes[0].library == "boxes":
        bounded = [_area_bound(o) for o in outcomes]
    if len(bounded) == len(outcomes):
        rows.append(
            row(name, f"{figure}, area bound", value, reference=sum(bounded) / share, seconds=seconds)
        )
    if published and len(published) == len(outcomes):
        ratios = [o.value / o.published for o in outcomes if o.published]
        rows.append(row(name, "mean ratio to published", sum(ratios) / len(ratios), seconds=seconds))
        worst = min(ratios) if figure == "density" else max(ratios)
        rows.append(row(name, "worst ratio to published", worst, seconds=seconds))
        equal = sum(1 for r in ratios if (r >= 1 if figure == "density" else r <= 1 + 1e-9))
        rows.append(row(name, "instances at published", equal, reference=len(ratios), seconds=seconds))
    by_library = [o.by_library for o in outcomes if o.by_library is not None]
    if len(by_library) == len(outcomes):
        held = sum(by_library) / share
        spent = sum(o.library_seconds for o in outcomes)
        rows.append(row(name, f"{figure}, {outcomes[0].library}", value, reference=held, seconds=spent))
    if outcomes[0].library == "boxes" and len(by_library) == len(outcomes):
        fewer = sum(o.value < b for o, b in zip(outcomes, by_library, strict=True))
        never_more = sum(o.value <= b for o, b in zip(outcomes, by_library, strict=True))
        rows.append(row(name, "jobs on fewer than boxes", fewer, reference=len(outcomes), seconds=seconds))
        possible = sum(map(_could_be_fewer, outcomes))
        rows.append(row(name, "of those whose area allows", fewer, reference=possible, seconds=seconds))
        rows.append(row(name, "jobs on no more", never_more, reference=len(outcomes), seconds=seconds))
    usual = [o.first_seconds for o in outcomes if o.pieces <= _USUAL_PIECES]
    if usual:
        rows.append(row(name, "slowest first answer, s", max(usual), reference=_FIRST_S, seconds=sum(usual)))
    return rows


if __name__ == "__main__":
    main()
