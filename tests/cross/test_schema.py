"""The report keeps to its JSON Schema, as a foreign validator reads it: 300 random designs, and 20 spoiled reports."""

import copy
import itertools
import json

import numpy as np
import pytest
from conftest import ROOT, run
from jsonschema import Draft202012Validator
from test_sample import design

DESIGNS = 300

SCHEMA = json.loads(run("report", "--schema"))
VALIDATOR = Draft202012Validator(SCHEMA)
BOX_SCHEMA = json.loads(run("box", "--schema"))
BOX_VALIDATOR = Draft202012Validator(BOX_SCHEMA)
BOXES = sorted((ROOT / "examples" / "boxes").glob("*.json"))
LAYOUTS = ["two-speed", "four-speed", "five-speed", "six-speed", "eight-speed", "five-speed-direct"]

EXAMPLES = ROOT / "examples" / "designs"
GEARBOX = json.loads((EXAMPLES / "wide-first-step.json").read_text(encoding="utf-8"))["gearbox"]
PARTS = ["linkage", "claw", "detent", "track"]


def whole(number: int) -> dict:
    """A random design; by turns it has parts between foot and dogs, a gearbox and something that is felt."""
    rng = np.random.default_rng(number + 10_000)
    given = {"crenel": 1} | design(number)
    # Rings of one band, or most would never touch and have no report.
    given["b"] |= {key: given["a"][key] for key in ("inner_diameter_mm", "outer_diameter_mm")}
    for part in PARTS:
        if rng.random() < 0.5:
            given[part] = {}
    if rng.random() < 0.5:
        given["gearbox"] = GEARBOX
    if rng.random() < 0.3:
        given["felt"] = ["hangs", "jumps_power"]
    return given


def report(given: dict) -> dict:
    return json.loads(run("report", "-", given=json.dumps(given)))


def told(number: int) -> dict | None:
    """The report of a random design; None where the tool says why there is none."""
    try:
        return report(whole(number))
    except AssertionError as refused:
        assert "error:" in str(refused)
        return None


@pytest.fixture(scope="module")
def good() -> dict:
    """A report with every part in it."""
    whole = json.loads((EXAMPLES / "kicks-back.json").read_text(encoding="utf-8"))
    return report(whole | {"gearbox": GEARBOX})


def test_the_schemas_are_some():
    Draft202012Validator.check_schema(SCHEMA)
    Draft202012Validator.check_schema(BOX_SCHEMA)


@pytest.mark.parametrize("file", BOXES, ids=lambda file: file.stem)
def test_the_report_on_a_gearbox_keeps_to_its_schema(file):
    BOX_VALIDATOR.validate(json.loads(run("box", "--json", "--cuts", str(file))))


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_report_on_a_plain_gearbox_keeps_to_its_schema(layout):
    plain = run("box", "--layout", layout)
    told = json.loads(run("box", "--json", "-", given=plain))
    BOX_VALIDATOR.validate(told)
    spoiled = told | {"shifts": [told["shifts"][0] | {"gear": 1}]}
    assert not BOX_VALIDATOR.is_valid(spoiled)
    kept = json.loads((ROOT / "src" / "report" / "report.schema.json").read_text(encoding="utf-8"))
    assert kept == SCHEMA


@pytest.mark.parametrize("first", range(6))
def test_reports_of_random_designs_keep_to_it(first):
    numbers = range(first, 2 * DESIGNS, 6)
    reports = itertools.islice(filter(None, map(told, numbers)), DESIGNS // 6)
    seen = []
    for one in reports:
        VALIDATOR.validate(one)
        seen.append({key for key in ("gearbox", "depth") if one[key] is not None})
        seen[-1] |= {"plan"} if one["rings"]["a"]["plan"] else set()
    assert len(seen) == DESIGNS // 6
    assert set().union(*seen) == {"gearbox", "depth", "plan"}


def test_reports_of_the_examples_keep_to_it():
    paths = sorted(EXAMPLES.glob("*.json"))
    assert len(paths) >= 5
    for path in paths:
        VALIDATOR.validate(json.loads(run("report", str(path))))


def put(*path, value):
    """A fault: another value at a place of the report."""

    def spoil(report: dict) -> None:
        *way, last = path
        for step in way:
            report = report[step]
        report[last] = value

    return spoil


def drop(*path):
    """A fault: a place of the report that is gone."""

    def spoil(report: dict) -> None:
        *way, last = path
        for step in way:
            report = report[step]
        del report[last]

    return spoil


FAULTS = [
    put("crenel_report", value=2),
    put("title", value=None),
    put("computed", value="yes"),
    put("figures", "lash_deg", value="12"),
    put("figures", "lash_degrees", value=12.0),
    put("figures", "shift_ending", value="falls off"),
    put("figures", "drum_after_lift", value=3),
    put("entry_windows_deg", 0, value=[1.0]),
    put("entry_windows_deg", 0, value=[1.0, 2.0, 3.0]),
    put("jam_overlap_mm", value=False),
    drop("contact_inner_mm"),
    drop("rings", "b"),
    put("rings", "a", "dogs", 0, "place", value=0),
    drop("rings", "a", "mass_g"),
    put("gearbox", "shifts", 0, "flank", value="other"),
    put("gearbox", "lash", 0, "gear", value=1.5),
    put("trace", "checks", 0, "judged", value="perhaps"),
    put("trace", "causes", value=[-1]),
    put("cautions", 0, value="Be careful."),
    put("findings", 0, "severity", value="grave"),
]


@pytest.mark.parametrize("fault", range(len(FAULTS)))
def test_a_spoiled_report_is_refused(good, fault):
    assert len(FAULTS) == 20
    VALIDATOR.validate(good)
    spoiled = copy.deepcopy(good)
    FAULTS[fault](spoiled)
    assert spoiled != good
    assert not VALIDATOR.is_valid(spoiled)
