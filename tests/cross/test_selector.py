"""Linkage, claw, detent and track against solvers that know none of our formulas.

The four-bar is solved from its loop of vectors by scipy, the claw as a ray that meets a circle, the
detent as forces on a wedge; strokes are marched in small steps.
"""

import json
import math

import numpy as np
import pytest
from scipy.optimize import brentq, fsolve

from conftest import report, run

SEEDS = range(60)


# ---- the bare four-bar ----


def stands(a, b, c, d, angles):
    """What the example prints for a linkage, an object for each angle."""
    given = [repr(float(x)) for x in (a, b, c, d)] + [repr(float(x)) for x in angles]
    return [json.loads(line) for line in run("linkage", *given).splitlines()]


def closed(a, b, c, d, arm, guess):
    """Directions of rod and lever that close the loop, from a guess; None where none does."""

    def open_by(unknown):
        rod, lever = unknown
        return [
            a * math.cos(arm) + b * math.cos(rod) - c * math.cos(lever) - d,
            a * math.sin(arm) + b * math.sin(rod) - c * math.sin(lever),
        ]

    # Whether the solver is content with its progress does not matter, only whether the loop is closed.
    found, *_ = fsolve(open_by, guess, full_output=True, xtol=1e-13)
    off = max(abs(x) for x in open_by(found))
    return found if off < 1e-8 * (a + b + c + d) else None


def turn(x):
    return (x + math.pi) % math.tau - math.pi


def sides(a, b, c, d, arm):
    """Both ways to close the loop: the lever's direction on the left and on the right, and the angle
    between rod and lever."""
    found = {}
    for guess_rod in np.linspace(-math.pi, math.pi, 7):
        for guess_lever in np.linspace(-math.pi, math.pi, 7):
            done = closed(a, b, c, d, arm, [guess_rod, guess_lever])
            if done is None:
                continue
            rod, lever = done
            end = np.array([a * math.cos(arm), a * math.sin(arm)])
            joint = end + b * np.array([math.cos(rod), math.sin(rod)])
            shaft = np.array([d, 0.0])
            cross = np.cross(np.append(shaft - end, 0), np.append(joint - end, 0))[2]
            to_arm, to_shaft = end - joint, shaft - joint
            cosine = to_arm @ to_shaft / np.linalg.norm(to_arm) / np.linalg.norm(to_shaft)
            angle = math.degrees(math.acos(np.clip(cosine, -1, 1)))
            found["left" if cross >= 0 else "right"] = (lever, angle)
        if len(found) == 2:
            break
    return found


def linkages(kind):
    """Lengths of arm, rod, lever and frame: cranks that go round, or linkages that lock."""
    for seed in SEEDS:
        rng = np.random.default_rng([seed, kind == "crank"])
        while True:
            a, b, c, d = rng.uniform(10, 100, 4)
            shortest, longest = min(a, b, c, d), max(a, b, c, d)
            grashof = shortest + longest < a + b + c + d - shortest - longest
            goes_round = grashof and a == shortest
            if (kind == "crank" and goes_round) or (kind == "rocker" and not grashof):
                yield pytest.param((a, b, c, d), id=f"{kind}-{seed}")
                break


@pytest.mark.parametrize("bars", list(linkages("crank")))
def test_a_crank_closes_its_loop_all_the_way_round(bars):
    angles = np.arange(3.0, 363.0, 24.0)
    for line in stands(*bars, angles):
        check(bars, line)


@pytest.mark.parametrize("bars", list(linkages("rocker")))
def test_a_linkage_that_locks_closes_its_loop_as_far_as_it_reaches(bars):
    lines = stands(*bars, np.arange(0.0, 360.0, 24.0))
    reached = [line for line in lines if line["transmission_deg"] is not None]
    for line in lines:
        check(bars, line)
    if not reached:
        return
    # At the limits: just short of the lock it stands nearly in line, just beyond not at all.
    start = reached[0]["arm_deg"]
    for way, lock in zip((1, -1), reached[0]["lock_deg"]):
        if lock is None:
            continue
        inside, beyond = stands(*bars, [start + way * (lock - 1e-5), start + way * (lock + 1e-5)])
        assert min(inside["transmission_deg"], 180 - inside["transmission_deg"]) < 1.0
        assert beyond["transmission_deg"] is None
        check(bars, stands(*bars, [start + way * (lock - 0.5)])[0])


