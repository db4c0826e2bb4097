"""The demo: the Harbour Lights community choir orders for its winter concert. All of it is invented."""

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal

from planner.artwork.read import artwork_from, import_artwork
from planner.job.document import Artwork, Customer, GarmentLine, GroupWidth, Job, Print, SizeCount
from planner.measures.lengths import MM_PER_INCH
from planner.shop.cloth import Cloth, Fibre, FibreShare, Swatch
from planner.shop.garments import GarmentKind, HardPart, Location, SizeGroup
from planner.shop.resources import resource

_FILES = {
    "a1": "choir-logo.png",
    "a2": "harbour-at-night.jpg",
    "a3": "sleeve-mark.png",
    "a4": "poster-from-chat.jpg",
}


def demo_job(quoted_on: date) -> tuple[Job, Mapping[str, bytes]]:
    """The demo job quoted on a day, and its artwork's bytes by SHA-256."""
    files = {key: resource("demo", name).read_bytes() for key, name in _FILES.items()}
    artworks = tuple(_artwork(key, data) for key, data in files.items())
    job = Job(
        title="Winter concert",
        customer=Customer(
            name="Harbour Lights community choir",
            contact="The wardrobe desk",
            address=("Old Net Loft, Quay Street",),
        ),
        quoted_on=quoted_on,
        due=_working_day(quoted_on + timedelta(days=23)),
        note=(
            "The concert is a week after the dress rehearsal: delivery for the rehearsal is hoped for, "
            f"{_working_day(quoted_on + timedelta(days=30)):%d %B %Y} is the last day."
        ),
        artworks=artworks,
        lines=_lines(),
        prints=_prints(),
        offer="film-sheet",
    )
    return job, {artwork.sha256: files[artwork.key] for artwork in artworks}


def _artwork(key: str, data: bytes) -> Artwork:
    return artwork_from(import_artwork(data, _FILES[key]), key)


def _working_day(day: date) -> date:
    return day - timedelta(days=max(0, day.weekday() - 4))


def _lines() -> tuple[GarmentLine, ...]:
    return (
        GarmentLine(
            key="g1",
            style="Hooded sweatshirt, 280 g",
            kind=GarmentKind.HOODIE,
            colour=Swatch(name="brick", hex="#8e3b2f"),
            cloth=Cloth(
                fibres=(
                    FibreShare(fibre=Fibre.COTTON, percent=80),
                    FibreShare(fibre=Fibre.POLYESTER, percent=20),
                ),
                iron_dots=2,
            ),
            sizes=_counts(S=4, M=9, L=8, XL=4, surcharged={"2XL": 2}),
            blank_cost=Decimal("13.80"),
            hard_parts=(HardPart.POUCH_POCKET,),
        ),
        GarmentLine(
            key="g2",
            style="Cotton T-shirt, 180 g",
            colour=Swatch(name="black", hex="#1c1c1e"),
            cloth=Cloth(fibres=(FibreShare(fibre=Fibre.COTTON, percent=100),), iron_dots=2),
            sizes=(
                SizeCount(size="YM", count=6, group=SizeGroup.YOUTH, body_width_mm=420, body_length_mm=580),
                *_counts(S=8, M=14, L=11, XL=5),
            ),
            blank_cost=Decimal("3.60"),
        ),
        GarmentLine(
            key="g3",
            style="Cotton tote bag, 140 g",
            kind=GarmentKind.TOTE,
            colour=Swatch(name="natural", hex="#e8dfc9"),
            cloth=Cloth(fibres=(FibreShare(fibre=Fibre.COTTON, percent=100),), iron_dots=3),
            sizes=(
                SizeCount(
                    size="one size",
                    count=30,
                    group=SizeGroup.ONE_SIZE,
                    body_width_mm=380,
                    body_length_mm=420,
                ),
            ),
            blank_cost=Decimal("1.90"),
        ),
    )


_BODY_MM = {"S": (460, 700), "M": (510, 730), "L": (560, 750), "XL": (610, 780), "2XL": (660, 800)}


def _counts(surcharged: Mapping[str, int] | None = None, **counts: int) -> tuple[SizeCount, ...]:
    return tuple(
        SizeCount(
            size=size,
            count=count,
            surcharge=Decimal("2.00") if size in (surcharged or {}) else Decimal(0),
            body_width_mm=_BODY_MM[size][0],
            body_length_mm=_BODY_MM[size][1],
        )
        for size, count in {**counts, **(surcharged or {})}.items()
    )


def _prints() -> tuple[Print, ...]:
    def inches(width_in: float) -> float:
        return width_in * MM_PER_INCH

    return (
        Print(key="p1", artwork="a1", line="g1", location=Location.LEFT_CHEST, width_mm=inches(3.5)),
        Print(key="p2", artwork="a2", line="g1", location=Location.FULL_BACK, width_mm=inches(11)),
        Print(
            key="p3",
            artwork="a1",
            line="g2",
            location=Location.FULL_FRONT,
            width_mm=inches(10.5),
            group_widths=(GroupWidth(group=SizeGroup.YOUTH, width_mm=inches(8)),),
        ),
        Print(key="p4", artwork="a3", line="g2", location=Location.LEFT_SLEEVE, width_mm=inches(2.5)),
        Print(key="p5", artwork="a4", line="g3", location=Location.TOTE_FRONT, width_mm=inches(8)),
    )
