"""The outcome map of benches/outcomes.rs in numpy: what becomes of 512 × 512 shifts, and how fast.

benches/against.py prints it next to the core's own time. The pair and the conditions are those of `mixed_six` there.

The events and their closed form are those of src/shift/attempt: fall, rub, strike, caught, half in.
Any list of blocks will do, but flanks are taken as straight and edges as sharp, and there is no
drag and no loss in a strike. So a fall always starts at a level where tips meet, all its times down
to other levels are plain numbers, and only angle, slip and time have to be arrays.

Three things make it fast. Only shifts that are not over yet are carried on. They wait by the level
they rest at, and the level where most wait is worked on next, so that calls stay few. And a call
gets so many that its arrays stay in the cache.
"""

import math
import time
from dataclasses import dataclass

import numpy as np

Array = np.ndarray

SIDE = 512

# Shifts worked on in one go: an array of this length is 64 kB.
PIECE = 8192

RUNS = 2

# What is the same but for rounding: overlaps in mm, angles in turns, either angles or times in s.
SAME_MM = 1e-9
SAME_TURN = 1e-12
SAME = 1e-12

STRAIGHT_IN, AFTER_RUBBING, AFTER_STRIKES, HALF_IN, LOCKED, RATCHETING = range(6)

# What a fall has met when it met nothing.
NOTHING = -1


@dataclass(frozen=True)
class Conditions:
    """Under what conditions a shift is offered: the fields' defaults, at the rings' mean radius."""

    force_n: float = 120.0
    mass_kg: float = 0.3
    drum_speed_m_per_s: float = 0.12
    start_speed_m_per_s: float = 0.12
    hold_mm: float = 1.0
    full_mm: float = 4.5
    friction: float = 0.1
    friction_radius_mm: float = 26.0
    inertia_kg_m2: float = 1e-3
    allowed_s: float = 1.0

    def fading(self) -> float:
        """Slip lost in a second of rubbing, turns/s²."""
        torque = self.friction * self.force_n * self.friction_radius_mm / 1000
        return torque / self.inertia_kg_m2 / math.tau

    def seconds(self, start: float, distance_mm: float) -> float:
        """Time over a distance along the shaft: pushed, but never faster than the drum."""
        distance, push = max(distance_mm, 0) / 1000, self.force_n / self.mass_kg
        cap = self.drum_speed_m_per_s
        start = min(start, cap)
        to_cap = (cap**2 - start**2) / (2 * push)
        if distance <= to_cap:
            return (math.sqrt(start**2 + 2 * push * distance) - start) / push
        return (cap - start) / push + (distance - to_cap) / cap


@dataclass(frozen=True)
class Block:
    """One dog of A in the way of one of B, in the direction of slip; angles in turns."""

    middle: float
    starts_mm: float
    near: float
    far: float


def mixed_six() -> list[Block]:
    """Six dogs of 24° on six, every second half height, on both; heights 5 and 2.5 mm."""
    dogs = [(place / 6, 2.5 * (place % 2)) for place in range(6)]
    reach = 24 / 360
    # A turns backwards, so that the phase -(a + b) where two dogs meet comes at a + b of its way.
    pairs = [(a + b, low_a + low_b) for a, low_a in dogs for b, low_b in dogs]
    return [Block(middle % 1, starts_mm, reach, reach) for middle, starts_mm in pairs]


def wrapped(turns: Array) -> Array:
    """Turns in [0, 1), in place. The remainder of a division would take twice as long."""
    turns -= np.floor(turns)
    return turns


class Level:
    """An overlap where tips come level, and the lands there: a near end and a width each."""

    def __init__(self, depth_mm: float, blocks: list[Block]):
        self.depth_mm = depth_mm
        here = [block for block in blocks if abs(block.starts_mm - depth_mm) < SAME_MM]
        self.lands = joined([((b.middle - b.near) % 1, b.near + b.far) for b in here])

    def land(self, turn: Array) -> Array:
        """How far the land under a place goes on; negative over a window."""
        # No land but the one under a place is wider than the way back to its near end.
        left = np.full(len(turn), -1.0)
        for near, width in self.lands:
            # Rounding must not let a ring on the very edge of a land miss it.
            past = wrapped(turn - (near - SAME_TURN))
            np.maximum(left, np.subtract(width + SAME_TURN, past, out=past), out=left)
        return left

    def room(self, turn: Array) -> Array:
        """How far ahead the next near end is: a wall, below this level."""
        room = np.ones(len(turn))
        for near, _ in self.lands:
            np.minimum(room, wrapped(near - turn), out=room)
        return room


