"""The order of work at the presses: fewest temperature resets, finished prints never pressed bare.

Two things are decided. Which press takes which print: each print goes to a press that puts it on with
the fewest closings, so that the presses' resets together are as few as possible; this is exact, see
`_assign`. And when: hottest first on every press, so that no finished print is pressed again at a
setting hotter than its own, and every print after the first on a garment is pressed with the finished
ones covered. Work is reckoned for one person, one step after the other; presses warm up side by side.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.job.document import Job, Print
from planner.job.pieces import pieces_of
from planner.pressing.card import PressWork, WorkStep
from planner.pressing.platen import pressings_on
from planner.shop.book import Press, Shop
from planner.shop.garments import Location
from planner.shop.offers import Offer, Peel

COOLING_S = {Peel.HOT: 0.0, Peel.WARM: 15.0, Peel.COLD: 40.0}
"""How long a transfer lies before it is peeled (from memory; its sheet wins)."""
NO_PRESS = Press(key="", name="", platen_width_mm=10_000, platen_height_mm=10_000)
"""Stands in where the shop book holds no press: the trade's usual times, and any size fits."""

# What people look at most is pressed last and so touched least (from memory).
_FIRST_TO_LAST = (
    Location.NAPE,
    Location.FULL_BACK,
    Location.LEFT_SLEEVE,
    Location.RIGHT_SLEEVE,
    Location.LEG,
    Location.OTHER,
    Location.TOTE_FRONT,
    Location.CAP_FRONT,
    Location.LEFT_CHEST,
    Location.FULL_FRONT,
)


@dataclass(frozen=True, slots=True)
class _Task:
    """One print on all garments of its line, and what it takes on each press that may do it."""

    print: Print
    line_at: int
    offer: Offer
    pieces: int
    pressings: dict[str, int]
    """Closings by press, of the presses that need the fewest."""

    @property
    def degrees(self) -> int:
        """What a press's display shows; equal settings need no reset."""
        return round(self.offer.press.setting_c)

    def seconds_on(self, press: Press) -> float:
        """The whole task on one press."""
        setting = self.offer.press
        each = setting.pre_press_s + setting.second_press_s + COOLING_S[setting.peel] + self.offer.finishing_s
        return self.pieces * each + self.pressings[press.key] * (press.loading_s + setting.press_s)


def press_work(job: Job, shop: Shop) -> PressWork:
    """The order of work over all prints with an offer, and its time; empty where there are none."""
    presses = shop.presses or (NO_PRESS,)
    tasks = _tasks(job, shop, presses)
    if not tasks:
        return PressWork()
    chosen = _assign(tasks, presses)
    by_key = {press.key: press for press in presses}
    place = {press.key: at for at, press in enumerate(presses)}
    ordered = sorted(tasks, key=lambda task: _rank(task, place[chosen[task.print.key]]))
    steps = _steps(ordered, chosen, by_key)
    used = {step.press for step in steps}
    warm_up_min = max(by_key[key].warm_up_min for key in used)
    reset_min = sum(by_key[step.press].reset_min for step in steps if step.reset_before)
    return PressWork(
        steps=steps,
        resets=sum(step.reset_before for step in steps),
        warm_up_min=warm_up_min,
        reset_min=round(reset_min, 2),
        total_min=round(warm_up_min + reset_min + sum(step.minutes for step in steps), 2),
    )


def _tasks(job: Job, shop: Shop, presses: Sequence[Press]) -> tuple[_Task, ...]:
    tasks = []
    line_at = {line.key: at for at, line in enumerate(job.lines)}
    for print_ in job.prints:
        offer = shop.offer(job.offer_of(print_) or "")
        pieces = pieces_of(job, print_)
        if offer is None or not pieces:
            continue
        closings = {
            press.key: sum(piece.count * pressings_on(piece.size, press) for piece in pieces)
            for press in presses
        }
        fewest = min(closings.values())
        tasks.append(
            _Task(
                print=print_,
                line_at=line_at[print_.line],
                offer=offer,
                pieces=sum(piece.count for piece in pieces),
                pressings={key: count for key, count in closings.items() if count == fewest},
            )
        )
    return tuple(tasks)


