"""Sets the planner up and opens it: `python3 packaging/start.py [FILE]`. Old Pythons can read this file."""

import sys

import enough_python  # noqa: F401 - first: it stops a Python that is too old to read the next one
import open_planner

if __name__ == "__main__":
    sys.exit(open_planner.main(sys.argv[1:]))
