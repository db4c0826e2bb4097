"""Slicing trees lose no piece, promise no room that is not there, and always come apart by straight cuts."""

from collections import Counter
from dataclasses import replace
from itertools import combinations
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.arrange import arrange
from planner.sheets.cuts import cut_list, replay
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet
from planner.sheets.maxrects import Box
from planner.sheets.problem import FixedSheet, Piece, Request
from planner.sheets.separable import is_separable
from planner.sheets.shapes import Placed, Shapes, layout_of, shapes_of
from planner.sheets.slicing import (
    Part,
    Tree,
    add_kinds,
    add_parts,
    pruned,
    put_down,
    sliced,
    slots_of,
    with_piece,
)
from planner.sheets.slicing_search import SlicingSearch
from planner.sheets.slots import Fit, best_slot
from planner.sheets.task import placed_box
from planner.sheets.validate import faults

WIDTH, HEIGHT = 60, 40
SIDES = st.tuples(st.integers(1, 25), st.integers(1, 25), st.integers(0, 999))
"""Width, height, and by which chance the slot is taken."""


def grown(sides: list[tuple[int, int, int]]) -> tuple[Tree, list[int]]:
    """A tree of as many pieces as find a slot, and the numbers of those that do."""
    tree: Tree = None
    kinds = []
    for kind, (width, height, pick) in enumerate(sides):
        slots = [s for s in slots_of(tree, WIDTH, HEIGHT, 1) if width <= s[0] and height <= s[1]]
        if slots:
            tree = with_piece(tree, slots[pick % len(slots)], Part(width, height, kind))
            kinds.append(kind)
    return tree, kinds


def boxes_of(tree: Tree, sides: list[tuple[int, int, int]]) -> list[Box]:
    placed: list[Placed] = []
    if tree is not None:
        put_down(tree, 0, 0, placed)
    return [(x, y, x + sides[kind][0], y + sides[kind][1]) for kind, x, y, _ in placed]


