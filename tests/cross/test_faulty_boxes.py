"""Gearboxes with a planted fault: the part at fault comes first, and nobody blames a sound one.

Boxes, faults and readings are made here, from what each part is and does: a slider is pushed by a fork, the fork by a
pin, the pin by a track. A box is drawn at random; its file has the sizes of the maker. Then its parts are put off, each
by less than a third of what its limit allows, and one or two of them by one to three times as much as that; what a
mechanic would read is worked out, spoiled by the usual uncertainties, and 10 to 30 % of it is left out. A fault
that none of the readings left can see is not asked for.

CRENEL_BOXES says how many boxes of each kind are tried; `make soak` takes 300.
"""

import json
import math
import os

import numpy as np
import pytest
from conftest import run

BOXES = int(os.environ.get("CRENEL_BOXES", "60"))

STEP = 45.0
FIRST = 20.0

# What a gearbox takes of each fault: mm or degrees.
LIMITS = {
    "shim": 0.2,
    "shaft": 0.2,
    "fork": 0.2,
    "pads": 0.2,
    "pin": 0.15,
    "track": 1.5,
    "claw": 0.4,
    "detent": 1.0,
    "star": 1.5,
    "notch": 1.0,
    "flank": 1.5,
    "edge": 0.3,
    "lash": 1.5,
}

# Standard uncertainty of each reading.
SIGMAS = {
    "measured_gap_lift_mm": 0.1,
    "measured_gap_press_mm": 0.1,
    "measured_rest_deg": 0.4,
    "measured_drum_slack_deg": 0.2,
    "measured_meets_up_deg": 0.4,
    "measured_meets_down_deg": 0.4,
    "measured_clearance_this_mm": 0.05,
    "measured_overlap_mm": 0.05,
    "measured_room_far_mm": 0.03,
    "measured_room_near_mm": 0.03,
    "measured_edge_a_mm": 0.05,
    "measured_edge_b_mm": 0.05,
    "measured_flank_drive_deg": 0.3,
    "measured_flank_coast_deg": 0.3,
    "measured_lash_deg": 0.3,
    "measured_fork_play_mm": 0.02,
    "measured_pin_play_mm": 0.02,
    "measured_fork_bend_mm": 0.05,
}

# Which gears each slider has on its lower and on its higher face, and in which order they sit along the shaft.
LAYOUTS = [
    {1: 3, 2: 4},
    {1: 3, 2: 4, 5: None},
    {1: 3, 2: 4, 5: 6},
    {1: 3, 2: 5, 4: 6},
]


