"""Edits: each takes a job and gives the next one. Nothing here changes anything in place.

Removing a print takes its pieces off the sheets. Any other edit leaves the accepted layouts as they
are: whether they still meet the need is for the plan to tell, which keeps the pinned pieces if not.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from planner.job.document import (
    Arranged,
    Artwork,
    Bound,
    Extra,
    GarmentLine,
    GroupPlace,
    Job,
    OrderedOn,
    Print,
)
from planner.job.findings import Decision, Finding
from planner.job.fixes import FixStep
from planner.job.pieces import pieces_at, print_of_piece, what_layouts_serve
from planner.measures.layout import Layout
from planner.shop.document import changed
from planner.shop.garments import SizeGroup


def next_key(job: Job, letter: str) -> str:
    """A key not used in the job: the letter and the next number, such as "p3"."""
    parts: tuple[Any, ...] = (*job.lines, *job.artworks, *job.prints, *job.extras)
    used = [int(part.key[1:]) for part in parts if part.key[:1] == letter and part.key[1:].isdigit()]
    return f"{letter}{max(used, default=0) + 1}"


def set_fields(job: Job, **fields: Any) -> Job:
    """The job with plain fields replaced: title, customer, due, note, offer, way, terms."""
    return changed(job, **fields)


def add_line(job: Job, line: GarmentLine) -> Job:
    """The job with one more garment line; its key must be new (see `next_key`)."""
    return changed(job, lines=(*job.lines, line))


def change_line(job: Job, key: str, **fields: Any) -> Job:
    """The job with some fields of a garment line replaced."""
    lines = tuple(changed(line, **fields) if line.key == key else line for line in job.lines)
    return changed(job, lines=lines)


def remove_line(job: Job, key: str) -> Job:
    """The job without a garment line and its prints."""
    gone = [print_.key for print_ in job.prints if print_.line == key]
    job = remove_prints(job, gone)
    return changed(job, lines=tuple(line for line in job.lines if line.key != key))


def duplicate_line(job: Job, key: str) -> Job:
    """The job with a copy of a garment line, prints included, right behind the first."""
    line = job.line(key)
    copy = changed(line, key=next_key(job, "g"))
    at = job.lines.index(line) + 1
    job = changed(job, lines=(*job.lines[:at], copy, *job.lines[at:]))
    for print_ in job.prints_on(key):
        job = add_print(job, changed(print_, key=next_key(job, "p"), line=copy.key))
    return job


def add_artwork(job: Job, artwork: Artwork) -> Job:
    """The job with one more artwork; the same file twice (by content) is one artwork."""
    if any(known.sha256 == artwork.sha256 and known.page == artwork.page for known in job.artworks):
        return job
    return changed(job, artworks=(*job.artworks, artwork))


def change_artwork(job: Job, key: str, **fields: Any) -> Job:
    """The job with some fields of an artwork replaced."""
    artworks = tuple(
        changed(artwork, **fields) if artwork.key == key else artwork for artwork in job.artworks
    )
    return changed(job, artworks=artworks)


def replace_file(job: Job, key: str, file: Artwork) -> Job:
    """The job with another file behind an artwork, and the fixes that fit it: prints and decisions stay."""
    names = ("name", "sha256", "media", "width_px", "height_px", "vector", "page", "fixes")
    return change_artwork(job, key, **{name: getattr(file, name) for name in names})


def set_apart(job: Job, print_key: str) -> Job:
    """The job with a print on an artwork of its own, of the same file and fixes, so that it is mended alone.

    Nothing changes where no other print is of that artwork.
    """
    print_ = job.print_of(print_key)
    if not any(other.artwork == print_.artwork and other.key != print_key for other in job.prints):
        return job
    artwork = job.artwork(print_.artwork)
    own = changed(artwork, key=next_key(job, "a"))
    at = job.artworks.index(artwork) + 1
    job = changed(job, artworks=(*job.artworks[:at], own, *job.artworks[at:]))
    return change_print(job, print_key, artwork=own.key)


def remove_artwork(job: Job, key: str) -> Job:
    """The job without an artwork, its prints and its extras."""
    job = remove_prints(job, [print_.key for print_ in job.prints if print_.artwork == key])
    extras = [extra.key for extra in job.extras if extra.artwork == key]
    job = _without_pieces(job, extras)
    return changed(
        job,
        artworks=tuple(artwork for artwork in job.artworks if artwork.key != key),
        extras=tuple(extra for extra in job.extras if extra.key not in extras),
    )


def set_fixes(job: Job, key: str, fixes: Iterable[FixStep]) -> Job:
    """The job with another list of fixes for an artwork."""
    return change_artwork(job, key, fixes=tuple(fixes))


def add_print(job: Job, print_: Print) -> Job:
    """The job with one more print."""
    return changed(job, prints=(*job.prints, print_))


def change_print(job: Job, key: str, **fields: Any) -> Job:
    """The job with some fields of a print replaced."""
    prints = tuple(changed(print_, **fields) if print_.key == key else print_ for print_ in job.prints)
    return changed(job, prints=prints)


def share_out(job: Job, offers: Mapping[str, str]) -> Job:
    """The job with prints, by key, each bought at an offer; what most of them share is the job's offer."""
    shared = [offers.get(print_.key) or job.offer_of(print_) for print_ in job.prints]
    # Of offers with equally many the first print's stands.
    most = max(shared, key=shared.count, default=job.offer)
    prints = tuple(
        changed(print_, offer=None if offer == most else offer)
        for print_, offer in zip(job.prints, shared, strict=True)
    )
    return changed(job, offer=most, prints=prints)


