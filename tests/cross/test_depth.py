"""Dimension chains against Monte Carlo, and shims against trying every one."""

import json

import numpy as np
import pytest
from conftest import report, run

SEEDS = range(60)
DRAWN = 200_000


def chain(rng):
    """Sizes with their tolerances and ways, which leave a gap of either sign."""
    links = [
        {
            "size_mm": float(np.round(rng.uniform(1, 40), 2)),
            "tolerance_mm": float(np.round(rng.uniform(0.0, 0.1), 3)),
            "way": str(rng.choice(["opens", "takes"])),
        }
        for _ in range(int(rng.integers(1, 9)))
    ]
    # The last one brings the gap to a few mm.
    gap = sum(sign(link) * link["size_mm"] for link in links)
    left = rng.uniform(-1, 4)
    way = "opens" if left > gap else "takes"
    return [*links, {"size_mm": abs(left - gap), "tolerance_mm": 0.02, "way": way}]


def sign(link):
    return 1.0 if link["way"] == "opens" else -1.0


def given(seed):
    rng = np.random.default_rng([seed, 10])
    return {
        "this": chain(rng),
        "other": chain(rng),
        "throw_this_mm": rng.uniform(3, 8),
        "throw_other_mm": rng.uniform(3, 8),
        "fork_thickness_mm": 5.0,
        "groove_width_mm": 5.0 + rng.uniform(0, 0.6),
        "shim_step_mm": float(rng.choice([0.02, 0.05, 0.1, 0.13])),
    }


DEPTHS = [given(seed) for seed in SEEDS]


def answers(depths):
    lines = "\n".join(json.dumps({"crenel": 1, "depth": depth}) for depth in depths)
    return [json.loads(line)["depth"] for line in run("selector", given=lines).splitlines()]


@pytest.fixture(scope="module")
def answered():
    return answers(DEPTHS)


def columns(links):
    """Sizes with their signs, and tolerances."""
    sizes = np.array([sign(link) * link["size_mm"] for link in links])
    return sizes, np.array([link["tolerance_mm"] for link in links])


def drawn(links, rng, normal=False):
    """Gaps of assemblies at random: sizes evenly within their tolerance, or normal with 3σ = t."""
    sizes, tolerances = columns(links)
    shape = (DRAWN, len(links))
    off = rng.normal(0, 1 / 3, shape) if normal else rng.uniform(-1, 1, shape)
    return (sizes + off * tolerances).sum(axis=1)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_assembly_is_off_by_more_than_the_worst_case(answered, seed):
    depth, said = DEPTHS[seed], answered[seed]
    rng = np.random.default_rng([seed, 1])
    for at, key in enumerate(("this", "other")):
        gaps = drawn(depth[key], rng)
        nominal, worst = said["clearance_mm"][at], said["worst_mm"][at]
        # The standard error of a mean is σ/√n.
        assert nominal == pytest.approx(gaps.mean(), abs=5 * gaps.std() / DRAWN**0.5)
        assert abs(gaps - nominal).max() <= worst + 1e-9
        # Every corner of the tolerances: the farthest of them is the worst case itself.
        sizes, tolerances = columns(depth[key])
        signs = 1 - 2 * ((np.arange(2 ** len(sizes))[:, None] >> np.arange(len(sizes))) & 1)
        corners = (sizes + signs * tolerances).sum(axis=1)
        assert abs(corners - nominal).max() == pytest.approx(worst, abs=1e-9)
        # Evenly drawn sizes scatter by t/√3 each: √3 of their standard deviation is the RSS.
        close = 5 / (2 * DRAWN) ** 0.5
        assert 3**0.5 * gaps.std() == pytest.approx(said["rss_mm"][at], rel=close)


@pytest.mark.parametrize("seed", SEEDS)
def test_three_standard_deviations_of_normal_sizes_are_the_rss(answered, seed):
    depth, said = DEPTHS[seed], answered[seed]
    rng = np.random.default_rng([seed, 2])
    for at, key in enumerate(("this", "other")):
        gaps = drawn(depth[key], rng, normal=True)
        rss = said["rss_mm"][at]
        # The standard error of a standard deviation is σ/√(2n); five of them.
        assert 3 * gaps.std() == pytest.approx(rss, rel=5 / (2 * DRAWN) ** 0.5)
        inside = (abs(gaps - said["clearance_mm"][at]) <= rss).mean()
        assert inside == pytest.approx(0.9973, abs=6e-4)
        assert rss <= said["worst_mm"][at] + 1e-12


