"""OpenCV, imported at its first use: it costs a tenth of a second that a job without artwork need not pay."""

from functools import cache
from typing import Any


@cache
def opencv() -> Any:
    """The `cv2` module. Untyped, since its stubs tell arrays of bytes and of floats not apart."""
    import cv2

    # What it is given are strips and tiles: too small for threads of its own to save any time on them.
    cv2.setNumThreads(1)
    return cv2
