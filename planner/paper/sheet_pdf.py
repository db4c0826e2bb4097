"""A sheet as a PDF at exact physical size, for the transfer printer.

pikepdf puts the file together instead of reportlab: it takes finished streams as they are (a JPEG's bytes,
deflated rows with prediction), shares one object among all copies, and writes UserUnit and ICC colour
spaces. reportlab decodes and packs every picture anew without prediction and tags no colour space.
"""

import io
import math

from pikepdf import Array, Dictionary, Name, Object, Page, Pdf

from planner.artwork.page_form import QUARTERS, form_of
from planner.artwork.page_items import Matrix
from planner.job.document import Artwork
from planner.measures.lengths import MM_PER_INCH
from planner.paper.file_words import SHEET
from planner.paper.image_streams import ImageStore, image_object, srgb_space
from planner.paper.marks import MADE_BY
from planner.paper.print_sheet import PrintPiece, PrintSheet, dots_of, finest_px

POINTS_PER_INCH = 72
LONGEST_SIDE = 14_400
"""Units; ISO 32000-1, Annex C, Table C.1."""
INSET_DOTS = 0.005
"""Renderers cover every dot that an image touches, and arithmetic makes an exact edge touch the next
dot: poppler, pdfium and Ghostscript then paint a dot more. This much less keeps all three exact."""


def user_unit(width_mm: float, height_mm: float) -> int:
    """How many 1/72 in one unit of the page must be, so that no side exceeds what readers accept."""
    longest_points = max(width_mm, height_mm) / MM_PER_INCH * POINTS_PER_INCH
    return max(1, math.ceil(longest_points / LONGEST_SIDE - 1e-9))


def placement_matrix(piece: PrintPiece, ppi: float, page_height: float, unit_points: float) -> Matrix:
    """The matrix that puts the unit square of an image where the piece lies, in page units, y upwards."""
    per_dot = POINTS_PER_INCH / ppi / unit_points
    box = dots_of(piece, ppi)
    x, width = (box.left + INSET_DOTS) * per_dot, (box.width - 2 * INSET_DOTS) * per_dot
    height = (box.height - 2 * INSET_DOTS) * per_dot
    y = page_height - (box.top + INSET_DOTS) * per_dot - height
    if piece.quarters is not None:
        a, b, c, d, e, f = QUARTERS[piece.quarters]
        return (a * width, b * height, c * width, d * height, x + e * width, y + f * height)
    # At another angle the box is the picture's own turned about the common centre.
    angle = math.radians(-piece.turned_deg)
    per_mm = POINTS_PER_INCH / MM_PER_INCH / unit_points
    own_width, own_height = piece.size.width_mm * per_mm, piece.size.height_mm * per_mm
    along = (own_width * math.cos(angle), own_width * math.sin(angle))
    up = (-own_height * math.sin(angle), own_height * math.cos(angle))
    centre = (x + width / 2, y + height / 2)
    corner = tuple(c - (a + u) / 2 for c, a, u in zip(centre, along, up, strict=True))
    return (*along, *up, *corner)  # type: ignore[return-value]


def sheet_pdf(sheet: PrintSheet, store: ImageStore) -> bytes:
    """The sheet as a one-page PDF: exact size, the same bytes every time."""
    pdf = Pdf.new()
    unit = user_unit(sheet.size.width_mm, sheet.size.height_mm)
    per_mm = POINTS_PER_INCH / MM_PER_INCH / unit
    width, height = sheet.size.width_mm * per_mm, sheet.size.height_mm * per_mm
    space = srgb_space(pdf)
    drawn: dict[str, str] = {}
    objects = Dictionary()
    content = [f"1 g 0 0 {_figure(width)} {_figure(height)} re f"] if sheet.white_ground else []
    if sheet.mirrored:
        content.append(f"-1 0 0 1 {_figure(width)} 0 cm")
    for piece in sheet.pieces:
        key = piece.artwork.key
        if key not in drawn:
            name = f"/Picture{len(drawn) + 1}"
            objects[name], fit = _artwork_object(pdf, sheet, piece.artwork, store, space)
            drawn[key] = f"{fit}{name} Do Q"
        matrix = placement_matrix(piece, sheet.ppi, height, unit)
        content.append(f"q {_matrix(matrix)} cm {drawn[key]}")
    page = Dictionary(
        Type=Name.Page,
        MediaBox=_box(width, height),
        TrimBox=_box(width, height),
        # Alpha is blended in sRGB, whatever the reader would choose (ISO 32000-1, 11.6.6).
        Group=Dictionary(Type=Name.Group, S=Name.Transparency, CS=space, I=True, K=False),
        Resources=Dictionary(XObject=objects),
        Contents=pdf.make_stream("\n".join(content).encode("ascii")),
    )
    if unit > 1:
        page["/UserUnit"] = unit
    pdf.pages.append(Page(pdf.make_indirect(page)))
    pdf.docinfo = pdf.make_indirect(Dictionary(Title=sheet.title or SHEET, Creator=MADE_BY, Producer=MADE_BY))
    buffer = io.BytesIO()
    # UserUnit came with PDF 1.6.
    pdf.save(buffer, min_version="1.6", deterministic_id=True, fix_metadata_version=False)
    return buffer.getvalue()


def _artwork_object(
    pdf: Pdf, sheet: PrintSheet, artwork: Artwork, store: ImageStore, space: Object
) -> tuple[Object, str]:
    """An artwork's one object, and the operators that fit it to the unit square."""
    source = store.inks.vector_page(artwork)
    if source is None:
        return image_object(pdf, store.encoded(artwork, finest_px(sheet, artwork)), space), ""
    form, frame = form_of(pdf, source)
    first, second = frame.to_unit_square
    return form, f"{_matrix(second)} cm {_matrix(first, 12)} cm "


def _matrix(matrix: Matrix, decimals: int = 7) -> str:
    return " ".join(_figure(part, decimals) for part in matrix)


def _figure(value: float, decimals: int = 7) -> str:
    """Seven decimals: on the longest page an error far under a thousandth of a dot."""
    return f"{value:.{decimals}f}".rstrip("0").rstrip(".") or "0"


def _box(width: float, height: float) -> Array:
    return Array([0, 0, round(width, 7), round(height, 7)])
