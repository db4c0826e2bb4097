"""Short names of a job's parts, as the window says them."""

from planner.job.document import GarmentLine, Job, Print
from planner.plan import wording as sentences
from planner.shop.garments import Blank
from planner.window.wording import short_name


def line_name(job: Job, line: GarmentLine) -> str:
    """ "navy hoodie": colour and kind; with the style where two lines would share that name."""
    name = _short(line)
    others = [other for other in job.lines if other.key != line.key and _short(other) == name]
    return f"{name}, {line.style}" if others and line.style else name


def blank_name(blank: Blank) -> str:
    """ "Cotton T-shirt, 180 g (T-shirt)"."""
    return f"{blank.style} ({blank.kind.value})"


def print_name(job: Job, print_: Print) -> str:
    """ "logo.png, full front, navy hoodie"."""
    artwork = job.artwork(print_.artwork)
    where = sentences.place(print_.location, print_.place_name)
    return f"{short_name(artwork.name)}, {where}, {line_name(job, job.line(print_.line))}"


def _short(line: GarmentLine) -> str:
    return f"{line.colour.name} {line.kind.value}"
