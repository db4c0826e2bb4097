"""How long a frame of the canvas takes while one of 500 pieces is dragged.

The yardstick is the same scene of plain rectangles in a plain view, moved by the same steps in the same run:
`python -m tests.bench.canvas [--json OUT]`. Offscreen unless QT_QPA_PLATFORM says otherwise.
"""

import argparse
import os
import statistics
import time
from collections.abc import Callable, Sequence
from math import cos, pi, sin

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPen
from PySide6.QtWidgets import QApplication, QGraphicsRectItem, QGraphicsScene, QGraphicsView

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.outline import Outline
from planner.window.dress import Dress
from planner.window.sheet.moves import Ref
from planner.window.sheet.panel import SheetsPanel
from tests.bench.report import add_json_option, row, show
from tests.window.sheet.setting import OFFER, SHEET, a_job, a_plan, a_shop, picture

SHEETS, PER_SHEET, ARTWORKS = 20, 25, 40
FRAMES = 240
FRAME_MS = 16.0
"""One of sixty a second."""
VIEW_PX = (1280, 860)


def layouts() -> tuple[Layout, ...]:
    """20 sheets of 25 pieces, 40 artworks in turn."""
    cell = Size((SHEET.width_mm - 10) / 5, (SHEET.height_mm - 10) / 5)
    made = []
    for sheet in range(SHEETS):
        placements = []
        for at in range(PER_SHEET):
            number = (sheet * PER_SHEET + at) % ARTWORKS + 1
            x_mm, y_mm = 5 + cell.width_mm * (at % 5), 5 + cell.height_mm * (at // 5)
            placements.append(Placement(f"p{number}", x_mm, y_mm, cell.width_mm - 3, cell.height_mm - 3))
        made.append(Layout(SHEET, tuple(placements)))
    return tuple(made)


def a_panel(way: Way = Way.LOOSE) -> SheetsPanel:
    """500 pieces on show; cut by outline, each has one of 60 corners."""
    panel = SheetsPanel()
    panel.set_picture_source(picture)
    panel.resize(*VIEW_PX)
    job = a_job(ARTWORKS, 13).model_copy(update={"way": way})
    panel.show_plan(job, a_shop(), a_plan(*layouts()))
    if way is Way.OUTLINE:
        size = layouts()[0].placements[0].unturned
        panel.set_outlines({f"p{at + 1}": wavy(size, 3 + at % 4) for at in range(ARTWORKS)})
    panel.show()
    QApplication.processEvents()
    panel.grab()
    return panel


def drag_by_outline(frames: int) -> list[float]:
    """Frames of the same drag where all pieces are cut by outline."""
    panel = a_panel(Way.OUTLINE)
    taken = drag_ours(panel, frames)
    panel.close()
    return taken


def wavy(size: Size, waves: int) -> Outline:
    """A round outline with so many bays."""
    corners = []
    for at in range(60):
        turn = 2 * pi * at / 60
        share = 0.42 + 0.08 * cos(waves * turn)
        corners.append(
            (size.width_mm * (0.5 + share * cos(turn)), size.height_mm * (0.5 + share * sin(turn)))
        )
    return tuple(corners)


def way_of(frame: int) -> QPoint:
    """The hand's way: to and fro over its neighbours, a few pixels a frame."""
    return QPoint(abs(frame * 3 % 180 - 90) - 45, abs(frame * 2 % 120 - 60) - 30)


def timed(step: Callable[[int], None], frames: int) -> list[float]:
    """Milliseconds of each frame: the step, and all painting that follows from it."""
    taken = []
    for frame in range(frames):
        began = time.perf_counter()
        step(frame)
        QApplication.processEvents()
        taken.append((time.perf_counter() - began) * 1000)
    return taken


def mouse(view: QGraphicsView, kind: QEvent.Type, at: QPoint) -> None:
    pressed = Qt.MouseButton.LeftButton
    spot = QPointF(at)
    event = QMouseEvent(
        kind, spot, QPointF(view.mapToGlobal(at)), pressed, pressed, Qt.KeyboardModifier.NoModifier
    )
    QApplication.sendEvent(view.viewport(), event)


def drag_ours(panel: SheetsPanel, frames: int) -> list[float]:
    """Frames while one piece in the middle of the bench is under the hand."""
    canvas = panel.canvas
    piece = panel.bench.piece(OFFER, Ref(8, 12))
    assert piece is not None
    start = canvas.mapFromScene(piece.sceneBoundingRect().center())
    mouse(canvas, QEvent.Type.MouseButtonPress, start)
    taken = timed(lambda frame: mouse(canvas, QEvent.Type.MouseMove, start + way_of(frame)), frames)
    assert canvas.is_dragging
    canvas.take_back()
    return taken


def plain_view(panel: SheetsPanel) -> tuple[QGraphicsView, list[QGraphicsRectItem]]:
    """The same boxes in the same places, each one colour and nothing else."""
    scene = QGraphicsScene()
    for spot in panel.bench.spots:
        scene.addRect(spot.box, QPen(Qt.PenStyle.NoPen), QBrush(QColor("#ffffff")))
    boxes = [
        scene.addRect(piece.boundingRect(), QPen(Qt.PenStyle.NoPen), QBrush(QColor("#1f2a44")))
        for piece in panel.bench.all_pieces()
    ]
    for box, piece in zip(boxes, panel.bench.all_pieces(), strict=True):
        box.setPos(piece.pos())
    view = QGraphicsView(scene)
    scene.setParent(view)
    view.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
    view.resize(panel.canvas.size())
    view.setTransform(panel.canvas.transform())
    view.show()
    QApplication.processEvents()
    return view, boxes


def drag_plain(view: QGraphicsView, box: QGraphicsRectItem, frames: int) -> list[float]:
    start = box.pos()
    scale = view.transform().m11()
    return timed(lambda frame: box.setPos(start + QPointF(way_of(frame)) / scale), frames)


def zoom_ours(panel: SheetsPanel, frames: int) -> list[float]:
    """Frames while the wheel zooms in and out over the middle."""
    at = panel.canvas.viewport().rect().center()
    return timed(lambda frame: panel.canvas.zoom_by(0.25 if frame % 40 < 20 else -0.25, at), frames)


def zoom_plain(view: QGraphicsView, frames: int) -> list[float]:
    def step(frame: int) -> None:
        factor = 1.2 ** (0.25 if frame % 40 < 20 else -0.25)
        view.scale(factor, factor)

    return timed(step, frames)


def pan_ours(panel: SheetsPanel, frames: int) -> list[float]:
    return timed(lambda frame: panel.canvas.pan(6 if frame % 60 < 30 else -6, 2), frames)


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.canvas", description=__doc__)
    add_json_option(parser)
    options = parser.parse_args(arguments)
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    Dress(app).wear(dark=False)
    panel = a_panel()
    view, boxes = plain_view(panel)
    began = time.perf_counter()
    measured = {
        "drag one of 500": (drag_ours(panel, FRAMES), drag_plain(view, boxes[212], FRAMES)),
        "drag by outline": (drag_by_outline(FRAMES), drag_plain(view, boxes[212], FRAMES)),
        "zoom, 500 in view": (zoom_ours(panel, FRAMES), zoom_plain(view, FRAMES)),
    }
    panned = pan_ours(panel, FRAMES)
    seconds = time.perf_counter() - began
    rows = []
    for name, (ours, plain) in measured.items():
        middle, yardstick = statistics.median(ours), statistics.median(plain)
        rows.append(row(name, "median ms a frame", middle, reference=yardstick, seconds=sum(ours) / 1000))
        rows.append(row(name, "frames of 16 ms", middle, reference=FRAME_MS, seconds=sum(ours) / 1000))
        late = statistics.quantiles(ours, n=20)[-1]
        rows.append(row(name, "ms, 95th percentile", late, reference=FRAME_MS, seconds=sum(ours) / 1000))
    rows.append(
        row(
            "pan, 500 in view",
            "frames of 16 ms",
            statistics.median(panned),
            reference=FRAME_MS,
            seconds=seconds,
        )
    )
    show(rows, options.json)


if __name__ == "__main__":
    main()
