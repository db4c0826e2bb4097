"""What keeps a value out of the shop book, in our own sentences."""

from pydantic import ValidationError

from planner.measures.figures import short


def why_not(error: ValidationError, name: str = "This") -> str:
    """The first reason why a document refused a value, named as the form names it."""
    first = error.errors(include_url=False)[0]
    context = first.get("ctx", {})
    kind = first["type"]
    if kind == "value_error":
        # Our own validators speak in sentences already.
        return str(context["error"])
    limits = {
        "greater_than": ("gt", "more than {}"),
        "greater_than_equal": ("ge", "{} or more"),
        "less_than": ("lt", "less than {}"),
        "less_than_equal": ("le", "{} or less"),
        "string_too_long": ("max_length", "at most {} letters long"),
        "too_long": ("max_length", "at most {} in number"),
    }
    if kind in limits:
        key, words = limits[kind]
        return f"{name} must be {words.format(_figure(context[key]))}."
    if kind in ("string_too_short", "too_short", "missing"):
        return f"{name} must not be empty."
    if kind == "string_pattern_mismatch":
        return f"{name} is not written as it must be: “{first['input']}”."
    return f"{name} cannot be “{first['input']}”."


def _figure(limit: object) -> str:
    return short(limit) if isinstance(limit, int | float) else str(limit)
