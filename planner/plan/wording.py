"""Sentences: the one place where kinds and figures become words that a shop owner reads.

Used by window, papers and commands alike. Each sentence says what is so, then what to do.
"""

import math
import re
from datetime import date
from decimal import Decimal
from functools import lru_cache

from babel import Locale
from babel.dates import format_date
from babel.numbers import get_currency_precision

from planner.artwork.colour_names import colour_name
from planner.artwork.judge import eye_ppi
from planner.buying.purchase import Order
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.measures import figures
from planner.measures.lengths import MM_PER_INCH, LengthUnit, format_area, format_length, format_size
from planner.measures.money import minor_units
from planner.measures.temperature import format_temperature
from planner.plan.finding_words import SENTENCES, Figure, Sentence
from planner.plan.kind_words import kind_name, subject_name
from planner.plan.model import Missing
from planner.pressing.calendar import Milestone
from planner.pressing.card import CONTACT_BURN_C, Caution, PressStep, StepKind
from planner.shop.garments import Location
from planner.shop.offers import Peel

_HEX = re.compile(r"#[0-9a-f]{6}")


def money(amount: Decimal, currency: str) -> str:
    """An amount with its currency: "$1,234.50", in Germany "1.234,50 $"."""
    region = figures.current()
    before, after = _signs(region, currency, amount.is_signed())
    return f"{before}{region.written(f'{abs(amount):,.{get_currency_precision(currency)}f}')}{after}"


def bare_money(amount: float | Decimal, currency: str) -> str:
    """The figure of an amount whose currency stands beside it: "1,215.07", "−3.00"."""
    return figures.decimal(amount, minor_units(currency)).replace("-", "−")


@lru_cache(maxsize=64)
def _signs(region: figures.Region, currency: str, negative: bool) -> tuple[str, str]:
    """What stands before and behind an amount; babel takes too long over it to be asked at every figure."""
    pattern = Locale.parse(region.money_like or region.locale).currency_formats["standard"]
    one = pattern.apply(Decimal(-1 if negative else 1), region.locale, currency=currency)
    before, _, rest = one.partition("1")
    return before, re.sub(r"^[.,\d]*", "", rest)


def day(on: date) -> str:
    """A day with its weekday: "Fri, Dec 11, 2026", in Germany "Fri, 11 Dec 2026"."""
    region = figures.current()
    return _formatted(on, region.day, region.locale)


def short_day(on: date) -> str:
    """A day whose year is told elsewhere: "Fri, Dec 11"."""
    region = figures.current()
    return _formatted(on, region.short_day, region.locale)


@lru_cache(maxsize=512)
def _formatted(on: date, pattern: str, locale: str) -> str:
    """Babel takes too long over a day to be asked at every edit."""
    return str(format_date(on, pattern, locale=locale))


def length(length_mm: float, unit: LengthUnit) -> str:
    """A length in the shop's unit."""
    return format_length(length_mm, unit)


def size(width_mm: float, height_mm: float, unit: LengthUnit) -> str:
    """A size in the shop's unit, the unit once."""
    return format_size(width_mm, height_mm, unit)


def place(location: Location, place_name: str) -> str:
    """The location as the trade says it, or the shop's own name for another place."""
    return place_name if location is Location.OTHER and place_name else kind_name(location)


def count(number: int, one: str, many: str | None = None) -> str:
    """ "1 sheet", "3 sheets"."""
    return f"{figures.whole(number)} {one if number == 1 else many or one + 's'}"


def share(value: float) -> str:
    """A share as percent, one digit that means something: "2.9 %", "12 %", "under 0.1 %"."""
    percent = value * 100
    if 0 < percent < 0.1:
        return f"under {figures.plain(0.1, 1)} %"
    return f"{figures.written(f'{percent:.{1 if percent < 9.95 else 0}f}'.removesuffix('.0'))} %"


def percent(value: float | Decimal) -> str:
    """A percentage with one decimal: "37.4 %"."""
    return f"{figures.decimal(value, 1)} %"


