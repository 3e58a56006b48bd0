"""Work on rings, done again: planes that are moved, sections laid on each other, strips slid along.

A flank is a half-space here: a plane through its edge in plan, leaning by the back-cut. An operation
moves or turns planes or lowers the tip, and what stands is the metal inside both planes between the
bore and the outer circle. A re-cut turns a plane about its tip edge of that moment; how much deeper it
goes is searched for, not worked out.
Depths are measured down from the tip as it was found.
"""

import math
import random
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest
import shapely
from conftest import DEFAULTS, report
from scipy.integrate import quad, simpson
from scipy.optimize import brentq
from shapely.affinity import translate
from test_windows import STEP_DEG, TIP_LEVEL, apart, assert_all_among

DENSITY_G_PER_MM3 = 7.85e-3

DESIGNS = range(60)

# A dog is at least this thick at the bore wherever it is looked at, mm.
LEAST_MM = 0.8

# Shared area below this is rounding, mm².
NO_AREA = 1e-9

# Tips that only touch are not in each other's way: rings are slid this much higher, mm.
RAISED_MM = 1e-7


# ---- a dog and what work does to it ----


@dataclass(frozen=True)
class Flank:
    """The half-space inside a flank, seen with the dog's middle line along x."""

    sign: int  # −1 for the drive flank, +1 for the coast flank
    turned: float  # direction of its edge in plan, from the middle line, radians
    offset: float  # distance of that edge from the shaft, towards the outside of the dog, mm
    tan: float  # of the back-cut
    hinge: float = 0.0  # the depth at which it was last turned
    leaned: float = 0.0  # how far it leaned in there already

    def lean(self, depth):
        """How far it leans in at a depth."""
        return self.leaned + (depth - self.hinge) * self.tan

    def upright(self) -> "Flank":
        """Its edge with no lean, at every depth."""
        return replace(self, tan=0.0, leaned=0.0)

    def turned_at(self, depth: float, degrees: float) -> "Flank":
        """At another angle, about its line at a depth."""
        return replace(
            self, tan=math.tan(math.radians(degrees)), hinge=depth, leaned=self.lean(depth)
        )

    def along(self) -> np.ndarray:
        """Direction of the edge in plan, outwards."""
        return np.array([math.cos(self.turned), math.sin(self.turned)])

    def inwards(self) -> np.ndarray:
        """Square to the edge in plan, into the dog."""
        return np.array([self.sign * math.sin(self.turned), -self.sign * math.cos(self.turned)])

    def inside(self, x, y, depth):
        """How far a point at a depth is inside, level with it."""
        to_x, to_y = self.inwards()
        return to_x * x + to_y * y + self.offset - self.lean(depth)

    def point(self, radius, depth):
        """Where the circle of a radius crosses it at a depth."""
        square = self.lean(depth) - self.offset
        out = np.sqrt(radius**2 - square**2)
        (to_x, to_y), (x, y) = self.inwards(), self.along()
        return square * to_x + out * x, square * to_y + out * y

    def angle(self, radius, depth):
        """The direction of that point."""
        x, y = self.point(radius, depth)
        return np.arctan2(y, x)

    def half_spaces(self, depths: np.ndarray) -> np.ndarray:
        """Its sections at depths, as far as any ring reaches."""
        far, along, inwards = 500.0, self.along(), self.inwards()
        square = (self.lean(depths) - self.offset)[:, None, None] * inwards
        corners = far * np.array([-along, along, along + inwards, inwards - along])
        return shapely.polygons(square + corners)


@cache
def plate(inner: float, outer: float) -> shapely.Polygon:
    """What lies between two circles on one side of the shaft, and nothing beyond them."""
    turn = np.linspace(-1.2, 1.2, 49)
    around = np.column_stack([np.cos(turn), np.sin(turn)])
    # Chords of the outer circle lie between the two; about the inner one it takes tangents.
    tangents = inner / math.cos((turn[1] - turn[0]) / 2) * around[::-1]
    return shapely.Polygon(np.vstack([outer * around, tangents]))


@dataclass(frozen=True)
class Dog:
    """One dog: two flanks between two depths."""

    place: int
    centre: float
    flanks: dict
    tip: float
    web: float
    edge_break: float

    def height(self) -> float:
        return self.web - self.tip

    def with_flank(self, side: str, flank: Flank) -> "Dog":
        return replace(self, flanks=self.flanks | {side: flank})

    def cut_down_to(self, height: float) -> "Dog":
        return replace(self, tip=max(self.tip, self.web - height))


@dataclass(frozen=True)
class Ring:
    inner: float
    outer: float
    parallel: bool
    dogs: tuple

    def mean(self) -> float:
        return (self.inner + self.outer) / 2

    def tallest(self) -> float:
        return max((dog.height() for dog in self.dogs), default=0.0)

    def dog(self, place: int) -> Dog | None:
        return next((dog for dog in self.dogs if dog.place == place), None)

    def moved_in(self, flank: Flank, stock: float) -> Flank:
        """A radial flank turns about the shaft, a parallel one moves square to itself."""
        if self.parallel:
            return replace(flank, offset=flank.offset - stock)
        return replace(flank, turned=flank.turned - flank.sign * stock / self.mean())

    def grid(self, dog: Dog, count: int = 5):
        """Radii and depths all over a flank, its corners among them."""
        radii = np.linspace(self.inner, self.outer, count)
        return radii[:, None], np.linspace(dog.tip, dog.web, count)[None, :]

    def clearance(self, dog: Dog, old: Flank, new: Flank) -> float:
        """The least that a new flank lies inside an old one anywhere on the dog."""
        radii, depths = self.grid(dog)
        return float(np.min(old.inside(*new.point(radii, depths), depths)))

    def recut(self, dog: Dog, side: str, degrees: float) -> Dog:
        """The flank turned about its tip edge, then moved in until all of it is inside the old one."""
        old = dog.flanks[side]
        leaning = old.turned_at(dog.tip, degrees)
        far = 1 + 2 * dog.web * (abs(old.tan) + abs(leaning.tan))

        def clearance(stock: float) -> float:
            return self.clearance(dog, old, self.moved_in(leaning, stock))

        return dog.with_flank(side, self.moved_in(leaning, brentq(clearance, -far, far, xtol=1e-13)))

    def thickness(self, dog: Dog, radius, depth):
        """Along a circle from flank to flank, mm."""
        coast, drive = (dog.flanks[side].angle(radius, depth) for side in ("coast", "drive"))
        return (coast - drive) * radius

    def sections(self, dog: Dog, depths: np.ndarray) -> np.ndarray:
        """Between the circles and inside both flanks, on the dog's side of the shaft."""
        drive, coast = (dog.flanks[side].half_spaces(depths) for side in ("drive", "coast"))
        return shapely.intersection(shapely.intersection(plate(self.inner, self.outer), drive), coast)

    def added(self, old: Dog, new: Dog) -> float:
        """The most of a section of the new dog that is not in the old one, mm²."""
        depths = np.linspace(new.tip, new.web, 5)
        out = shapely.difference(self.sections(new, depths), self.sections(old, depths))
        return float(np.max(shapely.area(out)))


