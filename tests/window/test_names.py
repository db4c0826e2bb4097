"""Short names of a job's parts."""

from planner.shop.cloth import Swatch
from planner.shop.document import changed
from planner.window.names import line_name, line_names
from tests.builders import a_job, a_line


def test_lines_that_would_share_a_name_are_told_with_their_style() -> None:
    job, _ = a_job()
    brick = Swatch(name="brick", hex="#8e3b2f")
    lines = (
        a_line("g1"),
        changed(a_line("g2"), style="Heavy tee"),
        changed(a_line("g3"), colour=brick),
        changed(a_line("g4"), style=""),
    )
    job = changed(job, lines=lines)
    expected = ("navy T-shirt, Cotton T-shirt", "navy T-shirt, Heavy tee", "brick T-shirt", "navy T-shirt")
    assert line_names(job) == expected
    assert tuple(line_name(job, line) for line in job.lines) == expected
