"""Artwork goes where its file's name says, else where nothing is yet."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.job.document import GarmentLine, Print
from planner.shop.garments import GarmentKind, Location
from planner.window.likely_place import likely_location, named_places
from tests.builders import a_job, png_bytes
from tests.window.rig import Rig, drop_files, png_in


@pytest.mark.parametrize(
    ("name", "place"),
    [
        ("sleeve.png", Location.LEFT_SLEEVE),
        ("club_Right-Sleeve 2.svg", Location.RIGHT_SLEEVE),
        ("sleeve R.png", Location.RIGHT_SLEEVE),
        ("BackNeckLabel.png", Location.NAPE),
        ("FULL BACK.pdf", Location.FULL_BACK),
        ("chest-front.png", Location.LEFT_CHEST),
        ("caps.png", Location.CAP_FRONT),
        ("leg.png", Location.LEG),
    ],
)
def test_a_files_name_tells_the_place(name: str, place: Location) -> None:
    assert named_places(name)[0] is place


@pytest.mark.parametrize("name", ["background.png", "capture.png", "logo.png", "legal.pdf", "hattie.png"])
def test_a_word_within_another_tells_nothing(name: str) -> None:
    assert named_places(name) == ()


def likely(kind: GarmentKind, name: str, *taken: Location) -> Location:
    job, _ = a_job()
    job = edits.set_fields(job, lines=(GarmentLine(key="g1", kind=kind),), prints=())
    for at, place in enumerate(taken):
        print_ = Print(key=f"p{at}", artwork="a1", line="g1", location=place, width_mm=80)
        job = edits.add_print(job, print_)
    return likely_location(job, job.line("g1"), name)


def test_no_place_is_taken_twice() -> None:
    places: list[Location] = []
    for _ in range(5):
        places.append(likely(GarmentKind.HOODIE, "front.png", *places))
    front, back = Location.FULL_FRONT, Location.FULL_BACK
    assert places == [front, back, Location.LEFT_SLEEVE, Location.RIGHT_SLEEVE, Location.OTHER]
    assert likely(GarmentKind.TOTE, "tote.png", Location.TOTE_FRONT) is Location.OTHER


def test_a_place_that_the_garment_lacks_is_not_taken() -> None:
    assert likely(GarmentKind.CAP, "sleeve.png") is Location.CAP_FRONT
    assert likely(GarmentKind.T_SHIRT, "cap front.png") is Location.FULL_FRONT
    assert likely(GarmentKind.APRON, "back.png") is Location.FULL_FRONT


def test_beside_a_print_on_the_chest_the_back_is_free_and_not_the_front() -> None:
    assert likely(GarmentKind.POLO, "logo.png", Location.LEFT_CHEST) is Location.FULL_BACK


def test_files_of_one_drop_go_where_they_say_whatever_their_order(
    rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    line = rig.gestures().add_line(None)
    paths = [
        png_in(tmp_path, name, png_bytes(300 + at, 200))
        for at, name in enumerate(("crest.png", "sleeve.png", "front.png"))
    ]
    drop_files(rig.window.garments.forms[line], paths)
    rig.settle(qtbot)
    job = rig.desk.job
    found = {job.artwork(print_.artwork).name: print_.location for print_ in job.prints}
    assert found == {
        "crest.png": Location.FULL_BACK,
        "sleeve.png": Location.LEFT_SLEEVE,
        "front.png": Location.FULL_FRONT,
    }