def even_dogs(value: dict) -> list[dict]:
    heights = value["heights"]
    return [
        value
        | {
            "centre_deg": value["first_dog_deg"] + 360 / value["count"] * place,
            "height_mm": value["height_mm"] * heights[place % len(heights)],
        }
        for place in range(value["count"])
    ]


def found(given: dict) -> Ring:
    """A ring of the saved form before any work."""
    value = DEFAULTS | given
    inner, outer = value["inner_diameter_mm"] / 2, value["outer_diameter_mm"] / 2
    parallel = value["flanks"] == "parallel"

    def flank(dog: dict, sign: int, back_cut: str) -> Flank:
        half = math.radians(dog["tip_width_deg"]) / 2
        turned, offset = (0.0, (inner + outer) / 2 * math.sin(half)) if parallel else (sign * half, 0.0)
        return Flank(sign, turned, offset, math.tan(math.radians(dog[back_cut])))

    def dog_at(place: int, dog: dict) -> Dog:
        dog = DEFAULTS | dog
        flanks = {
            "drive": flank(dog, -1, "back_cut_drive_deg"),
            "coast": flank(dog, 1, "back_cut_coast_deg"),
        }
        broken = dog.get("edge_break_mm", 0.0)
        return Dog(place, math.radians(dog["centre_deg"]), flanks, 0.0, dog["height_mm"], broken)

    given_dogs = value["dogs"] if "dogs" in value else even_dogs(value)
    dogs = [dog_at(place + 1, dog) for place, dog in enumerate(given_dogs)]
    return Ring(inner, outer, parallel, tuple(dog for dog in dogs if dog.height() > 0))


def worked_dog(ring: Ring, dog: Dog, operation: dict) -> Dog | None:
    """A dog after an operation that is done to it."""
    what, _, side = operation["do"].partition("_")
    match what:
        case "remove":
            return None
        case "shorten":
            return dog.cut_down_to(operation["shorten_to_mm"])
        case "lap":
            return dog.cut_down_to(ring.tallest() - operation["lap_stock_mm"])
        case "narrow":
            flank = ring.moved_in(dog.flanks[side], operation["flank_stock_mm"])
            return dog.with_flank(side, flank)
        case "recut":
            return ring.recut(dog, side, operation["recut_to_deg"])
        case "break":
            return replace(dog, edge_break=max(dog.edge_break, operation["break_to_mm"]))
    raise ValueError(what)


def after(ring: Ring, operation: dict) -> Ring:
    """A ring after an operation; the tips are lapped all at once."""
    chosen = [dog.place for dog in ring.dogs] if operation["do"] == "lap" else operation["dogs"]
    dogs = [worked_dog(ring, d, operation) if d.place in chosen else d for d in ring.dogs]
    return replace(ring, dogs=tuple(dog for dog in dogs if dog))


def steps(given: dict) -> list[Ring]:
    """A ring as found and after each of its operations."""
    rings = [found(given)]
    for operation in given["plan"]:
        rings.append(after(rings[-1], operation))
    return rings


# ---- designs ----


def back_cut(rng: random.Random) -> float:
    return rng.choice([0.0, rng.uniform(-3, 10), rng.uniform(-3, 10)])


def edge_break(rng: random.Random) -> float:
    return rng.choice([0.0, rng.uniform(0.05, 0.3)])


def even_ring(rng: random.Random, count: int) -> dict:
    return {
        "count": count,
        "tip_width_deg": rng.uniform(0.22, 0.4) * 360 / count,
        "heights": rng.choice([[1], [1], [1, 0.5], [1, 0.62, 0.8], [1, 0]]),
        "height_mm": rng.uniform(3, 7),
        "back_cut_drive_deg": back_cut(rng),
        "back_cut_coast_deg": back_cut(rng),
        "edge_break_mm": edge_break(rng),
        "first_dog_deg": rng.uniform(0, 360),
    }


def measured_ring(rng: random.Random, count: int) -> dict:
    pitch, tall = 360 / count, rng.uniform(3.5, 6.5)
    dogs = [
        {
            "centre_deg": place * pitch + rng.uniform(-0.06, 0.06) * pitch,
            "tip_width_deg": rng.uniform(0.22, 0.4) * pitch,
            "height_mm": rng.choice([tall, tall, rng.uniform(0.3, 0.99) * tall]),
            "back_cut_drive_deg": back_cut(rng),
            "back_cut_coast_deg": back_cut(rng),
            "edge_break_mm": edge_break(rng),
        }
        for place in range(count)
    ]
    return {"dogs": dogs}