def assert_sound(tree: Tree, sides: list[tuple[int, int, int]], kinds: list[int]) -> None:
    """All pieces inside, apart and separable; every part as large as what is in it needs."""
    boxes = boxes_of(tree, sides)
    if tree is None:
        assert not kinds
        return
    held: list[int] = []
    add_kinds(tree, held)
    assert sorted(held) == sorted(kinds)
    assert tree.parts is None or tree.parent is None
    assert (tree.width, tree.height) == (max(box[2] for box in boxes), max(box[3] for box in boxes))
    assert tree.width <= WIDTH
    assert tree.height <= HEIGHT
    for one, other in combinations(boxes, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    assert is_separable(boxes)
    parts: list[Part] = []
    add_parts(tree, parts)
    for part in parts:
        for inner in part.parts or ():
            # Rows in rows would hide slots, and parents lead growth up to the root.
            assert inner.parts is None or (inner.is_row != part.is_row and inner.parent is part)
        assert part.parts is None or len(part.parts) > 1


@settings(max_examples=150, deadline=None)
@given(st.lists(SIDES, max_size=16))
def test_pieces_in_slots_stay_inside_apart_and_separable(sides: list[tuple[int, int, int]]) -> None:
    assert_sound(*_with_sides(sides))


def _with_sides(sides: list[tuple[int, int, int]]) -> tuple[Tree, list[tuple[int, int, int]], list[int]]:
    tree, kinds = grown(sides)
    return tree, sides, kinds


@settings(max_examples=150, deadline=None)
@given(st.lists(SIDES, min_size=1, max_size=16), st.lists(st.integers(0, 999), max_size=5))
def test_what_is_taken_out_is_handed_over_and_the_rest_stays_sound(
    sides: list[tuple[int, int, int]], picks: list[int]
) -> None:
    tree, kinds = grown(sides)
    assert tree is not None
    before = boxes_of(tree, sides)
    parts: list[Part] = []
    add_parts(tree, parts)
    out: list[int] = []
    copy = pruned(tree, {parts[pick % len(parts)] for pick in picks}, out)
    assert len(out) >= min(len(picks), 1)
    assert_sound(copy, sides, list((Counter(kinds) - Counter(out)).elements()))
    assert boxes_of(tree, sides) == before
    # What was taken out goes in again, elsewhere perhaps, if it fits.
    for kind in out:
        width, height, _ = sides[kind]
        found = best_slot(slots_of(copy, WIDTH, HEIGHT, 1), ((width, height, False),), Fit.TIGHTER_SIDE)
        if found is not None:
            copy = with_piece(copy, found[1], Part(width, height, kind))
        else:
            kinds.remove(kind)
    assert_sound(copy, sides, kinds)


@settings(max_examples=150, deadline=None)
@given(st.lists(SIDES, min_size=1, max_size=12))
def test_a_slot_takes_a_piece_as_large_as_it_says_and_not_a_hair_more(
    sides: list[tuple[int, int, int]],
) -> None:
    tree, _ = grown(sides)
    assert tree is not None
    for number, (width, height, *_) in enumerate(slots_of(tree, WIDTH, HEIGHT, 1)):
        for wider, higher in ((0, 0), (1, 0), (0, 1)):
            copy = pruned(tree, (), [])
            slot = slots_of(copy, WIDTH, HEIGHT, 1)[number]
            whole = with_piece(copy, slot, Part(width + wider, height + higher))
            assert (whole.width > WIDTH, whole.height > HEIGHT) == (wider > 0, higher > 0)


@settings(max_examples=150, deadline=None)
@given(st.lists(SIDES, min_size=1, max_size=12))
def test_a_piece_within_free_sides_makes_a_row_longer_at_its_end_alone(
    sides: list[tuple[int, int, int]],
) -> None:
    tree, _ = grown(sides)
    assert tree is not None
    for number in range(len(slots_of(tree, WIDTH, HEIGHT, 1))):
        copy = pruned(tree, (), [])
        slot = slots_of(copy, WIDTH, HEIGHT, 1)[number]
        _, _, width, height, home, mate, is_beside = slot
        if min(width, height) < 1:
            continue
        joins = home or copy
        assert joins is not None
        across, down = joins.width, joins.height
        whole = with_piece(copy, slot, Part(width, height))
        joined_one = home or whole
        is_at_end = home is None or mate is None
        assert joined_one.width == across + (width if is_at_end and is_beside else 0)
        assert joined_one.height == down + (height if is_at_end and not is_beside else 0)


def cut_up(chance: Random, width: int, height: int, pieces: int) -> list[Box]:
    """A sheet cut from edge to edge into so many pieces, nothing left and none very thin."""
    boxes = [(0, 0, width, height)]
    while len(boxes) < pieces:
        left, top, right, bottom = boxes.pop(max(range(len(boxes)), key=lambda at: _area(boxes[at])))
        share = chance.uniform(0.25, 0.75)
        if chance.random() * (right - left + bottom - top) < right - left:
            at = left + int(share * (right - left))
            boxes += [(left, top, at, bottom), (at, top, right, bottom)]
        else:
            at = top + int(share * (bottom - top))
            boxes += [(left, top, right, at), (left, at, right, bottom)]
    return boxes


def _area(box: Box) -> int:
    return (box[2] - box[0]) * (box[3] - box[1])


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 40))
def test_a_cut_up_sheet_is_a_tree_that_lies_as_the_pieces_did(seed: int, pieces: int) -> None:
    boxes = cut_up(Random(seed), 10_000, 7_000, pieces)
    tree = sliced(boxes, [(kind, False) for kind in range(pieces)])
    assert tree is not None
    placed: list[Placed] = []
    put_down(tree, 0, 0, placed)
    assert {(kind, x, y) for kind, x, y, _ in placed} == {
        (kind, left, top) for kind, (left, top, _, _) in enumerate(boxes)
    }


def test_a_pinwheel_is_no_tree() -> None:
    blades = [(0, 0, 60, 40), (60, 0, 100, 60), (40, 60, 100, 100), (0, 40, 40, 100)]
    assert sliced(blades, [(kind, False) for kind in range(4)]) is None
    assert sliced(blades[:3], [(kind, False) for kind in range(3)]) is not None
    assert sliced([], []) is None


def search_of(shapes: Shapes, room: tuple[int, int], seed: int = 0) -> SlicingSearch:
    return SlicingSearch(shapes, room, (tuple(map(float, shapes.areas)),), Random(seed).random)


