"""Does this selection of pieces go on one sheet? Asked thousands of times by the search, so remembered.

Pieces of one size are alike to the packer whatever is printed on them. What packs, packs with fewer
pieces too; what failed with fewer pieces fails with more.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.arrange import most_copies, pack_one

Counts = tuple[int, ...]


class Packer:
    """Packs copies of the wants on one sheet size, in one way of cutting."""

    def __init__(
        self,
        wants: Sequence[Want],
        sheet: Size,
        *,
        gap_mm: float,
        margin_mm: float,
        way: Way,
        seed: int = 0,
        budget_s: float = 0.03,
    ) -> None:
        self.wants = tuple(wants)
        self.sheet = sheet
        self.gap_mm = gap_mm
        self.margin_mm = margin_mm
        self.way = way
        self._seed = seed
        self._budget_s = budget_s
        alike: dict[object, int] = {}
        self.kinds = tuple(alike.setdefault(_likeness(want), len(alike)) for want in self.wants)
        self._first = tuple(self.wants[self.kinds.index(kind)] for kind in range(len(alike)))
        room = (sheet.width_mm - 2 * margin_mm + gap_mm) * (sheet.height_mm - 2 * margin_mm + gap_mm)
        self.shares = tuple(
            (want.size.width_mm + gap_mm) * (want.size.height_mm + gap_mm) / room for want in self.wants
        )
        """Share of a sheet's room that one copy takes up at least, gaps included (boxes, not outlines)."""
        self._most: dict[int, tuple[int, Layout]] = {}
        self._packed: list[tuple[Counts, Layout]] = []
        self._known: dict[Counts, Layout | None] = {}
        self._known_rounds: dict[Counts, int] = {}

    @property
    def is_of_one_kind(self) -> bool:
        """Whether all wants are alike, which makes packing a count of places."""
        return len(self._first) == 1

    def most(self, number: int) -> int:
        """Copies of one want that go on a sheet which carries nothing else."""
        return self._alone(self.kinds[number])[0]

    def filled(self, number: int) -> Layout:
        """A sheet with as many copies of one want as it takes."""
        counts = [0] * len(self.wants)
        counts[number] = self.most(number)
        return self._named(self._alone(self.kinds[number])[1], counts)

    def pack(self, counts: Sequence[int], *, rounds: int = 1) -> Layout | None:
        """A layout with so many copies of each want, or None where none was found."""
        layout = self._asked(counts, rounds)
        return None if layout is None else self._named(layout, counts)

    def packs(self, counts: Sequence[int], *, rounds: int = 1) -> bool:
        """Whether `pack` finds a layout."""
        return self._asked(counts, rounds) is not None

    def learn(self, counts: Sequence[int], layout: Layout) -> None:
        """Remember a layout with so many copies of each want that was found elsewhere."""
        number = {want.key: at for at, want in enumerate(self.wants)}
        placements = tuple(
            replace(placed, print=str(self.kinds[number[placed.print]])) for placed in layout.placements
        )
        by_kind = Layout(layout.sheet, placements)
        asked = self._by_kind(counts)
        self._packed.append((asked, by_kind))
        self._known[asked] = by_kind

    def known_to_pack(self) -> tuple[Counts, ...]:
        """Copies of each want on layouts found so far, none part of another; empty where wants are alike."""
        if len(self._first) < len(self.wants):
            return ()
        alone = [
            tuple(self.most(number) if other == number else 0 for other in range(len(self.wants)))
            for number in range(len(self.wants))
        ]
        found = np.array([*dict.fromkeys([counts for counts, _ in self._packed] + alone)])
        within = (found[:, None, :] <= found[None, :, :]).all(axis=2).sum(axis=1) > 1
        return tuple(tuple(int(count) for count in column) for column in found[~within])

    def _by_kind(self, counts: Sequence[int]) -> Counts:
        by_kind = [0] * len(self._first)
        for kind, count in zip(self.kinds, counts, strict=True):
            by_kind[kind] += count
        return tuple(by_kind)

    def _asked(self, counts: Sequence[int], rounds: int) -> Layout | None:
        asked = self._by_kind(counts)
        layout = self._known.get(asked)
        if layout is None and rounds > self._known_rounds.get(asked, 0):
            layout = self._within(asked) or self._search(asked, rounds)
            self._known[asked] = layout
            self._known_rounds[asked] = rounds
        return layout

    def _within(self, asked: Counts) -> Layout | None:
        """A layout already found that carries at least as much."""
        kinds = [kind for kind, count in enumerate(asked) if count]
        if len(kinds) == 1 and asked[kinds[0]] <= self._alone(kinds[0])[0]:
            return self._alone(kinds[0])[1]
        for counts, layout in reversed(self._packed[-200:]):
            if all(have >= want for have, want in zip(counts, asked, strict=True)):
                return layout
        return None

    def _search(self, asked: Counts, rounds: int) -> Layout | None:
        if sum(s * c for s, c in zip(self._kind_shares(), asked, strict=True)) > 1 + 1e-9:
            return None
        layout = pack_one(
            tuple(
                want.piece(count, key=str(kind))
                for kind, (want, count) in enumerate(zip(self._first, asked, strict=True))
                if count
            ),
            self.sheet,
            gap_mm=self.gap_mm,
            margin_mm=self.margin_mm,
            way=self.way,
            budget_s=self._budget_s,
            seed=self._seed,
            rounds=rounds,
        )
        if layout is not None:
            self._packed.append((asked, layout))
        return layout

    def _kind_shares(self) -> tuple[float, ...]:
        if self.way is Way.OUTLINE:
            return tuple(0.0 for _ in self._first)
        return tuple(self.shares[self.kinds.index(kind)] for kind in range(len(self._first)))

    def _alone(self, kind: int) -> tuple[int, Layout]:
        if kind not in self._most:
            best = most_copies(
                self._first[kind].piece(1, key=str(kind)),
                self.sheet,
                gap_mm=self.gap_mm,
                margin_mm=self.margin_mm,
                way=self.way,
            )
            self._most[kind] = (len(best.placements), best)
        return self._most[kind]

    def _named(self, layout: Layout, counts: Sequence[int]) -> Layout:
        """The layout with kinds replaced by wants, surplus placements left out."""
        left = Counter({number: count for number, count in enumerate(counts) if count})
        waiting: dict[int, list[int]] = {}
        for number in left:
            waiting.setdefault(self.kinds[number], []).append(number)
        placements = []
        for placement in layout.placements:
            queue = waiting.get(int(placement.print))
            if not queue:
                continue
            number = queue[0]
            left[number] -= 1
            if not left[number]:
                queue.pop(0)
            placements.append(self._as(self.wants[number], placement))
        return Layout(layout.sheet, tuple(placements))

    def _as(self, want: Want, placement: Placement) -> Placement:
        turned = placement.turned_deg
        if want.outline is None:
            lies = abs(placement.width_mm - want.size.width_mm) < 1e-6
            turned = 0.0 if lies else 90.0
        return Placement(
            want.key, placement.x_mm, placement.y_mm, placement.width_mm, placement.height_mm, turned
        )


def _likeness(want: Want) -> object:
    sides = (round(want.size.width_mm, 6), round(want.size.height_mm, 6))
    if want.outline is not None:
        return (sides, want.may_turn, want.any_angle, want.outline)
    return (tuple(sorted(sides)) if want.may_turn else sides, want.may_turn)