NUMBERS = {
    "remove": lambda rng: {},
    "shorten": lambda rng: {"shorten_to_mm": rng.uniform(0.6, 6)},
    "narrow_drive": lambda rng: {"flank_stock_mm": rng.uniform(0.05, 1.2)},
    "narrow_coast": lambda rng: {"flank_stock_mm": rng.uniform(0.05, 1.2)},
    "recut_drive": lambda rng: {"recut_to_deg": rng.uniform(-3, 10)},
    "recut_coast": lambda rng: {"recut_to_deg": rng.uniform(-3, 10)},
    "lap": lambda rng: {"lap_stock_mm": rng.uniform(0.02, 0.6)},
    "break": lambda rng: {"break_to_mm": rng.uniform(0.05, 0.35)},
}


def operation(rng: random.Random) -> dict:
    """Any kind of work on any dogs, also on some that are gone or never were."""
    what = rng.choice(list(NUMBERS))
    places = {n for n in range(1, 9) if rng.random() < (0.25 if what == "remove" else 0.55)}
    return {"do": what} | NUMBERS[what](rng) | {"dogs": sorted(places)}


def is_sound(ring: Ring) -> bool:
    """Whether something is left of every dog, and a tip face between its broken edges."""

    def least(dog: Dog) -> float:
        depths = np.array([0.0, dog.tip, dog.web])
        return float(np.min(ring.thickness(dog, ring.inner, depths))) - 2 * dog.edge_break

    def fits_bore(dog: Dog) -> bool:
        return all(flank.offset < 0.8 * ring.inner for flank in dog.flanks.values())

    dogs = ring.dogs
    return bool(dogs) and all(fits_bore(d) and least(d) > LEAST_MM and d.height() > 0.5 for d in dogs)


def ring_with_plan(rng: random.Random, count: int, sizes: dict) -> dict:
    """A ring and one to five operations that leave it sound."""
    given = {}
    while not given or not is_sound(found(given)):
        given = rng.choice([even_ring, measured_ring])(rng, count) | sizes
    ring, plan, wanted = found(given), [], rng.randint(1, 5)
    while len(plan) < wanted:
        one = operation(rng)
        now = after(ring, one)
        if is_sound(now):
            ring, plan = now, [*plan, one]
    return given | {"plan": plan}


@cache
def design(number: int) -> dict:
    """The same design for the same number, forever."""
    rng = random.Random(1000 + number)
    forms = [("radial", "radial"), ("parallel", "parallel"), ("radial", "radial"), ("radial", "parallel")]
    count = rng.choice([2, 3, 4, 5, 6, 7])
    a, b = (
        ring_with_plan(
            rng,
            rng.choice([count, count, count, 3]),
            {
                "inner_diameter_mm": rng.choice([40, 44, rng.uniform(36, 46)]),
                "outer_diameter_mm": rng.choice([58, 60, rng.uniform(54, 64)]),
                "flanks": form,
            },
        )
        for form in forms[number % 4]
    )
    if number % 5 == 0:
        b = a
    return {
        "a": a,
        "b": b,
        "overlap_mm": rng.uniform(1, 6),
        "phase_deg": rng.uniform(0, 360),
        "case_depth_mm": rng.choice([0.8, 3.0, rng.uniform(0.3, 4)]),
    }


@cache
def told(number: int) -> dict:
    return report(design(number))


@cache
def worked(number: int, side: str) -> list[Ring]:
    return steps(design(number)[side])


# ---- metal ----


def dog_metal(ring: Ring, dog: Dog) -> np.ndarray:
    """∫1, ∫x, ∫y and ∫r² over a dog, circle by circle and depth by depth."""
    radii, depths = ring.grid(dog, 41)
    start, end = (
        np.broadcast_to(dog.centre + dog.flanks[side].angle(radii, depths), (41, 41))
        for side in ("drive", "coast")
    )
    along = [
        radii * (end - start),
        radii**2 * (np.sin(end) - np.sin(start)),
        radii**2 * (np.cos(start) - np.cos(end)),
        radii**3 * (end - start),
    ]
    sections = simpson(np.array(along), x=radii[:, 0], axis=1)
    return simpson(sections, x=depths[0], axis=1)


def ring_metal(ring: Ring) -> np.ndarray:
    return sum((dog_metal(ring, dog) for dog in ring.dogs), np.zeros(4))


def unbalance(metal: np.ndarray) -> float:
    return math.hypot(metal[1], metal[2]) * DENSITY_G_PER_MM3


SIDES = pytest.mark.parametrize("side", ["a", "b"])
NUMBERED = pytest.mark.parametrize("number", DESIGNS)


@NUMBERED
@SIDES
def test_no_operation_adds_metal(number, side):
    """Section by section the dog after it lies inside the dog before it."""
    rings = worked(number, side)
    for before, now in zip(rings, rings[1:]):
        for dog in now.dogs:
            old = before.dog(dog.place)
            if dog is not old:
                assert old.tip <= dog.tip and old.web == dog.web
                assert now.added(old, dog) < NO_AREA


@NUMBERED
@SIDES
def test_a_flank_is_recut_no_deeper_than_it_must(number, side):
    """Cut a hundredth less deep, a section would stick out of the dog as it was."""
    rings = worked(number, side)
    for ring, one, now in zip(rings, design(number)[side]["plan"], rings[1:]):
        what, _, flank = one["do"].partition("_")
        recut = [d for d in now.dogs if d.place in one["dogs"]] if what == "recut" else []
        for dog in recut:
            shallower = dog.with_flank(flank, ring.moved_in(dog.flanks[flank], -0.01))
            assert ring.added(ring.dog(dog.place), shallower) > NO_AREA


@NUMBERED
@SIDES
def test_metal_that_stands(number, side):
    ring, metal = told(number)["rings"][side], ring_metal(worked(number, side)[-1])
    assert ring["volume_mm3"] == pytest.approx(metal[0], rel=1e-8)
    assert ring["mass_g"] == pytest.approx(metal[0] * DENSITY_G_PER_MM3, rel=1e-8)
    assert ring["inertia_kg_mm2"] == pytest.approx(metal[3] * DENSITY_G_PER_MM3 / 1000, rel=1e-8)
    assert ring["unbalance_g_mm"] == pytest.approx(unbalance(metal), rel=1e-7, abs=1e-6)


