"""A PDF page made ready for a sheet: one form object that draws, and nothing that reaches elsewhere.

Made where customers' files are read, so that the program meets only what qpdf wrote anew.
"""

import io
from dataclasses import dataclass
from functools import reduce

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, Page, Pdf, Stream

from planner.artwork import source
from planner.artwork.framing import Framing
from planner.artwork.page_items import Matrix
from planner.artwork.pdf_forms import refuse_endless

# Clockwise quarter turns of the unit square onto itself, y upwards.
QUARTERS: tuple[Matrix, ...] = (
    (1, 0, 0, 1, 0, 0),
    (0, -1, 1, 0, 0, 1),
    (-1, 0, 0, -1, 1, 1),
    (0, 1, -1, 0, 1, 0),
)
UNFRAMED = Framing()
_BEYOND_THE_PAGE = (
    # ISO 32000-1: stream data in another file (7.3.8.2), pages of other files (8.10.4), pictures of a
    # print server (14.11.7), another picture for printing (8.9.5.4), what programs and people noted.
    "/F",
    "/FFilter",
    "/FDecodeParms",
    "/Ref",
    "/OPI",
    "/Alternates",
    "/Metadata",
    "/PieceInfo",
    "/AF",
)


@dataclass(frozen=True, slots=True)
class PageFrame:
    """What a reader shows of a page: its crop box, and how it is turned (ISO 32000-1, 14.11.2, 7.7.3.3)."""

    left: float
    bottom: float
    right: float
    top: float
    quarters: int
    """Clockwise quarter turns for display."""

    @property
    def to_unit_square(self) -> tuple[Matrix, Matrix]:
        """What maps the shown page, upright, on the unit square: to be applied first, and second."""
        width, height = self.right - self.left, self.top - self.bottom
        flat = (1 / width, 0.0, 0.0, 1 / height, -self.left / width, -self.bottom / height)
        return flat, QUARTERS[self.quarters]

    @property
    def upper_left(self) -> tuple[float, float]:
        """The point of the page that is shown at the upper left."""
        return (
            (self.left, self.top),
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
        )[self.quarters]


def form_page(data: bytes, page_number: int, name: str, framing: Framing = UNFRAMED) -> bytes | None:
    """A PDF of one page that draws a form object, `/Form`, and shows what that page of `data` shows.

    A framing is put around it as a second form: nothing inside is touched.

    None where the file hides some of its layers: a sheet knows nothing of them, and would print them all.

    Raises:
        UnreadableArtwork: damaged, without that page, or without end.
    """
    refuse_endless(data, page_number, name)
    with source.reading(name), pikepdf.open(io.BytesIO(data)) as other, Pdf.new() as made:
        if _hides_layers(other):
            return None
        page = other.pages[page_number]
        frame = _frame_of(page)
        # Turning is left to the placement; qpdf would reckon it from the trim box, readers show the crop box.
        form = made.copy_foreign(page.as_form_xobject(handle_transformations=False))
        box = [frame.left, frame.bottom, frame.right, frame.top]
        form.BBox = Array(box)
        form.Subtype = Name.Form
        for item in made.objects:
            if isinstance(item, Stream):
                _keep_drawing_only(item)
        if framing != UNFRAMED:
            form, frame = _framed(made, form, frame, framing)
            box = [frame.left, frame.bottom, frame.right, frame.top]
        shown = Dictionary(
            Type=Name.Page,
            MediaBox=Array(box),
            Rotate=90 * frame.quarters,
            Resources=Dictionary(XObject=Dictionary(Form=form)),
            Contents=made.make_stream(b"/Form Do"),
        )
        made.pages.append(Page(made.make_indirect(shown)))
        written = io.BytesIO()
        made.save(written, deterministic_id=True)
    return written.getvalue()