def gone_together(
    shapes: Shapes, room: tuple[int, int], sheets: list[Sheet], unplaced: list[int], rounds: int
) -> tuple[list[Sheet], list[int]]:
    """The best that so many rounds find: sheets, and what lies on none."""
    best = sheets, unplaced

    def note(better: list[Sheet], left: list[int], area: int) -> None:
        nonlocal best
        assert area == sum(shapes.areas[kind] for kind in left)
        best = better, left[:]

    search_of(shapes, room).run(sheets, unplaced, Effort(60, rounds), note)
    return best


@pytest.mark.parametrize("seed", range(8))
def test_a_cut_up_sheet_goes_together_again_unless_a_piece_grew_by_a_hair(seed: int) -> None:
    width_mm, height_mm, gap_mm, margin_mm = 297.0, 420.0, 2.0, 5.0
    chance = Random(seed)
    # Grown pieces fill the room inside the margins, which is a gap wider and higher than it looks.
    room = (289_000, 412_000)
    boxes = cut_up(chance, 289, 412, 7)
    pieces = []
    for number, (left, top, right, bottom) in enumerate(boxes):
        sides = [right - left - gap_mm, bottom - top - gap_mm]
        chance.shuffle(sides)
        pieces.append(Piece(f"print {number}", *sides, 1))
    shapes = shapes_of(pieces, gap_mm=gap_mm, margin_mm=margin_mm)
    assert shapes.room(Size(width_mm, height_mm)) == room
    ((sheet,), left_over) = gone_together(shapes, room, [Sheet(*room)], shapes.items(), 400)
    assert not left_over
    layout = layout_of(shapes, sheet.placed, Size(width_mm, height_mm))
    assert not faults(layout, gap_mm=gap_mm, margin_mm=margin_mm, way=Way.STRAIGHT)
    assert replay(cut_list(layout), layout).is_clean
    hair = [replace(pieces[0], width_mm=pieces[0].width_mm + 0.001), *pieces[1:]]
    wider = shapes_of(hair, gap_mm=gap_mm, margin_mm=margin_mm)
    assert gone_together(wider, room, [Sheet(*room)], wider.items(), 40)[1]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(8, 150), st.integers(8, 150), st.booleans()), min_size=6, max_size=24),
    st.integers(1, 3),
    st.sampled_from([0, 3.175]),
)
def test_the_search_loses_nothing_and_every_sheet_has_a_cut_list(
    sides: list[tuple[int, int, bool]], many: int, gap_mm: float
) -> None:
    size = Size(200, 180)
    pieces = [Piece(f"print {i}", w, h, 1, may_turn) for i, (w, h, may_turn) in enumerate(sides)]
    shapes = shapes_of(pieces, gap_mm=gap_mm, margin_mm=4)
    room = shapes.room(size)
    sheets, left = gone_together(shapes, room, [Sheet(*room) for _ in range(many)], shapes.items(), 6)
    kinds = [*left, *(placed[0] for sheet in sheets for placed in sheet.placed)]
    assert sorted(kinds) == list(range(len(pieces)))
    for sheet in sheets:
        layout = layout_of(shapes, sheet.placed, size)
        assert sheet.area == sum(shapes.areas[placed[0]] for placed in sheet.placed)
        assert not any(turned and not shapes.turns[kind] for kind, _, _, turned in sheet.placed)
        assert not faults(layout, gap_mm=gap_mm, margin_mm=4, way=Way.STRAIGHT)
        assert replay(cut_list(layout), layout).is_clean


def test_pieces_of_a_sheet_that_does_not_come_apart_are_placed_anew() -> None:
    pieces = [Piece(f"blade {number}", 60, 40, 1) for number in range(4)]
    shapes = shapes_of(pieces, gap_mm=0, margin_mm=0)
    room = (120_000, 80_000)
    wheel = Sheet(*room, placed=[(0, 0, 0, False), (1, 60_000, 0, True), (2, 40_000, 60_000, False)])
    wheel.placed.append((3, 0, 40_000, True))
    ((sheet,), left) = gone_together(shapes, room, [wheel], [], 20)
    # Nothing was unplaced, so nothing better can be told of.
    assert (sheet, left) == (wheel, [])
    five = shapes_of([*pieces, Piece("dot", 1, 1, 1)], gap_mm=0, margin_mm=0)
    room = (121_000, 80_000)
    ((sheet,), left) = gone_together(five, room, [replace(wheel, width=121_000)], [4], 40)
    assert not left
    assert sorted(placed[0] for placed in sheet.placed) == [0, 1, 2, 3, 4]
    assert is_separable([placed_box(five, placed) for placed in sheet.placed])


