"""What the oracles of courses in time share: how cases are drawn, and the least of a sampled course."""

import math

import numpy as np


def log_uniform(rng, least, most):
    return math.exp(rng.uniform(math.log(least), math.log(most)))


def least(values):
    """The least value of even samples, by a parabola through the least one and its neighbours; whether it lies
    between the ends."""
    seen = int(np.argmin(values))
    at = min(max(seen, 1), len(values) - 2)
    before, here, after = values[at - 1 : at + 2]
    rise, bend = (after - before) / 2, before - 2 * here + after
    off = np.clip(-rise / bend, -1, 1) if bend > 0 else 0.0
    return min(values[seen], here + off * (rise + off * bend / 2)), seen == at
