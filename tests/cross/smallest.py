"""Cuts tried at random, to see whether the search finds lighter ones. It shares no code with the search.

A cut gives each dog a height, a stock off either flank and an edge break, all in whole steps of a shop. A
first half of the tries is drawn blindly; each later batch also varies the lightest cut found so far, which a
plain random search would not do. Windows are intervals on a circle, thousands of cuts at a time; metal is the
volume between two circles and two leaning planes. Only radial flanks are drawn.
"""

import json
import math
import random
import subprocess
from dataclasses import dataclass, field

import numpy as np
from conftest import DEFAULTS, run

DENSITY = 7.85e-3
LEAST_THICKNESS = 1.0
LEAST_HEIGHT = 0.1
RPM = 300.0

TRIES = 20_000
BATCH = 2_000


# ---- a pair, and what is asked of it ----


def back_cut(rng: random.Random) -> float:
    return rng.choice([0.0, 0.0, rng.uniform(0.5, 6), rng.uniform(-2, -0.3)])


def ring(rng: random.Random, count: int) -> dict:
    pitch, tall = 360 / count, rng.uniform(4, 6.5)
    width = rng.uniform(0.25, 0.42) * pitch
    undercut = {"back_cut_drive_deg": back_cut(rng), "back_cut_coast_deg": back_cut(rng)}
    edge = rng.choice([0.0, 0.0, 0.1, 0.2])
    if rng.random() < 0.5:
        even = {"count": count, "tip_width_deg": width, "height_mm": tall, "edge_break_mm": edge}
        return even | undercut | {"first_dog_deg": rng.uniform(0, 360)}
    low = rng.choice([0.0, 0.03, 0.3, 2.5])
    dogs = [
        {
            "centre_deg": place * pitch + rng.uniform(-0.03, 0.03) * pitch,
            "tip_width_deg": width * rng.uniform(0.92, 1.0),
            "height_mm": tall - low * rng.random(),
            "edge_break_mm": edge,
        }
        | undercut
        for place in range(count)
    ]
    return {"dogs": dogs}


