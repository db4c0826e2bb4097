"""The main states of the window look as somebody approved them.

`PLANNER_APPROVE_PICTURES=1 python -m pytest tests/pictures` approves what is seen now: look at it first.
"""

import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from PIL import Image, ImageChops
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.plan.demo import demo_job
from planner.shop.document import changed
from planner.window.dress import Dress
from tests.builders import A_DAY
from tests.window.rig import Rig

APPROVED = Path(__file__).parent / "approved"
_COLOURS = 64
_NEAR = 40
"""Steps of 255 by which a channel may be off: few colours are kept, and letters differ by version."""
_MOST_OFF = 0.004
"""Share of pixels that may be further off, such as where a letter moved by one pixel."""


@pytest.fixture
def demo(qtbot: QtBot, tmp_path: Path) -> Iterator[Rig]:
    rig = Rig(ThreadPoolExecutor(1), tmp_path)
    qtbot.addWidget(rig.window)
    rig.window.resize(1280, 800)
    rig.window.show()
    job, files = demo_job(A_DAY)
    rig.window.cabinet.lay(job, dict(files), None)
    for _ in range(3):
        rig.settle(qtbot)
    yield rig
    rig.close(qtbot)


@pytest.fixture(params=["light", "dark"])
def scheme(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[str]:
    """Worn before the window is made: a layout that is dressed anew may lie a pixel lower."""
    dress = next(one for one in qapp.children() if isinstance(one, Dress))
    dress.wear(dark=request.param == "dark")
    yield request.param
    dress.wear(dark=False)


def test_an_empty_window(scheme: str, rig: Rig, tmp_path: Path) -> None:
    _hold_against(rig, f"empty-{scheme}", tmp_path)


@pytest.mark.parametrize("page", ["garments", "sheets", "press"])
def test_the_demo_job(scheme: str, demo: Rig, tmp_path: Path, qtbot: QtBot, page: str) -> None:
    demo.window.pages.setCurrentWidget(getattr(demo.window, page))
    demo.settle(qtbot)
    _hold_against(demo, f"{page}-{scheme}", tmp_path)


def test_a_change_of_mind(scheme: str, demo: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    job = demo.desk.job
    line = job.lines[0]
    sizes = (changed(line.sizes[0], count=40), *line.sizes[1:])
    demo.desk.apply("Change count", edits.change_line(job, line.key, sizes=sizes))
    demo.settle(qtbot)
    _hold_against(demo, f"changed-{scheme}", tmp_path)


def test_pictures_that_differ_are_told_apart(tmp_path: Path) -> None:
    one = Image.new("RGB", (100, 100), "#ffffff")
    other = one.copy()
    other.paste("#000000", (0, 0, 10, 10))
    assert _share_off(one, one) == 0
    assert _share_off(one, other) == pytest.approx(0.01)


def _hold_against(rig: Rig, name: str, folder: Path) -> None:
    focused = QApplication.focusWidget()
    if isinstance(focused, QLineEdit):
        # A blinking cursor is no picture.
        focused.clearFocus()
    seen_file = folder / f"{name}.seen.png"
    rig.window.grab().save(str(seen_file))
    with Image.open(seen_file) as grabbed:
        seen = grabbed.convert("RGB")
    path = APPROVED / f"{name}.png"
    if os.environ.get("PLANNER_APPROVE_PICTURES"):
        path.parent.mkdir(exist_ok=True)
        seen.quantize(_COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
        return
    with Image.open(path) as kept:
        approved = kept.convert("RGB")
    assert seen.size == approved.size
    off = _share_off(approved, seen)
    difference = folder / f"{name}.difference.png"
    if off > _MOST_OFF:
        ImageChops.difference(approved, seen).save(difference)
    assert off <= _MOST_OFF, (
        f"{off:.2%} of “{name}” differ. See {seen_file} and {difference}; if it is meant so, approve: "
        "PLANNER_APPROVE_PICTURES=1 python -m pytest tests/pictures"
    )


def _share_off(approved: Image.Image, seen: Image.Image) -> float:
    """Share of pixels of which a channel is further off than may be."""
    red, green, blue = ImageChops.difference(approved, seen).split()
    worst = ImageChops.lighter(ImageChops.lighter(red, green), blue).histogram()
    return sum(worst[_NEAR + 1 :]) / (seen.width * seen.height)
