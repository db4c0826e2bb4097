"""Whole numbers are shared out by largest remainder (Hamilton's method)."""

from hypothesis import given
from hypothesis import strategies as st

from planner.measures.sharing import share_out


def test_a_worked_apportionment_comes_out() -> None:
    # Worked by hand: 100 by 21878 : 9713 : 4167 : 3252 : 1065 of 40075. Quotas 54.593, 24.237, 10.398,
    # 8.115, 2.657; floors add up to 98, the two largest remainders .657 and .593 get one more.
    assert share_out(100, [21878, 9713, 4167, 3252, 1065]) == (55, 24, 10, 8, 3)


def test_among_equals_the_earlier_gets_more_and_nothing_is_shared_among_nobody() -> None:
    assert share_out(2, [5, 5, 5]) == (1, 1, 0)
    assert share_out(7, [0, 0]) == (0, 0)
    assert share_out(7, []) == ()


@given(st.integers(0, 5000), st.lists(st.integers(0, 500), min_size=1).filter(any))
def test_shares_add_up_and_keep_within_one_of_the_quota(total: int, weights: list[int]) -> None:
    shares = share_out(total, weights)
    assert sum(shares) == total
    for share, weight in zip(shares, weights, strict=True):
        assert abs(share - total * weight / sum(weights)) < 1
