"""Words of the list of jobs and of what comes after a job, ready for translation."""

from datetime import date

from planner.job.state import JobState
from planner.measures.figures import decimal, plain, whole
from planner.plan.kind_words import kind_name

JOBS = "Jobs"
SEARCH = "Search jobs"
SEARCH_HINT = "Title, customer or file name"
WHICH = "Which jobs are shown"
ALL_JOBS = "all jobs"
OPEN_JOBS = "not delivered yet"
FOLDER = "Jobs folder…"
FOLDER_HINT = "Choose the folder where the shop keeps its job files; folders in it count too"
NO_FOLDER = "No jobs folder chosen: only jobs opened lately are listed."
OPEN = "Open"
AGAIN = "Order again"
AGAIN_HINT = "A new job with the same artwork, garments, counts and prints; dates and sheets start afresh"
NO_JOBS = "No jobs here yet"
NO_JOBS_WHY = (
    "Jobs that you save or open are listed here. Choose the folder where the shop keeps its job files "
    "to see them all."
)
NONE_FOUND = "No job is like that"
NONE_FOUND_WHY = "Type fewer letters, or show all jobs."
LOOKING = "Reading the job files…"
UNTITLED = "without a title"
NO_FIGURES = "–"
NO_FIGURES_WHY = "Not known: the file was saved without it. Open the job and save it."
PASSED = "passed"
COLUMNS = ("Job", "Customer", "Due", "State", "Quote total", "Next last day")
NEXT_DAY_WHY = "The next last day of what is still to do, by the job's state, as it was when last saved"


def count(shown: int, of: int) -> str:
    """How many jobs are listed, of how many."""
    jobs = f"{whole(of)} job{'s' if of != 1 else ''}"
    return jobs if shown == of else f"{whole(shown)} of {jobs}"


def state(which: JobState) -> str:
    return kind_name(which)


def in_folder(folder: str) -> str:
    return f"in {folder}"


def by_day(milestone: str, day: str, *, passed: bool) -> str:
    """ "Order transfers, Mon 30 Nov", and whether that day is over."""
    return f"{milestone}, {day}" + (f", {PASSED}" if passed else "")


def days_to(due: date, today: date) -> str:
    """How far a due date is away, in calendar days."""
    days = (due - today).days
    if days == 0:
        return "today"
    many = f"{whole(abs(days))} day{'s' if abs(days) != 1 else ''}"
    return f"in {many}" if days > 0 else f"{many} ago"


def ordered_again(title: str) -> str:
    return f"“{title}” is a new job with the same artwork, garments and prints. Type its due date and counts."


# After the job.
AFTER = "After the job"
REALLY = "What it really took"
PLANNED = "planned"
REAL = "really"
DIFFERENCE = "difference"
MISPRINTS = "Misprints"
MISPRINTS_WHY = "Transfers spoilt at the press. Planned: the shop book's misprint rate × all pressings."
BLANKS_SPOILT = "Blanks spoilt"
BLANKS_WHY = "Garments ruined at the press. Planned: the shop book's spoilage × all garments."
MINUTES = "Minutes at the press"
MINUTES_WHY = "All time at the press, warm-up included."
COST = "Cost in all"
COST_WHY = "What the job really cost; as planned until you type it."
PROFIT = "Profit"
PROFIT_WHY = "What the customer pays for the garments before tax − cost."
KEEP = "Keep these figures"
KEEP_HINT = "Keep them with the job and in the shop book, which learns from them"
KEPT = "Kept with the job. Type again to correct it."
NOT_KEPT = "Type the minutes at the press, then keep the figures."
LEFT_OVER = "Transfers left over"
NOTHING_LEFT = "Nothing was ordered, so nothing is left over."
ORDERED = "ordered"
FROM_STOCK = "from stock"
USED = "garments"
LEFT = "left"
LEFT_WHY = "Ordered and from stock, less garments and misprints. Count them and type what is there."
SETTLE = "Take into stock"
SETTLE_HINT = "Puts what is left into the shop book for the next order, and takes out what came from there"
SETTLED = "Taken into stock."
LEARNING = "What the shop book learns"
NOTHING_KEPT = "Misprint rate and loading times are corrected by the figures of jobs that you keep."
NOTHING_TO_LEARN = "No job's figures are new: the shop book has learnt from all that were kept."
FITS = "The shop book's misprint rate and loading times fit the jobs that were kept."
LEARN = "Correct the shop book"
LEARN_HINT = "Changes misprint rate and loading times; Undo takes it back"
COUNT_LEFT = "Count what is left over and type what the job really took, while it is fresh."


def after_title(title: str) -> str:
    return f"{AFTER}: {title}" if title else AFTER


def difference(planned: float, real: float, *, digits: int = 0) -> str:
    """By how much it was more or less, and in percent where something was planned."""
    more = round(real - planned, digits)
    if more == 0:
        return "as planned"
    sign = "+" if more > 0 else "−"
    # Of less than one, a percentage says nothing.
    percent = f" ({sign}{abs(real / planned - 1) * 100:.0f} %)" if planned >= 1 else ""
    return f"{sign}{decimal(abs(more), digits)}{percent}"


def learnt(jobs: int, changes: list[str]) -> str:
    """What the jobs kept say against the shop book's figures."""
    return f"By {jobs} finished job{'s' if jobs != 1 else ''}: {'; '.join(changes)}."


def misprint_rate(before: float, after: float) -> str:
    return f"misprint rate {plain(before * 100, 1)} → {plain(after * 100, 1)} %"


def loading(press: str, before_s: float, after_s: float) -> str:
    return f"loading at {press}: {before_s:.0f} → {after_s:.0f} s"


# Stock.
STOCK = "Left-over transfers"
FOR_THIS_JOB = "For this job"
FOR_THIS_JOB_WHY = "Transfers of the same artwork, size and kind are used before new ones are ordered."
NOTHING_FITS = "Nothing in stock is of a design of this job at its size."
NEEDED = "with spares"
HELD = "in stock"
USE = "use"
ON_SHELF = "All in stock"
SHELF_EMPTY = (
    "Nothing in stock. When a job is pressed, take what is left over into stock: "
    "“After the job” in the Job menu."
)
SHELF_WHY = (
    "Press each as the offer says that it came from. "
    "Correct a count when you have counted; none takes the transfers out."
)
COUNT = "count"


def shelf_line(name: str, size: str, kind: str, offer: str) -> str:
    """A heap of transfers; the offer says whose press settings they need."""
    return f"{name}, {size}, {kind}" + (f", from {offer}" if offer else "")


def shelf_since(job: str, since: str) -> str:
    return f"left over from {job or 'a job without a title'}, {since}"
