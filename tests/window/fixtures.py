"""Fixtures that open a window and make sure that it leaves nothing running."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from tests.builders import a_job
from tests.window.rig import AtOnce, Rig


@pytest.fixture
def rig(qtbot: QtBot, tmp_path: Path) -> Iterator[Rig]:
    """A window on an empty job; work runs at once."""
    yield from _opened(qtbot, Rig(AtOnce(), tmp_path))


@pytest.fixture
def job_rig(qtbot: QtBot, tmp_path: Path) -> Iterator[Rig]:
    """A window on a small job; work runs at once."""
    job, files = a_job()
    rig = Rig(AtOnce(), tmp_path)
    rig.desk.open(job, files, None)
    yield from _opened(qtbot, rig)


@pytest.fixture
def threaded_rig(qtbot: QtBot, tmp_path: Path) -> Iterator[Rig]:
    """A window on an empty job; work runs on threads, as in the program."""
    yield from _opened(qtbot, Rig(ThreadPoolExecutor(2), tmp_path))


def _opened(qtbot: QtBot, rig: Rig) -> Iterator[Rig]:
    qtbot.addWidget(rig.window)
    rig.window.resize(1280, 800)
    rig.window.show()
    rig.window.activateWindow()
    qtbot.waitExposed(rig.window)
    rig.settle(qtbot)
    yield rig
    rig.close(qtbot)
