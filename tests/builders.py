"""Small jobs and shops that tests start from."""

import hashlib
import io
from datetime import date
from decimal import Decimal

from PIL import Image, ImageDraw

from planner.job.document import Artwork, Customer, GarmentLine, Job, Print, SizeCount
from planner.shop.book import Shop
from planner.shop.cloth import Swatch
from planner.shop.garments import Location
from planner.shop.starting import starting_shop

A_DAY = date(2026, 11, 25)


def png_bytes(width_px: int = 900, height_px: int = 600, ink: str = "#d96b2b") -> bytes:
    """A PNG with transparency: an ellipse of one colour that touches all four edges."""
    picture = Image.new("RGBA", (width_px, height_px), (0, 0, 0, 0))
    ImageDraw.Draw(picture).ellipse([0, 0, width_px - 1, height_px - 1], fill=ink)
    buffer = io.BytesIO()
    picture.save(buffer, "PNG")
    return buffer.getvalue()


def an_artwork(
    key: str = "a1", data: bytes | None = None, size_px: tuple[int, int] = (900, 600)
) -> tuple[Artwork, bytes]:
    """An artwork of the job and the bytes behind it."""
    data = png_bytes(*size_px) if data is None else data
    return (
        Artwork(
            key=key,
            name=f"{key}.png",
            sha256=hashlib.sha256(data).hexdigest(),
            width_px=size_px[0],
            height_px=size_px[1],
        ),
        data,
    )


def a_line(key: str = "g1", *, medium: int = 12, large: int = 8, cost: str = "4.00") -> GarmentLine:
    """A line of navy cotton T-shirts in two sizes."""
    return GarmentLine(
        key=key,
        style="Cotton T-shirt",
        colour=Swatch(name="navy", hex="#1f2a44"),
        sizes=(SizeCount(size="M", count=medium), SizeCount(size="L", count=large)),
        blank_cost=Decimal(cost),
    )


def a_job(*, width_mm: float = 76.2, offer: str | None = "film-sheet") -> tuple[Job, dict[str, bytes]]:
    """One line of twenty T-shirts with one print on the left chest, and its artwork's bytes."""
    artwork, data = an_artwork()
    job = Job(
        title="Spring fair",
        customer=Customer(name="Riverside allotments"),
        quoted_on=A_DAY,
        due=date(2026, 12, 18),
        lines=(a_line(),),
        artworks=(artwork,),
        prints=(Print(key="p1", artwork="a1", line="g1", location=Location.LEFT_CHEST, width_mm=width_mm),),
        offer=offer,
    )
    return job, {artwork.sha256: data}


def a_shop() -> Shop:
    """The shop book a new shop starts with."""
    return starting_shop()