class Box:
    """A gearbox as its maker wants it."""

    def __init__(self, rng):
        self.rng = rng
        layout = LAYOUTS[rng.integers(len(LAYOUTS))]
        self.gears = sum(1 if higher is None else 2 for higher in layout.values())
        self.throw = round(rng.uniform(4.6, 5.6), 2)
        self.ramp = [round(rng.uniform(3, 6), 1), round(rng.uniform(15, 19), 1)]
        self.sliders = []
        for lower, higher in layout.items():
            self.sliders.append(
                {
                    "gears": [lower - 1] if higher is None else [lower - 1, higher - 1],
                    "turned": bool(higher is not None and rng.random() < 0.4),
                    "groove": round(rng.uniform(0.15, 0.35), 2),
                    "pin": round(rng.uniform(0.04, 0.12), 2),
                }
            )
        self.depth = round(rng.uniform(3.8, 4.4), 2)
        self.clearance = [
            # The dogs come home where the fork has room on both sides.
            round(self.throw - self.depth + rng.uniform(-0.05, 0.05), 2)
            for _ in range(self.gears)
        ]
        self.count = int(rng.integers(4, 7))
        self.width = round(rng.uniform(0.3, 0.38) * 360 / self.count, 1)
        self.undercut = round(rng.uniform(3, 5), 1)
        self.edge = round(rng.uniform(0.2, 0.4), 2)
        self.slack = round(rng.uniform(0.8, 1.6), 1)
        self.claw = {
            "drum_positions": 8,
            "pin_radius_mm": round(rng.uniform(9, 11), 1),
            "shaft_to_drum_mm": round(rng.uniform(42, 50), 1),
            "claw_play_lift_mm": round(rng.uniform(0.5, 1.0), 2),
            "claw_play_press_mm": round(rng.uniform(0.5, 1.0), 2),
            "claw_travel_lift_mm": round(rng.uniform(9.0, 10.0), 2),
            "claw_travel_press_mm": round(rng.uniform(9.0, 10.0), 2),
        }

    # ---- geometry ----

    def rest(self, gear):
        return FIRST + STEP * gear

    @property
    def neutral(self):
        return FIRST + STEP / 2

    def where(self, gear):
        """The slider of a gear and the side of it: -1 lower, 1 higher. A gear alone is on the higher side."""
        for at, slider in enumerate(self.sliders):
            if gear in slider["gears"]:
                return at, -1 if len(slider["gears"]) > 1 and slider["gears"][0] == gear else 1
        raise AssertionError(gear)

    def track(self, slider):
        """Level in neutral, a ramp up and down about the middle of the steps beside each gear."""
        near, far = self.ramp
        last = self.rest(self.gears - 1)
        points = [[0.0, 0.0]]
        for gear in self.sliders[slider]["gears"]:
            travel = self.where(gear)[1] * self.throw
            before, behind = self.rest(gear) - STEP / 2, self.rest(gear) + STEP / 2
            if gear == 0:
                points[0][1] = travel
            else:
                points += [[before + near, 0.0], [before + far, travel]]
            if self.rest(gear) < last:
                points += [[behind - far, travel], [behind - near, 0.0]]
        points.append([last + STEP / 2, points[-1][1]])
        return points

    def lash(self):
        """Of equal dogs: what pitch and width leave, and what the undercut of both flanks gives at depth."""
        undercut = math.degrees(self.depth * math.tan(math.radians(self.undercut)) / 26.0)
        return 360 / self.count - 2 * self.width + 2 * undercut

    # ---- the file ----

    def wheels(self):
        """The wheels of both shafts, and where each gear has its own."""
        shafts, places = [[], []], {}
        sliders = []
        for slider in self.sliders:
            pair = slider["gears"] if len(slider["gears"]) > 1 else [None, slider["gears"][0]]
            if slider["turned"]:
                pair = pair[::-1]
            for gear, kind in [(pair[0], "free"), ("slider", "sliding"), (pair[1], "free")]:
                if gear == "slider":
                    sliders.append([2, len(shafts[1]) + 1])
                    shafts[1].append({"is": kind})
                elif gear is not None:
                    shafts[0].append({"teeth": 12 + 2 * gear})
                    shafts[1].append({"is": kind, "teeth": 36 - 2 * gear})
                    places[gear] = [len(shafts[0]), len(shafts[1])]
        return shafts, places, sliders

    def saved(self, readings):
        shafts, places, sliders = self.wheels()
        ring = {
            "count": self.count,
            "tip_width_deg": self.width,
            "back_cut_drive_deg": self.undercut,
            "back_cut_coast_deg": self.undercut,
            "edge_break_mm": self.edge,
        }
        gears = []
        for gear in range(self.gears):
            inner, outer = places[gear]
            gears.append(
                {
                    "driving": [1, inner],
                    "driven": [2, outer],
                    "slider": self.where(gear)[0] + 1,
                    "clearance_mm": self.clearance[gear],
                    "measured": readings["gears"][gear],
                }
                | ({"pair": {"a": ring, "b": ring, "overlap_mm": self.depth}} if gear == 0 else {"same_as": 1})
            )
        forks = [
            {
                "slider": at + 1,
                "track": self.track(at),
                "fork_thickness_mm": 6.0,
                "groove_width_mm": round(6.0 + slider["groove"], 4),
                "pin_diameter_mm": 7.0,
                "track_width_mm": round(7.0 + slider["pin"], 4),
                "measured": readings["forks"][at],
            }
            for at, slider in enumerate(self.sliders)
        ]
        positions = [{"gear": gear + 1, "position_deg": self.rest(gear)} for gear in range(self.gears)]
        positions.insert(1, {"position_deg": self.neutral})
        return {
            "crenel_gearbox": 1,
            "shafts": [{"is": "input", "wheels": shafts[0]}, {"wheels": shafts[1]}],
            "sliders": sliders,
            "forks": forks,
            "drum": {"positions": positions},
            "gears": gears,
            "claw": self.claw,
            "detent": {"drum_slack_deg": self.slack},
        }


