"""Fixes picked by hand on the artwork page: each is a step of the job, measured again, compared, undone."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from planner.artwork.read import artwork_from, import_artwork
from planner.job.document import GarmentLine, Job, Print
from planner.job.fixes import (
    FixStep,
    Flip,
    Halftone,
    HardenEdges,
    KnockOut,
    OutlineInk,
    QuarterTurn,
    Recolour,
    RemoveSpecks,
    Thicken,
)
from planner.window.artwork import words
from planner.window.artwork.mend_form import MendForm
from planner.window.popover import Popover
from tests.artwork import samples
from tests.builders import A_DAY
from tests.window.rig import Rig, click, png_in, typed

PX_PER_MM = 6.0
DRAWING = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="4in" height="3in" viewBox="0 0 400 300">'
    b'<rect x="100" y="100" width="100" height="50" fill="#c81e1e"/></svg>'
)
WIDTH_MM = 100.0


def open_logo(rig: Rig, qtbot: QtBot, data: bytes) -> None:
    name = "badge.svg" if data.startswith(b"<svg") else "badge.png"
    artwork = artwork_from(import_artwork(data, name), "a1")
    job = Job(
        quoted_on=A_DAY,
        artworks=(artwork,),
        lines=(GarmentLine(key="g1"),),
        prints=(Print(key="p1", artwork="a1", line="g1", width_mm=WIDTH_MM),),
    )
    rig.desk.open(job, {artwork.sha256: data}, None)
    rig.window.pages.setCurrentWidget(rig.window.closer)
    rig.settle(qtbot)


def form_for(rig: Rig, way: str) -> MendForm:
    form = rig.window.closer.open_mending()
    assert form is not None
    form.choose(way)
    return form


def mend(rig: Rig, qtbot: QtBot, form: MendForm) -> FixStep:
    click(form.mend)
    rig.settle(qtbot)
    return rig.desk.job.artwork("a1").fixes[-1]


def test_knocking_out_goes_from_the_edges_or_everywhere(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.on_ground(samples.logo(), (255, 255, 255))))
    form = form_for(rig, "Knock out a colour")
    form.colour.setCurrentIndex(form.colours.index("#ffffff"))
    form.reach.setCurrentIndex(1)
    typed(form.tolerance, "6")
    assert mend(rig, qtbot, form) == KnockOut(colour="#ffffff", tolerance_de=6, from_edges=False)
    facts = rig.window.gallery.facts(rig.desk.job)["a1"]
    assert facts.has_alpha
    assert facts.ground is None
    rig.desk.undo_stack.undo()
    rig.settle(qtbot)
    assert rig.desk.job.artwork("a1").fixes == ()
    assert rig.window.gallery.facts(rig.desk.job)["a1"].ground is not None


def test_figures_are_typed_at_print_size(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.logo()))
    form = form_for(rig, "Thicken strokes")
    typed(form.amount, "0.5 mm")
    assert mend(rig, qtbot, form) == Thicken(by_px=0.5 * PX_PER_MM)
    form = form_for(rig, "Outline")
    typed(form.amount, "1 mm")
    typed(form.to, "#10a020")
    assert mend(rig, qtbot, form) == OutlineInk(by_px=PX_PER_MM, colour="#10a020")
    # The motif keeps its printed size: the outline is added around it.
    assert rig.desk.job.print_of("p1").width_mm == pytest.approx(WIDTH_MM + 2)
    assert rig.window.closer.steps.text() == "Mended: thicken by 0.50 mm, then outline 1.00 mm, green"
    click(rig.window.closer.take_back)
    rig.settle(qtbot)
    assert [fix.step for fix in rig.desk.job.artwork("a1").fixes] == ["thicken"]


def test_a_figure_out_of_range_is_said_and_nothing_mended(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.logo()))
    form = form_for(rig, "Thicken strokes")
    typed(form.amount, "40 mm", end=None)
    click(form.mend)
    assert form.amount.is_wrong
    assert rig.desk.job.artwork("a1").fixes == ()


def test_a_flat_colour_is_exchanged_and_measured_again(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.logo()))
    form = form_for(rig, "Exchange a colour")
    blue = next(hex_ for hex_ in form.colours if hex_.startswith("#14"))
    form.colour.setCurrentIndex(form.colours.index(blue))
    typed(form.to, "#0a7d3c")
    assert mend(rig, qtbot, form) == Recolour(colour=blue, to="#0a7d3c")
    colours = {colour.hex for colour in rig.window.gallery.facts(rig.desk.job)["a1"].colours}
    assert "#0a7d3c" in colours
    assert blue not in colours


def test_fades_are_halftoned_or_hardened(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.with_shadow(samples.logo(), 20)))
    assert rig.window.gallery.facts(rig.desk.job)["a1"].soft
    form = form_for(rig, "Halftone the fades")
    typed(form.lines, "25")
    step = mend(rig, qtbot, form)
    assert isinstance(step, Halftone)
    assert step.cell_px == pytest.approx(PX_PER_MM * 25.4 / 25)
    assert not rig.window.gallery.facts(rig.desk.job)["a1"].soft
    rig.desk.undo_stack.undo()
    rig.settle(qtbot)
    form = form_for(rig, "Harden soft edges")
    typed(form.threshold, "30")
    assert mend(rig, qtbot, form) == HardenEdges(threshold=76)
    assert not rig.window.gallery.facts(rig.desk.job)["a1"].soft


def test_a_turned_print_keeps_the_motif_as_large(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.logo()))
    mend(rig, qtbot, form_for(rig, "Turn by 90°"))
    assert rig.desk.job.artwork("a1").size_px == (400, 600)
    assert rig.desk.job.print_of("p1").width_mm == pytest.approx(WIDTH_MM * 400 / 600)


def test_steps_are_made_again_on_a_replaced_file(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.on_ground(samples.logo(), (255, 255, 255))))
    form = form_for(rig, "Knock out a colour")
    form.colour.setCurrentIndex(form.colours.index("#ffffff"))
    step = mend(rig, qtbot, form)
    larger = samples.encoded(samples.on_ground(samples.logo(1200, 800), (255, 255, 255)))
    rig.answers.files = (png_in(tmp_path, "larger.png", larger),)
    rig.window.door.replace("a1")
    rig.settle(qtbot)
    assert rig.desk.job.artwork("a1").fixes == (step,)
    facts = rig.window.gallery.facts(rig.desk.job)["a1"]
    assert facts.width_px == 1200
    assert facts.ground is None


def seen(rig: Rig, x_mm: float, y_mm: float) -> str:
    """Colour on the canvas at a place of the print."""
    canvas = rig.window.closer.canvas
    at = canvas.mapFromScene(x_mm, y_mm)
    image: QImage = canvas.viewport().grab().toImage()
    return image.pixelColor(at).name()


def test_the_slider_shows_the_same_place_before_and_after(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.on_ground(samples.logo(), (250, 240, 10))))
    form = form_for(rig, "Knock out a colour")
    form.colour.setCurrentIndex(form.colours.index("#faf00a"))
    mend(rig, qtbot, form)
    closer = rig.window.closer
    assert closer.slider.isVisible()
    assert closer.slider.value() == 50
    assert seen(rig, 2, 2) == "#faf00a"
    assert seen(rig, WIDTH_MM - 2, 2) == rig.desk.job.line("g1").colour.hex
    closer.slider.setValue(0)
    assert seen(rig, 2, 2) == rig.desk.job.line("g1").colour.hex


def test_what_only_frames_the_picture_has_nothing_to_compare(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.logo()))
    mend(rig, qtbot, form_for(rig, "Trim"))
    assert not rig.window.closer.slider.isVisible()
    assert rig.window.closer.steps.isVisible()


def test_the_form_closes_with_escape(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, samples.encoded(samples.logo()))
    form = form_for(rig, "Outline")
    QTest.keyClick(form.way, Qt.Key.Key_Escape)
    assert not any(frame.isVisible() for frame in rig.window.findChildren(Popover))


GROUND = "#faf00a"
RING = "#fadc3c"


def ground_tried(rig: Rig, qtbot: QtBot) -> MendForm:
    """The form, knocking out a yellow ground near to the yellow of the badge; nothing mended yet."""
    open_logo(rig, qtbot, samples.encoded(samples.on_ground(samples.logo(), (250, 240, 10))))
    form = form_for(rig, "Knock out a colour")
    form.colour.setCurrentIndex(form.colours.index(GROUND))
    form.reach.setCurrentIndex(1)
    typed(form.tolerance, "2", end=None)
    form.try_on()
    rig.settle(qtbot)
    return form


def test_what_is_picked_shows_on_the_cloth_before_it_is_mended(rig: Rig, qtbot: QtBot) -> None:
    form = ground_tried(rig, qtbot)
    cloth = rig.desk.job.line("g1").colour.hex
    closer = rig.window.closer
    assert seen(rig, 2, 2) == cloth
    assert closer.steps.text() == "Tried, not mended yet: knock out yellow everywhere"
    assert not closer.take_back.isVisible()
    assert rig.desk.job.artwork("a1").fixes == ()
    assert rig.desk.undo_stack.count() == 0
    closer.slider.setValue(50)
    assert seen(rig, 2, 2) == GROUND
    assert seen(rig, WIDTH_MM - 2, 2) == cloth
    QTest.keyClick(form.way, Qt.Key.Key_Escape)
    rig.settle(qtbot)
    assert seen(rig, WIDTH_MM - 2, 2) == GROUND
    assert not closer.slider.isVisible()
    assert not closer.steps.isVisible()


def test_a_tolerance_shows_while_it_is_typed(rig: Rig, qtbot: QtBot) -> None:
    form = ground_tried(rig, qtbot)
    cloth = rig.desk.job.line("g1").colour.hex
    assert seen(rig, 25, 33) == RING
    typed(form.tolerance, "30", end=None)
    qtbot.waitUntil(lambda: seen(rig, 25, 33) == cloth)
    typed(form.tolerance, "99", end=None)
    form.try_on()
    rig.settle(qtbot)
    assert seen(rig, 25, 33) == cloth
    assert rig.desk.job.artwork("a1").fixes == ()


def test_what_was_tried_is_what_is_mended(rig: Rig, qtbot: QtBot) -> None:
    form = ground_tried(rig, qtbot)
    assert mend(rig, qtbot, form) == KnockOut(colour=GROUND, tolerance_de=2, from_edges=False)
    assert rig.window.closer.steps.text() == "Mended: knock out yellow everywhere"
    assert seen(rig, WIDTH_MM - 2, 2) == rig.desk.job.line("g1").colour.hex


@pytest.mark.parametrize(
    ("step", "told"),
    [
        (KnockOut(colour="#ffffff", from_edges=False), "knock out white everywhere"),
        (RemoveSpecks(smaller_than_px=6), "remove specks under 0.50 mm"),
        (HardenEdges(threshold=128), "harden edges from 50 %"),
        # 12 px to the millimetre are 304.8 to the inch.
        (Halftone(cell_px=304.8 / 45), "halftone at 45 lines per inch"),
        (Recolour(colour="#000080", to="#ffffff"), "dark blue becomes white"),
        (QuarterTurn(quarters=3), "turn by 270°"),
        (Flip(), "flip"),
    ],
)
def test_steps_are_told_with_their_figures_at_print_size(step: FixStep, told: str) -> None:
    assert words.step_told(step, 12.0) == told


def test_vector_artwork_is_told_to_become_pixels_before_it_does(rig: Rig, qtbot: QtBot) -> None:
    open_logo(rig, qtbot, DRAWING)
    assert rig.desk.job.artwork("a1").stays_vector
    form = form_for(rig, words.OUTLINE)
    assert words.MEND_IN_PIXELS in told_in(form)
    form.choose(words.TURN)
    assert words.MEND_IN_PIXELS not in told_in(form)
    mend(rig, qtbot, form)
    assert rig.desk.job.artwork("a1").stays_vector
    mend(rig, qtbot, form_for(rig, words.OUTLINE))
    assert not rig.desk.job.artwork("a1").stays_vector
    assert words.MEND_IN_PIXELS not in told_in(form_for(rig, words.OUTLINE))
    click(rig.window.closer.take_back)
    rig.settle(qtbot)
    assert rig.desk.job.artwork("a1").stays_vector


def told_in(form: MendForm) -> str:
    return " ".join(label.text() for label in form.findChildren(QLabel) if label.isVisibleTo(form))
