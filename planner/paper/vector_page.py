"""PDF artwork put into a sheet PDF as it is: its page as one form object, shared by all copies."""

import io
from dataclasses import dataclass

import pikepdf
from pikepdf import Array, Name, Pdf

Matrix = tuple[float, float, float, float, float, float]

# Clockwise quarter turns of the unit square onto itself, y upwards.
QUARTERS: tuple[Matrix, ...] = (
    (1, 0, 0, 1, 0, 0),
    (0, -1, 1, 0, 0, 1),
    (-1, 0, 0, -1, 1, 1),
    (0, 1, -1, 0, 1, 0),
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


def frame_of(page: pikepdf.Page) -> PageFrame:
    """The frame of a page; what a crop box leaves over beyond the media box is not shown."""
    media = [float(side) for side in page.mediabox]
    crop = [float(side) for side in page.cropbox]
    xs, ys = sorted((media[0], media[2])), sorted((media[1], media[3]))
    crop_xs, crop_ys = sorted((crop[0], crop[2])), sorted((crop[1], crop[3]))
    turned = int(page.obj.get("/Rotate", 0)) // 90 % 4
    return PageFrame(
        max(xs[0], crop_xs[0]), max(ys[0], crop_ys[0]), min(xs[1], crop_xs[1]), min(ys[1], crop_ys[1]), turned
    )


def form_object(pdf: Pdf, source: bytes, page_number: int) -> tuple[pikepdf.Object, PageFrame]:
    """A page of another PDF as a form object of this one, and its frame."""
    with pikepdf.open(io.BytesIO(source)) as other:
        page = other.pages[page_number]
        frame = frame_of(page)
        # Turning is left to the placement; qpdf would reckon it from the trim box, readers show the crop box.
        form = pdf.copy_foreign(page.as_form_xobject(handle_transformations=False))
    form.BBox = Array([frame.left, frame.bottom, frame.right, frame.top])
    form.Subtype = Name.Form
    return form, frame


def frame_in(source: bytes, page_number: int) -> PageFrame:
    """The frame of a page of a PDF file."""
    with pikepdf.open(io.BytesIO(source)) as pdf:
        return frame_of(pdf.pages[page_number])
