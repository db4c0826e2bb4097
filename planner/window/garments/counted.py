"""Counts that a customer's table orders, and the job with them. No Qt here."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.job import edits
from planner.job.document import GarmentLine, Job, SizeCount
from planner.shop.book import Shop
from planner.shop.cloth import Swatch
from planner.shop.document import changed
from planner.shop.garments import Blank
from planner.shop.swatches import UNKNOWN_HEX, swatch_named
from planner.window.garments.sizes import in_order, new_size, usual_size
from planner.window.gestures import line_from


@dataclass(frozen=True, slots=True)
class Ordered:
    """So many of one size; style and colour are empty where the table does not name them."""

    style: str
    colour: str
    size: str
    count: int


def with_counts(job: Job, shop: Shop, ordered: Iterable[Ordered]) -> Job:
    """The job with the counts of a table: lines that fit its styles and colours are counted anew.

    What fits no line becomes one, from the shop book's blank of that style, or like the job's first line
    where the table names no style. Sizes of a counted line that the table does not name become 0.
    """
    groups: dict[tuple[str, str], list[Ordered]] = {}
    for one in ordered:
        groups.setdefault((plain(one.style), plain(one.colour)), []).append(one)
    for each in groups.values():
        style, colour = each[0].style, each[0].colour
        line = line_for(job, style, colour)
        if line is None:
            line = _new_line(job, shop, style, colour)
            job = edits.add_line(job, line)
        job = edits.change_line(job, line.key, sizes=_counted(line, _blank(shop, line.style), each))
    return job


def plain(name: str) -> str:
    """A name to compare by: customers' tables have other capitals, commas and spaces than the shop book."""
    return " ".join(re.findall(r"\w+", name.casefold()))


def line_for(job: Job, style: str, colour: str) -> GarmentLine | None:
    """The job's first line of a style and colour; an empty name fits every line."""
    return next(
        (
            line
            for line in job.lines
            if (not style or plain(line.style) == plain(style))
            and (not colour or plain(line.colour.name) == plain(colour))
        ),
        None,
    )


def _blank(shop: Shop, style: str) -> Blank | None:
    return next((blank for blank in shop.blanks if plain(blank.style) == plain(style)), None)


def _new_line(job: Job, shop: Shop, style: str, colour: str) -> GarmentLine:
    key = edits.next_key(job, "g")
    like = job.lines[0] if job.lines and not style else None
    blank = _blank(shop, like.style if like else style)
    line = changed(like, key=key) if like else line_from(blank, key)
    fields: dict[str, object] = {"sizes": tuple(changed(size, count=0) for size in line.sizes)}
    if style:
        fields["style"] = blank.style if blank else style[:80]
    if colour:
        known = swatch_named(colour, blank.colours if blank else ())
        fields["colour"] = known or Swatch(name=colour[:60], hex=UNKNOWN_HEX)
    return changed(line, **fields)


def _counted(line: GarmentLine, blank: Blank | None, ordered: Sequence[Ordered]) -> tuple[SizeCount, ...]:
    counts: dict[str, int] = {}
    sizes = {size.size: size for size in line.sizes}
    for one in ordered:
        name = next((known for known in sizes if usual_size(known) == usual_size(one.size)), one.size)
        sizes.setdefault(name, new_size(name, blank.sizes if blank else ()))
        counts[name] = counts.get(name, 0) + one.count
    counted = tuple(changed(size, count=counts.get(name, 0)) for name, size in sizes.items())
    return in_order(counted) if len(counted) > len(line.sizes) else counted
