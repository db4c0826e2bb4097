"""The shop book a new shop starts with: invented offers and prices, press settings of common practice.

Every figure is there to be replaced by the shop's own. Press settings, limits and cloths are starting
values of common practice (no single source): the transfer printer's sheet and the care label win.
"""

from decimal import Decimal

from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH
from planner.measures.temperature import celsius
from planner.shop.book import Press, Shop
from planner.shop.cloth import Cloth, Fibre, FibreShare, Swatch
from planner.shop.garments import Blank, BlankSize, GarmentKind, HardPart, SizeGroup
from planner.shop.offers import (
    ArtRule,
    ClothRule,
    Offer,
    Peel,
    PressSetting,
    Pressure,
    Rush,
    TransferKind,
)
from planner.shop.prices import (
    AreaUnit,
    Break,
    Breaks,
    ByArea,
    ByLength,
    ByPiece,
    BySheet,
    PieceRow,
    SheetPrice,
)

_USUAL = (Fibre.COTTON, Fibre.POLYESTER, Fibre.VISCOSE, Fibre.LINEN)


def _inches(width_in: float, height_in: float) -> Size:
    return Size(width_in * MM_PER_INCH, height_in * MM_PER_INCH)


def _breaks(*steps: tuple[int, str]) -> Breaks:
    return Breaks(steps=tuple(Break(from_count=Decimal(count), each=Decimal(each)) for count, each in steps))


