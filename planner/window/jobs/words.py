"""Words of the list of jobs and of what comes after a job, ready for translation."""

from datetime import date

from planner.job.state import JobState

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
    jobs = f"{of:,} job{'s' if of != 1 else ''}"
    return jobs if shown == of else f"{shown:,} of {jobs}"


def state(which: JobState) -> str:
    return which.value


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
    many = f"{abs(days):,} day{'s' if abs(days) != 1 else ''}"
    return f"in {many}" if days > 0 else f"{many} ago"


def ordered_again(title: str) -> str:
    return f"“{title}” is a new job with the same artwork, garments and prints. Type its due date and counts."
