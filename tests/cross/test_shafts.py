"""The section along the shafts, measured on its DXF by ezdxf: clearances, overlaps and room of the forks are those of
the report, and the neutral ones those of the gearbox file."""

import io
import json

import ezdxf
import pytest
from conftest import ROOT, run

BENT = (ROOT / "examples/boxes/six-speed-bent-fork.json").read_text(encoding="utf-8")
LAYOUTS = ["two-speed", "four-speed", "five-speed", "six-speed", "eight-speed"]


def gearbox(key):
    return BENT if key == "bent" else run("box", "--layout", key)


def drawn(text):
    document = ezdxf.read(io.StringIO(text))
    assert not document.audit().has_errors
    return document.modelspace()


def rectangles(space):
    """Closed figures of four corners along the axes: left, right, low, high."""
    for line in space.query("LWPOLYLINE"):
        if line.closed and len(line) == 4:
            points = [(x, y) for x, y, *_ in line.get_points()]
            xs, ys = zip(*points)
            if len(set(xs)) == 2 and len({round(y, 9) for y in ys}) == 2:
                yield min(xs), max(xs), min(ys), max(ys)


def dogs(space, heights):
    """Blocks of dogs: rectangles as wide as dogs are high, and as high as the others are."""
    found = [r for r in rectangles(space) if any(abs(r[1] - r[0] - h) < 1e-6 for h in heights)]
    tall = max(r[3] - r[2] for r in found)
    return [r for r in found if abs(r[3] - r[2] - tall) < 1e-6]


def overlaps(blocks):
    """How far the blocks of each pair on one half of a shaft overlap, smallest first; minus is a clearance."""
    rows = {}
    for block in blocks:
        rows.setdefault((round(block[2], 6), round(block[3], 6)), []).append(block)
    found = []
    for row in rows.values():
        # Each shaft has dogs in pairs, the pairs one behind the other.
        row.sort(key=lambda r: r[0] + r[1])
        assert len(row) % 2 == 0
        for one, other in zip(row[::2], row[1::2]):
            found.append(min(one[1], other[1]) - max(one[0], other[0]))
    return sorted(found)


@pytest.mark.parametrize("key", [*LAYOUTS, "bent"])
def test_clearances_on_paper_are_those_of_the_report(key, tmp_path):
    text = gearbox(key)
    path = tmp_path / "box.json"
    path.write_text(text, encoding="utf-8")
    report = json.loads(run("box", "--json", str(path)))
    assert report["positions"]
    for position in report["positions"]:
        space = drawn(run("box", "--section", repr(position["position_deg"]), str(path)))
        said = sorted(g["overlap_mm"] for s in position["sliders"] for g in s["gears"])
        measured = overlaps(dogs(space, [5.0]))
        assert measured == pytest.approx(sorted(said * 2), abs=1e-6)


@pytest.mark.parametrize("key", [*LAYOUTS, "bent"])
def test_in_neutral_the_clearances_are_those_of_the_file(key, tmp_path):
    """Each is the neutral clearance, less what a bent fork takes of it."""
    text = gearbox(key)
    path = tmp_path / "box.json"
    path.write_text(text, encoding="utf-8")
    box = json.loads(text)
    neutral = next(p for p in box["drum"]["positions"] if "gear" not in p)
    expected = []
    for slider in range(1, len(box["sliders"]) + 1):
        offset = next(f.get("fork_offset_mm", 0.0) for f in box["forks"] if f["slider"] == slider)
        own = [g for g in box["gears"] if g["slider"] == slider]
        for at, gear in enumerate(own):
            is_lower = at == 0 and len(own) > 1
            clear = gear.get("clearance_mm", 0.6)
            expected.append(clear + offset if is_lower else clear - offset)
    space = drawn(run("box", "--section", repr(neutral["position_deg"]), str(path)))
    measured = overlaps(dogs(space, [5.0]))
    assert measured == pytest.approx(sorted(-c for c in expected * 2), abs=1e-6)


def test_the_room_of_a_pad_is_that_of_the_report(tmp_path):
    path = tmp_path / "box.json"
    path.write_text(BENT, encoding="utf-8")
    report = json.loads(run("box", "--json", str(path)))
    for position in report["positions"]:
        space = drawn(run("box", "--section", repr(position["position_deg"]), str(path)))
        sliders = [l for l in space.query("LWPOLYLINE") if l.closed and len(l) == 8]
        forks = [l for l in space.query("LWPOLYLINE") if l.closed and len(l) == 6]
        rooms = []
        for fork in forks:
            corners = sorted((y, x) for x, y, *_ in fork.get_points())
            # The pad is the end of the fork in the groove: its highest two corners, as forks are below.
            pad = sorted(x for _, x in corners[-2:])
            for slider in sliders:
                points = [(x, y) for x, y, *_ in slider.get_points()]
                xs = sorted(x for x, _ in points)
                # Outer faces twice each, groove flanks twice each.
                low, high = xs[2], xs[5]
                ys = [y for _, y in points]
                # Not the drum about a pin, which has as many corners and lies below the pad.
                if xs[0] < pad[0] and pad[1] < xs[-1] and min(ys) < corners[-1][0] < max(ys):
                    rooms.append(sorted([pad[0] - low, high - pad[1]]))
        said = sorted(sorted(s["room_mm"]) for s in position["sliders"])
        assert len(rooms) == len(said) and sorted(rooms) == [pytest.approx(r, abs=1e-6) for r in said]


def test_tracks_are_developed_at_the_diameter(tmp_path):
    path = tmp_path / "box.json"
    path.write_text(run("box", "--layout", "six-speed"), encoding="utf-8")
    box = json.loads(path.read_text(encoding="utf-8"))
    space = drawn(run("box", "--tracks", "42", str(path)))
    lines = [l for l in space.query("LWPOLYLINE") if l.dxf.layer == "CENTRE"]
    assert len(lines) == len(box["forks"])
    for line, fork in zip(lines, box["forks"]):
        points = [(x, y) for x, y, *_ in line.get_points()]
        across = [deg / 360 * 42 * 3.141592653589793 for deg, _ in fork["track"]]
        assert [x for x, _ in points] == pytest.approx(across, abs=1e-6)
        up = [mm - fork["track"][0][1] for _, mm in fork["track"]]
        assert [y - points[0][1] for _, y in points] == pytest.approx(up, abs=1e-6)
