"""The colours of charts, measured by a foreign colour library in four kinds of sight."""

import re
from itertools import combinations

import pytest
from coloraide import Color
from conftest import ROOT, export

# From the best to the worst, as in the legend and the stack.
OUTCOMES = [
    "straight-in",
    "after-rubbing",
    "after-strikes",
    "half-in",
    "locked",
    "ratcheting",
]
SERIES = ["series-1", "series-2", "series-3", "series-4"]

# Full dichromacy, by Machado, Oliveira and Fernandes (2009).
SIGHTS = ["normal", "protan", "deutan", "tritan"]

STYLE = (ROOT / "www" / "style.css").read_text(encoding="utf-8")


def tokens() -> dict[str, dict[str, str]]:
    """The tokens of both schemes; what the dark one does not name is that of the light one."""
    blocks = re.findall(r":root(?:, \.set-up)? \{([^}]*--desk[^}]*)\}", STYLE)
    light, dark = [dict(re.findall(r"--([\w-]+): (#\w+);", block)) for block in blocks[:2]]
    assert light["desk"] != dark["desk"]
    return {"light": light, "dark": light | dark}


SCHEMES = tokens()


def seen(colour: str, sight: str) -> Color:
    if sight == "normal":
        return Color(colour)
    return Color(colour).filter(sight, 1, method="machado").clip("srgb")


def least_apart(colours: list[str], sight: str) -> float:
    """Least CIEDE2000 between any two."""
    shown = [seen(colour, sight) for colour in colours]
    return min(a.delta_e(b, method="2000") for a, b in combinations(shown, 2))


def lightness(colour: str) -> float:
    return Color(colour).convert("lab-d65")["l"]


def test_outcomes_have_one_palette_that_falls_in_lightness():
    light, dark = SCHEMES["light"], SCHEMES["dark"]
    assert [light[name] for name in OUTCOMES] == [dark[name] for name in OUTCOMES]
    falls = [lightness(light[name]) for name in OUTCOMES]
    assert all(above - below >= 10 for above, below in zip(falls, falls[1:])), falls


@pytest.mark.parametrize("sight", SIGHTS)
def test_any_two_outcomes_are_told_apart(sight):
    assert least_apart([SCHEMES["light"][name] for name in OUTCOMES], sight) >= 12


@pytest.mark.parametrize("sight", SIGHTS)
@pytest.mark.parametrize("scheme", SCHEMES)
def test_any_two_series_are_told_apart(scheme, sight):
    assert least_apart([SCHEMES[scheme][name] for name in SERIES], sight) >= 15


@pytest.mark.parametrize("scheme", SCHEMES)
def test_series_stand_out_from_their_paper_and_are_no_rings(scheme):
    shown = SCHEMES[scheme]
    for name in SERIES:
        assert Color(shown[name]).contrast(shown["surface"], method="wcag21") >= 3, name
        assert shown[name] not in (shown["a"], shown["b"])


def test_a_file_has_the_light_palette_whatever_the_page_looks_like(tmp_path):
    file = next(export({}, tmp_path).glob("*outcome-map.svg")).read_text(encoding="utf-8")
    light = SCHEMES["light"]
    for name in OUTCOMES:
        plain = re.search(rf"path\.{name}\{{fill:(#\w+);", file)
        hatched = re.search(rf"#hatch-{name} \.tint\{{fill:(#\w+)\}}", file)
        assert (plain or hatched)[1] == light[name], name
        # Neighbours in lightness have another sign beside their colour: hatched or not, or how.
        assert (plain is None) == (f'id="hatch-{name}"' in file), name
    for name, curve in zip(SERIES, "abcd"):
        assert re.search(rf"\.curve-{curve}\{{stroke:(#\w+);", file)[1] == light[name]
    for side in "ab":
        assert re.search(rf"\.ring-{side}\{{stroke:(#\w+)\}}", file)[1] == light[side]
