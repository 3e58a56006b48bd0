"""Travel along the shaft, integrated step by step from Newton's law."""

import random

import pytest
from conftest import report
from scipy.integrate import solve_ivp


def given(number: int) -> dict:
    """The same travel for the same number, forever; each way of moving in turn."""
    rng = random.Random(number)
    drum = rng.uniform(0.05, 1)
    return {
        "travel_by": ["force", "drum", "both"][number % 3],
        "shift_force_n": rng.uniform(20, 400),
        "moving_mass_kg": rng.uniform(0.1, 0.8),
        "drum_speed_m_per_s": drum,
        # From rest, slower than the drum, and faster.
        "start_speed_m_per_s": rng.choice([0.0, rng.uniform(0, drum), rng.uniform(1, 2) * drum]),
        "hold_depth_mm": rng.uniform(0.2, 4),
    }


def speed_at(travel: dict) -> float:
    """Speed at tip level, m/s."""
    start, drum = travel["start_speed_m_per_s"], travel["drum_speed_m_per_s"]
    return {"force": start, "drum": drum, "both": min(start, drum)}[travel["travel_by"]]


def milliseconds(travel: dict) -> tuple[float, bool]:
    """Time to the holding depth, and whether the drum held it back on the way."""
    depth = travel["hold_depth_mm"] / 1000
    push = travel["shift_force_n"] / travel["moving_mass_kg"]
    drum = travel["drum_speed_m_per_s"]
    capped = travel["travel_by"] != "force"

    def there(_, state):
        return state[0] - depth

    def at_drum_speed(_, state):
        return state[1] - drum

    there.terminal = at_drum_speed.terminal = True
    exact = {"rtol": 1e-12, "atol": 1e-15}
    speed, time, place = speed_at(travel), 0.0, 0.0
    if not capped or speed < drum:
        events = [there, at_drum_speed] if capped else [there]
        pushed = solve_ivp(lambda _, s: [s[1], push], (0, 10), [0, speed], events=events, **exact)
        assert pushed.status == 1
        time, (place, speed) = pushed.t[-1], pushed.y[:, -1]
        if len(pushed.t_events[0]):
            return time * 1000, False
    carried = solve_ivp(lambda _, s: [drum, 0.0], (0, 200), [place, drum], events=[there], **exact)
    assert carried.status == 1
    return (time + carried.t[-1]) * 1000, True


@pytest.mark.parametrize("number", range(36))
def test_travel_time(number):
    travel = given(number)
    expected, _ = milliseconds(travel)
    told = report(travel)["figures"]["travel_time_ms"]
    assert told == pytest.approx(expected, rel=1e-8)


def test_the_travels_are_of_all_kinds():
    both = [given(n) for n in range(36) if given(n)["travel_by"] == "both"]
    held_back = [milliseconds(travel)[1] for travel in both]
    assert any(held_back) and not all(held_back)
    assert any(0 < speed_at(travel) < travel["drum_speed_m_per_s"] for travel in both)
