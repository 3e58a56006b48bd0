"""A hundred random designs with names that try to break out, each file read by a foreign reader."""

import csv
import io
import json
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import pytest
import trimesh
from conftest import SVG_TAGS, export, table
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader

DESIGNS = 100

NAMES = [
    "",
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "]]><b>&amp;&#0;",
    "\u202egnitirw\u202c\u2067",
    "😀𝔊\U0010ffff",
    "0\nENDSEC\n  0\nEOF\n",
    "a\r\n  0\r\nLINE\r\n",
    "\u0000\u0001\u0007\u001b[31m\u007f\u0085",
    "\ufeff",
    "\ufffe\uffff\u2028",
    "=1+1",
    "-1+cmd|' /C calc'!A0",
    "\t@SUM(A1)",
    "O'Neill \\X2\\0041\\X0\\ \\S\\ \\\\",
    "%%d %%%C ^J \\U+0041 {\\P;}",
    "solid'); #1=DIRECTION('',(0.,0.,1.));",
    "it's 'a', ('b' ), 5' and ''",
]


def ring(rng) -> dict:
    """A ring whose dogs stand apart: even, or measured and no two alike, with some work on it."""
    number = int(rng.integers(1, 13))
    pitch = 360 / number
    inner = rng.uniform(20, 200)
    spec = {
        "inner_diameter_mm": inner,
        "outer_diameter_mm": inner + rng.uniform(4, 60),
        "flanks": str(rng.choice(["radial", "parallel"])),
    }
    lean = min(1, 4 / number)

    def dog() -> dict:
        return {
            "tip_width_deg": pitch * rng.uniform(0.25, 0.45),
            "height_mm": rng.uniform(1, 8),
            "back_cut_drive_deg": lean * rng.uniform(-4, 8),
            "back_cut_coast_deg": lean * rng.uniform(-4, 8),
            "edge_break_mm": rng.uniform(0, 0.4),
        }

    if rng.random() < 0.5:
        spec |= dog() | {"count": number, "first_dog_deg": rng.uniform(0, 360)}
    else:
        places = (pitch * (at + rng.uniform(-0.05, 0.05)) for at in range(number))
        spec["dogs"] = [dog() | {"centre_deg": place} for place in places]
    if number > 2 and rng.random() < 0.6:
        spec["plan"] = [
            {"do": "remove", "dogs": [2]},
            {"do": "shorten", "shorten_to_mm": rng.uniform(0.5, 3), "dogs": [1]},
            {"do": "narrow_drive", "flank_stock_mm": rng.uniform(0.01, 0.3), "dogs": [1, 3]},
        ]
    return spec


def design(number: int) -> dict:
    rng = np.random.default_rng(number)
    name = NAMES[number % len(NAMES)]
    link = [{"name": name, "size_mm": 3.0}]
    return {
        "title": name,
        "initials": name,
        "notes": name,
        "a": ring(rng),
        "b": ring(rng),
        "depth": {"this": link, "other": link},
    }


@pytest.fixture(scope="module", params=range(DESIGNS))
def sample(request, tmp_path_factory):
    given = design(request.param)
    return given, export(given, tmp_path_factory.mktemp("sample"), "https://example.org/#1." + "aB3_" * 50)


def test_dxf_has_nothing_to_mend(sample):
    _, folder = sample
    for side in "ab":
        document = ezdxf.readfile(folder / f"ring-{side}.dxf")
        audit = document.audit()
        assert not audit.errors and not audit.fixes
        kinds = {entity.dxftype() for entity in document.modelspace()}
        assert kinds <= {"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT"}


def test_solids_are_closed_and_valid(sample):
    _, folder = sample
    told = json.loads((folder / "solid.json").read_text(encoding="utf-8"))
    for name, metal in told.items():
        path = folder / f"{name}.stl"
        assert path.exists() != ("code" in metal)
        if path.exists():
            body = trimesh.load(path)
            assert body.is_watertight and body.is_winding_consistent and body.volume > 0
    for side in "ab":
        path = folder / f"ring-{side}.step"
        if path.exists():
            reader = STEPControl_Reader()
            assert reader.ReadFile(str(path)) == IFSelect_RetDone
            assert reader.NbRootsForTransfer() == 1 and reader.TransferRoots() == 1
            assert BRepCheck_Analyzer(reader.OneShape()).IsValid()


def test_texts_and_tables_are_read_whole(sample):
    given, folder = sample
    saved = json.loads((folder / "design.json").read_text(encoding="utf-8"))
    assert [link["size_mm"] for link in saved["depth"]["this"]] == [3.0]
    assert saved.get("title", "") == given["title"]
    assert json.loads((folder / "report.json").read_text(encoding="utf-8"))["title"] == given["title"]
    for path in folder.glob("*.svg"):
        tags = {element.tag.split("}")[1] for element in ET.parse(path).getroot().iter()}
        assert tags <= SVG_TAGS, path.name
    for path in folder.glob("*.csv"):
        text = path.read_bytes().decode("utf-8")
        # Nobody works metal from the results, so that they have no cautions above them.
        lines = io.StringIO(text, newline="") if path.name == "results.csv" else table(text)
        rows = list(csv.reader(lines, strict=True))
        assert len({len(row) for row in rows}) == 1, path.name


def test_most_of_the_sample_are_solids(tmp_path):
    """Else the test of the solids would have nothing to look at."""
    made = 0
    for number in range(0, DESIGNS, 10):
        (tmp_path / str(number)).mkdir()
        folder = export(design(number), tmp_path / str(number))
        made += (folder / "ring-a.step").exists()
    assert made >= 7
