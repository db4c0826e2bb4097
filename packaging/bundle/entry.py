"""What a bundle starts."""

import multiprocessing
import sys

if __name__ == "__main__":
    # First: a child that arranges along outlines is this program once more, and ends in here.
    multiprocessing.freeze_support()

    from planner.__main__ import main

    sys.exit(main())
