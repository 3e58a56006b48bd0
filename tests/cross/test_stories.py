"""The answers of the six stories, worked out by other means.

The core reads them off its own figures. Here windows are found by sliding outlines over each other (shapely), the
torque of the clunk by integrating two masses and a spring (scipy), the force along the shaft from a balance of forces
on the flank, and the shifts that end in are counted over phases that are marched through time one by one.
"""

import itertools
import json
import math
from collections import Counter
from functools import cache

import numpy as np
import pytest
from conftest import run
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from test_shift import Shift
from test_windows import Strip, Tips

# The gears of the stories, written anew: six dogs of 24° on each, and the gearbox around them.
RING = {
    "count": 6,
    "tip_width_deg": 24.0,
    "height_mm": 5.0,
    "back_cut_drive_deg": 3.0,
    "back_cut_coast_deg": 3.0,
    "edge_break_mm": 0.2,
}
MEAN_MM = 26.0
HOLD_MM = 1.0
OVERLAP_MM = 4.5
DRUM_M_PER_S = 0.12
PRIMARY, FIRST, SECOND, LAST = 70 / 27, 35 / 12, 28 / 16, 42 / 15
SHIFT_UP_RPM = 8500.0
ENGINE_NM = 38.0
INPUT_KG_M2 = 0.0009 * SECOND**2
OUTPUT_KG_M2 = 0.0012 + 230.0 * 0.32**2 / LAST**2
STIFFNESS = 2000.0
FRICTION, SPLINE_FRICTION, SPLINE_RADIUS_MM = 0.1, 0.1, 14.0
LAPPED = 0.08
ASKED_RPM = 100.0

# How closely windows are found, degrees: outlines are halved down to a millionth of one.
CLOSE_DEG = 1e-5

# Phases that are marched through, and how far their count may be off a share.
PHASES = 90
OFF = 0.06


@cache
def told() -> dict[str, dict]:
    return {story["story"]: story for story in json.loads(run("stories"))}


def steps(story: str) -> list[tuple[float, dict]]:
    return [(step["value"], step["figures"]) for step in told()[story]["steps"]]


def slot(a: dict, b: dict | None = None) -> float:
    """The widest window between all dogs that come level before the holding depth, degrees; 0 if none is open."""
    strip = Strip({"a": a, "b": b or a})
    return max((width for _, width in Tips(strip, HOLD_MM).windows()), default=0.0)


def window_deg(a: dict, b: dict | None = None) -> float:
    """The same with the edge breaks of both dogs at both ends of the window."""
    open_deg = slot(a, b)
    edges = math.degrees(2 * 2 * RING["edge_break_mm"] / MEAN_MM)
    return open_deg + edges


def travel_s() -> float:
    """The push is faster than the drum from the first: the drum leads all the way."""
    return HOLD_MM / 1000 / DRUM_M_PER_S


def limit_rpm(ring: dict) -> float:
    return window_deg(ring) / 360 / travel_s() * 60


def apart_rpm() -> float:
    """The gears of the first upshift: the road holds the output shaft."""
    output = SHIFT_UP_RPM / PRIMARY / FIRST
    return output * FIRST / SECOND - output


# ---- fewer doors, wider doors ----


def with_dogs(count: int) -> dict:
    return RING | {"count": count}


def fits(count: int) -> bool:
    return 2 * RING["tip_width_deg"] < 360 / count


def test_the_largest_number_of_dogs_that_goes_straight_in():
    good = [n for n in range(2, 13) if fits(n) and limit_rpm(with_dogs(n)) >= apart_rpm()]
    assert told()["doors"]["answer"] == max(good) == 4
    assert limit_rpm(with_dogs(4)) == pytest.approx(875.26, abs=0.01)
    assert limit_rpm(with_dogs(5)) == pytest.approx(515.26, abs=0.01)


def test_the_limit_of_each_number_of_dogs():
    seen = 0
    for count, figures in steps("doors"):
        if fits(round(count)):
            expected = limit_rpm(with_dogs(round(count)))
            assert figures["straight_in_limit_rpm"] == pytest.approx(expected, rel=1e-5)
            seen += 1
        else:
            assert figures.get("straight_in_limit_rpm") is None
    assert seen >= 5


