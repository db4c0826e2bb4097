"""The list of jobs: found, read without their artwork, and honest about files that cannot be read."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from planner.job.document import Job
from planner.job.state import JobState
from planner.shop.document import changed
from planner.storage.careful import opened_to_read
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX, write_job
from planner.storage.job_list import MOST_RECENT, list_jobs, with_recent
from planner.storage.job_summary import JobFigures, LastDay, as_remarks, read_summary
from planner.storage.shop_book import save_shop_book
from planner.work.ticket import Cancelled, Ticket
from tests.builders import a_job, a_shop

FIGURES = JobFigures(
    quote_total=Decimal("214.50"),
    currency="USD",
    last_days=(LastDay(milestone="deliver", by=date(2026, 12, 18)),),
)


def saved(path: Path, title: str = "Spring fair", state: JobState = JobState.QUOTED) -> Path:
    job, files = a_job()
    write_job(path, changed(job, title=title, state=state), files, as_remarks(FIGURES))
    return path


def test_a_summary_says_what_the_job_and_its_plan_said(tmp_path: Path) -> None:
    summary = read_summary(saved(tmp_path / f"one{SUFFIX}"))
    assert (summary.title, summary.customer) == ("Spring fair", "Riverside allotments")
    assert (summary.due, summary.state, summary.garments) == (date(2026, 12, 18), JobState.QUOTED, 20)
    assert summary.figures == FIGURES


def test_a_summary_of_a_file_without_figures_has_none(tmp_path: Path) -> None:
    job, files = a_job()
    write_job(tmp_path / "a", job, files, {"figures": '{"quote_total": "lots"}'})
    write_job(tmp_path / "b", job, files)
    assert read_summary(tmp_path / "a").figures is None
    assert read_summary(tmp_path / "b").figures is None


def test_a_summary_loads_no_artwork(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = saved(tmp_path / f"one{SUFFIX}")
    asked: list[str] = []

    @contextmanager
    def watched(where: Path) -> Iterator[sqlite3.Connection]:
        with opened_to_read(where) as file:
            file.set_trace_callback(asked.append)
            yield file

    monkeypatch.setattr("planner.storage.document_file.opened_to_read", watched)
    read_summary(path)
    assert any("FROM document" in statement for statement in asked)
    assert not any("artwork" in statement for statement in asked)


def test_a_changed_letter_in_the_document_is_noticed(tmp_path: Path) -> None:
    path = saved(tmp_path / f"one{SUFFIX}")
    path.write_bytes(path.read_bytes().replace(b"Riverside allotments", b"Riverside Allotments"))
    with pytest.raises(DocumentFileError, match="damaged"):
        read_summary(path)


def test_jobs_of_the_folder_and_below_and_recent_ones_are_listed_once(tmp_path: Path) -> None:
    shop = tmp_path / "jobs"
    (shop / "2026" / ".hidden").mkdir(parents=True)
    first, second = saved(shop / f"a{SUFFIX}"), saved(shop / "2026" / f"b{SUFFIX}")
    saved(shop / "2026" / ".hidden" / f"c{SUFFIX}")
    saved(shop / f".d{SUFFIX}")
    elsewhere = saved(tmp_path / f"e{SUFFIX}")
    found = list_jobs(shop, (elsewhere, first, tmp_path / f"gone{SUFFIX}"))
    assert {job.path for job in found.jobs} == {first, second, elsewhere}
    assert len(found.jobs) == 3
    assert not found.trouble


def test_files_that_cannot_be_read_are_listed_with_the_sentence(tmp_path: Path) -> None:
    (tmp_path / f"letter{SUFFIX}").write_text("Dear choir")
    save_shop_book(a_shop(), tmp_path / "book")
    (tmp_path / "book" / "shop.book").rename(tmp_path / f"book{SUFFIX}")
    sentences = {job.path.stem: job.trouble for job in list_jobs(tmp_path).jobs}
    assert "is not a job file" in sentences["letter"]
    assert "is not a job file" in sentences["book"]


def test_a_folder_that_is_gone_is_a_sentence_and_recent_jobs_stay(tmp_path: Path) -> None:
    here = saved(tmp_path / f"here{SUFFIX}")
    found = list_jobs(tmp_path / "drive", (here,))
    assert [job.path for job in found.jobs] == [here]
    assert "is not there" in found.trouble


def test_only_files_that_changed_are_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in "ab":
        saved(tmp_path / f"{name}{SUFFIX}")
    known = {job.path: job for job in list_jobs(tmp_path).jobs}
    saved(tmp_path / f"a{SUFFIX}", "Autumn fair")
    os.utime(tmp_path / f"a{SUFFIX}", ns=(1, 1))
    read: list[str] = []

    def counted(path: Path) -> object:
        read.append(path.stem)
        return read_summary(path)

    monkeypatch.setattr("planner.storage.job_list.read_summary", counted)
    again = {job.path.stem: job.summary for job in list_jobs(tmp_path, known=known).jobs}
    assert read == ["a"]
    assert again["a"] is not None
    assert again["a"].title == "Autumn fair"


def test_listing_stops_when_asked(tmp_path: Path) -> None:
    saved(tmp_path / f"a{SUFFIX}")
    ticket = Ticket()
    ticket.stop()
    with pytest.raises(Cancelled):
        list_jobs(tmp_path, ticket=ticket)


def test_recent_files_are_newest_first_and_not_endless() -> None:
    paths = [Path(str(number)) for number in range(MOST_RECENT)]
    assert with_recent(paths[3], paths)[:3] == (paths[3], paths[0], paths[1])
    assert len(with_recent(Path("new"), paths)) == MOST_RECENT


def test_a_job_without_a_state_is_being_planned() -> None:
    job, _ = a_job()
    without = job.model_dump(mode="json", exclude={"state"})
    assert Job.model_validate(without).state is JobState.PLANNED
