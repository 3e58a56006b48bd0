"""Forks on the drum against root finding, linear programmes and brute force.

The core solves crossings in closed form. Here a track is interpolated by numpy and its crossings are looked for by
scipy; two gears at once are a linear programme over angle and every play, and a walk over angles and corners; the
room of a fork is the least over the corners.
"""

import itertools
import json

import numpy as np
import pytest
from conftest import run
from scipy.optimize import brentq, linprog

TRACKS = range(300)
DRUMS = range(60)
TURN = 360.0


def answers(drums):
    given = "\n".join(json.dumps(drum) for drum in drums)
    return [json.loads(line) for line in run("drum", given=given).splitlines()]


# ---- drums ----


def track(rng):
    """Dwells and ramps over a turn, in tenths of a degree and hundredths of a mm."""
    angles = np.sort(rng.choice(np.arange(1, 3600), size=int(rng.integers(3, 13)), replace=False)) / 10
    travels = np.round(rng.uniform(-6, 6, size=len(angles)), 2)
    dwell = rng.random(len(angles)) < 0.4
    for at in range(1, len(angles)):
        if dwell[at]:
            travels[at] = travels[at - 1]
    return [[float(a), float(p)] for a, p in zip(angles, travels, strict=True)]


def drum(seed, forks=2, gears=3):
    rng = np.random.default_rng([seed, 13])
    play = lambda most: float(np.round(rng.uniform(0, most), 3))  # noqa: E731
    return {
        "forks": [
            {
                "track": track(rng),
                "offset": float(np.round(rng.uniform(-0.4, 0.4), 3)),
                "groove_play": play(0.6),
                "pin_play": play(0.3),
                "turned": bool(rng.random() < 0.5),
            }
            for _ in range(forks)
        ],
        "shafts": [play(0.5), play(0.5)],
        "gears": [
            {
                "fork": int(rng.integers(forks)),
                "shaft": int(rng.integers(2)),
                "face": str(rng.choice(["lower", "higher"])),
                "clearance": float(np.round(rng.uniform(0.2, 3), 3)),
                "tolerance": play(0.2),
                "hold": float(np.round(rng.uniform(0.5, 1.5), 3)),
                "home": float(np.round(rng.uniform(2, 5), 3)),
            }
            for _ in range(gears)
        ],
        "positions": [[at, gear] for gear, at in enumerate(np.sort(rng.choice(360, gears, False)).tolist())],
        "float": play(0.3),
        "slack": play(4.0),
        "stand": play(3.0),
    }


DRAWN = [drum(seed) for seed in DRUMS]


@pytest.fixture(scope="module")
def answered():
    return answers(DRAWN)


# ---- what a drum means, worked out here ----


def travel(given, fork, angle):
    angles, travels = np.transpose(given["forks"][fork]["track"])
    return np.interp(angle, angles, travels)


def sign(gear):
    return 1.0 if gear["face"] == "higher" else -1.0


def plays(given):
    """Every play by its name, as half its range."""
    halves = {("drum",): given["float"] / 2}
    for at, fork in enumerate(given["forks"]):
        halves[("groove", at)] = fork["groove_play"] / 2
        halves[("pin", at)] = fork["pin_play"] / 2
    halves |= {("shaft", at): float_ / 2 for at, float_ in enumerate(given["shafts"])}
    halves |= {("size", at): gear["tolerance"] for at, gear in enumerate(given["gears"])}
    return halves


def moves(given, at):
    """By how much each play, moved by 1, deepens a gear. Shafts and drum move along the axis, and a fork that is
    turned round has its higher side against it."""
    gear = given["gears"][at]
    fork = given["forks"][gear["fork"]]
    axis = sign(gear) * (-1.0 if fork["turned"] else 1.0)
    return {
        ("drum",): axis,
        ("groove", gear["fork"]): sign(gear),
        ("pin", gear["fork"]): sign(gear),
        ("shaft", gear["shaft"]): -axis,
        ("size", at): 1.0,
    }


def nominal(given, at, angle):
    gear = given["gears"][at]
    offset = given["forks"][gear["fork"]]["offset"]
    return sign(gear) * (travel(given, gear["fork"], angle) + offset) - gear["clearance"]


def most(given, at):
    halves = plays(given)
    return sum(abs(by) * halves[play] for play, by in moves(given, at).items())


def breaks(given, at):
    angles = [a for a, _ in given["forks"][given["gears"][at]["fork"]]["track"]]
    return np.array([0.0, *angles, TURN])


def crossings(value, angles, level):
    """Angles where a function crosses a level, looked for between each two of `angles`."""
    return [
        brentq(lambda a: value(a) - level, low, high, xtol=1e-12, rtol=1e-14)
        for low, high in itertools.pairwise(angles)
        if (value(low) - level) * (value(high) - level) < 0
    ]


def inside(spans, angle):
    return any(low <= angle <= high for low, high in spans)


# ---- crossings ----