# ---- faults ----


def possible(box):
    """Every fault that a box can have: kind, where, way."""
    forks = range(len(box.sliders))
    gears = range(box.gears)
    found = [("shim", gear, 0) for gear in gears]
    found += [("track", gear, 0) for gear in gears]
    found += [("notch", gear, 1) for gear in gears]
    for gear in gears:
        found += [("flank", gear, "drive"), ("flank", gear, "coast"), ("edge", gear, "a"), ("edge", gear, "b")]
        found += [("lash", gear, 1)]
    found += [("fork", fork, 0) for fork in forks]
    found += [("pads", fork, side) for fork in forks for side in (-1, 0, 1)]
    found += [("pin", fork, 1) for fork in forks]
    found += [("claw", 0, "stop"), ("claw", 0, "hook"), ("detent", 0, 1), ("star", 0, 0), ("shaft", 1, 0)]
    return found


PARTS = {"flank": "dogs", "edge": "dogs", "lash": "dogs", "star": "detent"}


def part(fault):
    kind, at, _ = fault
    return [PARTS.get(kind, kind), at + 1]


def grows_only(fault):
    return fault[0] in ("notch", "flank", "edge", "lash", "pads", "pin", "detent")


def pick(box, rng):
    """A fault at random: first the kind of part, then which one, so that no part is favoured for its many ways."""
    all_ = possible(box)
    kinds = sorted({PARTS.get(fault[0], fault[0]) for fault in all_})
    kind = kinds[rng.integers(len(kinds))]
    of_kind = [fault for fault in all_ if part(fault)[0] == kind]
    return of_kind[rng.integers(len(of_kind))]


# ---- what is read ----


