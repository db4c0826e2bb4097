"""`planner export`: the papers of a job written into a folder."""

import sys
from argparse import Namespace
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from planner.artwork.decoding import Decoder
from planner.artwork.guarded import Guarded
from planner.artwork.read import UnreadableArtwork
from planner.commands import words
from planner.commands.opening import opened_job
from planner.commands.parsing import SentenceParser, Trouble
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.export import NAMES, USUAL, export
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.paper.print_files import SheetWishes
from planner.paper.verify import SheetFileDiffers
from planner.paper.writing import ExportRefused
from planner.plan.laddering import quoted_ladder
from planner.shop.offers import SheetWish


def export_job(arguments: Sequence[str]) -> int:
    """Write papers and print their paths, one a line; what was read back and found right, on stderr."""
    parser = SentenceParser(prog="planner export", description=words.EXPORT)
    parser.add_argument("file", type=Path, metavar="FILE", help=words.JOB_FILE)
    parser.add_argument("--to", type=Path, required=True, metavar="DIR", help=words.FOLDER)
    parser.add_argument(
        "--paper",
        action="append",
        choices=NAMES,
        metavar="NAME",
        help=words.papers(NAMES, USUAL),
    )
    parser.add_argument(
        "--wish",
        action="append",
        default=[],
        choices=[wish.value for wish in SheetWish],
        metavar="NAME",
        help=words.wishes(SheetWish),
    )
    wanted = parser.parse_args(arguments)
    with closing(Guarded()) as decoder:
        return _exported(wanted, decoder)


def _exported(wanted: Namespace, decoder: Decoder) -> int:
    opened = opened_job(wanted.file, decoder)
    pictures = Pictures(ArtworkInks(lambda sha256: opened.artworks[sha256], decoder))
    prices = quoted_ladder(opened.job, opened.shop, opened.plan, facts=opened.facts)
    papers = Papers(
        opened.job, opened.shop, opened.plan, pictures, ladder=prices, wishes=SheetWishes.of(wanted.wish)
    )
    try:
        paths = export(papers, wanted.to, wanted.paper or USUAL, said=_tell, noted=_tell)
    except (ExportRefused, SheetFileDiffers, UnreadableArtwork) as error:
        raise Trouble(str(error)) from error
    sys.stdout.write("".join(f"{path}\n" for path in paths))
    return 0


def _tell(sentence: str) -> None:
    sys.stderr.write(f"{sentence}\n")
