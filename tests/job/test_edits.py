"""Every edit gives a whole job again, and leaves the one it was given alone."""

import pytest
from pydantic import ValidationError

from planner.job import edits
from planner.job.document import GarmentLine, Job, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.fixes import QuarterTurn, Thicken, Trim
from planner.job.pieces import needed_pieces, print_size
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.shop.document import changed
from planner.shop.garments import Location, SizeGroup
from tests.builders import A_DAY, a_job, a_line, an_artwork


def with_sheets() -> Job:
    job, _ = a_job()
    placement = Placement("p1", 10, 10, 76.2, 50.8)
    return edits.set_layouts(job, "film-sheet", [Layout(Size(292.1, 457.2), (placement,), 20)])


def test_an_edit_leaves_the_job_it_was_given_alone() -> None:
    job, _ = a_job()
    before = job.model_dump_json()
    edits.change_print(job, "p1", width_mm=100)
    edits.remove_line(job, "g1")
    assert job.model_dump_json() == before


def test_keys_are_never_given_twice() -> None:
    job, _ = a_job()
    job = edits.add_line(job, a_line(edits.next_key(job, "g")))
    assert [line.key for line in job.lines] == ["g1", "g2"]
    with pytest.raises(ValidationError):
        edits.add_line(job, a_line("g2"))


def test_a_print_is_placed_on_one_group_of_sizes_and_stays_on_the_others() -> None:
    job, _ = a_job()
    job = edits.place_print(job, "p1", SizeGroup.ADULT, 90, -12)
    job = edits.place_print(job, "p1", SizeGroup.YOUTH, 60, 0)
    job = edits.place_print(job, "p1", SizeGroup.ADULT, 95, -12)
    print_ = job.print_of("p1")
    assert len(print_.group_places) == 2
    places = [print_.place_for(group) for group in (SizeGroup.ADULT, SizeGroup.YOUTH, SizeGroup.INFANT)]
    assert places == [(95, -12), (60, 0), (None, None)]


def test_a_value_out_of_range_is_refused_by_the_edit() -> None:
    job, _ = a_job()
    with pytest.raises(ValidationError):
        edits.change_print(job, "p1", width_mm=-5)


def test_the_same_file_dropped_twice_is_one_artwork() -> None:
    job, _ = a_job()
    again = changed(job.artworks[0], key="a2", name="copy of it.png")
    assert edits.add_artwork(job, again) == job


def test_removing_a_line_takes_its_prints_and_their_pieces_along() -> None:
    job = edits.remove_line(with_sheets(), "g1")
    assert (job.lines, job.prints, job.arranged) == ((), (), ())
    assert job.artworks


def test_removing_an_artwork_takes_its_prints_along() -> None:
    job = edits.remove_artwork(with_sheets(), "a1")
    assert (job.artworks, job.prints, job.arranged) == ((), (), ())
    assert job.lines


def test_a_replaced_file_keeps_prints_and_decisions_and_brings_the_fixes_fitted_to_it() -> None:
    job = edits.set_fixes(with_sheets(), "a1", [Thicken(by_px=4)])
    finding = Finding(kind=FindingKind.BOX, seriousness=Seriousness.LOOK, artwork="a1", print="p1")
    job = edits.decide(job, finding, "Wanted.")
    better, _ = an_artwork("a9", size_px=(1800, 1200))
    after = edits.replace_file(job, "a1", changed(better, fixes=(Thicken(by_px=8),)))
    assert after.artwork("a1").width_px == 1800
    assert after.artwork("a1").fixes == (Thicken(by_px=8),)
    assert (after.prints, after.decisions) == (job.prints, job.decisions)


def test_a_print_set_apart_gets_its_own_artwork_of_the_same_file() -> None:
    job, _ = a_job()
    assert edits.set_apart(job, "p1") == job
    two = edits.duplicate_line(job, "g1")
    apart = edits.set_apart(two, "p2")
    own = apart.artwork(apart.print_of("p2").artwork)
    assert own == changed(apart.artwork("a1"), key=own.key)
    assert apart.print_of("p1").artwork == "a1" != own.key


def test_a_copied_line_brings_its_prints_under_new_keys() -> None:
    job, _ = a_job()
    job = edits.duplicate_line(job, "g1")
    assert [line.key for line in job.lines] == ["g1", "g2"]
    assert [(print_.key, print_.line) for print_ in job.prints] == [("p1", "g1"), ("p2", "g2")]


def test_layouts_remember_what_they_were_made_for() -> None:
    job = with_sheets()
    (served,) = job.arranged[0].made_for
    assert (served.piece, served.count) == ("p1", 20)


def test_a_later_decision_on_the_same_finding_replaces_the_first() -> None:
    job, _ = a_job()
    finding = Finding(kind=FindingKind.BOX, seriousness=Seriousness.LOOK, print="p1", found=1)
    job = edits.decide(edits.decide(job, finding, "One."), finding, "Two.")
    assert [decision.reason for decision in job.decisions] == ["Two."]
    assert edits.undecide(job, finding.id).decisions == ()


def test_a_print_takes_its_height_from_the_artwork_after_its_fixes() -> None:
    artwork, _ = an_artwork(size_px=(900, 600))
    assert print_size(artwork, 90) == Size(90, 60)
    turned = changed(artwork, fixes=(QuarterTurn(),))
    assert print_size(turned, 90) == Size(90, 135)
    trimmed = changed(
        artwork, fixes=(Trim(left_px=0, top_px=0, width_px=300, height_px=300), QuarterTurn(quarters=3))
    )
    assert print_size(trimmed, 90) == Size(90, 90)


def test_sizes_that_nobody_ordered_need_no_pieces() -> None:
    job, _ = a_job()
    job = edits.add_line(job, GarmentLine(key="g2"))
    job = edits.add_print(job, Print(key="p2", artwork="a1", line="g2", location=Location.NAPE, width_mm=50))
    assert [piece.key for piece in needed_pieces(job)] == ["p1"]


def test_a_job_that_names_what_it_does_not_hold_is_refused() -> None:
    with pytest.raises(ValidationError, match="does not hold"):
        Job(quoted_on=A_DAY, prints=(Print(key="p1", artwork="a1", line="g1", width_mm=10),))


def test_artwork_far_wider_than_high_still_makes_a_piece_that_can_be_placed() -> None:
    line, _ = an_artwork(size_px=(9000, 1), data=b"a ruled line")
    assert print_size(line, 50).height_mm == 0.1


def test_prints_are_shared_out_and_most_of_them_follow_the_job() -> None:
    job, _ = a_job(offer="film-sheet")
    for key in ("p2", "p3"):
        job = edits.add_print(job, changed(job.prints[0], key=key, location=Location.NAPE, offer="vinyl"))
    shared = edits.share_out(job, {"p1": "stretch", "p2": "film-roll", "p3": "film-roll"})
    assert [shared.offer_of(print_) for print_ in shared.prints] == ["stretch", "film-roll", "film-roll"]
    assert shared.offer == "film-roll"
    assert [print_.offer for print_ in shared.prints] == ["stretch", None, None]
    # A print that nothing is said of stays where it is bought.
    assert edits.share_out(job, {"p1": "stretch"}).print_of("p1").offer == "stretch"
    assert edits.share_out(job, {"p1": "stretch"}).offer == "vinyl"
