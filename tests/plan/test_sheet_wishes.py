"""What a print asks of its sheets: what it must share one with, how it may be turned, what fills the rest."""

import io

import pytest
from PIL import Image, ImageDraw

from planner.artwork.measure import measure
from planner.job import edits
from planner.job.document import Extra, Job, Print, SizeCount
from planner.job.findings import FindingKind, Seriousness
from planner.measures.layout import Layout, Way
from planner.plan.make_plan import make_plan
from planner.plan.ordering import arrange_job, outlines_of
from planner.sheets.validate import faults
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.garments import Location
from planner.shop.prices import PriceTable
from tests.builders import A_DAY, a_job, a_shop, an_artwork
from tests.buying.offers import breaks, by_area, by_piece, inches

OFFER = "film-sheet"


def four_prints(*, marked: bool, count: int = 6) -> Job:
    """Prints of four widths on a few shirts, two of them marked to share a sheet."""
    job, _ = a_job(width_mm=200)
    job = edits.change_line(job, "g1", sizes=(SizeCount(size="M", count=count),))
    for key, width_mm in (("p2", 190), ("p3", 120), ("p4", 110)):
        job = edits.add_print(
            job, Print(key=key, artwork="a1", line="g1", location=Location.FULL_BACK, width_mm=width_mm)
        )
    for key in ("p3", "p4"):
        job = edits.change_print(job, key, one_sheet=marked)
    return job


def sheets_with(layouts: tuple[Layout, ...], *keys: str) -> int:
    return sum(layout.runs for layout in layouts if any(placed.print in keys for placed in layout.placements))


@pytest.mark.parametrize("way", [Way.LOOSE, Way.STRAIGHT])
def test_marked_prints_share_one_sheet_and_nothing_is_missing(way: Way) -> None:
    job = edits.set_fields(four_prints(marked=True), way=way)
    plan = make_plan(job, a_shop(), facts={}, today=A_DAY)
    assert plan.purchase is not None
    assert sheets_with(plan.purchase.orders[0].layouts, "p3", "p4") == 1, "the quick plan heeds it too"
    layouts = edits.layouts_at(arrange_job(job, a_shop(), facts={}, rounds=4), OFFER)
    assert sheets_with(layouts, "p3", "p4") == 1
    for print_ in job.prints:
        assert sum(layout.count_of(print_.key) for layout in layouts) >= 6
    offer = a_shop().offer(OFFER)
    assert offer is not None
    for layout in layouts:
        assert not faults(layout, gap_mm=offer.gap_mm, margin_mm=offer.margin_mm, way=way)


def test_marked_prints_that_no_sheet_holds_are_told_and_still_ordered() -> None:
    job = arrange_job(four_prints(marked=True, count=60), a_shop(), facts={}, rounds=1)
    plan = make_plan(job, a_shop(), facts={}, today=A_DAY)
    told = next(finding for finding in plan.findings if finding.kind is FindingKind.SHEETS_APART)
    assert told.seriousness is Seriousness.LOOK
    assert told.found is not None
    assert told.found > 1
    assert not any(finding.kind is FindingKind.PIECE_SHORT for finding in plan.findings)


def test_prints_nobody_marked_are_told_nothing_about() -> None:
    plan = make_plan(four_prints(marked=False, count=60), a_shop(), facts={}, today=A_DAY)
    assert FindingKind.SHEETS_APART not in {finding.kind for finding in plan.findings}


def a_bow() -> bytes:
    """An angle of two bars, so hollow that its outline leaves half of its box free."""
    picture = Image.new("RGBA", (600, 600), (0, 0, 0, 0))
    ImageDraw.Draw(picture).polygon(
        [(0, 0), (599, 0), (599, 150), (150, 150), (150, 599), (0, 599)], fill="#204060"
    )
    buffer = io.BytesIO()
    picture.save(buffer, "PNG")
    return buffer.getvalue()


