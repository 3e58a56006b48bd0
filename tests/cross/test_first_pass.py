"""First-pass shares, counted over phases that are marched through time one by one.

The core reports shares as widths of spans with exact ends. Here each of many evenly spread phases
is marched as in `test_shift` until something throws the ring back, and what they come to is counted.
"""

import math
import random
from collections import Counter
from functools import cache

import numpy as np
import pytest
from conftest import report
from test_shift import Shift, given

# Phases for each pair, and how far a count of them may be off the share.
PHASES = 120
OFF = 0.06

# All together they are closer, because what one count has too much another has too little.
MEAN_OFF = 0.006

# Both kinds of rings, all ways of moving and both signs of the speed difference.
DESIGNS = range(1000, 1030)

FIGURES = {
    "Straight in": "first_pass_straight_share",
    "In after rubbing": "first_pass_rubbed_share",
    "thrown back": "first_pass_struck_share",
    "Hangs tip on tip": "first_pass_locked_share",
    "Stops halfway in": "first_pass_half_in_share",
    "Not in at the end": "first_pass_ratcheting_share",
}


class FirstPass(Shift):
    """A shift that is given up where it is thrown back."""

    def wall(self, at, blocks, ending=None):
        leg, state, end = super().wall(at, blocks, ending)
        return (None, state, "thrown back") if self.strikes else (leg, state, end)

    def run(self) -> str:
        ending, _ = super().run()
        return "thrown back" if self.strikes else ending


@cache
def counted(number: int) -> dict[str, float]:
    """Shares of the phases that come to each."""
    offset = random.Random(number).random()
    phases = 360 * (np.arange(PHASES) + offset) / PHASES
    ends = Counter(FirstPass(given(number) | {"phase_deg": float(p)}).run() for p in phases)
    return {what: ends[what] / PHASES for what in FIGURES}


@cache
def told(number: int) -> dict[str, float] | None:
    """The shares in the core's report; none where the rings jam."""
    figures = report(given(number))["figures"]
    if FIGURES["Straight in"] not in figures:
        return None
    return {what: figures[key] for what, key in FIGURES.items()}


SHIFTED = [number for number in DESIGNS if told(number)]


@pytest.mark.parametrize("number", SHIFTED)
def test_shares_are_counts_of_many_phases(number):
    shares, counts = told(number), counted(number)
    assert math.isclose(sum(shares.values()), 1, abs_tol=1e-9)
    assert shares == pytest.approx(counts, abs=OFF)


def test_what_is_counted_too_often_here_is_counted_too_seldom_there():
    for what in FIGURES:
        off = [told(number)[what] - counted(number)[what] for number in SHIFTED]
        assert abs(sum(off)) / len(off) < MEAN_OFF, what


def test_all_kinds_are_among_them():
    assert len(SHIFTED) >= 20
    for what in FIGURES:
        assert sum(told(number)[what] > 0.02 for number in SHIFTED) >= 2, what
