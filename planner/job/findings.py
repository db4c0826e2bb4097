"""What checks notice, as kinds and figures; sentences are made in `planner.plan.wording`."""

from enum import StrEnum

from pydantic import Field

from planner.job.seriousness import Seriousness as Seriousness
from planner.shop.document import Document


class FindingKind(StrEnum):
    """Kinds of finding. The values are written into job files with decisions: never rename one."""

    # Artwork at print size.
    TOO_COARSE = "too coarse"
    LOOKS_ENLARGED = "looks enlarged"
    SOFT_EDGES = "soft edges"
    THIN_STROKES = "thin strokes"
    THIN_GAPS = "thin gaps"
    SPECKS = "specks"
    BOX = "box around the motif"
    RECTANGLE = "prints as a rectangle"
    LOW_CONTRAST = "low contrast with the cloth"
    EMPTY_MARGIN = "empty margin"
    HEAVY_AREA = "heavy solid area"
    TOO_MANY_COLOURS = "too many colours"
    OUT_OF_GAMUT = "colours outside sRGB"
    COLOURS_SHIFT = "colours the print cannot hold"
    TEXT_NOT_OUTLINED = "text not outlined"
    CONVERTED = "converted to sRGB"
    EMPTY_ARTWORK = "nothing to print"
    ARTWORK_UNUSED = "artwork on no garment"
    # This print on this cloth with this offer.
    NEEDS_STRETCH = "needs a stretch kind"
    FIBRE_UNSUITED = "fibre unsuited"
    TOO_LITTLE_POLYESTER = "too little polyester"
    NEEDS_LIGHT_CLOTH = "needs light cloth"
    COATED_CLOTH = "coated cloth"
    DYE_MIGRATION = "dye may migrate"
    OVER_IRON_DOTS = "hotter than the care label"
    UNDER_LEAST_PIECES = "under the least order"
    OVER_PLATEN = "larger than the platen"
    TOO_LARGE_FOR_OFFER = "larger than the offer prints"
    WIDER_THAN_USUAL = "wider than usual"
    OVER_GARMENT = "larger than the garment's panel"
    OVER_HARD_PART = "over a hard part"
    PRINTS_TOO_CLOSE = "prints too close"
    # The job.
    LINE_UNPRINTED = "garment line without a print"
    NOT_PLACED = "does not fit a sheet"
    SHEET_FAULT = "pieces in each other's way"
    SHEETS_APART = "pieces apart that must share a sheet"
    PIECE_SHORT = "pieces missing on the sheets"
    LATE = "late"
    UNDER_FLOOR = "margin under the floor"
    RIGHTS = "rights to the artwork"
    CHILDREN = "garment for children"
    OFFER_GONE = "offer no longer in the shop book"
    STOCK_HELD = "left-over transfers in stock"
    STOCK_USED = "transfers from stock"
    STOCK_SHORT = "fewer in stock than counted on"


class Region(Document):
    """A part of an artwork as fractions of its width and height, from the top left."""

    x: float
    y: float
    width: float
    height: float


class Finding(Document):
    """Something a check noticed."""

    kind: FindingKind
    seriousness: Seriousness
    artwork: str | None = None
    print: str | None = None
    line: str | None = None
    offer: str | None = None
    found: float | None = None
    """The figure found; its unit follows from the kind (see the wording)."""
    needed: float | None = None
    """The figure needed, in the same unit."""
    best_width_mm: float | None = None
    """The largest print width that still meets the need, where the finding has one."""
    area_mm2: float | None = Field(default=None, ge=0)
    """How much of the print is concerned, where that is an area."""
    viewing_mm: float | None = Field(default=None, gt=0)
    """From how far such a print is usually looked at, where that bears on how serious it is."""
    difference_de: float | None = Field(default=None, ge=0)
    """CIEDE2000 to the cloth, where colours are compared."""
    on_dark: bool | None = None
    """Whether the cloth is dark, where the print looks otherwise on it."""
    confidence: float | None = Field(default=None, ge=0, le=1)
    offer_open: bool = False
    """Whether no offer is chosen yet: what is needed is then what most transfers need."""
    subject: str = ""
    """What exactly: a fibre's or colour's name, a hard part."""
    detail: str = ""
    """More to be told that makes no other finding of it: cloth that would do, names of fonts."""
    regions: tuple[Region, ...] = ()

    @property
    def id(self) -> str:
        """The same for the same finding after an edit; decisions are kept under it."""
        where = (self.artwork, self.print, self.line, self.offer, self.subject)
        return "|".join((self.kind.value, *(part or "" for part in where)))


class Decision(Document):
    """What a person decided about a finding, and why. Asked again when the figure found changes."""

    finding: str
    reason: str = Field(min_length=1, max_length=400)
    found: float | None = None

    def covers(self, finding: Finding) -> bool:
        return self.finding == finding.id and self.found == finding.found