def test_crossings_on_300_random_tracks_are_where_root_finding_finds_them():
    drums = [drum(seed, forks=1, gears=2) for seed in TRACKS]
    found = 0
    for given, answer in zip(drums, answers(drums), strict=True):
        for at, gear in enumerate(given["gears"]):
            for play, by in enumerate([0.0, most(given, at), -most(given, at)]):
                value = lambda a, at=at, by=by: nominal(given, at, a) + by  # noqa: E731
                for spans, level in [(answer["touches"], 0.0), (answer["holds"], gear["hold"])]:
                    roots = crossings(value, breaks(given, at), level)
                    got = [end for span in spans[at][play] for end in span if 0 < end < TURN]
                    # Where a dwell lies on the level, a span ends at a corner and not at a crossing.
                    corners = [a for a in breaks(given, at) if abs(value(a) - level) < 1e-9]
                    got = [end for end in got if not any(abs(end - a) < 1e-9 for a in corners)]
                    np.testing.assert_allclose(got, roots, atol=1e-9)
                    found += len(roots)
                    for angle in np.arange(0.05, TURN, 7.3):
                        if abs(value(angle) - level) > 1e-9:
                            assert inside(spans[at][play], angle) == (value(angle) > level)
    assert found > 3000, found


def test_changes_are_read_off_the_same_crossings(answered):
    told = 0
    for given, answer in zip(DRAWN, answered, strict=True):
        for change in answer["changes"]["nominal"]:
            old, new = change["gears"]
            at_old, at_new = (given["positions"][gear][0] for gear in (old, new))
            for name, gear, start, step, level in [
                ("lets_go", old, at_old, 1, 0.0),
                ("meets", new, at_new, -1, 0.0),
                ("unloads", old, at_old, 1, given["gears"][old]["hold"]),
                ("holds", new, at_new, -1, given["gears"][new]["hold"]),
            ]:
                if nominal(given, gear, start) <= level:
                    assert change[name] is None
                    continue
                roots = crossings(lambda a, g=gear: nominal(given, g, a), breaks(given, gear), level)
                ahead = [root for root in roots if (root - start) * step > 0]
                want = min(ahead, key=lambda root: abs(root - start), default=TURN if step > 0 else 0.0)
                assert change[name] == pytest.approx(want, abs=1e-9)
                told += 1
            if change["lets_go"] is not None and change["meets"] is not None:
                assert change["free_of_touch"] == pytest.approx(change["meets"] - change["lets_go"])
    assert told > 100, told


# ---- two gears at once ----


def pieces(given, at):
    """Straight pieces of the overlap: from, to, value at from, slope."""
    angles = breaks(given, at)
    values = nominal(given, at, angles)
    return [
        (low, high, a, (b - a) / (high - low))
        for (low, a), (high, b) in itertools.pairwise(zip(angles, values, strict=True))
    ]


def common_pieces(given, one, other):
    angles = np.unique(np.concatenate([breaks(given, one), breaks(given, other)]))
    for low, high in itertools.pairwise(angles):
        a, b = (nominal(given, at, np.array([low, high])) for at in (one, other))
        yield low, high, a, b


def highest(given, one, other, less):
    """The greatest depth that both gears, the first less so much, can have at one angle: a linear programme."""
    halves, names = plays(given), list(plays(given))
    rows = [moves(given, at) for at in (one, other)]
    best = -np.inf
    for low, high, a, b in common_pieces(given, one, other):
        # Unknowns: depth, share of the piece, each play.
        limits, right = [], []
        for values, row, off in [(a, rows[0], less), (b, rows[1], 0.0)]:
            limits.append([1.0, -(values[1] - values[0]), *(-row.get(name, 0.0) for name in names)])
            right.append(values[0] - off)
        bounds = [(None, None), (0, 1), *((-halves[name], halves[name]) for name in names)]
        done = linprog([-1.0, *[0.0] * (len(names) + 1)], A_ub=limits, b_ub=right, bounds=bounds)
        assert done.status == 0, done.message
        best = max(best, -done.fun)
    return best


def least_apart(given, one, other, less):
    """The least angle between one gear touching and the other, with the same play: linear programmes."""
    halves, names = plays(given), list(plays(given))
    rows = [moves(given, at) for at in (one, other)]
    best = None
    for first, second in itertools.product(pieces(given, one), pieces(given, other)):
        # Unknowns: distance, both angles, each play.
        limits, right = [[-1, 1, -1, *[0.0] * len(names)], [-1, -1, 1, *[0.0] * len(names)]], [0.0, 0.0]
        for column, (low, _, value, slope), row, off in [(1, first, rows[0], less), (2, second, rows[1], 0.0)]:
            line = [0.0, 0.0, 0.0, *(-row.get(name, 0.0) for name in names)]
            line[column] = -slope
            limits.append(line)
            right.append(value - slope * low - off)
        bounds = [(0, None), first[:2], second[:2], *((-halves[name], halves[name]) for name in names)]
        done = linprog([1.0, *[0.0] * (len(names) + 2)], A_ub=limits, b_ub=right, bounds=bounds)
        if done.status == 0:
            best = done.fun if best is None else min(best, done.fun)
    return best


