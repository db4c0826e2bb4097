"""A figure with the way it is said, so that what it was can be told in the region of now. No Qt here."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Self


@dataclass(frozen=True, slots=True)
class Told:
    """A figure as it is shown; two are equal where they read the same."""

    text: str
    _value: Any = field(compare=False, repr=False)
    _say: Callable[[Any], str] = field(compare=False, repr=False)

    @classmethod
    def of(cls, value: Any, say: Callable[[Any], str] = str) -> Self:
        """The figure said as region and unit are now."""
        return cls(say(value), value, say)

    def again(self) -> str:
        """The same figure said as region and unit are now."""
        return self._say(self._value)

    def was(self, before: Self) -> str:
        """What `before` is in the words of this one; empty where that reads the same."""
        if before._value == self._value:
            return ""
        text = self._say(before._value)
        return text if text != self.again() else ""