def place_print(job: Job, key: str, group: SizeGroup, top_mm: float, aside_mm: float) -> Job:
    """The job with a print elsewhere on one group of sizes; on the others it stays where it is."""
    others = tuple(own for own in job.print_of(key).group_places if own.group is not group)
    place = GroupPlace(group=group, top_mm=top_mm, aside_mm=aside_mm)
    return change_print(job, key, group_places=(*others, place))


def remove_prints(job: Job, keys: Iterable[str]) -> Job:
    """The job without some prints, and without their pieces on the sheets."""
    gone = frozenset(keys)
    job = _without_pieces(job, gone)
    return changed(job, prints=tuple(print_ for print_ in job.prints if print_.key not in gone))


def add_extra(job: Job, extra: Extra) -> Job:
    """The job with one more piece to use room with."""
    return changed(job, extras=(*job.extras, extra))


def remove_extra(job: Job, key: str) -> Job:
    """The job without an extra and its pieces."""
    return changed(
        _without_pieces(job, [key]), extras=tuple(extra for extra in job.extras if extra.key != key)
    )


def decide(job: Job, finding: Finding, reason: str) -> Job:
    """The job with a decision on a finding; an earlier one on the same finding is replaced."""
    kept = tuple(decision for decision in job.decisions if decision.finding != finding.id)
    return changed(job, decisions=(*kept, Decision(finding=finding.id, reason=reason, found=finding.found)))


def undecide(job: Job, finding_id: str) -> Job:
    """The job without its decision on a finding."""
    return changed(
        job, decisions=tuple(decision for decision in job.decisions if decision.finding != finding_id)
    )


def set_ordered(job: Job, offer: str | None, on: date | None) -> Job:
    """The job with the day on which an offer's transfers (or, for no offer, the blanks) were ordered."""
    others = tuple(one for one in job.ordered if one.offer != offer)
    return changed(job, ordered=others if on is None else (*others, OrderedOn(offer=offer, on=on)))


def set_layouts(job: Job, offer: str, layouts: Iterable[Layout], bound: Bound | None = None) -> Job:
    """The job with the layouts of one offer accepted for what its prints need now.

    No layouts take the offer's away. Without a new bound the one known stays: it does not depend on
    which layouts were chosen, only on the need, and falls with that.
    """
    layouts = tuple(layouts)
    others = tuple(arranged for arranged in job.arranged if arranged.offer != offer)
    if not layouts:
        return changed(job, arranged=others)
    made_for = what_layouts_serve(pieces_at(job, offer))
    before = arranged_at(job, offer)
    if bound is None and before is not None and before.made_for == made_for:
        bound = before.bound
    arranged = Arranged(offer=offer, layouts=layouts, made_for=made_for, bound=bound)
    return changed(job, arranged=(*others, arranged))


def arranged_at(job: Job, offer: str) -> Arranged | None:
    """What was accepted for one offer, None where nothing was arranged yet."""
    return next((arranged for arranged in job.arranged if arranged.offer == offer), None)


def layouts_at(job: Job, offer: str) -> tuple[Layout, ...]:
    """The accepted layouts of one offer, none where nothing was arranged yet."""
    arranged = arranged_at(job, offer)
    return arranged.layouts if arranged else ()


def _without_pieces(job: Job, prints: Iterable[str]) -> Job:
    gone = frozenset(prints)
    arranged = []
    for at_offer in job.arranged:
        layouts = (
            replace(
                layout,
                placements=tuple(
                    placement
                    for placement in layout.placements
                    if print_of_piece(placement.print) not in gone
                ),
            )
            for layout in at_offer.layouts
        )
        kept = tuple(layout for layout in layouts if layout.placements)
        if kept:
            arranged.append(changed(at_offer, layouts=kept))
    return changed(job, arranged=tuple(arranged))
