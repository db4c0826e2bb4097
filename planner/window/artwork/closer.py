"""The page that shows one artwork large: at print size, on its garment, with what was found on it."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QComboBox, QSlider, QVBoxLayout, QWidget

from planner.job.document import Artwork, Job, Print
from planner.job.findings import Finding
from planner.job.fixes import FRAMING, FixStep
from planner.job.pieces import print_size
from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH, LengthUnit, format_length
from planner.plan import wording as sentences
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.window.artwork import words
from planner.window.artwork.closer_canvas import CloserCanvas
from planner.window.artwork.mend_form import MendForm
from planner.window.gallery import Gallery
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.mending import drawn_for_fixes, outline_colour, with_fix
from planner.window.names import line_name
from planner.window.popover import Popover
from planner.window.screens import screen_ppi
from planner.window.widgets import Combo, StatusMark, button, column, emptied, label, row

_NO_CLOTH = "#8d8a84"
_STEPS = 100
_NEED_PPI = 300.0


class CloserPage(QWidget):
    """Shows the artwork or print chosen; fixes picked here are told, not made."""

    mend_requested = Signal(str, object, str)
    """Artwork key, a fix step, and the print that alone is to have it; empty for all of the artwork's."""
    fix_taken_back = Signal(str)

    def __init__(self, gallery: Gallery) -> None:
        super().__init__()
        self._gallery = gallery
        self._job: Job | None = None
        self._keys: tuple[tuple[str, str], ...] = ()
        self._key: tuple[str, str] = ("", "")
        self._every: tuple[Finding, ...] = ()
        self._findings: tuple[Finding, ...] = ()
        self._unit = LengthUnit.INCH
        self._marked = ""
        self._hides_marks = False
        self._trying: FixStep | None = None
        self.which = Combo(words.CLOSER_WHICH)
        # A long name must not push the panels beside this page.
        self.which.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.which.setMinimumContentsLength(12)
        self.canvas = CloserCanvas()
        self.scale = label(size=Type.SMALL, quiet=True)
        self.scale.setToolTip(words.SCALE_HINT)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self._before, self._after = label(words.BEFORE_FIXES), label(words.AFTER_FIXES)
        self.marks = button(words.HIDE_MARKS, self._toggle_marks, role="link")
        self.mend = button(words.MEND_MENU, self.open_mending)
        self.steps = label(size=Type.SMALL, quiet=True, wrap=True)
        self.take_back = button(
            words.TAKE_BACK_FIX, lambda: self.fix_taken_back.emit(self._key[0]), role="link"
        )
        self._found = QVBoxLayout()
        self._found.setSpacing(0)
        self._hint = label(words.CLOSER_EMPTY, quiet=True, wrap=True)
        self._build()
        self.which.activated.connect(lambda at: self._choose(self._keys[at]))
        self.canvas.scale_changed.connect(self._scale_changed)
        self.slider.valueChanged.connect(lambda value: self.canvas.divide(value / _STEPS))
        gallery.pictures_changed.connect(self._show_pictures)

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Follow the job; what was chosen stays chosen while it is there."""
        self._job = job
        keys = [(print_.artwork, print_.key) for print_ in job.prints]
        bare = {artwork.key for artwork in job.artworks} - {artwork for artwork, _ in keys}
        keys += [(artwork.key, "") for artwork in job.artworks if artwork.key in bare]
        self._keys = tuple(keys)
        names = [self._name(job, shop, *key) for key in keys]
        if [self.which.itemText(at) for at in range(self.which.count())] != names:
            self.which.clear()
            self.which.addItems(names)
        if self._key not in keys:
            self._key = keys[0] if keys else ("", "")
            self._marked, self._trying = "", None
        if keys:
            self.which.setCurrentIndex(keys.index(self._key))
        self._hint.setVisible(not keys)
        self.which.setEnabled(bool(keys))
        self._every = tuple(finding for finding in (*plan.findings, *plan.decided) if finding.artwork)
        self._unit = shop.unit
        self._show()

    def look_at(self, artwork_key: str, print_key: str | None, finding: Finding | None = None) -> None:
        """Show one artwork, as one of its prints, a finding's spots marked."""
        wanted = (artwork_key, print_key or "")
        if wanted not in self._keys:
            wanted = next((key for key in self._keys if key[0] == artwork_key), self._key)
        self._marked = finding.id if finding else ""
        self._hides_marks = False
        self._choose(wanted)

    def open_mending(self) -> MendForm | None:
        """Let a person pick a fix, shown as it is picked; None while the artwork is still being measured."""
        self._try(None)
        artwork, print_ = self._current()
        if artwork is None or self._job is None:
            return None
        facts = self._gallery.facts(self._job).get(artwork.key)
        if facts is None:
            return None
        across_px = drawn_for_fixes(self._job, artwork).size_px[0]
        px_per_mm = across_px / print_.width_mm if print_ else _NEED_PPI / MM_PER_INCH
        frame = Popover(self.window())
        prints = sum(other.artwork == artwork.key for other in self._job.prints) if print_ else 0
        form = MendForm(facts, px_per_mm, self._unit, self._contrasting(print_), prints=prints)
        inner = column(space=0)
        inner.addWidget(form)
        frame.setLayout(inner)

        def mend(step: FixStep) -> None:
            frame.close()
            self.slider.setValue(_STEPS // 2)
            self.mend_requested.emit(artwork.key, step, print_.key if print_ and form.is_for_one else "")

        form.chosen.connect(mend)
        form.tried.connect(self._try)
        frame.open_below(self.mend, form.way)
        return form

    def _try(self, step: FixStep | None) -> None:
        """Show the artwork as this step would leave it; None shows it as it is."""
        if step != self._trying:
            self._trying = step
            if step is None:
                self._gallery.end_trial()
            self._show()

    def _contrasting(self, print_: Print | None) -> str:
        """White on dark cloth, black on light: what an outline starts with."""
        return outline_colour(self._job.line(print_.line).colour) if self._job and print_ else "#ffffff"

    def _choose(self, key: tuple[str, str]) -> None:
        if key != self._key:
            self._key = key
            self._try(None)
            self.which.setCurrentIndex(self._keys.index(key))
        self._show()

    def _build(self) -> None:
        tools = row(space=RELATED)
        tools.setContentsMargins(APART, RELATED, APART, RELATED)
        tools.addWidget(self.which, 1)
        for name, act in (
            ("−", partial(self.canvas.zoom_by, -1)),
            ("+", partial(self.canvas.zoom_by, 1)),
            (words.FIT, self.canvas.fit),
            (words.REAL_SIZE, self.canvas.real_size),
        ):
            made = button(name, act, role="link", hint=words.ZOOM_HINTS.get(name, ""))
            tools.addWidget(made)
        self._real_size = made
        tools.addWidget(self.scale)
        tools.addWidget(self.mend)
        self.slider.setRange(0, _STEPS)
        self.slider.setAccessibleName(words.COMPARE_FIXES)
        compare = row(space=RELATED)
        for part in (self._before, self.slider, self._after):
            compare.addWidget(part)
        below = column(space=GRID)
        below.setContentsMargins(APART, RELATED, APART, RELATED)
        below.addLayout(compare)
        mended = row(space=RELATED)
        mended.addWidget(self.steps, 1)
        mended.addWidget(self.take_back)
        below.addLayout(mended)
        marked = row(space=RELATED)
        marked.addLayout(self._found, 1)
        marked.addWidget(self.marks)
        below.addLayout(marked)
        whole = column(space=0)
        whole.addLayout(tools)
        whole.addWidget(self._hint)
        self._hint.setContentsMargins(APART, APART, APART, APART)
        whole.addWidget(self.canvas, 1)
        whole.addLayout(below)
        self.setLayout(whole)

    def _show(self) -> None:
        artwork, print_ = self._current()
        self.canvas.setVisible(artwork is not None)
        self._show_fixes(artwork)
        if artwork is None or self._job is None:
            emptied(self._found)
            return
        size = (
            print_size(artwork, print_.width_mm) if print_ else Size(*(float(px) for px in artwork.size_px))
        )
        cloth = self._job.line(print_.line).colour.hex if print_ else _NO_CLOTH
        self.canvas.show_print(size, cloth)
        self._show_findings()
        self._show_pictures()

    def _show_fixes(self, artwork: Artwork | None) -> None:
        fixes = artwork.fixes if artwork else ()
        for part in (self._before, self.slider, self._after):
            part.setVisible(len(_framing(fixes)) < len(fixes))
        self.steps.setVisible(bool(fixes))
        self.take_back.setVisible(bool(fixes) and self._trying is None)
        if self._trying is None:
            self.steps.setText(words.fixes_made([self._told_step(fix) for fix in fixes]))
        self.mend.setEnabled(artwork is not None)
        vector = artwork is not None and artwork.stays_vector
        self.mend.setToolTip(words.MEND_VECTOR_HINT if vector else words.MEND_HINT)

    def _told_step(self, step: FixStep) -> str:
        artwork, print_ = self._current()
        per_mm = artwork.size_px[0] / print_.width_mm if artwork and print_ else _NEED_PPI / MM_PER_INCH
        return words.step_told(step, per_mm)

    def _show_findings(self) -> None:
        emptied(self._found)
        artwork, print_ = self._key
        self._findings = tuple(
            finding
            for finding in self._every
            if finding.artwork == artwork and finding.print in (None, print_)
        )
        ids = [finding.id for finding in self._findings]
        if self._marked not in ids:
            self._marked = ids[0] if ids else ""
        if ids:
            at = ids.index(self._marked)
            self._found.addWidget(self._told(self._findings[at], at))
        spots = next((finding.regions for finding in self._findings if finding.id == self._marked), ())
        self.marks.setVisible(bool(spots) and self._trying is None)
        self.marks.setText(words.SHOW_MARKS if self._hides_marks else words.HIDE_MARKS)
        # What is tried is to be seen without hatch; it may not even be where it was.
        self.canvas.mark(() if self._trying or self._hides_marks else spots)

    def _told(self, finding: Finding, at: int) -> QWidget:
        """One finding in words, and the way to the one before and after."""
        count = len(self._findings)
        holder = QWidget()
        across = row(space=RELATED)
        across.addWidget(StatusMark(finding.seriousness))
        across.addWidget(label(sentences.finding(finding, self._unit), wrap=True), 1)
        if count > 1:
            for text, name, step in (("‹", words.FINDING_BEFORE, -1), ("›", words.FINDING_AFTER, 1)):
                other = self._findings[(at + step) % count].id
                link = button(text, partial(self._mark, other), role="link", hint=name)
                link.setAccessibleName(name)
                across.addWidget(link)
                if step < 0:
                    across.addWidget(label(words.one_of(at + 1, count), Type.SMALL, quiet=True))
        holder.setLayout(across)
        return holder

    def _toggle_marks(self) -> None:
        self._hides_marks = not self._hides_marks
        self._show_findings()

    def _mark(self, finding_id: str) -> None:
        self._marked = finding_id
        self._show_findings()

    def _show_pictures(self) -> None:
        artwork, _ = self._current()
        if artwork is None or not self.isVisible():
            return
        needs_px = max(256, self.canvas.needs_px)
        if self._trying is None:
            after = self._gallery.picture(artwork, needs_px)
        else:
            after = self._gallery.trial(artwork, needs_px)
            self.steps.setText(words.trying(self._told_step(self._trying)) if after else words.WORKING_OUT)
            if after is None:  # What was seen last stays until there is something to see.
                return
        framing = _framing(artwork.fixes)
        came = changed(artwork, fixes=framing) if framing != artwork.fixes else None
        grown = _grown(artwork, came) if came else (0.0, 0.0)
        self.canvas.show_pictures(after, self._gallery.picture(came, needs_px) if came else None, grown)

    def _scale_changed(self, share: float) -> None:
        self.scale.setText(words.of_print_size(share))
        self._real_size.setToolTip(words.real_size_hint(screen_ppi(self)))
        self._show_pictures()

    def _current(self) -> tuple[Artwork | None, Print | None]:
        if self._job is None or not self._key[0]:
            return None, None
        job = self._job
        artwork = next((one for one in job.artworks if one.key == self._key[0]), None)
        if artwork is not None and self._trying is not None:
            job = with_fix(job, artwork, self._trying)
            artwork = job.artwork(artwork.key)
        print_ = next((one for one in job.prints if one.key == self._key[1]), None)
        return artwork, print_

    def _name(self, job: Job, shop: Shop, artwork_key: str, print_key: str) -> str:
        name = job.artwork(artwork_key).name
        if not print_key:
            return name
        print_ = job.print_of(print_key)
        where = sentences.place(print_.location, print_.place_name)
        wide = format_length(print_.width_mm, shop.unit)
        return f"{name}, {where}, {line_name(job, job.line(print_.line))}, {wide}"

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show_pictures()


def _framing(fixes: tuple[FixStep, ...]) -> tuple[FixStep, ...]:
    """What is compared has the steps that change no ink on both sides."""
    return tuple(fix for fix in fixes if isinstance(fix, FRAMING))


def _grown(after: Artwork, before: Artwork) -> tuple[float, float]:
    """Rim that an outline added on each side, as shares of the mended picture's width and height."""
    sizes = zip(after.size_px, before.size_px, strict=True)
    across, down = (max(0, now - was) / 2 / now for now, was in sizes)
    return across, down
