"""Where prints sit, and what is wrong with a place. Figures of places are common practice of the trade."""

import pytest

from planner.job.document import GroupPlace, GroupWidth, SizeCount
from planner.job.findings import FindingKind, Seriousness
from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.plan import wording
from planner.pressing.card import Edge
from planner.pressing.placement import place, placement_findings, print_box, starting_widths
from planner.pressing.platen import pressings_on
from planner.pressing.usual import start_width_mm, usual_width
from planner.shop.garments import GarmentKind, HardPart, Location, SizeGroup
from tests.pressing.jobs import a_job, a_line, a_press, a_print, an_artwork

IN = MM_PER_INCH


def sized(width_in: float | None = None, length_in: float | None = None, **fields: object) -> SizeCount:
    return SizeCount.model_validate(
        {
            "size": "M",
            "count": 6,
            "body_width_mm": width_in and width_in * IN,
            "body_length_mm": length_in and length_in * IN,
        }
        | fields
    )


def kinds(*args: object, **job_fields: object) -> list[tuple[FindingKind, Seriousness]]:
    prints, line, presses = args
    job = a_job(prints, [line], **job_fields)
    found = placement_findings(job, job.prints[-1], presses)
    return [(finding.kind, finding.seriousness) for finding in found]


@pytest.mark.parametrize(
    ("location", "group", "least_in", "most_in"),
    [
        (Location.FULL_FRONT, SizeGroup.ADULT, 10, 12),
        (Location.FULL_FRONT, SizeGroup.YOUTH, 7, 10),
        (Location.FULL_FRONT, SizeGroup.INFANT, 4, 5),
        (Location.LEFT_CHEST, SizeGroup.ADULT, 3, 4),
        (Location.NAPE, SizeGroup.ADULT, 1, 3),
        (Location.LEFT_SLEEVE, SizeGroup.ADULT, 2, 3.5),
        (Location.TOTE_FRONT, SizeGroup.ONE_SIZE, 6, 10),
    ],
)
def test_usual_widths_are_those_of_the_trade(
    location: Location, group: SizeGroup, least_in: float, most_in: float
) -> None:
    known = usual_width(location, group)
    assert known is not None
    assert (known.least_mm, known.most_mm) == pytest.approx((least_in * IN, most_in * IN))


@pytest.mark.parametrize("location", Location)
@pytest.mark.parametrize("group", SizeGroup)
def test_a_new_print_starts_within_what_is_usual(location: Location, group: SizeGroup) -> None:
    known = usual_width(location, group)
    start_mm = start_width_mm(location, group)
    assert (known is None) == (location is Location.OTHER)
    assert known is None or known.least_mm <= start_mm <= known.most_mm
    placed = place(a_print(location=location, width_mm=start_mm), group)
    assert placed.top_mm > 0
    assert placed.measured_from


def test_a_full_front_hangs_two_to_three_inches_below_the_collar_and_two_on_youth_sizes() -> None:
    front = a_print(location=Location.FULL_FRONT)
    adult, youth = place(front, SizeGroup.ADULT), place(front, SizeGroup.YOUTH)
    assert 2 * IN <= adult.top_mm <= 3 * IN
    assert youth.top_mm == pytest.approx(2 * IN)
    assert (adult.aside_mm, adult.measured_from, adult.measured_to) == (0, "collar seam", Edge.TOP)


def test_a_left_chest_sits_four_inches_towards_the_wearers_left_below_the_shoulder() -> None:
    chest = place(a_print(location=Location.LEFT_CHEST), SizeGroup.ADULT)
    assert chest.aside_mm == pytest.approx(4 * IN)
    assert 7 * IN <= chest.top_mm <= 9 * IN
    assert chest.measured_from == "shoulder seam at the collar"


def test_a_sleeve_print_is_measured_from_the_hem_to_its_lower_edge() -> None:
    sleeve = place(a_print(location=Location.RIGHT_SLEEVE), SizeGroup.ADULT)
    assert (sleeve.top_mm, sleeve.measured_from, sleeve.measured_to) == (IN, "sleeve hem", Edge.BOTTOM)


def test_figures_typed_for_a_print_win_over_starting_values() -> None:
    placed = place(a_print(top_mm=91, aside_mm=-12), SizeGroup.ADULT)
    assert (placed.top_mm, placed.aside_mm) == (91, -12)


