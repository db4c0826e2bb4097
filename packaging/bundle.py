"""Builds this system's bundle, wraps it for Debian, and tries it: `python3 packaging/bundle.py`.

The environment is temporary and holds the locked set; `--environment DIR` keeps one from run to run. What
comes out lies in `build/bundle/`: the folder, and a `.deb` where there is `dpkg-deb`. It takes some minutes,
so `check.py` does it only where CI is true or when asked.
"""

import argparse
import hashlib
import os
import platform
import shutil
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

import set_up
import system_parts

BUNDLE = set_up.PROJECT / "packaging" / "bundle"
OUT = set_up.PROJECT / "build" / "bundle"
IDENTIFIER = "transfer-job-planner"
BUILDERS = ("pyinstaller==6.22.3", "hatchling>=1.27")
SPECS = {"Linux": "linux.spec", "Windows": "windows.spec", "Darwin": "macos.spec"}
_TITLE = "Winter concert"
"""The demo job's: the ground that the window shows first bears the program's name alone."""
_START_S = 60.0
_LIBRARY = f"usr/lib/{IDENTIFIER}"


class BundleFailed(Exception):
    """A step did not come out as it must; the message says which."""


def main(arguments: list[str]) -> int:
    """Exit status: 0 when the bundle was built, started and wrote the same papers as the source."""
    parser = argparse.ArgumentParser(prog="bundle.py", description="Build and try the bundle of this system.")
    parser.add_argument("--environment", type=Path, metavar="DIR", help="keep the environment in this folder")
    parser.add_argument("--only-try", action="store_true", help="try the bundle that lies there already")
    wanted = parser.parse_args(arguments)
    try:
        with tempfile.TemporaryDirectory(prefix="planner-bundle-") as scratch:
            python = prepared(wanted.environment or Path(scratch) / "environment")
            if not wanted.only_try:
                build(python)
            program = OUT / "planner" / "planner"
            helps(python, program)
            compare(python, program, Path(scratch))
            show(program)
            if platform.system() == "Linux" and shutil.which("dpkg-deb"):
                debian(python, Path(scratch))
    except (BundleFailed, set_up.SetUpFailed) as error:
        print(error, file=sys.stderr)
        return 1
    return 0


def prepared(environment: Path) -> Path:
    """The Python of an environment with the locked set, the builders and the planner as it is now."""
    python = set_up.venv_python(environment)
    if not python.exists():
        venv.create(environment, with_pip=True)
        lock = set_up.lock_path(set_up.Tools.RUN)
        run(python, "-m", "pip", "install", "--quiet", "--require-hashes", "--no-deps", "-r", str(lock))
        run(python, "-m", "pip", "install", "--quiet", *BUILDERS)
    project = str(set_up.PROJECT)
    run(
        python,
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-deps",
        "--no-build-isolation",
        "--force-reinstall",
        project,
    )
    return python


def build(python: Path) -> None:
    """The bundle's folder, licences inside."""
    find = "from planner.shop.resources import resource; print(resource('licences.txt'))"
    licences = said(python, "-P", "-c", find)
    run(python, str(set_up.PROJECT / "packaging" / "licences.py"), "--to", licences)
    spec = BUNDLE / SPECS[platform.system()]
    started = time.monotonic()
    work = ("--distpath", str(OUT), "--workpath", str(OUT / "work"))
    run(python, "-m", "PyInstaller", "--noconfirm", "--log-level", "ERROR", *work, str(spec))
    files = [path for path in (OUT / "planner").rglob("*") if path.is_file() and not path.is_symlink()]
    size_mb = sum(path.stat().st_size for path in files) / 1e6
    print(f"built in {time.monotonic() - started:.0f} s: {len(files)} files, {size_mb:.0f} MB", flush=True)


def helps(python: Path, program: Path) -> None:
    """The bundle as its own helpers: it reads a picture, a drawing and a page, and nests outlines."""
    run(python, "-P", str(BUNDLE / "try_reader.py"), str(program))
    run(python, "-P", str(BUNDLE / "try_child.py"), str(program))


def compare(python: Path, program: Path, scratch: Path) -> None:
    """The same job exported by the bundle and by the source: the same bytes, file by file."""
    job = scratch / "demo.transferjob"
    run(program, "demo", "--to", str(job), own_data=scratch)
    papers = {}
    for name, command in (("bundle", [program]), ("source", [python, "-P", "-m", "planner"])):
        folder = scratch / name
        run(*command, "export", str(job), "--to", str(folder), own_data=scratch)
        papers[name] = {
            path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in sorted(folder.rglob("*"))
            if path.is_file()
        }
    if papers["bundle"] != papers["source"] or not papers["bundle"]:
        raise BundleFailed(f"The bundle's papers differ from the source's: {papers}")
    print(f"papers: {len(papers['bundle'])} files, the same bytes from bundle and source", flush=True)


def show(program: Path) -> None:
    """The bundle's window on a display of its own, and how long it took to appear twice in a row."""
    if platform.system() != "Linux" or not (shutil.which("Xvfb") and shutil.which("xwininfo")):
        print("window: not tried, there is no Xvfb with xwininfo here")
        return
    reading, writing = os.pipe()
    display = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1600x1000x24", "-nolisten", "tcp"],
        pass_fds=(writing,),
        stderr=subprocess.DEVNULL,
    )
    try:
        os.close(writing)
        number = f":{os.read(reading, 16).decode().strip()}"
        times = [_seconds_to_window(program, number) for _ in range(2)]
    finally:
        os.close(reading)
        display.terminate()
        display.wait()
    print(f"window: shown after {times[0]:.1f} s, the second time after {times[1]:.1f} s", flush=True)