@NUMBERED
@SIDES
def test_dogs_that_stand(number, side):
    dogs = worked(number, side)[-1].dogs
    core = told(number)["rings"][side]["dogs"]
    assert [dog["place"] for dog in core] == [dog.place for dog in dogs]
    assert [dog["height_mm"] for dog in core] == pytest.approx([dog.height() for dog in dogs])


@NUMBERED
def test_broken_edges(number):
    """Chamfers of both rings together, where they are largest, are what it takes to hold."""
    largest = [max(dog.edge_break for dog in worked(number, side)[-1].dogs) for side in "ab"]
    assert told(number)["figures"]["edge_hold_depth_mm"] == pytest.approx(sum(largest), abs=1e-12)


@NUMBERED
@SIDES
def test_metal_that_came_off(number, side):
    rings = worked(number, side)
    off = ring_metal(rings[0]) - ring_metal(rings[-1])
    core = told(number)
    assert core["rings"][side]["cut_off_mm3"] == pytest.approx(off[0], rel=1e-6, abs=1e-6)
    # The figure is there only where anything is done.
    figure = core["figures"].get(f"{side}_unbalance_g_mm", 0.0)
    assert figure == pytest.approx(unbalance(off), rel=1e-6, abs=1e-6)


@NUMBERED
@SIDES
def test_each_operation(number, side):
    """What each takes off, and off which of the dogs that still stand."""
    rings = worked(number, side)
    volumes = [ring_metal(ring)[0] for ring in rings]
    rows = told(number)["rings"][side]["plan"]
    assert len(rows) == len(rings) - 1
    for at, (row, one) in enumerate(zip(rows, design(number)[side]["plan"])):
        standing = [dog.place for dog in rings[at].dogs]
        everywhere = one["do"] == "lap"
        assert row["dogs"] == [place for place in standing if everywhere or place in one["dogs"]]
        assert row["stock_mm3"] == pytest.approx(volumes[at] - volumes[at + 1], rel=1e-6, abs=1e-6)
        assert row["stock_mm3"] > -1e-9


# ---- case ----


def stock_mm(was: Flank, now: Flank, radius: float, depth: float) -> float:
    """How deep under the old flank the new one lies, along the circle, square to the old face."""
    apart = now.sign * (was.angle(radius, depth) - now.angle(radius, depth)) * radius
    if was.offset or now.offset:
        # Parallel flanks lie apart by the same all along them.
        apart = (was.offset - was.lean(depth)) - (now.offset - now.lean(depth))
    return apart * math.cos(math.atan(was.tan))


def stock_by_planes_mm(was: Flank, now: Flank, radius: float, depth: float) -> float:
    """The same as the distance of the new corner from the old plane."""
    x, y = now.point(radius, depth)
    return float(was.inside(x, y, depth)) / math.hypot(1, was.tan)


def most_stock_mm(before: Ring, now: Ring, measure) -> float:
    """The most off any flank that stands, over its four corners."""
    return max(
        measure(before.dog(dog.place).flanks[side], dog.flanks[side], radius, depth)
        for dog in now.dogs
        for side in ("drive", "coast")
        for radius in (now.inner, now.outer)
        for depth in (dog.tip, dog.web)
    )


@NUMBERED
@SIDES
def test_case_that_is_left(number, side):
    rings, case = worked(number, side), design(number)["case_depth_mm"]
    most = most_stock_mm(rings[0], rings[-1], stock_mm)
    # Along the circle or straight makes no difference to speak of.
    straight = most_stock_mm(rings[0], rings[-1], stock_by_planes_mm)
    assert most == pytest.approx(straight, rel=2e-3, abs=1e-9)
    left = told(number)["figures"].get(f"{side}_case_left_mm")
    if most > 1e-8:
        assert left == pytest.approx(max(0.0, case - most), abs=1e-8)
    else:
        assert left is None


def most_off_by(one: dict, before: Ring, now: Ring) -> float:
    """The most that is off the flank of an operation, on the dogs it is done to."""
    kind, _, flank = one["do"].partition("_")
    if kind not in ("narrow", "recut"):
        return 0.0
    stock = (
        stock_mm(before.dog(dog.place).flanks[flank], dog.flanks[flank], radius, depth)
        for dog in now.dogs
        if dog.place in one["dogs"]
        for radius in (now.inner, now.outer)
        for depth in (dog.tip, dog.web)
    )
    return max([0.0, *stock])


@NUMBERED
@SIDES
def test_case_after_each_operation(number, side):
    rings, case = worked(number, side), design(number)["case_depth_mm"]
    rows = told(number)["rings"][side]["plan"]
    for row, one, ring in zip(rows, design(number)[side]["plan"], rings[1:], strict=True):
        most = most_off_by(one, rings[0], ring)
        assert row["off_flank_mm"] == pytest.approx(most, abs=1e-8)
        if one["do"].startswith(("narrow", "recut")):
            assert row["case_left_mm"] == pytest.approx(max(0.0, case - most), abs=1e-8)
        else:
            assert row["case_left_mm"] is None


# ---- windows ----


