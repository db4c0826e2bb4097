"""A whole number shared out in proportion, nothing lost."""

from collections.abc import Sequence


def share_out(total: int, weights: Sequence[int]) -> tuple[int, ...]:
    """Whole shares that add up to `total`, as near to the weights as whole numbers come.

    By largest remainder (Hamilton's method); among equal remainders the larger weight, then the earlier,
    gets more. All zero where the weights are.
    """
    whole = sum(weights)
    if not whole:
        return (0,) * len(weights)
    shares = [total * weight // whole for weight in weights]
    by_remainder = sorted(
        range(len(weights)), key=lambda at: (-(total * weights[at] % whole), -weights[at], at)
    )
    for at in by_remainder[: total - sum(shares)]:
        shares[at] += 1
    return tuple(shares)
