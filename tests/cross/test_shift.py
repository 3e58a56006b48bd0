"""What becomes of one shift, marched through time step by step.

The core solves each fall and each rub in closed form. Here the two equations of motion are
integrated, and at every small step the place of the rings is held against the phase map: has it come
into a blocked region? Where it has, the step is halved until the moment is known. The phase map is
written anew from the saved form of the rings.
"""

import functools
import math
import random
from dataclasses import dataclass, replace

import numpy as np
import pytest
from conftest import Ring, report
from scipy.integrate import solve_ivp

# How the phase of ring A changes with a positive speed difference.
PHASE_PER_SLIP = 1

# Signs of the speed difference that the designs are drawn from.
SIGNS = [1]

# Longest steps: in time for falls, in angle for everything.
STEP_S = 5e-6
STEP_RAD = 2e-4

# Steps that are looked at together.
BATCH = 400

# Angles in radians and overlaps in mm closer than this are the same: flush flanks, level tips.
SAME = 1e-9

# Change of phase that must not decide how a shift ends.
NUDGE_DEG = math.degrees(1e-6)

DRIVE, COAST = 0, 1


# ---- designs ----

# Counts that go together: how many windows a turn has room for, and what divides it.
PLACES = {4: [2, 4], 5: [5], 6: [2, 3, 6], 7: [7], 12: [3, 4, 6]}

HEIGHTS = [[1], [1, 0.5], [1, 0.8], [1, 0.62, 0.8], [1, 0.97, 0.9], [1, 0]]


def back_cut(rng: random.Random, kind: str) -> float:
    return {
        "straight": 0.0,
        "undercut": rng.uniform(0.5, 6),
        "tapered": rng.uniform(-2, -0.2),
        "mixed": rng.uniform(-1.5, 4),
    }[kind]


def even_ring(rng: random.Random, kind: str, count: int, width: float) -> dict:
    cuts = {str(place): rng.choice(["remove", rng.uniform(1, 3)]) for place in range(2, count + 1)}
    return {
        "count": count,
        "tip_width_deg": width,
        "heights": rng.choice(HEIGHTS),
        "height_mm": rng.uniform(4, 6.5),
        "back_cut_drive_deg": back_cut(rng, kind),
        "back_cut_coast_deg": back_cut(rng, kind),
        "edge_break_mm": rng.choice([0, 0, rng.uniform(0.1, 0.5)]),
        "first_dog_deg": rng.uniform(0, 360),
        "cuts": {place: how for place, how in cuts.items() if rng.random() < 0.15},
    }


def measured_ring(rng: random.Random, kind: str, count: int, width: float) -> dict:
    tall, first = rng.uniform(4, 6.5), rng.uniform(-180, 0)
    dogs = [
        {
            "centre_deg": first + place * 360 / count + rng.uniform(-0.15, 0.15) * width,
            "tip_width_deg": width * rng.uniform(0.7, 1.15),
            # As made, a few hundredths low, or worn well down.
            "height_mm": tall * rng.choice([1, rng.uniform(0.98, 1), rng.uniform(0.4, 0.95)]),
            "back_cut_drive_deg": back_cut(rng, kind),
            "back_cut_coast_deg": back_cut(rng, kind),
            "edge_break_mm": rng.choice([0, 0, rng.uniform(0.1, 0.5)]),
        }
        for place in range(count)
    ]
    return {"dogs": dogs}


def rings(rng: random.Random) -> dict:
    kind = rng.choice(["straight", "undercut", "tapered", "mixed"])
    places = rng.choice(list(PLACES))
    width = rng.uniform(0.2, 0.4) * 360 / places
    layouts = [even_ring, measured_ring]
    a, b = (rng.choice(layouts)(rng, kind, rng.choice(PLACES[places]), width) for _ in "ab")
    for ring in (a, b):
        ring["inner_diameter_mm"] = rng.uniform(38, 46)
        ring["outer_diameter_mm"] = rng.uniform(54, 64)
        ring["flanks"] = rng.choice(["radial", "radial", "radial", "parallel"])
    # Equal rings, whose flanks meet many at a time.
    return {"a": a, "b": rng.choice([a, b, b])}


