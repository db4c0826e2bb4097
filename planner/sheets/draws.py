"""What a search draws by chance: a few of many, one of several, an order that is not quite by size."""

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

T = TypeVar("T")

Chance = Callable[[], float]
"""The next number from 0 up to, but not, 1."""


def one_of(choices: Sequence[T], chance: Chance) -> T:
    """One of the choices, each as likely as any other."""
    return choices[int(chance() * len(choices))]


def some_of(count: int, many: int, chance: Chance) -> list[int]:
    """So many different numbers below the count, or all of them where there are fewer."""
    many = min(count, many)
    chosen: list[int] = []
    while len(chosen) < many:
        number = int(chance() * count)
        if number not in chosen:
            chosen.append(number)
    return chosen


def largest_first(kinds: Iterable[int], measure: Sequence[float], noise: float, chance: Chance) -> list[int]:
    """Kinds by falling measure, each times a number within half the noise of 1."""
    base = 1 - noise / 2
    keyed = [(measure[kind] * (base + noise * chance()), kind) for kind in kinds]
    keyed.sort(reverse=True)
    return [kind for _, kind in keyed]
