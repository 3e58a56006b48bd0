"""Drivelines of several masses against scipy's integrators, written from the equations of motion.

Masses are integrated by their angles and speeds, springs that are on their own by their twist. Two integrators of
different kinds must agree before they judge. A case is grazing if two events come so close that rounding says which is
first, or if something that would be an event stays away by a hair; what a case does is judged up to there, and the cases
are counted.

`CRENEL_DRIVELINES=0..200` lets both integrators work on all of those cases; without it, the second checks a few.
"""

import json
import math
import os
import random
from functools import cache

import numpy as np
from conftest import run
from courses import least, log_uniform
from scipy.integrate import solve_ivp

CASES = 200
ASKED = os.environ.get("CRENEL_DRIVELINES")
FIRST, LAST = (int(number) for number in (ASKED or f"0..{CASES}").split(".."))
NUMBERS = range(FIRST, LAST)
ONE_IN = 1 if ASKED else 70

SAME_S = 1e-6
SAME_PEAK = 1e-3
# Events nearer than this, and misses by less than this share of the largest value, are grazing.
CLOSE_S = 1e-7
HAIR = 1e-5
MOST_GRAZING = 0.2

# What is nothing: torque, angle, speed.
LEAST_NM, LEAST_ANGLE, LEAST_SPEED = 1e-9, 1e-12, 1e-9
JOINTS = ["clutch", "mesh", "dogs", "chain", "cush", "tyre"]
ELASTIC = ["mesh", "dogs", "chain", "cush"]


# ---- cases ----


def spring(rng, stiffness, lash):
    return {
        "stiffness": stiffness,
        "damping": rng.choice([0.0, 1.0, 1.0]) * stiffness * log_uniform(rng, 1e-5, 2e-4),
        "lash": 0.0 if rng.random() < 0.15 else lash,
    }


@cache
def case(number):
    """The same case for the same number, forever."""
    rng = random.Random(f"driveline {number}")
    inertia = [
        log_uniform(rng, 5e-3, 5e-2),
        log_uniform(rng, 1e-3, 5e-3),
        log_uniform(rng, 5e-4, 3e-3),
        log_uniform(rng, 1e-3, 5e-3),
        log_uniform(rng, 2e-3, 1e-2),
        log_uniform(rng, 2e-2, 0.2),
        log_uniform(rng, 0.5, 5.0),
    ]
    given = {"inertia_kg_m2": inertia}
    if rng.random() < 0.7:
        given["mesh"] = spring(rng, log_uniform(rng, 1e4, 6e4), log_uniform(rng, 1e-3, 1e-2))
    if rng.random() < 0.9:
        given["dogs"] = spring(rng, log_uniform(rng, 3e3, 2e4), math.radians(log_uniform(rng, 0.5, 12.0)))
    if rng.random() < 0.8:
        given["chain"] = spring(rng, log_uniform(rng, 3e3, 2e4), log_uniform(rng, 2e-3, 3e-2))
    if rng.random() < 0.8:
        given["cush"] = spring(rng, log_uniform(rng, 500.0, 4e3), log_uniform(rng, 2e-3, 2e-2))
        if rng.random() < 0.6:
            given["cush"]["stop"] = {
                "travel": rng.uniform(0.01, 0.08),
                "stiffness": log_uniform(rng, 3e3, 3e4),
            }
    sense = -1 if rng.random() < 0.15 else 1
    drive, drag = sense * rng.uniform(30.0, 200.0), sense * rng.uniform(3.0, 40.0)
    ramp, off, back = rng.choice([0.0, rng.uniform(5e-4, 4e-3)]), rng.uniform(4e-3, 2e-2), rng.uniform(5e-4, 5e-3)
    met = "dogs" in given and rng.random() < 0.45
    if met:
        given["slip"] = rng.choice([-1, 1]) * log_uniform(rng, 2.0, 50.0)
        given["course"] = [[0.0, -drag], [off / 2, -drag], [off / 2 + back, drive]]
        given["longest_s"] = 0.012
    else:
        given["course"] = [[0.0, drive], [ramp, -drag], [ramp + off, -drag], [ramp + off + back, drive]]
        given["longest_s"] = 0.018
    whole = sum(inertia)
    first = -drag if met else drive
    if rng.random() < 0.35:
        given["tyre_nm"] = abs(first) * inertia[-1] / whole * rng.uniform(1.02, 2.0)
    if rng.random() < 0.35:
        given["clutch_nm"] = abs(first) * (1 - inertia[0] / whole) * rng.uniform(1.02, 2.0)
    given["dogs_first"] = rng.random() < 0.25
    return given


