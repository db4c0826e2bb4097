"""OpenCV, imported at its first use: it costs a tenth of a second that a job without artwork need not pay."""

from typing import Any


def opencv() -> Any:
    """The `cv2` module. Untyped, since its stubs tell arrays of bytes and of floats not apart."""
    import cv2

    return cv2
