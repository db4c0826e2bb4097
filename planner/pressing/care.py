"""What the customer's care card says, as kinds and figures; `planner.plan.wording_care` has the sentences.

Wash, bleach, dry, iron and professional care are the five things a care label speaks of (ISO 3758:2012;
16 CFR 423.1 and 423.6 name the same). What is advised for prints is common practice.
"""

from enum import StrEnum

from planner.job.document import GarmentLine, Job
from planner.pressing.cards import label_limit_c
from planner.shop.cloth import Fibre
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


def care_cards(job: Job) -> tuple[CareCard, ...]:
    """One card for each garment line that carries prints."""
    printed = {print_.line for print_ in job.prints}
    return tuple(
        CareCard(line=line.key, style=line.style, colour_name=line.colour.name, advice=tuple(_advice(line)))
        for line in job.lines
        if line.key in printed and line.count
    )


def _advice(line: GarmentLine) -> list[CareAdvice]:
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
    limit_c = label_limit_c(line)
    if limit_c == 0:
        advice.append(CareAdvice(kind=CareKind.NO_IRON))
    else:
        advice.append(CareAdvice(kind=CareKind.IRON_AWAY, figure=limit_c))
    advice += [CareAdvice(kind=CareKind.NO_SOLVENT), CareAdvice(kind=CareKind.LABEL_WINS)]
    return advice