# ---- the same, integrated ----


class Grazes(Exception):
    """From here on rounding judges."""


class Machine:
    """Goes from event to event. Elastic joints touch on a side, or their flanks are apart and the spring relaxes; a stop
    is part of the spring. Joints that slip hold as much as they can, or their two sides turn as one."""

    def __init__(self, given, method, rtol):
        self.method, self.rtol, self.given = method, rtol, given
        self.inertia = np.array(given["inertia_kg_m2"])
        self.course = given["course"]
        self.longest = given["longest_s"]
        first = ["clutch", "dogs", "mesh"] if given["dogs_first"] else ["clutch", "mesh", "dogs"]
        self.names = first + JOINTS[3:]
        self.dogs = self.names.index("dogs")
        self.time = 0.0
        # `None` where rigid or gripping, a sign where slipping or touching, and (sign,) where flanks are apart.
        self.mode = [None] * 6
        self.at_stop = [0] * 6
        self.state = np.zeros(7 + 6 + 6)
        self.begin()
        self.events, self.peaks = [], np.zeros((6, 2))
        self.until = self.longest
        self.grazing = False
        self.fastest = self.rate()

    # parts of the state: speeds, angles across joints, twists of springs on their own

    def part(self, joint):
        return self.given.get(self.names[joint]) if self.names[joint] in ELASTIC else None

    def most(self, joint):
        return self.given.get(f"{self.names[joint]}_nm")

    def rate(self):
        """Of the fastest swing."""
        laplace = np.zeros((7, 7))
        for joint in range(6):
            if part := self.part(joint):
                k = part["stiffness"] + part.get("stop", {}).get("stiffness", 0.0)
                for a, b, sign in [(0, 0, 1), (1, 1, 1), (0, 1, -1), (1, 0, -1)]:
                    laplace[joint + a, joint + b] += sign * k
        return math.sqrt(max(np.linalg.eigvals(laplace / self.inertia[:, None]).real.max(), 1.0))

    def offset(self, joint, side):
        return 0.0 if side > 0 else -self.part(joint)["lash"]

    def force(self, joint, twist):
        """Of a spring, with its stop if it is at one."""
        part = self.part(joint)
        stop = part.get("stop")
        nm = part["stiffness"] * twist
        if self.at_stop[joint]:
            nm = nm + stop["stiffness"] * (twist - self.at_stop[joint] * stop["travel"])
        return nm

    def begin(self):
        nm = self.course[0][1]
        met = self.given.get("slip")
        ahead = 7 if met is None else self.dogs + 1
        whole = self.inertia[:ahead].sum()
        for joint in range(6):
            carries = nm * (1 - self.inertia[: joint + 1].sum() / whole) if joint < ahead - 1 else 0.0
            part = self.part(joint)
            if part is None:
                continue
            side = np.sign(carries) or np.sign(nm) or 1
            if joint == self.dogs and met is not None:
                side = np.sign(met)
            self.mode[joint] = int(side)
            twist = carries / part["stiffness"]
            stop = part.get("stop")
            if stop and abs(twist) > stop["travel"]:
                self.at_stop[joint] = int(np.sign(twist))
                past = abs(carries) - part["stiffness"] * stop["travel"]
                twist = np.sign(twist) * (stop["travel"] + past / (part["stiffness"] + stop["stiffness"]))
            self.state[7 + joint] = twist + self.offset(joint, side)
        if met is not None:
            self.state[:ahead] = met

    def engine(self, t):
        """In the part of the course that runs."""
        (t0, a), (t1, b) = self.leg
        return a if t1 == t0 else a + (b - a) * (t - t0) / (t1 - t0)

    def leg_at(self, t):
        for before, after in zip(self.course, self.course[1:]):
            if before[0] <= t < after[0]:
                return before, after
        return (self.course[-1][0], self.course[-1][1]), (math.inf, self.course[-1][1])

    def arrange(self):
        """What one piece needs: springs that touch, constants, and masses that turn as one."""
        self.touching, self.single = [], []
        for joint in range(6):
            part = self.part(joint)
            if part is None:
                if self.mode[joint] is None:
                    self.single.append(joint)
            elif not isinstance(self.mode[joint], tuple):
                self.touching.append((joint, self.offset(joint, self.mode[joint]), part["damping"]))
        self.groups, first = [], 0
        for last in range(7):
            if last < 6 and last in self.single:
                continue
            self.groups.append((first, last))
            first = last + 1

    def torques(self, t, y):
        """At all joints, and how fast speeds change."""
        nm = [0.0 * y[0] for _ in range(6)]
        for joint, offset, damping in self.touching:
            nm[joint] = self.force(joint, y[7 + joint] - offset) + damping * (y[joint] - y[joint + 1])
        for joint in (0, 5):
            if isinstance(self.mode[joint], int):
                nm[joint] = self.mode[joint] * self.most(joint) + 0.0 * y[0]
        gains = [0.0] * 7
        for first, last in self.groups:
            comes = self.engine(t) if first == 0 else nm[first - 1]
            goes = nm[last] if last < 6 else 0.0
            gain = (comes - goes) / self.inertia[first : last + 1].sum()
            for mass in range(first, last + 1):
                gains[mass] = gain
                if mass < last:
                    comes = comes - self.inertia[mass] * gain
                    nm[mass] = comes
        return nm, gains

    def change(self, t, y):
        _, gains = self.torques(t, y)
        rates = [0.0] * 12
        for joint in range(6):
            if joint not in self.single:
                rates[joint] = y[joint] - y[joint + 1]
            if isinstance(self.mode[joint], tuple) and (damping := self.part(joint)["damping"]):
                rates[6 + joint] = -self.force(joint, y[13 + joint]) / damping
        return [rate + 0.0 * y[0] for rate in gains + rates]

    def linear(self, of):
        """A function of time and state by its matrix, its constant, and how fast that changes: in a piece all are
        linear, and this way they are quicker."""
        none = np.zeros((19, 1))
        at = lambda t, y: np.array(of(t, y), dtype=float)
        constant = at(self.time, none)
        matrix = at(self.time, np.eye(19)) - constant
        slope = at(self.time + 1, none) - constant
        return matrix, constant[..., 0], slope[..., 0]

    def ends(self):
        """What can end a piece: each falls to 0 then."""
        for joint in range(6):
            mode, part = self.mode[joint], self.part(joint)
            if part is None:
                if self.most(joint) is None:
                    continue
                if mode is None:
                    most = self.most(joint)
                    yield joint, "slip+", lambda t, y, j=joint, m=most: m - self.torques(t, y)[0][j] + LEAST_NM
                    yield joint, "slip-", lambda t, y, j=joint, m=most: m + self.torques(t, y)[0][j] + LEAST_NM
                else:
                    yield joint, "over", lambda t, y, j=joint, s=mode: s * (y[j] - y[j + 1]) + LEAST_SPEED
                continue
            apart = isinstance(mode, tuple)
            side = mode[0] if apart else mode
            off, lash = self.offset(joint, side), part["lash"]
            if apart:

                def gap(y, j=joint, s=side, o=off):
                    return s * (y[13 + j] + o - y[7 + j])

                yield joint, "returns", lambda t, y, g=gap: g(y) + LEAST_ANGLE
                yield joint, "crosses", lambda t, y, g=gap, h=lash: h - g(y) + LEAST_ANGLE
            elif lash:
                yield joint, "parts", lambda t, y, j=joint, s=side: s * self.torques(t, y)[0][j] + LEAST_NM
            if not (stop := part.get("stop")):
                continue
            travel, zone = stop["travel"], self.at_stop[joint]
            twist = (lambda y, j=joint: y[13 + j]) if apart else (lambda y, j=joint, o=off: y[7 + j] - o)
            if zone:
                yield joint, "leaves", lambda t, y, w=twist, z=zone, x=travel: z * w(y) - x + LEAST_ANGLE
            elif not apart:
                yield joint, "stop+", lambda t, y, w=twist, x=travel: x - w(y) + LEAST_ANGLE
                yield joint, "stop-", lambda t, y, w=twist, x=travel: x + w(y) + LEAST_ANGLE

    def run(self):
        try:
            for _ in range(400):
                if self.time >= self.longest:
                    return self
                self.piece()
        except Grazes:
            self.until, self.grazing = self.time, True
            return self
        raise AssertionError("it does not end")

    def piece(self, steps=16):
        self.leg = self.leg_at(self.time)
        self.arrange()
        to = min(self.leg[1][0], self.longest)
        all_ends = list(self.ends())
        for joint, what, test in all_ends:
            if test(self.time, self.state) < 0:
                return self.enter(joint, what)

        matrix, constant, slope = self.linear(self.change)
        begun = self.time

        def watch(test):
            row, offset, drift = self.linear(test)

            def falls(t, y):
                return row @ y + offset + drift * (t - begun)

            falls.terminal, falls.direction = True, -1
            return falls

        solved = solve_ivp(
            lambda t, y: matrix @ y + constant + slope * (t - begun),
            (self.time, to),
            self.state,
            method=self.method,
            events=[watch(test) for _, _, test in all_ends],
            dense_output=True,
            rtol=self.rtol,
            atol=self.rtol * np.array([1e-1] * 7 + [1e-4] * 12),
            max_step=math.tau / self.fastest / steps * 4,
            **({"jac": matrix} if self.method == "Radau" else {}),
        )
        assert solved.success, solved.message
        if self.look(solved, [test for _, _, test in all_ends]) and steps < 1000:
            return self.piece(4 * steps)
        happened = [at for at, times in enumerate(solved.t_events) if len(times)]
        self.time, self.state = solved.t[-1], solved.y[:, -1].copy()
        if not happened:
            self.time = to
            return None
        joint, what, _ = all_ends[happened[0]]
        self.enter(joint, what)

    def look(self, solved, tests):
        """Greatest torques, and what nearly happened; whether something was missed."""
        begun, end = solved.t[0], solved.t[-1]
        count = max(8, round(24 * (end - begun) * self.fastest / math.tau)) + 1
        times = np.linspace(begun, end, count)
        seen = solved.sol(times)
        nearly = []
        for test, found in zip(tests, solved.t_events):
            values = test(times, seen) + 0.0 * times
            near, inside = least(values)
            most = np.max(np.abs(values))
            if min(np.min(values), near if inside else 0.0) < -1e-7 * most - 2e-9:
                return True
            nearly.append(bool(not len(found) and inside and near < HAIR * most))
        nm, _ = self.torques(times, seen)
        if any(nearly):
            raise Grazes
        for joint in range(6):
            for place, sign in enumerate([1, -1]):
                top = int(np.argmax(sign * nm[joint]))
                highest = sign * nm[joint][top]
                if highest > 0.99 * self.peaks[joint, place]:
                    # Looked at closely: a damped strike is a sharp peak.
                    near = np.linspace(times[max(top - 1, 0)], times[min(top + 1, count - 1)], 65)
                    highest = max(highest, np.max(sign * self.torques(near, solved.sol(near))[0][joint]))
                self.peaks[joint, place] = max(self.peaks[joint, place], highest)
        return False

    def tell(self, joint, what):
        if self.events and self.time - self.events[-1][0] < CLOSE_S and self.events[-1][1] != self.names[joint]:
            raise Grazes
        self.events.append((self.time, self.names[joint], what, self.state[joint] - self.state[joint + 1]))

    def enter(self, joint, end):
        """What follows from what ended a piece."""
        mode, y = self.mode[joint], self.state
        if end in ("slip+", "slip-"):
            self.mode[joint] = 1 if end == "slip+" else -1
            self.tell(joint, "slips")
        elif end == "over":
            self.mode[joint] = None
            self.arrange()
            nm = self.torques(self.time, y)[0][joint]
            if abs(nm) > self.most(joint):
                self.mode[joint] = int(np.sign(nm))
                return self.tell(joint, "slips")
            for first, last in self.groups:
                part = slice(first, last + 1)
                y[part] = (self.inertia[part] @ y[part]) / self.inertia[part].sum()
            self.tell(joint, "grips")
        elif end == "parts":
            y[13 + joint] = y[7 + joint] - self.offset(joint, mode) if self.part(joint)["damping"] else 0.0
            self.mode[joint] = (mode,)
            self.tell(joint, "parts")
        elif end in ("crosses", "returns"):
            side = -mode[0] if end == "crosses" else mode[0]
            self.mode[joint] = side
            self.tell(joint, "drive_strikes" if side > 0 else "coast_strikes")
        elif end in ("stop+", "stop-"):
            self.at_stop[joint] = 1 if end == "stop+" else -1
            self.tell(joint, "stops")
        else:
            self.at_stop[joint] = 0
            if not isinstance(mode, tuple):
                self.tell(joint, "leaves_stop")