def _offers() -> tuple[Offer, ...]:
    return (
        Offer(
            key="film-single",
            name="Film singles, no minimum",
            printer="Printer A",
            kind=TransferKind.FILM_SINGLE,
            price=ByArea(
                unit=AreaUnit.SQUARE_INCH,
                breaks=_breaks((0, "0.085"), (250, "0.072"), (1000, "0.060"), (4000, "0.052")),
                largest=_inches(22, 22),
                minimum_each=Decimal("0.60"),
            ),
            cloth=ClothRule(fibres=_USUAL),
            press=PressSetting(
                setting_c=celsius(290), press_s=15, pressure=Pressure.MEDIUM, peel=Peel.HOT, second_press_s=5
            ),
            gap_mm=3,
            margin_mm=0,
            production_days=1,
            delivery_days=3,
            delivery=Decimal("8.50"),
            free_delivery_from=Decimal("90"),
        ),
        Offer(
            key="film-sheet",
            name="Film gang sheets",
            printer="Printer A",
            kind=TransferKind.FILM_SHEET,
            price=BySheet(
                sheets=(
                    SheetPrice(
                        size=_inches(11.5, 18),
                        breaks=_breaks(
                            (1, "17.50"),
                            (6, "12.25"),
                            (12, "9.00"),
                            (24, "7.00"),
                            (50, "5.50"),
                            (100, "4.50"),
                        ),
                    ),
                    SheetPrice(
                        size=_inches(22, 24),
                        breaks=_breaks(
                            (1, "31.00"), (6, "24.50"), (12, "19.75"), (24, "16.50"), (50, "14.25")
                        ),
                    ),
                ),
            ),
            cloth=ClothRule(fibres=_USUAL),
            press=PressSetting(
                setting_c=celsius(290), press_s=10, pressure=Pressure.MEDIUM, peel=Peel.HOT, second_press_s=5
            ),
            production_days=3,
            delivery_days=3,
            delivery=Decimal("11.00"),
            free_delivery_from=Decimal("150"),
            rush=Rush(production_days=1, percent=Decimal("25")),
        ),
        Offer(
            key="film-roll",
            name="Film roll, 22 in",
            printer="Printer B",
            kind=TransferKind.FILM_ROLL,
            price=ByLength(
                width_mm=22 * MM_PER_INCH,
                longest_mm=240 * MM_PER_INCH,
                step_mm=12 * MM_PER_INCH,
                breaks=_breaks((1, "9.20"), (5, "8.10"), (10, "7.25"), (25, "6.40")),
            ),
            cloth=ClothRule(fibres=_USUAL),
            press=PressSetting(
                setting_c=celsius(290), press_s=12, pressure=Pressure.MEDIUM, peel=Peel.WARM, second_press_s=5
            ),
            production_days=2,
            delivery_days=4,
            delivery=Decimal("9.75"),
        ),
        Offer(
            key="stretch",
            name="Stretch-formula sheets",
            printer="Printer B",
            kind=TransferKind.STRETCH,
            price=BySheet(
                sheets=(
                    SheetPrice(
                        size=_inches(11.5, 18),
                        breaks=_breaks((1, "21.00"), (6, "15.50"), (12, "11.75"), (24, "9.40"), (50, "7.80")),
                    ),
                ),
            ),
            cloth=ClothRule(fibres=(*_USUAL, Fibre.SPANDEX, Fibre.NYLON), stretch=True),
            press=PressSetting(
                setting_c=celsius(270), press_s=12, pressure=Pressure.MEDIUM, peel=Peel.COLD, cover_sheet=True
            ),
            production_days=3,
            delivery_days=4,
            delivery=Decimal("9.75"),
        ),
        Offer(
            key="screen",
            name="Screen-printed, spot colours",
            printer="Printer C",
            kind=TransferKind.SCREEN_PRINTED,
            price=ByPiece(
                rows=(
                    PieceRow(
                        largest=_inches(4, 4),
                        most_colours=1,
                        breaks=_breaks((24, "0.95"), (48, "0.70"), (100, "0.48"), (250, "0.34")),
                    ),
                    PieceRow(
                        largest=_inches(4, 4),
                        most_colours=4,
                        breaks=_breaks((24, "1.45"), (48, "1.05"), (100, "0.74"), (250, "0.52")),
                    ),
                    PieceRow(
                        largest=_inches(12, 14),
                        most_colours=1,
                        breaks=_breaks((24, "2.10"), (48, "1.60"), (100, "1.15"), (250, "0.86")),
                    ),
                    PieceRow(
                        largest=_inches(12, 14),
                        most_colours=4,
                        breaks=_breaks((24, "3.05"), (48, "2.35"), (100, "1.70"), (250, "1.28")),
                    ),
                ),
                set_up_each_colour=Decimal("22.00"),
            ),
            cloth=ClothRule(fibres=_USUAL),
            art=ArtRule(needs_ppi=600, least_stroke_mm=0.35, most_colours=4),
            press=PressSetting(setting_c=celsius(375), press_s=8, pressure=Pressure.FIRM, peel=Peel.HOT),
            least_pieces=24,
            production_days=5,
            delivery_days=3,
            delivery=Decimal("12.00"),
        ),
        Offer(
            key="sublimation",
            name="Dye-sublimation sheets",
            printer="Printer D",
            kind=TransferKind.SUBLIMATION,
            price=BySheet(
                sheets=(
                    SheetPrice(
                        size=_inches(13, 19),
                        breaks=_breaks((1, "8.40"), (10, "6.20"), (25, "4.90"), (100, "3.80")),
                    ),
                ),
            ),
            cloth=ClothRule(fibres=(Fibre.POLYESTER,), light_only=True, least_polyester_percent=65),
            art=ArtRule(soft_edges=True, least_stroke_mm=0.2, least_speck_mm=0.1),
            press=PressSetting(
                setting_c=celsius(390), press_s=50, pressure=Pressure.LIGHT, peel=Peel.HOT, cover_sheet=True
            ),
            production_days=2,
            delivery_days=3,
            delivery=Decimal("8.00"),
        ),
        Offer(
            key="vinyl",
            name="Cut vinyl, one colour",
            printer="Printer D",
            kind=TransferKind.VINYL,
            price=ByArea(
                unit=AreaUnit.SQUARE_INCH,
                breaks=_breaks((0, "0.110"), (500, "0.092")),
                largest=_inches(15, 22),
                minimum_each=Decimal("1.25"),
            ),
            cloth=ClothRule(fibres=_USUAL),
            art=ArtRule(needs_ppi=300, least_stroke_mm=1.0, least_speck_mm=2.0, most_colours=1),
            press=PressSetting(setting_c=celsius(305), press_s=15, pressure=Pressure.MEDIUM, peel=Peel.WARM),
            gap_mm=4,
            margin_mm=0,
            production_days=2,
            delivery_days=3,
            delivery=Decimal("8.00"),
            finishing_s=60,
        ),
    )


_ADULT = (
    ("XS", 430, 670, "0"),
    ("S", 460, 700, "0"),
    ("M", 510, 730, "0"),
    ("L", 560, 750, "0"),
    ("XL", 610, 780, "0"),
    ("2XL", 660, 800, "2.00"),
    ("3XL", 710, 820, "3.00"),
)
_YOUTH = (("YS", 380, 530, "0"), ("YM", 420, 580, "0"), ("YL", 460, 630, "0"))


