"""The solids, read back by foreign readers: STL by trimesh, STEP by OpenCASCADE."""

import json
import math

import numpy as np
import pytest
import trimesh
from conftest import export
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer


def cut(drive: float, coast: float, **more) -> dict:
    return {"back_cut_drive_deg": drive, "back_cut_coast_deg": coast} | more


def unequal(number: int) -> dict:
    """Measured dogs, no two alike."""
    rng = np.random.default_rng(number)
    pitch, lean = 360 / number, min(1, 11 / number)
    return {
        "dogs": [
            {
                "centre_deg": pitch * (at + rng.uniform(-0.05, 0.05)),
                "tip_width_deg": pitch * rng.uniform(0.3, 0.5),
                "height_mm": rng.uniform(2, 7),
                "back_cut_drive_deg": lean * rng.uniform(-3, 6),
                "back_cut_coast_deg": lean * rng.uniform(-3, 6),
            }
            for at in range(number)
        ]
    }


RINGS = {
    "straight": {},
    "one": cut(4, 0, count=1, tip_width_deg=200),
    "nearly all round": cut(4, 4, count=1, tip_width_deg=350),
    "two": {"count": 2, "tip_width_deg": 100},
    "undercut 3": cut(3, 3),
    "undercut 10": cut(10, 8, count=3),
    "tapered": cut(-5, -5),
    "leaning": cut(-5, 10),
    "a hair undercut": cut(0.001, 0.01),
    "less than a hair": cut(3e-4, -3e-4, height_mm=12),
    "parallel": {"flanks": "parallel"},
    "parallel undercut": cut(6, 2, flanks="parallel", cuts={"2": 2.0}),
    "wide parallel": cut(1, -2, flanks="parallel", count=2, tip_width_deg=100),
    "mixed heights": cut(4, 0, heights=[1, 0.5, 0.8]),
    "removed": cut(5, 5, cuts={"1": "remove", "3": 2.5}),
    "spline": {"count": 64, "tip_width_deg": 2.6},
    "undercut spline": cut(3, 1, count=64, tip_width_deg=2.6, inner_diameter_mm=70, outer_diameter_mm=84),
    "three unequal": unequal(3),
    "eleven unequal": unequal(11),
    "sixty unequal": unequal(60),
}

TITLE = "O'Neill's ring \\ Ø 60 – 齿 😀"


@pytest.fixture(scope="module", params=RINGS)
def folder(request, tmp_path_factory):
    design = {"title": TITLE, "a": RINGS[request.param]}
    return export(design, tmp_path_factory.mktemp("solid"))


def told(folder) -> dict:
    return json.loads((folder / "solid.json").read_text(encoding="utf-8"))


class Stepped:
    """The shape of a STEP file, and what it amounts to."""

    def __init__(self, path):
        reader = STEPControl_Reader()
        assert reader.ReadFile(str(path)) == IFSelect_RetDone
        assert Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
        assert reader.NbRootsForTransfer() == 1
        assert reader.TransferRoots() == 1
        self.shape = reader.OneShape()
        properties = GProp_GProps()
        BRepGProp.VolumeProperties_s(self.shape, properties, 1e-9)
        self.volume = properties.Mass()
        self.centre = properties.CentreOfMass()
        axis = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
        self.inertia = properties.MomentOfInertia(axis)

    def solids(self) -> int:
        explorer, count = TopExp_Explorer(self.shape, TopAbs_SOLID), 0
        while explorer.More():
            count += 1
            explorer.Next()
        return count


def test_step_is_one_valid_solid_of_the_metal_that_is_told(folder):
    metal = told(folder)["ring-a-cut"]
    read = Stepped(folder / "ring-a.step")
    assert read.solids() == 1
    assert BRepCheck_Analyzer(read.shape).IsValid()
    volume = metal["volume_mm3"]
    assert read.volume == pytest.approx(volume, rel=1e-9)
    assert read.inertia == pytest.approx(metal["second_moment_mm5"], rel=1e-9)
    x, y = (moment / volume for moment in metal["first_moment_mm4"])
    assert (read.centre.X(), read.centre.Y()) == pytest.approx((x, y), abs=1e-7)


