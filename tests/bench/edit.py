"""How long an edit of the demo job takes until every panel shows it, against one frame of a 60 Hz screen.

Beside it the plain `make_plan` of the same jobs in the same run, which is what follows from an edit
without any window: `python -m tests.bench.edit [--json OUT]`.
"""

import argparse
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from planner.job import edits
from planner.job.document import Job
from planner.plan.make_plan import make_plan
from planner.shop.document import changed
from tests.bench.report import add_json_option, row, show
from tests.builders import A_DAY
from tests.pictures.demo_window import DemoWindow

EDITS = 30
FRAME_MS = 1000 / 60


def with_title(job: Job, at: int) -> Job:
    return edits.set_fields(job, title=f"Winter concert {at}")


def with_count(job: Job, at: int) -> Job:
    line = job.lines[0]
    sizes = (changed(line.sizes[0], count=10 + at), *line.sizes[1:])
    return edits.change_line(job, line.key, sizes=sizes)


def with_width(job: Job, at: int) -> Job:
    return edits.change_print(job, job.prints[0].key, width_mm=80.0 + at)


KINDS: dict[str, Callable[[Job, int], Job]] = {
    "title": with_title,
    "count": with_count,
    "width": with_width,
}


def shown_ms(demo: DemoWindow, edit: Callable[[Job, int], Job]) -> list[float]:
    """Milliseconds of each edit, all panels painted."""
    taken = []
    for at in range(EDITS):
        after = edit(demo.desk.job, at)
        began = time.perf_counter()
        demo.desk.apply("Edit", after)
        demo.app.processEvents()
        taken.append((time.perf_counter() - began) * 1000)
    demo.settle()
    return taken


def plan_ms(demo: DemoWindow, edit: Callable[[Job, int], Job]) -> list[float]:
    """Milliseconds of the plan alone, for jobs that no window has asked for."""
    facts = demo.window.gallery.facts(demo.desk.job)
    taken = []
    for at in range(EDITS):
        job = edit(demo.desk.job, EDITS + at)
        began = time.perf_counter()
        make_plan(job, demo.desk.shop, facts=facts, today=A_DAY)
        taken.append((time.perf_counter() - began) * 1000)
    return taken


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    add_json_option(parser)
    options = parser.parse_args(arguments)
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        demo = DemoWindow(Path(folder))
        for name, edit in KINDS.items():
            shown, planned = shown_ms(demo, edit), plan_ms(demo, edit)
            value, plan = statistics.median(shown), statistics.median(planned)
            seconds = sum(shown) / 1000
            rows.append(row(name, "shown / 60 Hz frame, ms", value, reference=FRAME_MS, seconds=seconds))
            rows.append(row(name, "shown / plan alone, ms", value, reference=plan, seconds=seconds))
        demo.close()
    show(rows, options.json)


if __name__ == "__main__":
    main()
