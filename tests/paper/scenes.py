"""Jobs with their plans, small and large, for the tests of papers. All of it is invented."""

import hashlib
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cache

import numpy as np
from PIL import Image

from planner.artwork.decoding import InProcess
from planner.artwork.page_items import PageItems, page_items
from planner.buying.purchase import Order, PieceOrder, PriceLine, Purchase
from planner.job.document import Artwork, Customer, GarmentLine, Job, Print, SizeCount
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.pieces import print_size
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.plan.model import Plan
from planner.pressing.calendar import Calendar, Deadline, Milestone
from planner.pressing.cards import press_cards
from planner.pressing.work_order import press_work
from planner.pricing.costs import CostKind, CostLine, Costs
from planner.pricing.quote import Quote, QuoteLine, QuotePrint
from planner.shop.book import Letterhead, PaperSize, Press, Shop
from planner.shop.cloth import Fibre, Swatch
from planner.shop.document import changed
from planner.shop.garments import GarmentKind, Location, SizeGroup
from planner.shop.offers import ClothRule, Offer, Peel, PressSetting, Pressure, TransferKind
from planner.shop.prices import Break, Breaks, BySheet, SheetPrice

PRINTER = "Quillfeather Transfers"
"""Must never be seen by a customer."""
SECRET_COST = Decimal("417.83")
SECRET_MARGIN = Decimal("46.29")


@cache
def logo(width: int = 900, height: int = 600) -> Image.Image:
    """A disc with rays on a clear ground, with anti-aliased edges and a faint shadow."""
    y, x = np.mgrid[:height, :width].astype(np.float32)
    u, v = (x - width / 2) / (height / 2), (y - height / 2) / (height / 2)
    radius, angle = np.hypot(u, v), np.arctan2(v, u)
    edge = 0.72 + 0.2 * (np.cos(9 * angle) > 0)
    alpha = np.clip((edge - radius) * height / 4, 0, 1)
    shadow = np.clip(1.1 - radius, 0, 1) * 0.25
    pixels = np.empty((height, width, 4), np.uint8)
    pixels[..., 0] = np.where(radius < 0.5, 222, 20)
    pixels[..., 1] = np.where(radius < 0.5, 160, 96)
    pixels[..., 2] = np.where(radius < 0.5, 30, 104)
    pixels[..., 3] = np.round(255 * np.maximum(alpha, shadow))
    return Image.fromarray(pixels)


@cache
def photograph(width: int = 1200, height: int = 900) -> Image.Image:
    """Opaque, smooth with grain, as a camera gives it."""
    grain = np.random.default_rng(7).normal(0, 6, (height, width, 3))
    y, x = np.mgrid[:height, :width].astype(np.float32)
    base = np.stack([120 + 100 * np.sin(x / 170), 90 + 80 * np.cos(y / 110), 160 - 90 * y / height], -1)
    pixels = np.full((height, width, 4), 255, np.uint8)
    pixels[..., :3] = np.clip(base + grain, 0, 255)
    return Image.fromarray(pixels)


class HeldInks:
    """Pictures held in memory."""

    def __init__(self, pictures: Mapping[str, Image.Image], jpegs: Mapping[str, bytes] | None = None) -> None:
        self._pictures, self._jpegs = pictures, jpegs or {}

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        return self._pictures[artwork.key]

    def picture_of_file(self, data: bytes, artwork: Artwork, size_px: tuple[int, int]) -> Image.Image:
        return InProcess().printed(data, artwork, size_px)

    def plain_file(self, artwork: Artwork) -> bytes | None:
        return self._jpegs.get(artwork.key)

    def vector_page(self, artwork: Artwork) -> bytes | None:
        return None

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        return page_items(pdf)


def artwork(key: str, picture: Image.Image, name: str = "") -> Artwork:
    return Artwork(
        key=key,
        name=name or f"{key}.png",
        sha256=hashlib.sha256(picture.tobytes()).hexdigest(),
        width_px=picture.width,
        height_px=picture.height,
    )


def an_offer(key: str = "gang", **fields: object) -> Offer:
    setting = PressSetting(setting_c=143.3, press_s=10, pressure=Pressure.MEDIUM, peel=Peel.HOT)
    steps = (Break(from_count=Decimal(1), each=Decimal("9.00")),)
    price = BySheet(sheets=(SheetPrice(size=Size(292.1, 457.2), breaks=Breaks(steps=steps)),))
    offer = Offer(
        key=key,
        name="Full-colour gang sheet",
        printer=PRINTER,
        kind=TransferKind.FILM_SHEET,
        price=price,
        cloth=ClothRule(fibres=(Fibre.COTTON, Fibre.POLYESTER)),
        press=setting,
    )
    return changed(offer, **fields)


