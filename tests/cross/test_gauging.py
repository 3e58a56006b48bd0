"""Readings of a worn ring against scipy's least squares, with gauges laid on straight flanks as points and lines."""

import json

import numpy as np
import pytest
from conftest import run
from scipy.optimize import brentq, least_squares

SEEDS = range(24)
MEAN = 26.0


class Ring:
    """Radial or parallel dogs: each flank is a line with a foot and a direction."""

    def __init__(self, widths, gaps, parallel):
        self.widths, self.gaps, self.parallel = widths, gaps, parallel
        starts = np.concatenate([[0], np.cumsum(widths + gaps)[:-1]])
        self.middles = starts + widths / 2

    def flank(self, dog, sign):
        """A point of a flank and its direction outwards; after the last dog the first one again, a turn on."""
        turns, dog = divmod(dog, len(self.widths))
        middle, half = self.middles[dog], self.widths[dog] / 2
        middle += turns * (self.widths.sum() + self.gaps.sum())
        tip = MEAN * direction(middle + sign * half)
        return tip, direction(middle) if self.parallel else direction(middle + sign * half)

    def at_radius(self, dog, sign, radius):
        """Where a flank meets a circle."""
        point, along = self.flank(dog, sign)
        b, c = point @ along, point @ point - radius**2
        return point + (-b + np.sqrt(b * b - c)) * along

    def chord(self, dog, diameter):
        ends = [self.at_radius(dog, sign, diameter / 2) for sign in (-1, 1)]
        return np.linalg.norm(ends[1] - ends[0])

    def on_table(self, dog, sign, diameter):
        x, y = self.at_radius(dog, sign, diameter / 2)
        return np.degrees(np.arctan2(y, x)) % 360

    def pin(self, dog, size):
        """The centre of a pin that touches both flanks of the gap after a dog, by its distances to them."""
        one, other = self.flank(dog, 1), self.flank(dog + 1, -1)
        off = size / 2

        def inside(line, side):
            point, along = line
            normal = side * np.array([-along[1], along[0]])
            return point + off * normal, along

        (p, u), (q, v) = inside(one, 1), inside(other, -1)
        steps = np.linalg.solve(np.column_stack([u, -v]), q - p)
        return p + steps[0] * u

    def pin_radius(self, dog, size):
        return np.linalg.norm(self.pin(dog, size))

    def over_pins(self, dog, size):
        opposite = (dog + len(self.widths) // 2) % len(self.widths)
        return np.linalg.norm(self.pin(dog, size) - self.pin(opposite, size)) + size


def direction(angle):
    return np.array([np.cos(angle), np.sin(angle)])


def given(seed):
    """A worn ring of which every dog was read by several gauges, with noise."""
    rng = np.random.default_rng([seed, 18])
    dogs = int(rng.integers(4, 8))
    pitch = 2 * np.pi / dogs
    parallel = bool(seed % 2)
    widths = pitch * rng.uniform(0.40, 0.44, dogs)
    gaps = pitch * rng.uniform(0.98, 1.02, dogs) - widths
    gaps[-1] += 2 * np.pi - widths.sum() - gaps.sum()
    ring = Ring(widths, gaps, parallel)
    pin = round(MEAN * pitch * 0.3, 1)
    sigmas = rng.uniform(0.5, 2.0, 5)
    columns = [
        ("chord", 58.0, 0.02, lambda ring, dog: ring.chord(dog, 58.0)),
        ("pin_radius", pin, 0.005, lambda ring, dog: ring.pin_radius(dog, pin)),
        ("over_pins", pin, 0.005, lambda ring, dog: ring.over_pins(dog, pin)),
        ("drive_table", 52.0, 1 / 60, lambda ring, dog: ring.on_table(dog, -1, 52.0)),
        ("coast_table", 52.0, 1 / 60, lambda ring, dog: ring.on_table(dog, 1, 52.0)),
    ]
    columns = [(k, at, s * by, f) for (k, at, s, f), by in zip(columns, sigmas, strict=True)]
    read = [
        [f(ring, dog) + rng.normal(0, s) if rng.random() < 0.9 else None for dog in range(dogs)]
        for (_, _, s, f) in columns
    ]
    return dogs, parallel, columns, read


def saved(case):
    dogs, parallel, columns, read = case
    listed = [
        {"gauge": key, "at": at, "uncertainty": sigma, "read": row}
        for (key, at, sigma, _), row in zip(columns, read, strict=True)
    ]
    readings = {"dogs": dogs, "spread": "uncertainty", "columns": listed}
    ring = {"count": dogs, "tip_width_deg": 0.45 * 360 / dogs, "readings": readings}
    if parallel:
        ring["flanks"] = "parallel"
    return {"crenel": 1, "a": ring}


@pytest.fixture(scope="module")
def answered():
    cases = [given(seed) for seed in SEEDS]
    lines = "\n".join(json.dumps(saved(case)) for case in cases)
    return cases, [json.loads(line) for line in run("gauging", given=lines).splitlines()]


def residuals(values, case):
    """Weighted residuals over widths, gaps and the zero of the table; the circle is not held."""
    dogs, parallel, columns, read = case
    ring = Ring(values[:dogs], values[dogs : 2 * dogs], parallel)
    off = []
    for (key, _, sigma, gauge), row in zip(columns, read, strict=True):
        zero = values[-1] if "table" in key else 0.0
        for dog, value in enumerate(row):
            if value is not None:
                apart = value - gauge(ring, dog) - zero
                if "table" in key:
                    apart = (apart + 180) % 360 - 180
                off.append(apart / sigma)
    return np.array(off)


def solved(case):
    dogs = case[0]
    pitch = 2 * np.pi / dogs
    start = np.concatenate([np.full(dogs, 0.42 * pitch), np.full(dogs, 0.58 * pitch), [0.0]])
    return least_squares(
        residuals, start, args=(case,), xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale="jac"
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_the_fit_is_that_of_scipy(answered, seed):
    case, said = answered[0][seed], answered[1][seed]
    found = solved(case)
    dogs = case[0]
    covariance = np.linalg.inv(found.jac.T @ found.jac)
    # Held to the circle, by the uncertainties.
    a = np.concatenate([np.ones(2 * dogs), [0.0]])
    off = 2 * np.pi - a @ found.x
    variance = a @ covariance @ a
    closing, sigma = said["closing_deg"]
    assert closing == pytest.approx(np.degrees(off), abs=2e-6)
    assert sigma == pytest.approx(np.degrees(np.sqrt(variance)), rel=1e-4)
    spread = found.x + covariance @ a * off / variance
    left = covariance - np.outer(covariance @ a, covariance @ a) / variance
    for dog, sizes in enumerate(said["dogs"]):
        width, sigma = sizes["tip_width_deg"]
        assert width == pytest.approx(np.degrees(spread[dog]), abs=2e-6)
        assert sigma == pytest.approx(np.degrees(np.sqrt(left[dog, dog])), rel=1e-4)
        centre = spread[:dog].sum() + spread[dogs : dogs + dog].sum() + spread[dog] / 2
        assert sizes["centre_deg"][0] == pytest.approx(np.degrees(centre), abs=2e-6)
    weights = residuals(found.x, case)
    sigmas = [case[2][column][2] for column, *_ in said["checked"]]
    shown = np.array([row[2] for row in said["checked"]]) / sigmas
    unmarked = [not row[4] for row in said["checked"]]
    assert shown[unmarked] == pytest.approx(weights[unmarked], abs=2e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_chord_is_that_of_two_points_on_a_circle(answered, seed):
    """One gauge alone, without a fit: the width at which the chord is what was read."""
    dogs, parallel, columns, read = answered[0][seed]
    chord = next(value for value in read[0] if value is not None)
    design = saved((dogs, parallel, columns[:1], [[chord] + [None] * (dogs - 1)]))
    said = json.loads(run("gauging", given=json.dumps(design)))

    def apart(width):
        ring = Ring(np.full(dogs, width), np.full(dogs, 0.1), parallel)
        return ring.chord(0, 58.0) - chord

    assert said["dogs"][0]["tip_width_deg"][0] == pytest.approx(np.degrees(brentq(apart, 0.01, 2)))