class Strip:
    """Two rings rolled out at the radius where angles become lengths, as they stand."""

    def __init__(self, a: Ring, b: Ring):
        self.a, self.b = a, b
        inner, outer = max(a.inner, b.inner), min(a.outer, b.outer)
        self.mean = (inner + outer) / 2
        # Parallel dogs are widest, as angles, at the inner end.
        self.meeting = inner if a.parallel or b.parallel else self.mean
        self.turn = math.tau * self.mean

    def outline(self, dog: Dog, sense: int, level) -> np.ndarray:
        """Corners of a dog; `level` gives their place along the shaft from the height above the web."""

        def flank(side: str, depth: float) -> list[float]:
            flank = dog.flanks[side]
            upright = flank.upright().angle(self.meeting, depth) * self.mean
            across = self.mean * dog.centre + upright - flank.sign * flank.lean(depth)
            return [sense * across, level(dog.web - depth)]

        corners = ("drive", dog.tip), ("coast", dog.tip), ("coast", dog.web), ("drive", dog.web)
        return np.array([flank(side, depth) for side, depth in corners])

    def lower(self):
        """Ring B seen from the back, turns enough that A always lies over all of it."""
        dogs = [self.outline(dog, -1, lambda height: height) for dog in self.b.dogs]
        turns = [dog + [n * self.turn, 0] for dog in dogs for n in range(-3, 4)]
        lower = shapely.union_all(shapely.polygons(turns))
        shapely.prepare(lower)
        return lower

    def upper(self, overlap: float) -> np.ndarray:
        """Ring A upside down, its tallest tip `overlap` below the tallest of B."""
        web = self.b.tallest() - overlap + self.a.tallest()
        dogs = np.array([self.outline(dog, 1, lambda height: web - height) for dog in self.a.dogs])
        turns = np.floor(dogs[:, :, 0].mean(axis=1) / self.turn)
        dogs[:, :, 0] -= self.turn * (1 + turns[:, None])
        return dogs


class Slide:
    """Pushes A over B at one overlap and asks whether they share area."""

    def __init__(self, strip: Strip, overlap: float):
        self.strip, self.overlap = strip, overlap
        self.lower, self.upper = strip.lower(), strip.upper(overlap - RAISED_MM)

    def shift(self, phases_deg):
        return np.radians(np.mod(phases_deg, 360)) * self.strip.mean

    def are_open(self, phases_deg: np.ndarray) -> np.ndarray:
        shifts = np.zeros((len(phases_deg), 1, 1, 2))
        shifts[:, 0, 0, 0] = self.shift(phases_deg)
        moved = shapely.polygons(self.upper[None] + shifts)
        return ~shapely.intersects(self.lower, moved).any(axis=1)

    def is_open_all_the_way(self, phase_deg: float) -> bool:
        """Whether A goes straight in from tip level: what it sweeps over shares nothing with B."""
        dogs = zip(self.strip.upper(TIP_LEVEL), self.upper)
        sweep = [shapely.MultiPoint(np.vstack(both)).convex_hull for both in dogs]
        moved = translate(shapely.MultiPolygon(sweep), self.shift(phase_deg))
        return not self.lower.intersects(moved)

    def edges(self, before: np.ndarray) -> np.ndarray:
        """Where it changes between open and blocked in the step after each of these phases."""
        after = before + STEP_DEG
        was_open = self.are_open(before)
        while len(before) and np.max(after - before) > 1e-6:
            middle = (before + after) / 2
            same = self.are_open(middle) == was_open
            before, after = np.where(same, middle, before), np.where(same, after, middle)
        return (before + after) / 2

    def windows(self) -> list[tuple[float, float]]:
        """Every window as start and width in degrees; none may be missed but very narrow ones."""
        phases = np.arange(0, 360, STEP_DEG)
        states = self.are_open(phases)
        if states.all() or not states.any():
            return [(0.0, 360.0)] if states[0] else []
        opens, closes = ~states & np.roll(states, -1), states & ~np.roll(states, -1)
        starts, ends = self.edges(phases[opens]), self.edges(phases[closes])
        return [(start, float(np.min((ends - start) % 360))) for start in starts]


@cache
def depth(number: int) -> float:
    """How deep the rings are asked to go: the tips lose what the work took off the tallest."""
    rings = [worked(number, side) for side in "ab"]
    lost = sum(ring[0].tallest() - ring[-1].tallest() for ring in rings)
    return min(design(number)["overlap_mm"] - lost, *(ring[-1].tallest() for ring in rings))


@cache
def slide(number: int) -> Slide:
    return Slide(Strip(*(worked(number, side)[-1] for side in "ab")), depth(number))


@cache
def slid(number: int) -> list:
    return slide(number).windows()


@NUMBERED
def test_full_depth_windows(number):
    core, by_sliding = told(number)["full_depth_windows_deg"], slid(number)
    assert_all_among(core, by_sliding, "only the core has it")
    # The core leaves out what cannot be reached; a straight way down can.
    for start, width in by_sliding:
        inside = [start + width * share for share in (0.02, 0.5, 0.98)]
        if any(slide(number).is_open_all_the_way(phase) for phase in inside):
            assert_all_among([(start, width)], core, "the core lacks it")


@NUMBERED
def test_full_depth(number):
    core, deep = told(number), depth(number)
    if core["jam_overlap_mm"] is None and deep > 0:
        assert core["figures"]["full_depth_mm"] == pytest.approx(deep, abs=1e-9)
    else:
        assert core["figures"]["full_depth_mm"] is None


def away(phase: float, window) -> float:
    """How far a phase is outside a window, degrees."""
    start, width = window
    inside = (phase - start) % 360 <= width
    return 0.0 if inside else min(apart(phase, start), apart(phase, start + width))


@NUMBERED
def test_lash(number):
    """The width of the window that holds the phase, or else of the nearest that can be reached."""
    given, core = design(number), told(number)
    lash, windows = core["figures"]["lash_deg"], core["full_depth_windows_deg"]
    if depth(number) <= 0 or not windows:
        assert lash is None
        return
    held = min(windows, key=lambda window: away(given["phase_deg"], window))
    if held[1] > 1.01 * STEP_DEG:
        twin = min(slid(number), key=lambda window: apart(window[0], held[0]))
        assert lash == pytest.approx(twin[1], abs=1e-4)
    assert lash == pytest.approx(held[1], abs=1e-9)


# ---- worked by hand: windows ----

ALL = [1, 2, 3, 4, 5, 6]
MEAN, INNER, OUTER, HEIGHT = 26.0, 22.0, 30.0, 5.0
WIDTH = math.radians(24)


def narrow(side: str, stock: float) -> dict:
    return {"do": f"narrow_{side}", "flank_stock_mm": stock, "dogs": ALL}


def recut(side: str, degrees: float, dogs=ALL) -> dict:
    return {"do": f"recut_{side}", "recut_to_deg": degrees, "dogs": dogs}


