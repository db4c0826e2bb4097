"""A job that papers find hard: twelve lines, long and foreign names, many sizes."""

from planner.job.document import Customer, GarmentLine, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import LengthUnit
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.shop.book import PaperSize
from planner.shop.document import changed
from planner.shop.garments import GarmentKind, Location, SizeGroup
from tests.paper.scenes import a_line, a_plan, a_shop, artwork, choir_inks, choir_job, logo, photograph

COLOURS = (
    ("black", "#141414"),
    ("white", "#ffffff"),
    ("signal orange with a long name", "#e8601c"),
    ("forest", "#1f4a2c"),
)
KINDS = tuple(GarmentKind)
PLACES = {
    GarmentKind.TOTE: Location.TOTE_FRONT,
    GarmentKind.CAP: Location.CAP_FRONT,
    GarmentKind.LEGGINGS: Location.LEG,
}
SIZES = ("XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL", "4XL", "5XL", "LT", "XLT")


def big_lines() -> tuple[GarmentLine, ...]:
    lines = []
    for at in range(12):
        kind = KINDS[at % len(KINDS)]
        one_size = kind in (GarmentKind.TOTE, GarmentKind.CAP)
        sizes = {"one size": 140} if one_size else {size: 3 + 7 * at % 31 for size in SIZES}
        lines.append(
            a_line(
                f"line{at}",
                style=f"Heavyweight organic {kind.value} with a rather long catalogue name {at + 1}",
                kind=kind,
                colour=COLOURS[at % len(COLOURS)],
                sizes=sizes,
                group=SizeGroup.ONE_SIZE if one_size else SizeGroup.ADULT,
            )
        )
    return tuple(lines)


def big_papers(paper: PaperSize = PaperSize.A4) -> Papers:
    """Twelve lines with a print each and a back print on the first, for a customer in Piraeus."""
    lines = big_lines()
    job = changed(
        choir_job(),
        title="Χειμερινή συναυλία · Зимний концерт",
        customer=Customer(
            name="Χορωδία Φώτα του Λιμανιού και Φίλοι της Μουσικής",
            contact="Ольга Щукина",
            address=("Οδός Φάρου 12", "18537 Πειραιάς"),
        ),
        lines=lines,
        prints=(
            *(
                Print(
                    key=f"p{at + 1}",
                    artwork="logo" if at % 2 else "photo",
                    line=line.key,
                    location=PLACES.get(line.kind, Location.FULL_FRONT),
                    width_mm=80 if line.kind in (GarmentKind.CAP, GarmentKind.LEGGINGS) else 250,
                )
                for at, line in enumerate(lines)
            ),
            Print(key="back", artwork="photo", line="line0", location=Location.FULL_BACK, width_mm=300),
        ),
        artworks=(
            artwork("logo", logo(), "Λογότυπο_χορωδίας_τελικό_τελικό_2026-10-31_για_εκτύπωση_v7.png"),
            artwork("photo", photograph(), "гавань ночью.png"),
        ),
    )
    shop = a_shop(paper=paper, unit=LengthUnit.MILLIMETRE, currency="EUR")
    plan = a_plan(job, shop)
    findings = tuple(
        Finding(
            kind=FindingKind.TOO_COARSE,
            seriousness=Seriousness.LOOK,
            artwork="photo",
            print=f"p{at + 1}",
            found=122,
            needed=300,
            best_width_mm=101.6,
        )
        for at in range(0, 12, 2)
    )
    return Papers(job, shop, changed(plan, findings=findings), Pictures(choir_inks()))
