"""Stops with one sentence on a Python that is too old. Any Python since 2.6 can read this file."""

import sys

SENTENCE = (
    "Transfer Job Planner needs Python 3.11 or newer, and this is Python %d.%d. "
    "Install a newer Python and start this with it, for example: python3.12 %s\n"
)

if sys.version_info < (3, 11):  # noqa: UP036 - this file is for the Pythons below the minimum
    sys.stderr.write(SENTENCE % (sys.version_info[0], sys.version_info[1], sys.argv[0]))
    sys.exit(2)