def _framed(made: Pdf, form: Object, frame: PageFrame, framing: Framing) -> tuple[Object, PageFrame]:
    """A form that shows another one through a window, mirrored and turned; its box cuts off the rest."""
    left, top, across, down = framing.window
    page = (frame.right - frame.left, frame.top - frame.bottom)
    width, height = (page[1], page[0]) if frame.quarters % 2 else page
    width, height = width * across, height * down
    if framing.quarters % 2:
        width, height = height, width
    # On the page's unit square y points upwards.
    steps = (
        *frame.to_unit_square,
        (1 / across, 0.0, 0.0, 1 / down, -left / across, -(1 - top - down) / down),
        (-1.0, 0.0, 0.0, 1.0, 1.0, 0.0) if framing.flipped else QUARTERS[0],
        QUARTERS[framing.quarters],
        (width, 0.0, 0.0, height, 0.0, 0.0),
    )
    figures = " ".join(f"{figure:.12f}" for figure in reduce(_after, steps))
    outer = made.make_stream(
        f"q {figures} cm /Form Do Q".encode(),
        Type=Name.XObject,
        Subtype=Name.Form,
        BBox=Array([0, 0, width, height]),
        Resources=Dictionary(XObject=Dictionary(Form=form)),
    )
    return outer, PageFrame(0.0, 0.0, width, height, 0)


def _after(first: Matrix, then: Matrix) -> Matrix:
    """What both do, one after the other (ISO 32000-1, 8.3.4: row vectors)."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def form_of(pdf: Pdf, form_page: bytes) -> tuple[Object, PageFrame]:
    """The form object of such a page as one of this PDF, and the page's frame."""
    with pikepdf.open(io.BytesIO(form_page)) as other:
        page = other.pages[0]
        return pdf.copy_foreign(page.obj.Resources.XObject.Form), _frame_of(page)


def frame_in(form_page: bytes) -> PageFrame:
    """The frame of such a page."""
    with pikepdf.open(io.BytesIO(form_page)) as pdf:
        return _frame_of(pdf.pages[0])


def _frame_of(page: Page) -> PageFrame:
    """The frame of a page; what a crop box leaves over beyond the media box is not shown."""
    media = [float(side) for side in page.mediabox]
    crop = [float(side) for side in page.cropbox]
    xs, ys = sorted((media[0], media[2])), sorted((media[1], media[3]))
    crop_xs, crop_ys = sorted((crop[0], crop[2])), sorted((crop[1], crop[3]))
    turned = int(page.obj.get("/Rotate", 0)) // 90 % 4
    return PageFrame(
        max(xs[0], crop_xs[0]), max(ys[0], crop_ys[0]), min(xs[1], crop_xs[1]), min(ys[1], crop_ys[1]), turned
    )


def _hides_layers(pdf: Pdf) -> bool:
    """Whether any layer is off, or may be by zoom, language or what is done with the page.

    ISO 32000-1, 8.11.4: `BaseState` and `OFF` of the first configuration, `AS` for what goes by usage.
    """
    layers = pdf.Root.get("/OCProperties")
    if layers is None:
        return False
    shown_first = layers.get("/D")
    if shown_first is None:
        return False
    base = shown_first.get("/BaseState", Name.ON)
    return base != Name.ON or any(len(shown_first.get(key, ())) > 0 for key in ("/OFF", "/AS"))


def _keep_drawing_only(stream: Object) -> None:
    """Take from a stream what refers to anything beside the drawing itself."""
    for key in _BEYOND_THE_PAGE:
        if key in stream:
            del stream[key]
    # ISO 32000-1, 8.8.2: PostScript for the printing machine to run. A form that draws nothing replaces it.
    if "/PS" in stream or "/PS" in (stream.get("/Subtype"), stream.get("/Subtype2")):
        for key in ("/PS", "/Subtype2", "/Level1"):
            if key in stream:
                del stream[key]
        stream.Subtype = Name.Form
        stream.BBox = Array([0, 0, 0, 0])
        stream.write(b"")
