"""Linkage, claw, detent and track against solvers that know none of the core's formulas.

The four-bar is two circles that scipy brings to meet, a lock is where a distance of two points has a
root, a stroke is walked in small steps, the claw is a ray that meets a circle, and the detent is the
balance of forces on a wedge.
"""

import json
import math

import numpy as np
import pytest
from conftest import report, run
from scipy.optimize import brentq, fsolve, minimize_scalar

LINKAGES = range(120)
PEDALS = range(100)
CLAWS = range(120)
ROUND = np.arange(0.0, 360.0, 15.0)
FEET = np.arange(-40.0, 41.0, 4.0)
# Degrees of transmission angle below which a linkage cramps.
CRAMPED = 40.0
FALLS_BACK = "back"


# ---- points ----


def polar(length, angle):
    return length * np.array([math.cos(angle), math.sin(angle)])


def direction(vector):
    return math.atan2(vector[1], vector[0])


def turn(angle):
    """The same angle within half a turn."""
    return (angle + math.pi) % math.tau - math.pi


def cross(one, other):
    return one[0] * other[1] - one[1] * other[0]


def between(one, other):
    """Angle between two vectors, degrees; as exact near 0 and 180 as it is near 90."""
    return math.degrees(math.atan2(abs(cross(one, other)), one @ other))


def joint(arm_end, shaft, rod, lever, start):
    """Where rod and lever meet, near a first guess; None if they do not."""

    def off(place):
        return [
            math.hypot(*(place - arm_end)) - rod,
            math.hypot(*(place - shaft)) - lever,
        ]

    found, _, done, _ = fsolve(off, start, full_output=True, xtol=1e-13)
    close = max(map(abs, off(found))) < 1e-8 * (rod + lever)
    return found if close else None


def on_side(arm_end, shaft, rod, lever, side):
    """The meeting of rod and lever to the left (1) or right (-1) of the line from arm to shaft."""
    along = shaft - arm_end
    far = math.hypot(*along)
    # No triangle has such sides, wherever its corner is looked for.
    if not abs(rod - lever) < far < rod + lever:
        return None
    square = side * np.array([-along[1], along[0]]) / far
    for share in (0.5, 0.0, 1.0, -0.5, 1.5):
        for high in (1.0, 0.3, 0.03):
            start = arm_end + share * along + high * lever * square
            found = joint(arm_end, shaft, rod, lever, start)
            if found is not None and side * cross(along, found - arm_end) > 0:
                return found
    return None


# ---- the bare four-bar, all the way round ----


def four_bars(kind):
    """Arm, rod, lever, distance of the pivots: cranks that go round, or linkages that do not."""
    for seed in LINKAGES:
        rng = np.random.default_rng([seed, kind == "crank"])
        while True:
            bars = rng.uniform(10, 200, 4)
            low, *middle, high = sorted(bars)
            goes_round = low + high < sum(middle)
            if kind == "crank" and goes_round and bars[0] == low:
                break
            closes = high < low + sum(middle)
            if kind == "rocker" and closes and not goes_round:
                break
        yield pytest.param(bars, id=f"{kind}-{seed}")


def linkage(bars, degrees):
    """The answer of the example for each angle of the arm."""
    typed = [f"{float(number):.15f}" for number in (*bars, *degrees)]
    return [json.loads(line) for line in run("linkage", *typed).splitlines()]


def check_four_bar(bars, line, lock_is_near=False):
    arm, rod, lever, apart = bars
    shaft, end = np.array([apart, 0.0]), polar(arm, math.radians(line["arm_deg"]))
    for word, side in (("left", 1), ("right", -1)):
        found = on_side(end, shaft, rod, lever, side)
        if found is None:
            assert line[word] is None or lock_is_near, line
            continue
        # A hair off in line moves the joint by its root.
        seen = between(end - found, shaft - found)
        close = 1e-7 if 1 < seen < 179 else 2e-2
        assert turn(math.radians(line[word]) - direction(found - shaft)) == pytest.approx(
            0, abs=math.radians(close)
        ), line
        assert line["transmission_deg"] == pytest.approx(seen, abs=close)


def check_ratio(bars, line):
    """The slope of the lever is that of its joint a little on and a little back."""
    arm, rod, lever, apart = bars
    shaft, angle, step = np.array([apart, 0.0]), math.radians(line["arm_deg"]), 1e-5
    for word, side in (("left", 1), ("right", -1)):
        if line[word] is None or not 5 < line["transmission_deg"] < 175:
            continue
        ends = [
            on_side(polar(arm, angle + by), shaft, rod, lever, side) for by in (step, -step)
        ]
        on, back = (direction(end - shaft) for end in ends)
        slope = turn(on - back) / (2 * step)
        assert line[f"ratio_{word}"] == pytest.approx(slope, rel=1e-5, abs=1e-5)


@pytest.mark.parametrize("bars", list(four_bars("crank")))
def test_a_crank_closes_its_loop_all_the_way_round(bars):
    lines = linkage(bars, ROUND)
    assert len(lines) == len(ROUND)
    for line in lines:
        assert line["left"] is not None and line["right"] is not None
        assert line["lock_deg"] == [None, None]
        check_four_bar(bars, line)
    check_ratio(bars, lines[3])


