"""Axes of a chart: round ticks, figures to pixels, labels kept apart. No Qt here."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10


@dataclass(frozen=True, slots=True)
class Scale:
    """Maps figures from `low` to `high` onto pixels from `start` to `end` (which may run upwards)."""

    low: float
    high: float
    start: float
    end: float

    def pixel(self, figure: float) -> float:
        span = self.high - self.low
        return self.start + (figure - self.low) / span * (self.end - self.start) if span else self.start

    def figure(self, pixel: float) -> float:
        span = self.end - self.start
        return self.low + (pixel - self.start) / span * (self.high - self.low) if span else self.low


def step_for(span: float, most: int, *, least: float = 0.0) -> float:
    """The smallest step of 1, 2 or 5 times a power of ten that cuts a span into `most` parts or fewer."""
    if span <= 0 or most < 1:
        return max(1.0, least)
    rough = max(span / most, least)
    power = 10.0 ** floor(log10(rough))
    # A hair of slack: 0.2 / 0.1 must not come out above 2.
    return next(power * times for times in (1, 2, 5, 10) if power * times >= rough * (1 - 1e-9))


def ticks(low: float, high: float, step: float) -> tuple[float, ...]:
    """Multiples of a step from low to high, both included."""
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return tuple(number * step for number in range(first, last + 1))


def kept_apart(wanted: Sequence[float], height: float, lowest: float, highest: float) -> tuple[float, ...]:
    """Middles for labels of one height, as near to those wanted as they go without touching.

    From `lowest` to `highest` there must be room for all of them; otherwise they are spread evenly.
    """
    if not wanted:
        return ()
    order = sorted(range(len(wanted)), key=lambda number: wanted[number])
    room = highest - lowest
    if room < height * len(wanted):
        even = room / len(wanted)
        placed = [lowest + even * (number + 0.5) for number in range(len(wanted))]
    else:
        placed = []
        for number in order:
            least = placed[-1] + height if placed else lowest + height / 2
            placed.append(max(wanted[number], least))
        limit = highest - height / 2
        for at in range(len(placed) - 1, -1, -1):
            placed[at] = min(placed[at], limit)
            limit = placed[at] - height
    result = [0.0] * len(wanted)
    for number, middle in zip(order, placed, strict=True):
        result[number] = middle
    return tuple(result)