def check(bars, line):
    arm = math.radians(line["arm_deg"])
    found = sides(*bars, arm)
    if line["transmission_deg"] is None:
        assert not found, (bars, line, found)
        return
    angle = line["transmission_deg"]
    for side in ("left", "right"):
        if side not in found:
            # Next to a lock both ways to close it fall together.
            assert min(angle, 180 - angle) < 1.0, (bars, line, found)
            continue
        lever, seen = found[side]
        assert abs(turn(lever - math.radians(line[side]))) < 1e-6, (bars, line, found)
        assert abs(seen - angle) < 1e-5
        ratio = line[f"ratio_{side}"]
        if min(angle, 180 - angle) > 5 and ratio is not None:
            step = 1e-5
            ahead = closed(*bars, arm + step, guess(bars, arm, lever))
            behind = closed(*bars, arm - step, guess(bars, arm, lever))
            slope = turn(ahead[1] - behind[1]) / (2 * step)
            assert abs(slope - ratio) < 1e-3 * max(1, abs(ratio)), (bars, line)


def guess(bars, arm, lever):
    a, _, c, d = bars
    rod = math.atan2(
        c * math.sin(lever) - a * math.sin(arm), d + c * math.cos(lever) - a * math.cos(arm)
    )
    return [rod, lever]


# ---- the pedal, marched ----


def pedals():
    """Linkages of a design that reach at rest."""
    made = 0
    for seed in range(400):
        rng = np.random.default_rng(seed)
        design = {
            "shaft_ahead_mm": rng.uniform(60, 200),
            "shaft_above_mm": rng.uniform(-60, 80),
            "pedal_arm_mm": rng.uniform(20, 60),
            "rod_mm": rng.uniform(60, 220),
            "shaft_lever_mm": rng.uniform(20, 60),
            "shaft_lever_at_deg": rng.uniform(-70, 70),
            "foot_arm_mm": rng.uniform(90, 160),
            "foot_bend_deg": rng.uniform(70, 110),
            "foot_lift_mm": rng.uniform(10, 120),
            "foot_press_mm": rng.uniform(10, 120),
        }
        end = lever_end(design)
        far = math.hypot(*end)
        if abs(far - design["pedal_arm_mm"]) + 1 < design["rod_mm"] < far + design["pedal_arm_mm"] - 1:
            made += 1
            yield pytest.param(design, id=f"pedal-{seed}")
        if made == 40:
            return


def lever_end(design):
    at = math.radians(90 - design["shaft_lever_at_deg"])
    return (
        design["shaft_ahead_mm"] + design["shaft_lever_mm"] * math.cos(at),
        design["shaft_above_mm"] + design["shaft_lever_mm"] * math.sin(at),
    )


def march(design, sign):
    """The foot in steps of a fiftieth of a mm until its travel ends or the loop no longer closes: foot
    travel, swing of the shaft, worst angle from square, and where the angle falls below 40°."""
    a, b = design["pedal_arm_mm"], design["rod_mm"]
    c = design["shaft_lever_mm"]
    shaft = np.array([design["shaft_ahead_mm"], design["shaft_above_mm"]])
    end = np.array(lever_end(design))
    # The arm at rest: of the two places on its circle the one to the left of the line to the lever.
    base = math.atan2(end[1], end[0])
    opening = brentq(
        lambda x: math.hypot(end[0] - a * math.cos(base + x), end[1] - a * math.sin(base + x)) - b,
        0.0,
        math.pi,
        xtol=1e-14,
    )
    arm = base + opening if end[0] >= 0 else base - opening
    foot_arm = arm - math.radians(design["foot_bend_deg"])
    way = 1 if math.cos(foot_arm) >= 0 else -1
    travel = design["foot_lift_mm" if sign > 0 else "foot_press_mm"]
    steps = int(travel / 0.02)
    lever = rest = math.atan2(end[1] - shaft[1], end[0] - shaft[0])
    worst, cramps, foot = 0.0, None, 0.0
    for step in range(steps + 1):
        foot = travel * step / steps
        turned = arm + way * sign * foot / design["foot_arm_mm"]
        joint = a * np.array([math.cos(turned), math.sin(turned)])

        def off(x):
            tip = shaft + c * np.array([math.cos(x), math.sin(x)])
            return np.linalg.norm(tip - joint) - b

        found = nearest_root(off, lever)
        if found is None:
            return foot, abs(turn(lever - rest)), worst, cramps, True
        lever = found
        tip = shaft + c * np.array([math.cos(lever), math.sin(lever)])
        one, other = joint - tip, shaft - tip
        cosine = one @ other / np.linalg.norm(one) / np.linalg.norm(other)
        angle = math.degrees(math.acos(np.clip(cosine, -1, 1)))
        worst = max(worst, abs(angle - 90))
        if cramps is None and min(angle, 180 - angle) < 40:
            cramps = foot
    return foot, abs(turn(lever - rest)), worst, cramps, False