def in_line(bars):
    """Angles of the arm, over a turn, at which rod and lever lie in line."""
    arm, rod, lever, apart = bars
    shaft, grid = np.array([apart, 0.0]), np.linspace(0, math.tau, 2881)
    found = []
    for diagonal in (rod + lever, abs(rod - lever)):

        def off(angle):
            return math.hypot(*(shaft - polar(arm, angle))) - diagonal

        ends = shaft[:, None] - arm * np.array([np.cos(grid), np.sin(grid)])
        values = np.hypot(*ends) - diagonal
        for at in np.flatnonzero(values[:-1] * values[1:] < 0):
            found.append(brentq(off, grid[at], grid[at + 1], xtol=1e-14))
    return found


@pytest.mark.parametrize("bars", list(four_bars("rocker")))
def test_a_rocker_reaches_as_far_as_its_rod_and_lever_in_line(bars):
    lines = linkage(bars, ROUND)
    for line in lines:
        check_four_bar(bars, line)
    locks = in_line(bars)
    assert len(locks) in (2, 4)
    started = [line for line in lines if line["left"] is not None]
    for line in started:
        start = math.radians(line["arm_deg"])
        for way, said in zip((1, -1), line["lock_deg"]):
            nearest = min((way * (lock - start)) % math.tau for lock in locks)
            assert said == pytest.approx(math.degrees(nearest), abs=1e-7)
        check_ratio(bars, line)
    # At each limit: it stands on one side of it and not on the other.
    for lock in locks:
        near = [math.degrees(lock + by) for by in (-1e-4, 1e-4)]
        stands = [line["left"] is not None for line in linkage(bars, near)]
        assert sorted(stands) == [False, True], (bars, lock)
        inside = near[stands.index(True)]
        line = linkage(bars, [inside])[0]
        assert min(line["transmission_deg"], 180 - line["transmission_deg"]) < 5
        check_four_bar(bars, line, lock_is_near=True)


def test_the_solved_problem_by_its_points():
    """Extremes of the transmission angle where arm and pivots are in line: 31.61° and 100.80°."""
    bars = np.array([63.5, 165.5, 114.0, 154.34])
    lines = linkage(bars, np.arange(0, 360, 0.5))
    angles = [line["transmission_deg"] for line in lines]
    assert (min(angles), max(angles)) == pytest.approx((31.61, 100.80), abs=5e-3)
    assert (np.argmin(angles), np.argmax(angles)) == (0, 360)
    for line in lines[::40]:
        check_four_bar(bars, line)


# ---- whole designs ----


def designs(parts, feet=()):
    """What the example says of each design."""
    given = "\n".join(json.dumps({"crenel": 1} | part) for part in parts)
    typed = [f"{float(foot):.15f}" for foot in feet]
    answers = [json.loads(line) for line in run("selector", *typed, given=given).splitlines()]
    assert len(answers) == len(parts)
    return answers