def shorten(height: float) -> dict:
    return {"do": "shorten", "shorten_to_mm": height, "dogs": ALL}


def half_chord(stock: float = 0.0) -> float:
    """Of a parallel dog, less what came off that flank."""
    return MEAN * math.sin(WIDTH / 2) - stock


TAN3 = math.tan(math.radians(3))

# Plan of ring A, plan form of both, and by how many degrees the entry windows and the windows at
# 4.5 mm are wider than as found; six dogs of 24° with straight flanks.
BY_HAND = {
    "a radial flank turns": ([narrow("drive", 0.52)], "radial", math.degrees(0.02), 0.0),
    "both radial flanks turn": (
        [narrow("drive", 0.52), narrow("coast", 0.26)], "radial", math.degrees(0.03), 0.0,
    ),
    "a parallel flank moves": (
        [narrow("coast", 0.5)],
        "parallel",
        math.degrees(math.asin(half_chord() / INNER) - math.asin(half_chord(0.5) / INNER)),
        0.0,
    ),
    # Undercut: the tip edge stays; the other ring is straight, so that nothing is gained below.
    "undercut touches at the tip": ([recut("drive", 6)], "radial", 0.0, 0.0),
    # Tapered: the flank turns until its root clears at the bore, where 3° is most as an angle.
    "tapered touches at the root, at the bore": (
        [recut("drive", -3)],
        "radial",
        math.degrees(math.asin(HEIGHT * TAN3 / INNER)),
        -math.degrees(4.5 * TAN3 / MEAN),
    ),
    "tapered touches all along a parallel root": (
        [recut("drive", -3)],
        "parallel",
        math.degrees(
            math.asin(half_chord() / INNER) - math.asin(half_chord(HEIGHT * TAN3) / INNER)
        ),
        -math.degrees(4.5 * TAN3 / MEAN),
    ),
    # From undercut to straight: the old root edge leans in most at the bore.
    "undercut taken back to straight": (
        [recut("drive", 3), recut("drive", 0)],
        "radial",
        math.degrees(math.asin(HEIGHT * TAN3 / INNER)),
        0.0,
    ),
}


@pytest.mark.parametrize("name", BY_HAND)
def test_windows_by_hand(name):
    plan, form, entry, deeper = BY_HAND[name]
    as_found, as_cut = (
        report({"a": {"flanks": form, "plan": plan}, "b": {"flanks": form}, "overlap_mm": 4.5})
        for plan in ([], plan)
    )
    for key, wider in {"entry_windows_deg": entry, "full_depth_windows_deg": entry + deeper}.items():
        assert len(as_cut[key]) == 6
        for (_, was), (_, now) in zip(as_found[key], as_cut[key]):
            assert now - was == pytest.approx(wider, abs=1e-9)


# ---- worked by hand: what a strip off a flank amounts to ----


def test_a_strip_off_radial_flanks():
    """0.52 mm at 26 mm is a fiftieth of a radian: a sector, and as deep as that at the outer end."""
    core = report({"a": {"plan": [narrow("drive", 0.52)]}, "case_depth_mm": 1})
    off = 6 * 0.02 / 2 * (OUTER**2 - INNER**2) * HEIGHT
    assert core["rings"]["a"]["cut_off_mm3"] == pytest.approx(off, rel=1e-9)
    assert core["figures"]["a_case_left_mm"] == pytest.approx(1 - 0.02 * OUTER, abs=1e-9)
    assert core["figures"]["a_unbalance_g_mm"] == pytest.approx(0, abs=1e-9)


def test_a_strip_off_one_parallel_flank():
    """As long as the lines between the circles; nearly half a millimetre by eight by five."""
    plan = [narrow("coast", 0.5) | {"dogs": [2]}]
    core = report({"a": {"flanks": "parallel", "plan": plan}, "case_depth_mm": 1})

    def length(across: float) -> float:
        return math.sqrt(OUTER**2 - across**2) - math.sqrt(INNER**2 - across**2)

    def arm(across: float) -> float:
        return (OUTER**2 - INNER**2) / 2

    strip = half_chord(0.5), half_chord()
    area, along = quad(length, *strip)[0], quad(arm, *strip)[0]
    across = quad(lambda y: y * length(y), *strip)[0]
    assert core["rings"]["a"]["cut_off_mm3"] == pytest.approx(area * HEIGHT, rel=1e-9)
    moment = math.hypot(along, across) * HEIGHT * DENSITY_G_PER_MM3
    assert core["figures"]["a_unbalance_g_mm"] == pytest.approx(moment, rel=1e-9)
    assert core["figures"]["a_case_left_mm"] == pytest.approx(0.5, abs=1e-9)


def test_case_under_a_recut_flank():
    """5 mm of a straight flank cut to 6°: the stock at the root, square to the old flank."""
    root = HEIGHT * math.tan(math.radians(6))
    for form, level in {"radial": INNER * math.asin(root / INNER), "parallel": root}.items():
        plan = [recut("coast", 6, [3])]
        core = report({"a": {"flanks": form, "plan": plan}, "case_depth_mm": 2})
        left = 2 - level
        assert core["figures"]["a_case_left_mm"] == pytest.approx(left, abs=1e-9)
        gone = report({"a": {"flanks": form, "plan": plan}, "case_depth_mm": 0.3})
        assert gone["figures"]["a_case_left_mm"] == 0.0


def test_lapping_takes_the_tallest_there_are_by_then():
    """Cut from 5 to 3 mm, then lapped by 0.2: 2.8 mm all round, and 2.2 mm of the overlap lost."""
    plan = [shorten(3), {"do": "lap", "lap_stock_mm": 0.2}]
    core = report({"a": {"plan": plan}, "overlap_mm": 4.5})
    assert [dog["height_mm"] for dog in core["rings"]["a"]["dogs"]] == pytest.approx([2.8] * 6)
    assert core["figures"]["full_depth_mm"] == pytest.approx(2.3)


