"""What figures were before an edit, for pages whose figures are worked out behind the window. No Qt here."""

from collections.abc import Hashable, Mapping

from planner.window.told import Told


class Before:
    """Remembers figures as somebody last looked at them, and tells those that an edit changed since.

    A figure that a search bettered without an edit is no change. A quick answer is not held against one
    that was searched for: whoever names figures puts the way they were found into their keys.
    """

    def __init__(self) -> None:
        self._asked: object = None
        self._edits = 0
        self._seen: dict[Hashable, Told] = {}
        self._now: dict[Hashable, tuple[Told, int]] = {}
        """Each figure with the number of edits before it was worked out."""

    def ask(self, asked: object) -> None:
        """From here on figures are wanted for this; it is an edit where it is not what was asked before."""
        if asked != self._asked:
            self._asked = asked
            self._edits += 1

    def take(self, figures: Mapping[Hashable, Told]) -> None:
        """Take figures that were worked out for what is asked now."""
        for key, told in figures.items():
            last, at = self._now.get(key, (told, self._edits))
            if at == self._edits and not last.was(self._seen.get(key, last)):
                self._seen[key] = told
            self._now[key] = (told, self._edits)

    def was(self, key: Hashable) -> str:
        """What a figure was when somebody last looked; empty where it is the same."""
        seen, now = self._seen.get(key), self._now.get(key)
        return now[0].was(seen) if seen and now else ""

    def look_at(self) -> bool:
        """Somebody knows the job as it is; figures still to come for it are nobody's change.

        Whether any figure was told to be another one until now.
        """
        changed = any(self.was(key) for key in self._seen)
        self._now = {key: (told, at) for key, (told, at) in self._now.items() if at == self._edits}
        self._seen = {key: told for key, (told, _) in self._now.items()}
        return changed
