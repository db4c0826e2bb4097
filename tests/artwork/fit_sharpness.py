"""Fits the weights of `planner.artwork.sharpness`.

`python -m tests.artwork.fit_sharpness [--also FOLDER] [--write | --leave-one-out]`. Only photographs in
`FITTED_ON` and those of the folder are seen; those in `HELD_BACK` are for the benchmark. The weights in
use saw six more, from the wheels of scikit-learn (china, flower), imgaug (quokka), gradio (cheetah, tower)
and ultralytics (bus). `--leave-one-out` tells what weights fitted on all others say of each photograph:
the ridge was chosen by that.
"""

import argparse
import itertools
import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np
from PIL import Image
from scipy.optimize import minimize

from planner.artwork import sharpness
from planner.artwork.planes import planes_of
from tests.artwork.enlarged import FITTED_ON, Sent, drawings, enlargements, originals, reworked

SAVINGS = ("as it is", "JPEG 95", "JPEG 75", "JPEG 50", "noise", "unsharp")
UNTOUCHED = (*SAVINGS, "JPEG 90", "JPEG 85", "JPEG 60", "mosaic", "soft")
FACTORS = (1.5, 2.0, 3.0, 4.0)
_RIDGE = 0.001
_UNTOUCHED_SHARE = 0.4
"""Of all weight; chosen with the ridge: both trade what is found against what is accused."""
_MOST_ITERATIONS = 150
"""Further on only photographs already seen are told better."""
_SURE = 0.9
_DRAWINGS = 5
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
    """Means, spreads and both sets of weights; slight enlargement weighs less."""
    means, spreads = traces.mean(axis=0), traces.std(axis=0) + 1e-6
    spread = (traces - means) / spreads
    hinges = np.quantile(np.clip(spread, -4, 4), _HINGES_AT, axis=0)
    known = sharpness.expanded(spread, hinges)
    big = factors > 1
    weight = np.where(big, np.where(factors < 1.8, 0.3, 1.0), 1.0)
    weight[big] *= (1 - _UNTOUCHED_SHARE) / weight[big].sum()
    weight[~big] *= _UNTOUCHED_SHARE / weight[~big].sum()
    sign = np.where(big, 1.0, -1.0)

    def loss(w: np.ndarray) -> tuple[float, np.ndarray]:
        margin = sign * (known @ w)
        value = float(weight @ np.logaddexp(0, -margin)) + _RIDGE / 2 * float(w[:-1] @ w[:-1])
        slope = -(weight * sign / (1 + np.exp(margin))) @ known
        slope[:-1] += _RIDGE * w[:-1]
        return value, slope

    confidence = minimize(
        loss, np.zeros(known.shape[1]), jac=True, method="L-BFGS-B", options={"maxiter": _MOST_ITERATIONS}
    ).x
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
        '"""Weights of `planner.artwork.sharpness`, written by `python -m tests.artwork.fit_sharpness`."""',
        "",
        "# fmt: off",
    ]
    for name, values in weights.items():
        if values.ndim == 1:
            lines += ["", f"{name} = (", textwrap.indent(_in_lines(values), "    "), ")"]
            continue
        lines += ["", f"{name} = ("]
        for row in values:
            lines += ["    (", textwrap.indent(_in_lines(row), "        "), "    ),"]
        lines.append(")")
    return "\n".join(lines) + "\n"


def _in_lines(row: np.ndarray) -> str:
    return textwrap.fill(", ".join(f"{value:.4f}" for value in row) + ",", 96)


def left_out(traces: np.ndarray, sent: list[Sent]) -> Iterator[str]:
    """Of each photograph: share found where enlarged twice and more, and how often accused untouched."""
    factors = np.array([one.factor for one in sent])
    names = np.array([one.photograph for one in sent])
    for name in dict.fromkeys(one.photograph for one in sent):
        own = names == name
        weights = fitted(traces[~own], factors[~own])
        known = sharpness.expanded((traces[own] - weights["MEANS"]) / weights["SPREADS"], weights["HINGES"])
        sure = 1 / (1 + np.exp(-known @ weights["CONFIDENCE"])) > _SURE
        big, real = factors[own] >= 2, factors[own] == 1
        yield f"{Path(name).name:24} found {sure[big].mean():.3f}  accused {sure[real].sum()} of {real.sum()}"


def main() -> None:
    parser = argparse.ArgumentParser(description="Fit the weights of the sharpness measure.")
    parser.add_argument("--also", type=Path, help="a folder of more photographs, untouched ones")
    parser.add_argument("--write", action="store_true", help="write them into the program")
    parser.add_argument(
        "--leave-one-out", action="store_true", help="tell how each photograph is judged unseen"
    )
    wanted = parser.parse_args()
    more = sorted(wanted.also.glob("*.jpg")) if wanted.also else []
    names = (*FITTED_ON, *(str(path.resolve()) for path in more))
    traces, factors, sent = gathered(
        itertools.chain(
            originals(names, UNTOUCHED),
            reworked(names),
            drawings(_DRAWINGS),
            enlargements(names, SAVINGS, FACTORS),
            enlargements(names, ("as it is", "JPEG 75"), (2.5,)),
        )
    )
    if wanted.leave_one_out:
        for line in left_out(traces, sent):
            print(line)  # noqa: T201
        return
    text = told(fitted(traces, factors))
    if wanted.write:
        path = Path(sharpness.__file__).with_name("sharpness_weights.py")
        path.write_text(text, encoding="utf-8")
        print(f"wrote {path.name}: format it with ruff")  # noqa: T201
    else:
        print(text)  # noqa: T201


if __name__ == "__main__":
    main()