def test_a_groups_own_place_wins_over_the_prints_and_holds_for_no_other_group() -> None:
    own = GroupPlace(group=SizeGroup.YOUTH, top_mm=60, aside_mm=5)
    for print_, adult in (
        (a_print(group_places=(own,)), place(a_print(), SizeGroup.ADULT)),
        # As files have it in which one place held for all sizes.
        (
            a_print(group_places=(own,), top_mm=91, aside_mm=-12),
            place(a_print(top_mm=91, aside_mm=-12), SizeGroup.ADULT),
        ),
    ):
        youth = place(print_, SizeGroup.YOUTH)
        assert (youth.top_mm, youth.aside_mm) == (60, 5)
        assert place(print_, SizeGroup.ADULT) == adult


def test_an_apron_has_no_collar_to_measure_from() -> None:
    assert place(a_print(), SizeGroup.ADULT, GarmentKind.APRON).measured_from == "top edge of the bib"


@pytest.mark.parametrize(
    ("width_in", "found"),
    [(12, []), (12.5, [Seriousness.NOTE]), (14, [Seriousness.LOOK])],
)
def test_a_print_a_little_over_the_usual_is_noted_and_one_far_over_must_be_looked_at(
    width_in: float, found: list[Seriousness]
) -> None:
    seen = kinds([a_print(width_mm=width_in * IN)], a_line(), ())
    assert seen == [(FindingKind.WIDER_THAN_USUAL, serious) for serious in found]


def test_a_width_of_its_own_for_youth_sizes_settles_what_was_too_wide_for_them() -> None:
    line = a_line(sizes=(sized(), SizeCount(size="YM", count=4, group=SizeGroup.YOUTH)))
    wide = a_job([a_print(width_mm=11 * IN)], [line])
    (finding,) = placement_findings(wide, wide.prints[0])
    assert (finding.kind, finding.subject) == (FindingKind.WIDER_THAN_USUAL, "youth")
    assert (finding.found, finding.needed) == (pytest.approx(279.4), pytest.approx(254))
    youth = GroupWidth(group=SizeGroup.YOUTH, width_mm=8.5 * IN)
    narrow = a_job([a_print(width_mm=11 * IN, group_widths=(youth,))], [line])
    assert placement_findings(narrow, narrow.prints[0]) == ()


def test_a_new_print_starts_at_a_width_of_its_own_for_each_group_that_needs_one() -> None:
    line = a_line(
        sizes=(
            SizeCount(size="YM", group=SizeGroup.YOUTH),
            SizeCount(size="M"),
            SizeCount(size="6M", group=SizeGroup.INFANT),
        )
    )
    width_mm, own = starting_widths(line, Location.FULL_FRONT)
    assert width_mm == pytest.approx(11 * IN)
    assert {group.group: group.width_mm for group in own} == {
        SizeGroup.YOUTH: pytest.approx(8.5 * IN),
        SizeGroup.INFANT: pytest.approx(4.5 * IN),
    }
    # A bag's print is the same on all; a line without sizes yet counts as adult.
    assert starting_widths(line, Location.TOTE_FRONT)[1] == ()
    assert starting_widths(a_line(sizes=()), Location.NAPE) == (pytest.approx(2.5 * IN), ())
    youth = a_line(sizes=(SizeCount(size="YM", group=SizeGroup.YOUTH),))
    assert starting_widths(youth, Location.FULL_FRONT) == (pytest.approx(8.5 * IN), ())


def test_sizes_nobody_ordered_are_not_judged() -> None:
    line = a_line(sizes=(sized(), SizeCount(size="6M", count=0, group=SizeGroup.INFANT)))
    assert kinds([a_print(width_mm=11 * IN)], line, ()) == []


@pytest.mark.parametrize(
    ("width", "height", "platen", "pressings"),
    [
        (12, 15, (16, 20), 1),
        (15, 12, (12, 15), 1),  # the garment lies turned
        (12, 16, (12, 15), 2),
        (17, 21, (16, 20), 2),  # turned, it sticks out at one end only
        (21, 21, (16, 20), 4),
        (12, 31, (12, 15), 3),
    ],
)
def test_a_print_over_the_platen_is_pressed_in_parts(
    width: float, height: float, platen: tuple[float, float], pressings: int
) -> None:
    press = a_press(width_mm=platen[0] * IN, height_mm=platen[1] * IN)
    assert pressings_on(Size(width * IN, height * IN), press) == pressings


