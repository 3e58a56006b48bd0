"""Open windows, found by sliding outlines over each other.

Both rings are rolled out flat where they meet: lengths along the circumference by lengths along the
shaft. Ring A stands over ring B as deep as asked, is pushed along phase by phase, and a phase is
open where no two outlines share area. Nothing of the core's rule for blocked arcs is used.
"""

import math
import random

import numpy as np
import pytest
import shapely
from conftest import Ring, report
from shapely.affinity import translate
from shapely.geometry import MultiPolygon, Polygon

# Shared area below this is rounding, mm².
NO_AREA = 1e-12

# Phases are looked at this far apart; narrower windows and lands are not asked about.
STEP_DEG = 0.5

# Just past tip level with tip, mm.
TIP_LEVEL = 1e-6

# Dogs that come level with each other before this count for the entry, mm.
HOLD_MM = 1.0


# ---- designs ----


def back_cut(rng: random.Random, kind: str) -> float:
    return {
        "straight": 0.0,
        "undercut": rng.uniform(0.5, 8),
        "tapered": rng.uniform(-3, -0.2),
        "mixed": rng.uniform(-2, 6),
    }[kind]


def even_ring(rng: random.Random, kind: str) -> dict:
    count = rng.choice([2, 3, 4, 5, 6, 7])
    return {
        "count": count,
        "tip_width_deg": rng.uniform(0.25, 0.42) * 360 / count,
        "heights": rng.choice([[1], [1], [1, 0.5], [1, 0.62, 0.8], [1, 0]]),
        "height_mm": rng.uniform(3, 7),
        "back_cut_drive_deg": back_cut(rng, kind),
        "back_cut_coast_deg": back_cut(rng, kind),
        "first_dog_deg": rng.uniform(0, 360),
    }


def measured_ring(rng: random.Random, kind: str) -> dict:
    count = rng.choice([2, 3, 4, 5, 6])
    pitch = 360 / count
    tall = rng.uniform(3.5, 6.5)
    dogs = [
        {
            "centre_deg": place * pitch + rng.uniform(-0.06, 0.06) * pitch,
            "tip_width_deg": rng.uniform(0.22, 0.45) * pitch,
            "height_mm": rng.choice([tall, tall, rng.uniform(0.3, 0.99) * tall]),
            "back_cut_drive_deg": back_cut(rng, kind),
            "back_cut_coast_deg": back_cut(rng, kind),
        }
        for place in range(count)
    ]
    return {"dogs": dogs}


def cuts(rng: random.Random) -> dict:
    """Nothing, or some dogs but the first removed or shortened."""
    if rng.random() < 0.6:
        return {}
    cut = {str(place): rng.choice(["remove", rng.uniform(1, 3)]) for place in range(2, 9)}
    return {"cuts": {place: how for place, how in cut.items() if rng.random() < 0.4}}


def design(number: int) -> dict:
    """The same design for the same number, forever."""
    rng = random.Random(number)
    kind = ["straight", "undercut", "tapered", "mixed"][number % 4]
    layout = rng.choice([even_ring, measured_ring])
    a, b = (layout(rng, kind) | cuts(rng) for _ in "ab")
    for ring in (a, b):
        ring["inner_diameter_mm"] = rng.choice([40, 44, rng.uniform(36, 46)])
        ring["outer_diameter_mm"] = rng.choice([58, 60, rng.uniform(54, 64)])
    if number % 5 == 4:
        rng.choice([a, b])["flanks"] = "parallel"
    if number % 7 == 0:
        b = dict(a)
    return {"a": a, "b": b, "overlap_mm": rng.uniform(1, 6)}


DESIGNS = range(60)


# ---- the rings rolled out ----


