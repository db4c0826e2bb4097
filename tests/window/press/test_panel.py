"""The press panel under a real mouse and real keys."""

from dataclasses import dataclass, field
from datetime import date

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QColor, QImage, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.job.document import Artwork, GarmentLine, GroupWidth, Job, Print, SizeCount
from planner.measures.geometry import Rect
from planner.plan import wording as sentences
from planner.plan.model import Plan
from planner.plan.wording_press import duration
from planner.pressing.calendar_reckoning import reckon_calendar
from planner.pressing.card import Caution
from planner.pressing.cards import press_cards
from planner.pressing.usual import Side
from planner.pressing.work_order import press_work
from planner.shop.book import Shop
from planner.shop.cloth import Cloth, Swatch
from planner.shop.document import changed
from planner.shop.garments import GarmentKind, HardPart, Location, SizeGroup
from planner.shop.starting import starting_shop
from planner.window.press.garment_view import EDGE_PX
from planner.window.press.panel import PressPanel
from tests.builders import A_DAY

LEFT, PLAIN = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
TODAY = date(2026, 11, 2)


def a_job(*locations: Location, kind: GarmentKind = GarmentKind.T_SHIRT, iron_dots: int = 2) -> Job:
    line = GarmentLine(
        key="g1",
        style="Heavy tee",
        kind=kind,
        colour=Swatch(name="navy", hex="#1f2a44"),
        cloth=Cloth(iron_dots=iron_dots),
        sizes=(
            SizeCount(size="M", count=8, body_width_mm=530, body_length_mm=740),
            SizeCount(size="YM", count=3, group=SizeGroup.YOUTH, body_width_mm=420, body_length_mm=560),
        ),
    )
    artwork = Artwork(key="a1", name="lantern.png", sha256="0" * 64, width_px=1200, height_px=800)
    prints = tuple(
        Print(key=f"p{at + 1}", artwork="a1", line="g1", location=place, width_mm=90)
        for at, place in enumerate(locations or (Location.FULL_FRONT,))
    )
    return Job(
        quoted_on=TODAY,
        due=date(2026, 11, 27),
        lines=(line,),
        artworks=(artwork,),
        prints=prints,
        offer="film-sheet",
    )


def a_plan(job: Job, shop: Shop) -> Plan:
    """Only what the panel shows of a plan."""
    work = press_work(job, shop)
    return Plan.model_construct(
        press_cards=press_cards(job, shop),
        press_work=work,
        calendar=reckon_calendar(job, shop, {"film-sheet": 6}, work.total_min, TODAY),
    )


@dataclass
class Room:
    """A panel, and everything it told."""

    panel: PressPanel
    told: list[tuple[str, float, float, SizeGroup, str]] = field(default_factory=list)

    def show(self, job: Job) -> None:
        shop = starting_shop()
        self.panel.show_plan(job, shop, a_plan(job, shop))

    def middle(self) -> QPoint:
        chosen = self.panel.garment.chosen
        assert chosen is not None
        return self.panel.garment.box_of(chosen).boundingRect().center().toPoint()

    def drag(self, by: QPoint) -> None:
        view, start = self.panel.garment, self.middle()
        QTest.mousePress(view, LEFT, PLAIN, start)
        for step in range(1, 6):
            QTest.mouseMove(view, start + by * step / 5)
        QTest.mouseRelease(view, LEFT, PLAIN, start + by)


