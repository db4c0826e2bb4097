"""Starts a child in a bundle as arranging along outlines does: `python packaging/bundle/try_child.py PROG`.

Run by the Python of the environment that was bundled; the child is the bundle's program and must load what
nests outlines. It may say that it does not know `-c`: a Python has other flags than a bundle, so the helper
that multiprocessing starts beside each child is not known for one; in the bundle itself they are the same.
"""

import importlib
import multiprocessing
import sys

_MOST_S = 60.0


def main(program: str) -> int:
    """Exit status 0 where the child did what it was asked."""
    # What the window is in a bundle: multiprocessing then starts the program once more instead of a Python.
    sys.frozen = True  # type: ignore[attr-defined]
    sys.executable = program
    multiprocessing.set_executable(program)
    child = multiprocessing.get_context("spawn").Process(
        target=importlib.import_module, args=("planner.sheets.nest_child",), daemon=True
    )
    child.start()
    child.join(_MOST_S)
    print(f"child: exit status {child.exitcode}")
    return int(child.exitcode != 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
