"""What becomes of one shift, marched through time step by step.

The core solves each fall and each rub in closed form. Here the two equations of motion are
integrated, and at every small step the place of the rings is held against the phase map: has it
come into a blocked region? Where it has, the step is halved until the moment is known. The phase
map is written anew from the saved form of the rings.
"""

import math
import random
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest
from conftest import Ring, report
from scipy.integrate import solve_ivp

# How the phase of ring A changes with a positive speed difference.
PHASE_PER_SLIP = -1

# Signs of the speed difference that the designs are drawn from.
SIGNS = [1, -1]

# Longest steps: in time for falls, in angle for everything.
STEP_S = 5e-6
STEP_RAD = 3e-4

# Steps that are looked at together.
BATCH = 250

# A step in which something is met is halved down to this.
MOMENT_S = 1e-12

# Angles in radians and overlaps in mm closer than this are the same: flush flanks, level tips.
SAME = 1e-9

# Flanks that are met within this angle are met together.
TOGETHER = 1e-8

# Change of phase that must not decide how a shift ends.
NUDGE_DEG = math.degrees(1e-6)


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


def unlike_rings(rng: random.Random) -> dict:
    kind = rng.choice(["straight", "undercut", "tapered", "mixed"])
    places = rng.choice(list(PLACES))
    width = rng.uniform(0.2, 0.4) * 360 / places
    layouts = [even_ring, measured_ring]
    a, b = (rng.choice(layouts)(rng, kind, rng.choice(PLACES[places]), width) for _ in "ab")
    for ring in (a, b):
        ring["inner_diameter_mm"] = rng.uniform(38, 46)
        ring["outer_diameter_mm"] = rng.uniform(54, 64)
        ring["flanks"] = rng.choice(["radial", "radial", "radial", "parallel"])
    return {"a": a, "b": b}


def equal_rings(rng: random.Random) -> dict:
    """Dogs of many heights whose flanks all meet at once: the tall ones must decide."""
    places = rng.choice([4, 6])
    kind = rng.choice(["straight", "straight", "undercut", "tapered"])
    ring = even_ring(rng, kind, places, rng.uniform(0.25, 0.45) * 360 / places)
    ring["heights"] = rng.choice([[1, 0.9], [1, 0.8], [1, 0.8, 0.9, 0.85]])
    return {"a": ring, "b": ring}


