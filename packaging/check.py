"""Runs every check of the project: `python3 packaging/check.py`. Old Pythons can read this file."""

import sys

import enough_python  # noqa: F401 - first: it stops a Python that is too old to read the next one
import run_checks

if __name__ == "__main__":
    sys.exit(run_checks.main(sys.argv[1:]))
