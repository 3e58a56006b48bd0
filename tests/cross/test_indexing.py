"""Dividing head, rotary table and their CSV against brute force in exact fractions.

Every hole of every circle is tried; nothing here knows how the core chooses.
"""

import csv
import json
import random
import re
from fractions import Fraction

import pytest
from conftest import export, run, table
from gcodeparser import Commands, parse_gcode_lines

PLATES = {
    "15-20": [15, 16, 17, 18, 19, 20],
    "21-33": [21, 23, 27, 29, 31, 33],
    "37-49": [37, 39, 41, 43, 47, 49],
    "24-66": [24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43]
    + [46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66],
}
RATIOS = [40, 60, 90]
EXACT = Fraction(1, 1000)  # minutes of arc
TIE = Fraction(1, 10**6)
FULL = 360 * 60  # minutes of arc in a full turn


def text_of(minutes):
    """An angle as it is typed: degrees in decimals, so that the core reads what is meant here."""
    return repr(float(minutes / 60))


def even(count, start=Fraction(0)):
    return [start + Fraction(FULL * at, count) for at in range(count)]


def jobs():
    """Ratio, plates, positions in minutes of arc."""
    rng = random.Random(20240613)
    for count in range(2, 97):
        yield rng.choice(RATIOS), list(PLATES), even(count)
    for _ in range(220):
        ratio = rng.choice(RATIOS)
        plates = rng.sample(list(PLATES), rng.randint(1, len(PLATES)))
        number = rng.randint(1, 8)
        kind = rng.randrange(5)
        if kind == 0:  # measured: two decimals of a degree
            yield ratio, plates, [Fraction(rng.randrange(36000), 100) * 60 for _ in range(number)]
        elif kind == 1:  # read off a scale: whole minutes, some of them beyond a full turn
            yield ratio, plates, [Fraction(rng.randrange(-FULL, 2 * FULL)) for _ in range(number)]
        elif kind == 2:  # seconds
            yield ratio, plates, [Fraction(rng.randrange(60 * FULL), 60) for _ in range(number)]
        elif kind == 3:  # even dogs with the first off the datum
            start = Fraction(rng.randrange(FULL))
            yield ratio, plates, even(rng.randint(2, 96), start)
        else:  # exact on some circle by luck of its making
            circle = rng.choice(PLATES[rng.choice(plates)])
            space = Fraction(FULL, ratio * circle)
            yield ratio, plates, [space * rng.randrange(ratio * circle) for _ in range(number)]


JOBS = list(jobs())


def ask(job, *flags):
    ratio, plates, positions = job
    angles = [text_of(minutes) for minutes in positions]
    return run("indexing", *flags, "--plates", ",".join(plates), str(ratio), *angles)


def lines(job):
    first, *rows = [json.loads(line) for line in ask(job).splitlines()]
    assert len(rows) == len(job[2])
    return first, rows


def circles(plates):
    return sorted({circle for plate in plates for circle in PLATES[plate]})


def nearest(ratio, circle, minutes):
    """The error of the nearest hole, with its sign, minutes of arc."""
    space = Fraction(FULL, ratio * circle)
    over = minutes % space
    return -over if over <= space - over else space - over


def largest(ratio, circle, positions):
    return max(abs(nearest(ratio, circle, minutes)) for minutes in positions)


def best(ratio, plates, positions):
    """The smallest circle without error, else that of the least largest error."""
    worst = {circle: largest(ratio, circle, positions) for circle in circles(plates)}
    exact = [circle for circle in worst if worst[circle] < EXACT]
    if exact:
        return min(exact), worst
    least = min(worst.values())
    return min(circle for circle in worst if worst[circle] <= least + TIE), worst


def is_tie(ratio, circle, minutes):
    space = Fraction(FULL, ratio * circle)
    return abs(minutes % space - space / 2) < TIE


@pytest.fixture(scope="module", params=range(len(JOBS)))
def answered(request):
    job = JOBS[request.param]
    return job, *lines(job)


def test_the_circle_is_the_best_one(answered):
    (ratio, plates, positions), first, _ = answered
    circle, worst = best(ratio, plates, positions)
    assert first["circle"] == circle
    assert first["exact"] == (worst[circle] < EXACT)
    assert first["largest_error_min"] == pytest.approx(float(worst[circle]), abs=1e-7)


def test_turns_holes_and_errors(answered):
    (ratio, _, positions), first, rows = answered
    circle = first["circle"]
    before = 0
    for minutes, row in zip(positions, rows):
        error = nearest(ratio, circle, minutes)
        spaces = (minutes + error) * ratio * circle / FULL
        assert spaces.denominator == 1
        spaces = int(spaces) % (ratio * circle)
        assert (row["turns"], row["holes"]) == divmod(spaces, circle), row
        assert is_tie(ratio, circle, minutes) or row["error_min"] == pytest.approx(
            float(error), abs=1e-7
        )
        on = (spaces - before) % (ratio * circle)
        assert (row["move_turns"], row["move_holes"]) == divmod(on, circle), row
        before = spaces


def test_each_angle_alone(answered):
    (ratio, plates, positions), _, rows = answered
    for minutes, row in zip(positions, rows):
        circle, _ = best(ratio, plates, [minutes])
        error = nearest(ratio, circle, minutes)
        alone = row["alone"]
        assert alone["circle"] == circle, row
        assert alone["exact"] == (abs(error) < EXACT)
        assert alone["error_min"] == pytest.approx(float(error), abs=1e-7)
        spaces = (minutes % FULL + error) * ratio * circle / FULL
        assert (alone["turns"], alone["holes"]) == divmod(int(spaces), circle)


