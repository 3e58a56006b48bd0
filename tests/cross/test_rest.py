"""Gears selected at rest, found by trying: the tips of two rings are pushed along each other phase by phase, and a roll of the
machine turns one of them on until they are free. What a roll turns is worked out here from teeth, wheel and chain."""

import math

import numpy as np
import pytest
from conftest import report
from test_windows import HOLD_MM, Strip, Tips, design

# Phases that are tried in a turn, and how far a share counted over them may be off.
PHASES = 7200
OFF = 4e-3

# Tooth counts of three gears, and the shaft that the free gear sits on.
GEARS = [(12, 35, "output"), (17, 28, "output"), (24, 26, "input")]
PRIMARY, FINAL, WHEEL_MM = (27, 70), (15, 42), 610.0

NUMBERS = range(30)


def given(number: int) -> dict:
    """A pair in a gearbox, rolled by a distance that frees some phases and not others."""
    return design(number) | {
        "hold_depth_mm": HOLD_MM,
        "slip_rpm": 100,
        "wheel_diameter_mm": WHEEL_MM,
        "roll_mm": 40 + 13 * (number % 9),
        "chain_sag_mm": 4 * (number % 7),
        "chain_slack_mm": 12 if number % 5 == 0 else 0,
        "idle_rpm": 1000 + 50 * number,
        "clutch_drag_nm": 0.3 * (number % 4),
        "gearbox": {
            "primary_driving_teeth": PRIMARY[0],
            "primary_driven_teeth": PRIMARY[1],
            "final_driving_teeth": FINAL[0],
            "final_driven_teeth": FINAL[1],
            "gears": [
                {"driving_teeth": driving, "driven_teeth": driven, "free_on": shaft} for driving, driven, shaft in GEARS
            ],
        },
    }


def blocked(case: dict) -> np.ndarray:
    """Whether tips stand on each other, for every phase of a turn."""
    tips = Tips(Strip(case), HOLD_MM)
    return np.array([not tips.is_open(360 * (at + 0.5) / PHASES) for at in range(PHASES)])


def ways_to_a_gap(stands: np.ndarray) -> np.ndarray:
    """How far each phase has to be turned one way until it is free, degrees; infinite if it never is."""
    if stands.all():
        return np.full(PHASES, math.inf)
    ways, left = np.zeros(PHASES), 0.0
    for at in reversed(range(2 * PHASES)):
        left = left + 360 / PHASES if stands[at % PHASES] else 0.0
        ways[at % PHASES] = left
    return ways


def at_rest(case: dict) -> list[dict]:
    """What is told of each gear; nothing where the rings jam."""
    told = report(case)
    rows = told["gearbox"]["at_rest"]
    assert rows or told["jam_overlap_mm"] is not None
    return rows


def turned_deg(case: dict, gear: tuple, rolled_mm: float) -> float:
    """How far the dogs turn in a roll whose first part the slack of the chain takes."""
    driving, driven, shaft = gear
    sag, pushed, run = case["chain_sag_mm"], case["chain_slack_mm"], 600.0
    slack = 2 * pushed**2 / run if pushed else 8 * sag**2 / (3 * run)
    sprocket = 15.875 / (2 * math.sin(math.pi / FINAL[0]))
    output = rolled_mm / (WHEEL_MM / 2) * FINAL[1] / FINAL[0] - slack / sprocket
    return math.degrees(max(output, 0.0) * (driven / driving if shaft == "input" else 1.0))


@pytest.mark.parametrize("number", NUMBERS)
def test_shares_at_rest(number):
    case = given(number)
    stands, rows = blocked(case), at_rest(case)
    if not rows:
        return
    ways = ways_to_a_gap(stands)
    assert [row["gear"] for row in rows] == [1, 2, 3]
    for gear, row in zip(GEARS, rows, strict=True):
        assert abs(row["at_once"] - np.mean(~stands)) < OFF
        rolled = turned_deg(case, gear, case["roll_mm"])
        assert abs(row["rolled"] - np.mean(ways <= rolled)) < OFF
        if stands.any() and not stands.all():
            assert abs(row["rolled_from_tips"] - np.mean(ways[stands] <= rolled)) < 2 * OFF
        if stands.all():
            assert row["sure_mm"] is None
        else:
            # No farther than the longest way, and not much less.
            longest = turned_deg(case, gear, row["sure_mm"])
            assert abs(longest - ways.max()) < 2.1 * 360 / PHASES


@pytest.mark.parametrize("number", NUMBERS)
def test_an_idling_engine_meets_the_dogs_as_fast_as_its_teeth_say(number):
    case = given(number)
    for (driving, driven, shaft), row in zip(GEARS, at_rest(case)):
        ratio = driven / driving if shaft == "output" else 1.0
        slip = case["idle_rpm"] * PRIMARY[0] / PRIMARY[1] / ratio
        assert row["idling"]["slip_rpm"] == pytest.approx(slip, rel=1e-12)
        assert row["idling"]["clutch_nm"] == pytest.approx(case["clutch_drag_nm"] * ratio, rel=1e-12, abs=1e-12)
        if row["idling"]["clutch_nm"] >= row["idling"]["tips_nm"]:
            assert row["idling"]["locked"] == 0


def test_most_pairs_go_in():
    assert sum(bool(at_rest(given(number))) for number in NUMBERS) >= len(NUMBERS) / 2
