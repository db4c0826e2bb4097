"""How many transfers to order beyond the need, so that misprints do not leave the order one piece short.

Every pressing fails with the chance p on its own. Ordering n + s transfers finishes all n garments with
the probability P(Binomial(n + s, p) ≤ s); the smallest s that reaches the shop's confidence is ordered.
"""

from decimal import ROUND_CEILING, Decimal
from math import exp, log, log1p

from planner.shop.book import Spares


def spares_for(need: int, spares: Spares) -> int:
    """Copies to order beyond `need`.

    A plain percentage (rounded up) or a plain count replaces the reckoning where the shop set one; the
    larger of the two where it set both. Nothing needed, nothing spare.
    """
    if need <= 0:
        return 0
    plain = []
    if spares.percent is not None:
        share = Decimal(repr(spares.percent)) * need / 100
        plain.append(int(share.to_integral_value(rounding=ROUND_CEILING)))
    if spares.count is not None:
        plain.append(spares.count)
    return max(plain) if plain else _by_chance(need, spares.misprint_rate, spares.confidence)


def _by_chance(need: int, rate: float, confidence: float) -> int:
    """The smallest s with P(Binomial(need + s, rate) ≤ s) ≥ confidence.

    At most s misprints in need + s pressings is the same event as at most s misprints before the
    need-th good one, so the terms of the negative binomial distribution are added until they suffice.
    Terms are kept as logarithms: (1 − p)^need leaves the range of a float for large orders.
    """
    if rate == 0:
        return 0
    log_term = need * log1p(-rate)
    reached = exp(log_term)
    spare = 0
    while reached < confidence:
        log_term += log(rate * (need + spare) / (spare + 1))
        spare += 1
        reached += exp(log_term)
        # Rounding may keep the sum a hair under a confidence next to 1: stop once terms add nothing.
        if spare > need * rate / (1 - rate) and exp(log_term) < 1e-18:
            break
    return spare