class Pedal:
    """A pedal worked out from its saved form by points and roots."""

    def __init__(self, given):
        self.given = given
        self.arm, self.rod = given["pedal_arm_mm"], given["rod_mm"]
        self.lever, self.foot_arm = given["shaft_lever_mm"], given["foot_arm_mm"]
        self.shaft = np.array([given["shaft_ahead_mm"], given["shaft_above_mm"]])
        leans = math.radians(given["shaft_lever_at_deg"])
        self.end = self.shaft + self.lever * np.array([math.sin(leans), math.cos(leans)])
        self.rest = self.at_rest()
        self.side = math.copysign(1, cross(self.shaft - self.rest, self.end - self.rest))
        self.foot = direction(self.rest) - math.radians(given["foot_bend_deg"])
        self.way = 1 if math.cos(self.foot) >= 0 else -1

    def at_rest(self):
        """The end of the arm: on its circle, a rod from the lever, above or below the line there."""
        line = direction(self.end)
        above = self.given["pedal_by"] == "rod_above"
        # Above the line is square to it on the side where y grows.
        side = 1 if (self.end[0] >= 0) == above else -1

        def off(opening):
            return math.hypot(*(self.end - polar(self.arm, line + side * opening))) - self.rod

        return polar(self.arm, line + side * brentq(off, 0.0, math.pi, xtol=1e-15))

    def arm_end(self, foot):
        return polar(self.arm, direction(self.rest) + self.way * foot / self.foot_arm)

    def peg(self, foot):
        return polar(self.foot_arm, self.foot + self.way * foot / self.foot_arm)

    def joint(self, foot):
        return on_side(self.arm_end(foot), self.shaft, self.rod, self.lever, self.side)

    def transmission(self, foot):
        end, found = self.arm_end(foot), self.joint(foot)
        return between(end - found, self.shaft - found)

    def diagonal(self, foot):
        return math.hypot(*(self.shaft - self.arm_end(foot)))

    def lock(self, travel):
        """The first foot travel on the way to `travel` with rod and lever in line, and that diagonal."""
        grid = np.linspace(0, travel, 401)
        first = (None, None)
        for diagonal in (self.rod + self.lever, abs(self.rod - self.lever)):
            values = [self.diagonal(foot) - diagonal for foot in grid]
            for at in range(len(grid) - 1):
                if values[at] * values[at + 1] < 0:
                    root = brentq(
                        lambda foot: self.diagonal(foot) - diagonal, grid[at], grid[at + 1], xtol=1e-13
                    )
                    if first[0] is None or abs(root) < abs(first[0]):
                        first = (root, diagonal)
                    break
        return first

    def locked_lever(self, foot, diagonal):
        """Direction of the lever with rod and lever in line."""
        to_arm = direction(self.arm_end(foot) - self.shaft)
        folded = diagonal < self.rod + self.lever - 1e-9
        return to_arm + math.pi if folded and self.rod > self.lever else to_arm

    def stroke(self, travel):
        """The whole stroke, walked in small steps and sharpened by roots."""
        lock, diagonal = self.lock(travel)
        reached = travel if lock is None else lock
        grid = reached * np.linspace(0, 1, 121)
        inside = grid if lock is None else grid[:-1]
        points = [self.joint(foot) for foot in inside]
        levers = [direction(point - self.shaft) for point in points]
        ends = [self.arm_end(foot) for foot in inside]
        angles = [between(end - at, self.shaft - at) for end, at in zip(ends, points)]
        if lock is not None:
            levers.append(self.locked_lever(lock, diagonal))
        swings = np.unwrap(levers)
        swings = swings - swings[0]
        off = [abs(angle - 90) for angle in angles]
        worst = max(off) if lock is None else 90.0
        if lock is None and 0 < np.argmax(off) < len(off) - 1:
            at = int(np.argmax(off))
            ends = sorted((grid[at - 1], grid[at + 1]))
            best = minimize_scalar(
                lambda foot: -abs(self.transmission(foot) - 90), bounds=ends, method="bounded"
            )
            worst = max(worst, -best.fun)
        limit = 90 - CRAMPED
        cramps = None
        if off[0] > limit:
            cramps = 0.0
        else:
            behind = [at for at in range(1, len(off)) if off[at] > limit]
            if behind:
                at = behind[0]
                cramps = brentq(
                    lambda foot: abs(self.transmission(foot) - 90) - limit,
                    grid[at - 1],
                    grid[at],
                    xtol=1e-13,
                )
            elif lock is not None:
                cramps = abs(lock)
        return {
            "foot_mm": abs(reached),
            "locks": lock is not None,
            "swing_deg": math.degrees(abs(swings[-1])),
            "farthest_deg": math.degrees(max(abs(swings))),
            "worst_off_deg": worst,
            "cramps_at_mm": None if cramps is None else abs(cramps),
        }


def pedal_given(seed):
    """A linkage whose rod reaches at rest with some room, its shaft on any side of the pedal."""
    rng = np.random.default_rng([seed, 3])
    while True:
        given = {
            "pedal_by": str(rng.choice(["rod_above", "rod_below"])),
            "shaft_ahead_mm": rng.uniform(-250, 250),
            "shaft_above_mm": rng.uniform(-120, 120),
            "pedal_arm_mm": rng.uniform(20, 80),
            "rod_mm": rng.uniform(40, 300),
            "shaft_lever_mm": rng.uniform(20, 80),
            "shaft_lever_at_deg": rng.uniform(-180, 180),
            "foot_arm_mm": rng.uniform(90, 200),
            "foot_bend_deg": rng.uniform(-180, 180),
            "foot_lift_mm": rng.uniform(10, 90),
            "foot_press_mm": rng.uniform(10, 90),
        }
        leans = math.radians(given["shaft_lever_at_deg"])
        far = math.hypot(
            given["shaft_ahead_mm"] + given["shaft_lever_mm"] * math.sin(leans),
            given["shaft_above_mm"] + given["shaft_lever_mm"] * math.cos(leans),
        )
        arm = given["pedal_arm_mm"]
        room = abs(far - arm) + 2 < given["rod_mm"] < far + arm - 2
        square = abs(Pedal(given).transmission(0) - 90) < 87 if room else False
        if square and abs(math.cos(Pedal(given).foot)) > 1e-3:
            return given


@pytest.fixture(scope="module")
def pedals():
    """Every pedal with the answer for it."""
    given = [pedal_given(seed) for seed in PEDALS]
    answers = designs([{"linkage": one} for one in given], FEET)
    return [(Pedal(one), answer) for one, answer in zip(given, answers)]


