"""Volume, mass, inertia and unbalance of dogs, by numerical integration over their metal.

A dog is what lies between the bore and the outer circle, above the web, inside its two flank
planes. A flank plane holds the tip edge and leans by the back-cut from the shaft. Where a circle
crosses a plane is found by bisection on the distance from the plane, not by a formula.
"""

import math
import random

import numpy as np
import pytest
from conftest import Dog, Ring, report
from scipy.integrate import quad_vec
from scipy.optimize import brentq

DENSITY_G_PER_MM3 = 7.85e-3


def flank(ring: Ring, dog: Dog, drive: bool):
    """Distance inside a flank plane at a point of the ring's plane, `depth` below the tip as found."""
    sign, tan = (1, dog.tan_drive) if drive else (-1, dog.tan_coast)
    if ring.parallel:
        # The tip edge runs along the dog, half a chord off its middle line.
        direction, offset = dog.centre, ring.half_chord(dog)
    else:
        # The tip edge points at the shaft.
        direction, offset = dog.centre - sign * dog.width / 2, 0.0
    across, along = -sign * math.sin(direction), sign * math.cos(direction)

    def inside(x, y, depth):
        return across * x + along * y + offset - depth * tan

    return inside


def crossing(inside, ring: Ring, dog: Dog, drive: bool, radius: float, depth: float) -> float:
    """Direction, from the middle of the dog, at which a circle crosses a flank plane."""

    def distance(angle: float) -> float:
        at = dog.centre + angle
        return inside(radius * math.cos(at), radius * math.sin(at), depth)

    edge = ring.half_width_at(dog, radius)
    edge = -edge if drive else edge
    return brentq(distance, edge - 0.5, edge + 0.5, xtol=1e-14)


def sector(ring: Ring, dog: Dog, planes, radius: float, depth: float) -> np.ndarray:
    """What one circle through a dog adds: ∫1, ∫x, ∫y and ∫r² along it."""
    start = dog.centre + crossing(planes[True], ring, dog, True, radius, depth)
    end = dog.centre + crossing(planes[False], ring, dog, False, radius, depth)
    x = radius * (math.sin(end) - math.sin(start))
    y = radius * (math.cos(start) - math.cos(end))
    return radius * np.array([end - start, x, y, radius**2 * (end - start)])


def dog_metal(ring: Ring, dog: Dog, below: float, above_web: float) -> np.ndarray:
    """Volume, its two first moments and its polar second moment, between two depths."""
    planes = {drive: flank(ring, dog, drive) for drive in (True, False)}

    def section(depth: float) -> np.ndarray:
        along = quad_vec(
            lambda r: sector(ring, dog, planes, r, depth), ring.inner, ring.outer, epsrel=1e-9
        )
        return along[0]

    return quad_vec(section, below, above_web, epsrel=1e-9)[0]


def ring_metal(ring: Ring) -> np.ndarray:
    """Of the dogs as cut."""
    of = [dog_metal(ring, dog, dog.cut_down, dog.cut_down + dog.height) for dog in ring.dogs]
    return np.sum(of, axis=0)


