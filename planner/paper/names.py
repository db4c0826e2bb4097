"""File names that tell job, sheet and runs, safe on every system."""

import re
import unicodedata

from planner.job.document import Job

LONGEST = 60
# Names that Windows keeps for devices, whatever the ending.
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))}


def safe_stem(text: str, otherwise: str = "job") -> str:
    """Letters, figures and hyphens of the text; never a path, never empty, never a reserved name."""
    composed = unicodedata.normalize("NFC", text).casefold()
    stem = re.sub(r"[^\w]+", "-", composed).replace("_", "-").strip("-")
    # File systems count bytes; a letter may take four.
    while len(stem.encode()) > LONGEST:
        stem = stem[:-1].rstrip("-")
    if not stem:
        stem = otherwise
    return f"{stem}-job" if stem in _RESERVED else stem


def job_stem(job: Job) -> str:
    return safe_stem(job.title or job.customer.name)