def given(number: int) -> dict:
    """The same shift for the same number, forever; each way of moving in turn."""
    rng = random.Random(number)
    drum = rng.uniform(0.05, 0.6)
    return rings(rng) | {
        "travel_by": ["force", "drum", "both"][number % 3],
        "phase_deg": rng.uniform(1, 359),
        "overlap_mm": rng.uniform(2, 5),
        "slip_rpm": rng.choice(SIGNS) * 10 ** rng.uniform(1.3, 3.2),
        "shift_force_n": rng.uniform(40, 300),
        "moving_mass_kg": rng.uniform(0.1, 0.6),
        "drum_speed_m_per_s": drum,
        "start_speed_m_per_s": drum * rng.choice([0.0, rng.uniform(0, 1), rng.uniform(1, 2)]),
        "hold_depth_mm": rng.uniform(0.3, 2),
        "tip_friction": rng.choice([0.0, rng.uniform(0.03, 0.1), rng.uniform(0.1, 0.2)]),
        "inertia_kg_m2": 10 ** rng.uniform(-4, -2.5),
        "drag_nm": rng.choice([0.0, 0.0, rng.uniform(0, 2)]),
        "strike_loss": rng.choice([0.0, rng.uniform(0, 0.6)]),
        "time_allowed_ms": rng.choice([rng.uniform(5, 40), 200.0, 400.0]),
    }


DESIGNS = range(110)


# ---- the phase map ----


def with_edges(given: dict) -> Ring:
    """A ring whose dogs know their edge breaks."""
    ring = Ring(given)
    # Of measured dogs none is cut here: those that stand are those that are listed.
    found = given.get("dogs", [given] * len(ring.dogs))
    for dog, own in zip(ring.dogs, found, strict=True):
        dog.edge = own["edge_break_mm"]
    return ring


class Map:
    """Where each dog of A and each dog of B stand in each other's way: one row for each pair.

    Phases are looked at along the motion, so that the near end of a block is met first.
    """

    def __init__(self, design: dict, direction: int):
        self.a, self.b = with_edges(design["a"]), with_edges(design["b"])
        inner = max(self.a.inner, self.b.inner)
        self.mean = (inner + min(self.a.outer, self.b.outer)) / 2
        # Parallel dogs are widest, as angles, at the inner end.
        self.meeting = inner if self.a.parallel or self.b.parallel else self.mean
        self.full = min(design["overlap_mm"], self.a.tallest, self.b.tallest)
        self.direction = direction
        pairs = [(i, j) for i in self.a.dogs for j in self.b.dogs if self.level(i, j) < self.full]
        self.start = np.array([[self.level(i, j)] for i, j in pairs])
        # Seen from the dogs of A, the dogs of B go round the other way.
        self.middle = np.array([[-i.centre - j.centre] for i, j in pairs])
        self.edge = np.array([[i.edge + j.edge] for i, j in pairs])
        # When the phase of A grows its coast flanks, counter-clockwise, lead.
        sides = ["tan_coast", "tan_drive"][::direction]
        self.near, self.far = (self.flanks(pairs, side) for side in sides)

    def level(self, i, j) -> float:
        """Overlap at which two dogs stand tip on tip."""
        return self.a.tallest - i.height + self.b.tallest - j.height

    def flanks(self, pairs, side: str):
        """Both half tips together, and the tangents of both flanks."""
        # A tip that was cut down lies lower, on flanks that stayed where they were.
        half = [
            self.a.half_width_at(i, self.meeting)
            - i.cut_down * getattr(i, side) / self.mean
            + self.b.half_width_at(j, self.meeting)
            - j.cut_down * getattr(j, side) / self.mean
            for i, j in pairs
        ]
        tans = [[getattr(dog, side) for dog in pair] for pair in pairs]
        return np.array(half)[:, None], np.array(tans)

    def reach(self, flanks, depth):
        """How far blocks reach from their middles, at depths below the two tips."""
        half, tans = flanks
        # The tip edge of either dog on the flank of the other: what sticks out most holds.
        sharp = np.maximum(half - depth * tans[:, :1] / self.mean, half - depth * tans[:, 1:] / self.mean)
        # Chamfers of 45 degrees on each other take off what is left of them at that depth.
        return sharp - np.maximum(self.edge - depth, 0) / self.mean

    def past(self, x):
        return x - self.start >= -SAME

    def beyond_near(self, phase, x):
        """How far a place lies beyond the near end of each block; less than 0 is before it."""
        from_middle = self.direction * (phase - self.middle)
        from_middle = (from_middle + math.pi) % math.tau - math.pi
        return from_middle + self.reach(self.near, np.maximum(x - self.start, 0))

    def beyond_far(self, phase, x):
        depth = np.maximum(x - self.start, 0)
        width = self.reach(self.near, depth) + self.reach(self.far, depth)
        return self.beyond_near(phase, x) - width

    def inside(self, phase, x):
        """Which blocks a place lies in; on the very edge of one is not in it."""
        between = (self.beyond_near(phase, x) > SAME) & (self.beyond_far(phase, x) < -SAME)
        return self.past(x) & between

    def entered(self, phase, x):
        """Which blocks each place but the first has come into, from above or by the near end."""
        inside = self.inside(phase, x)
        # A chamfer or a taper that lies behind may grow under a falling ring, and only guides it.
        behind = self.past(x) & (self.beyond_far(phase, x) >= -SAME)
        return inside[:, 1:] & ~inside[:, :-1] & ~behind[:, :-1]

    def guided(self, block: int, x):
        """Phase of a ring that lies on the near flank of a block, at overlaps below its tip."""
        return self.middle[block] - self.direction * self.reach(self.near, x - self.start)[block]

    def tallest(self, blocks) -> int:
        """Of some blocks, the one whose tips came level first."""
        return int(np.argmin(np.where(blocks, self.start[:, 0], np.inf)))