# ---- the second row stands back ----


def with_heights(height_mm: float) -> dict:
    return RING | {"heights": [1, height_mm / RING["height_mm"]]}


def test_the_slot_jumps_where_the_low_dogs_are_met_at_the_holding_depth():
    full = slot(RING)
    low, high = 2.0, RING["height_mm"]
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if slot(with_heights(middle)) > full + 1 else (low, middle)
    assert told()["row"]["answer"] == pytest.approx(RING["height_mm"] - low, abs=2e-6)
    assert slot(with_heights(low - 1e-3)) == pytest.approx(72, abs=CLOSE_DEG)


def test_the_window_time_at_each_height():
    for height, figures in steps("row"):
        # Where a tip comes level exactly at the holding depth, rounding decides.
        if abs(RING["height_mm"] - height - HOLD_MM) > 1e-6:
            window = window_deg(with_heights(height))
            ms = 1000 * window / 360 / (apart_rpm() / 60)
            assert figures["window_time_ms"] == pytest.approx(ms, rel=1e-5), height


# ---- it takes two ----

HALF = RING["height_mm"] / 2


def cut(places: list[int]) -> dict:
    return RING | {"cuts": {str(place): HALF for place in places}}


def test_one_gear_alone_gains_nothing_and_the_last_cut_all():
    order = [("a", 1), ("a", 3), ("a", 5), ("b", 2), ("b", 4), ("b", 6)]
    slots = []
    for done in range(len(order) + 1):
        of = {side: [p for s, p in order[:done] if s == side] for side in "ab"}
        slots.append(slot(cut(of["a"]), cut(of["b"])))
    assert told()["two"]["answer"] == pytest.approx(slots[3] - slots[0], abs=CLOSE_DEG)
    figures = {round(value, 9): figures for value, figures in steps("two")}
    for done, expected in enumerate(slots):
        assert figures[done]["free_angle_deg"] == pytest.approx(expected, abs=CLOSE_DEG), done
    assert slots[5] == pytest.approx(12, abs=CLOSE_DEG)
    assert slots[6] == pytest.approx(72, abs=CLOSE_DEG)


def test_which_dogs_of_the_mate_open_the_slot():
    ways = list(itertools.combinations(range(1, 7), 3))
    open_ways = [way for way in ways if slot(cut([1, 3, 5]), cut(list(way))) > 13]
    assert open_ways == [(1, 3, 5), (2, 4, 6)]
    said = " ".join(told()["two"]["says"])
    assert f"There are {len(ways)} ways" in said and f"and {len(open_ways)} of them open" in said


# ---- what the throttle finds ----


def peak_nm(lash_deg: float) -> float:
    """Two masses cross the lash under the torque of the engine, and wind a spring up."""
    torque = ENGINE_NM * PRIMARY * SECOND

    def rates(_, state):
        gone, speed = state
        spring = STIFFNESS * max(gone - math.radians(lash_deg), 0)
        # The masses turn against each other.
        return [speed, (torque - spring) / INPUT_KG_M2 - spring / OUTPUT_KG_M2]

    def turns_back(_, state):
        return state[1]

    turns_back.terminal, turns_back.direction = True, -1
    exact = {"rtol": 1e-10, "atol": 1e-13, "max_step": 1e-4}
    done = solve_ivp(rates, (0, 1), [0.0, 0.0], events=turns_back, **exact)
    assert done.status == 1
    return STIFFNESS * (done.y[0, -1] - math.radians(lash_deg))


def lash_deg() -> float:
    """Dogs of 24° that are undercut by 3° and overlap by 4.5 mm."""
    undercut = OVERLAP_MM * math.tan(math.radians(3)) / MEAN_MM
    return 60 - 2 * RING["tip_width_deg"] + math.degrees(2 * undercut)