class Worn:
    """A box with every part off by something."""

    def __init__(self, box, off):
        self.box, self.off = box, off

    def of(self, kind, at, way):
        return self.off.get((kind, at, way), 0.0)

    def fork(self, fork):
        """Where the pads sit off their place, the play of the groove and the play of the pin."""
        slider = self.box.sliders[fork]
        sides = {side: self.of("pads", fork, side) for side in (-1, 0, 1)}
        bent = self.of("fork", fork, 0)
        pads = bent - sides[1] / 2 + sides[-1] / 2
        return pads, slider["groove"] + sum(sides.values()), slider["pin"] + self.of("pin", fork, 1)

    def clearance(self, gear):
        fork, side = self.box.where(gear)
        along = -1 if self.box.sliders[fork]["turned"] else 1
        return self.box.clearance[gear] + self.of("shim", gear, 0) + side * along * self.of("shaft", 1, 0)

    def travel(self, gear, angle):
        """How far the track takes the slider towards a gear; the ramps of each gear may be off. Beyond neutral the other
        gear of the slider takes it away; nothing here asks for that."""
        own = self.of("track", gear, 0)
        near, far = self.box.ramp
        before = self.box.rest(gear) - STEP / 2 + own
        behind = self.box.rest(gear) + STEP / 2 + own
        last = self.box.gears - 1
        up = 1.0 if gear == 0 else np.clip((angle - before - near) / (far - near), 0, 1)
        down = 1.0 if gear == last else np.clip((behind - near - angle) / (far - near), 0, 1)
        return self.box.throw * min(up, down)

    def depth(self, gear, angle):
        fork, side = self.box.where(gear)
        return self.travel(gear, angle) + side * self.fork(fork)[0] - self.clearance(gear)

    def meets(self, gear, rises):
        """Where the tips begin to overlap, the plays of groove and pin against them."""
        fork, side = self.box.where(gear)
        pads, groove, pin = self.fork(fork)
        needed = self.clearance(gear) - side * pads + (groove + pin) / 2
        if not 0 < needed < self.box.throw:
            return None
        near, far = self.box.ramp
        along = near + (far - near) * needed / self.box.throw
        own = self.of("track", gear, 0)
        if rises:
            return None if gear == 0 else self.box.rest(gear) - STEP / 2 + along + own
        return None if gear == self.box.gears - 1 else self.box.rest(gear) + STEP / 2 - along + own

    def claw_gaps(self):
        claw = self.box.claw
        half = math.pi / claw["drum_positions"]
        r, d = claw["pin_radius_mm"], claw["shaft_to_drum_mm"]
        hook = math.sqrt(r * r + d * d - 2 * r * d * math.cos(half))
        swing = 2 * math.atan2(r * math.sin(half), d - r * math.cos(half)) * hook
        stop, short = self.of("claw", 0, "stop"), self.of("claw", 0, "hook")
        return [
            swing + claw["claw_play_lift_mm"] - claw["claw_travel_lift_mm"] + stop + short,
            swing + claw["claw_play_press_mm"] - claw["claw_travel_press_mm"] - stop + short,
        ]

    def gear(self, gear):
        box = self.box
        fork, _ = box.where(gear)
        _, groove, pin = self.fork(fork)
        rest = box.rest(gear) + self.of("star", 0, 0)
        lost = (groove + pin) / 2
        # Drawn home, the dogs stop at their depth, wherever the pads are.
        over = box.depth - self.depth(gear, rest)
        lift, press = self.claw_gaps()
        return {
            "measured_gap_lift_mm": lift,
            "measured_gap_press_mm": press,
            "measured_rest_deg": rest,
            "measured_drum_slack_deg": box.slack + self.of("detent", 0, 1) + self.of("notch", gear, 1),
            "measured_meets_up_deg": self.meets(gear, True),
            "measured_meets_down_deg": self.meets(gear, False),
            "measured_clearance_this_mm": -self.depth(gear, box.neutral + self.of("star", 0, 0)) - lost,
            "measured_overlap_mm": self.depth(gear, rest) - lost,
            "measured_room_far_mm": groove / 2 - over,
            "measured_room_near_mm": groove / 2 + over,
            "measured_edge_a_mm": box.edge + self.of("edge", gear, "a"),
            "measured_edge_b_mm": box.edge + self.of("edge", gear, "b"),
            "measured_flank_drive_deg": box.undercut - self.of("flank", gear, "drive"),
            "measured_flank_coast_deg": box.undercut - self.of("flank", gear, "coast"),
            "measured_lash_deg": box.lash() + self.of("lash", gear, 1),
        }

    def on_fork(self, fork):
        pads, groove, pin = self.fork(fork)
        read = {"measured_fork_play_mm": groove, "measured_pin_play_mm": pin}
        # With one gear, a bent fork is told from a shim on the surface plate alone.
        if len(self.box.sliders[fork]["gears"]) == 1:
            read["measured_fork_bend_mm"] = pads
        return read


def spoiled(box, off, rng, missing):
    """The readings of a box with faults, some of them left out."""
    worn = Worn(box, off)
    sharp = {
        "gears": [worn.gear(gear) for gear in range(box.gears)],
        "forks": [worn.on_fork(fork) for fork in range(len(box.sliders))],
    }
    keep = lambda key, value: value is not None and (key.endswith("bend_mm") or rng.random() >= missing)  # noqa: E731
    return {
        part: [
            {key: round(value + rng.normal(0, SIGMAS[key]), 4) for key, value in one.items() if keep(key, value)}
            for one in listed
        ]
        for part, listed in sharp.items()
    }


