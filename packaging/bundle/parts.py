"""What goes into a bundle, the same on every system; the spec files beside this one say the rest.

Imported by PyInstaller while it runs a spec, in the environment that is bundled.
"""

from pathlib import Path
from typing import Any

from PyInstaller.utils.hooks import collect_data_files, collect_submodules

HERE = Path(__file__).resolve().parent
NAME = "planner"
LONG_NAME = "Transfer Job Planner"
IDENTIFIER = "transfer-job-planner"
SUFFIX = "transferjob"
ICONS = HERE.parent.parent / "resources" / "icons"


def analysis_arguments() -> dict[str, Any]:
    """Arguments of PyInstaller's `Analysis`."""
    return {
        "scripts": [str(HERE / "entry.py")],
        "datas": [
            *collect_data_files("planner"),
            *collect_data_files("font_source_sans_pro"),
        ],
        # Imported by name only when a file of their kind comes, so no analysis sees them.
        "hiddenimports": [
            "pi_heif",
            "pyspng",
            "resvg_py",
            "svg2pdf_py",
            "planner.artwork.guard_worker",
            *collect_submodules("holidays"),
        ],
        "excludes": ["tkinter", "IPython", "pytest", "scipy", "matplotlib", "pandas"],
        "noarchive": False,
    }