def test_the_peak_over_the_lash():
    for lash, figures in steps("throttle"):
        assert figures["lash_deg"] == pytest.approx(lash, abs=1e-9)
        assert figures["clunk_nm"] == pytest.approx(peak_nm(lash), rel=1e-5)
        tyre = math.radians(lash) / LAST * 320
        assert figures["lash_tyre_mm"] == pytest.approx(tyre, rel=1e-9)


def test_twice_the_lash_is_a_quarter_more():
    one, two = peak_nm(lash_deg()), peak_nm(2 * lash_deg())
    assert told()["throttle"]["answer"] == pytest.approx(two / one - 1, rel=1e-4)
    assert (one, two) == (pytest.approx(604, abs=1), pytest.approx(759, abs=1))


# ---- a lean that pulls ----


def along_n(angle_deg: float, friction: float, spline: float) -> float:
    """The force along the shaft for a torque of 1 N·m, from the forces on a flank that is about to slide in."""
    angle = math.radians(angle_deg)
    # Normal to the flank, and along it against the sliding; their sum across the shaft carries the torque.
    normal = np.array([math.cos(angle), math.sin(angle)])
    rub = friction * np.array([math.sin(angle), -math.cos(angle)])
    across, along = normal + rub
    return along / across * 1000 / MEAN_MM - spline * 1000 / SPLINE_RADIUS_MM


@pytest.mark.parametrize(("row", "friction", "spline"), [(0, 0, 0), (1, 0.1, 0), (2, 0.1, 0.1)])
def test_the_angle_from_which_it_draws_in(row, friction, spline):
    angle = brentq(along_n, -1, 30, args=(friction, spline))
    shown = told()["lean"]["rows"][row][1]
    assert float(shown.rstrip("°")) == pytest.approx(angle, abs=0.06)
    if row == 2:
        assert told()["lean"]["answer"] == pytest.approx(angle, abs=1e-5)


def test_the_pull_at_each_angle():
    torque = ENGINE_NM * PRIMARY * SECOND
    for angle, figures in steps("lean"):
        expected = torque * along_n(angle, FRICTION, SPLINE_FRICTION)
        assert figures["pull_in_n"] == pytest.approx(expected, rel=1e-9), angle
        assert figures["holding_n"] == pytest.approx(torque * along_n(angle, 0, 0), abs=1e-6)


# ---- face to face ----


def ends(friction: float) -> Counter:
    """How many of the phases end how."""
    reduced = INPUT_KG_M2 * OUTPUT_KG_M2 / (INPUT_KG_M2 + OUTPUT_KG_M2)
    shift = {
        "a": RING,
        "b": RING,
        "travel_by": "both",
        "overlap_mm": OVERLAP_MM,
        "slip_rpm": ASKED_RPM,
        "shift_force_n": 120.0,
        "moving_mass_kg": 0.3,
        "drum_speed_m_per_s": DRUM_M_PER_S,
        "start_speed_m_per_s": 0.12,
        "hold_depth_mm": HOLD_MM,
        "tip_friction": friction,
        "inertia_kg_m2": reduced,
        "drag_nm": 0.0,
        "strike_loss": 0.0,
        "time_allowed_ms": 1000.0,
    }
    # Six dogs on each: every window is like the first.
    phases = (np.arange(PHASES) + 0.37) * 60 / PHASES
    return Counter(Shift(shift | {"phase_deg": float(phase)}).run()[0] for phase in phases)


@pytest.mark.parametrize(("column", "friction"), [(1, FRICTION), (2, LAPPED)])
def test_how_many_of_a_hundred_end_in_and_how_many_hang(column, friction):
    counts = ends(friction)
    hang = counts["Hangs tip on tip"] / PHASES
    within = (counts["Straight in"] + counts["In after rubbing"]) / PHASES
    rows = {row[0]: float(row[column].rstrip("%").strip()) / 100 for row in told()["faces"]["rows"]}
    assert rows["hangs tip on tip"] == pytest.approx(hang, abs=OFF)
    goes_in = rows["straight in"] + rows["in after rubbing"] + rows["thrown back, then in"]
    assert goes_in == pytest.approx(within, abs=OFF)
    if column == 1:
        assert told()["faces"]["answer"] == pytest.approx(goes_in, abs=0.02)
