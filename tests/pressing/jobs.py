"""Jobs and shop books for the tests of pressing and pricing, built from their parts."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.measures.geometry import Size
from planner.shop.book import Press, Rates, Shop
from planner.shop.cloth import Fibre
from planner.shop.offers import ClothRule, Offer, Peel, PressSetting, Pressure, TransferKind
from planner.shop.prices import Break, Breaks, BySheet, SheetPrice

MONDAY = date(2026, 9, 14)
"""A Monday without a holiday near it."""


def an_offer(key: str = "film", setting_c: float = 143.0, **fields: Any) -> Offer:
    """A gang-sheet offer; press settings as the trade's starting values."""
    press = {"setting_c": setting_c, "press_s": 10, "pressure": Pressure.MEDIUM, "peel": Peel.HOT}
    press |= fields.pop("press", {})
    sheet = SheetPrice(
        size=Size(292.1, 457.2), breaks=Breaks(steps=(Break(from_count=Decimal(1), each=Decimal(6)),))
    )
    return Offer(
        key=key,
        name=f"{key} sheets",
        printer="The Printer of the Harbour",
        kind=TransferKind.FILM_SHEET,
        price=BySheet(sheets=(sheet,)),
        cloth=ClothRule(fibres=(Fibre.COTTON,)),
        press=PressSetting(**press),
        **fields,
    )


def a_press(key: str = "big", width_mm: float = 400, height_mm: float = 500, **fields: Any) -> Press:
    return Press(key=key, name=f"{key} press", platen_width_mm=width_mm, platen_height_mm=height_mm, **fields)


def an_artwork(key: str = "a1", width_px: int = 3000, height_px: int = 3000) -> Artwork:
    return Artwork(key=key, name="anchor.png", sha256="0" * 64, width_px=width_px, height_px=height_px)


def a_line(key: str = "g1", counts: dict[str, int] | None = None, **fields: Any) -> GarmentLine:
    sizes = fields.pop("sizes", None)
    if sizes is None:
        sizes = tuple(SizeCount(size=size, count=n) for size, n in (counts or {"M": 10}).items())
    return GarmentLine(key=key, sizes=sizes, **{"style": "Choir tee", "blank_cost": Decimal("4.10")} | fields)


def a_print(key: str = "p1", width_mm: float = 250, **fields: Any) -> Print:
    return Print(key=key, width_mm=width_mm, **{"artwork": "a1", "line": "g1"} | fields)


def a_job(prints: Sequence[Print] = (), lines: Sequence[GarmentLine] = (), **fields: Any) -> Job:
    return Job(
        prints=tuple(prints) or (a_print(),),
        lines=tuple(lines) or (a_line(),),
        **{"quoted_on": MONDAY, "artworks": (an_artwork(),), "offer": "film"} | fields,
    )


def a_shop(offers: Sequence[Offer] = (), presses: Sequence[Press] = (), **fields: Any) -> Shop:
    return Shop(
        offers=tuple(offers) or (an_offer(),),
        presses=tuple(presses) or (a_press(),),
        **{"rates": Rates()} | fields,
    )
