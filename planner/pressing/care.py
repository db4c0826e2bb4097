"""What the customer's care card says, as kinds and figures; `planner.plan.wording_care` has the sentences.

Wash, bleach, dry, iron and professional care are the five things a care label speaks of (ISO 3758:2012;
16 CFR 423.1 and 423.6 name the same). What is advised for prints is common practice.
"""

from enum import StrEnum

from planner.job.document import GarmentLine, Job
from planner.pressing.cards import label_limit_c
from planner.shop.book import Shop
from planner.shop.cloth import IRON_LIMIT_C, Fibre
from planner.shop.document import Document
from planner.shop.garments import GarmentKind

WAIT_H = 24
"""From pressing to the first wash (common practice)."""


class CareKind(StrEnum):
    """Pieces of advice, in the order a person needs them."""

    WAIT = "wait before the first wash"
    INSIDE_OUT = "inside out"
    WASH_COOL = "wash cool"
    SPONGE = "sponge clean"
    NO_BLEACH = "no bleach"
    NO_SOFTENER = "no softener"
    DRY_LOW = "dry low"
    LINE_DRY = "line dry"
    IRON_AWAY = "iron away from the print"
    NO_IRON = "do not iron"
    NO_SOLVENT = "no dry-cleaning on the print"
    LABEL_WINS = "label wins"


class CareAdvice(Document):
    """One piece of advice; its figure is hours to wait or °C, where the kind has one."""

    kind: CareKind
    figure: float | None = None


class CareCard(Document):
    """How to care for the garments of one line."""

    line: str
    style: str
    colour_name: str
    advice: tuple[CareAdvice, ...]


WASH_C = 30.0
"""The mildest wash a label names (ISO 3758:2012)."""
_NOT_WASHED = (GarmentKind.CAP, GarmentKind.TOTE)


def care_cards(job: Job, shop: Shop) -> tuple[CareCard, ...]:
    """One card for each garment line that carries prints."""
    printed = {print_.line for print_ in job.prints}
    return tuple(
        CareCard(
            line=line.key,
            style=line.style,
            colour_name=line.colour.name,
            advice=tuple(_advice(line, _iron_c(job, shop, line))),
        )
        for line in job.lines
        if line.key in printed and line.count
    )


def _iron_c(job: Job, shop: Shop, line: GarmentLine) -> float | None:
    """How hot an iron may be: what the label allows, and a dot under the heat that set the prints.

    Near that heat a print lets go again, from the inside too (from memory). None where nothing is known.
    """
    offers = (shop.offer(job.offer_of(print_) or "") for print_ in job.prints_on(line.key))
    settings = [offer.press.setting_c for offer in offers if offer is not None]
    known = [] if (limit_c := label_limit_c(line)) is None else [limit_c]
    if settings:
        coolest_c = min(settings)
        known.append(max((dot_c for dot_c in IRON_LIMIT_C.values() if 0 < dot_c < coolest_c), default=0.0))
    return min(known, default=None)


def _advice(line: GarmentLine, iron_c: float | None) -> list[CareAdvice]:
    advice = [CareAdvice(kind=CareKind.WAIT, figure=WAIT_H)]
    if line.kind in _NOT_WASHED:
        advice.append(CareAdvice(kind=CareKind.SPONGE))
    else:
        advice.append(CareAdvice(kind=CareKind.INSIDE_OUT))
        advice.append(CareAdvice(kind=CareKind.WASH_COOL, figure=WASH_C))
    advice += [CareAdvice(kind=CareKind.NO_BLEACH), CareAdvice(kind=CareKind.NO_SOFTENER)]
    # Wool felts and stretch cloth slackens in the tumble dryer (common practice).
    delicate = line.cloth.percent_of(Fibre.WOOL) or line.cloth.percent_of(Fibre.SPANDEX)
    if delicate or line.kind in _NOT_WASHED:
        advice.append(CareAdvice(kind=CareKind.LINE_DRY))
    else:
        advice.append(CareAdvice(kind=CareKind.DRY_LOW))
    if iron_c == 0:
        advice.append(CareAdvice(kind=CareKind.NO_IRON))
    else:
        advice.append(CareAdvice(kind=CareKind.IRON_AWAY, figure=iron_c))
    advice += [CareAdvice(kind=CareKind.NO_SOLVENT), CareAdvice(kind=CareKind.LABEL_WINS)]
    return advice
