"""OpenCV, imported at its first use: it costs a tenth of a second that a job without artwork need not pay."""

from functools import cache
from typing import Any


@cache
def opencv() -> Any:
    """The `cv2` module. Untyped, since its stubs tell arrays of bytes and of floats not apart."""
    import cv2

    # Measuring shares the cores out itself: OpenCV's own threads beside ours only cost time.
    cv2.setNumThreads(1)
    return cv2