@pytest.mark.parametrize("seed", PEDALS)
def test_a_pedal_stands_where_points_and_roots_put_it(pedals, seed):
    pedal, answer = pedals[seed]
    for foot, said in zip(FEET, answer["feet"]):
        lock, _ = pedal.lock(foot) if foot else (None, None)
        if lock is not None:
            # What lies behind a lock may be reached again, but not by this foot.
            continue
        found = pedal.joint(foot)
        np.testing.assert_allclose(said["peg_mm"], pedal.peg(foot), atol=1e-8)
        np.testing.assert_allclose(said["rod_mm"][0], pedal.arm_end(foot), atol=1e-8)
        angle = pedal.transmission(foot)
        close = 1e-6 if 2 < angle < 178 else 1e-2
        np.testing.assert_allclose(said["rod_mm"][1], found, atol=100 * close)
        assert said["transmission_deg"] == pytest.approx(angle, abs=close)
        swung = turn(direction(found - pedal.shaft) - direction(pedal.end - pedal.shaft))
        assert turn(math.radians(said["shaft_deg"]) - swung) == pytest.approx(0, abs=close)


@pytest.mark.parametrize("seed", PEDALS)
def test_a_stroke_reaches_locks_and_cramps_where_a_walk_does(pedals, seed):
    pedal, answer = pedals[seed]
    said = answer["linkage"]
    for at, (key, sign) in enumerate((("foot_lift_mm", 1), ("foot_press_mm", -1))):
        walk = pedal.stroke(sign * pedal.given[key])
        assert said["locks"][at] == walk["locks"]
        assert said["foot_mm"][at] == pytest.approx(walk["foot_mm"], rel=1e-8)
        # It stops short of the lock by a billionth, and the lever by the root of that.
        close = 2e-2 if walk["locks"] else 1e-6
        assert said["swing_deg"][at] == pytest.approx(walk["swing_deg"], abs=close)
        # The walk finds its farthest place to within a step, where the shaft hardly turns.
        assert said["farthest_deg"][at] == pytest.approx(walk["farthest_deg"], abs=max(close, 2e-2))
        assert abs(said["worst_deg"][at] - 90) == pytest.approx(walk["worst_off_deg"], abs=close)
        if walk["cramps_at_mm"] is None:
            assert said["cramps_at_mm"][at] is None
        else:
            assert said["cramps_at_mm"][at] == pytest.approx(walk["cramps_at_mm"], abs=1e-6)


# Arm and rod nearly in line at rest, so that pressing takes the arm through the line.
THROUGH_LINE = {
    "pedal_by": "rod_above",
    "shaft_ahead_mm": 150.0,
    "shaft_above_mm": 0.0,
    "pedal_arm_mm": 35.0,
    "rod_mm": 118.45,
    "shaft_lever_mm": 32.0,
    "shaft_lever_at_deg": 0.0,
    "foot_arm_mm": 130.0,
    "foot_bend_deg": 60.0,
    "foot_lift_mm": 36.0,
    "foot_press_mm": 36.0,
}


def test_an_arm_through_the_line_of_its_rod_is_told():
    """Lifting and pressing turn the shaft the same way, and pressing turns it there and back: the stroke
    pulls the wrong pin."""
    answer = designs([{"linkage": THROUGH_LINE}], [-36, -6, 36])[0]
    down, little, up = (place["shaft_deg"] for place in answer["feet"])
    assert down > 0 > little and up > 0
    linkage_findings = [code for code in answer["findings"] if code.startswith("linkage")]
    assert linkage_findings or answer["linkage"]["swing_deg"][1] < 0.2


# A lever shorter than the arm, dragged round by a pedal that turns most of a turn.
DRAGGED_ROUND = {
    "pedal_by": "rod_above",
    "shaft_ahead_mm": 30.0,
    "shaft_above_mm": 0.0,
    "pedal_arm_mm": 60.0,
    "rod_mm": 60.0,
    "shaft_lever_mm": 55.0,
    "shaft_lever_at_deg": 0.0,
    "foot_arm_mm": 20.0,
    "foot_bend_deg": 100.0,
    "foot_lift_mm": 80.0,
    "foot_press_mm": 80.0,
}


def test_a_shaft_beyond_half_a_turn_has_turned_so_far():
    said = designs([{"linkage": DRAGGED_ROUND}])[0]["linkage"]
    walk = Pedal(DRAGGED_ROUND).stroke(-80.0)
    assert walk["swing_deg"] == pytest.approx(273.27, abs=0.01)
    assert said["swing_deg"][1] == pytest.approx(walk["swing_deg"], abs=1e-6)


@pytest.mark.parametrize("seed", PEDALS)
def test_a_pedal_turns_the_shaft_as_fast_as_small_steps_do(pedals, seed):
    pedal, answer = pedals[seed]
    step = 1e-3
    on, back = (direction(pedal.joint(by) - pedal.shaft) for by in (step, -step))
    slope = math.degrees(abs(turn(on - back))) / (2 * step)
    assert answer["linkage"]["deg_per_mm"] == pytest.approx(slope, rel=1e-4, abs=1e-6)


@pytest.mark.parametrize("seed", PEDALS)
def test_another_rod_lifts_the_peg_by_what_was_asked(pedals, seed):
    pedal, answer = pedals[seed]
    was = pedal.peg(0)[1]
    longer = answer["linkage"]["peg_per_turn_mm"]
    assert longer == pytest.approx(Pedal(pedal.given | {"rod_mm": pedal.rod + 1}).peg(0)[1] - was)
    assert len(answer["linkage"]["rods"]) == 7
    for up, rod in answer["linkage"]["rods"]:
        if rod is not None:
            other = Pedal(pedal.given | {"rod_mm": rod})
            assert other.peg(0)[1] - was == pytest.approx(up, abs=1e-5)
            # The near one of the two places of the same height.
            assert other.peg(0)[0] * pedal.peg(0)[0] >= 0