def picture(artwork: str, most_px: int) -> QImage:
    image = QImage(most_px, most_px * 2 // 3, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(QColor("#d8c24a"))
    return image


@pytest.fixture
def room(qtbot: QtBot) -> Room:
    panel = PressPanel(lambda: A_DAY)
    qtbot.addWidget(panel)
    panel.set_picture_source(picture)
    panel.resize(1280, 760)
    panel.show()
    qtbot.waitExposed(panel)
    made = Room(panel)
    panel.placement_edited.connect(lambda *told: made.told.append(told))
    made.show(a_job())
    return made


def test_a_print_dragged_down_and_aside_is_told_once_in_millimetres(room: Room) -> None:
    frame = room.panel.garment.frame
    assert frame is not None
    before = room.panel.garment.chosen
    assert before is not None
    room.drag(QPoint(60, 45))
    ((key, top_mm, aside_mm, group, _),) = room.told
    assert (key, group) == ("p1", SizeGroup.ADULT)
    half_step = 25.4 / 8
    assert top_mm == pytest.approx(before.top_mm + 45 / frame.scale, abs=half_step + 0.01)
    # Seen from the front, the wearer's left is on the right.
    assert aside_mm == pytest.approx(60 / frame.scale, abs=half_step + 0.01)
    # A hand puts it at the quarter inches of a ruler.
    for mm in (top_mm, aside_mm):
        assert mm / 25.4 * 4 == pytest.approx(round(mm / 25.4 * 4), abs=0.01)


def test_a_drag_with_alt_goes_exactly_where_the_hand_goes(room: Room) -> None:
    view, start = room.panel.garment, QPointF(room.middle())
    frame, before = view.frame, view.chosen
    assert frame is not None
    assert before is not None
    by, alt = QPointF(7, 13), Qt.KeyboardModifier.AltModifier
    none = Qt.MouseButton.NoButton
    for kind, at, button, held in (
        (QEvent.Type.MouseButtonPress, start, LEFT, LEFT),
        (QEvent.Type.MouseMove, start + by, none, LEFT),
        (QEvent.Type.MouseButtonRelease, start + by, LEFT, none),
    ):
        QApplication.sendEvent(view, QMouseEvent(kind, at, view.mapToGlobal(at), button, held, alt))
    assert room.told[0][1] == pytest.approx(before.top_mm + 13 / frame.scale, abs=0.02)
    assert room.told[0][2] == pytest.approx(7 / frame.scale, abs=0.02)


def test_a_print_moved_down_only_stays_aside_where_it_was_typed(room: Room) -> None:
    room.show(edits.place_print(a_job(), "p1", SizeGroup.ADULT, 90, 61))
    room.drag(QPoint(0, 40))
    assert room.told[0][2] == 61


def test_sizes_that_differ_in_place_alone_are_sorted_on_the_card(room: Room) -> None:
    job = edits.place_print(a_job(), "p1", SizeGroup.ADULT, 2 * 25.4, 0)
    room.show(edits.place_print(job, "p1", SizeGroup.YOUTH, 2 * 25.4, 0))
    assert not any("Sort by size" in step for step in room.panel.card.steps)
    room.show(edits.place_print(job, "p1", SizeGroup.YOUTH, 1.5 * 25.4, -25.4))
    adult, youth = room.panel.card.steps[0].split("; ")
    assert adult.startswith("Sort by size. M: 8 at ")
    assert adult.endswith("2 in below collar seam, on the centre line")
    assert youth.startswith("YM: 3 at ")
    assert youth.endswith("1.5 in below collar seam, 1 in to the wearer’s right")


def test_a_group_that_fits_the_platen_is_pressed_once_and_the_card_says_so(room: Room) -> None:
    youth = (GroupWidth(group=SizeGroup.YOUTH, width_mm=90),)
    room.show(edits.change_print(a_job(), "p1", width_mm=600.0, group_widths=youth))
    adult, youth_words = room.panel.card.steps[0].split("; ")
    assert "pressed" not in adult
    assert youth_words.endswith("on the centre line, pressed once")
    assert any(step.startswith("Shift the garment and press for") for step in room.panel.card.steps)


def test_on_the_back_the_wearers_left_is_on_the_left(room: Room) -> None:
    room.show(a_job(Location.FULL_BACK))
    room.drag(QPoint(60, 0))
    assert room.told[0][2] < -20


def test_a_sleeve_print_is_measured_upwards_from_its_hem(room: Room) -> None:
    room.show(a_job(Location.LEFT_SLEEVE))
    before = room.panel.garment.chosen
    assert before is not None
    assert before.measured == "above sleeve hem"
    room.drag(QPoint(-20, -40))
    assert room.told[0][1] > before.top_mm + 10


def test_a_print_nearly_on_the_centre_line_catches_on_it(room: Room) -> None:
    room.drag(QPoint(4, 60))
    assert room.told[0][2] == 0


def test_letting_go_where_it_was_taken_up_tells_nothing(room: Room) -> None:
    QTest.mouseClick(room.panel.garment, LEFT, PLAIN, room.middle())
    assert room.told == []


def test_the_figures_follow_the_hand_and_go_back_with_escape(room: Room) -> None:
    view, start, panel = room.panel.garment, room.middle(), room.panel
    before = (panel.top.text(), panel.aside.text())
    QTest.mousePress(view, LEFT, PLAIN, start)
    QTest.mouseMove(view, start + QPoint(60, 45))
    held = view.chosen
    assert held is not None
    assert panel.top.value == pytest.approx(held.top_mm)
    assert panel.aside.value == pytest.approx(held.aside_mm)
    assert (panel.top.text(), panel.aside.text()) != before
    QTest.keyClick(view, Qt.Key.Key_Escape)
    assert (panel.top.text(), panel.aside.text()) == before
    QTest.mouseRelease(view, LEFT, PLAIN, start)


def test_the_total_tells_hours_and_prints_an_hour(room: Room) -> None:
    # Eleven garments with two prints each at the rates of the starting shop book.
    job = a_job(Location.FULL_FRONT, Location.FULL_BACK)
    room.show(job)
    work = press_work(job, starting_shop())
    by_hand = 60 * 22 / (work.total_min - 15)
    assert f"about {by_hand:.0f} prints an hour" in room.panel.work.total.text()
    assert f"{duration(work.total_min)} at the press" in room.panel.work.total.text()


def test_escape_takes_a_drag_back(room: Room) -> None:
    view, start = room.panel.garment, room.middle()
    before = view.chosen
    QTest.mousePress(view, LEFT, PLAIN, start)
    QTest.mouseMove(view, start + QPoint(50, 50))
    assert view.chosen != before
    QTest.keyClick(view, Qt.Key.Key_Escape)
    QTest.mouseRelease(view, LEFT, PLAIN, start + QPoint(50, 50))
    assert view.chosen == before
    assert room.told == []


def test_arrow_keys_move_the_print_by_a_sixteenth_as_one_step(room: Room) -> None:
    before = room.panel.garment.chosen
    assert before is not None
    room.panel.garment.setFocus()
    QTest.keyClick(room.panel.garment, Qt.Key.Key_Down)
    QTest.keyClick(room.panel.garment, Qt.Key.Key_Down, SHIFT)
    assert room.told[-1][1] == pytest.approx(before.top_mm + 9 * 25.4 / 16, abs=0.02)
    assert len({gesture for *_, gesture in room.told}) == 1


def test_a_typed_distance_is_exact(room: Room) -> None:
    top = room.panel.top
    top.setFocus()
    top.selectAll()
    QTest.keyClicks(top, "70 mm")
    QTest.keyClick(top, Qt.Key.Key_Return)
    assert room.told[0][:3] == ("p1", 70.0, 0.0)


def test_the_garment_is_drawn_at_the_size_chosen(room: Room) -> None:
    frame = room.panel.garment.frame
    assert frame is not None
    wide = 2 * frame.stretch_x * frame.outline.width_mm / 2
    assert wide == pytest.approx(530)
    room.panel.sizes.setCurrentIndex(1)
    room.panel.sizes.activated.emit(1)
    smaller = room.panel.garment.frame
    assert smaller is not None
    assert smaller.stretch_x * smaller.outline.width_mm == pytest.approx(420)
    # Prints keep their true size: 90 mm are 90 mm on both.
    chosen = room.panel.garment.chosen
    assert chosen is not None
    wide_px = room.panel.garment.box_of(chosen).boundingRect().width()
    assert wide_px / smaller.scale == pytest.approx(90, abs=0.5)


def test_every_card_shows_the_cautions(room: Room) -> None:
    room.show(a_job(Location.FULL_FRONT, Location.NAPE))
    for card in ("p1", "p2"):
        room.panel.choose(card)
        said = room.panel.card.cautions.sentences
        for caution in (Caution.BURN, Caution.PINCH, Caution.WHO_WINS, Caution.LOCAL_CODES):
            assert sentences.caution(caution) in said
        assert room.panel.card.cautions.isVisible()


def test_cards_stand_in_the_order_of_work_and_are_chosen_by_a_click(room: Room) -> None:
    room.show(a_job(Location.FULL_FRONT, Location.FULL_BACK, Location.NAPE))
    rows = list(room.panel.work.rows.values())
    assert [row.title.text()[0] for row in rows] == ["1", "2", "3"]
    QTest.mouseClick(rows[2], LEFT)
    assert room.panel.card.title.text().startswith(rows[2].title.text()[3:])


def test_a_press_hotter_than_the_label_is_said_as_a_stop(room: Room) -> None:
    # ISO 3758: one dot is 110 °C, far under a film transfer's 143 °C.
    room.show(a_job(iron_dots=1))
    assert room.panel.card.warning.isVisible()
    room.show(a_job(iron_dots=3))
    assert not room.panel.card.warning.isVisible()


@pytest.mark.parametrize("location", [Location.FULL_FRONT, Location.FULL_BACK])
def test_a_part_that_presses_badly_is_hatched_where_it_lies(room: Room, location: Location) -> None:
    job = a_job(location)
    plain, parts = job.lines[0], (HardPart.CENTRE_SEAM, HardPart.CHEST_POCKET)

    def picture_with(*hard_parts: HardPart) -> QImage:
        room.show(changed(job, lines=(changed(plain, hard_parts=hard_parts),)))
        return room.panel.garment.grab().toImage()

    without, with_parts = picture_with(), picture_with(*parts)
    frame = room.panel.garment.frame
    assert frame is not None
    # A chest pocket is on the front alone, on the wearer's left: at the right of the picture.
    x, y, wide, high = frame.box(Rect(60, 110, 80, 100), Side.FRONT)
    pocket = QRect(round(x), round(y) + EDGE_PX, round(wide), round(high))
    assert (without.copy(pocket) != with_parts.copy(pocket)) is (location is Location.FULL_FRONT)
    assert without != with_parts


def test_the_card_keeps_its_share_of_a_low_page_that_grows_and_shrinks(room: Room, qtbot: QtBot) -> None:
    panel = room.panel

    def share() -> float:
        picture, card = panel.garment.parentWidget(), panel.card.parentWidget()
        assert picture is not None
        assert card is not None
        seen = card.parentWidget()
        assert seen is not None
        return seen.height() / (seen.height() + picture.height())

    panel.resize(640, 280)
    for height in (440, 1200, 640):
        panel.resize(640, height)
        qtbot.waitUntil(lambda: share() == pytest.approx(0.5, abs=0.02), timeout=2000)


def test_without_prints_the_panel_says_what_is_missing(room: Room) -> None:
    room.show(changed(a_job(), prints=()))
    assert not room.panel.garment.isVisible()


def test_times_and_days_are_said_plainly() -> None:
    assert duration(44.6) == "45 min"
    assert duration(200) == "3 h 20 min"


@pytest.mark.parametrize("kind", list(GarmentKind))
def test_every_kind_of_garment_is_drawn(room: Room, kind: GarmentKind) -> None:
    room.show(a_job(kind=kind))
    image = room.panel.garment.grab().toImage()
    frame = room.panel.garment.frame
    assert frame is not None
    x, y = frame.point(frame.outline.width_mm / 4, frame.outline.length_mm * 0.6)
    if kind is not GarmentKind.LEGGINGS:
        assert QColor(image.pixel(QPointF(x, y + EDGE_PX).toPoint())).name() == "#1f2a44"


def test_in_a_narrow_window_the_card_goes_below_the_garment_and_nothing_is_cut(room: Room) -> None:
    panel = room.panel
    panel.resize(640, 460)
    for widget in (panel.garment, panel.top, panel.aside, panel.card.cautions):
        right = widget.mapTo(panel, QPoint(widget.width(), 0)).x()
        assert right <= panel.width()
    assert panel.card.mapTo(panel, QPoint()).y() > panel.garment.mapTo(panel, QPoint()).y()
