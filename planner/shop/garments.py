"""Blank garments the shop buys, and where prints go on them."""

from decimal import Decimal
from enum import StrEnum
from typing import Self

from pydantic import Field, model_validator

from planner.shop.cloth import Cloth, Swatch
from planner.shop.document import Document


class GarmentKind(StrEnum):
    """Cuts of garment that a shop presses."""

    T_SHIRT = "T-shirt"
    HOODIE = "hoodie"
    ZIP_HOODIE = "zip hoodie"
    SWEATSHIRT = "sweatshirt"
    LONG_SLEEVE = "long-sleeve shirt"
    POLO = "polo shirt"
    TOTE = "tote bag"
    CAP = "cap"
    LEGGINGS = "leggings"
    APRON = "apron"
    OTHER = "other"


class Location(StrEnum):
    """Where on a garment a print sits: the trade's names."""

    FULL_FRONT = "full front"
    LEFT_CHEST = "left chest"
    FULL_BACK = "full back"
    NAPE = "nape"
    LEFT_SLEEVE = "left sleeve"
    RIGHT_SLEEVE = "right sleeve"
    CAP_FRONT = "cap front"
    TOTE_FRONT = "tote front"
    LEG = "leg"
    OTHER = "other place"


class SizeGroup(StrEnum):
    """Sizes that share a usual print width."""

    ADULT = "adult"
    YOUTH = "youth"
    INFANT = "infant"
    ONE_SIZE = "one size"


class UsualWidth(Document):
    """How wide prints usually are in one location on one group of sizes, as the shop has it."""

    location: Location
    group: SizeGroup
    least_mm: float = Field(gt=0, le=5000)
    start_mm: float = Field(gt=0, le=5000)
    """The width a new print starts with."""
    most_mm: float = Field(gt=0, le=5000)

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not self.least_mm <= self.start_mm <= self.most_mm:
            raise ValueError(
                "A new print must be no narrower than the narrowest and no wider than the widest."
            )
        return self


MOST_SIZE_LETTERS = 12
"""Of a size's name: what stands above a count."""


class BlankSize(Document):
    """One size of a blank, what it measures flat, and what it costs beside the style's price."""

    size: str = Field(min_length=1, max_length=MOST_SIZE_LETTERS)
    group: SizeGroup = SizeGroup.ADULT
    body_width_mm: float | None = Field(default=None, gt=0)
    body_length_mm: float | None = Field(default=None, gt=0)
    surcharge: Decimal = Decimal(0)


class HardPart(StrEnum):
    """Parts of a garment that keep pressure off a print or must not be pressed."""

    ZIP = "zip"
    POUCH_POCKET = "pouch pocket"
    CHEST_POCKET = "chest pocket"
    CENTRE_SEAM = "centre seam"
    BUTTONS = "buttons"


class Blank(Document):
    """A style of blank garment in the shop book."""

    key: str
    style: str = Field(min_length=1, max_length=80)
    kind: GarmentKind
    cloth: Cloth
    colours: tuple[Swatch, ...]
    sizes: tuple[BlankSize, ...]
    cost: Decimal = Field(ge=0)
    hard_parts: tuple[HardPart, ...] = ()
