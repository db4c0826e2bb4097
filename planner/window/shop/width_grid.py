"""The table of usual print widths as a grid of words, and back. No Qt here."""

from collections.abc import Sequence

from pydantic import ValidationError

from planner.measures.lengths import LengthUnit, format_length, parse_length
from planner.plan.kind_words import kind_name
from planner.pressing.usual import usual_width, usual_widths
from planner.shop.garments import Location, SizeGroup, UsualWidth
from planner.window.shop import words
from planner.window.shop.grids import Grid, GridError
from planner.window.shop.sentences import why_not

COLUMNS = ("location", "sizes", "narrowest", "a new print", "widest")


def width_grid(own: Sequence[UsualWidth], unit: LengthUnit) -> Grid:
    """Every usual width, the shop's own in place of common practice."""
    return [list(COLUMNS), *(_row(known, unit) for known in usual_widths(own))]


def widths_from(
    grid: Sequence[Sequence[str]], own: Sequence[UsualWidth], unit: LengthUnit
) -> tuple[UsualWidth, ...]:
    """The rows that depart from common practice; an empty row, or one left out, returns to it.

    `own` are the shop's rows so far: what is shown is rounded, and a row left as it was stays exact.

    Raises:
        GridError: a cell cannot be read, or a row stands twice.
    """
    found: dict[tuple[Location, SizeGroup], UsualWidth] = {}
    for at in range(1, len(grid)):
        cells = [*(cell.strip() for cell in grid[at]), *[""] * len(COLUMNS)][: len(COLUMNS)]
        if not any(cells[2:]):
            continue
        location, group = _location(cells[0], at), _group(cells[1], at)
        if (location, group) in found:
            raise GridError(at, 0, words.width_twice(_name(location), kind_name(group)))
        known = usual_width(location, group, own)
        if known is not None and _row(known, unit)[2:] == cells[2:]:
            found[location, group] = known
            continue
        least_mm, start_mm, most_mm = (_length(cells[column], at, column, unit) for column in (2, 3, 4))
        try:
            found[location, group] = UsualWidth(
                location=location, group=group, least_mm=least_mm, start_mm=start_mm, most_mm=most_mm
            )
        except ValidationError as error:
            raise GridError(at, 3, why_not(error, "A width")) from None
    return tuple(row for row in found.values() if row != usual_width(row.location, row.group))


def _row(width: UsualWidth, unit: LengthUnit) -> list[str]:
    lengths = (width.least_mm, width.start_mm, width.most_mm)
    return [_name(width.location), kind_name(width.group), *(format_length(mm, unit) for mm in lengths)]


def _name(location: Location) -> str:
    return "sleeve" if location is Location.LEFT_SLEEVE else kind_name(location)


def _location(word: str, at: int) -> Location:
    found = next((one for one in Location if word.casefold() in (kind_name(one), _name(one))), None)
    if found is None or found is Location.OTHER:
        known = (one for one in Location if one not in (Location.RIGHT_SLEEVE, Location.OTHER))
        raise GridError(at, 0, words.no_location(word, map(_name, known)))
    return Location.LEFT_SLEEVE if found is Location.RIGHT_SLEEVE else found


def _group(word: str, at: int) -> SizeGroup:
    groups = (SizeGroup.ADULT, SizeGroup.YOUTH, SizeGroup.INFANT)
    found = next((group for group in groups if word and kind_name(group).startswith(word.casefold())), None)
    if found is None:
        raise GridError(at, 1, words.no_group(word, (kind_name(group) for group in groups)))
    return found


def _length(word: str, at: int, column: int, unit: LengthUnit) -> float:
    try:
        return parse_length(word, unit)
    except ValueError as error:
        raise GridError(at, column, str(error)) from None