def a_shop(**fields: object) -> Shop:
    shop = Shop(
        letterhead=Letterhead(
            name="Lantern Street Press Room",
            address=("14 Lantern Street", "Millhaven"),
            email="hello@lanternstreet.example",
            phone="555 0142",
            terms=("Half of the total to begin, the rest on delivery.",),
        ),
        presses=(
            Press(key="swing", name="Swing-away 16 × 20 in", platen_width_mm=406, platen_height_mm=508),
        ),
        offers=(an_offer(),),
    )
    return changed(shop, **fields)


def a_line(
    key: str,
    *,
    style: str,
    kind: GarmentKind,
    colour: tuple[str, str],
    sizes: Mapping[str, int],
    group: SizeGroup = SizeGroup.ADULT,
) -> GarmentLine:
    return GarmentLine(
        key=key,
        style=style,
        kind=kind,
        colour=Swatch(name=colour[0], hex=colour[1]),
        sizes=tuple(SizeCount(size=size, count=count, group=group) for size, count in sizes.items()),
        blank_cost=Decimal("4.10"),
    )


def choir_job(**fields: object) -> Job:
    """Harbour Lights: three garment lines, four prints."""
    job = Job(
        title="Harbour Lights winter concert",
        customer=Customer(name="Harbour Lights Community Choir", contact="Odile Marsh"),
        quoted_on=date(2026, 11, 2),
        due=date(2026, 12, 11),
        lines=(
            a_line(
                "tees",
                style="Everyday tee",
                kind=GarmentKind.T_SHIRT,
                colour=("ash grey", "#c9c9c4"),
                sizes={"S": 4, "M": 12, "L": 14, "XL": 6},
            ),
            a_line(
                "hoodies",
                style="Harbour hoodie",
                kind=GarmentKind.HOODIE,
                colour=("navy", "#1d2b4f"),
                sizes={"M": 8, "L": 10, "2XL": 3},
            ),
            a_line(
                "totes",
                style="Market tote",
                kind=GarmentKind.TOTE,
                colour=("natural", "#eee3c8"),
                sizes={"one": 25},
                group=SizeGroup.ONE_SIZE,
            ),
        ),
        artworks=(
            artwork("logo", logo(), "choir-logo.png"),
            artwork("photo", photograph(), "harbour-at-night.png"),
        ),
        prints=(
            Print(key="p1", artwork="photo", line="tees", location=Location.FULL_FRONT, width_mm=279.4),
            Print(key="p2", artwork="logo", line="hoodies", location=Location.LEFT_CHEST, width_mm=88.9),
            Print(key="p3", artwork="photo", line="hoodies", location=Location.FULL_BACK, width_mm=279.4),
            Print(key="p4", artwork="logo", line="totes", location=Location.TOTE_FRONT, width_mm=228.6),
            Print(key="p5", artwork="logo", line="tees", location=Location.LEFT_SLEEVE, width_mm=63.5),
        ),
        offer="gang",
    )
    return changed(job, **fields)


def choir_inks() -> HeldInks:
    return HeldInks({"logo": logo(), "photo": photograph()})


SHEET = Size(292.1, 457.2)


def grid_layout(job: Job, prints: tuple[str, ...], *, runs: int, sheet: Size = SHEET) -> Layout:
    """Pieces of some prints in rows from the top left, until the sheet is full."""
    placements = []
    x = y = 5.08
    row = 0.0
    at = 0
    while at < 200:
        print_ = job.print_of(prints[at % len(prints)])
        at += 1
        size = print_size(job.artwork(print_.artwork), print_.width_mm)
        if x + size.width_mm > sheet.width_mm - 5:
            x, y, row = 5.08, y + row + 3.387, 0.0
        if y + size.height_mm > sheet.height_mm - 5 or x + size.width_mm > sheet.width_mm - 5:
            break
        placements.append(Placement(print_.key, x, y, size.width_mm, size.height_mm))
        x, row = x + size.width_mm + 3.387, max(row, size.height_mm)
    return Layout(sheet, tuple(placements), runs)