@pytest.mark.parametrize("seed", SEEDS)
def test_clearance_and_overlap_are_those_of_a_fork_that_slides(answered, seed):
    """The gear in every place that the groove lets it have on its fork."""
    depth, said = DEPTHS[seed], answered[seed]
    groove, fork = depth["groove_width_mm"], depth["fork_thickness_mm"]
    # Middle of the groove from the middle of the fork, plus towards the pair.
    places = np.linspace(-1, 1, 2001)
    places = places[(places - groove / 2 <= -fork / 2) & (places + groove / 2 >= fork / 2)]
    for at, key in enumerate(("this", "other")):
        sizes, tolerances = columns(depth[key])
        tight = (sizes - tolerances).sum() - places
        assert said["least_mm"][at] == pytest.approx(tight.min(), abs=1.1e-3)
        overlaps = depth[f"throw_{key}_mm"] - sizes.sum() + places
        assert said["pushed_in_mm"][at] == pytest.approx(overlaps.min(), abs=1.1e-3)
        assert said["drawn_in_mm"][at] == pytest.approx(overlaps.max(), abs=1.1e-3)
        # Exactly, by the play.
        play = groove - fork
        assert said["drawn_in_mm"][at] - said["pushed_in_mm"][at] == pytest.approx(play, abs=1e-9)
        assert said["least_mm"][at] == pytest.approx(sizes.sum() - tolerances.sum() - play / 2)


def best_shim(this, other, step):
    """Of all shims that do not take the gear past the middle, the one that leaves it nearest to it."""
    best, left = 0.0, abs(other - this)
    for way in (1, -1):
        for count in range(1, 20_000):
            shim = way * count * step
            apart = (other - shim) - (this + shim)
            if apart * (other - this) < -1e-9:
                break
            if abs(apart) < left - 1e-12:
                best, left = shim, abs(apart)
    return best


@pytest.mark.parametrize("seed", SEEDS)
def test_the_shim_is_the_best_of_all_that_do_not_overshoot(answered, seed):
    depth, said = DEPTHS[seed], answered[seed]
    this, other = said["clearance_mm"]
    shim = said["shim_mm"]
    assert shim == pytest.approx(best_shim(this, other, depth["shim_step_mm"]), abs=1e-9)
    assert said["shimmed_mm"] == pytest.approx([this + shim, other - shim], abs=1e-9)


def test_a_shim_that_divides_evenly_loses_no_step():
    """Every count of steps from every step that can be had, either way, written in decimals."""
    depths, wanted = [], []
    for step in (0.01, 0.02, 0.05, 0.1, 0.13, 0.25):
        for count in range(-60, 61):
            # A gap that differs by twice the shim wanted.
            this, other = 10.0, round(10.0 + 2 * count * step, 6)
            if other >= 0:
                links = [[{"size_mm": mm, "tolerance_mm": 0, "way": "opens"}] for mm in (this, other)]
                depths.append({"this": links[0], "other": links[1], "shim_step_mm": step})
                wanted.append(count * step)
    shims = [said["shim_mm"] for said in answers(depths)]
    assert len(shims) > 600
    assert shims == pytest.approx(wanted, abs=1e-9)


def test_the_published_example():
    links = [(4.020, 0.005, "opens"), (2.000, 0.005, "takes"), (1.500, 0.003, "takes")]
    links += [(0.500, 0.002, "takes")]
    links = [{"size_mm": s, "tolerance_mm": t, "way": way} for s, t, way in links]
    said = answers([{"this": links, "other": links}])[0]
    assert said["clearance_mm"] == pytest.approx([0.020] * 2, abs=1e-12)
    assert said["worst_mm"] == pytest.approx([0.015] * 2, abs=1e-12)
    assert said["rss_mm"] == pytest.approx([0.00794] * 2, abs=5e-6)


@pytest.mark.parametrize("seed", range(10))
def test_the_report_has_the_same_numbers(answered, seed):
    said, answer = answered[seed], report({"depth": DEPTHS[seed]})
    figures = answer["figures"]
    assert figures["shim_mm"] == said["shim_mm"]
    for at, word in enumerate(("this", "other")):
        for key in ("clearance_mm", "worst_mm", "rss_mm"):
            assert answer["depth"][word][key] == said[key][at]
        for figure, key in (
            (f"clearance_{word}_mm", "clearance_mm"),
            (f"least_clearance_{word}_mm", "least_mm"),
            (f"pushed_in_{word}_mm", "pushed_in_mm"),
            (f"drawn_in_{word}_mm", "drawn_in_mm"),
        ):
            assert figures[figure] == said[key][at]
