"""From a story to the bytes of a PDF: pages, footers, bookmarks, document information."""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import cast

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from planner.measures import figures
from planner.paper import fonts, style
from planner.paper.marks import MADE_BY
from planner.paper.paper_canvas import PAGES_FORM, PaperCanvas
from planner.paper.pen import Pen
from planner.plan import wording
from planner.shop.book import PaperSize

# Streams as bytes: spelled out in ASCII, as reportlab does by itself, they are a quarter larger.
rl_config.useA85 = 0


@dataclass(frozen=True, slots=True)
class Imprint:
    """What stands in the footers and in the document information of a paper."""

    title: str
    """Of the job."""
    on: date
    paper: PaperSize
    author: str = ""
    subject: str = ""


def pdf_of(story: Sequence[Flowable], imprint: Imprint) -> bytes:
    """The story as a PDF: fonts embedded, language and title set, the same bytes every time."""
    fonts.register()
    size = style.page_size(imprint.paper)
    buffer = io.BytesIO()
    document = BaseDocTemplate(
        buffer,
        pagesize=(size.width, size.height),
        title=document_title(imprint.subject, imprint.title),
        author=imprint.author or MADE_BY,
        subject=imprint.subject,
        creator=MADE_BY,
        producer=MADE_BY,
        lang=figures.current().locale.replace("_", "-"),
        invariant=1,
        pageCompression=1,
        initialFontName=fonts.REGULAR,
    )
    frame = Frame(
        style.SIDE_MARGIN,
        style.BOTTOM_MARGIN,
        size.content_width,
        size.content_height,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )

    def end(canvas: Canvas, _document: BaseDocTemplate) -> None:
        _draw_footer(cast(PaperCanvas, canvas), size, imprint)

    document.addPageTemplates([PageTemplate(id="paper", frames=[frame], onPageEnd=end)])
    document.build(list(story), canvasmaker=PaperCanvas)
    return buffer.getvalue()


def document_title(subject: str, title: str) -> str:
    """The document's title: what it is, of which job."""
    return " – ".join(part for part in (subject, title) if part)


def _draw_footer(canvas: PaperCanvas, size: style.PageSize, imprint: Imprint) -> None:
    pen = Pen(canvas)
    left, right = style.SIDE_MARGIN, size.width - style.SIDE_MARGIN
    baseline = style.FOOTER_LINE - 12
    pen.line(left, style.FOOTER_LINE, right, style.FOOTER_LINE, width=0.25, colour=style.HAIRLINE)
    dated = wording.day(imprint.on)
    number = f"{canvas.getPageNumber()} / "
    total_width = 14
    pen.text(right - total_width, baseline, number, style.SMALL, colour=style.GREY, align="right")
    canvas.saveState()
    canvas.translate(right - total_width, baseline)
    canvas.doForm(PAGES_FORM)
    canvas.restoreState()
    dated_right = right - total_width - 26
    pen.text(dated_right, baseline, dated, style.SMALL, colour=style.GREY, align="right")
    room = dated_right - left - fonts.width_of(dated, style.SMALL) - style.GUTTER
    name = " · ".join(part for part in (canvas.paper_name, imprint.title) if part)
    pen.text(left, baseline, fonts.fitted(name, room, style.SMALL), style.SMALL, colour=style.GREY)
