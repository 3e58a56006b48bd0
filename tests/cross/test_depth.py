"""Dimension chains against Monte Carlo, and shims against trying every one."""

import numpy as np
import pytest

from conftest import report

SEEDS = range(40)
DRAWN = 200_000


def chains():
    for seed in SEEDS:
        rng = np.random.default_rng(seed)

        def chain():
            count = int(rng.integers(2, 8))
            links = [
                {
                    "size_mm": float(np.round(rng.uniform(1, 40), 2)),
                    "tolerance_mm": float(np.round(rng.uniform(0.005, 0.1), 3)),
                    "way": str(rng.choice(["opens", "takes"])),
                }
                for _ in range(count)
            ]
            return links

        yield pytest.param(
            {
                "this": chain(),
                "other": chain(),
                "throw_this_mm": rng.uniform(3, 8),
                "throw_other_mm": rng.uniform(3, 8),
                "fork_thickness_mm": 5.0,
                "groove_width_mm": 5.0 + rng.uniform(0, 0.6),
                "shim_step_mm": float(rng.choice([0.05, 0.1, 0.13])),
            },
            id=f"chain-{seed}",
        )


def signs(links):
    return np.array([1.0 if link["way"] == "opens" else -1.0 for link in links])


def sizes(links):
    return np.array([link["size_mm"] for link in links])


def tolerances(links):
    return np.array([link["tolerance_mm"] for link in links])


@pytest.mark.parametrize("depth", list(chains()))
def test_tolerances_are_those_of_assemblies_drawn_at_random(depth):
    figures = report({"depth": depth})["figures"]
    rng = np.random.default_rng(1)
    play = depth["groove_width_mm"] - depth["fork_thickness_mm"]
    for key in ("this", "other"):
        links = depth[key]
        way, t = signs(links), tolerances(links)
        nominal = (way * sizes(links)).sum()
        uniform = nominal + (rng.uniform(-1, 1, (DRAWN, len(t))) * t * way).sum(axis=1)
        clear = figures[f"clearance_{key}_mm"]
        assert clear == pytest.approx(nominal, abs=1e-9)
        assert clear == pytest.approx(uniform.mean(), abs=5 * uniform.std() / DRAWN**0.5)
        # No assembly is nearer to touching than the least says, and one at all limits is just there.
        least = figures[f"least_clearance_{key}_mm"]
        assert uniform.min() - play / 2 >= least - 1e-9
        assert nominal - t.sum() - play / 2 == pytest.approx(least, abs=1e-9)
        pushed = depth[f"throw_{key}_mm"] - nominal - play / 2
        assert figures[f"pushed_in_{key}_mm"] == pytest.approx(pushed, abs=1e-9)
        assert figures[f"drawn_in_{key}_mm"] == pytest.approx(pushed + play, abs=1e-9)


@pytest.mark.parametrize("depth", list(chains()))
def test_rss_is_three_sigma_of_normal_sizes(depth):
    """Sizes whose three standard deviations are their tolerance leave a gap whose three are the RSS."""
    links = depth["this"]
    t = tolerances(links)
    rng = np.random.default_rng(2)
    normal = (rng.normal(0, 1, (DRAWN, len(t))) * t / 3 * signs(links)).sum(axis=1)
    rss = chain_rss(depth)
    # The standard error of a standard deviation is σ/√(2n).
    assert 3 * normal.std() == pytest.approx(rss, rel=5 / (2 * DRAWN) ** 0.5)
    inside = (np.abs(normal) <= rss).mean()
    assert inside == pytest.approx(0.9973, abs=1e-3)


def chain_rss(depth):
    return report({"depth": depth})["depth"]["this"]["rss_mm"]


@pytest.mark.parametrize("depth", list(chains()))
def test_the_shim_is_the_best_of_all_that_do_not_overshoot(depth):
    figures = report({"depth": depth})["figures"]
    this, other = figures["clearance_this_mm"], figures["clearance_other_mm"]
    step = depth["shim_step_mm"]
    best, left = 0.0, abs(other - this)
    for way in (1, -1):
        for count in range(1, 2000):
            shim = way * count * step
            apart = (other - shim) - (this + shim)
            overshoots = apart * (other - this) < -1e-9
            if overshoots:
                break
            if abs(apart) < left - 1e-12:
                best, left = shim, abs(apart)
    assert figures["shim_mm"] == pytest.approx(best, abs=1e-9)
