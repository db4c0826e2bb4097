"""Measures all windows of the demo job at one size of type: `python -m tests.window.measure_access FONT_PX`.

A process of its own, because the whole application is dressed anew. Prints one JSON object.
"""

import json
import sys
import tempfile
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from planner.shop.document import changed
from planner.window.shop.book_window import ShopBookWindow
from tests.pictures.demo_window import DemoWindow
from tests.window import access


def other_windows(demo: DemoWindow) -> Iterator[QWidget]:
    """Every window beside the main one, open, one page after the other."""
    window = demo.window
    openers: tuple[Callable[[], object], ...] = (
        window.book.open,
        window._open_preview,
        window.jobs.open,
        window._open_guide,
    )
    for opener in openers:
        before = {top for top in QApplication.topLevelWidgets() if top.isVisible()}
        opener()
        demo.settle()
        opened = [top for top in QApplication.topLevelWidgets() if top.isVisible() and top not in before]
        assert len(opened) == 1
        pages = opened[0].pages if isinstance(opened[0], ShopBookWindow) else None
        for at in range(pages.count() if pages else 1):
            if pages:
                pages.setCurrentIndex(at)
                demo.settle()
            yield opened[0]
        opened[0].close()


def panels(demo: DemoWindow) -> Iterator[QWidget]:
    """Every panel and page of the main window, shown."""
    window = demo.window
    press_tab(demo)
    yield from (window.bar, window.artwork, window.findings, window.costs, window.foot)
    pages = [window.pages.widget(at) for at in range(window.pages.count())]
    # Offers last: looked at, they go on to reckon other quantities for a while.
    for page in sorted(pages, key=lambda page: page is window.offers):
        window.pages.setCurrentWidget(page)
        demo.settle()
        press_tab(demo)
        yield page


def press_tab(demo: DemoWindow) -> None:
    """The order of Tab is made when somebody tabs."""
    title = demo.window.bar.title
    title.setFocus()
    QTest.keyClick(title, Qt.Key.Key_Tab)


def measured(demo: DemoWindow) -> dict[str, list[str]]:
    """What is wrong with the windows, each page measured while it is shown; "seen" names them."""
    demo.desk.set_shop(changed(demo.desk.shop, search_s=0.2))
    demo.window.arrange()
    demo.settle()
    first = demo.window.bar.title
    found: dict[str, list[str]] = {
        name: [] for name in ("seen", "nameless", "jumps_back", "small_targets", "cut_texts")
    }
    for root in chain(other_windows(demo), panels(demo)):
        found["seen"].append(type(root).__name__)
        found["nameless"] += access.nameless(root)
        found["small_targets"] += access.small_targets(root)
        if root.window() is demo.window:
            found["jumps_back"] += access.jumps_back(root, first)
            found["cut_texts"] += access.cut_texts(root)
    return found


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        demo = DemoWindow(Path(folder), font_px=int(sys.argv[1]))
        found = measured(demo)
        demo.close()
    sys.stdout.write(json.dumps(found))


if __name__ == "__main__":
    main()
