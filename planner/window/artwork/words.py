"""Words of the page that shows an artwork large, and of what opens there."""

from planner.shop.garments import Location

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


PLACES_IN_NAMES = {
    Location.NAPE: frozenset(("nape", "neck", "collar", "yoke")),
    Location.LEFT_SLEEVE: frozenset(("sleeve", "arm", "cuff")),
    Location.LEFT_CHEST: frozenset(("chest", "breast", "pocket")),
    Location.CAP_FRONT: frozenset(("cap", "hat")),
    Location.LEG: frozenset(("leg", "thigh")),
    Location.TOTE_FRONT: frozenset(("tote", "bag")),
    Location.FULL_BACK: frozenset(("back", "rear")),
    Location.FULL_FRONT: frozenset(("front",)),
}
"""Words in a file's name that tell where it goes, the narrower place first: "back-neck" is the nape."""
RIGHT_IN_NAMES = frozenset(("right", "r"))
