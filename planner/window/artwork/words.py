"""Words of the page that shows an artwork large, and of what opens there."""

WORKING_OUT = "Working it out…"


def trying(step: str) -> str:
    """A fix that is shown while it is still being chosen."""
    return f"Tried, not mended yet: {step}"
