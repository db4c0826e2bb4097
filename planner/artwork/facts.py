"""What is measured of an artwork once, so that judging it at any size is arithmetic."""

from base64 import b64decode
from enum import StrEnum
from typing import Self

from pydantic import Field, model_validator

from planner.artwork.source import SourceNote
from planner.job.findings import Region
from planner.shop.document import Document

FACTS_VERSION = 6
"""Raised when measuring changes, so that facts kept from before are measured again."""


class Style(StrEnum):
    """What kind of picture it is, by its colours and texture."""

    FLAT = "flat colours"
    GRADIENT = "gradients"
    PHOTOGRAPH = "photograph"


class InkBox(Document):
    """The tight box around everything that prints, in pixels from the top left."""

    left_px: int
    top_px: int
    width_px: int
    height_px: int


class SoftLevel(Document):
    """Semi-transparent ink that fills a square of this side: an edge's ramp narrower than it is left out."""

    wider_than_px: float
    area_px: float
    """Pixels that are partly transparent."""
    regions: tuple[Region, ...] = ()


class Thin(Document):
    """Strokes, or gaps between them, of about one width."""

    width_px: float
    length_px: float
    """Together, along their middle."""
    count: int
    """Places, strokes that hang together counted once."""
    regions: tuple[Region, ...] = ()


class Specks(Document):
    """Isolated bits of ink of about one size."""

    across_px: float
    """The longer side of their box."""
    count: int
    regions: tuple[Region, ...] = ()


class Ground(Document):
    """An opaque ground that reaches all four edges of the ink box."""

    hex: str
    """Its colour, the middle one of a gradient."""
    share: float
    """Of the ink's area."""
    gradient: bool = False


class MainColour(Document):
    """One of the colours that most of the ink is in."""

    hex: str
    share: float
    """Of the ink's area."""
    edge_share: float
    """Of the ink that borders on cloth."""
    regions: tuple[Region, ...] = ()


class SolidLevel(Document):
    """Unbroken ink that fills a square of this side."""

    side_px: float
    area_px: float
    regions: tuple[Region, ...] = ()


class Glance(Document):
    """A few thousand pixels, evenly spread over the picture; no colour in them is mixed."""

    width_px: int = Field(gt=0)
    height_px: int = Field(gt=0)
    rgba: str = Field(repr=False)
    """Base64 of red to alpha, row by row."""

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if len(b64decode(self.rgba, validate=True)) != 4 * self.width_px * self.height_px:
            raise ValueError("The pixels are not as many as the size says.")
        return self


class OutOfSrgb(Document):
    """Colours of the file that sRGB cannot hold, so that they were cut off."""

    share: float = Field(ge=0, le=1)
    """Of what the file shows, before any fix."""
    regions: tuple[Region, ...] = ()
    """None where fixes may have moved the picture."""


class Sharpness(Document):
    """Whether the pixels carry the detail they claim."""

    scale: float = Field(ge=1)
    """How many times it seems to have been enlarged; 1: not."""
    confidence: float = Field(ge=0, le=1)
    """Chance that it was enlarged at all."""


class ArtworkFacts(Document):
    """What was measured of one artwork with its fixes; valid for one `sha256`, page and list of fixes."""

    version: int = FACTS_VERSION
    sha256: str
    width_px: int
    """Of the measured picture. Of vector artwork: at the ppi it was drawn at for measuring."""
    height_px: int
    vector: bool = False
    ink: InkBox | None
    """None: nothing prints."""
    ink_px: float
    """Area of ink, partly transparent pixels counted by their alpha."""
    has_alpha: bool
    rectangle: bool
    """Opaque right to its four straight edges."""
    ground: Ground | None = None
    soft: tuple[SoftLevel, ...] = ()
    strokes: tuple[Thin, ...] = ()
    gaps: tuple[Thin, ...] = ()
    specks: tuple[Specks, ...] = ()
    colours: tuple[MainColour, ...] = ()
    flat_colours: int | None = None
    """How many flat colours it is made of; None: gradients or a photograph."""
    style: Style = Style.FLAT
    solid: tuple[SolidLevel, ...] = ()
    glance: Glance | None = None
    sharpness: Sharpness | None = None
    outline: tuple[tuple[float, float], ...] = ()
    """Corners around all ink as shares of width and height (see `planner.artwork.outline`); none: its box."""
    notes: tuple[SourceNote, ...] = ()
    loose_fonts: tuple[str, ...] = ()
    """Fonts of the file's text that it does not carry, the first few."""
    out_of_srgb: OutOfSrgb | None = None
    """None: as good as nothing."""
