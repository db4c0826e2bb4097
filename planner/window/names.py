"""Short names of a job's parts, as the window says them."""

from planner.job.document import GarmentLine, Job, Print
from planner.plan import wording as sentences


def line_name(line: GarmentLine) -> str:
    """ "navy heavy hoodie": colour and style, or the kind where no style is typed yet."""
    return f"{line.colour.name} {line.style or line.kind.value}"


def print_name(job: Job, print_: Print) -> str:
    """ "logo.png, full front, navy heavy hoodie"."""
    artwork = job.artwork(print_.artwork)
    where = sentences.place(print_.location, print_.place_name)
    return f"{artwork.name}, {where}, {line_name(job.line(print_.line))}"
