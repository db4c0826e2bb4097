"""`planner export`: the papers of a job written into a folder."""

import sys
from collections.abc import Sequence
from pathlib import Path

from planner.commands.opening import opened_job
from planner.commands.parsing import SentenceParser, Trouble
from planner.paper.export import PAPERS, ExportFailed, export_papers


def export(arguments: Sequence[str]) -> int:
    """Write papers and print their paths, one a line."""
    parser = SentenceParser(prog="planner export", description="Write the papers of a job.")
    parser.add_argument("file", type=Path, metavar="FILE", help="the job file")
    parser.add_argument("--to", type=Path, required=True, metavar="DIR", help="the folder to write into")
    parser.add_argument(
        "--paper",
        action="append",
        choices=tuple(PAPERS),
        metavar="NAME",
        help=f"one of: {', '.join(PAPERS)}; may be given several times (default: packet and sheets)",
    )
    wanted = parser.parse_args(arguments)
    opened = opened_job(wanted.file)
    try:
        for path in export_papers(
            opened.job, opened.artworks, opened.shop, opened.plan, wanted.to, wanted.paper
        ):
            sys.stdout.write(f"{path}\n")
    except ExportFailed as error:
        raise Trouble(str(error)) from error
    return 0