class Strip:
    """Two rings rolled out at the radius where angles become lengths."""

    def __init__(self, design: dict):
        self.a, self.b = Ring(design.get("a", {})), Ring(design.get("b", {}))
        inner, outer = max(self.a.inner, self.b.inner), min(self.a.outer, self.b.outer)
        self.mean = (inner + outer) / 2
        # Parallel dogs are widest, as angles, at the inner end.
        self.meeting = inner if self.a.parallel or self.b.parallel else self.mean
        self.turn = math.tau * self.mean

    def outline(self, ring: Ring, dog, seen_from_back: bool, level) -> Polygon:
        """A dog as it stands; `level` gives its place along the shaft from its height above the web."""
        sense = -1 if seen_from_back else 1
        half = self.mean * ring.half_width_at(dog, self.meeting)
        middle = sense * self.mean * dog.centre
        # The flank planes go on from the tip as found down to the web.
        tip, web = dog.cut_down, dog.cut_down + dog.height
        corners = [
            (middle - sense * (half - tip * dog.tan_drive), level(dog.height)),
            (middle + sense * (half - tip * dog.tan_coast), level(dog.height)),
            (middle + sense * (half - web * dog.tan_coast), level(0)),
            (middle - sense * (half - web * dog.tan_drive), level(0)),
        ]
        outline = Polygon(corners)
        assert outline.is_valid
        return outline

    def tip(self, ring: Ring, dog, seen_from_back: bool) -> tuple[float, float]:
        """Where the tip of a dog begins and ends along the strip."""
        (x, _), (y, _) = list(self.outline(ring, dog, seen_from_back, lambda z: z).exterior.coords)[:2]
        return min(x, y), max(x, y)

    def lower(self) -> MultiPolygon:
        """Ring B, three turns of it, so that A always lies over all of it."""
        dogs = [self.outline(self.b, dog, True, lambda z: z) for dog in self.b.dogs]
        turns = [translate(dog, n * self.turn) for dog in dogs for n in range(-2, 3)]
        return shapely.union_all(turns)

    def upper(self, overlap: float) -> MultiPolygon:
        """Ring A upside down, its tallest tip `overlap` below the tallest of B."""
        web = self.b.tallest - overlap + self.a.tallest
        dogs = [self.outline(self.a, dog, False, lambda z: web - z) for dog in self.a.dogs]
        # Each dog once, within the turns that B is laid out over.
        near = [translate(d, -self.turn * math.floor(d.centroid.x / self.turn)) for d in dogs]
        return MultiPolygon(near)


class Slide:
    """Pushes A over B at one overlap and asks whether they share area."""

    def __init__(self, strip: Strip, overlap: float):
        self.strip, self.upper, self.lower = strip, strip.upper(overlap), strip.lower()
        shapely.prepare(self.lower)

    def is_open(self, phase_deg: float) -> bool:
        moved = translate(self.upper, math.radians(phase_deg % 360) * self.strip.mean - self.strip.turn)
        if not self.lower.intersects(moved):
            return True
        return self.lower.intersection(moved).area < NO_AREA

    def edge(self, before: float, after: float) -> float:
        """Where it changes between open and blocked, to a millionth of a degree."""
        was_open = self.is_open(before)
        while after - before > 1e-6:
            middle = (before + after) / 2
            if self.is_open(middle) == was_open:
                before = middle
            else:
                after = middle
        return (before + after) / 2

    def windows(self) -> list[tuple[float, float]]:
        """Every window as start and width in degrees; none may be missed but very narrow ones."""
        phases = np.arange(0, 360, STEP_DEG)
        states = [self.is_open(phase) for phase in phases]
        if all(states) or not any(states):
            return [(0.0, 360.0)] if states[0] else []
        starts, ends = [], []
        for at, state in enumerate(states):
            after = states[(at + 1) % len(states)]
            if state != after:
                edge = self.edge(phases[at], phases[at] + STEP_DEG)
                (starts if after else ends).append(edge)
        first = next((n for n, end in enumerate(ends) if end > starts[0]), 0)
        ends = ends[first:] + ends[:first]
        return [(start, (end - start) % 360) for start, end in zip(starts, ends, strict=True)]