def a_purchase(job: Job) -> Purchase:
    layouts = (
        grid_layout(job, ("p1",), runs=29),
        grid_layout(job, ("p2", "p5"), runs=4),
        grid_layout(job, ("p4",), runs=13),
    )
    pieces = tuple(
        PieceOrder(
            piece=print_.key,
            need=job.line(print_.line).count,
            spares=2,
            ordered=sum(layout.count_of(print_.key) for layout in layouts),
        )
        for print_ in job.prints
    )
    lines = (PriceLine(what="46 sheets 11.5 × 18 in at 9.00", amount=SECRET_COST),)
    return Purchase(
        orders=(Order(offer="gang", layouts=layouts, pieces=pieces, lines=lines, cost=SECRET_COST, days=5),)
    )


def a_quote(job: Job, shop: Shop) -> Quote:
    lines = tuple(
        QuoteLine(
            line=line.key,
            style=line.style,
            kind=line.kind,
            colour_name=line.colour.name,
            colour_hex=line.colour.hex,
            sizes=tuple((size.size, size.count) for size in line.sizes if size.count),
            prints=tuple(
                QuotePrint(
                    artwork=print_.artwork,
                    name=job.artwork(print_.artwork).name,
                    location=print_.location,
                    place_name=print_.place_name,
                    width_mm=print_.width_mm,
                    height_mm=print_size(job.artwork(print_.artwork), print_.width_mm).height_mm,
                )
                for print_ in job.prints_on(line.key)
            ),
            count=line.count,
            price_each=Decimal("18.50"),
            amount=Decimal("18.50") * line.count,
        )
        for line in job.lines
    )
    subtotal = sum((line.amount for line in lines), Decimal(0))
    tax = (subtotal * Decimal("0.0625")).quantize(Decimal("0.01"))
    head = shop.letterhead
    return Quote(
        title=job.title,
        customer=tuple(part for part in (job.customer.name, job.customer.contact) if part),
        quoted_on=job.quoted_on,
        valid_until=date(2026, 12, 2),
        due=job.due,
        currency=shop.currency,
        lines=lines,
        subtotal=subtotal,
        discount=Decimal(0),
        delivery=Decimal(0),
        tax_name="Sales tax",
        tax_percent=Decimal("6.25"),
        tax=tax,
        total=subtotal + tax,
        deposit_percent=Decimal(50),
        deposit=((subtotal + tax) / 2).quantize(Decimal("0.01")),
        shop_name=head.name,
        shop_lines=(*head.address, head.email, head.phone),
        terms=head.terms,
    )


def a_plan(job: Job, shop: Shop) -> Plan:
    how = "46 × 9.00"
    cost_lines = (
        CostLine(kind=CostKind.BLANKS, amount=Decimal("336.20"), how="82 × 4.10", line="tees"),
        CostLine(kind=CostKind.TRANSFERS, amount=SECRET_COST, how=how),
    )
    findings = (
        Finding(
            kind=FindingKind.TOO_COARSE,
            seriousness=Seriousness.STOP,
            artwork="photo",
            print="p1",
            found=109,
            needed=300,
            best_width_mm=101.6,
        ),
        Finding(kind=FindingKind.RIGHTS, seriousness=Seriousness.NOTE),
    )
    deadlines = (
        Deadline(milestone=Milestone.ORDER_TRANSFERS, by=date(2026, 11, 27), slack_days=18, offer="gang"),
        Deadline(milestone=Milestone.PRESS, by=date(2026, 12, 8), slack_days=25),
        Deadline(milestone=Milestone.DELIVER, by=date(2026, 12, 11), slack_days=28),
    )
    return Plan(
        findings=findings,
        purchase=a_purchase(job)
        if {"p1", "p2", "p4", "p5"} <= {print_.key for print_ in job.prints}
        else None,
        costs=Costs(
            currency=shop.currency,
            pieces=sum(line.count for line in job.lines),
            lines=cost_lines,
            total=Decimal("754.03"),
            revenue=Decimal("1517.00"),
            profit=Decimal("762.97"),
            margin_percent=SECRET_MARGIN,
        ),
        quote=a_quote(job, shop),
        press_cards=press_cards(job, shop),
        press_work=press_work(job, shop),
        calendar=Calendar(due=job.due, deadlines=deadlines),
    )


def choir_papers(paper: PaperSize = PaperSize.LETTER, **shop_fields: object) -> Papers:
    job, shop = choir_job(), a_shop(paper=paper, **shop_fields)
    return Papers(job, shop, a_plan(job, shop), Pictures(choir_inks()))