@cache
def integrated(number, method="DOP853", rtol=1e-10):
    return Machine(case(number), method, rtol).run()


@cache
def ours():
    answer = run("driveline", "-", given=json.dumps([case(number) for number in NUMBERS]))
    return dict(zip(NUMBERS, map(json.loads, answer.splitlines()), strict=True))


# ---- what must hold ----


def assert_same(number, events, want, until, same_s=SAME_S):
    """Up to where it grazes."""
    events = [event for event in events if event[0] < until - CLOSE_S]
    want = [event for event in want if event[0] < until - CLOSE_S]
    told = f"case {number}: {case(number)}\n{events}\n{want}"
    assert [event[1:3] for event in events] == [event[1:3] for event in want], told
    for (time, joint, what, slip), (at, _, _, speed) in zip(events, want):
        assert abs(time - at) < same_s, f"{joint} {what} {time} {at} {told}"
        assert abs(slip - speed) < 1e-3 * max(1.0, abs(speed)), f"{joint} {what} {slip} {speed} {told}"


def same_peaks(peaks, machine):
    want = machine.peaks[[machine.names.index(name) for name in JOINTS]]
    return np.all(np.abs(np.array(peaks) - want) <= SAME_PEAK * want + 1e-3)


def test_the_integrators_agree():
    for number in NUMBERS[::ONE_IN]:
        one, other = integrated(number), integrated(number, "Radau", 1e-8)
        until = min(one.until, other.until)
        assert_same(number, other.events, one.events, until, SAME_S / 2)
        if not one.grazing and not other.grazing:
            assert same_peaks(other.peaks[[other.names.index(name) for name in JOINTS]], one), (number, other.peaks, one.peaks)