def bound(order: Order, currency: str) -> str:
    """How near an order is to the least it could cost, and what the proof holds for; empty where unknown."""
    least, gap = order.least_cost, order.gap
    if least is None or gap is None:
        return ""
    held = "".join(
        (
            f" of at most {count(order.most_layouts, 'distinct layout')}" if order.most_layouts else "",
            " on one sheet size" if order.one_size else "",
        )
    )
    if gap <= 0:
        return f"Proven: no order{held} costs less at this offer."
    return (
        f"Proven: no order{held} costs less than {money(least, currency)} at this offer. "
        f"This one is at most {share(gap)} above that."
    )


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


# ASTM C1055 for contact with hot metal; the other cautions are common practice.
_CAUTIONS = {
    Caution.BURN: (
        f"The platen burns skin at a touch: metal at {format_temperature(CONTACT_BURN_C)} takes five seconds "
        "(ASTM C1055), and this is far hotter. Keep hands, cords and sleeves clear of it."
    ),
    Caution.PINCH: "The press closes with force: fingers out before the handle moves.",
    Caution.ATTEND: "Heat-proof surface, never unattended, off and unplugged at the end.",
    Caution.VENTILATE: "Press in a ventilated room.",
    Caution.TEST_FIRST: "Press one test piece, or a hidden spot, before the run.",
    Caution.WHO_WINS: (
        "These are starting values. The garment's care label, the transfer printer's sheet and the press "
        "maker's manual always win."
    ),
    Caution.LOCAL_CODES: (
        "Local fire, electrical and workplace codes prevail; "
        "wiring and exhaust work belongs to licensed trades."
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


_PLACING = (
    "Fold the transfer, crease top and bottom lightly, lay the crease {line}; print side as its sheet says"
)
_ON_CENTRE = "on the centre lines of {part} and platen"
_ASIDE = "at its distance from the {part}’s centre line"


def seconds(duration_s: float) -> str:
    return f"{figures.short(duration_s)} s"


def press_step(step: PressStep) -> str:
    """One step of a press card as an instruction."""
    if step.kind is StepKind.SET_PRESS and step.setting_c is not None:
        pressure = f", {kind_name(step.pressure)} pressure" if step.pressure else ""
        return f"Set the press to {format_temperature(step.setting_c)}{pressure}"
    if step.kind is StepKind.PEEL and step.peel is not None:
        return _PEELS[step.peel]
    time = f" for {seconds(step.seconds)}" if step.seconds else ""
    return {
        StepKind.SET_PRESS: "Set the press",
        StepKind.PAD: (
            "Thread the garment over the platen, or lay a pad in it: no pressure on its "
            + " and ".join(step.hard_parts)
        ),
        StepKind.PRE_PRESS: f"Pre-press the bare garment{time}: drives out moisture, flattens wrinkles",
        StepKind.PLACE: _PLACING.format(
            line=(_ON_CENTRE if step.on_centre else _ASIDE).format(part=step.part)
        ),
        StepKind.COVER: "Lay the cover sheet over it",
        StepKind.PRESS: f"Press{time}",
        StepKind.COVER_FINISHED: "Cover the finished prints on this garment; keep them covered",
        StepKind.SHIFT: f"Shift the garment and press{time} again, until all of the print was pressed",
        StepKind.PEEL: "Peel",
        StepKind.SECOND_PRESS: f"Cover and press again{time}",
        StepKind.COOL: f"Let it cool{time} before folding",
    }[step.kind]


def _written(value: float | None, figure: Figure, unit: LengthUnit) -> str:
    if value is None:
        return "?"
    if figure is Figure.SHARE:
        return f"{value * 100:.0f}" if value >= 0.095 else figures.plain(value * 100, 1)
    if figure is Figure.FINE_MM:
        return f"{figures.plain(value, 2)} mm"
    if figure is Figure.LENGTH:
        return length(value, unit)
    if figure is Figure.AREA:
        return format_area(value, unit)
    if figure is Figure.TEMPERATURE:
        return format_temperature(value)
    if figure is Figure.PERCENT:
        return figures.written(f"{value:,.1f}".removesuffix(".0"))
    return figures.decimal(value, 0)


def finding(what: Finding, unit: LengthUnit) -> str:
    """What a check noticed, with its figures, and what to do about it."""
    sentence = SENTENCES[what.kind]
    return _fitting(sentence, what).format(
        found=_written(what.found, sentence.figure, unit),
        needed=_written(what.needed, sentence.needed_figure or sentence.figure, unit),
        left=_written(_left(what), sentence.needed_figure or sentence.figure, unit),
        subject=f" ({_named(subject_name(what))})" if what.subject else "",
        better=_better(what, unit),
        wider=_wider(what, unit),
        seen=_seen(what, unit),
        area=f" ({format_area(what.area_mm2, unit)})" if what.area_mm2 is not None else "",
        apart=f", ΔE {figures.plain(what.difference_de, 1)} where {figures.short(what.needed)} is wanted"
        if what.difference_de is not None and what.needed is not None
        else "",
        on_cloth=_ON_CLOTH[what.on_dark],
        cloth=f", such as {what.detail}" if what.detail else "",
        fonts=f" ({what.detail})" if what.detail else "",
    )


def _left(what: Finding) -> float | None:
    if what.found is None or what.needed is None:
        return None
    return what.needed - what.found


_ON_CLOTH = {
    True: "on this dark cloth the white under it shows as a milky haze",
    False: "on this light cloth it prints as a patchy tint with a hard rim",
    None: "it can print as a milky haze",
}
_MOST_SMALLER, _MOST_LARGER = 4.0, 1.6
"""Nobody prints a back as small as a thumb or a chest as large as a back: past that other artwork helps."""


def _named(subject: str) -> str:
    """A subject as people say it: colours by their everyday words."""
    return colour_name(subject) if _HEX.fullmatch(subject) else subject


def is_within_reach(what: Finding) -> bool:
    """Whether the width that would do is near enough to the present one to be worth a thought."""
    if not what.best_width_mm or not what.found or not what.needed:
        return False
    most = _MOST_SMALLER if what.kind is FindingKind.TOO_COARSE else _MOST_LARGER
    return what.needed / what.found <= most


def _better(what: Finding, unit: LengthUnit) -> str:
    """What would make up for a lack of pixels: a width, or so many of them."""
    if not what.best_width_mm or not what.found or not what.needed:
        return "Ask for a larger file."
    # Now it has as many pixels as the best width needs; the present width needs more in proportion.
    pixels = what.best_width_mm / MM_PER_INCH * what.needed * what.needed / what.found
    # Both figures are rounded, which must not add ten pixels.
    pixels_wide = figures.whole(math.ceil(pixels / 10 - 0.1) * 10)
    file = f"ask for a file some {pixels_wide} px wide"
    if not is_within_reach(what):
        return f"{file[:1].upper()}{file[1:]}."
    return f"Print it {length(what.best_width_mm, unit)} wide, or {file}."


def _wider(what: Finding, unit: LengthUnit) -> str:
    if what.best_width_mm is None or not is_within_reach(what):
        return "larger"
    return f"{length(what.best_width_mm, unit)} wide"


def _seen(what: Finding, unit: LengthUnit) -> str:
    """What the eye resolves, in ppi, from where such a print is usually looked at (ISO 8596)."""
    if what.viewing_mm is None:
        return ""
    step_mm = MM_PER_INCH if unit is LengthUnit.INCH else 10.0
    away = length(round(what.viewing_mm / step_mm) * step_mm, unit)
    return f"Looked at from {away}, the eye resolves {eye_ppi(what.viewing_mm):.0f}. "


def found(what: Finding, unit: LengthUnit) -> str:
    """The figure found alone, as the sentence writes it."""
    return _written(what.found, SENTENCES[what.kind].figure, unit)


def _fitting(sentence: Sentence, what: Finding) -> str:
    if what.offer_open and sentence.usual:
        return sentence.usual
    if what.found is None and sentence.unknown:
        return sentence.unknown
    if what.needed == 0 and sentence.none:
        return sentence.none
    return sentence.one if what.found == 1 and sentence.one else sentence.text
