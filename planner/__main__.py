"""Starts the window, or runs one command without it: the one place where real parts come together."""

import sys
from collections.abc import Sequence
from pathlib import Path

from planner.commands.parsing import SentenceParser, Trouble

_ABOUT = """Plans a whole garment-decoration job: artwork, sheets, costs, quote, press cards.

  planner [FILE]                     open the window, on that job
  planner demo --open                open the window on the demo job
  planner demo --to FILE             write the demo job
  planner plan FILE [--json]         print the plan of a job
  planner check ARTWORK... --width LENGTH
                                     check artwork at the width it prints
  planner export FILE --to DIR       write the papers of a job

Each command tells more with --help; planner --version tells the version."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run what the command line asks for; exit status 2 and one sentence on stderr where it cannot."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    try:
        return _run(arguments)
    except Trouble as trouble:
        sys.stderr.write(f"{trouble}\n")
        return 2
    except KeyboardInterrupt:
        sys.stderr.write("Stopped.\n")
        return 130
    except BrokenPipeError:
        # Whoever read the output has seen enough.
        sys.stderr.close()
        return 0


def _run(arguments: list[str]) -> int:
    name, *rest = arguments or [""]
    if name in ("-h", "--help"):
        sys.stdout.write(_ABOUT + "\n")
        return 0
    if name == "--version":
        from planner.shop.version import VERSION

        sys.stdout.write(f"planner {VERSION}\n")
        return 0
    if name == "--read-artwork":
        # How a bundled program, which has no Python to start, becomes the worker of `artwork.guarded`.
        from planner.artwork.guard_worker import main as read_artwork

        return read_artwork()
    if name == "demo" and rest == ["--open"]:
        return _window(None, demo=True)
    # Each command is imported only when it is asked for: the window does without their start-up time.
    if name == "demo":
        from planner.commands.demo import demo

        return demo(rest)
    if name == "plan":
        from planner.commands.plan import plan

        return plan(rest)
    if name == "check":
        from planner.commands.check import check

        return check(rest)
    if name == "export":
        from planner.commands.export import export_job

        return export_job(rest)
    if not name:
        return _window(None)
    parser = SentenceParser(prog="planner")
    parser.add_argument("file", type=Path, metavar="FILE")
    return _window(parser.parse_args(arguments).file)


def _window(file: Path | None, *, demo: bool = False) -> int:
    if file is not None and not file.exists():
        raise Trouble(f"There is no file “{file}”, and no command of that name. `planner --help` lists them.")
    from planner.window.start import run

    return run(file, demo=demo)


if __name__ == "__main__":
    sys.exit(main())
