"""Jobs, plans and pictures for the sheets panel, made without files."""

from datetime import date
from functools import lru_cache
from math import pi, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPolygonF

from planner.buying.purchase import Order, PieceOrder, Purchase
from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.job.pieces import needed_pieces
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.plan.model import Missing, Plan
from planner.pricing.costs import Costs
from planner.pricing.quote import Quote
from planner.shop.book import Shop
from planner.shop.cloth import Swatch
from planner.shop.garments import Location
from planner.shop.starting import starting_shop

OFFER = "film-sheet"
SHEET = Size(11.5 * 25.4, 18 * 25.4)
_INKS = ("#d8c24a", "#e9e6df", "#5aa3a0", "#b4553f", "#2c4a6e", "#8e7bb0")
_CLOTHS = (("navy", "#1f2a44"), ("sand", "#d9cbb0"), ("white", "#ffffff"), ("black", "#1b1b1c"))


def a_shop() -> Shop:
    return starting_shop()


def a_job(artworks: int = 3, copies: int = 4) -> Job:
    """A job with that many artworks, each printed on one of four garment lines."""
    lines = tuple(
        GarmentLine(
            key=f"g{at + 1}",
            style="Heavy tee",
            colour=Swatch(name=name, hex=hex_),
            sizes=(SizeCount(size="M", count=copies),),
        )
        for at, (name, hex_) in enumerate(_CLOTHS[: max(1, min(4, artworks))])
    )
    places = tuple(Location)
    made = tuple(
        Artwork(
            key=f"a{at + 1}",
            name=f"lantern-{at + 1}.png",
            sha256=f"{at:064x}",
            width_px=900 + 150 * (at % 4),
            height_px=600 + 90 * (at % 5),
        )
        for at in range(artworks)
    )
    prints = tuple(
        Print(
            key=f"p{at + 1}",
            artwork=f"a{at + 1}",
            line=lines[at % len(lines)].key,
            location=places[at % 4],
            width_mm=(70, 88.9, 50.8, 110, 63.5)[at % 5],
        )
        for at in range(artworks)
    )
    return Job(quoted_on=date(2026, 11, 2), lines=lines, artworks=made, prints=prints, offer=OFFER)


def placed(print_: str, x_mm: float, y_mm: float, width_mm: float = 60, height_mm: float = 40) -> Placement:
    return Placement(print_, x_mm, y_mm, width_mm, height_mm)


def arranged(job: Job, shop: Shop) -> tuple[Layout, ...]:
    """The job's pieces in rows on sheets of the offer: plain, but nothing in anything's way."""
    offer = shop.offer(OFFER)
    assert offer is not None
    gap, margin = offer.gap_mm, offer.margin_mm
    sheets: list[list[Placement]] = [[]]
    x = y = margin
    row_mm = 0.0
    for piece in needed_pieces(job):
        wide, high = piece.size.width_mm, piece.size.height_mm
        for _ in range(piece.count):
            if x + wide > SHEET.width_mm - margin:
                x, y, row_mm = margin, y + row_mm + gap, 0.0
            if y + high > SHEET.height_mm - margin:
                sheets.append([])
                x, y, row_mm = margin, margin, 0.0
            sheets[-1].append(Placement(piece.key, x, y, wide, high))
            x, row_mm = x + wide + gap, max(row_mm, high)
    return tuple(Layout(SHEET, tuple(placements)) for placements in sheets if placements)


def a_plan(*layouts: Layout, missing: tuple[Missing, ...] = (), provisional: bool = False) -> Plan:
    """A plan that buys these layouts at the one offer; without any, no purchase."""
    counts: dict[str, int] = {}
    for layout in layouts:
        for placement in layout.placements:
            counts[placement.print] = counts.get(placement.print, 0) + layout.runs
    pieces = tuple(PieceOrder(piece=key, need=n, spares=0, ordered=n) for key, n in counts.items())
    order = Order(offer=OFFER, layouts=layouts, pieces=pieces, provisional=provisional)
    return _empty_plan().model_copy(
        update={"purchase": Purchase(orders=(order,)) if layouts else None, "missing": missing}
    )


def _empty_plan() -> Plan:
    quote = Quote.model_construct()
    return Plan.model_construct(
        findings=(), decided=(), purchase=None, costs=Costs(currency="USD", pieces=0), quote=quote, missing=()
    )


@lru_cache(maxsize=400)
def picture(artwork: str, most_px: int) -> QImage:
    """A lantern over waves in the artwork's own colours, clear around it."""
    number = int(artwork[1:])
    wide, high = 900 + 150 * ((number - 1) % 4), 600 + 90 * ((number - 1) % 5)
    scale = most_px / max(wide, high)
    image = QImage(round(wide * scale), round(high * scale), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(image.width() / 100, image.height() / 100)
    painter.setPen(Qt.PenStyle.NoPen)
    for wave in range(3):
        painter.setBrush(QColor(_INKS[(number + wave) % len(_INKS)]))
        top = [
            QPointF(x, 62 + 11 * wave + 4 * sin(x / 100 * 2 * pi * (2 + number % 3))) for x in range(2, 99)
        ]
        painter.drawPolygon(QPolygonF([*top, QPointF(98, 98), QPointF(2, 98)]))
    painter.setBrush(QColor(_INKS[number % len(_INKS)]))
    painter.drawEllipse(QPointF(50, 32), 13 + number % 7, 26)
    painter.setBrush(QColor(_INKS[(number + 3) % len(_INKS)]))
    painter.drawRect(QRectF(40, 3, 20, 6))
    painter.drawRect(QRectF(42, 55, 16, 5))
    painter.end()
    return image