def test_a_rod_that_does_not_reach_has_the_limits_that_do():
    wrong = [pedal_given(seed) | {"rod_mm": 900.0} for seed in PEDALS]
    for given, answer in zip(wrong, designs([{"linkage": one} for one in wrong])):
        ends = [answer["linkage"][key] for key in ("least_mm", "most_mm")]
        # The nearest and the farthest that the end of the arm comes to the lever, all the way round.
        leans = math.radians(given["shaft_lever_at_deg"])
        end = np.array([given["shaft_ahead_mm"], given["shaft_above_mm"]])
        end = end + given["shaft_lever_mm"] * np.array([math.sin(leans), math.cos(leans)])

        def reached(angle):
            return math.hypot(*(end - polar(given["pedal_arm_mm"], angle)))

        angles = np.linspace(0, math.tau, 721)
        for found, sign in zip(ends, (1, -1)):
            near = min(angles, key=lambda angle: sign * reached(angle))
            best = minimize_scalar(lambda angle: sign * reached(angle), bracket=(near - 0.01, near + 0.01))
            assert found == pytest.approx(sign * best.fun, abs=1e-6)
        assert "rod_does_not_reach" in answer["findings"]
        tried = [(ends[0], 1e-6, True), (ends[1], -1e-6, True)]
        tried += [(ends[0], -1e-6, False), (ends[1], 1e-6, False)]
        tried = [(rod + by, stands) for rod, by, stands in tried if rod + by >= 5]
        rods = [{"linkage": given | {"rod_mm": rod}} for rod, _ in tried]
        stands = ["worst_deg" in other["linkage"] for other in designs(rods)]
        assert stands == [stand for _, stand in tried]


# ---- claw ----


def claw_given(seed):
    rng = np.random.default_rng([seed, 7])
    positions = int(rng.integers(3, 17))
    apart = rng.uniform(25, 90)
    return {
        "drum_positions": positions,
        "shaft_to_drum_mm": apart,
        "pin_radius_mm": max(2.0, apart * math.cos(math.pi / positions) * rng.uniform(0.1, 0.95)),
        "claw_play_lift_mm": rng.uniform(0, 2),
        "claw_play_press_mm": rng.uniform(0, 2),
        "claw_travel_lift_mm": rng.uniform(0.5, 30),
        "claw_travel_press_mm": rng.uniform(0.5, 30),
        "stop_radius_mm": rng.uniform(15, 50),
        "eccentric_mm": rng.uniform(0.1, 3),
        "eccentric_at_deg": rng.uniform(-170, 170),
    }


class Claw:
    """The claw of a saved form: a ray from the shaft, and the pins on their circle."""

    def __init__(self, given):
        self.given = given
        self.pins, self.apart = given["pin_radius_mm"], given["shaft_to_drum_mm"]
        self.half = math.pi / given["drum_positions"]
        self.shaft = np.array([self.apart, 0.0])
        # Beyond the place where the ray grazes the circle, the hook lets go.
        grazes = minimize_scalar(
            lambda at: -self.seen(at), bounds=(0, math.pi), method="bounded", options={"xatol": 1e-12}
        )
        self.grazes = grazes.x
        self.hook = math.hypot(*(polar(self.pins, self.half) - self.shaft))
        self.swing = self.seen(self.half) - self.seen(-self.half)

    def seen(self, at):
        """The direction of a pin from the shaft, off the line of the axes."""
        to = polar(self.pins, at) - self.shaft
        return math.atan2(to[1], -to[0])

    def pushed(self, play, shaft):
        """The drum, with the shaft turned so far: where the ray through the hook meets the circle."""
        ray = self.seen(self.half) - max(0.0, shaft - play / self.hook)
        if ray <= self.seen(-self.grazes):
            return self.half + self.grazes
        if ray >= self.seen(self.half):
            return 0.0
        return self.half - brentq(
            lambda at: self.seen(at) - ray, -self.grazes, self.half, xtol=1e-15
        )

    def gaps(self, moved=0.0):
        """Left at the stop along the hook's arc, with the stop moved in favour of lifting."""
        by = {"lift": moved, "press": -moved}
        return [
            (self.swing - (self.given[f"claw_travel_{word}_mm"] + by[word]) / self.hook) * self.hook
            + self.given[f"claw_play_{word}_mm"]
            for word in ("lift", "press")
        ]


@pytest.fixture(scope="module")
def claws():
    given = [claw_given(seed) for seed in CLAWS]
    answers = designs([{"claw": one} for one in given])
    return [(Claw(one), answer["claw"]) for one, answer in zip(given, answers)]