def nearest_root(off, near):
    """The root nearest to where it was, by bracketing; None where there is none close by."""
    for reach in (0.002, 0.01, 0.03):
        low, high = near - reach, near + reach
        if off(low) * off(high) < 0:
            return brentq(off, low, high, xtol=1e-13)
    return near if abs(off(near)) < 1e-9 else None


@pytest.mark.parametrize("design", list(pedals()))
def test_the_strokes_of_a_pedal_are_those_of_a_march(design):
    answer = report({"linkage": design})
    figures = answer["figures"]
    codes = [finding["code"] for finding in answer["findings"]]
    worst_of_both = 0.0
    for sign, word in ((1, "lift"), (-1, "press")):
        foot, swing, worst, cramps, locks = march(design, sign)
        worst_of_both = max(worst_of_both, worst)
        # Next to a lock the lever races, and a step of the march is coarse there.
        slack = 12.0 if locks else 1e-4
        assert abs(figures[f"shaft_swing_{word}_deg"] - math.degrees(swing)) < slack
        if locks:
            assert "linkage_locks" in codes
            numbers = [f["numbers"][0] for f in answer["findings"] if f["code"] == "linkage_locks"]
            assert min(abs(number - foot) for number in numbers) < 0.05
        elif cramps is not None:
            numbers = [f["numbers"][2] for f in answer["findings"] if f["code"] == "linkage_cramps"]
            assert min(abs(number - cramps) for number in numbers) < 0.05
    assert abs(abs(figures["transmission_worst_deg"] - 90) - worst_of_both) < 3.0


def test_a_rod_too_short_is_a_finding_with_its_numbers():
    answer = report({"linkage": {"rod_mm": 60}})
    finding = next(f for f in answer["findings"] if f["code"] == "rod_does_not_reach")
    far = math.hypot(125, 52)
    assert finding["severity"] == "error"
    np.testing.assert_allclose(finding["numbers"], [60, far - 35, far + 35])
    # The pair is worked out all the same.
    assert answer["figures"]["lash_deg"] is not None


# ---- claw ----


def claws():
    for seed in SEEDS:
        rng = np.random.default_rng([seed, 7])
        positions = int(rng.integers(4, 15))
        apart = rng.uniform(30, 80)
        pin = apart * math.cos(math.pi / positions) * rng.uniform(0.1, 0.6)
        yield pytest.param(
            {
                "drum_positions": positions,
                "shaft_to_drum_mm": apart,
                "pin_radius_mm": max(pin, 2.0),
                "claw_play_lift_mm": rng.uniform(0, 2),
                "claw_play_press_mm": rng.uniform(0, 2),
                "claw_travel_lift_mm": rng.uniform(3, 14),
                "claw_travel_press_mm": rng.uniform(3, 14),
                "stop_radius_mm": rng.uniform(15, 50),
                "eccentric_mm": rng.uniform(0.1, 3),
                "eccentric_at_deg": rng.uniform(-80, 80),
            },
            id=f"claw-{seed}",
        )


