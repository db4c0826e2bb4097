"""What garments are made of, as their labels say it."""

from enum import StrEnum
from typing import Self

from pydantic import Field, model_validator

from planner.measures.figures import short
from planner.shop.document import Document


class Fibre(StrEnum):
    """Generic fibre names. Spandex is elastane's US name (16 CFR 303.7; ISO 2076)."""

    COTTON = "cotton"
    POLYESTER = "polyester"
    VISCOSE = "viscose"
    LINEN = "linen"
    WOOL = "wool"
    ACRYLIC = "acrylic"
    NYLON = "nylon"
    SPANDEX = "spandex"
    POLYPROPYLENE = "polypropylene"
    OTHER = "other"


class FibreShare(Document):
    """One fibre of a cloth and its share of the weight."""

    fibre: Fibre
    percent: float = Field(gt=0, le=100)


IRON_LIMIT_C = {0: 0.0, 1: 110.0, 2: 150.0, 3: 200.0}
"""By dots on the care label's iron: the sole plate's hottest (ISO 3758:2012); 0 where it is crossed out."""


class Cloth(Document):
    """A cloth: its fibre mix, and what its makers did to it."""

    fibres: tuple[FibreShare, ...] = (FibreShare(fibre=Fibre.COTTON, percent=100),)
    coated: bool = False
    """Waterproof or otherwise coated: scorches and lets go, test first (common practice)."""
    iron_dots: int | None = Field(default=None, ge=0, le=3)
    """Dots on the care label's iron (ISO 3758): 1 = 110 °C, 2 = 150 °C, 3 = 200 °C; 0 = do not iron."""

    @model_validator(mode="after")
    def _shares_are_whole(self) -> Self:
        together = sum(share.percent for share in self.fibres)
        if not 99 <= together <= 101:
            raise ValueError(f"The fibre mix adds up to {short(together)} %, it must be 100 %.")
        if len({share.fibre for share in self.fibres}) != len(self.fibres):
            raise ValueError("A fibre stands twice in the mix.")
        return self

    def percent_of(self, fibre: Fibre) -> float:
        return next((share.percent for share in self.fibres if share.fibre is fibre), 0.0)


_DARK = 128
"""Mean of a colour's channels below which it is dark."""


class Swatch(Document):
    """A garment colour: its name in the catalogue, and how it looks on screen."""

    name: str = Field(min_length=1, max_length=60)
    hex: str = Field(pattern=r"^#[0-9a-f]{6}$")

    @property
    def rgb(self) -> tuple[int, int, int]:
        return int(self.hex[1:3], 16), int(self.hex[3:5], 16), int(self.hex[5:7], 16)

    @property
    def is_dark(self) -> bool:
        """Whether white shows better on it than black."""
        return sum(self.rgb) / 3 < _DARK