def _sizes(table: tuple[tuple[str, int, int, str], ...], group: SizeGroup) -> tuple[BlankSize, ...]:
    return tuple(
        BlankSize(
            size=size, group=group, body_width_mm=width, body_length_mm=length, surcharge=Decimal(surcharge)
        )
        for size, width, length, surcharge in table
    )


def _mix(**percent: float) -> tuple[FibreShare, ...]:
    return tuple(FibreShare(fibre=Fibre(name), percent=share) for name, share in percent.items())


def _colours(**named: str) -> tuple[Swatch, ...]:
    return tuple(Swatch(name=name.replace("_", " "), hex=f"#{code}") for name, code in named.items())


def _blanks() -> tuple[Blank, ...]:
    usual = _colours(white="f7f7f4", black="1c1c1e", navy="1f2a44", heather_grey="b9bbbd", brick="8e3b2f")
    return (
        Blank(
            key="tee-cotton",
            style="Cotton T-shirt, 180 g",
            kind=GarmentKind.T_SHIRT,
            cloth=Cloth(fibres=_mix(cotton=100), iron_dots=2),
            colours=usual,
            sizes=(*_sizes(_YOUTH, SizeGroup.YOUTH), *_sizes(_ADULT, SizeGroup.ADULT)),
            cost=Decimal("3.60"),
        ),
        Blank(
            key="hoodie-blend",
            style="Hooded sweatshirt, 280 g",
            kind=GarmentKind.HOODIE,
            cloth=Cloth(fibres=_mix(cotton=80, polyester=20), iron_dots=2),
            colours=usual,
            sizes=_sizes(_ADULT, SizeGroup.ADULT),
            cost=Decimal("13.80"),
            hard_parts=(HardPart.POUCH_POCKET,),
        ),
        Blank(
            key="zip-hoodie-blend",
            style="Zip hoodie, 280 g",
            kind=GarmentKind.ZIP_HOODIE,
            cloth=Cloth(fibres=_mix(cotton=80, polyester=20), iron_dots=2),
            colours=usual,
            sizes=_sizes(_ADULT, SizeGroup.ADULT),
            cost=Decimal("16.20"),
            hard_parts=(HardPart.ZIP, HardPart.POUCH_POCKET),
        ),
        Blank(
            key="tee-sport",
            style="Sports shirt, polyester",
            kind=GarmentKind.T_SHIRT,
            cloth=Cloth(fibres=_mix(polyester=100), iron_dots=1),
            colours=_colours(white="fafafa", sky="a9cfe4", royal="23489e"),
            sizes=(*_sizes(_YOUTH, SizeGroup.YOUTH), *_sizes(_ADULT, SizeGroup.ADULT)),
            cost=Decimal("4.90"),
        ),
        Blank(
            key="leggings",
            style="Leggings",
            kind=GarmentKind.LEGGINGS,
            cloth=Cloth(fibres=_mix(nylon=78, spandex=22), iron_dots=1),
            colours=_colours(black="1b1b1d", plum="56304f"),
            sizes=_sizes((("S", 330, 900, "0"), ("M", 360, 920, "0"), ("L", 390, 940, "0")), SizeGroup.ADULT),
            cost=Decimal("9.40"),
        ),
        Blank(
            key="tote",
            style="Cotton tote bag, 140 g",
            kind=GarmentKind.TOTE,
            cloth=Cloth(fibres=_mix(cotton=100), iron_dots=3),
            colours=_colours(natural="e8dfc9", black="1c1c1e"),
            sizes=(
                BlankSize(size="one size", group=SizeGroup.ONE_SIZE, body_width_mm=380, body_length_mm=420),
            ),
            cost=Decimal("1.90"),
        ),
    )


def starting_shop() -> Shop:
    """A shop book with seven offers, six blanks and one press, all to be edited."""
    return Shop(
        offers=_offers(),
        blanks=_blanks(),
        presses=(
            Press(
                key="press-1",
                name="Press 1",
                platen_width_mm=16 * MM_PER_INCH,
                platen_height_mm=20 * MM_PER_INCH,
            ),
        ),
    )