class Tips(Slide):
    """The tips of two dogs in each other's way, for all that come level before the holding depth."""

    def __init__(self, strip: Strip, hold: float):
        self.strip = strip
        a = [(strip.a.tallest - dog.height, strip.tip(strip.a, dog, False)) for dog in strip.a.dogs]
        b = [(strip.b.tallest - dog.height, strip.tip(strip.b, dog, True)) for dog in strip.b.dogs]
        met = [(i + j, one, other) for i, one in a for j, other in b if i + j < hold]
        self.pairs = [(one, other) for _, one, other in met]
        self.all_level = all(low < TIP_LEVEL / 2 for low, _, _ in met)

    def is_open(self, phase_deg: float) -> bool:
        shift = math.radians(phase_deg) * self.strip.mean
        for (start, end), (from_, to) in self.pairs:
            ahead = (start + shift - from_) % self.strip.turn
            if ahead < to - from_ or ahead > self.strip.turn - (end - start):
                return False
        return True


def apart(a: float, b: float) -> float:
    return abs((a - b + 180) % 360 - 180)


def assert_all_among(these, those, what: str):
    """Each of these windows, unless too narrow for the steps, is one of those."""
    for start, width in these:
        if width < 1.01 * STEP_DEG:
            continue
        twins = [
            w for w in those
            if width == w[1] == 360 or apart(start, w[0]) < 1e-4 and abs(width - w[1]) < 1e-4
        ]
        assert len(twins) == 1, f"{what}: {start}° + {width}° is not among {those}"


# ---- the tests ----


def full_depth(strip: Strip, asked: float) -> float:
    return min(asked, strip.a.tallest, strip.b.tallest)


@pytest.mark.parametrize("number", DESIGNS)
def test_entry_windows(number):
    given = design(number) | {"hold_depth_mm": HOLD_MM}
    strip = Strip(given)
    tips = Tips(strip, HOLD_MM)
    found = tips.windows()
    told = report(given)["entry_windows_deg"]
    assert_all_among(told, found, "only the core has it")
    assert_all_among(found, told, "the core lacks it")
    if tips.all_level:
        whole = Slide(strip, TIP_LEVEL).windows()
        assert_all_among(told, whole, "only the core has it")
        assert_all_among(whole, told, "the core lacks it")


@pytest.mark.parametrize("number", DESIGNS)
def test_full_depth_windows(number):
    given = design(number)
    strip = Strip(given)
    lost = strip.a.lowered + strip.b.lowered
    depth = full_depth(strip, given["overlap_mm"] - lost)
    found = Slide(strip, depth).windows()
    told = report(given)["full_depth_windows_deg"]
    assert_all_among(told, found, "only the core has it")
    # The core leaves out what cannot be reached; a straight way down can.
    steps = [Slide(strip, depth * n / 40) for n in range(1, 40)]
    for start, width in found:
        inside = [(start + width * share) % 360 for share in (0.02, 0.5, 0.98)]
        if any(all(slide.is_open(phase) for slide in steps) for phase in inside):
            assert_all_among([(start, width)], told, "the core lacks it")


def test_the_designs_are_of_all_kinds():
    reports = [report(design(number)) for number in DESIGNS]
    entry = [len(r["entry_windows_deg"]) for r in reports]
    deep = [len(r["full_depth_windows_deg"]) for r in reports]
    assert sum(n > 0 for n in entry) >= 40
    assert sum(a != b and b > 0 for a, b in zip(entry, deep)) >= 5
    assert sum(r["jam_overlap_mm"] is not None for r in reports) >= 3
    rings = [design(n)[side] for n in DESIGNS for side in "ab"]
    assert sum("dogs" in ring for ring in rings) >= 20
    assert sum(ring.get("flanks") == "parallel" for ring in rings) >= 8
    assert sum(bool(ring.get("cuts")) for ring in rings) >= 15
