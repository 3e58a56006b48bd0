"""Ranges over the tolerances, against a million parts drawn with NumPy.

Dogs with straight radial flanks and one height: ring A is blocked wherever the middles of two dogs come nearer
than half of both widths, so a window lies between the last dog before it and the first after it. Nothing of the
core's windows, draws or corners is used.
"""

import math
import random

import numpy as np
import pytest
from conftest import report

PARTS = 1_000_000

# Parts that the core draws.
DRAWN = 2000


def ring(rng: random.Random, count: int) -> dict:
    pitch = 360 / count
    dogs = [
        {
            "centre_deg": place * pitch + rng.uniform(-0.02, 0.02) * pitch,
            "tip_width_deg": rng.uniform(0.28, 0.36) * pitch,
            "height_mm": 5,
        }
        for place in range(count)
    ]
    return {"dogs": dogs}


def sizes(given: dict, off: dict, draw) -> tuple[np.ndarray, np.ndarray]:
    """Middles and widths of the dogs of a ring for every part, degrees."""
    middle, width = (
        np.array([[dog[key]] for dog in given["dogs"]]) + off[key] * draw(len(given["dogs"]))
        for key in ("centre_deg", "tip_width_deg")
    )
    return middle, width


def lash(a, b, near: float) -> np.ndarray:
    """The width of the window at a phase, degrees, for every part."""
    before = np.full(a[0].shape[1], -np.inf)
    after = np.full(a[0].shape[1], np.inf)
    for middle_a, width_a in zip(*a, strict=True):
        for middle_b, width_b in zip(*b, strict=True):
            half = (width_a + width_b) / 2
            off = (-(middle_a + middle_b) - near + 180) % 360 - 180
            before = np.maximum(before, np.where(off <= 0, off + half, -np.inf))
            after = np.minimum(after, np.where(off > 0, off - half, np.inf))
    return after - before


@pytest.mark.parametrize("seed", range(12))
def test_the_shares_of_parts_are_those_of_a_million(seed):
    rng = random.Random(seed)
    count = rng.choice([2, 3, 4, 5])
    a, b = ring(rng, count), ring(rng, count)
    off = {
        side: {"centre_deg": rng.uniform(0, 0.3), "tip_width_deg": rng.uniform(0.02, 0.4)}
        for side in "ab"
    }
    measured = {f"{side}.{key}": value for side in "ab" for key, value in off[side].items()}
    measured |= {f"{side}.height_mm": 0 for side in "ab"}
    near = 180 / count
    design = {"a": a, "b": b, "phase_deg": near, "tolerances": {"measured": measured}}
    got = report(design)["ranges"]["lash_deg"]

    draws = np.random.default_rng(seed)
    parts = [
        sizes(given, off[side], lambda dogs: draws.uniform(-1, 1, (dogs, PARTS)))
        for side, given in (("a", a), ("b", b))
    ]
    drawn = lash(*parts, near)
    assert got["not_in"] == 0 and drawn.min() > 0
    for key, share in (("p05", 0.05), ("p50", 0.5), ("p95", 0.95)):
        # Five times what chance moves a share of so many parts.
        allowed = 5 * math.sqrt(share * (1 - share) / DRAWN)
        assert abs((drawn <= got[key]).mean() - share) < allowed, (key, got[key])
    # No part is beyond the worst case, and the worst corner is reached.
    assert got["least"] <= drawn.min() + 1e-9 and drawn.max() <= got["greatest"] + 1e-9
    corners = [
        sizes(given, off[side], lambda dogs: draws.choice([-1.0, 1.0], (dogs, PARTS)))
        for side, given in (("a", a), ("b", b))
    ]
    least = lash(*corners, near).min()
    assert got["least"] <= least + 1e-9
    # Of three dogs on three there are 4,096 corners: a million draws come by all of them.
    if count <= 3:
        assert got["least"] == pytest.approx(least, abs=1e-6)