def test_events_and_peaks_are_those_of_the_integrator():
    for number in NUMBERS:
        want, got = integrated(number), ours()[number]
        events = [(e["time_s"], e["joint"], e["what"], e["slip"]) for e in got["events"]]
        assert_same(number, events, want.events, want.until)
        if not want.grazing:
            assert same_peaks(got["peaks_nm"], want), (number, got["peaks_nm"], want.peaks)
    if len(NUMBERS) == CASES:
        assert_enough([number for number in NUMBERS if not integrated(number).grazing])


def test_energy_goes_somewhere():
    for number, got in ours().items():
        energy = got["energy"]
        size = abs(energy["in_j"]) + abs(energy["stored_j"]) + energy["damped_j"] + energy["slipped_j"]
        off = energy["in_j"] - energy["stored_j"] - energy["damped_j"] - energy["slipped_j"]
        assert abs(off) < 3e-4 * size, (number, energy)


def assert_enough(judged):
    """Everything that can happen does, and few cases are left out."""
    assert len(judged) > (1 - MOST_GRAZING) * CASES, len(judged)
    seen = {}
    for number in judged:
        for kind in {event[1:3] for event in integrated(number).events}:
            seen[kind] = seen.get(kind, 0) + 1
    lashes = [sum(1 for name in ELASTIC if case(number).get(name, {}).get("lash")) for number in judged]
    slips = sum(any(e[2] == "slips" for e in integrated(number).events) for number in judged)
    coast = seen.get(("dogs", "coast_strikes"), 0)
    print(f"{CASES - len(judged)} of {CASES} graze; lash in two places {sum(n >= 2 for n in lashes)}; ", end="")
    print(f"slipping {slips}; coast flanks of the dogs {coast}; cases with each event: {seen}")
    assert sum(n >= 2 for n in lashes) >= 60 and slips >= 40 and coast >= 40
    assert min(seen.get(("cush", what), 0) for what in ["stops", "leaves_stop"]) >= 10, seen
    assert sum(case(number)["dogs_first"] for number in judged) >= 30
    assert min(seen.get((joint, "grips"), 0) for joint in ["clutch", "tyre"]) >= 5, seen
