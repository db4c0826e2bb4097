"""Sentences: the one place where kinds and figures become words that a shop owner reads.

Used by window, papers and commands alike. Each sentence says what is so, then what to do.
"""

from datetime import date
from decimal import Decimal

from babel.dates import format_date
from babel.numbers import format_currency

from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures.lengths import LengthUnit, format_length, format_size
from planner.measures.temperature import format_temperature
from planner.plan.model import Missing
from planner.pressing.calendar import Milestone
from planner.pressing.card import Caution, PressStep, StepKind
from planner.shop.garments import Location
from planner.shop.offers import Peel

LOCALE = "en_US"


def money(amount: Decimal, currency: str) -> str:
    """An amount with its currency: "$1,234.50"."""
    return format_currency(amount, currency, locale=LOCALE)


def day(on: date) -> str:
    """A day with its weekday: "Fri, Dec 11, 2026"."""
    return format_date(on, "EEE, MMM d, y", locale=LOCALE)


def length(length_mm: float, unit: LengthUnit) -> str:
    """A length in the shop's unit."""
    return format_length(length_mm, unit)


def size(width_mm: float, height_mm: float, unit: LengthUnit) -> str:
    """A size in the shop's unit, the unit once."""
    return format_size(width_mm, height_mm, unit)


def place(location: Location, place_name: str) -> str:
    """The location as the trade says it, or the shop's own name for another place."""
    return place_name if location is Location.OTHER and place_name else location.value


