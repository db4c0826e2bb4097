"""Words of the window that previews papers."""

from planner.plan.wording import count

TITLE = "Papers"
PAPERS = "Papers of this job"
PAGES = "Pages"
PAGE_LIST = "Page list"
SAVE = "Save as PDF…"
SAVE_HINT = "Write this paper into a file (Ctrl+S)"
PRINT = "Print…"
PRINT_HINT = "Print this paper by the system's print dialog (Ctrl+P)"
COPY = "Copy page"
COPY_HINT = "Put the page in view on the clipboard as a picture (Ctrl+C)"
SMALLER, LARGER = "Smaller", "Larger"
WIDTH, WHOLE, TRUE = "Page width", "Whole page", "True size"
MAKING = "Making the paper…"
PRINTING = "Printing…"
STOP = "Stop"
COPIED = "The page is on the clipboard."
NOTHING = "This paper has no pages."
NOT_PRINTED = "Printing was stopped."
NO_PRINTER = "The printer did not take the paper. Choose another printer, or save the paper as PDF."

GROUPS = (
    ("For the customer", ("quote", "proof", "care card")),
    ("For the transfer printer", ("order",)),
    (
        "For the shop",
        (
            "summary",
            "buying list",
            "check-in list",
            "layouts",
            "order of work",
            "press cards",
            "pick list",
            "placement guides",
        ),
    ),
    ("All together, for the shop", ("packet",)),
)
"""Papers by who reads them; a paper not named here goes to the shop's."""


def name_of(paper: str) -> str:
    return paper[:1].upper() + paper[1:]


def page_of(number: int, pages: int) -> str:
    return f"Page {number} of {pages}"


def saved(name: str) -> str:
    return f"Saved as “{name}”."


def not_saved(name: str, why: str) -> str:
    return f"“{name}” could not be written: {why}. Choose another folder."


def printed(pages: int) -> str:
    return f"{count(pages, 'page')} sent to the printer."


def not_made(paper: str, why: str) -> str:
    return f"The {paper} could not be made ({why}). Your job is untouched; the other papers still work."


def percent(zoom: float) -> str:
    return f"{zoom * 100:.0f} %"
