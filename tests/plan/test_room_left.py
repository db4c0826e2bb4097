"""Copies that would ride along for nothing: found where there is room, and nothing else is touched."""

from planner.job import edits
from planner.job.document import Extra, Job, Print, SizeCount
from planner.measures.layout import Layout, Placement, Way
from planner.plan.ordering import purchase_of
from planner.plan.room_left import RoomLeft, room_left
from planner.sheets.validate import faults
from planner.shop.garments import Location
from tests.builders import a_job, a_shop, an_artwork
from tests.buying.offers import SHEET

OFFER = "film-sheet"


def job_with_room() -> Job:
    """Six shirts with a large front and a small nape, on six sheets that are half empty."""
    job, _ = a_job(width_mm=250)
    mark, _ = an_artwork("a2", size_px=(600, 600))
    job = edits.change_line(job, "g1", sizes=(SizeCount(size="M", count=6),))
    job = edits.add_artwork(job, mark)
    job = edits.add_print(job, Print(key="p2", artwork="a2", line="g1", location=Location.NAPE, width_mm=50))
    front, nape = (
        next(p.size for p in edits.pieces_at(job, OFFER) if p.print == key) for key in ("p1", "p2")
    )
    placements = (
        Placement("p1", 10, 10, front.width_mm, front.height_mm),
        Placement("p2", 10, 400, nape.width_mm, nape.height_mm),
    )
    return edits.set_layouts(job, OFFER, (Layout(SHEET, placements, 7),))


def found_in(job: Job) -> RoomLeft | None:
    return room_left(job, a_shop(), {})


def test_the_smallest_print_is_counted_into_the_room_that_is_left() -> None:
    job = job_with_room()
    room = found_in(job)
    assert room
    assert (room.extra.artwork, room.extra.width_mm) == ("a2", 50)
    (layout,) = room.arranged[0].layouts
    assert room.extra.most == layout.count_of(room.extra.key) > 0
    assert room.extra.most % 7 == 0, "each place is printed as often as its sheet"
    assert not faults(layout, gap_mm=3, margin_mm=5, way=Way.LOOSE)
    (before,) = edits.layouts_at(job, OFFER)
    assert layout.placements[: len(before.placements)] == before.placements
    taken = edits.set_fields(job, extras=(room.extra,), arranged=room.arranged)
    assert [cost_of(each) for each in (job, taken)] == [cost_of(job)] * 2
    assert found_in(taken) is None, "the shop knows of it now"


def cost_of(job: Job) -> object:
    purchase = purchase_of(job, a_shop(), {})
    assert purchase
    return purchase.cost


def test_nothing_is_said_of_sheets_that_are_full_or_not_accepted() -> None:
    job = job_with_room()
    assert found_in(edits.set_fields(job, arranged=())) is None
    assert found_in(edits.set_fields(job, extras=(Extra(key="e1", artwork="a2", width_mm=30),))) is None
    (layout,) = edits.layouts_at(job, OFFER)
    crossed = Layout(SHEET, (*layout.placements, layout.placements[0]), 7)
    assert found_in(edits.set_layouts(job, OFFER, (crossed,))) is None, "faults come first"