def count(number: int, one: str, many: str | None = None) -> str:
    """ "1 sheet", "3 sheets"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


_SERIOUSNESS = {Seriousness.STOP: "Stop", Seriousness.LOOK: "Look", Seriousness.NOTE: "Note"}


def seriousness(serious: Seriousness) -> str:
    return _SERIOUSNESS[serious]


_MISSING = {
    Missing.CUSTOMER: "Type the customer's name",
    Missing.GARMENTS: "Add a garment line",
    Missing.COUNTS: "Type how many of each size",
    Missing.ARTWORK: "Add the customer's artwork",
    Missing.PRINTS: "Say where the artwork goes",
    Missing.OFFER: "Choose an offer for the transfers",
    Missing.ARRANGE: "Arrange the sheets",
    Missing.DUE: "Type the due date",
}


def missing(what: Missing) -> str:
    """What to do next, as a request."""
    return _MISSING[what]


_MILESTONES = {
    Milestone.APPROVE: "Artwork approved",
    Milestone.ORDER_TRANSFERS: "Order transfers",
    Milestone.ORDER_BLANKS: "Order blanks",
    Milestone.PRESS: "Start pressing",
    Milestone.DELIVER: "Deliver",
}


def milestone(what: Milestone) -> str:
    return _MILESTONES[what]


# ASTM C1055 for the contact temperature; the rest is common practice.
_CAUTIONS = {
    Caution.BURN: "The platen burns skin at a touch. Keep hands, cords and sleeves clear of hot metal.",
    Caution.PINCH: "The press closes with force: fingers out before the handle moves.",
    Caution.ATTEND: "Heat-proof surface, never unattended, off and unplugged at the end.",
    Caution.VENTILATE: "Press in a ventilated room.",
    Caution.TEST_FIRST: "Press one test piece, or a hidden spot, before the run.",
    Caution.WHO_WINS: (
        "These are starting values. The garment's care label, the transfer printer's sheet and the press "
        "maker's manual always win."
    ),
    Caution.LOCAL_CODES: (
        "Local fire, electrical and workplace codes prevail; wiring and exhaust work belongs to licensed trades."
    ),
    Caution.CHILDREN: (
        "Garments for children of 12 and under fall under product-safety law (in the US Pub. L. 110-314): "
        "ask the transfer printer for its statement."
    ),
}


def caution(what: Caution) -> str:
    """One caution as printed with press settings."""
    return _CAUTIONS[what]


_PEELS = {
    Peel.HOT: "Peel hot, in one smooth even motion",
    Peel.WARM: "Wait until the film is warm to the touch, then peel",
    Peel.COLD: "Let it cool fully, then peel",
}


def seconds(duration_s: float) -> str:
    return f"{duration_s:g} s"


def press_step(step: PressStep) -> str:
    """One step of a press card as an instruction."""
    if step.kind is StepKind.SET_PRESS and step.setting_c is not None:
        pressure = f", {step.pressure.value} pressure" if step.pressure else ""
        return f"Set the press to {format_temperature(step.setting_c)}{pressure}"
    if step.kind is StepKind.PEEL and step.peel is not None:
        return _PEELS[step.peel]
    time = f" for {seconds(step.seconds)}" if step.seconds else ""
    return {
        StepKind.SET_PRESS: "Set the press",
        StepKind.PRE_PRESS: f"Pre-press the bare garment{time}: drives out moisture, flattens wrinkles",
        StepKind.PLACE: "Place the transfer on its centre crease, print side as its sheet says",
        StepKind.COVER: "Lay the cover sheet over it",
        StepKind.PRESS: f"Press{time}",
        StepKind.PEEL: "Peel",
        StepKind.SECOND_PRESS: f"Cover and press again{time}",
        StepKind.COOL: f"Let it cool{time} before folding",
    }[step.kind]


def _figure(value: float | None, decimals: int = 0) -> str:
    return "?" if value is None else f"{value:,.{decimals}f}"


def _plural(value: float | None, one: str, many: str) -> str:
    return f"{_figure(value)} {one if value == 1 else many}"


def finding(what: Finding, unit: LengthUnit) -> str:
    """What a check noticed, with its figures, and what to do about it."""
    found, needed = what.found, what.needed
    percent = _figure(None if found is None else found * 100)
    subject = what.subject
    mm_found, mm_needed = (f"{value:.2f} mm" if value is not None else "?" for value in (found, needed))
    length_found, length_needed = (
        length(value, unit) if value is not None else "?" for value in (found, needed)
    )
    at_best = "" if what.best_width_mm is None else f"Print it {length(what.best_width_mm, unit)} wide or "
    ask = f"{at_best}ask for a larger file." if at_best else "Ask for a larger file."
    kind = FindingKind
    return {
        kind.TOO_COARSE: f"Prints at {_figure(found)} ppi; this offer needs {_figure(needed)}. {ask}",
        kind.LOOKS_ENLARGED: (
            f"Looks enlarged: the picture is about as good as {_figure(found)} ppi at this size. "
            "Ask for the file it was made from."
        ),
        kind.SOFT_EDGES: (
            f"{percent} % of the artwork is half transparent and can print as a milky haze. "
            "Harden the soft edges or ask for artwork without shadows and glows."
        ),
        kind.THIN_STROKES: (
            f"Thinnest stroke {mm_found}; this offer holds {mm_needed} and more. "
            "Print it larger or thicken the strokes."
        ),
        kind.THIN_GAPS: (
            f"Thinnest gap {mm_found}; under {mm_needed} it fills in. Print it larger or open the gap."
        ),
        kind.SPECKS: (
            f"{_plural(found, 'speck is', 'specks are')} smaller than {mm_needed} and will not transfer. "
            "Remove them."
        ),
        kind.BOX: (
            f"A ground of one colour{f' ({subject})' if subject else ''} will print as a box around the motif. "
            "Knock it out, or decide that the box is wanted."
        ),
        kind.RECTANGLE: "The picture prints as a rectangle with straight edges. Fine if that is wanted.",
        kind.LOW_CONTRAST: (
            f"{percent} % of the artwork is nearly the garment's colour{f' {subject}' if subject else ''} "
            "and will be hard to see. Outline it or choose another cloth."
        ),
        kind.EMPTY_MARGIN: (
            f"{percent} % of the file is empty margin that takes paid room on the sheet. Trim it."
        ),
        kind.HEAVY_AREA: (
            f"{percent} % of the print is one solid area: it feels heavy, does not breathe and creases. "
            "Consider knocking shapes out of it."
        ),
        kind.TOO_MANY_COLOURS: (
            f"{_figure(found)} colours; this offer prints {_figure(needed)} at most. "
            "Choose a full-colour offer or simpler artwork."
        ),
        kind.OUT_OF_GAMUT: "Some colours lie outside sRGB and will print duller than on screen.",
        kind.TEXT_NOT_OUTLINED: (
            "The file holds text as text: without its font it may print differently. "
            "Ask for text turned into outlines."
        ),
        kind.CONVERTED: f"Colours were converted to sRGB{f' from {subject}' if subject else ''}. Check them on the proof.",
        kind.EMPTY_ARTWORK: "The file shows nothing: every pixel is transparent. Ask for the right file.",
        kind.NEEDS_STRETCH: (
            f"{_figure(found)} % {subject or 'spandex'}: this kind of transfer cracks on stretch cloth. "
            "Choose a stretch-formula offer."
        ),
        kind.FIBRE_UNSUITED: (
            f"{_figure(found)} % {subject}: this offer is not made for it. Choose another offer, or test first."
        ),
        kind.TOO_LITTLE_POLYESTER: (
            f"{_figure(found)} % polyester; this offer needs {_figure(needed)} % or more. Choose another offer."
        ),
        kind.NEEDS_LIGHT_CLOTH: (
            f"This kind has no white of its own and needs light cloth; {subject or 'this colour'} is too dark. "
            "Choose another offer."
        ),
        kind.COATED_CLOTH: "Coated cloth scorches or lets go. Test first, or choose an offer made for it.",
        kind.DYE_MIGRATION: (
            f"Pressed at {_temperature(found)}: above {_temperature(needed)} the dye in polyester can move "
            "into the print. Test first, or choose a cooler kind."
        ),
        kind.OVER_IRON_DOTS: (
            f"This offer presses at {_temperature(found)}; the care label allows {_temperature(needed)}. "
            "Choose a cooler kind, or decide after a test piece."
        ),
        kind.UNDER_LEAST_PIECES: (
            f"{_figure(found)} pieces; this offer takes {_figure(needed)} and more. Choose another offer."
        ),
        kind.OVER_PLATEN: (
            f"The print is {length_found}; the largest platen takes {length_needed}. It needs two pressings."
        ),
        kind.TOO_LARGE_FOR_OFFER: (
            f"The print is {length_found}; this offer prints {length_needed} at most. "
            "Print it smaller or choose another offer."
        ),
        kind.WIDER_THAN_USUAL: (
            f"{length_found} wide; {length_needed} is the usual most for this place "
            f"{f'on {subject} sizes ' if subject else ''}(common practice)."
        ),
        kind.OVER_GARMENT: (
            f"The print is {length_found} wide, the garment {length_needed}"
            f"{f' in size {subject}' if subject else ''}. Print it smaller."
        ),
        kind.OVER_HARD_PART: (
            f"The print lies over the {subject or 'seam'}: it keeps pressure off. Move it, or press over a pad."
        ),
        kind.PRINTS_TOO_CLOSE: (
            f"Two prints on this garment are {length_found} apart; leave {length_needed}. Move one of them."
        ),
        kind.NOT_PLACED: (
            f"{_plural(found, 'piece does', 'pieces do')} not fit any sheet of this offer. "
            "Print it smaller, allow turning, or choose another offer."
        ),
        kind.SHEET_FAULT: (
            f"{_plural(found, 'piece is', 'pieces are')} in another's way or over the sheet's edge. "
            "Move them apart or arrange again."
        ),
        kind.PIECE_SHORT: (
            f"{_plural(found, 'copy is', 'copies are')} missing on the sheets. Arrange again or add them."
        ),
        kind.LATE: (
            f"Late by {_plural(found, 'working day', 'working days')}. "
            "Take a faster offer, ask for rush, or agree on another date."
        ),
        kind.UNDER_FLOOR: (
            f"The margin is {_figure(found, 1)} %, under your floor of {_figure(needed, 1)} %. "
            "Raise the price or lower the cost."
        ),
        kind.RIGHTS: "The customer must confirm the right to use this artwork; the quote asks for it.",
        kind.CHILDREN: (
            "Sizes for children of 12 and under fall under product-safety law. "
            "Ask the transfer printer for its statement."
        ),
        kind.OFFER_GONE: "The offer chosen is no longer in the shop book. Choose another.",
    }[what.kind]


def _temperature(setting_c: float | None) -> str:
    return "?" if setting_c is None else format_temperature(setting_c)
