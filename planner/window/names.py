"""Short names of a job's parts, as the window says them."""

from collections import Counter
from collections.abc import Sequence

from planner.job.document import GarmentLine, Job, Print
from planner.job.pieces import group_of_piece, print_of_piece
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.pressing.calendar import Deadline
from planner.shop.book import Shop
from planner.shop.garments import Blank
from planner.window.wording import extra as extra_name
from planner.window.wording import short_name


def line_name(job: Job, line: GarmentLine) -> str:
    """ "navy hoodie": colour and kind; with the style where two lines would share that name."""
    name = _short(line)
    is_shared = any(_short(other) == name for other in job.lines if other.key != line.key)
    return f"{name}, {line.style}" if is_shared and line.style else name


def line_names(job: Job) -> tuple[str, ...]:
    """The names of all lines, for whoever needs them all: one by one takes the square of the time."""
    short = [_short(line) for line in job.lines]
    counts = Counter(short)
    return tuple(
        f"{name}, {line.style}" if counts[name] > 1 and line.style else name
        for name, line in zip(short, job.lines, strict=True)
    )


def blank_name(blank: Blank) -> str:
    """ "Cotton T-shirt, 180 g (T-shirt)"."""
    return f"{blank.style} ({kind_name(blank.kind)})"


def print_name(job: Job, print_: Print) -> str:
    """ "logo.png, full front, navy hoodie"."""
    artwork = job.artwork(print_.artwork)
    where = sentences.place(print_.location, print_.place_name)
    return f"{short_name(artwork.name)}, {where}, {line_name(job, job.line(print_.line))}"


def piece_name(job: Job, piece_key: str) -> str:
    """A print, with the group of sizes where that has a width of its own; or an extra."""
    extra = next((extra for extra in job.extras if extra.key == piece_key), None)
    if extra is not None:
        return extra_name(short_name(job.artwork(extra.artwork).name))
    name = print_name(job, job.print_of(print_of_piece(piece_key)))
    group = group_of_piece(piece_key)
    return f"{name}, {kind_name(group)}" if group else name


def day_name(what: str, deadline: Deadline, shop: Shop, deadlines: Sequence[Deadline]) -> str:
    """What must happen by a day; at which offer, where the same must happen at several."""
    alike = [other for other in deadlines if other.milestone is deadline.milestone]
    offer = shop.offer(deadline.offer or "") if len(alike) > 1 else None
    return f"{what}, {offer.name}" if offer else what


def _short(line: GarmentLine) -> str:
    return f"{line.colour.name} {kind_name(line.kind)}"