def corner_depths(given, one, other, angles, less=0.0):
    """The greatest least depth of both gears at each angle over the corners of all play."""
    halves = plays(given)
    names = [name for name in halves if any(name in moves(given, at) for at in (one, other))]
    a, b = nominal(given, one, angles) - less, nominal(given, other, angles)
    best = np.full(len(angles), -np.inf)
    for ends in itertools.product([-1, 1], repeat=len(names)):
        by = [
            sum(moves(given, at).get(name, 0.0) * end * halves[name] for name, end in zip(names, ends, strict=True))
            for at in (one, other)
        ]
        best = np.maximum(best, np.minimum(a + by[0], b + by[1]))
    return best


def pairs(answered, key):
    for given, answer in zip(DRAWN, answered, strict=True):
        for pair in answer["pairs"]:
            one, other = pair["gears"]
            if key == "together" and one < other:
                yield given, one, other, 0.0, pair["together"]
            elif key == "held" and pair["held"]:
                yield given, one, other, pair["held"]["held"], pair["held"]["together"]


@pytest.mark.parametrize("key", ["together", "held"])
def test_the_margin_in_mm_is_that_of_a_linear_programme(answered, key):
    both = 0
    for given, one, other, less, told in pairs(answered, key):
        assert -told["margin_mm"] == pytest.approx(highest(given, one, other, less), abs=1e-7)
        both += bool(told["spans"])
    assert both > 20, both


@pytest.mark.parametrize("key", ["together", "held"])
def test_no_corner_of_play_at_any_angle_is_worse_than_told(answered, key):
    angles = np.arange(0.0, TURN + 0.01, 0.25)
    caught = 0
    for given, one, other, less, told in pairs(answered, key):
        depths = corner_depths(given, one, other, angles, less)
        assert depths.max() <= -told["margin_mm"] + 1e-9
        for angle in angles[depths > 1e-9]:
            assert inside(told["spans"], angle), (angle, told)
            caught += 1
    assert caught > 200, caught


@pytest.mark.parametrize("key", ["together", "held"])
def test_the_margin_in_degrees_is_that_of_linear_programmes(answered, key):
    apart = 0
    for given, one, other, less, told in itertools.islice(pairs(answered, key), 40):
        if told["spans"]:
            assert told["margin_deg"] == pytest.approx(-max(b - a for a, b in told["spans"]))
            continue
        want = least_apart(given, one, other, less)
        if want is None:
            assert told["margin_deg"] is None
        else:
            assert told["margin_deg"] == pytest.approx(want, abs=1e-6)
            apart += 1
    assert apart > 3, apart


def test_a_margin_of_one_degree_that_play_eats_is_caught():
    base = drum(1)
    base["forks"] = [
        {"track": [[4, 5], [26, 0]], "groove_play": 0.0},
        {"track": [[21.72, 0], [43.72, 5]], "groove_play": 0.0},
    ]
    base["gears"] = [{"fork": at, "shaft": at, "clearance": 0.6, "home": 4.4} for at in (0, 1)]
    base |= {"positions": [[0, 0], [60, 1]], "float": 0, "shafts": [0, 0]}
    eaten = json.loads(json.dumps(base))
    for fork in eaten["forks"]:
        fork["groove_play"] = 0.3
    tight, over = ([pair["together"] for pair in answer["pairs"]][0] for answer in answers([base, eaten]))
    assert tight["margin_deg"] == pytest.approx(1.0) and not tight["spans"]
    # 0.15 mm for each of both, at 4.4 degrees for each mm, less the degree.
    assert over["margin_deg"] == pytest.approx(-(2 * 0.15 * 4.4 - 1.0))


# ---- the fork in gear ----


def test_the_room_of_a_fork_is_the_least_over_the_corners(answered):
    burnt = 0
    for given, answer in zip(DRAWN, answered, strict=True):
        for at, gear in enumerate(given["gears"]):
            room = answer["rooms"][at]
            halves, row = plays(given), moves(given, at)
            groove = halves[("groove", gear["fork"])]
            names = [name for name in row if name[0] != "groove"]
            position, slack = given["positions"][at][0], given["slack"] / 2
            rocked = [a for a in breaks(given, at) if abs(a - position) <= slack]
            rooms = []
            for angle in [position - slack, position + slack, *rocked]:
                for ends in itertools.product([-1, 1], repeat=len(names)):
                    by = sum(row[name] * end * halves[name] for name, end in zip(names, ends, strict=True))
                    # How much deeper the dogs are than where the pads alone would have them.
                    ahead = gear["home"] - (nominal(given, at, angle) + by)
                    rooms.append([groove - ahead, groove + ahead])
            np.testing.assert_allclose(room["worst"], np.min(rooms, axis=0), atol=1e-9)
            burnt += min(room["worst"]) < 0
    assert burnt > 20, burnt
