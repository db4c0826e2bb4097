"""Fits the weights of `planner.artwork.sharpness`: `python -m tests.artwork.fit_sharpness [--write]`.

Only photographs in `FITTED_ON` are seen; those in `HELD_BACK` are for the benchmark.
"""

import argparse
from collections.abc import Iterable
from pathlib import Path

import numpy as np
from PIL import Image
from scipy.optimize import minimize

from planner.artwork import sharpness
from planner.artwork.planes import planes_of
from tests.artwork.enlarged import FITTED_ON, Sent, enlargements, originals

SAVINGS = ("as it is", "JPEG 95", "JPEG 75", "JPEG 50", "noise", "unsharp")
UNTOUCHED = (*SAVINGS, "JPEG 90", "JPEG 85", "mosaic", "soft")
FACTORS = (1.5, 1.7, 2.0, 2.5, 3.0, 4.0)
_RIDGE = 0.01
_HINGES_AT = (0.33, 0.67)
"""Quantiles of each trace where its weight may change."""


def trace_of(picture: Image.Image) -> np.ndarray | None:
    tiles = sharpness.detailed_tiles(planes_of(picture.copy()))
    return sharpness.traces(tiles) if len(tiles) >= 4 else None


def gathered(sent: Iterable[Sent]) -> tuple[np.ndarray, np.ndarray, list[Sent]]:
    traces, factors, known = [], [], []
    for one in sent:
        trace = trace_of(one.picture)
        if trace is not None:
            traces.append(trace)
            factors.append(one.factor)
            known.append(one)
    return np.array(traces), np.array(factors), known


def fitted(traces: np.ndarray, factors: np.ndarray) -> dict[str, np.ndarray]:
    """Means, spreads and both sets of weights; both classes weigh the same, slight enlargement less."""
    means, spreads = traces.mean(axis=0), traces.std(axis=0) + 1e-6
    spread = (traces - means) / spreads
    hinges = np.quantile(np.clip(spread, -4, 4), _HINGES_AT, axis=0)
    known = sharpness.expanded(spread, hinges)
    big = factors > 1
    weight = np.where(big, np.where(factors < 1.8, 0.3, 1.0), 1.0)
    weight[big] *= 0.5 / weight[big].sum()
    weight[~big] *= 0.5 / weight[~big].sum()
    sign = np.where(big, 1.0, -1.0)

    def loss(w: np.ndarray) -> tuple[float, np.ndarray]:
        margin = sign * (known @ w)
        value = float(weight @ np.logaddexp(0, -margin)) + _RIDGE / 2 * float(w[:-1] @ w[:-1])
        slope = -(weight * sign / (1 + np.exp(margin))) @ known
        slope[:-1] += _RIDGE * w[:-1]
        return value, slope

    confidence = minimize(loss, np.zeros(known.shape[1]), jac=True, method="L-BFGS-B").x
    rows = known * np.sqrt(weight)[:, None]
    wanted = np.log2(factors) * np.sqrt(weight)
    scale = np.linalg.solve(rows.T @ rows + _RIDGE * np.eye(rows.shape[1]), rows.T @ wanted)
    return {
        "MEANS": means,
        "SPREADS": spreads,
        "HINGES": hinges,
        "CONFIDENCE": confidence,
        "SCALE": scale,
    }


def told(weights: dict[str, np.ndarray]) -> str:
    """The weights as a module of the program."""
    lines = [
        '"""Weights of `planner.artwork.sharpness`, written by `python -m tests.artwork.fit_sharpness`."""'
    ]
    for name, values in weights.items():
        rows = values if values.ndim == 2 else [values]
        written = [", ".join(f"{value:.4f}" for value in row) for row in rows]
        body = [f"    ({row})," for row in written] if values.ndim == 2 else [f"    {written[0]},"]
        lines += ["", f"{name} = (", *body, ")"]
    return "\n".join(lines) + "\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="write them into the program")
    wanted = parser.parse_args()
    few, few_factors, _ = gathered(originals(FITTED_ON, UNTOUCHED))
    many, many_factors, _ = gathered(enlargements(FITTED_ON, SAVINGS, FACTORS))
    weights = fitted(np.vstack([few, many]), np.concatenate([few_factors, many_factors]))
    text = told(weights)
    if wanted.write:
        path = Path(sharpness.__file__).with_name("sharpness_weights.py")
        path.write_text(text, encoding="utf-8")
        print(f"wrote {path.name}: format it with ruff")  # noqa: T201
    else:
        print(text)  # noqa: T201


if __name__ == "__main__":
    main()
