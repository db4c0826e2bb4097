"""The ladder by real plans, and on the quote of a command."""

from decimal import Decimal
from functools import cache
from pathlib import Path

import pypdfium2
import pytest

from planner.commands.export import export_job
from planner.commands.opening import Opened, planned
from planner.job.document import Job
from planner.paper.export import SHEET_PDFS
from planner.plan.laddering import price_ladder
from planner.plan.make_plan import make_plan
from planner.pricing.ladder import scaled
from planner.shop.document import changed
from planner.storage.job_file import write_job
from planner.storage.shop_book import open_shop_book
from planner.work.ticket import Cancelled, Ticket
from tests.builders import A_DAY, a_job, a_shop


@cache
def arranged() -> Opened:
    job, files = a_job()
    return planned(job, files, a_shop(), {})


def test_each_rung_is_what_a_plan_of_that_quantity_says() -> None:
    opened = arranged()
    found = price_ladder(opened.job, opened.shop, opened.plan, facts={})
    assert [rung.quantity for rung in found.rungs] == [12, 24, 48, 72, 144]
    for rung in found.rungs:
        plan = make_plan(scaled(opened.job, rung.quantity), opened.shop, facts={}, today=A_DAY)
        assert plan.quote.subtotal == rung.total
        assert rung.price_each == (plan.quote.subtotal / rung.quantity).quantize(Decimal("0.01"))
    assert found.step_up is not None
    assert found.step_up.more == 4


def test_the_job_s_own_quantity_is_the_quote_s() -> None:
    opened = arranged()
    shop = changed(opened.shop, ladder=(10, 20, 30))
    found = price_ladder(opened.job, shop, opened.plan, facts={})
    assert found.now in found.rungs
    assert found.now is not None
    assert found.now.total == opened.plan.quote.subtotal


def test_a_stopped_ladder_stops_between_two_quantities() -> None:
    opened, told = arranged(), []
    ticket = Ticket(lambda done, of: (told.append((done, of)), done == 2 and ticket.stop())[0])
    with pytest.raises(Cancelled):
        price_ladder(opened.job, opened.shop, opened.plan, facts={}, ticket=ticket)
    assert told == [(0, 5), (1, 5), (2, 5)]


def exported(job: Job, files: dict[str, bytes], folder: Path, *more: str) -> Path:
    path = folder / "fair.transferjob"
    write_job(path, job, files, {})
    assert export_job([str(path), "--to", str(folder / "out"), *more]) == 0
    return folder / "out"


def text_of(pdf: Path) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return "".join(document[at].get_textpage().get_text_bounded() for at in range(len(document)))
    finally:
        document.close()


def test_the_command_puts_the_ladder_on_the_quote_where_the_job_wants_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.commands.opening.open_shop_book", lambda: open_shop_book(tmp_path))
    opened = arranged()
    _, files = a_job()
    out = exported(opened.job, files, tmp_path, "--paper", "quote")
    assert "other quantities" not in text_of(next(out.glob("*quote.pdf")))
    wanting = changed(opened.job, terms=changed(opened.job.terms, ladder_on_quote=True))
    out = exported(wanting, files, tmp_path, "--paper", "quote")
    told = text_of(next(out.glob("*quote.pdf")))
    for rung in price_ladder(wanting, opened.shop, opened.plan, facts={}).rungs:
        assert f"{rung.price_each:.2f}" in told


def test_wishes_of_the_command_and_of_the_offer_reach_the_sheet_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = a_shop()
    opened = arranged()
    _, files = a_job()
    monkeypatch.setattr("planner.commands.opening.open_shop_book", lambda: shop)
    asked = exported(opened.job, files, tmp_path, "--paper", SHEET_PDFS)
    plain = next(asked.glob("*.pdf")).read_bytes()
    exported(
        opened.job, files, tmp_path, "--paper", SHEET_PDFS, "--wish", "mirrored", "--wish", "white ground"
    )
    wished = next(asked.glob("*.pdf")).read_bytes()
    assert wished != plain
    standing = changed(
        shop,
        offers=tuple(changed(offer, wishes=("mirrored", "white ground")) for offer in shop.offers),
    )
    monkeypatch.setattr("planner.commands.opening.open_shop_book", lambda: standing)
    exported(opened.job, files, tmp_path, "--paper", SHEET_PDFS)
    assert next(asked.glob("*.pdf")).read_bytes() == wished