@pytest.mark.parametrize("state", ["found", "cut"])
def test_stl_is_closed_and_has_the_metal_that_is_told(folder, state):
    metal = told(folder)[f"ring-a-{state}"]
    path = folder / f"ring-a-{state}.stl"
    data = path.read_bytes()
    header = data[:80].decode("ascii")
    assert header.startswith(f"Crenel, mm. Ring A, as {state}") and header.endswith("lock wheel.")
    body = trimesh.load(path)
    assert len(data) == 84 + 50 * len(body.faces)
    assert body.is_watertight and body.is_winding_consistent and body.body_count == 1
    assert body.euler_number == 0, "one hole through it"
    # What lies between a cylinder and chords that stay within the tolerance of it.
    tolerance, thickness, tallest = (metal[key] for key in ("tolerance_mm", "thickness_mm", "tallest_mm"))
    bore, rim = metal["bore_mm"], metal["rim_mm"]
    round_area = 2 * math.pi * (bore + rim) * (thickness + tallest)
    bound = tolerance * round_area
    assert body.volume == pytest.approx(metal["volume_mm3"], abs=bound)
    x, y = metal["first_moment_mm4"]
    assert body.volume * body.center_mass[:2] == pytest.approx((x, y), abs=bound * rim)
    # About the axis: the polar moment about the centre of mass, moved.
    about_centre = body.moment_inertia[2, 2]
    polar = about_centre + body.volume * float(np.sum(body.center_mass[:2] ** 2))
    assert polar == pytest.approx(metal["second_moment_mm5"], abs=bound * rim**2)
    low, high = body.bounds[:, 2]
    assert (low, high) == pytest.approx((-thickness, tallest), abs=1e-5)


def test_stl_normals_are_those_of_the_corners(folder):
    data = (folder / "ring-a-cut.stl").read_bytes()
    kind = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("rest", "<u2")])
    triangles = np.frombuffer(data, kind, offset=84)
    corners = triangles["corners"].astype(float)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    areas = np.linalg.norm(normals, axis=1)
    large = areas > 1e-2
    assert large.any() and np.all(triangles["rest"] == 0)
    agree = np.sum(normals[large] / areas[large, None] * triangles["normal"][large], axis=1)
    assert agree.min() > 1 - 1e-4
    lengths = np.linalg.norm(triangles["normal"], axis=1)
    assert lengths == pytest.approx(np.ones_like(lengths), abs=1e-6)


def test_the_title_comes_through(tmp_path):
    from OCP.StepBasic import StepBasic_Product

    reader = STEPControl_Reader()
    assert reader.ReadFile(str(export({"title": TITLE}, tmp_path) / "ring-a.step")) == IFSelect_RetDone
    model = reader.StepModel()
    entities = (model.Value(at) for at in range(1, model.NbEntities() + 1))
    names = [e.Name().ToCString() for e in entities if isinstance(e, StepBasic_Product)]
    assert names == [f"{TITLE}, ring A"]


def test_a_ring_that_is_no_solid_says_why(tmp_path):
    folder = export({"a": {"tip_width_deg": 60}, "b": {"count": 2}}, tmp_path)
    assert told(folder)["ring-a-cut"]["code"] == "solid_dogs_touch"
    assert not (folder / "ring-a.step").exists()
    assert (folder / "ring-b.step").exists()


def test_the_same_design_gives_the_same_bytes(tmp_path):
    folders = []
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        folders.append(export({"a": RINGS["undercut 3"]}, tmp_path / name))
    for name in ("ring-a.step", "ring-a-cut.stl", "solid.svg"):
        first, second = ((folder / name).read_bytes() for folder in folders)
        assert first == second