def test_the_finding_over_the_platen_names_the_width_that_fits() -> None:
    press = a_press(width_mm=9 * IN, height_mm=12 * IN)
    job = a_job([a_print(width_mm=11 * IN)])
    (finding,) = placement_findings(job, job.prints[0], (press,))
    assert (finding.kind, finding.seriousness) == (FindingKind.OVER_PLATEN, Seriousness.LOOK)
    assert (finding.found, finding.needed) == (pytest.approx(11 * IN), pytest.approx(9 * IN, abs=0.1))
    assert finding.best_width_mm == pytest.approx(9 * IN, abs=0.1)
    fits = a_job([a_print(width_mm=finding.best_width_mm or 0)])
    assert placement_findings(fits, fits.prints[0], (press,)) == ()


@pytest.mark.parametrize(
    ("body_width_in", "found"),
    [(14, []), (13, [Seriousness.LOOK]), (11.5, [Seriousness.LOOK]), (10.5, [Seriousness.STOP])],
)
def test_a_print_keeps_clear_of_side_seams_and_never_passes_them(
    body_width_in: float, found: list[Seriousness]
) -> None:
    seen = kinds([a_print(width_mm=11.5 * IN)], a_line(sizes=(sized(body_width_in),)), ())
    assert seen == [(FindingKind.OVER_GARMENT, serious) for serious in found]


def test_a_print_too_long_for_the_smallest_size_names_that_size() -> None:
    line = a_line(sizes=(sized(20, 28, size="L"), sized(16, 20, size="S")))
    job = a_job([a_print(width_mm=10 * IN)], [line], artworks=(an_artwork(width_px=1000, height_px=1500),))
    (finding,) = placement_findings(job, job.prints[0])
    assert (finding.kind, finding.subject) == (FindingKind.OVER_GARMENT, "S")
    # 20 in from the shoulder, 3.5 in down to the collar, 2.5 in to the print, 1 in kept free of the hem.
    assert (finding.found, finding.needed) == (pytest.approx(15 * IN), pytest.approx(13 * IN))


def test_a_back_has_the_whole_length_below_its_collar() -> None:
    # 20 in of back, 4.5 in down to the print, 1 in kept free of the hem: 14.5 in are left.
    line = a_line(sizes=(sized(16, 20),))
    tall = {"artworks": (an_artwork(width_px=1000, height_px=1480),)}
    back = a_print(location=Location.FULL_BACK, width_mm=10 * IN)
    job = a_job([back], [line], **tall)
    (finding,) = placement_findings(job, back)
    assert (finding.found, finding.needed) == (pytest.approx(14.8 * IN, abs=0.1), pytest.approx(14.5 * IN))
    assert finding.seriousness is Seriousness.LOOK


def test_a_print_put_past_the_side_seam_is_told_to_be_moved() -> None:
    line = a_line(sizes=(sized(20, 28),))
    for aside_in, said in (
        (
            4,
            "The print takes 11 in, its place on the garment leaves 10 in (M). Move it, or print it smaller.",
        ),
        (12, "The print takes 11 in, its place on the garment leaves nothing (M). Move it."),
    ):
        print_ = a_print(width_mm=11 * IN, aside_mm=aside_in * IN)
        found = placement_findings(a_job([print_], [line]), print_)
        assert wording.finding(found[0], LengthUnit.INCH) == said


def test_a_caps_front_takes_no_more_than_two_and_a_quarter_inches_of_height() -> None:
    cap = a_line(kind=GarmentKind.CAP, sizes=(sized(group=SizeGroup.ONE_SIZE),))
    print_ = a_print(location=Location.CAP_FRONT, width_mm=3 * IN)
    job = a_job([print_], [cap])
    (finding,) = placement_findings(job, print_)
    assert finding.kind is FindingKind.OVER_GARMENT
    assert finding.best_width_mm == pytest.approx(2.25 * IN, abs=0.1)


def test_a_left_chest_too_far_aside_runs_into_the_side_seam() -> None:
    line = a_line(sizes=(sized(14),))
    near = a_print(location=Location.LEFT_CHEST, width_mm=3.5 * IN)
    assert kinds([near], line, ()) == []
    # Centre 5 in aside on a panel of 14 in: 2 in to the seam on its left, 1 in of it kept free.
    far = a_job([a_print(location=Location.LEFT_CHEST, width_mm=3.5 * IN, aside_mm=5 * IN)], [line])
    (finding,) = placement_findings(far, far.prints[0])
    assert (finding.kind, finding.found) == (FindingKind.OVER_GARMENT, pytest.approx(3.5 * IN))
    assert finding.needed == pytest.approx(2 * IN)


