"""`planner demo`: the demo job as a file."""

import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from planner.artwork.measure import measure
from planner.commands import words
from planner.commands.opening import opened_shop, planned
from planner.commands.parsing import SentenceParser, Trouble
from planner.plan.demo import demo_job
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import write_job


def demo(arguments: Sequence[str]) -> int:
    """Write the demo job, arranged, artwork inside."""
    parser = SentenceParser(prog="planner demo", description=words.DEMO)
    parser.add_argument("--to", type=Path, required=True, metavar="FILE", help=words.FILE_TO_WRITE)
    to: Path = parser.parse_args(arguments).to
    job, artworks = demo_job(date.today())
    facts = {artwork.key: measure(artworks[artwork.sha256], artwork) for artwork in job.artworks}
    opened = planned(job, artworks, opened_shop(), facts)
    try:
        write_job(to, opened.job, artworks)
    except DocumentFileError as error:
        raise Trouble(str(error)) from error
    sys.stdout.write(f"{to}\n")
    return 0
