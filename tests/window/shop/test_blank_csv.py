"""Catalogues of blanks from tables."""

from decimal import Decimal
from pathlib import Path

from planner.shop.book import Shop
from planner.shop.cloth import Fibre
from planner.shop.garments import Blank, GarmentKind, SizeGroup
from planner.window.shop.blank_csv import BlankTable
from planner.window.tables.rows import Read, read_rows
from tests.builders import a_shop

CATALOGUE = """Style,Type,Color,Hex,Size,Body width,Body length,Price,Fabric,Iron
Choir tee,t-shirt,navy,,M,20 in,28 in,3.10,100% cotton,2
Choir tee,t-shirt,sea glass,#7fb8ad,M,20 in,28 in,3.10,100% cotton,2
Choir tee,t-shirt,navy,,2XL,26 in,31 in,5.10,100% cotton,2
Choir tee kids,t-shirt,"navy, mist",,"YS, YM",,,2.60,"60% cotton, 40% polyester",
"""


def looked_at(folder: Path, text: str, shop: Shop) -> Read:
    path = folder / "blanks.csv"
    path.write_text(text, "utf-8")
    table, rows = BlankTable(shop), read_rows(path, "list")
    return table.read(rows, table.guess(rows))


def blanks_of(read: Read) -> dict[str, Blank]:
    assert read.troubles == ()
    assert isinstance(read.value, tuple)
    return {blank.style: blank for blank in read.value}


def test_rows_of_a_style_become_one_blank_with_colours_sizes_and_surcharges(tmp_path: Path) -> None:
    read = looked_at(tmp_path, CATALOGUE, a_shop())
    blanks = blanks_of(read)
    tee, kids = blanks["Choir tee"], blanks["Choir tee kids"]
    assert len(blanks) == len(a_shop().blanks) + 2
    assert (tee.kind, tee.cost, tee.cloth.iron_dots) == (GarmentKind.T_SHIRT, Decimal("3.10"), 2)
    assert [colour.hex for colour in tee.colours] == ["#1b2a49", "#7fb8ad"]
    assert [(size.size, size.surcharge) for size in tee.sizes] == [("M", 0), ("2XL", Decimal("2.00"))]
    assert tee.sizes[1].body_width_mm == 26 * 25.4
    assert kids.cloth.percent_of(Fibre.POLYESTER) == 40
    assert [size.group for size in kids.sizes] == [SizeGroup.YOUTH, SizeGroup.YOUTH]
    assert "2 styles: 2 new" in read.told
    assert "1 colour" in read.told


def test_a_known_style_keeps_what_the_file_does_not_say(tmp_path: Path) -> None:
    known = a_shop().blanks[0]
    blank = blanks_of(looked_at(tmp_path, f'style,cost\n"{known.style}",9.90\n', a_shop()))[known.style]
    assert blank == known.model_copy(update={"cost": Decimal("9.90")})


def test_cells_that_cannot_be_read_are_told_all_at_once(tmp_path: Path) -> None:
    text = (
        "style,kind,cost,fabric\nA,spaceship,1,cotton\nB,tote bag,cheap,cotton\n,cap,1,\nC,cap,1,tinsel 100\n"
    )
    read = looked_at(tmp_path, text, a_shop())
    assert [(t.row, t.column) for t in read.troubles] == [(1, 1), (2, 2), (3, 0), (4, 3)]
    assert "no kind of garment" in read.troubles[0].sentence
