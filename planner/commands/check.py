"""`planner check`: artwork files judged at a print width, without a job."""

import argparse
import json
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planner.artwork.check import Checked, judge_file
from planner.artwork.read import UnreadableArtwork
from planner.commands import words
from planner.commands.as_json import finding_as_json, plain
from planner.commands.parsing import SentenceParser, Trouble, length_argument
from planner.measures.lengths import LengthUnit, effective_ppi
from planner.plan import wording


def check(arguments: Sequence[str]) -> int:
    """Print pixel size, effective ppi and findings of artwork files; status 2 where one is unreadable."""
    parser = SentenceParser(prog="planner check", description=words.CHECK)
    parser.add_argument("artwork", nargs="+", type=Path, metavar="ARTWORK", help=words.PICTURE_FILES)
    parser.add_argument("--width", type=length_argument, required=True, metavar="LENGTH", help=words.WIDTH)
    parser.add_argument("--cloth", type=_colour, default="#ffffff", metavar="#RRGGBB", help=words.CLOTH)
    parser.add_argument("--json", action="store_true", help=words.AS_JSON)
    wanted = parser.parse_args(arguments)
    told: list[dict[str, Any]] = []
    troubles: list[str] = []
    for path in wanted.artwork:
        try:
            told.append(_told(path, _checked(path, wanted.width, wanted.cloth), wanted.width))
        except Trouble as error:
            troubles.append(str(error))
    if wanted.json:
        sys.stdout.write(json.dumps(told, indent=1, ensure_ascii=False) + "\n")
    else:
        sys.stdout.write("".join(map(_in_words, told)))
    for trouble in troubles:
        sys.stderr.write(f"{trouble}\n")
    return 2 if troubles else 0


def _colour(typed: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", typed):
        raise argparse.ArgumentTypeError(words.no_colour(typed))
    return typed.lower()


def _checked(path: Path, width_mm: float, cloth: str) -> Checked:
    try:
        return judge_file(path.read_bytes(), path.name, width_mm, cloth)
    except UnreadableArtwork as error:
        raise Trouble(str(error)) from error
    except OSError as error:
        raise Trouble(words.cannot_be_read(path, error.strerror or str(error))) from error


def _told(path: Path, checked: Checked, width_mm: float) -> dict[str, Any]:
    imported = checked.imported
    return {
        "file": str(path),
        "media": imported.media,
        "width_px": imported.width_px,
        "height_px": imported.height_px,
        "width_mm": width_mm,
        "effective_ppi": None if imported.vector else round(effective_ppi(imported.width_px, width_mm), 2),
        "findings": [finding_as_json(finding, LengthUnit.INCH) for finding in checked.findings],
        "notes": plain(imported.notes),
    }


def _in_words(told: dict[str, Any]) -> str:
    ppi = words.VECTOR if told["effective_ppi"] is None else words.ppi(told["effective_ppi"])
    size = words.pixels(told["width_px"], told["height_px"])
    width = wording.length(told["width_mm"], LengthUnit.INCH)
    lines = [words.checked(told["file"], size, ppi, width)]
    lines += [
        f"  {finding['seriousness'].capitalize()}: {finding['sentence']}" for finding in told["findings"]
    ]
    return "\n".join(lines) + "\n"
