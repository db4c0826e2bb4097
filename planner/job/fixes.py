"""Fixes chosen for an artwork: steps in order, applied to the decoded picture, never to the file."""

from typing import Annotated, Literal

from pydantic import Field

from planner.shop.document import Document

MOST_THICKEN_PX = 200.0
MOST_OUTLINE_PX = 500.0

Hex = Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")]


class Trim(Document):
    """Keep this box of the picture, in pixels of the step before."""

    step: Literal["trim"] = "trim"
    left_px: int = Field(ge=0)
    top_px: int = Field(ge=0)
    width_px: int = Field(gt=0)
    height_px: int = Field(gt=0)


class KnockOut(Document):
    """Make a colour transparent, from the edges inwards or everywhere."""

    step: Literal["knock out"] = "knock out"
    colour: Hex
    tolerance_de: float = Field(default=10, ge=0, le=100)
    """CIEDE2000."""
    from_edges: bool = True


class RemoveSpecks(Document):
    """Remove isolated specks smaller than this many pixels across."""

    step: Literal["remove specks"] = "remove specks"
    smaller_than_px: float = Field(gt=0)


class HardenEdges(Document):
    """Make semi-transparent pixels either solid or clear."""

    step: Literal["harden edges"] = "harden edges"
    threshold: int = Field(default=128, ge=1, le=255)


class Halftone(Document):
    """Turn semi-transparent areas into solid dots."""

    step: Literal["halftone"] = "halftone"
    cell_px: float = Field(gt=1)
    angle_deg: float = 45


class Thicken(Document):
    """Grow the ink outwards by this many pixels, in its own colour."""

    step: Literal["thicken"] = "thicken"
    by_px: float = Field(gt=0, le=MOST_THICKEN_PX)


class OutlineInk(Document):
    """Put a line of one colour around the ink."""

    step: Literal["outline"] = "outline"
    by_px: float = Field(gt=0, le=MOST_OUTLINE_PX)
    colour: Hex


class Recolour(Document):
    """Exchange one flat colour for another."""

    step: Literal["recolour"] = "recolour"
    colour: Hex
    to: Hex
    tolerance_de: float = Field(default=10, ge=0, le=100)


class Flip(Document):
    """Mirror left to right."""

    step: Literal["flip"] = "flip"


class QuarterTurn(Document):
    """Turn clockwise by quarter turns."""

    step: Literal["turn"] = "turn"
    quarters: int = Field(default=1, ge=1, le=3)


FRAMING = (Trim, Flip, QuarterTurn)
"""Fixes that move or cut the picture and change no ink."""

FixStep = Annotated[
    Trim
    | KnockOut
    | RemoveSpecks
    | HardenEdges
    | Halftone
    | Thicken
    | OutlineInk
    | Recolour
    | Flip
    | QuarterTurn,
    Field(discriminator="step"),
]
