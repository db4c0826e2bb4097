"""The validator finds what is wrong and nothing else."""

import pytest

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.validate import FaultKind, faults


def layout_of(*boxes: tuple[float, float, float, float]) -> Layout:
    return Layout(Size(100, 100), tuple(Placement(f"print {i}", *box) for i, box in enumerate(boxes)))


@pytest.mark.parametrize(
    ("boxes", "kind", "indices", "by_mm"),
    [
        ([(10, 10, 20, 20), (28, 12, 20, 20)], FaultKind.OVERLAP, (0, 1), 2),
        ([(10, 10, 20, 20), (31, 10, 20, 20)], FaultKind.TOO_CLOSE, (0, 1), 2),
        ([(90, 10, 20, 20)], FaultKind.OFF_SHEET, (0,), 10),
        ([(10, 3, 20, 20)], FaultKind.IN_MARGIN, (0,), 2),
    ],
)
def test_each_thing_wrong_is_found_and_measured(
    boxes: list[tuple[float, float, float, float]], kind: FaultKind, indices: tuple[int, ...], by_mm: float
) -> None:
    found = faults(layout_of(*boxes), gap_mm=3, margin_mm=5, way=Way.LOOSE)
    assert [(f.kind, f.indices) for f in found] == [(kind, indices)]
    assert found[0].by_mm == pytest.approx(by_mm)
    assert found[0].keys == tuple(f"print {i}" for i in indices)


def test_a_pinwheel_of_four_and_a_heart_cannot_be_cut_straight() -> None:
    # The smallest pattern that no edge-to-edge cut divides, known as the pinwheel in cutting research.
    pinwheel = layout_of((0, 0, 60, 40), (60, 0, 40, 60), (40, 60, 60, 40), (0, 40, 40, 60), (40, 40, 20, 20))
    assert faults(pinwheel, gap_mm=0, margin_mm=0, way=Way.LOOSE) == ()
    (fault,) = faults(pinwheel, gap_mm=0, margin_mm=0, way=Way.STRAIGHT)
    assert fault.kind is FaultKind.NOT_SEPARABLE
    assert fault.indices == (0, 1, 2, 3, 4)
    assert fault.by_mm == pytest.approx(20)


def test_float_noise_does_not_spoil_an_exact_fit() -> None:
    third = 100 / 3
    exact = layout_of((0, 0, third, 100), (third, 0, third, 100), (2 * third, 0, third, 100))
    assert faults(exact, gap_mm=0, margin_mm=0, way=Way.STRAIGHT) == ()


def test_outlines_may_share_a_box_but_not_area() -> None:
    lower = ((0.0, 0.0), (0.0, 40.0), (40.0, 40.0))
    upper = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0))
    layout = layout_of((10, 10, 40, 40), (14, 10, 40, 40))
    outlines = {"print 0": lower, "print 1": upper}
    assert faults(layout, gap_mm=2, margin_mm=0, way=Way.OUTLINE, outlines=outlines) == ()
    (fault,) = faults(layout, gap_mm=5, margin_mm=0, way=Way.OUTLINE, outlines=outlines)
    assert fault.kind is FaultKind.TOO_CLOSE
    assert fault.by_mm == pytest.approx(5 - 4 / 2**0.5)
    nearer = layout_of((10, 10, 40, 40), (0, 10, 40, 40))
    (fault,) = faults(nearer, gap_mm=0, margin_mm=0, way=Way.OUTLINE, outlines=outlines)
    assert fault.kind is FaultKind.OVERLAP


def test_an_overlap_counts_as_deep_where_outlines_touch_elsewhere_too() -> None:
    # A hook's upper arm holds the tip of a kite 0.5 mm deep, while its upright touches the kite's side.
    hook = ((0.0, 0.0), (30.0, 0.0), (30.0, 6.0), (6.0, 6.0), (6.0, 30.0), (0.0, 30.0))
    kite = ((4.0, 0.0), (8.0, 10.0), (4.0, 14.0), (0.0, 10.0))
    layout = layout_of((10, 10.5, 30, 30), (16, 16, 8, 14))
    (fault,) = faults(
        layout, gap_mm=0, margin_mm=0, way=Way.OUTLINE, outlines={"print 0": hook, "print 1": kite}
    )
    assert fault.kind is FaultKind.OVERLAP
    assert fault.by_mm == pytest.approx(0.4)