@pytest.mark.parametrize("seed", CLAWS)
def test_a_claw_pushes_the_drum_to_where_its_ray_meets_the_pins(claws, seed):
    claw, said = claws[seed]
    assert said["swing_deg"] == pytest.approx(math.degrees(claw.swing))
    assert said["hook_mm"] == pytest.approx(claw.hook)
    assert said["gap_mm"] == pytest.approx(claw.gaps(), abs=1e-9)
    # A star without a detent has no crest: the drum turns back or on at half a step, and is lost at one
    # and a half.
    for at, word in enumerate(("lift", "press")):
        play, travel = (claw.given[f"claw_{what}_{word}_mm"] for what in ("play", "travel"))
        pushed = claw.pushed(play, travel / claw.hook)
        # Where it grazes the circle the drum goes with the root.
        assert said["pushed_deg"][at] == pytest.approx(math.degrees(pushed), abs=2e-5)
        steps = pushed / (2 * claw.half)
        if min(abs(steps - 0.5), abs(steps - 1.5)) > 1e-6:
            ends = FALLS_BACK if steps < 0.5 else "next" if steps < 1.5 else "beyond"
            assert said["ends"][at] == ends


def test_the_drum_ends_where_the_roller_stands_on_its_star():
    """The roller lies in a valley, on a flank or on the flat of a crest; it falls to the nearer valley."""
    rng = np.random.default_rng(19)
    parts = []
    for seed in CLAWS:
        star = {"star_radius_mm": rng.uniform(10, 30), "star_crest_mm": rng.uniform(0, 8)}
        parts.append({"claw": claw_given(seed), "detent": star})
    seen = set()
    for part, answer in zip(parts, designs(parts)):
        step, said = 360 / part["claw"]["drum_positions"], answer["claw"]
        flat = math.degrees(part["detent"]["star_crest_mm"] / part["detent"]["star_radius_mm"])
        assert answer["detent"]["stand_deg"] == pytest.approx(flat / 2)
        for pushed, ends in zip(said["pushed_deg"], said["ends"]):
            # Distance past the middle of the crest that is left, and short of the one after it.
            past, short = pushed - step / 2, step * 1.5 - pushed
            if min(abs(abs(past) - flat / 2), abs(short - flat / 2)) < 1e-6:
                continue
            if abs(past) < flat / 2:
                wanted = "between"
            elif past < 0:
                wanted = FALLS_BACK
            else:
                wanted = "next" if short > flat / 2 else "beyond"
            assert ends == wanted, (part, answer)
            seen.add(ends)
    assert len(seen) == 4


def test_all_the_swing_of_a_step_takes_the_drum_one_step():
    given = [claw_given(seed) for seed in CLAWS]
    for one in given:
        claw = Claw(one)
        for word in ("lift", "press"):
            whole = claw.swing * claw.hook + one[f"claw_play_{word}_mm"]
            one[f"claw_travel_{word}_mm"] = min(whole, 100.0)
    for one, answer in zip(given, designs([{"claw": one} for one in given])):
        if max(one["claw_travel_lift_mm"], one["claw_travel_press_mm"]) < 100:
            step = 360 / one["drum_positions"]
            assert answer["claw"]["pushed_deg"] == pytest.approx([step, step], abs=1e-7)
            assert answer["claw"]["gap_mm"] == pytest.approx([0, 0], abs=1e-9)


@pytest.mark.parametrize("seed", CLAWS)
def test_the_eccentric_for_equal_gaps_is_the_nearest_root(claws, seed):
    claw, said = claws[seed]
    eccentric, now = claw.given["eccentric_mm"], math.radians(claw.given["eccentric_at_deg"])

    def moved(at):
        return eccentric * (math.sin(at) - math.sin(now)) * claw.hook / claw.given["stop_radius_mm"]

    def apart(at):
        lift, press = claw.gaps(moved(at))
        return lift - press

    grid = np.linspace(now - math.pi, now + math.pi, 3601)
    values = [apart(at) for at in grid]
    roots = [
        brentq(apart, grid[at], grid[at + 1], xtol=1e-14)
        for at in range(len(grid) - 1)
        if values[at] * values[at + 1] <= 0
    ]
    if not roots:
        assert said["equal_deg"] is None
        return
    near = min(roots, key=lambda at: abs(at - now))
    equal = math.radians(said["equal_deg"])
    assert apart(equal) == pytest.approx(0, abs=1e-9)
    assert abs(turn(equal - now)) == pytest.approx(abs(near - now), abs=1e-6)
    # The core agrees, asked about the claw turned so.
    by = moved(equal)
    travel = {
        "claw_travel_lift_mm": claw.given["claw_travel_lift_mm"] + by,
        "claw_travel_press_mm": claw.given["claw_travel_press_mm"] - by,
    }
    if 0.1 <= min(travel.values()) and max(travel.values()) <= 100:
        same = math.degrees(turn(equal))
        again = designs([{"claw": claw.given | travel | {"eccentric_at_deg": same}}])
        lift, press = again[0]["claw"]["gap_mm"]
        assert lift == pytest.approx(press, abs=1e-9)


