"""Words of the page that shows an artwork large, and of what opens there."""

WORKING_OUT = "Working it out…"
PAGES = "Pages of the document"
CHOOSE_PAGE = "Choose the page…"
CHOOSE_PAGE_HINT = "The document has several pages: choose the one that is printed"
COUNTING_PAGES = "Looking through the document…"


def trying(step: str) -> str:
    """A fix that is shown while it is still being chosen."""
    return f"Tried, not mended yet: {step}"


def pages_of(name: str, count: int) -> str:
    return f"{name}: {count} pages" if count > 1 else f"{name}: one page"


def page(number: int) -> str:
    return f"page {number}"
