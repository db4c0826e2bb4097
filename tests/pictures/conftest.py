"""Windows for the pictures."""

from tests.window.fixtures import rig

__all__ = ["rig"]
