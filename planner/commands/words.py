"""Words of the commands: what `--help` says, and what is told on the terminal."""

from collections.abc import Iterable
from pathlib import Path

from planner.measures import figures

# Arguments.
JOB_FILE = "the job file"
AS_JSON = "print JSON instead of words"


def cannot_go_on(message: str, program: str) -> str:
    """A mistake in what was typed, and where help is."""
    return f"{message[:1].upper()}{message[1:]}. `{program} --help` tells how to call it."


# planner check
CHECK = "Check artwork at the width it prints."
PICTURE_FILES = "picture files"
WIDTH = 'such as "11 in" or "280 mm"'
CLOTH = "the garment's colour"
VECTOR = "vector artwork"


def no_colour(typed: str) -> str:
    return f"“{typed}” is not a colour, type for example #1f2a44"


def cannot_be_read(path: Path, why: str) -> str:
    return f"“{path}” cannot be read: {why}."


def pixels(width: int, height: int) -> str:
    return f"{width} × {height} px"


def ppi(resolution: float) -> str:
    return f"{figures.plain(resolution, 0)} ppi"


def checked(file: str, size: str, resolution: str, width: str) -> str:
    return f"{file}: {size}, {resolution} at {width} wide"


# planner demo
DEMO = "Write the demo job: a community choir's winter concert."
FILE_TO_WRITE = "the job file to write"

# planner export
EXPORT = "Write the papers of a job."
FOLDER = "the folder to write into"


def papers(names: Iterable[str], usual: Iterable[str]) -> str:
    return f"one of: {', '.join(names)}; may be given several times (without: {', '.join(usual)})"


def wishes(names: Iterable[str]) -> str:
    return (
        "for this export's sheet files, beside each offer's standing wishes; one of: "
        f"{', '.join(names)}; may be given several times"
    )


# planner plan
PLAN = "Print the plan of a job."
JOB = "Job"
CUSTOMER_UNNAMED = "a customer to be named"
COST = "cost"
QUOTE = "quote, tax included"


def job_for(job: str, customer: str) -> str:
    return f"{job or JOB} for {customer or CUSTOMER_UNNAMED}"


def due(day: str) -> str:
    return f"Due {day}"


def filled(share: float) -> str:
    """Follows the layout."""
    return f", {share:.0%} filled"


def layout(number: int, runs: str, sheet: str, pieces: str) -> str:
    return f"Layout {number}: {runs} of {sheet}, {pieces}"


def piece(key: str, need: int, spares: int, ordered: int) -> str:
    bought = f"{figures.whole(spares)} spare, {figures.whole(ordered)} ordered"
    return f"{key}: {figures.whole(need)} needed, {bought}"