@pytest.mark.parametrize("claw", list(claws()))
def test_a_claw_pulls_its_pin_round_as_a_ray_does(claw):
    figures = report({"claw": claw})["figures"]
    pin, apart = claw["pin_radius_mm"], claw["shaft_to_drum_mm"]
    half = math.pi / claw["drum_positions"]
    shaft = np.array([apart, 0.0])

    def at(angle):
        return pin * np.array([math.cos(angle), math.sin(angle)])

    def seen(angle):
        arm = at(angle) - shaft
        return math.atan2(arm[1], -arm[0])

    radius = np.linalg.norm(at(half) - shaft)
    swing = seen(half) - seen(-half)
    assert abs(figures["claw_swing_deg"] - math.degrees(swing)) < 1e-9
    gaps = []
    for word in ("lift", "press"):
        play, travel = claw[f"claw_play_{word}_mm"], claw[f"claw_travel_{word}_mm"]
        # Along the arc of the hook: what is left once the pin is home.
        gap = (swing - (travel - play) / radius) * radius
        gaps.append(gap)
        assert abs(figures[f"gap_{word}_mm"] - gap) < 1e-9
    equal = figures["eccentric_equal_deg"]
    now, e = math.radians(claw["eccentric_at_deg"]), claw["eccentric_mm"]
    lever = radius / claw["stop_radius_mm"]

    def apart_by(alpha):
        moved = e * (math.sin(alpha) - math.sin(now)) * lever
        return (gaps[0] - moved) - (gaps[1] + moved)

    can = apart_by(-math.pi / 2) * apart_by(math.pi / 2) <= 0
    assert (equal is not None) == can
    if can:
        root = brentq(apart_by, -math.pi / 2, math.pi / 2, xtol=1e-14)
        assert abs(apart_by(math.radians(equal))) < 1e-9
        nearest = min(abs(turn(root - now)), abs(turn(math.pi - root - now)))
        assert abs(turn(math.radians(equal) - now)) <= nearest + 1e-6


# ---- detent and track ----


@pytest.mark.parametrize("seed", SEEDS)
def test_a_roller_holds_and_returns_as_a_wedge_in_balance(seed):
    rng = np.random.default_rng([seed, 11])
    force, radius = rng.uniform(5, 100), rng.uniform(8, 40)
    flank, friction = math.radians(rng.uniform(15, 50)), rng.uniform(0, 0.3)
    figures = report(
        {
            "detent": {
                "roller_force_n": force,
                "star_radius_mm": radius,
                "star_flank_deg": math.degrees(flank),
                "roller_friction": friction,
            }
        }
    )["figures"]
    # The roller is pressed down on a flank that rises with its angle; the flank bears on it square to
    # itself with N, and friction works against the sliding, up the flank or down it.
    for key, way in (("detent_hold_nmm", 1), ("detent_return_nmm", -1)):

        def balance(unknown):
            bearing, push = unknown
            along = way * friction * bearing
            upwards = bearing * math.cos(flank) - along * math.sin(flank) - force
            across = bearing * math.sin(flank) + along * math.cos(flank) - push
            return [upwards, across]

        _, push = fsolve(balance, [force, force])
        assert figures[key] == pytest.approx(push * radius, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_track_of_points_is_that_of_numpy(seed):
    rng = np.random.default_rng([seed, 13])
    count = int(rng.integers(2, 8))
    angles = np.sort(rng.choice(np.arange(1, 80), count, replace=False)).astype(float)
    travel = rng.uniform(0, 7, count)
    slack = rng.uniform(0, 20)
    points = [{"track_at_deg": a, "fork_travel_mm": t} for a, t in zip(angles, travel)]
    figures = report({"track": {"points": points}, "detent": {"drum_slack_deg": slack}})["figures"]
    home = np.interp(60.0, angles, travel)
    assert figures["fork_at_home_mm"] == pytest.approx(home, abs=1e-9)
    near = np.concatenate([np.linspace(60 - slack / 2, 60 + slack / 2, 20001), angles])
    near = near[np.abs(near - 60) <= slack / 2 + 1e-12]
    least = np.interp(near, angles, travel).min() if len(near) else home
    assert figures["rocking_costs_mm"] == pytest.approx(home - least, abs=1e-6)
