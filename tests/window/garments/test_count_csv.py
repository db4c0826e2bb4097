"""Counts from tables: three shapes of file, one set of counts."""

from pathlib import Path

import pytest

from planner.job.document import Job
from planner.window.garments.count_csv import CountTable
from planner.window.garments.counted import with_counts
from planner.window.look import palette, tokens_for
from planner.window.tables.dialog import ImportDialog
from planner.window.tables.rows import Read, read_rows
from tests.builders import A_DAY, a_job, a_shop
from tests.window.rig import Rig, click

BY_ROW = "Style,Colour,Size,Qty\nCotton T-shirt,navy,M,5\nCotton T-shirt,navy,XXL,3\nCotton T-shirt,red,m,4\n"
BY_SIZE = "Garment,Color,M,2XL,Total\nCotton T-shirt,navy,5,3,8\nCotton T-shirt,red,4,,4\n"
BY_GARMENT = 'Size,Cotton T-shirt navy,"Cotton T-shirt, red"\nM,5,4\nXXL,3,\n'
NO_NAMES = "Cotton T-shirt;navy;M;5\nCotton T-shirt;navy;2XL;3\nCotton T-shirt;red;M;4\n"


def looked_at(folder: Path, text: str, job: Job) -> tuple[list[str], Read]:
    path = folder / "counts.csv"
    path.write_text(text, "utf-8")
    table = CountTable(job, a_shop())
    rows = read_rows(path, "list")
    roles = table.guess(rows)
    return roles, table.read(rows, roles)


@pytest.mark.parametrize("text", [BY_ROW, BY_SIZE, BY_GARMENT, NO_NAMES])
def test_every_shape_of_file_orders_the_same(tmp_path: Path, text: str) -> None:
    job, _ = a_job()
    _, read = looked_at(tmp_path, text, job)
    assert read.troubles == ()
    after = with_counts(job, a_shop(), read.value)  # type: ignore[arg-type]
    navy, red = after.lines
    assert {size.size: size.count for size in navy.sizes if size.count}["M"] == 5
    assert sum(size.count for size in navy.sizes) == 8
    assert next(size.count for size in navy.sizes if size.size == "L") == 0
    assert (red.colour.name, red.count) == ("red", 4)
    assert after.prints == job.prints
    assert "12 garments" in read.told
    assert "new line" in read.told


def test_a_style_of_the_shop_book_brings_its_cloth_and_measures(tmp_path: Path) -> None:
    blank = a_shop().blanks[0]
    size, colour = blank.sizes[0], blank.colours[-1]
    text = f'style,colour,size,count\n"{blank.style.upper()}",{colour.name},{size.size},7\n'
    job = Job(quoted_on=A_DAY)
    _, read = looked_at(tmp_path, text, job)
    (line,) = with_counts(job, a_shop(), read.value).lines  # type: ignore[arg-type]
    assert (line.style, line.cloth, line.colour) == (blank.style, blank.cloth, colour)
    assert next(one.body_width_mm for one in line.sizes if one.count == 7) == size.body_width_mm


def test_a_style_written_with_other_commas_and_spaces_is_the_same_style(tmp_path: Path) -> None:
    job, shop = Job(quoted_on=A_DAY), a_shop()
    blank = next(blank for blank in shop.blanks if "," in blank.style)
    written = f" {blank.style.replace(',', '').upper()}"
    _, read = looked_at(tmp_path, f"style,colour,size,count\n{written},black,M,7\n", job)
    after = with_counts(job, shop, read.value)  # type: ignore[arg-type]
    again = with_counts(after, shop, read.value)  # type: ignore[arg-type]
    assert [(line.style, line.blank_cost) for line in again.lines] == [(blank.style, blank.cost)]


def test_the_look_stays_legible_when_the_systems_scheme_changes(job_rig: Rig, tmp_path: Path) -> None:
    path = tmp_path / "counts.csv"
    path.write_text("Size,Qty\nM,5O\nL,6\n", "utf-8")
    job_rig.window.counts.open(path)
    dialog = job_rig.window.findChild(ImportDialog)
    assert isinstance(dialog, ImportDialog)
    for dark in (True, False):
        tokens = tokens_for(dark)
        dialog.setPalette(palette(tokens))
        right, wrong = dialog.table.item(3, 1), dialog.table.item(2, 1)
        assert right is not None
        assert wrong is not None
        assert right.background().color().name() == tokens.field
        assert right.foreground().color().name() == tokens.text
        assert wrong.background().color().name() == tokens.stop
    dialog.reject()


def test_every_cell_that_cannot_be_read_is_told_with_its_place(tmp_path: Path) -> None:
    job, _ = a_job()
    _, read = looked_at(tmp_path, "Size,Qty\nM,five\nL,6\n,7\nXL,-2\n", job)
    assert [(trouble.row, trouble.column) for trouble in read.troubles] == [(1, 1), (3, 0), (4, 1)]
    assert "“five” is no count" in read.troubles[0].sentence


def test_columns_that_do_not_go_together_are_a_sentence(tmp_path: Path) -> None:
    job, _ = a_job()
    path = tmp_path / "counts.csv"
    path.write_text(BY_ROW, "utf-8")
    table, rows = CountTable(job, a_shop()), read_rows(path, "list")
    for roles, said in (
        (["style", "style", "size", "count"], "Two columns are “style”"),
        (["style", "colour", "leave out", "count"], "Choose the column of sizes"),
        (["style", "colour", "size", "XL"], "either a column for each size"),
        (["style", "colour", "leave out", "extraordinarily"], "too long for a size"),
    ):
        assert said in table.read(rows, roles).troubles[0].sentence


def test_a_cell_put_right_in_the_look_lets_the_counts_in_as_one_step(job_rig: Rig, tmp_path: Path) -> None:
    path = tmp_path / "counts.csv"
    path.write_text("Size,Qty\nM,5O\nL,6\n", "utf-8")
    job_rig.answers.counts = path
    before = job_rig.desk.job
    job_rig.window.garments.counts_requested.emit()
    dialog = job_rig.window.findChild(ImportDialog)
    assert isinstance(dialog, ImportDialog)
    assert not dialog.take.isEnabled()
    assert dialog.note.text().startswith("Row 2: “5O” is no count")
    item = dialog.table.item(2, 1)
    assert item is not None
    item.setText("50")
    assert dialog.take.isEnabled()
    click(dialog.take)
    assert [size.count for size in job_rig.desk.job.lines[0].sizes] == [50, 6]
    job_rig.desk.undo_stack.undo()
    assert job_rig.desk.job == before