# Rings as the saved form has them; the default ring has Ri 22, Ro 30 and dogs of 24° by 5 mm.
RINGS = {
    "radial": {"count": 3, "tip_width_deg": 30},
    "parallel": {"count": 4, "flanks": "parallel", "inner_diameter_mm": 30},
    "undercut": {"count": 2, "back_cut_drive_deg": 5, "back_cut_coast_deg": 7.5},
    "undercut on one flank": {"count": 2, "back_cut_drive_deg": 8, "first_dog_deg": 40},
    "tapered": {"count": 2, "back_cut_drive_deg": -6, "back_cut_coast_deg": -3},
    "parallel undercut": {
        "count": 2, "flanks": "parallel", "back_cut_drive_deg": 6, "back_cut_coast_deg": 2,
    },
    "half height": {"count": 6, "heights": [1, 0.5, 0.8], "back_cut_coast_deg": 3},
    "removed": {"count": 4, "cuts": {"1": "remove"}},
    "shortened": {"count": 3, "cuts": {"1": 2.5}},
    "shortened undercut": {
        "count": 2, "back_cut_drive_deg": 6, "back_cut_coast_deg": 4, "cuts": {"1": 2, "2": 1.5},
    },
    "shortened tapered parallel": {
        "count": 2, "flanks": "parallel", "back_cut_drive_deg": -4, "cuts": {"1": 2},
    },
    "measured": {
        "dogs": [
            {"centre_deg": 3.1, "tip_width_deg": 21.2, "height_mm": 4.7, "back_cut_drive_deg": 3},
            {"centre_deg": 125.4, "tip_width_deg": 24.9, "back_cut_coast_deg": -2.5},
            {"centre_deg": -118.0, "tip_width_deg": 20.0, "height_mm": 2.2},
        ],
        "cuts": {"2": 3.3},
    },
}


@pytest.mark.parametrize("name", RINGS)
def test_metal(name):
    given = RINGS[name]
    told = report({"a": given})["rings"]["a"]
    volume, x, y, polar = ring_metal(Ring(given))
    assert told["volume_mm3"] == pytest.approx(volume, rel=1e-8)
    assert told["mass_g"] == pytest.approx(volume * DENSITY_G_PER_MM3, rel=1e-8)
    assert told["inertia_kg_mm2"] == pytest.approx(polar * DENSITY_G_PER_MM3 / 1000, rel=1e-8)
    unbalance = math.hypot(x, y) * DENSITY_G_PER_MM3
    assert told["unbalance_g_mm"] == pytest.approx(unbalance, rel=1e-7, abs=1e-6)


@pytest.mark.parametrize("name", [name for name, ring in RINGS.items() if "cuts" in ring])
def test_what_comes_off_is_what_was_above_the_cut(name):
    given = RINGS[name]
    as_found = Ring({key: value for key, value in given.items() if key != "cuts"})
    as_cut = {dog.centre: dog for dog in Ring(given).dogs}
    off = 0.0
    for dog in as_found.dogs:
        left = as_cut.get(dog.centre)
        depth = left.cut_down if left else dog.height
        off += dog_metal(as_found, dog, 0.0, depth)[0] if depth > 0 else 0.0
    told = report({"a": given})["rings"]["a"]["cut_off_mm3"]
    assert told == pytest.approx(off, rel=1e-7)


@pytest.mark.parametrize("number", range(6))
def test_points_thrown_at_a_dog(number):
    """The same dogs without any integral: the share of random points that fall inside."""
    rng = random.Random(number)
    given = {
        "count": 1,
        "flanks": rng.choice(["radial", "parallel"]),
        "tip_width_deg": rng.uniform(20, 70),
        "height_mm": rng.uniform(2, 8),
        "back_cut_drive_deg": rng.uniform(-5, 10),
        "back_cut_coast_deg": rng.uniform(-5, 10),
    }
    ring = Ring(given)
    dog = ring.dogs[0]
    x, y, z = np.random.default_rng(number).random((3, 400_000))
    x, y, depth = (2 * x - 1) * ring.outer, (2 * y - 1) * ring.outer, z * dog.height
    radius = np.hypot(x, y)
    # The dog stands at 0°; behind the shaft a plane may pass the ring once more.
    within = (radius >= ring.inner) & (radius <= ring.outer) & (x > 0)
    for drive in (True, False):
        within &= flank(ring, dog, drive)(x, y, depth) >= 0
    box = (2 * ring.outer) ** 2 * dog.height
    share = within.mean()
    error = math.sqrt(share * (1 - share) / len(x)) * box
    told = report({"a": given})["rings"]["a"]["volume_mm3"]
    assert abs(told - share * box) < 5 * error