def test_the_eccentric_for_equal_gaps_can_be_typed_where_it_is_asked_for(claws):
    """A place beyond the limits of the input would take the claw out of the design."""
    places = [said["equal_deg"] for _, said in claws if said["equal_deg"] is not None]
    assert [at for at in places if not -180 <= at <= 180] == []


@pytest.mark.parametrize("seed", CLAWS)
def test_a_stop_so_much_thinner_leaves_the_gap_wanted_on_the_average(claws, seed):
    claw, said = claws[seed]

    def mean(thinner):
        # Half of it comes off each face, and the hook is farther from the shaft than the stop is.
        by = thinner / 2 * claw.hook / claw.given["stop_radius_mm"]
        return np.mean(claw.gaps()) - by

    # 1 mm is what is wanted where the design does not say.
    thinner = brentq(lambda thinner: mean(thinner) - 1.0, -500, 500, xtol=1e-13)
    assert said["stop_thinner_mm"] == pytest.approx(thinner, abs=1e-9)


@pytest.mark.parametrize("positions", range(3, 25))
def test_pins_are_too_far_out_where_the_hook_would_let_go_half_a_step_off(positions):
    base = {"drum_positions": positions, "shaft_to_drum_mm": 50.0}
    # The ray to a pin half a step off is square to the pin's own radius there.
    half = math.pi / positions

    def square(pins):
        at = polar(pins, half)
        return at @ (at - np.array([50.0, 0.0]))

    most = brentq(square, 1.0, 60.0, xtol=1e-14)
    inside, outside = designs(
        [{"claw": base | {"pin_radius_mm": pins}} for pins in (most - 1e-6, most + 1e-6)]
    )
    assert "swing_deg" in inside["claw"]
    assert outside["claw"] == {"most_mm": pytest.approx(most)}
    assert "pins_too_far_out" in outside["findings"]


# ---- from the foot to the fork ----


@pytest.mark.parametrize("seed", range(40))
def test_the_fork_follows_the_foot_through_all_parts(seed):
    rng = np.random.default_rng([seed, 17])
    pedal_part, claw_part = pedal_given(seed), claw_given(seed)
    angles = np.cumsum(rng.uniform(2, 15, 6))
    travels = rng.uniform(0, 7, 6)
    points = [{"track_at_deg": a, "fork_travel_mm": t} for a, t in zip(angles, travels)]
    design = {"linkage": pedal_part, "claw": claw_part, "track": {"points": points}}
    answer = designs([design], FEET)[0]
    pedal, claw = Pedal(pedal_part), Claw(claw_part)
    said = answer["linkage"]
    for at, word in enumerate(("lift", "press")):
        # The pedal ends the stroke or the stop does, whichever comes first.
        stop = claw.given[f"claw_travel_{word}_mm"] / claw.hook
        shaft = min(math.radians(said["swing_deg"][at]), stop)
        play = claw.given[f"claw_play_{word}_mm"]
        assert answer["claw"]["before_stop"][at] == (math.radians(said["swing_deg"][at]) < stop)
        assert answer["claw"]["pushed_deg"][at] == pytest.approx(
            math.degrees(claw.pushed(play, shaft)), abs=2e-5
        )
        gap = claw.swing * claw.hook + play - shaft * claw.hook
        assert answer["claw"]["gap_mm"][at] == pytest.approx(gap, abs=1e-9)
    for foot, place in zip(FEET, answer["feet"]):
        if place is None or (foot and pedal.lock(foot)[0] is not None):
            continue
        word = "press" if foot < 0 else "lift"
        found = pedal.joint(foot)
        swung = abs(turn(direction(found - pedal.shaft) - direction(pedal.end - pedal.shaft)))
        stop = claw.given[f"claw_travel_{word}_mm"] / claw.hook
        end = math.radians(said["swing_deg"][0 if word == "lift" else 1])
        drum = claw.pushed(claw.given[f"claw_play_{word}_mm"], min(swung, stop))
        assert place["drum_deg"] == pytest.approx(math.degrees(drum), abs=1e-3), end
        fork = np.interp(place["drum_deg"], angles, travels)
        assert place["fork_mm"] == pytest.approx(fork, abs=1e-9)


# ---- detent ----


def test_a_roller_holds_and_returns_as_a_wedge_in_balance():
    """The roller is pressed on a flank that bears on it square to itself; friction works along the
    flank against the sliding. What is left over, across, is what the drum pushes with."""
    rng = np.random.default_rng(11)
    given = [
        {
            "roller_force_n": rng.uniform(5, 100),
            "star_radius_mm": rng.uniform(8, 40),
            "star_flank_deg": rng.uniform(5, 80),
            "roller_friction": rng.uniform(0, 0.8),
        }
        for _ in range(400)
    ]
    held = 0
    for one, answer in zip(given, designs([{"detent": one} for one in given])):
        flank, friction = math.radians(one["star_flank_deg"]), one["roller_friction"]
        square = np.array([-math.sin(flank), math.cos(flank)])
        along = np.array([math.cos(flank), math.sin(flank)])
        said = answer["detent"]
        for key, slides in (("hold_nmm", 1), ("return_nmm", -1)):
            # Climbing, the flank drags the roller back down; returning, it holds it up.
            bears = square - slides * friction * along
            force = np.array([0.0, -one["roller_force_n"]])
            # bearing · bears + push · across + force = 0
            system = np.column_stack([bears, [1.0, 0.0]])
            bearing, push = np.linalg.solve(system, -force)
            if bearing < 0:
                # It would have to be pulled on to the flank: friction holds it whatever pushes.
                assert key == "hold_nmm" and said[key] is None
                held += 1
                continue
            torque = push * one["star_radius_mm"]
            assert said[key] == pytest.approx(torque, rel=1e-9, abs=1e-9)
        assert ("roller_stays" in answer["findings"]) == (said["return_nmm"] <= 0)
    assert held > 10