# ---- motion ----


@dataclass
class State:
    time: float
    phase: float
    x: float
    v: float
    slip: float


@dataclass
class Path:
    """A way that an equation of motion leads, until something is met on it."""

    lasts: float
    step: float
    at: Callable[[np.ndarray], State]

    def first(self, hit) -> tuple[State, State] | None:
        """The places just before and just after something is hit; `hit` judges all but the first."""
        for begin in np.arange(0, self.lasts, self.step * BATCH):
            times = np.minimum(begin + self.step * np.arange(BATCH + 1), self.lasts)
            hits = hit(self.at(times))
            if hits.any():
                return self.halved(times[hits.argmax()], times[hits.argmax() + 1], hit)
        return None

    def halved(self, before: float, after: float, hit) -> tuple[State, State]:
        begin = before
        while after - before > MOMENT_S:
            middle = (before + after) / 2
            if hit(self.at(np.array([begin, middle])))[0]:
                after = middle
            else:
                before = middle
        return self.at(before), self.at(after)


def integrate(rates, start: list[float], *stops):
    """Along an equation of motion until one of some functions of the state comes to nothing."""
    for stop in stops:
        stop.terminal = True
    exact = {"rtol": 1e-10, "atol": 1e-12, "max_step": 0.02, "dense_output": True}
    done = solve_ivp(lambda _, state: rates(state), (0, 60), start, events=stops, **exact)
    assert done.status == 1
    return done


class Shift:
    """One shift of a design."""

    def __init__(self, design: dict):
        self.design = design
        self.direction = PHASE_PER_SLIP * (1 if design["slip_rpm"] > 0 else -1)
        self.map = Map(design, self.direction)
        self.hold = design["hold_depth_mm"]
        self.strikes, self.rubbed = 0, False
        torque = design["tip_friction"] * design["shift_force_n"] * self.map.mean / 1000
        self.fading = (torque + design["drag_nm"]) / design["inertia_kg_m2"]

    def run(self) -> tuple[str, State]:
        design = self.design
        slip = abs(design["slip_rpm"]) * math.tau / 60
        phase = math.radians(design["phase_deg"])
        state = State(0.0, phase, 0.0, design["start_speed_m_per_s"], slip)
        next_leg, ending = (self.rub if self.on_top(state) else self.fall), None
        while state.time <= design["time_allowed_ms"] / 1000 and not ending:
            next_leg, state, ending = next_leg(state)
        late = state.time > design["time_allowed_ms"] / 1000
        return "still ratcheting" if late else ending, state

    # Each leg gives the leg that follows, the state it begins with, and the ending if it is the last.

    def fall(self, begin: State):
        path = self.falling(begin)
        met = path.first(lambda s: self.map.entered(s.phase, s.x).any(axis=0))
        if not met:
            return None, path.at(path.lasts), self.inside()
        before, after = met
        # Flanks may be flush: what is met within a hair is met together, and the tallest decides.
        a_hair_on = after.phase + self.direction * 3 * SAME
        block = self.map.tallest(self.map.inside(a_hair_on, after.x) & ~self.map.inside(begin...
