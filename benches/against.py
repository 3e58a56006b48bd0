"""The same work by other libraries and by the core, in one run on one machine, as ratios.

    target/venv/bin/python benches/against.py

The windows of a pair by shapely and single shifts by scipy are worked out as the tests of
tests/cross do it, so what is measured is known to come to the same numbers. They know the rings
alone and nothing of the core's closed forms, so they have to search: outlines are slid over each
other, equations of motion are integrated. The outcome map is that of benches/outcomes.py in numpy,
with the core's own closed forms, on arrays.
"""

import json
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests" / "cross"), str(ROOT / "benches")]

import outcomes  # noqa: E402
import test_shift  # noqa: E402
import test_windows  # noqa: E402

# How many designs of each test are worked out.
DESIGNS = 12

RUNS = 2


def bench(name: str, given: str = "") -> dict:
    """What one of the core's benches prints."""
    command = ["cargo", "bench", "-q", "--bench", name]
    done = subprocess.run(command, cwd=ROOT, input=given, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def windows(design: dict) -> None:
    strip = test_windows.Strip(design)
    lost = strip.a.lowered + strip.b.lowered
    depth = test_windows.full_depth(strip, design["overlap_mm"] - lost)
    for overlap in (test_windows.TIP_LEVEL, depth):
        test_windows.Slide(strip, overlap).windows()


def shift(design: dict) -> None:
    test_shift.Shift(design).run()


def mean_s(work: Callable[[dict], None], designs: list[dict]) -> float:
    """Mean processor time of one piece of work over the designs, the best of all runs."""
    best = float("inf")
    for _ in range(RUNS):
        start = time.process_time()
        for design in designs:
            work(design)
        best = min(best, time.process_time() - start)
    return best / len(designs)


def main() -> None:
    pairs = [test_windows.design(number) for number in range(DESIGNS)]
    shifts = [test_shift.given(number) for number in range(DESIGNS)]
    saved = {
        "windows": [{"crenel": 1} | design for design in pairs],
        "shifts": [{"crenel": 1} | design for design in shifts],
    }
    core, core_map = bench("against", json.dumps(saved)), bench("outcomes")
    numpy_map = outcomes.measured(core_map["top_rpm"])
    apart = sum(abs(a - b) for a, b in zip(core_map["counts"], numpy_map["counts"], strict=True)) // 2
    side = outcomes.SIDE
    table = [
        ("windows of a pair, by sliding outlines", "shapely", mean_s(windows, pairs), core["windows_s"]),
        ("one shift, integrated", "scipy", mean_s(shift, shifts), core["shifts_s"]),
        (f"outcome map {side} × {side}", "numpy", numpy_map["seconds"], core_map["seconds"]),
    ]
    print(f"{'The same work, ms':<42}{'by':<10}{'theirs':>10}{'core':>10}{'ratio':>12}")
    for name, library, theirs, ours in table:
        times = f"{theirs * 1e3:>10.3f}{ours * 1e3:>10.4f}{theirs / ours:>10.0f} ×"
        print(f"  {name:<40}{library:<10}{times}")
    print(f"  means of {DESIGNS} designs; {apart} cells of the map come out otherwise in numpy")


if __name__ == "__main__":
    main()
