"""What changed when another file was put behind an artwork: before → after, until somebody has seen it."""

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from planner.job.document import Artwork, Job
from planner.job.findings import Finding
from planner.measures.lengths import effective_ppi
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.window import wording
from planner.window.artwork import words
from planner.window.look import RELATED, Type
from planner.window.names import line_name
from planner.window.widgets import button, label, row

_SAME_SHAPE = 0.01


@dataclass(frozen=True, slots=True)
class Before:
    """An artwork and what was found on it, as they were ahead of the replacement."""

    artwork: Artwork
    findings: tuple[Finding, ...]


def what_changed(
    before: Before, after: Artwork, job: Job, findings: Iterable[Finding], *, measuring: bool
) -> tuple[str, ...]:
    """Lines with name, pixels, shape, ppi of each print, and findings that went or came."""
    old = before.artwork
    lines = [words.was_to(words.REPLACED, old.name, after.name)]
    lines.append(words.was_to(words.PIXELS, _size(old), _size(after)))
    shapes = [artwork.width_px / artwork.height_px for artwork in (old, after)]
    if abs(shapes[1] / shapes[0] - 1) > _SAME_SHAPE:
        lines.append(words.OTHER_SHAPE)
    for print_ in job.prints:
        if print_.artwork == after.key and not (old.stays_vector or after.stays_vector):
            first, then = (effective_ppi(one.width_px, print_.width_mm) for one in (old, after))
            where = sentences.place(print_.location, print_.place_name)
            name = f"{where}, {line_name(job, job.line(print_.line))}"
            lines.append(words.was_to(name, f"{first:.0f} ppi", f"{then:.0f} ppi"))
    if measuring:
        return (*lines, words.MEASURING)
    now = _of(findings, after.key, job)
    known = {finding.id for finding in before.findings}
    gone = [one for one in before.findings if one.id not in {finding.id for finding in now}]
    new = [one for one in now if one.id not in known]
    lines.append(words.findings_gone_and_new(_kinds(gone), _kinds(new)))
    return tuple(lines)


def _size(artwork: Artwork) -> str:
    return words.VECTOR if artwork.stays_vector else words.pixels(artwork.width_px, artwork.height_px)


def _of(findings: Iterable[Finding], key: str, job: Job) -> tuple[Finding, ...]:
    prints = {print_.key for print_ in job.prints if print_.artwork == key}
    return tuple(one for one in findings if one.artwork == key or one.print in prints)


def _kinds(findings: Iterable[Finding]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(kind_name(finding.kind) for finding in findings))


class Replacements:
    """Remembers what was ahead of each replacement, for as long as the new file stands."""

    def __init__(self) -> None:
        self._before: dict[tuple[str, str], Before] = {}

    def expect(self, job: Job, key: str, sha256: str, findings: Iterable[Finding]) -> None:
        """The file with this SHA-256 is about to be put behind the artwork."""
        old = job.artwork(key)
        if old.sha256 != sha256:
            self._before[key, sha256] = Before(old, _of(findings, key, job))

    def before(self, artwork: Artwork) -> Before | None:
        return self._before.get((artwork.key, artwork.sha256))

    def seen(self, artwork: Artwork) -> None:
        self._before.pop((artwork.key, artwork.sha256), None)


class ReplacedNote(QWidget):
    """The lines on the artwork's card; hidden where nothing was replaced."""

    seen = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.told = label(size=Type.SMALL, wrap=True)
        inner = row(space=RELATED)
        inner.addWidget(self.told, 1)
        inner.addWidget(button(wording.SEEN, self.seen.emit, role="link"), 0, Qt.AlignmentFlag.AlignTop)
        self.setLayout(inner)
        self.hide()

    def show_lines(self, lines: tuple[str, ...]) -> None:
        self.told.setText("\n".join(lines))
        self.setVisible(bool(lines))