def joined(arcs: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Arcs as lands: equal rings block the same many times over, and what overlaps is one land."""
    lands: list[list[float]] = []
    for near, width in sorted(arcs):
        if lands and near <= lands[-1][1] + SAME_TURN:
            lands[-1][1] = max(lands[-1][1], near + width)
        else:
            lands.append([near, near + width])
    # The last may run on into the first.
    while len(lands) > 1 and lands[-1][1] + SAME_TURN >= lands[0][0] + 1:
        lands[-1][1] = max(lands[-1][1], lands.pop(0)[1] + 1)
    # A land all round has no end.
    return [(near, end - near if end - near < 1 else math.inf) for near, end in lands]


class Drop:
    """The times of a fall: to each level, to where walls from there hold, and to full depth."""

    def __init__(self, given: Conditions, levels: list[Level], top_mm: float, speed: float):
        def seconds(depth_mm: float) -> float:
            return given.seconds(speed, depth_mm - top_mm)

        self.to_level = [seconds(level.depth_mm) for level in levels]
        self.to_hold = [seconds(level.depth_mm + given.hold_mm - SAME_MM) for level in levels]
        self.to_full = seconds(given.full_mm)


class Shifts:
    """All shifts of a map: where each is, and which of them wait to rub on at which level."""

    def __init__(self, blocks: list[Block], given: Conditions, turn: Array, slip: Array):
        self.given = given
        self.turn, self.slip, self.seconds = turn, slip, np.zeros(len(turn))
        # How it is in, should it get in next: straight, after rubbing, after strikes.
        self.way = np.full(len(turn), STRAIGHT_IN, dtype=np.int8)
        self.outcome = np.full(len(turn), RATCHETING, dtype=np.int8)
        depths = sorted({round(block.starts_mm, 9) for block in blocks})
        self.levels = [Level(depth, blocks) for depth in depths if depth < given.full_mm - SAME_MM]
        self.rests = [Drop(given, self.levels, level.depth_mm, 0.0) for level in self.levels]
        self.waiting: list[list[Array]] = [[] for _ in self.levels]

    def run(self) -> Array:
        """Carries every shift to its end. It comes to one, since time only grows."""
        everyone = np.arange(len(self.turn))
        for start in range(0, len(everyone), PIECE):
            self.begin(everyone[start : start + PIECE])
        while any(self.waiting):
            level = max(range(len(self.levels)), key=lambda at: sum(map(len, self.waiting[at])))
            self.rub(level, self.next_piece(level))
        return self.outcome

    def next_piece(self, level: int) -> Array:
        """Takes some of those that wait at a level: a piece, or all if they are fewer."""
        waiting, taken = self.waiting[level], []
        while waiting and sum(map(len, taken)) < PIECE:
            taken.append(waiting.pop())
        return np.concatenate(taken)

    def begin(self, who: Array) -> None:
        """Tips meet level: over a land they rub, over a window they fall at the speed they have."""
        turn, slip, seconds = self.turn[who], self.slip[who], self.seconds[who]
        on = self.levels[0].land(turn) >= 0
        self.rest(0, who[on], turn[on], slip[on], seconds[on], AFTER_RUBBING)
        drop = Drop(self.given, self.levels, 0.0, self.given.start_speed_m_per_s)
        over = ~on
        self.fall(drop, who[over], turn[over], slip[over], seconds[over])

    def rest(
        self, level: int, who: Array, turn: Array, slip: Array, seconds: Array, way: Array | int
    ) -> None:
        """Tip on tip at a level, those that have time left: they wait there to rub on."""
        self.turn[who], self.slip[who], self.seconds[who] = turn, slip, seconds
        self.way[who] = np.maximum(self.way[who], way)
        who = who[seconds <= self.given.allowed_s]
        if len(who):
            self.waiting[level].append(who)

    def end(self, who: Array, seconds: Array, outcome: Array | int) -> None:
        """The end of some; those that come too late count as ratcheting still."""
        self.outcome[who] = np.where(seconds > self.given.allowed_s, RATCHETING, outcome)

    def rub(self, at: int, who: Array) -> None:
        """Over a land until the slip has faded, a wall is met, or the land ends and they fall."""
        level, fading = self.levels[at], self.given.fading()
        turn, slip, seconds = self.turn[who], self.slip[who], self.seconds[who]
        reach = np.full(len(who), math.inf)
        wall = np.full(len(who), NOTHING, dtype=np.int8)
        for above in range(at):
            keep_nearer(reach, wall, self.levels[above].room(turn), above)
        keep_nearer(reach, wall, level.land(turn), NOTHING)
        left = slip * slip - 2 * fading * reach
        slower = np.sqrt(np.maximum(left, 0))
        seconds += (slip - slower) / fading
        turn += reach
        stops = left <= 0
        self.end(who[stops], seconds[stops], HALF_IN if level.depth_mm > SAME_MM else LOCKED)
        goes = ~stops
        for above in range(at):
            met = np.flatnonzero(goes & (wall == above))
            if level.depth_mm - self.levels[above].depth_mm >= self.given.hold_mm - SAME_MM:
                self.end(who[met], seconds[met], HALF_IN)
            else:
                self.rest(above, who[met], turn[met], slower[met], seconds[met], AFTER_STRIKES)
        leaves = np.flatnonzero(goes & (wall == NOTHING))
        self.fall(self.rests[at], who[leaves], turn[leaves], slower[leaves], seconds[leaves])

    def fall(self, drop: Drop, who: Array, turn: Array, slip: Array, seconds: Array) -> None:
        """Down until a top or a wall is met, or to full depth."""
        first = np.full(len(who), drop.to_full)
        met = np.full(len(who), NOTHING, dtype=np.int8)
        for at, level in enumerate(self.levels):
            keep_nearer(first, met, self.meets(level, drop.to_level[at], turn, slip), at)
        turn = turn + slip * first
        through = np.flatnonzero(met == NOTHING)
        self.end(who[through], seconds[through] + drop.to_full, self.way[who[through]])
        for at in range(len(self.levels)):
            here = met == at
            holds = here & (first >= drop.to_hold[at])
            self.caught(drop, who[holds], turn[holds], seconds[holds], first[holds])
            back = np.flatnonzero(here & ~holds)
            lasts = first[back]
            # At the very moment it comes level it lies on the top, later its flank throws it back.
            way = np.where(lasts > drop.to_level[at], AFTER_STRIKES, AFTER_RUBBING)
            self.rest(at, who[back], turn[back], slip[back], seconds[back] + lasts, way)

    def meets(self, level: Level, to_level: float, turn: Array, slip: Array) -> Array:
        """Seconds until a fall meets what begins at a level: a top there, or a wall below."""
        if to_level == 0:
            return level.room(turn) / slip
        there = turn + slip * to_level
        after = level.room(there) / slip
        after[level.land(there) >= 0] = 0
        return to_level + after

    def caught(self, drop: Drop, who: Array, turn: Array, seconds: Array, lasts: Array) -> None:
        """A flank holds: they slide down along it, to full depth or onto a short dog's top."""
        ends, outcome = seconds + drop.to_full, self.way[who]
        # A top that only begins at the flank is flush with it and lets it pass.
        beside = turn - 2 * SAME_TURN
        # From the deepest up, so that the first top below has the last word.
        for at in reversed(range(len(self.levels))):
            on = (drop.to_level[at] > lasts) & (self.levels[at].land(beside) >= 0)
            ends[on], outcome[on] = seconds[on] + drop.to_level[at], HALF_IN
        self.end(who, ends, outcome)


def keep_nearer(least: Array, which: Array, other: Array, name: int) -> None:
    """Puts what is nearer in the place of what was nearest so far.

    Flush flanks are all met at once: that of the taller dogs, which comes first, stands for them.
    """
    nearer = other < least - SAME
    np.copyto(least, other, where=nearer)
    np.copyto(which, name, where=nearer)


def outcome_map(top_rpm: float) -> Array:
    """The whole map, row by row from the slowest; each cell stands for its middle."""
    middles = (np.arange(SIDE) + 0.5) / SIDE
    turn, slip = np.tile(-middles, SIDE), np.repeat(middles * top_rpm / 60, SIDE)
    return Shifts(mixed_six(), Conditions(), turn, slip).run()


def measured(top_rpm: float) -> dict:
    """The best processor time of a map up to a speed difference, and how many cells come to what."""
    best = math.inf
    for _ in range(RUNS):
        start = time.process_time()
        cells = outcome_map(top_rpm)
        best = min(best, time.process_time() - start)
    return {"seconds": best, "counts": np.bincount(cells, minlength=6).tolist()}