def test_work_on_dogs_that_are_gone():
    """Neither a dog that was removed nor a place that never was changes anything."""
    remove = {"do": "remove", "dogs": [2, 4, 6]}
    idle = [narrow("drive", 0.4) | {"dogs": [2, 9]}, recut("coast", 5, [4]), remove]
    figures = [report({"a": {"plan": plan}})["rings"]["a"] for plan in ([remove], [remove, *idle])]
    for key in ("dogs", "volume_mm3", "unbalance_g_mm"):
        assert figures[0][key] == figures[1][key]
    assert [row["stock_mm3"] for row in figures[1]["plan"][1:]] == [0, 0, 0]


# ---- worked by hand: dogs that are shortened and then re-cut ----

# Height left of 8 mm, flank angle as found, the angle of the re-cut.
SHORTENED_AND_RECUT = [(4, 0, 10), (4, 5, 10), (4, -5, 10), (2, -5, -5), (6, 5, 5), (4, 5, -3), (4, -3, -5)]


@pytest.mark.parametrize("left, was, now", SHORTENED_AND_RECUT)
def test_recutting_shortened_parallel_dogs_takes_only_what_it_cuts(left, was, now):
    """The tips stay as wide as they were, and so do the windows, unless the old root stands out
    further: then the windows gain what that is at the bore, where parallel dogs are widest."""

    def widths(plan: list) -> list[float]:
        ring = {"height_mm": 8, "flanks": "parallel"}
        leaning = {"back_cut_drive_deg": was, "back_cut_coast_deg": was}
        core = report({"a": ring | leaning | {"plan": plan}, "b": ring, "overlap_mm": 7})
        return [width for _, width in core["entry_windows_deg"]]

    before = widths([shorten(left)])
    after = widths([shorten(left), recut("drive", now), recut("coast", now)])
    root = max(0.0, left * (math.tan(math.radians(was)) - math.tan(math.radians(now))))
    turns = math.asin(half_chord() / INNER) - math.asin(half_chord(root) / INNER)
    assert after == pytest.approx([width + math.degrees(2 * turns) for width in before], abs=1e-9)


def test_recutting_shortened_dogs_brings_them_no_closer():
    """Gaps of 4° at the tips that are left, though the flanks would meet in the air, at the height of
    the tips as found."""
    plan = [shorten(1), recut("drive", 15), recut("coast", 15)]
    report({"a": {"tip_width_deg": 56, "plan": plan}, "b": {"tip_width_deg": 3}})


def test_tapered_dogs_have_a_tip_where_they_are_cut():
    """0.7 mm wide at the tip that is left, nothing wide where the tip was found."""
    cut_down = shorten(1) | {"dogs": [1]}
    plan = [cut_down, narrow("drive", 10.9) | {"dogs": [1]}]
    report({"a": {"back_cut_drive_deg": -5, "back_cut_coast_deg": -5, "plan": plan}})


def test_broken_edges_that_meet_on_a_shortened_dog_are_told():
    """Undercut dogs 4.6 mm wide at the bore as found, 1.8 mm where they are cut: two edges of 1.5 mm
    leave no tip face."""
    undercut = {"tip_width_deg": 12, "height_mm": 10, "back_cut_drive_deg": 10, "back_cut_coast_deg": 10}
    plan = [shorten(2), {"do": "break", "break_to_mm": 1.5, "dogs": ALL}]
    with pytest.raises(AssertionError, match="edge break"):
        report({"a": undercut | {"plan": plan}, "overlap_mm": 11})


# ---- worked by hand: strength ----

TORQUE, FACTOR, SHARE = 90.0, 1.25, 0.4
LENGTH = OUTER - INNER
LOAD = {"throttle_torque_nm": TORQUE, "load_factor": FACTOR, "overrun_share": SHARE, "overlap_mm": 4.5}


def force(carrying: float, share: float = 1.0) -> float:
    """On one dog, N."""
    return TORQUE * share * FACTOR * 1000 / (carrying * MEAN)


def pressure(force_n: float, engaged: float) -> float:
    return force_n / (LENGTH * engaged)


def combined(force_n: float, thick: float, area: float, arm: float) -> float:
    """Bending, and shear at its peak of 1.5 times the mean."""
    bending, shear = 6 * force_n * arm / (LENGTH * thick**2), 1.5 * force_n / area
    return math.sqrt(bending**2 + 3 * shear**2)


def sector(angle: float) -> float:
    return angle / 2 * (OUTER**2 - INNER**2)


def area_between(start, end) -> float:
    """Of a root whose flanks cross the circle of a radius at these angles."""
    return quad(lambda radius: radius * (end(radius) - start(radius)), INNER, OUTER)[0]


def assert_strength(given: dict, power: tuple, overrun: tuple):
    figures = report(LOAD | given)["figures"]
    told = [figures[key] for key in ("flank_pressure_mpa", "root_combined_mpa")]
    assert told == pytest.approx(power, rel=1e-9)
    told = [figures[key] for key in ("overrun_pressure_mpa", "overrun_combined_mpa")]
    assert told == pytest.approx(overrun, rel=1e-9)


def test_strength_of_narrowed_dogs():
    """All six of A lose 1 mm and are the weaker ring on either flank; three of six carry."""
    root = 24 * math.pi / 180 * MEAN - 1, sector(WIDTH - 1 / MEAN), HEIGHT - 4.5 / 2
    power, overrun = force(3), force(3, SHARE)
    assert_strength(
        {"a": {"plan": [narrow("drive", 1.0)]}},
        (pressure(power, 4.5), combined(power, *root)),
        (pressure(overrun, 4.5), combined(overrun, *root)),
    )


def test_strength_of_narrowed_parallel_dogs():
    """0.8 mm off the coast flanks; where all carry each has a sixth."""
    off = half_chord(0.8)
    thick = MEAN * (math.asin(off / MEAN) + math.asin(half_chord() / MEAN))
    area = area_between(lambda r: -math.asin(half_chord() / r), lambda r: math.asin(off / r))
    root = thick, area, HEIGHT - 4.5 / 2
    power, overrun = force(6), force(6, SHARE)
    assert_strength(
        {
            "a": {"flanks": "parallel", "plan": [narrow("coast", 0.8)]},
            "b": {"flanks": "parallel"},
            "carried_by": "all",
        },
        (pressure(power, 4.5), combined(power, *root)),
        (pressure(overrun, 4.5), combined(overrun, *root)),
    )


