"""Where the pictures of a PDF's page stand, read by PDFium."""

from dataclasses import dataclass

from planner.artwork.vectors import PDFIUM

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class PageItems:
    """What a PDF's first page draws itself, in order; what its forms draw inside is not told."""

    pictures: tuple[Matrix, ...]
    """Where each picture or form stands (ISO 32000-1, 8.3.4)."""
    paths: int


def page_items(pdf: bytes) -> PageItems:
    """What PDFium finds on the first page.

    Raises:
        pypdfium2.PdfiumError: this is no PDF with a page.
    """
    import pypdfium2
    from pypdfium2 import raw

    kinds = (raw.FPDF_PAGEOBJ_IMAGE, raw.FPDF_PAGEOBJ_FORM)
    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
        try:
            pictures = tuple(item.get_matrix().get() for item in document[0].get_objects(kinds, max_depth=1))
            paths = len(list(document[0].get_objects((raw.FPDF_PAGEOBJ_PATH,), max_depth=1)))
        finally:
            document.close()
    return PageItems(pictures, paths)