def pair(number: int) -> dict:
    """The same pair for the same number, forever."""
    rng = random.Random(f"smallest {number}")
    count = rng.choice([2, 3, 4, 5, 6, 6, 7, 8])
    # Counts that have nothing in common leave no window at all unless dogs are narrow.
    other = count if rng.random() < 0.7 else rng.choice([2, 3, count, max(2, count // 2)])
    a, b = ring(rng, count), ring(rng, other)
    a["inner_diameter_mm"], b["inner_diameter_mm"] = rng.choice([(44, 44), (40, 44), (44, 40)])
    a["outer_diameter_mm"], b["outer_diameter_mm"] = rng.choice([(60, 60), (58, 62), (60, 57)])
    return {
        "a": a,
        "b": b,
        "overlap_mm": 3.4,
        "hold_depth_mm": rng.choice([0.6, 1.0, 1.5]),
        "slip_rpm": RPM,
        "phase_deg": rng.uniform(0, 360),
        "case_depth_mm": 0.8,
    }


@dataclass
class Wish:
    goal: str
    wanted: float
    holds: bool
    step: float
    most_lash: float | None = None
    most_metal: float | None = None

    def design(self, given: dict) -> dict:
        key = {"window": "wished_window_ms", "lash": "wished_lash_deg"}[self.goal]
        return given | {key: self.wanted}

    def options(self) -> list[str]:
        options = ["--step", str(self.step)]
        options += [] if self.holds else ["--nominal"]
        for key, value in (("--lash", self.most_lash), ("--metal", self.most_metal)):
            options += [] if value is None else [key, repr(value)]
        return options


# ---- the rings as numbers ----


@dataclass
class Ring:
    inner: float
    outer: float
    centre: np.ndarray
    half: np.ndarray
    height: np.ndarray
    tan: np.ndarray  # drive and coast
    edge: np.ndarray
    mean: float = field(init=False)

    def __post_init__(self):
        self.mean = (self.inner + self.outer) / 2

    @classmethod
    def of(cls, given: dict) -> "Ring":
        value = DEFAULTS | {"edge_break_mm": 0.0} | given
        if "dogs" in value:
            dogs = [value | dog for dog in value["dogs"]]
        else:
            step = 360 / value["count"]
            dogs = [
                value | {"centre_deg": value["first_dog_deg"] + step * place}
                for place in range(value["count"])
            ]
        column = lambda key: np.array([float(dog[key]) for dog in dogs])
        return cls(
            value["inner_diameter_mm"] / 2,
            value["outer_diameter_mm"] / 2,
            np.radians(column("centre_deg")),
            np.radians(column("tip_width_deg")) / 2,
            column("height_mm"),
            np.tan(np.radians([column("back_cut_drive_deg"), column("back_cut_coast_deg")])).T,
            column("edge_break_mm"),
        )

    def spare(self) -> np.ndarray:
        """What both flanks of each dog can lose."""
        tip = 2 * self.half * self.mean
        root = tip - self.height * self.tan.sum(axis=1)
        return np.minimum(tip, root) - LEAST_THICKNESS

    def volume(self, lower, stock, edge):
        """Metal above the web, mm³, with the edge breaks off; `lower` is infinite where a dog is gone."""
        lower = np.minimum(lower, self.height)
        area = (self.outer**2 - self.inner**2) / 2
        sector = area * (2 * self.half - stock.sum(axis=-1) / self.mean) * (self.height - lower)
        # A plane that leans by c cuts r·asin(c/r) off each circle: c + c³/6r², and so on.
        near, far = lower[..., None], self.height[:, None]
        powers = lambda n: (far**n - near**n) / n
        lean = self.tan * powers(2) * (self.outer - self.inner)
        lean = lean + self.tan**3 * powers(4) / 6 * (1 / self.inner - 1 / self.outer)
        gone = lower >= self.height
        chamfers = np.where(gone, 0.0, edge**2 * (self.outer - self.inner))
        return sector - lean.sum(axis=-1) - chamfers


@dataclass
class Cuts:
    """Many cuts: for each ring the height that comes off each dog, the stock of its flanks, its edge break."""

    lower: list
    stock: list
    edge: list

    def __getitem__(self, which) -> "Cuts":
        return Cuts(*([part[which] for part in parts] for parts in (self.lower, self.stock, self.edge)))


def tolerance(size):
    """ISO 2768-1 m; none below 0.5 mm."""
    steps = np.select([size < 0.5, size <= 6, size <= 30, size <= 120], [np.inf, 0.1, 0.2, 0.3], 0.5)
    return steps


class Rig:
    """A pair as it is, and what cuts make of it."""

    def __init__(self, given: dict):
        self.given = given
        self.rings = [Ring.of(given["a"]), Ring.of(given["b"])]
        a, b = self.rings
        self.mean = (max(a.inner, b.inner) + min(a.outer, b.outer)) / 2
        self.hold = given["hold_depth_mm"]
        self.phase = math.radians(given["phase_deg"])
        self.found = sum(ring.volume(np.zeros_like(ring.height), np.zeros_like(ring.tan), ring.edge).sum()
                         for ring in self.rings)

    def none(self, many: int) -> Cuts:
        return Cuts(
            [np.zeros((many, len(r.height))) for r in self.rings],
            [np.zeros((many, len(r.height), 2)) for r in self.rings],
            [np.tile(r.edge, (many, 1)) for r in self.rings],
        )

    def metal_g(self, cuts: Cuts) -> np.ndarray:
        left = sum(
            ring.volume(cuts.lower[at], cuts.stock[at], cuts.edge[at]).sum(axis=-1)
            for at, ring in enumerate(self.rings)
        )
        return (self.found - left) * DENSITY

    def parts(self, cuts: Cuts):
        """For each ring: how low each tip is below the tallest, its height, its half widths, its edge."""
        for ring, lower, stock, edge in zip(self.rings, cuts.lower, cuts.stock, cuts.edge, strict=True):
            gone = lower >= ring.height
            height = np.where(gone, -np.inf, ring.height - lower)
            tall = height.max(axis=-1, keepdims=True)
            tip = np.where(gone, 0.0, lower)[..., None]
            half = ring.half[:, None] - stock / ring.mean - tip * ring.tan / self.mean
            yield tall - height, tall[..., 0], half, edge

    def blocks(self, cuts: Cuts):
        """Where each pair of dogs starts to block, and its arc at the tips."""
        (low_a, tall_a, half_a, edge_a), (low_b, tall_b, half_b, edge_b) = self.parts(cuts)
        starts = low_a[:, :, None] + low_b[:, None, :]
        half = half_a[:, :, None] + half_b[:, None, :]
        edge = (edge_a[:, :, None] + edge_b[:, None, :]) / self.mean
        at = -(self.rings[0].centre[:, None] + self.rings[1].centre[None, :])
        return starts, np.broadcast_to(at, starts.shape), half, edge, tall_a, tall_b

    def widest_ms(self, cuts: Cuts) -> np.ndarray:
        """How long the widest window is open that leads down to the holding depth."""
        starts, at, half, edge, *_ = self.blocks(cuts)
        many = len(starts)
        flat = lambda x: x.reshape(many, -1)
        blocks = flat(starts) < self.hold - 1e-9
        first = flat(at - half[..., 1] + edge)
        width = flat(half.sum(axis=-1) - 2 * edge)
        blocks &= width > 0
        begin = np.where(blocks, first % math.tau, np.inf)
        order = np.argsort(begin, axis=1)
        begin = np.take_along_axis(begin, order, axis=1)
        end = begin + np.take_along_axis(np.where(blocks, width, 0.0), order, axis=1)
        end = np.where(np.isfinite(begin), end, -np.inf)
        past = (end.max(axis=1) - math.tau)[:, None]
        reach = np.maximum.accumulate(np.hstack([past, end]), axis=1)
        last = np.where(np.isfinite(begin).any(axis=1), begin[:, 0] + math.tau, math.tau)
        gaps = np.hstack([np.where(np.isfinite(begin), begin - reach[:, :-1], 0.0)[:, 1:],
                          (last - reach[:, -1])[:, None]])
        # The first gap lies before the first arc and is that after the last one.
        widest = np.where(blocks.any(axis=1), gaps.max(axis=1), math.tau)
        return widest / (RPM * math.tau / 60) * 1000

    def lash_deg(self, cuts: Cuts) -> np.ndarray:
        """The window about the phase at full depth; nothing where the phase is blocked."""
        starts, at, half, _, tall_a, tall_b = self.blocks(cuts)
        lost = sum(r.height.max() for r in self.rings) - tall_a - tall_b
        depth = np.minimum.reduce([self.given["overlap_mm"] - lost, tall_a, tall_b])[:, None, None]
        tan = np.minimum(self.rings[0].tan[:, None, :], self.rings[1].tan[None, :, :])
        half = half - np.where(np.isfinite(starts), depth - starts, 0.0)[..., None] * tan / self.mean
        blocks = (starts < depth - 1e-9) & (half.sum(axis=-1) > 0)
        ahead = (at - self.phase) % math.tau
        right = np.where(blocks, ahead - half[..., 1], math.tau).min(axis=(1, 2))
        left = np.where(blocks, ahead + half[..., 0] - math.tau, -math.tau).max(axis=(1, 2))
        open_ = (left <= 0) & (right >= 0) & (depth[:, 0, 0] > 0)
        return np.where(open_, np.degrees(np.minimum(right - left, math.tau)), -1.0)

    def reaches(self, goal: str, cuts: Cuts) -> np.ndarray:
        return self.widest_ms(cuts) if goal == "window" else self.lash_deg(cuts)

    def at_worst(self, cuts: Cuts) -> Cuts:
        """Every size that is cut off by its tolerance to the bad side; heights that the standard says nothing
        about are never good."""
        worst = self.none(len(cuts.lower[0]))
        for at, ring in enumerate(self.rings):
            lower, stock, edge = cuts.lower[at], cuts.stock[at], cuts.edge[at]
            gone = lower >= ring.height
            spare = np.where(lower > 0, tolerance(ring.height - np.where(gone, 0, lower)), 0.0)
            worst.lower[at] = np.where(gone, np.inf, np.maximum(lower - np.minimum(spare, lower), 0.0))
            tip = np.where(gone, 0.0, lower) * ring.tan.sum(axis=1)
            thick = 2 * ring.half * ring.mean - stock.sum(axis=-1) - tip
            off = np.minimum(tolerance(np.maximum(thick, 0))[..., None], stock)
            worst.stock[at] = np.where(stock > 0, stock - off, 0.0)
            by_hand = np.where(edge >= 0.5, 0.2, 0.1)
            worst.edge[at] = np.where(edge > ring.edge, np.maximum(edge - by_hand, ring.edge), edge)
        return worst

    def is_allowed(self, cuts: Cuts) -> np.ndarray:
        """What the search says that it keeps: a tallest dog of each ring, 1 mm of each dog, half of each tip, edge
        breaks within the holding depth."""
        fine = np.ones(len(cuts.lower[0]), bool)
        most = []
        for at, ring in enumerate(self.rings):
            gone = cuts.lower[at] >= ring.height
            height = np.where(gone, 0.0, ring.height - cuts.lower[at])
            keeps = (cuts.lower[at] == 0) & (height >= height.max(axis=1, keepdims=True) - 1e-9)
            fine &= keeps.any(axis=1)
            total = cuts.stock[at].sum(axis=-1)
            fine &= (gone | (total <= np.maximum(ring.spare(), 0) + 1e-9)).all(axis=1)
            left = ring.height - cuts.lower[at]
            fine &= (gone | (left >= LEAST_HEIGHT - 1e-9)).all(axis=1)
            quarter = 0.25 * 2 * ring.half * ring.mean
            eased = cuts.edge[at] > ring.edge
            fine &= (~eased | (cuts.edge[at] <= quarter + 1e-9)).all(axis=1)
            most.append((eased.any(axis=1), np.where(gone, 0, cuts.edge[at]).max(axis=1)))
        (cut_a, a), (cut_b, b) = most
        return fine & (~(cut_a | cut_b) | (a + b <= self.hold + 1e-9))

    def meets(self, wish: Wish, cuts: Cuts) -> np.ndarray:
        fine = self.is_allowed(cuts) & (self.reaches(wish.goal, cuts) >= wish.wanted)
        if wish.holds:
            worst = self.at_worst(cuts)
            fine &= self.reaches(wish.goal, worst) >= wish.wanted
            # A dog that is cut below 0.5 mm has no tolerance to hold over.
            for at, ring in enumerate(self.rings):
                left = ring.height - cuts.lower[at]
                fine &= ~((cuts.lower[at] > 0) & (left > 0) & (left < 0.5)).any(axis=1)
        if wish.most_lash is not None:
            lash = self.lash_deg(cuts)
            fine &= (lash <= wish.most_lash) & (lash > 0)
        if wish.most_metal is not None:
            fine &= self.metal_g(cuts) <= wish.most_metal
        return fine


# ---- cuts at random ----


class Tries:
    def __init__(self, rig: Rig, wish: Wish, seed: int):
        self.rig, self.wish = rig, wish
        self.rng = np.random.default_rng(seed)

    def some(self, shape, share):
        return self.rng.random(shape) < share

    def blind(self, many: int) -> Cuts:
        rig, rng = self.rig, self.rng
        cuts = rig.none(many)
        kinds = self.some((many, 3), 0.5)  # heights, flanks, edges
        common = rng.uniform(0.9, 1.4, many) * rig.hold
        for at, ring in enumerate(rig.rings):
            count = len(ring.height)
            on = self.some(many, 0.75)[:, None]
            chosen = self.some((many, count), rng.random((many, 1))) & on
            alike = self.some((many, 1), 0.6)
            by = np.where(alike, common[:, None], rng.uniform(0, 1, (many, count)) * ring.height)
            by = np.where(self.some((many, count), 0.05), np.inf, by)
            cuts.lower[at] = np.where(chosen & kinds[:, :1], by, 0.0)
            flanks = self.some((many, count, 2), rng.random((many, 1, 2))) & on[..., None]
            scale = rng.random((many, 1, 1)) ** 2 * np.maximum(ring.spare(), 0)[:, None]
            alike = self.some((many, 1, 1), 0.6)
            stock = np.where(alike, scale, scale * rng.random((many, count, 2)))
            cuts.stock[at] = np.where(flanks & kinds[:, 1:2, None], stock, 0.0)
            eased = self.some((many, count), rng.choice([0.5, 1.0], (many, 1))) & on
            edge = rng.random((many, 1)) * rig.hold
            cuts.edge[at] = np.where(eased & kinds[:, 2:], np.maximum(edge, ring.edge), ring.edge)
        return cuts

    def near(self, best: Cuts, many: int) -> Cuts:
        """Cuts like the best, with some sizes smaller, gone or anew."""
        rng, blind = self.rng, self.blind(many)
        result = self.rig.none(many)
        share = rng.random(many) ** 2
        for at, ring in enumerate(self.rig.rings):
            for name, least in (("lower", 0.0), ("stock", 0.0), ("edge", ring.edge)):
                old = getattr(best, name)[at]
                old = np.broadcast_to(old, (many, *old.shape))
                lead = share.reshape(many, *[1] * (old.ndim - 1))
                smaller = np.where(np.isfinite(old), least + (old - least) * rng.uniform(0.5, 1.1, old.shape), old)
                gone = np.broadcast_to(least, old.shape)
                change = self.some(old.shape, lead * 0.6)
                what = rng.random(old.shape)
                new = np.where(what < 0.5, smaller, np.where(what < 0.85, gone, getattr(blind, name)[at]))
                getattr(result, name)[at] = np.where(change, new, old)
        return result

    def rounded(self, cuts: Cuts) -> Cuts:
        """In whole steps of the shop."""
        step = self.wish.step
        for at, ring in enumerate(self.rig.rings):
            height = np.floor((ring.height - cuts.lower[at]) / step + 1e-6) * step
            lower = np.where(np.isfinite(cuts.lower[at]), ring.height - height, np.inf)
            cuts.lower[at] = np.where(cuts.lower[at] > 0, np.where(height <= 0, np.inf, lower), 0.0)
            cuts.stock[at] = np.ceil(cuts.stock[at] / step - 1e-6) * step
            edge = np.maximum(np.ceil(cuts.edge[at] / step - 1e-6) * step, 0.05)
            cuts.edge[at] = np.where(cuts.edge[at] > ring.edge, edge, ring.edge)
        return cuts

    def lightest(self, tries: int) -> list[tuple[float, Cuts]]:
        """The lightest cuts that meet the wish, the lightest first."""
        kept: list[tuple[float, Cuts]] = []
        for batch in range(tries // BATCH):
            half = BATCH if not kept or batch < 2 else BATCH // 4
            cuts = self.rounded(self.blind(half))
            self.keep(kept, cuts)
            if kept and half < BATCH:
                self.keep(kept, self.rounded(self.near(kept[0][1], BATCH - half)))
        return kept

    def keep(self, kept: list, cuts: Cuts):
        metal = self.rig.metal_g(cuts)
        good = np.flatnonzero(self.rig.meets(self.wish, cuts) & (metal > 1e-9))
        good = good[np.argsort(metal[good])][:6]
        kept += [(float(metal[at]), cuts[at]) for at in good]
        kept.sort(key=lambda one: one[0])
        del kept[12:]


# ---- the core ----


def plan(rig: Rig, cuts: Cuts) -> dict:
    """The design with one cut in its plans."""
    given = {key: value for key, value in rig.given.items()}
    for at, side in enumerate("ab"):
        ring, operations = rig.rings[at], []
        for dog, height in enumerate(ring.height):
            lower, stock, edge = cuts.lower[at][dog], cuts.stock[at][dog], cuts.edge[at][dog]
            number = {"dogs": [dog + 1]}
            if lower >= height:
                operations.append({"do": "remove"} | number)
                continue
            if lower > 0:
                operations.append({"do": "shorten", "shorten_to_mm": round(height - lower, 6)} | number)
            for flank, mm in zip(("drive", "coast"), stock, strict=True):
                if mm > 0:
                    operations.append({"do": f"narrow_{flank}", "flank_stock_mm": round(mm, 6)} | number)
            if edge > ring.edge[dog]:
                operations.append({"do": "break", "break_to_mm": round(edge, 6)} | number)
        given[side] = given[side] | {"plan": operations}
    return given


FIGURES = {"window": "window_time_ms", "lash": "lash_deg"}


def figures(design: dict) -> dict | None:
    """What the core reports of a design; `None` if it cannot work the pair out."""
    try:
        return json.loads(run("report", "-", given=json.dumps({"crenel": 1} | design)))["figures"]
    except (AssertionError, subprocess.CalledProcessError):
        return None


def offers(given: dict, wish: Wish) -> list[dict]:
    design = {"crenel": 1} | wish.design(given)
    return json.loads(run("suggest", "-", wish.goal, *wish.options(), given=json.dumps(design)))["offers"]