def _seconds_to_window(program: Path, display: str) -> float:
    with tempfile.TemporaryDirectory() as data:
        environment = {**_own_data(Path(data)), "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
        started = time.monotonic()
        window = subprocess.Popen([program, "demo", "--open"], env=environment, stderr=subprocess.PIPE)
        try:
            while time.monotonic() < started + _START_S:
                tree = subprocess.run(
                    ["xwininfo", "-display", display, "-root", "-tree"],
                    capture_output=True,
                    text=True,
                    check=False,
                ).stdout
                if any(_TITLE in line and "1x1" not in line for line in tree.splitlines()):
                    return time.monotonic() - started
                if window.poll() is not None:
                    break
                time.sleep(0.05)
        finally:
            window.kill()
            _, complaint = window.communicate()
    raise BundleFailed(f"The bundle showed no window: {complaint.decode(errors='replace')[-2000:]}")


def debian(python: Path, scratch: Path) -> Path:
    """A Debian package of the bundle: menu entry, icon, file type, licences."""
    version = said(python, "-P", "-c", "from planner.shop.version import VERSION; print(VERSION)")
    architecture = said("dpkg", "--print-architecture")
    root = scratch / "debian"
    shutil.copytree(OUT / "planner", root / _LIBRARY, symlinks=True)
    (root / "usr/bin").mkdir(parents=True)
    (root / "usr/bin/planner").symlink_to(f"../lib/{IDENTIFIER}/planner")
    placed = {
        f"usr/share/applications/{IDENTIFIER}.desktop": BUNDLE / f"{IDENTIFIER}.desktop",
        f"usr/share/mime/packages/{IDENTIFIER}.xml": BUNDLE / f"{IDENTIFIER}.xml",
        f"usr/share/icons/hicolor/256x256/apps/{IDENTIFIER}.png": set_up.PROJECT
        / "resources/icons/planner.png",
        f"usr/share/doc/{IDENTIFIER}/copyright": OUT / "planner/_internal/planner/_resources/licences.txt",
    }
    for to, source in placed.items():
        (root / to).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, root / to)
    size_kb = sum(p.lstat().st_size for p in root.rglob("*") if p.is_file() and not p.is_symlink()) // 1024
    needs = sorted({part.package for part in (*system_parts.QT, *system_parts.X11)})
    # Debian 13 and Ubuntu 24.04 renamed this one for 64-bit time.
    needs = ["libglib2.0-0 | libglib2.0-0t64" if need == "libglib2.0-0" else need for need in needs]
    (root / "DEBIAN").mkdir()
    (root / "DEBIAN/control").write_text(
        f"Package: {IDENTIFIER}\nVersion: {version}\nArchitecture: {architecture}\n"
        f"Maintainer: Transfer Job Planner team <planner@localhost>\nInstalled-Size: {size_kb}\n"
        f"Depends: {', '.join(needs)}\nSection: graphics\nPriority: optional\n"
        "Description: plans a whole garment-decoration job in one sitting\n"
        " Artwork checked at print size, sheets ganged, costs, quote, dates and press cards.\n",
        encoding="utf-8",
    )
    package = OUT / f"{IDENTIFIER}_{version}_{architecture}.deb"
    run("dpkg-deb", "--root-owner-group", "-Zxz", "-z1", "--build", str(root), str(package))
    listed = said("dpkg-deb", "--contents", str(package))
    for to in (*placed, f"{_LIBRARY}/planner", "usr/bin/planner"):
        if f"./{to}" not in listed:
            raise BundleFailed(f"The Debian package lacks {to}.")
    print(f"{package.name}: {package.stat().st_size / 1e6:.0f} MB", flush=True)
    return package


def _own_data(folder: Path) -> dict[str, str]:
    """The environment with folders for data, settings and logs that are nobody's."""
    names = (
        "XDG_DATA_HOME",
        "XDG_CONFIG_HOME",
        "XDG_STATE_HOME",
        "XDG_CACHE_HOME",
        "APPDATA",
        "LOCALAPPDATA",
    )
    return {**os.environ, **{name: str(folder / name.lower()) for name in names}}


def run(*command: str | Path, own_data: Path | None = None) -> None:
    """Run a step.

    Raises:
        BundleFailed: it went wrong; what it said stands above.
    """
    environment = None if own_data is None else _own_data(own_data)
    # From a neutral folder: nothing may be imported from the source tree by accident.
    if subprocess.run(command, env=environment, cwd=OUT_OF_THE_WAY, check=False).returncode:
        raise BundleFailed(f"This step failed: {' '.join(map(str, command[:6]))} ...")


def said(*command: str | Path) -> str:
    """What a step prints, without the line end."""
    done = subprocess.run(command, cwd=OUT_OF_THE_WAY, capture_output=True, text=True, check=False)
    if done.returncode:
        raise BundleFailed(f"This step failed: {' '.join(map(str, command[:6]))} ...\n{done.stderr}")
    return done.stdout.strip()


OUT_OF_THE_WAY = tempfile.gettempdir()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