def test_extras_fill_hollows_and_every_piece_keeps_to_how_it_may_be_turned() -> None:
    artwork, data = an_artwork("a1", a_bow(), (600, 600))
    job, _ = a_job(width_mm=120)
    job = changed(job, artworks=(artwork,), way=Way.OUTLINE)
    job = edits.change_line(job, "g1", sizes=(SizeCount(size="M", count=4),))
    job = edits.change_print(job, "p1", may_turn=False, any_angle=True)
    job = edits.add_extra(job, Extra(key="e1", artwork="a1", width_mm=45, most=90))
    shop = changed(a_shop(), search_s=2.0)
    facts = {"a1": measure(data, artwork)}
    layouts = edits.layouts_at(arrange_job(job, shop, facts=facts), OFFER)
    outlines = outlines_of(job, shop, facts)
    assert set(outlines) == {"p1", "e1"}
    offer = shop.offer(OFFER)
    assert offer is not None
    for layout in layouts:
        assert not faults(
            layout, gap_mm=offer.gap_mm, margin_mm=offer.margin_mm, way=Way.OUTLINE, outlines=outlines
        )
    placed = [placement for layout in layouts for placement in layout.placements]
    assert {p.turned_deg for p in placed if p.print == "p1"} == {0.0}, "turning is not allowed at all"
    boxes = arrange_job(edits.set_fields(job, way=Way.LOOSE), shop, facts=facts)
    in_boxes = sum(layout.count_of("e1") / layout.sheet.area_mm2 for layout in edits.layouts_at(boxes, OFFER))
    by_outline = sum(layout.count_of("e1") / layout.sheet.area_mm2 for layout in layouts)
    assert by_outline > in_boxes


def priced(shop: Shop, price: PriceTable) -> Shop:
    """The same shop, its film sheets sold in another way."""
    offers = tuple(changed(offer, price=price) if offer.key == OFFER else offer for offer in shop.offers)
    return changed(shop, offers=offers)


def told_apart(job: Job, shop: Shop) -> float | None:
    found = make_plan(job, shop, facts={}, today=A_DAY).findings
    return next((one.found for one in found if one.kind is FindingKind.SHEETS_APART), None)


def test_a_mark_set_later_counts_for_more_than_cheaper_layouts_that_stand() -> None:
    shop = priced(a_shop(), by_area((0, "0.06"), minimum="1.00"))
    job = arrange_job(four_prints(marked=False), shop, facts={}, rounds=1)
    for key in ("p1", "p3"):
        job = edits.change_print(job, key, one_sheet=True)
    assert told_apart(job, shop) == 8, "one group of small ones, and seven single images, a spare among them"
    job = arrange_job(job, shop, facts={}, rounds=1)
    assert told_apart(job, shop) is None
    assert sheets_with(edits.layouts_at(job, OFFER), "p1", "p3") == 1


def test_pieces_priced_one_by_one_share_nothing_and_nothing_is_said() -> None:
    rows = (inches(12, 16), 12, breaks((1, "2.00")))
    job = four_prints(marked=True)
    assert told_apart(job, priced(a_shop(), by_piece(rows))) is None


@pytest.mark.parametrize("way", [Way.LOOSE, Way.STRAIGHT])
def test_a_group_paid_by_its_area_has_no_margin_and_is_not_accused_of_reaching_into_one(way: Way) -> None:
    shop = priced(a_shop(), by_area((0, "0.06"), minimum="1.00"))
    offer = shop.offer(OFFER)
    assert offer is not None
    assert offer.margin_mm > 0, "the printer's sheets have one"
    job = arrange_job(edits.set_fields(four_prints(marked=True), way=way), shop, facts={}, rounds=1)
    plan = make_plan(job, shop, facts={}, today=A_DAY)
    assert FindingKind.SHEET_FAULT not in {finding.kind for finding in plan.findings}
    groups = edits.layouts_at(job, OFFER)
    assert groups
    for group in groups:
        assert min(placed.x_mm for placed in group.placements) == 0, "a margin would be paid for"