def test_boxes_share_one_origin_at_the_collar_whatever_they_are_measured_from() -> None:
    chest = a_print(location=Location.LEFT_CHEST, width_mm=4 * IN)
    sleeve = a_print("p2", location=Location.LEFT_SLEEVE, width_mm=3 * IN)
    job = a_job([chest, sleeve])
    box = print_box(job, chest, SizeGroup.ADULT)
    # 8 in below the shoulder seam, which lies 3.5 in above the front collar seam (from memory).
    assert (box.x_mm, box.y_mm) == (pytest.approx(2 * IN), pytest.approx(4.5 * IN))
    hem = print_box(job, sleeve, SizeGroup.ADULT)
    assert hem.bottom_mm == pytest.approx(-IN)


@pytest.mark.parametrize(
    ("part", "location", "hits"),
    [
        (HardPart.ZIP, Location.FULL_FRONT, True),
        (HardPart.ZIP, Location.LEFT_CHEST, False),
        (HardPart.ZIP, Location.FULL_BACK, False),
        (HardPart.CENTRE_SEAM, Location.FULL_BACK, True),
        (HardPart.CENTRE_SEAM, Location.CAP_FRONT, True),
        (HardPart.CHEST_POCKET, Location.LEFT_CHEST, True),
        (HardPart.BUTTONS, Location.FULL_FRONT, True),
        (HardPart.POUCH_POCKET, Location.LEFT_CHEST, False),
        (HardPart.ZIP, Location.LEFT_SLEEVE, False),
    ],
)
def test_prints_over_hard_parts_are_found_on_the_right_side_only(
    part: HardPart, location: Location, hits: bool
) -> None:
    line = a_line(hard_parts=(part,))
    seen = kinds([a_print(location=location, width_mm=2.2 * IN)], line, ())
    assert seen == ([(FindingKind.OVER_HARD_PART, Seriousness.LOOK)] if hits else [])


def test_a_tall_front_reaches_the_pouch_pocket_and_a_lower_one_more_so() -> None:
    line = a_line(kind=GarmentKind.HOODIE, hard_parts=(HardPart.POUCH_POCKET,), sizes=(sized(22, 28),))
    clear = kinds([a_print(width_mm=10.5 * IN)], line, ())
    assert clear == []
    low = kinds([a_print(width_mm=10.5 * IN, top_mm=5 * IN)], line, ())
    assert low == [(FindingKind.OVER_HARD_PART, Seriousness.LOOK)]


def test_a_chest_print_on_top_of_a_full_front_is_too_close_and_said_once() -> None:
    front = a_print("p1", width_mm=11 * IN)
    chest = a_print("p2", width_mm=3.5 * IN, location=Location.LEFT_CHEST)
    job = a_job([front, chest])
    assert placement_findings(job, front) == ()
    (finding,) = placement_findings(job, chest)
    assert (finding.kind, finding.found) == (FindingKind.PRINTS_TOO_CLOSE, 0)
    said = wording.finding(finding, LengthUnit.INCH)
    assert said == "This print is 0 in from the next one (full front); leave 0.5 in. Move one of them."


def test_a_nape_and_a_full_back_keep_their_distance_at_starting_values() -> None:
    nape = a_print("p1", width_mm=2.5 * IN, location=Location.NAPE)
    back = a_print("p2", width_mm=11 * IN, location=Location.FULL_BACK)
    assert kinds([nape, back], a_line(), ()) == []
    raised = a_print("p2", width_mm=11 * IN, location=Location.FULL_BACK, top_mm=3.75 * IN)
    assert kinds([nape, raised], a_line(), ()) == [(FindingKind.PRINTS_TOO_CLOSE, Seriousness.LOOK)]


def test_prints_on_two_sides_or_on_two_garments_never_meet() -> None:
    front = a_print("p1", width_mm=11 * IN)
    back = a_print("p2", width_mm=11 * IN, location=Location.FULL_BACK)
    assert kinds([front, back], a_line(), ()) == []
    other = a_print("p2", width_mm=11 * IN, line="g2")
    job = a_job([front, other], [a_line(), a_line("g2")])
    assert placement_findings(job, other) == ()