def test_strength_of_undercut_dogs():
    """Three dogs on three, A re-cut to 6° on the drive flank: the root of A loses 5·tan 6°."""
    lean = HEIGHT * math.tan(math.radians(6))
    thick = WIDTH * MEAN - lean
    area = area_between(lambda r: -WIDTH / 2 + math.asin(lean / r), lambda r: WIDTH / 2)
    root = thick, area, HEIGHT - 4.5 / 2
    power, overrun = force(3), force(3, SHARE)
    assert_strength(
        {"a": {"count": 3, "plan": [recut("drive", 6)]}, "b": {"count": 3}},
        (pressure(power, 4.5), combined(power, *root)),
        (pressure(overrun, 4.5), combined(overrun, *root)),
    )


def test_strength_with_one_flank_set_back():
    """Narrowed, the drive flank of one dog of six meets nothing: five meet, half of them carry. On
    the overrun all six meet, and that dog is the weakest."""
    whole = WIDTH * MEAN, sector(WIDTH), HEIGHT - 4.5 / 2
    weak = WIDTH * MEAN - 0.6, sector(WIDTH - 0.6 / MEAN), HEIGHT - 4.5 / 2
    power, overrun = force(2.5), force(3, SHARE)
    assert_strength(
        {"a": {"plan": [narrow("drive", 0.6) | {"dogs": [4]}]}},
        (pressure(power, 4.5), combined(power, *whole)),
        (pressure(overrun, 4.5), combined(overrun, *weak)),
    )


def test_strength_with_one_flank_tapered():
    """Re-cut to −3°, the drive flank stands back by more than it leans out at 4.5 mm: the same."""
    lean = HEIGHT * TAN3
    back = math.asin(lean / INNER)
    assert MEAN * back - 4.5 * TAN3 > 0.01
    whole = WIDTH * MEAN, sector(WIDTH), HEIGHT - 4.5 / 2
    thick = MEAN * (WIDTH - back) + lean
    area = area_between(lambda r: -WIDTH / 2 + back - math.asin(lean / r), lambda r: WIDTH / 2)
    power, overrun = force(2.5), force(3, SHARE)
    assert_strength(
        {"a": {"plan": [recut("drive", -3, [1])]}},
        (pressure(power, 4.5), combined(power, *whole)),
        (pressure(overrun, 4.5), combined(overrun, thick, area, HEIGHT - 4.5 / 2)),
    )


def test_strength_of_half_height_dogs():
    """Every second dog of A cut to 2.5 mm: in to 2 mm only, it presses hardest, and the dog of B
    that it meets at the tip has the longest arm."""
    plan = [{"do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4, 6]}]
    root = WIDTH * MEAN, sector(WIDTH), HEIGHT - 2.0 / 2
    power, overrun = force(3), force(3, SHARE)
    assert_strength(
        {"a": {"plan": plan}},
        (pressure(power, 2.0), combined(power, *root)),
        (pressure(overrun, 2.0), combined(overrun, *root)),
    )


def test_strength_of_lapped_and_broken_tips():
    """A lapped by 0.5 goes in 4 mm; edges of 0.4 and 0.2 leave 3.4 mm to carry, further down on A,
    so that the taller B has the longer arm."""
    plan = [{"do": "lap", "lap_stock_mm": 0.5}, {"do": "break", "break_to_mm": 0.4, "dogs": ALL}]
    root = WIDTH * MEAN, sector(WIDTH), HEIGHT - (0.2 + (4.0 - 0.4)) / 2
    power, overrun = force(3), force(3, SHARE)
    assert_strength(
        {"a": {"plan": plan}, "b": {"edge_break_mm": 0.2}},
        (pressure(power, 3.4), combined(power, *root)),
        (pressure(overrun, 3.4), combined(overrun, *root)),
    )


def test_strength_with_every_second_dog_removed():
    """Three of three carry as much each as three of six."""
    plan = [{"do": "remove", "dogs": [2, 4, 6]}, narrow("coast", 0.3)]
    root = WIDTH * MEAN - 0.3, sector(WIDTH - 0.3 / MEAN), HEIGHT - 4.5 / 2
    power, overrun = force(3), force(3, SHARE)
    assert_strength(
        {"a": {"plan": plan}, "b": {"plan": [plan[0]]}},
        (pressure(power, 4.5), combined(power, *root)),
        (pressure(overrun, 4.5), combined(overrun, *root)),
    )


# ---- the designs ----


def test_the_designs_are_of_all_kinds():
    reports = [told(number) for number in DESIGNS]
    deep = [len(r["full_depth_windows_deg"]) for r in reports]
    assert sum(n > 1 for n in deep) >= 25
    assert sum(r["jam_overlap_mm"] is not None for r in reports) >= 3
    rings = [design(number)[side] for number in DESIGNS for side in "ab"]
    assert sum("dogs" in ring for ring in rings) >= 30
    assert sum(ring["flanks"] == "parallel" for ring in rings) >= 30
    work = [one for ring in rings for one in ring["plan"]]
    assert all(sum(one["do"] == what for one in work) >= 15 for what in NUMBERS)
    left = [r["figures"].get(f"{side}_case_left_mm") for r in reports for side in "ab"]
    assert all(left.count(nothing) >= 3 for nothing in (None, 0.0))
    assert sum(value is not None and value > 0 for value in left) >= 30
    numbered = [(number, side) for number in DESIGNS for side in "ab"]
    on_none = [
        one
        for number, side in numbered
        for before, one in zip(worked(number, side), design(number)[side]["plan"])
        if set(one["dogs"]) - {dog.place for dog in before.dogs}
    ]
    assert len(on_none) >= 30
