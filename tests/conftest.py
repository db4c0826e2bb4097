"""What all tests share: one way for windows to look, a data folder of their own, nothing left running."""

import gc
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

# Before Qt is loaded.
os.environ["QT_QPA_PLATFORM"] = os.environ.get("PLANNER_TEST_PLATFORM", "offscreen")
os.environ["QT_SCALE_FACTOR"] = "1"
os.environ["LC_ALL"] = "C.UTF-8"

FONT_PX = 13


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Every test that gets a Qt application carries the marker `gui`."""
    for item in items:
        if "qapp" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.gui)


@pytest.fixture(scope="session", autouse=True)
def _own_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """No test reads or writes the shop book and settings of whoever runs it."""
    home = tmp_path_factory.mktemp("user")
    with pytest.MonkeyPatch.context() as patch:
        for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "APPDATA", "LOCALAPPDATA"):
            patch.setenv(name, str(home / name.lower()))
        yield


@pytest.fixture(autouse=True)
def _written_as_in_the_us() -> Iterator[None]:
    """No test writes figures as the shop book of the one before did."""
    yield
    from planner.measures.figures import write_for

    write_for("US")


@pytest.fixture(autouse=True)
def _collect_between_tests(request: pytest.FixtureRequest) -> Iterator[None]:
    """As in the program (`window/tidying.py`): no widget ends while Qt walks through the widgets."""
    if "qapp" not in request.fixturenames:
        yield
        return
    from planner.window.tidying import tidy

    gc.disable()
    yield
    tidy()
    gc.enable()


@pytest.fixture(autouse=True)
def _no_layout_item_is_kept(request: pytest.FixtureRequest) -> Iterator[None]:
    """Python would take the next thing made at the address of an item that Qt has ended for that item."""
    yield
    if "qapp" not in request.fixturenames:
        return
    import shiboken6
    from PySide6.QtWidgets import QSpacerItem, QWidgetItem

    made_by_qt = [
        each
        for each in shiboken6.getAllValidWrappers()
        if isinstance(each, QWidgetItem | QSpacerItem) and not shiboken6.createdByPython(each)
    ]
    assert not made_by_qt, "ask a layout where a widget stands, not for its items"


@pytest.fixture(scope="session")
def qapp(qapp: Any) -> Any:
    """The application dressed as in the program, light, with one font on every machine."""
    from font_source_sans_pro import SourceSansPro, SourceSansProSemibold
    from PySide6.QtCore import QLocale
    from PySide6.QtGui import QFont, QFontDatabase

    from planner.window.dress import Dress

    QLocale.setDefault(QLocale.c())
    for file in (SourceSansPro, SourceSansProSemibold):
        QFontDatabase.addApplicationFont(str(Path(file)))
    font = QFont("Source Sans Pro")
    font.setPixelSize(FONT_PX)
    qapp.setFont(font)
    Dress(qapp).wear(dark=False)
    return qapp