def test_the_same_rounds_and_seed_give_the_same_straight_answer() -> None:
    # So many pieces that no short search ends where another one does.
    chance = Random(11)
    pieces = tuple(
        Piece(f"print {number}", chance.randint(20, 120), chance.randint(20, 120), 1) for number in range(60)
    )
    request = Request(
        pieces, (FixedSheet(Size(300, 250)),), 1, 0, Way.STRAIGHT, seed=7, rounds=12, budget_s=60
    )
    answer = arrange(request)
    assert answer == arrange(request)
    assert answer != arrange(replace(request, seed=8))


def spiral(levels: int, thin: int) -> Tree:
    """Pieces as thin as that, put beside and below all before in turn: a level each."""
    tree: Tree = Part(thin, thin, 0)
    for number in range(levels):
        assert tree is not None
        is_beside = number % 2 == 0
        width, height = (thin, tree.height) if is_beside else (tree.width, thin)
        tree = with_piece(tree, (width, height, 0, 0, None, tree, is_beside), Part(width, height, number + 1))
    return tree


def test_the_deepest_tree_allowed_is_searched() -> None:
    levels, thin = 298, 500
    tree = spiral(levels, thin)
    assert tree is not None
    room = (tree.width, tree.height)
    placed: list[Placed] = []
    put_down(tree, 0, 0, placed)
    parts: list[Part] = []
    add_parts(tree, parts)
    by_kind = sorted((part for part in parts if part.parts is None), key=lambda part: part.kind)
    pieces = [Piece(f"{p.kind}", p.width / 1000, p.height / 1000, 1) for p in by_kind]
    shapes = shapes_of([*pieces, Piece("one more", 0.5, 0.5, 1)], gap_mm=0, margin_mm=0)
    search = search_of(shapes, room)
    sheet = Sheet(*room, placed=placed)
    blanks = [Sheet(*room), Sheet(*room)]
    assert search.can_take([sheet, *blanks], [levels + 1])
    search.run([sheet], [levels + 1], Effort(60, 1), lambda *_: None)


def test_sheets_on_which_something_stays_and_pieces_too_many_or_too_thin_are_left_to_others() -> None:
    pieces = [Piece("thin", 10, 0.5, 1), Piece("usual", 10, 2, 1)]
    shapes = shapes_of(pieces, gap_mm=0, margin_mm=0)
    room = (100_000, 100_000)
    search = search_of(shapes, room)
    blanks = [Sheet(*room) for _ in range(4)]
    assert search.can_take(blanks, [1] * 400)
    assert not search.can_take(blanks, [1] * 481)
    assert search.can_take(blanks, [0] * 300)
    assert not search.can_take(blanks, [0] * 301)
    assert not search.can_take([*blanks, Sheet(*room, pins=((0, 0, 1, 1),))], [1])
    assert not search.can_take([*blanks, Sheet(*room, number=0)], [1])
    assert not search.can_take([*blanks, Sheet(100_000, 99_999)], [1])


def test_pins_and_pieces_together_stay_as_asked_beside_the_search() -> None:
    size = Size(300, 200)
    pinned = Layout(size, (Placement("crest", 20, 20, 90, 60, pinned=True),))
    pieces = (
        Piece("crest", 90, 60, 5),
        Piece("left half", 100, 80, 1, together="banner"),
        Piece("right half", 100, 80, 1, together="banner"),
        *(Piece(f"name {number}", 70 + number, 25 + 2 * number, 2) for number in range(8)),
    )
    request = Request(
        pieces, (FixedSheet(size),), 3, 6, Way.STRAIGHT, pinned=(pinned,), rounds=40, budget_s=60
    )
    answer = arrange(request)
    assert not answer.left_over
    for layout in answer.layouts:
        assert not faults(layout, gap_mm=3, margin_mm=6, way=Way.STRAIGHT)
        assert replay(cut_list(layout), layout).is_clean
    assert any(p == pinned.placements[0] for layout in answer.layouts for p in layout.placements)
    (banner,) = [
        layout for layout in answer.layouts if any(p.print == "left half" for p in layout.placements)
    ]
    assert any(p.print == "right half" for p in banner.placements)
    found = Counter(p.print for layout in answer.layouts for p in layout.placements)
    assert found == Counter({piece.key: piece.count for piece in pieces})