def _rank(task: _Task, press_at: int) -> tuple[int, int, int, int]:
    return -task.degrees, press_at, task.line_at, _FIRST_TO_LAST.index(task.print.location)


@dataclass(frozen=True, slots=True)
class _Shared:
    """How far the temperatures looked at so far are shared out, and at what price."""

    resets: int = 0
    minutes: float = 0.0
    chosen: tuple[tuple[str, str], ...] = ()
    """Print and press."""


def _assign(tasks: Sequence[_Task], presses: Sequence[Press]) -> dict[str, str]:
    """The press of each print such that resets, then minutes, then presses used are fewest.

    A press resets once for each temperature it is set to after its first, in whatever order. So what
    matters is which presses are set to which temperature: for each temperature a set of presses that
    leaves no print without one it may go on. Only sets from which no press can be left out need a look:
    one more press adds a reset unless it was unused, and then saves none elsewhere. What the next
    temperatures cost depends only on which presses are already in use, so the best way to each such
    state is kept and the search is exact.
    """
    states: dict[frozenset[str], _Shared] = {frozenset(): _Shared()}
    for _, group in itertools.groupby(
        sorted(tasks, key=lambda task: -task.degrees), key=lambda task: task.degrees
    ):
        together = tuple(group)
        covers = _least_covers(together, presses)
        following: dict[frozenset[str], _Shared] = {}
        for used, so_far in states.items():
            for cover in covers:
                state = used | {press.key for press in cover}
                reached = _share(together, cover, used, so_far)
                best = following.get(state)
                if best is None or _price(reached) < _price(best):
                    following[state] = reached
        states = following
    warm_up_min = {press.key: press.warm_up_min for press in presses}

    def whole(state: frozenset[str]) -> tuple[int, float, int]:
        reached = states[state]
        return reached.resets, reached.minutes + max(warm_up_min[key] for key in state), len(state)

    return dict(states[min(states, key=whole)].chosen)


def _price(shared: _Shared) -> tuple[int, float]:
    return shared.resets, shared.minutes


def _least_covers(tasks: Sequence[_Task], presses: Sequence[Press]) -> list[tuple[Press, ...]]:
    """Sets of presses that take all these prints and from which none can be left out."""
    covers: list[tuple[Press, ...]] = []
    for count in range(1, min(len(presses), len(tasks)) + 1):
        for chosen in itertools.combinations(presses, count):
            keys = {press.key for press in chosen}
            if any({press.key for press in smaller} <= keys for smaller in covers):
                continue
            if all(keys & task.pressings.keys() for task in tasks):
                covers.append(chosen)
    return covers


def _share(
    tasks: Sequence[_Task], cover: tuple[Press, ...], used: frozenset[str], so_far: _Shared
) -> _Shared:
    """Prints of one temperature shared out over these presses, each to its quickest."""
    reset_on = [press for press in cover if press.key in used]
    minutes = so_far.minutes + sum(press.reset_min for press in reset_on)
    chosen = list(so_far.chosen)
    for task in tasks:
        press = min(
            (press for press in cover if press.key in task.pressings),
            key=lambda press: task.seconds_on(press),
        )
        chosen.append((task.print.key, press.key))
        minutes += task.seconds_on(press) / 60
    return replace(so_far, resets=so_far.resets + len(reset_on), minutes=minutes, chosen=tuple(chosen))


def _steps(
    ordered: Sequence[_Task], chosen: dict[str, str], presses: dict[str, Press]
) -> tuple[WorkStep, ...]:
    steps = []
    set_to: dict[str, int] = {}
    begun: set[str] = set()
    for task in ordered:
        press = presses[chosen[task.print.key]]
        seconds = task.seconds_on(press)
        steps.append(
            WorkStep(
                press=press.key,
                print=task.print.key,
                line=task.print.line,
                setting_c=task.offer.press.setting_c,
                pieces=task.pieces,
                minutes=round(seconds / 60, 2),
                reset_before=set_to.get(press.key, task.degrees) != task.degrees,
                cover_finished=task.print.line in begun,
                seconds_each=round(seconds / task.pieces, 1),
                pressings=task.pressings[press.key],
            )
        )
        set_to[press.key] = task.degrees
        begun.add(task.print.line)
    return tuple(steps)
