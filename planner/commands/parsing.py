"""What all commands share: arguments, and trouble told in one sentence."""

import argparse
import sys
from typing import NoReturn

from planner.commands import words
from planner.measures.lengths import LengthUnit, UnreadableLength, parse_length


class Trouble(Exception):
    """A command cannot go on; the message is one sentence for the person who typed it."""


class SentenceParser(argparse.ArgumentParser):
    """Tells a mistake in one sentence instead of a usage listing."""

    def error(self, message: str) -> NoReturn:
        """Exit with status 2 and a sentence on stderr."""
        sys.stderr.write(f"{words.cannot_go_on(message, self.prog)}\n")
        raise SystemExit(2)


def length_argument(typed: str) -> float:
    """Millimetres from a length on the command line; a bare number is in inches.

    Raises:
        ArgumentTypeError: it is no length.
    """
    try:
        return parse_length(typed, LengthUnit.INCH)
    except UnreadableLength as error:
        raise argparse.ArgumentTypeError(str(error).rstrip(".")) from error
