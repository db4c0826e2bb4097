"""What every benchmark of the project prints and writes."""

import argparse
import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of one set, and what it is held against."""

    set: str
    figure: str
    value: float
    reference: float | None
    ratio: float | None
    seconds: float


def row(set_name: str, figure: str, value: float, *, reference: float | None = None, seconds: float) -> Row:
    """A row whose ratio is value ÷ reference, or None where there is nothing to hold it against."""
    ratio = value / reference if reference else None
    return Row(set_name, figure, value, reference, ratio, seconds)


def add_json_option(parser: argparse.ArgumentParser) -> None:
    """Give a benchmark's parser the option that all of them share."""
    parser.add_argument("--json", metavar="OUT", type=Path, help="also write the rows to this file")


def show(rows: Iterable[Row], json_to: Path | None = None) -> None:
    """Print the rows as a table, and write them where asked."""
    rows = list(rows)
    width = max([len(r.set) for r in rows], default=3)
    print(f"{'set':<{width}}  {'figure':<28} {'value':>14} {'reference':>14} {'ratio':>8} {'seconds':>9}")
    for r in rows:
        reference = "" if r.reference is None else f"{r.reference:14.4f}"
        ratio = "" if r.ratio is None else f"{r.ratio:8.4f}"
        print(f"{r.set:<{width}}  {r.figure:<28} {r.value:14.4f} {reference:>14} {ratio:>8} {r.seconds:9.3f}")
    if json_to is not None:
        json_to.write_text(json.dumps([asdict(r) for r in rows], indent=1), encoding="utf-8")
