"""What a bundle starts."""

import sys

from planner.__main__ import main

if __name__ == "__main__":
    sys.exit(main())
