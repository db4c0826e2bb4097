"""What panels tell, turned into edits of the job: each one an undo step with a name."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from planner.buying.quantity import at_quantity
from planner.job import edits
from planner.job.document import Extra, GarmentLine, Job, Print, SizeCount
from planner.job.findings import Finding
from planner.job.fixes import FixStep, Flip, QuarterTurn
from planner.measures.layout import Layout
from planner.plan.room_left import RoomLeft
from planner.pressing.placement import starting_widths
from planner.shop.document import changed
from planner.shop.garments import Blank, GarmentKind, SizeGroup, UsualWidth
from planner.window import steps
from planner.window.desk import Desk
from planner.window.garments.sizes import ONE_SIZE
from planner.window.likely_place import likely_location
from planner.window.mending import with_fix

_FIRST_SIZES = ("S", "M", "L", "XL", "2XL")
_EXTRA_MM = 76.2
"""An extra of artwork that is on no garment yet starts 3 in wide."""
_ONE_SIZE_KINDS = frozenset({GarmentKind.TOTE, GarmentKind.CAP, GarmentKind.APRON})


def first_sizes(kind: GarmentKind) -> tuple[SizeCount, ...]:
    """The sizes that a new line starts with."""
    if kind in _ONE_SIZE_KINDS:
        return (SizeCount(size=ONE_SIZE, group=SizeGroup.ONE_SIZE),)
    return tuple(SizeCount(size=name) for name in _FIRST_SIZES)


def line_from(blank: Blank | None, key: str) -> GarmentLine:
    """A garment line of a blank in the shop book, or an empty one."""
    if blank is None:
        return GarmentLine(key=key, sizes=first_sizes(GarmentKind.T_SHIRT))
    sizes = tuple(
        SizeCount(
            size=size.size,
            group=size.group,
            surcharge=size.surcharge,
            body_width_mm=size.body_width_mm,
            body_length_mm=size.body_length_mm,
        )
        for size in blank.sizes
    )
    fields: dict[str, Any] = {"colour": blank.colours[0]} if blank.colours else {}
    return GarmentLine(
        key=key,
        style=blank.style,
        kind=blank.kind,
        cloth=blank.cloth,
        sizes=sizes or first_sizes(blank.kind),
        blank_cost=blank.cost,
        hard_parts=blank.hard_parts,
        **fields,
    )


class Gestures:
    """Applies edits at the desk."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def set_title(self, title: str, gesture: str) -> None:
        self._apply(steps.TITLE, edits.set_fields(self._job, title=title), gesture)

    def set_customer(self, name: str, gesture: str) -> None:
        customer = changed(self._job.customer, name=name)
        self._apply(steps.CUSTOMER, edits.set_fields(self._job, customer=customer), gesture)

    def set_customer_details(self, fields: Mapping[str, Any], gesture: str) -> None:
        customer = changed(self._job.customer, **fields)
        self._apply(steps.CUSTOMER, edits.set_fields(self._job, customer=customer), gesture)

    def set_note(self, note: str, gesture: str) -> None:
        self._apply(steps.NOTE, edits.set_fields(self._job, note=note), gesture)

    def set_due(self, due: object, gesture: str) -> None:
        self._apply(steps.DUE, edits.set_fields(self._job, due=due), gesture)

    def set_ordered(self, offer: str | None, on: date | None, gesture: str) -> None:
        """When an offer's transfers (or the blanks, for no offer) were ordered."""
        self._apply(steps.ORDERED, edits.set_ordered(self._job, offer, on), gesture)

    def set_offer(self, offer: object) -> None:
        self._apply(steps.OFFER, edits.set_fields(self._job, offer=offer))

    def choose_offer(self, offer: str, print_key: str | None) -> None:
        """Buy the whole job at an offer, prints with an offer of their own too, or one of its prints."""
        if print_key is None:
            prints = tuple(changed(print_, offer=None) for print_ in self._job.prints)
            self._apply(steps.OFFER, edits.set_fields(self._job, offer=offer, prints=prints))
        else:
            after = edits.change_print(self._job, print_key, offer=offer)
            self._apply(steps.OFFER, after)

    def share_out(self, offers: Mapping[str, str]) -> None:
        """Buy prints, by key, at these offers."""
        self._apply(steps.SHARE_OUT, edits.share_out(self._job, offers))

    def plan_for(self, garments: int) -> None:
        """Plan for so many garments, sizes in the same proportions."""
        self._apply(steps.COUNT, at_quantity(self._job, garments))

    def set_terms(self, fields: Mapping[str, Any], gesture: str) -> None:
        terms = changed(self._job.terms, **fields)
        self._apply(steps.TERMS, edits.set_fields(self._job, terms=terms), gesture)

    def add_line(self, blank_key: object) -> str:
        """Add a garment line and give its key."""
        line = self._new_line(blank_key)
        self._apply(steps.ADD_LINE, edits.add_line(self._job, line))
        return line.key

    def change_line(self, key: str, fields: Mapping[str, Any], step: str, gesture: str) -> None:
        kind = fields.get("kind")
        line = self._job.line(key)
        # A kind picked before any count was typed brings its own usual sizes.
        if kind is not None and not line.count and line.sizes == first_sizes(line.kind):
            fields = {**fields, "sizes": first_sizes(kind)}
        self._apply(step, edits.change_line(self._job, key, **fields), gesture)

    def duplicate_line(self, key: str) -> None:
        self._apply(steps.DUPLICATE, edits.duplicate_line(self._job, key))

    def remove_line(self, key: str) -> None:
        self._apply(steps.REMOVE_LINE, edits.remove_line(self._job, key))

    def put_on(self, artwork: str, line_key: str) -> None:
        """Add a print at the line's next free location, at its usual width."""
        after = with_print(self._job, artwork, line_key, self._desk.shop.usual_widths)
        self._apply(steps.ADD_PRINT, after)

    def put_on_new(self, artwork: str, blank_key: object) -> str:
        """Add a garment line with the artwork on it, in one step, and give the line's key."""
        line = self._new_line(blank_key)
        with_line = edits.add_line(self._job, line)
        after = with_print(with_line, artwork, line.key, self._desk.shop.usual_widths)
        self._apply(steps.ADD_PRINT, after)
        return line.key

    def change_print(self, key: str, fields: Mapping[str, Any], gesture: str) -> None:
        print_ = self._job.print_of(key)
        fields = dict(fields)
        location = fields.get("location")
        if location is not None:
            fields |= {"top_mm": None, "aside_mm": None, "group_places": ()}
            line = self._job.line(print_.line)
            # A width nobody has touched follows the location's usual one.
            own = self._desk.shop.usual_widths
            if (print_.width_mm, print_.group_widths) == starting_widths(line, print_.location, own):
                fields["width_mm"], fields["group_widths"] = starting_widths(line, location, own)
        step = steps.WIDTH if "width_mm" in fields and location is None else steps.PRINT
        self._apply(step, edits.change_print(self._job, key, **fields), gesture)

    def remove_print(self, key: str) -> None:
        self._apply(steps.REMOVE_PRINT, edits.remove_prints(self._job, [key]))

    def add_extra(self, artwork: str) -> None:
        """Let copies of an artwork fill room that is left, as wide as its narrowest print."""
        widths = [print_.width_mm for print_ in self._job.prints if print_.artwork == artwork]
        extra = Extra(
            key=edits.next_key(self._job, "e"), artwork=artwork, width_mm=min(widths, default=_EXTRA_MM)
        )
        self._apply(steps.ADD_EXTRA, edits.add_extra(self._job, extra))

    def let_ride_along(self, room: RoomLeft) -> None:
        """Copies in room that is left on the sheets, and an extra that keeps them there."""
        extras = (*self._job.extras, room.extra)
        self._apply(steps.ADD_EXTRA, edits.set_fields(self._job, extras=extras, arranged=room.arranged))

    def change_extra(self, key: str, fields: Mapping[str, Any], gesture: str) -> None:
        extras = tuple(changed(extra, **fields) if extra.key == key else extra for extra in self._job.extras)
        self._apply(steps.EXTRA, edits.set_fields(self._job, extras=extras), gesture)

    def remove_extra(self, key: str) -> None:
        self._apply(steps.REMOVE_EXTRA, edits.remove_extra(self._job, key))

    def set_way(self, way: object) -> None:
        """How this job's sheets are cut apart; None: as the shop book says."""
        self._apply(steps.WAY, edits.set_fields(self._job, way=way))

    def place_print(self, key: str, top_mm: float, aside_mm: float, group: SizeGroup, gesture: str) -> None:
        after = edits.place_print(self._job, key, group, top_mm, aside_mm)
        self._apply(steps.PLACEMENT, after, gesture)

    def remove_artwork(self, key: str) -> None:
        self._apply(steps.REMOVE_ARTWORK, edits.remove_artwork(self._job, key))

    def turn_artwork(self, key: str) -> None:
        self.mend_artwork(key, QuarterTurn())

    def flip_artwork(self, key: str) -> None:
        self.mend_artwork(key, Flip())

    def mend_artwork(self, key: str, step: FixStep, print_key: str = "") -> None:
        """Add a fix to an artwork; with a print named, for that print alone."""
        job = self._job
        if print_key:
            job = edits.set_apart(job, print_key)
            key = job.print_of(print_key).artwork
        self._apply(steps.FIX, with_fix(job, job.artwork(key), step))

    def set_apart(self, print_key: str) -> None:
        """Give a print an artwork of its own, to be mended alone."""
        self._apply(steps.SET_APART, edits.set_apart(self._job, print_key))

    def take_back_fix(self, key: str) -> None:
        fixes = self._job.artwork(key).fixes
        if fixes:
            self._apply(steps.UNFIX, edits.set_fixes(self._job, key, fixes[:-1]))

    def decide(self, finding: Finding, reason: str) -> None:
        self._apply(steps.DECIDE, edits.decide(self._job, finding, reason))

    def undecide(self, finding_id: str) -> None:
        self._apply(steps.UNDECIDE, edits.undecide(self._job, finding_id))

    def set_layouts(self, offer: str, layouts: tuple[Layout, ...], title: str, gesture: str) -> None:
        self._apply(title, edits.set_layouts(self._job, offer, layouts), gesture)

    @property
    def _job(self) -> Job:
        return self._desk.job

    def _new_line(self, blank_key: object) -> GarmentLine:
        blank = next((blank for blank in self._desk.shop.blanks if blank.key == blank_key), None)
        return line_from(blank, edits.next_key(self._job, "g"))

    def _apply(self, title: str, after: Job, gesture: str = "") -> None:
        self._desk.apply(title, after, gesture)


def with_print(job: Job, artwork: str, line_key: str, usual_widths: Sequence[UsualWidth]) -> Job:
    """The job with an artwork put on a garment line, as wide as is usual on each group of its sizes."""
    line = job.line(line_key)
    location = likely_location(job, line, job.artwork(artwork).name)
    width_mm, group_widths = starting_widths(line, location, usual_widths)
    print_ = Print(
        key=edits.next_key(job, "p"),
        artwork=artwork,
        line=line_key,
        location=location,
        width_mm=width_mm,
        group_widths=group_widths,
    )
    return edits.add_print(job, print_)