def dials(ratio, minutes):
    """Turns and dial; both neighbours where a position lies half-way between two seconds."""
    seconds = minutes * 60 % (60 * FULL)
    near = {round(seconds - TIE), round(seconds + TIE)}
    turn = 60 * FULL // ratio
    answers = [divmod(second % (60 * FULL), turn) for second in near]
    return [(t, f"{s // 3600}°{s // 60 % 60:02}′{s % 60:02}″") for t, s in answers]


def test_the_rotary_dial(answered):
    (ratio, _, positions), _, rows = answered
    for minutes, row in zip(positions, rows):
        assert (row["table_turns"], row["table_dial"]) in dials(ratio, minutes)


@pytest.mark.parametrize("at", range(0, len(JOBS), 12))
def test_the_csv_says_the_same(at):
    job = JOBS[at]
    first, rows = lines(job)
    read = list(csv.DictReader(table(ask(job, "--csv")), strict=True))
    assert len(read) == len(rows)
    for cells, row in zip(read, rows):
        assert None not in cells and None not in cells.values()
        assert cells["dog"] == row["dog"]
        assert float(cells["position_deg"]) == pytest.approx(row["position_deg"], abs=6e-7)
        assert (cells["head_ratio"], cells["table_ratio"]) == (str(job[0]), str(job[0]))
        assert int(cells["circle_holes"]) == first["circle"]
        for cell, key in [
            ("datum_turns", "turns"),
            ("datum_holes", "holes"),
            ("move_turns", "move_turns"),
            ("move_holes", "move_holes"),
            ("handle_turns", "table_turns"),
        ]:
            assert int(cells[cell]) == row[key], cell
        assert float(cells["error_arcmin"]) == pytest.approx(row["error_min"], abs=6e-4)
        assert cells["dial_dms"] == row["table_dial"]
        assert 0 <= dms_seconds(cells["position_dms"]) < 60 * FULL
        assert abs(dms_seconds(cells["position_dms"]) / 3600 - row["position_deg"]) % 360 < 2e-4


def dms_seconds(text):
    degrees, rest = text.split("°")
    minutes, seconds = rest.rstrip("″").split("′")
    assert int(minutes) < 60 and int(seconds) < 60
    return int(degrees) * 3600 + int(minutes) * 60 + int(seconds)


@pytest.mark.parametrize(
    ("name", "want"),
    [
        ("A 1", "A 1"),
        ('=HYPERLINK("http://x","y")', '\'=HYPERLINK("http://x","y")'),
        ("  +1", "'  +1"),
        ("-2", "'-2"),
        ("@x", "'@x"),
        ('a","b\n=c', 'a","b =c'),
        ("גלגל 漢", "גלגל 漢"),
    ],
)
def test_names_in_the_csv_stay_names(name, want):
    text = run("indexing", "--csv", "40", f"{name}=60", "120")
    one, two = csv.DictReader(table(text), strict=True)
    assert (one["dog"], one["datum_turns"], two["dog"]) == (want, "6", "2")


def test_full_turns_and_seconds_are_carried():
    angles = ["0:0:59.9996", "359:59:59.9996", "8:59:59.9996", "-0:0:0.0004", "360"]
    _, *rows = map(json.loads, run("indexing", "40", *angles).splitlines())
    want = [(0, "0°01′00″"), (0, "0°00′00″"), (1, "0°00′00″"), (0, "0°00′00″"), (0, "0°00′00″")]
    assert [(row["table_turns"], row["table_dial"]) for row in rows] == want
    assert [(row["turns"], row["holes"]) for row in rows[1:]] == [(0, 0), (1, 0), (0, 0), (0, 0)]


PLANNED = {
    "title": "Second gear (G1 F100) (invented)",
    "a": {
        "flanks": "parallel",
        "plan": [
            {"do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4, 6]},
            {"do": "narrow_coast", "flank_stock_mm": 0.4, "dogs": [1, 3]},
        ],
    },
    "b": {"first_dog_deg": 7.123456, "plan": [{"do": "remove", "dogs": [1, 6]}]},
}


@pytest.mark.parametrize("side", "ab")
def test_the_program_turns_the_axis_and_nothing_else(side, tmp_path):
    """Read by a foreign reader: the positions of the CSV in their order, a stop after each, no other word."""
    folder = export(PLANNED, tmp_path)
    raw = (folder / f"ring-{side}-index.nc").read_bytes()
    raw.decode("ascii")
    lines = raw.decode().splitlines()
    assert lines[0] == lines[-1] == "%" and max(map(len, lines)) <= 72
    # A comment ends at the first parenthesis, as controls read it. The reader knows only those after ";".
    bare = [re.sub(r"\([^()]*\)", "", line) for line in lines[1:-1]]
    assert not any("(" in line or ")" in line for line in bare)
    program = list(parse_gcode_lines("\n".join(bare), include_comments=False))
    words = [(line.command, line.params) for line in program]
    assert words[0] == (("G", 90), {}) and words[-1] == (("M", 30), {})
    turns, stops = words[1:-1:2], words[2:-1:2]
    assert {command for command, _ in turns} == {("G", 0)} and stops == [(("M", 0), {})] * len(turns)
    assert all(set(params) == {"A"} for _, params in turns)
    assert {line.type for line in program} <= {Commands.MOVE, Commands.OTHER}
    index = list(csv.DictReader(table((folder / f"ring-{side}-index.csv").read_text("utf-8"))))
    want = [0.0, *(float(row["position_deg"]) for row in index)]
    assert [params["A"] for _, params in turns] == pytest.approx(want, abs=6e-5)
    comments = [line.strip("()") for line in lines if line.startswith("(")]
    assert [row["dog"] for row in index] == [
        comment for comment in comments if comment.startswith("operation")
    ]
