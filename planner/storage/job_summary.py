"""What a list of jobs says of a job file, read without its artwork."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError

from planner.job.state import JobState
from planner.shop.document import Document
from planner.shop.prices import Amount
from planner.storage.absurd import is_absurd
from planner.storage.document_file import Damaged, read_document
from planner.storage.job_file import KIND

_REMARK = "figures"
_MOST_REMARK = 20_000


class LastDay(Document):
    """A last day of the job's calendar."""

    milestone: str
    """Value of `planner.pressing.calendar.Milestone`."""
    by: date


class JobFigures(Document):
    """What was worked out of a job when it was saved, so that a list need not make its plan."""

    quote_total: Amount
    currency: str
    last_days: tuple[LastDay, ...] = ()


@dataclass(frozen=True, slots=True)
class JobSummary:
    """A job in a line."""

    title: str
    customer: str
    due: date | None
    state: JobState
    quoted_on: date
    garments: int
    figures: JobFigures | None
    """None where the file was saved without them."""


class _Customer(BaseModel):
    model_config = ConfigDict(extra="ignore")
    name: str = ""


class _Size(BaseModel):
    model_config = ConfigDict(extra="ignore")
    count: int = 0


class _Line(BaseModel):
    model_config = ConfigDict(extra="ignore")
    sizes: tuple[_Size, ...] = ()


class _Head(BaseModel):
    """The few fields of a job that a list shows; the rest is neither built nor checked."""

    model_config = ConfigDict(extra="ignore")
    title: str = ""
    customer: _Customer = _Customer()
    quoted_on: date
    due: date | None = None
    lines: tuple[_Line, ...] = ()
    state: JobState = JobState.PLANNED


def read_summary(path: Path) -> JobSummary:
    """The job in a file in a line; neither artwork nor layouts are loaded.

    Raises:
        DocumentFileError: it is no job file, of a newer version, damaged or not there; a sentence.
    """
    contents = read_document(path, KIND)
    try:
        head = _Head.model_validate_json(contents.json)
    except ValidationError as error:
        raise Damaged(
            f"“{path.name}” is a job file, but what it says does not fit together. Open an earlier copy."
        ) from error
    if is_absurd(head):
        raise Damaged(
            f"“{path.name}” holds figures that no job has, such as a price of many millions. "
            "Open an earlier copy."
        )
    return JobSummary(
        title=head.title,
        customer=head.customer.name,
        due=head.due,
        state=head.state,
        quoted_on=head.quoted_on,
        garments=sum(size.count for line in head.lines for size in line.sizes),
        figures=_figures(contents.remarks),
    )


def as_remarks(figures: JobFigures) -> dict[str, str]:
    """The figures as `write_job` takes them."""
    return {_REMARK: figures.model_dump_json()}


def _figures(remarks: Mapping[str, str]) -> JobFigures | None:
    """Remarks are no part of the job: what cannot be read is as good as none."""
    text = remarks.get(_REMARK, "")
    if not text or len(text) > _MOST_REMARK:
        return None
    try:
        figures = JobFigures.model_validate_json(text)
    except ValidationError:
        return None
    return None if is_absurd(figures) or figures.quote_total < Decimal(0) else figures