# ---- track ----


def test_a_track_of_points_is_that_of_numpy():
    rng = np.random.default_rng(13)
    given = []
    for _ in range(400):
        count = int(rng.integers(2, 9))
        angles = np.sort(rng.choice(np.arange(1, 90), count, replace=False)).astype(float)
        travels = rng.uniform(-1, 7, count)
        given.append((angles, travels, rng.uniform(0, 25), int(rng.integers(3, 13))))
    parts = [
        {
            "track": {
                "points": [{"track_at_deg": a, "fork_travel_mm": t} for a, t in zip(angles, travels)]
            },
            "detent": {"drum_slack_deg": slack},
            "claw": {"drum_positions": positions},
        }
        for angles, travels, slack, positions in given
    ]
    for (angles, travels, slack, positions), answer in zip(given, designs(parts)):
        step = 360 / positions
        home = np.interp(step, angles, travels)
        assert answer["track"]["home_mm"] == pytest.approx(home, abs=1e-12)
        grid = np.linspace(step - slack / 2, step + slack / 2, 801)
        corners = angles[np.abs(angles - step) <= slack / 2]
        least = np.interp(np.concatenate([grid, corners]), angles, travels).min()
        assert answer["track"]["rocking_costs_mm"] == pytest.approx(home - least, abs=1e-9)


def test_points_out_of_order_are_told_by_their_number():
    points = [{"track_at_deg": a, "fork_travel_mm": 1.0} for a in (0, 20, 20, 30)]
    assert designs([{"track": {"points": points}}])[0]["track"] == {"out_of_order": 3}


# ---- what the report says of the same ----


# Where the drum is after a stroke: the key of the example, and how the words of the report begin.
DRUM = {
    "back": "Falls back",
    "held": "Stays where",
    "between": "Stays between",
    "next": "Reaches",
    "beyond": "Overshoots",
}


@pytest.mark.parametrize("seed", range(20))
def test_the_figures_of_the_report_are_the_same_numbers(seed):
    design = {"linkage": pedal_given(seed), "claw": claw_given(seed), "detent": {}, "track": {}}
    said, figures = designs([design])[0], report(design)["figures"]
    for at, word in enumerate(("lift", "press")):
        assert figures[f"shaft_swing_{word}_deg"] == said["linkage"]["farthest_deg"][at]
        assert figures[f"gap_{word}_mm"] == said["claw"]["gap_mm"][at]
        assert figures[f"drum_after_{word}"].startswith(DRUM[said["claw"]["ends"][at]])
    worst = max(said["linkage"]["worst_deg"], key=lambda angle: abs(angle - 90))
    assert figures["transmission_worst_deg"] == worst
    for key, part, name in (
        ("shaft_per_foot_deg", "linkage", "deg_per_mm"),
        ("claw_swing_deg", "claw", "swing_deg"),
        ("eccentric_equal_deg", "claw", "equal_deg"),
        ("detent_hold_nmm", "detent", "hold_nmm"),
        ("detent_return_nmm", "detent", "return_nmm"),
        ("fork_at_home_mm", "track", "home_mm"),
        ("rocking_costs_mm", "track", "rocking_costs_mm"),
    ):
        assert figures[key] == said[part][name]


def test_the_findings_name_where_it_locks_and_cramps():
    for seed in PEDALS:
        design = {"linkage": pedal_given(seed)}
        said, found = designs([design])[0]["linkage"], report(design)["findings"]
        locked = [f["numbers"][0] for f in found if f["code"] == "linkage_locks"]
        cramped = [f["numbers"][2] for f in found if f["code"] == "linkage_cramps"]
        assert locked == [mm for mm, locks in zip(said["foot_mm"], said["locks"]) if locks]
        cramps = zip(said["cramps_at_mm"], said["locks"])
        assert cramped == [mm for mm, locks in cramps if mm is not None and not locks]


def test_a_rod_too_short_is_a_finding_with_its_numbers():
    answer = report({"linkage": {"rod_mm": 60}})
    finding = next(f for f in answer["findings"] if f["code"] == "rod_does_not_reach")
    far = math.hypot(125, 52)
    assert finding["severity"] == "error"
    np.testing.assert_allclose(finding["numbers"], [60, far - 35, far + 35])
    # The pair is worked out all the same.
    assert answer["figures"]["lash_deg"] is not None
