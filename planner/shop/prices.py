"""Price tables of transfer printers, declared so that a shop can type in any printer's sheet.

A break counts from its own figure on: breaks (1, 9.00), (12, 7.50), (24, 6.00) mean that 12 to 23
cost 7.50 each, both included. Amounts are in the shop's currency.
"""

import itertools
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from planner.measures.geometry import Size
from planner.shop.document import Document

Amount = Annotated[Decimal, Field(ge=0)]


class Break(Document):
    """From this many on, each costs this much."""

    from_count: Decimal = Field(ge=0)
    each: Amount


class Breaks(Document):
    """A stepped price: breaks in rising order."""

    steps: tuple[Break, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _steps_rise(self) -> Self:
        counts = [step.from_count for step in self.steps]
        if any(later <= earlier for earlier, later in itertools.pairwise(counts)):
            raise ValueError("Price breaks must rise: each starts at a higher count than the one before.")
        return self

    def each_at(self, count: Decimal | int) -> Decimal:
        """The price of each at this count; below the first break the first price holds."""
        price = self.steps[0].each
        for step in self.steps:
            if count >= step.from_count:
                price = step.each
        return price


class CountedBy(StrEnum):
    """What a break by number of sheets counts."""

    LAYOUT = "identical layout"
    ORDER = "whole order"


class AreaUnit(StrEnum):
    """The unit a price by area is written in."""

    SQUARE_INCH = "in²"
    SQUARE_CENTIMETRE = "cm²"


class ByArea(Document):
    """Charged by the printed area: each piece's bounding box, as single images or one group."""

    model: Literal["area"] = "area"
    unit: AreaUnit
    breaks: Breaks
    """Price of one unit of area, by the area of the whole order."""
    largest: Size
    """The largest single image or group."""
    minimum_each: Amount = Decimal(0)
    """Least charge for one image."""


class SheetPrice(Document):
    """One sheet size of an offer, and what it costs by number of sheets."""

    size: Size
    breaks: Breaks


class BySheet(Document):
    """Charged by the fixed sheet, with breaks by number of sheets."""

    model: Literal["sheet"] = "sheet"
    sheets: tuple[SheetPrice, ...] = Field(min_length=1)
    counted_by: CountedBy = CountedBy.LAYOUT
    set_up_each_layout: Amount = Decimal(0)


class ByLength(Document):
    """Charged by the started step of a roll's length, with breaks by the number of steps."""

    model: Literal["length"] = "length"
    width_mm: float = Field(gt=0)
    longest_mm: float = Field(gt=0)
    step_mm: float = Field(gt=0)
    breaks: Breaks
    """Price of one step, by the number of steps in the order."""


class PieceRow(Document):
    """Pieces up to a size with up to so many colours, and what each costs by quantity."""

    largest: Size
    most_colours: int = Field(ge=1)
    breaks: Breaks


class ByPiece(Document):
    """Charged by the piece, by quantity of one design and its number of colours, with set-up by colour."""

    model: Literal["piece"] = "piece"
    rows: tuple[PieceRow, ...] = Field(min_length=1)
    set_up_each_colour: Amount = Decimal(0)


PriceTable = Annotated[ByArea | BySheet | ByLength | ByPiece, Field(discriminator="model")]
