"""reportlab's canvas with what papers keep track of while their pages are made."""

from typing import Any

from reportlab.pdfgen.canvas import Canvas

from planner.paper import fonts, style

PAGES_FORM = "pages"
"""A form drawn in every footer; how many pages there are is known at the end only and filled in then."""


class PaperCanvas(Canvas):
    """Knows which paper the current page belongs to, and writes the number of pages at the end."""

    def __init__(self, *arguments: Any, **more: Any) -> None:
        super().__init__(*arguments, **more)
        self.paper_name = ""
        self._bookmarks = 0

    def start_paper(self, name: str, bookmark: str, level: int) -> None:
        """From here on pages belong to this paper; readers list it under `bookmark`."""
        self.paper_name = name
        self._bookmarks += 1
        key = f"part-{self._bookmarks}"
        self.bookmarkPage(key)
        self.addOutlineEntry(fonts.printable(bookmark), key, level, closed=False)

    def save(self) -> None:
        self.beginForm(PAGES_FORM)
        self.setFont(fonts.REGULAR, style.SMALL)
        self.setFillColor(style.GREY)
        self.drawString(0, 0, str(self.getPageNumber() - 1))
        self.endForm()
        super().save()
