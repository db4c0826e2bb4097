"""Press cards: for each print the settings, steps, places and cautions in working order."""

from collections.abc import Mapping
from types import MappingProxyType

from planner.job.document import GarmentLine, Job, Print, SizeCount
from planner.job.pieces import print_size
from planner.pressing.card import Caution, PressCard, PressStep, SizeToPress, StepKind, WorkStep
from planner.pressing.hard_parts import under_pressure
from planner.pressing.placement import place
from planner.pressing.platen import pressings_on
from planner.pressing.usual import SIDES, Side
from planner.pressing.work_order import NO_PRESS, press_work
from planner.shop.book import Press, Shop
from planner.shop.cloth import IRON_LIMIT_C
from planner.shop.document import changed
from planner.shop.garments import HardPart, SizeGroup
from planner.shop.offers import Offer, PressSetting

_PARTS = {Side.LEFT_SLEEVE: "sleeve", Side.RIGHT_SLEEVE: "sleeve", Side.LEG: "leg", Side.CAP: "cap"}
_ALWAYS = tuple(caution for caution in Caution if caution is not Caution.CHILDREN)


def press_cards(
    job: Job, shop: Shop, label_decisions: Mapping[str, str] = MappingProxyType({})
) -> tuple[PressCard, ...]:
    """One card for each print that has an offer and garments to go on, in the order of the job's prints.

    `label_decisions` holds why the shop presses a print hotter than the care label, by the print's key.
    """
    steps = press_work(job, shop).steps
    planned = {step.print: (at, step) for at, step in enumerate(steps, start=1)}
    presses = {press.key: press for press in (*shop.presses, NO_PRESS)}
    cards = []
    for print_ in job.prints:
        offer = shop.offer(job.offer_of(print_) or "")
        if offer is not None and print_.key in planned:
            position, step = planned[print_.key]
            card = _card(job, print_, offer, position, step, presses[step.press])
            cards.append(changed(card, label_decision=label_decisions.get(print_.key, "")))
    return tuple(cards)


def label_limit_c(line: GarmentLine) -> float | None:
    """The care label's ironing limit in °C; 0 where it forbids ironing, None where it is not known."""
    return None if line.cloth.iron_dots is None else IRON_LIMIT_C[line.cloth.iron_dots]


def _card(job: Job, print_: Print, offer: Offer, position: int, step: WorkStep, press: Press) -> PressCard:
    line = job.line(print_.line)
    sizes = tuple(_size_to_press(job, print_, size, press) for size in line.sizes if size.count)
    most = max(sizes, key=lambda size: size.count)
    group = next(size.group for size in line.sizes if size.size == most.size)
    placed = place(print_, group, line.kind)
    pressings = max(size.pressings for size in sizes)
    limit_c = label_limit_c(line)
    for_children = any(
        size.count and size.group in (SizeGroup.YOUTH, SizeGroup.INFANT) for size in line.sizes
    )
    return PressCard(
        line=line.key,
        print=print_.key,
        offer=offer.key,
        location=print_.location,
        place_name=print_.place_name,
        setting_c=offer.press.setting_c,
        press_s=offer.press.press_s,
        pressure=offer.press.pressure,
        peel=offer.press.peel,
        steps=_steps(
            offer.press,
            pressings=pressings,
            cover=step.cover_finished,
            hard_parts=under_pressure(line.hard_parts, SIDES[print_.location]),
            placing=PressStep(
                kind=StepKind.PLACE,
                part=_PARTS.get(SIDES[print_.location], "garment"),
                on_centre=not any(size.aside_mm for size in sizes),
            ),
        ),
        top_mm=placed.top_mm,
        aside_mm=placed.aside_mm,
        measured_from=placed.measured_from,
        measured_to=placed.measured_to,
        sizes=sizes,
        cautions=(*_ALWAYS, Caution.CHILDREN) if for_children else _ALWAYS,
        pressings=pressings,
        press=press.key,
        position=position,
        cover_finished=step.cover_finished,
        label_limit_c=limit_c,
        over_label=limit_c is not None and offer.press.setting_c > limit_c,
    )


def _size_to_press(job: Job, print_: Print, size: SizeCount, press: Press) -> SizeToPress:
    printed = print_size(job.artwork(print_.artwork), print_.width_for(size.group))
    placed = place(print_, size.group, job.line(print_.line).kind)
    return SizeToPress(
        size=size.size,
        count=size.count,
        width_mm=printed.width_mm,
        height_mm=printed.height_mm,
        top_mm=placed.top_mm,
        aside_mm=placed.aside_mm,
        pressings=pressings_on(printed, press),
    )


def _steps(
    setting: PressSetting,
    *,
    pressings: int,
    cover: bool,
    hard_parts: tuple[HardPart, ...],
    placing: PressStep,
) -> tuple[PressStep, ...]:
    """The steps in working order; a print over the platen is shifted and pressed again before peeling."""
    steps = [
        PressStep(
            kind=StepKind.SET_PRESS,
            setting_c=setting.setting_c,
            seconds=setting.press_s,
            pressure=setting.pressure,
        )
    ]
    if hard_parts:
        steps.append(PressStep(kind=StepKind.PAD, hard_parts=hard_parts))
    if cover:
        steps.append(PressStep(kind=StepKind.COVER_FINISHED))
    if setting.pre_press_s:
        steps.append(PressStep(kind=StepKind.PRE_PRESS, seconds=setting.pre_press_s))
    steps.append(placing)
    if setting.cover_sheet:
        steps.append(PressStep(kind=StepKind.COVER))
    steps.append(
        PressStep(
            kind=StepKind.PRESS,
            setting_c=setting.setting_c,
            seconds=setting.press_s,
            pressure=setting.pressure,
        )
    )
    if pressings > 1:
        steps.append(PressStep(kind=StepKind.SHIFT, seconds=setting.press_s))
    steps.append(PressStep(kind=StepKind.PEEL, peel=setting.peel))
    if setting.second_press_s:
        steps.append(PressStep(kind=StepKind.SECOND_PRESS, seconds=setting.second_press_s))
    steps.append(PressStep(kind=StepKind.COOL))
    return tuple(steps)