def sees(box, fault, readings):
    """Whether any reading that was taken is moved by a fault by more than its uncertainty."""
    at_rest, off = Worn(box, {}), Worn(box, {fault: LIMITS[fault[0]]})
    parts = [("gears", box.gears, Worn.gear), ("forks", len(box.sliders), Worn.on_fork)]
    for name, count, of in parts:
        for at in range(count):
            one, other = of(at_rest, at), of(off, at)
            for key in readings[name][at]:
                if None not in (one[key], other[key]) and abs(one[key] - other[key]) > SIGMAS[key]:
                    return True
    return False


def make(seed, faults):
    """A box with so many faults, its readings, and the parts at fault."""
    rng = np.random.default_rng([seed, faults, 19])
    box = Box(rng)
    missing = rng.uniform(0.1, 0.3)
    off = {fault: LIMITS[fault[0]] * rng.uniform(-0.3, 0.3) for fault in possible(box)}
    off = {fault: abs(by) if grows_only(fault) else by for fault, by in off.items()}
    planted = []
    while len(planted) < faults:
        fault = pick(box, rng)
        if all(part(fault) != part(other) for other in planted):
            planted.append(fault)
    for fault in planted:
        sign = 1 if grows_only(fault) or rng.random() < 0.5 else -1
        off[fault] = sign * LIMITS[fault[0]] * rng.uniform(1, 3)
    while True:
        readings = spoiled(box, off, rng, missing)
        if all(sees(box, fault, readings) for fault in planted):
            return box.saved(readings), [part(fault) for fault in planted]


def traced(boxes):
    lines = run("box", "--faults", given="\n".join(json.dumps(box) for box in boxes)).splitlines()
    return [json.loads(line) for line in lines]


def ranked(answer):
    return [[suspect["part"], suspect["number"]] for suspect in answer["suspects"]]


def test_the_part_at_fault_comes_first():
    made = [make(seed, 2 if seed % 5 == 4 else 1) for seed in range(BOXES)]
    wrong = []
    for seed, ((_, planted), answer) in enumerate(zip(made, traced(box for box, _ in made), strict=True)):
        told = ranked(answer)
        first = told[:1] == planted[:1] if len(planted) == 1 else told[0] in planted
        if not (first and all(part in told[:3] for part in planted)):
            wrong.append((seed, planted, [(s["part"], s["number"], round(s["share"], 3)) for s in answer["suspects"]][:4]))
    assert len(wrong) <= 0.05 * len(made), wrong


def test_nobody_blames_a_sound_box():
    made = [make(seed, 0)[0] for seed in range(BOXES)]
    blamed = [
        (seed, suspect["part"], suspect["number"], suspect["size"])
        for seed, answer in enumerate(traced(made))
        for suspect in answer["suspects"]
        if suspect["blamed"]
    ]
    assert not blamed, blamed


def test_what_to_read_next_tells_a_bent_fork_from_a_shim():
    """With one gear on its fork, nothing read in the box tells them apart: the surface plate does."""
    rng = np.random.default_rng(5)
    box = Box(rng)
    while len(box.sliders) != 3 or box.gears != 5:
        box = Box(rng)
    readings = spoiled(box, {("fork", 2, 0): 0.5}, rng, 0.0)
    del readings["forks"][2]["measured_fork_bend_mm"]
    (answer,) = traced([box.saved(readings)])
    first, second = answer["suspects"][:2]
    assert {first["part"], second["part"]} == {"fork", "shim"}
    assert answer["next"]["read"] == "box.forks[2].measured.measured_fork_bend_mm"
    assert not answer["next"]["again"] and sorted(map(abs, answer["next"]["expects"])) == pytest.approx([0, 0.5], abs=0.1)
