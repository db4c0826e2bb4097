"""Files shipped with the program."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def resource(*parts: str) -> Path:
    """Path of a shipped file, in a source tree as well as in an installed package."""
    installed = _PACKAGE / "_resources"
    return (installed if installed.is_dir() else _PACKAGE.parent / "resources").joinpath(*parts)