def given(number: int) -> dict:
    """The same shift for the same number, forever; each way of moving and kind of rings in turn."""
    rng = random.Random(number)
    drum = rng.uniform(0.05, 0.6)
    rings = equal_rings if number % 3 == 0 else unlike_rings
    return rings(rng) | {
        "travel_by": ["force", "drum", "both"][number // 3 % 3],
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
        "time_allowed_ms": rng.choice([rng.uniform(5, 40), 250.0, 250.0]),
    }


# The last three hold what chance seldom brings: a flank that strikes too shallow though the ring is
# on top of a short dog, deep enough for a taller one, and level tops that run into each other.
DESIGNS = [*range(180), 723, 1574, 779]


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
        """Both half tips together, and the lesser of both tangents."""
        # A tip that was cut down lies lower, on flanks that stayed where they were.
        half = [
            self.a.half_width_at(i, self.meeting)
            - i.cut_down * getattr(i, side) / self.mean
            + self.b.half_width_at(j, self.meeting)
            - j.cut_down * getattr(j, side) / self.mean
            for i, j in pairs
        ]
        # The tip edge of either dog meets the flank of the other: what sticks out most holds.
        tans = [min(getattr(dog, side) for dog in pair) for pair in pairs]
        return np.array(half)[:, None], np.array(tans)[:, None]

    def reach(self, flanks, depth):
        """How far blocks reach from their middles, at depths below the two tips."""
        half, tan = flanks
        # Chamfers of 45 degrees on each other take off what is left of them at that depth.
        return half - (depth * tan + np.maximum(self.edge - depth, 0)) / self.mean

    def past(self, x):
        """Which blocks are in play at an overlap: their tips have come level."""
        return x - self.start >= -SAME

    def beyond(self, phase, x):
        """How far a place lies beyond the near and the far ends of blocks; negative is before."""
        depth = np.maximum(x - self.start, 0)
        turned = self.direction * (phase - self.middle)
        from_middle = turned - math.tau * np.rint(turned / math.tau)
        return from_middle + self.reach(self.near, depth), from_middle - self.reach(self.far, depth)

    def inside(self, phase, x):
        """Which blocks a place lies in; on the very edge of one is not in it."""
        near, far = self.beyond(phase, x)
        return self.past(x) & (near > SAME) & (far < -SAME)

    def entered(self, phase, x):
        """Which blocks each place but the first has come into, from above or by the near end."""
        near, far = self.beyond(phase, x)
        past = self.past(x)
        inside = past & (near > SAME) & (far < -SAME)
        # A chamfer or a taper that lies behind may grow under a falling ring, and only guides it.
        behind = past & (far >= -SAME)
        return inside[:, 1:] & ~inside[:, :-1] & ~behind[:, :-1]

    def guided(self, block: int, x):
        """Phase of a ring that lies on the near flank of a block, at overlaps below its tip."""
        reach = self.reach(self.near, x - self.start)[block].reshape(np.shape(x))
        return self.middle[block, 0] - self.direction * reach

    def tallest(self, blocks) -> int:
        """Of some blocks, the one whose tips came level first."""
        return int(np.argmin(np.where(blocks, self.start, np.inf)))


# ---- motion ----


@dataclass
class State:
    """Where the rings stand and how they move; along a path its entries are arrays."""

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
        """The states just before and after something is hit; `hit` judges all but the first."""
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


def integrated(rates, start: list[float], *stops):
    """Along an equation of motion until one of the stops, functions of the state, comes to 0."""
    for stop in stops:
        stop.terminal = True
    exact = {"rtol": 1e-10, "atol": 1e-12, "max_step": 0.02, "dense_output": True}
    done = solve_ivp(lambda _, state: rates(state), (0, 60), start, events=stops, **exact)
    assert done.status == 1
    return done


def turning_step(slip: float) -> float:
    return STEP_RAD / max(slip, 1.0)


class Shift:
    """One shift of a design, leg by leg: it falls, rubs, or slides down along a flank."""

    def __init__(self, design: dict):
        self.design = design
        self.direction = PHASE_PER_SLIP * (1 if design["slip_rpm"] > 0 else -1)
        self.map = Map(design, self.direction)
        self.strikes, self.rubbed = 0, False

    def run(self) -> tuple[str, State]:
        design = self.design
        slip = abs(design["slip_rpm"]) * math.tau / 60
        phase, v = math.radians(design["phase_deg"]), design["start_speed_m_per_s"]
        state, ending = State(0.0, phase, 0.0, v, slip), None
        leg = self.rub if self.on_top(phase, 0.0).any() else self.fall
        while not ending and state.time <= design["time_allowed_ms"] / 1000:
            leg, state, ending = leg(state)
        late = state.time > design["time_allowed_ms"] / 1000
        return "Not in at the end" if late else ending, state

    # Each leg gives the leg after it, the state that one begins with, and the ending if it ends.

    def fall(self, begin: State):
        path = self.drop(begin)
        met = self.comes_down_on(path)
        if not met:
            return None, path.at(path.lasts), self.inside()
        after, top = met
        if top.any():
            return self.rub, self.landed(after, top), None
        return self.wall(after, self.touching(after))

    def comes_down_on(self, path):
        """The state in which a path first enters something, and which tops it comes down on there."""
        met = path.first(lambda s: self.map.entered(s.phase, s.x).any(axis=0))
        if not met:
            return None
        before, after = met
        return after, self.map.inside(after.phase, after.x) & ~self.map.past(before.x)

    def rub(self, begin: State):
        self.rubbed = True
        path = self.rubbing(begin)
        walls = self.map.start < begin.x - SAME

        def met_or_off(s):
            met = (self.map.entered(s.phase, begin.x) & walls).any(axis=0)
            return met | ~self.on_top(s.phase, begin.x)[1:]

        met = path.first(met_or_off)
        if not met:
            return None, path.at(path.lasts), "Stops halfway in" if begin.x > SAME else "Hangs tip on tip"
        _, after = met
        met_walls = self.touching(after) & walls
        if met_walls.any():
            return self.wall(after, met_walls, "Stops halfway in")
        return self.fall, after, None

    def wall(self, at: State, blocks, ending: str | None = None):
        """Flanks are met: the one whose tips came level first is deepest, and decides.

        With an ending given, a flank that holds ends the shift there; otherwise the ring slides on.
        """
        block = self.map.tallest(blocks)
        if at.x - self.map.start[block, 0] < self.design["hold_depth_mm"] - SAME:
            return self.rub, self.thrown_back(at, block), None
        return (None, at, ending) if ending else self.slide(at, block)

    def slide(self, begin: State, block: int):
        """Down along a flank that holds, to full depth or onto the top of a short dog."""
        path = self.guided(begin, block)
        met = self.comes_down_on(path)
        if not met:
            return None, path.at(path.lasts), self.inside()
        after, top = met
        if top.any():
            return None, after, "Stops halfway in"
        # Another flank, less undercut, takes over.
        other = self.map.inside(after.phase, after.x) & self.touching(after)
        return self.slide(after, self.map.tallest(other))

    def inside(self) -> str:
        if self.strikes:
            return "Thrown back, then in"
        return "In after rubbing" if self.rubbed else "Straight in"

    def on_top(self, phase, x: float):
        """Whether a ring rests on tops that are level at an overlap."""
        level = np.abs(self.map.start - x) < SAME
        return (self.map.inside(phase, x) & level).any(axis=0)

    def touching(self, at: State):
        """The blocks whose near flank lies where the ring is."""
        near, _ = self.map.beyond(at.phase, at.x)
        return self.map.past(at.x) & (np.abs(near) < TOGETHER)

    def landed(self, at: State, top) -> State:
        return replace(at, x=self.map.start[self.map.tallest(top), 0], v=0.0)

    def thrown_back(self, at: State, block: int) -> State:
        self.strikes += 1
        x = self.map.start[block, 0]
        # The edge of a chamfered or tapered tip lies further on than the flank that was met.
        near, _ = self.map.beyond(at.phase, x)
        phase = at.phase + self.direction * max(2 * SAME - near[block, 0], 0)
        return replace(at, x=x, v=0.0, phase=phase, slip=at.slip * (1 - self.design["strike_loss"]))

    # ---- the equations of motion ----

    def drop(self, begin: State) -> Path:
        """Down to full depth, pushed until the drum track holds it back, if it does."""
        full, drum = self.map.full, self.design["drum_speed_m_per_s"]
        push = self.design["shift_force_n"] / self.design["moving_mass_kg"]
        by, turning = self.design["travel_by"], self.direction * begin.slip
        state, lasts, pieces = [begin.phase, begin.x, begin.v], 0.0, []

        def there(_, state):
            return state[1] - full

        def at_drum_speed(_, state):
            return state[2] - drum

        if by == "force" or by == "both" and begin.v < drum * (1 - 1e-9):
            stops = [there] if by == "force" else [there, at_drum_speed]
            pushed = integrated(lambda s: [turning, 1000 * s[2], push], state, *stops)
            pieces.append((0.0, pushed.sol))
            lasts, state = pushed.t[-1], pushed.y[:, -1]
        if state[1] < full - SAME:
            carried = integrated(lambda s: [turning, 1000 * drum, 0.0], [*state[:2], drum], there)
            pieces.append((lasts, carried.sol))
            lasts += carried.t[-1]

        def at(time):
            phase, x, v = pieces[0][1](time)
            if len(pieces) > 1:
                begins, piece = pieces[1]
                later = piece(np.maximum(time - begins, 0))
                phase, x, v = np.where(time < begins, (phase, x, v), later)
            return State(begin.time + time, phase, x, v, begin.slip)

        return Path(lasts, min(STEP_S, turning_step(begin.slip)), at)

    def guided(self, begin: State, block: int) -> Path:
        """Down along a flank that has taken the slip."""
        drop = self.drop(begin)

        def at(time):
            state = drop.at(time)
            return replace(state, phase=self.map.guided(block, state.x))

        return Path(drop.lasts, STEP_S, at)

    def rubbing(self, begin: State) -> Path:
        """Round on a level top until the slip is gone, or once round."""
        design = self.design
        torque = design["tip_friction"] * design["shift_force_n"] * self.map.mean / 1000
        fading = (torque + design["drag_nm"]) / design["inertia_kg_m2"]

        def stopped(_, state):
            return state[1]

        def round_once(_, state):
            return abs(state[0] - begin.phase) - math.tau

        start = [begin.phase, begin.slip]
        stops = [stopped, round_once] if fading > 0 else [round_once]
        done = integrated(lambda s: [self.direction * s[1], -fading], start, *stops)

        def at(time):
            phase, slip = done.sol(time)
            return State(begin.time + time, phase, begin.x, 0.0, slip)

        return Path(done.t[-1], turning_step(begin.slip), at)


# ---- the tests ----


@cache
def marched(number: int, nudge: int = 0) -> tuple[str, int, float, float]:
    """How the march ends: the words, strikes, time in ms and slip left in rpm."""
    design = given(number)
    shift = Shift(design | {"phase_deg": design["phase_deg"] + nudge * NUDGE_DEG})
    ending, state = shift.run()
    return ending, shift.strikes, state.time * 1000, state.slip * 60 / math.tau


@cache
def told(number: int) -> tuple[str, int, float, float]:
    """The same from the core."""
    figures = report(given(number))["figures"]
    keys = ["shift_ending", "shift_strikes", "shift_time_ms", "shift_slip_left_rpm"]
    ending, strikes, time, slip = (figures[key] for key in keys)
    return ending, strikes, time, abs(slip)


def agree(number: int) -> bool:
    (ending, strikes, time, slip), found = told(number), marched(number)
    return (
        (ending, strikes) == found[:2]
        and time == pytest.approx(found[2], rel=1e-4, abs=STEP_S * 1000)
        and slip == pytest.approx(found[3], rel=1e-3, abs=1e-6)
    )


def hangs_by_a_hair(number: int) -> bool:
    """Whether the march itself ends otherwise from a phase a hair away."""
    return any(marched(number, nudge)[:2] != marched(number)[:2] for nudge in (-1, 1))


@pytest.mark.parametrize("number", DESIGNS)
def test_one_shift(number):
    if not agree(number) and hangs_by_a_hair(number):
        pytest.skip("a millionth of a radian decides")
    assert agree(number), f"the core: {told(number)}, the march: {marched(number)}"


def test_few_shifts_are_left_out():
    left_out = [n for n in DESIGNS if not agree(n) and hangs_by_a_hair(n)]
    assert len(left_out) < 0.15 * len(DESIGNS)


def test_the_shifts_are_of_all_kinds():
    endings = Counter(marched(number)[0] for number in DESIGNS)
    words = [
        "Straight in",
        "In after rubbing",
        "Thrown back, then in",
        "Hangs tip on tip",
        "Stops halfway in",
        "Not in at the end",
    ]
    assert all(endings[word] >= 4 for word in words), endings
    struck = [marched(number)[1] for number in DESIGNS]
    assert sum(n > 0 for n in struck) >= 15 and max(struck) >= 5
    senses = {math.copysign(1, given(number)["slip_rpm"]) for number in DESIGNS}
    assert senses == set(SIGNS)
