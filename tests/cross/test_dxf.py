"""The DXF drawings, read back strictly by ezdxf and measured against the numbers of the design.

Nothing here uses the geometry of the core: areas come from a closed form or from half planes cut
out of a ring with shapely, and the link, the title and the dogs from what was put in.
"""

import json
import math

import ezdxf
import pytest
from conftest import DEFAULTS, export
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import bulge_to_arc
from ezdxf.path import make_path
from shapely.geometry import LineString, Polygon

LINK = "https://example.org/crenel/?a=1&b=%20#1." + "aB3_-xyZ09" * 37 + "end"

MEASURED = [
    {"centre_deg": 0.4, "tip_width_deg": 23.8, "height_mm": 4.9, "back_cut_drive_deg": 2.5},
    {"centre_deg": 61.2, "tip_width_deg": 24.3, "height_mm": 5.1, "back_cut_coast_deg": -1.5},
    {"centre_deg": 119.1, "tip_width_deg": 20.125, "edge_break_mm": 0.3},
    {"centre_deg": -121.0, "root_fillet_mm": 0.8},
    {"centre_deg": 300.55, "back_cut_drive_deg": 4, "back_cut_coast_deg": 4},
]

# Title and rings of each design; the rings in the saved form, defaults left out.
DESIGNS = {
    "even": ("Hill-climb single, second gear (invented)", {}, {"first_dog_deg": 30}),
    "three": ("3 dogs", {"count": 3, "tip_width_deg": 40}, {"count": 3, "first_dog_deg": 271.5}),
    "half-height": ("Höhe halb – “½”", {"heights": [1, 0.5]}, {"heights": [1, 0.5, 0]}),
    "measured": ("Измерено", {"dogs": MEASURED}, {"dogs": MEASURED[::-1]}),
    "cut": (
        "切削 歯車",
        {"cuts": {"1": "remove", "2": 2.5, "4": 4.125}, "back_cut_drive_deg": 3},
        {"dogs": MEASURED, "cuts": {"3": "remove", "5": 3.25}},
    ),
    "all-cut": (
        "",
        {"count": 3, "cuts": {"1": 2, "2": 2, "3": 2}, "back_cut_drive_deg": 8},
        {"flanks": "parallel", "cuts": {"1": 1.5}, "back_cut_coast_deg": 5},
    ),
    # Every kind of work, alone and on top of other work, on dogs of several heights.
    "worked": (
        "Alles bearbeitet",
        {
            "heights": [1, 1, 0.8],
            "back_cut_drive_deg": 2,
            "plan": [
                {"do": "shorten", "shorten_to_mm": 2.5, "dogs": [1]},
                {"do": "break", "break_to_mm": 0.6, "dogs": [2]},
                {"do": "narrow_drive", "flank_stock_mm": 0.4, "dogs": [3, 4]},
                {"do": "recut_coast", "recut_to_deg": 4, "dogs": [3]},
                {"do": "remove", "dogs": [5]},
            ],
        },
        {
            "flanks": "parallel",
            "back_cut_coast_deg": -3,
            "plan": [
                {"do": "recut_drive", "recut_to_deg": 3, "dogs": [2]},
                {"do": "shorten", "shorten_to_mm": 3.75, "dogs": [2, 4]},
                {"do": "remove", "dogs": [6]},
                {"do": "lap", "lap_stock_mm": 0.05},
            ],
        },
    ),
    "parallel": (
        "فكوك متوازية",
        {"flanks": "parallel"},
        {"flanks": "parallel", "count": 5, "tip_width_deg": 30, "back_cut_drive_deg": 4},
    ),
    "back-cut": (
        "שיניים 5º",
        {"back_cut_drive_deg": 5, "back_cut_coast_deg": 5, "edge_break_mm": 0.2},
        {"back_cut_drive_deg": -6, "back_cut_coast_deg": 7.25, "height_mm": 8},
    ),
    "spline": (
        "Øm ± 30°",
        {"count": 30, "tip_width_deg": 5.6},
        {"count": 30, "tip_width_deg": 5.6, "first_dog_deg": 186},
    ),
    "slots": (
        "Slots",
        {"size_by": "gap", "gap_deg": 38},
        {"size_by": "gap", "gap_deg": 20, "count": 96 // 8},
    ),
    "small": (
        "0\nENDSEC\n  0\nEOF\r\n\u0000\u0007\u001b",
        {"inner_diameter_mm": 7, "outer_diameter_mm": 12, "count": 4, "height_mm": 2},
        {"inner_diameter_mm": 7, "outer_diameter_mm": 12, "count": 1},
    ),
    "large": (
        "<b>&amp;</b> 100%%d %%%C ^J ^ \\U+0041 \\M+1A2B4 {\\P;} 😀𝔊",
        {"inner_diameter_mm": 150, "outer_diameter_mm": 200, "count": 8, "height_mm": 12},
        {"inner_diameter_mm": 480, "outer_diameter_mm": 500, "count": 1, "tip_width_deg": 340},
    ),
    "long-title": (
        "गियर " * 60,
        {"count": 2, "tip_width_deg": 120},
        {"count": 96, "tip_width_deg": 2},
    ),
}

# Between hatching lines, mm.
HATCH_MM = 1.2

# Layer: colour, line type and width in hundredths of a mm of most that is on it.
LAYERS = {
    "KEEP": (7, "CONTINUOUS", 50),
    "CUT": (1, "LONG-DASH-DOUBLE-DOT", 25),
    "DETAIL": (5, "CONTINUOUS", 50),
    "ELEVATION": (3, "CONTINUOUS", 50),
    "CENTRE": (6, "LONG-DASH-DOT", 25),
    "NOTE": (8, "CONTINUOUS", 25),
}

# Layer, and every ISO 128 line that something on it may have.
LINES = {
    "KEEP": {("CONTINUOUS", 50), ("CONTINUOUS", 25), ("DASHED", 25)},
    "CUT": {("LONG-DASH-DOUBLE-DOT", 25), ("CONTINUOUS", 50), ("DASHED", 25)},
    "DETAIL": {("CONTINUOUS", 50), ("LONG-DASH-DOUBLE-DOT", 25)},
    "ELEVATION": {("CONTINUOUS", 50)},
    "CENTRE": {("LONG-DASH-DOT", 25)},
    "NOTE": {("CONTINUOUS", 25)},
}


class Sheet:
    """One exported drawing with the numbers it was made from."""

    def __init__(self, folder, name, side):
        self.title, *rings = DESIGNS[name]
        self.ring = rings["ab".index(side)]
        self.path = folder / f"ring-{side}.dxf"
        self.doc = ezdxf.readfile(self.path)
        self.report = json.loads((folder / "report.json").read_text())["rings"][side]["dogs"]
        self.inner = self.number("inner_diameter_mm") / 2
        self.outer = self.number("outer_diameter_mm") / 2

    def number(self, key, dog=None):
        return (dog or self.ring).get(key, DEFAULTS[key])

    def on(self, layer, kind="*"):
        return self.doc.modelspace().query(f'{kind}[layer=="{layer}"]')

    def line(self, entity):
        """Line type and width of an entity: its own, else those of its layer."""
        layer = self.doc.layers.get(entity.dxf.layer).dxf
        own = entity.dxf.linetype != "BYLAYER"
        width = entity.dxf.get("lineweight", layer.lineweight)
        return (entity.dxf.linetype if own else layer.linetype, width)

    def outlines(self, line):
        """Outlines of dogs, kept or worked, in the order in which they are drawn."""
        plan = self.doc.modelspace().query('LWPOLYLINE[layer=="KEEP" | layer=="CUT"]')
        return [outline for outline in plan if self.line(outline) == line]

    @property
    def tips(self):
        return self.outlines(("CONTINUOUS", 50))

    @property
    def roots(self):
        return self.outlines(("DASHED", 25))

    def closed(self, corners):
        """What is closed on the note layer with so many corners."""
        lines = self.on("NOTE", "LWPOLYLINE")
        return [line for line in lines if line.closed and len(line) == corners]

    def found(self, place):
        """The numbers of a dog before any cut."""
        if "dogs" in self.ring:
            dog = {**DEFAULTS, **self.ring["dogs"][place - 1]}
        else:
            dog = {**DEFAULTS, **self.ring}
            heights = self.ring.get("heights", [1])
            dog["height_mm"] *= heights[(place - 1) % len(heights)]
        return dog

    def works(self, place):
        """The operations on a dog, in their order."""
        cuts = self.ring.get("cuts", {}).get(str(place))
        plan = [{"do": "remove"} if cuts == "remove" else {"do": "shorten", "shorten_to_mm": cuts}]
        plan = (plan if cuts else []) + self.ring.get("plan", [])
        return [work for work in plan if place in work.get("dogs", [place])]

    @property
    def tallest(self):
        count = len(self.ring["dogs"]) if "dogs" in self.ring else self.number("count")
        return max(self.found(place)["height_mm"] for place in range(1, count + 1))

    def notes(self):
        return [words(text) for text in self.on("NOTE", "TEXT")]


def words(text):
    """What a reader shows for a TEXT."""
    text = text.copy()
    text.dxf.text = decode_dxf_unicode(text.dxf.text)
    return text.plain_text()


@pytest.fixture(scope="module")
def folders(tmp_path_factory):
    folders = {}
    for name, (title, a, b) in DESIGNS.items():
        design = {"title": title, "initials": "Jº", "a": a, "b": b}
        folders[name] = export(design, tmp_path_factory.mktemp(name), LINK)
    return folders


@pytest.fixture(scope="module", params=[(n, s) for n in DESIGNS for s in "ab"], ids="-".join)
def sheet(request, folders):
    name, side = request.param
    return Sheet(folders[name], name, side)


def test_nothing_is_repaired(sheet):
    found = sheet.doc.audit()
    assert (found.errors, found.fixes) == ([], [])
    assert sheet.doc.dxfversion == "AC1015"
    sheet.path.read_text(encoding="ascii")


def test_the_unit_is_the_millimetre(sheet):
    assert sheet.doc.units == ezdxf.units.MM
    assert (sheet.doc.header["$MEASUREMENT"], sheet.doc.header["$LUNITS"]) == (1, 2)
    assert any("All lengths in millimetres" in note for note in sheet.notes())


def test_layers_say_what_to_do(sheet):
    layers = [layer.dxf for layer in sheet.doc.layers]
    listed = {layer.name: (layer.color, layer.linetype, layer.lineweight) for layer in layers}
    used = {entity.dxf.layer for entity in sheet.doc.modelspace()}
    # ezdxf itself adds DEFPOINTS to any document.
    assert {name for name in listed if name.upper() != "DEFPOINTS"} == used | {"0"}
    assert {"KEEP", "CENTRE", "NOTE"} <= used
    assert ("CUT" in used) == bool(sheet.ring.get("cuts") or sheet.ring.get("plan"))
    for name in used:
        assert listed[name] == LAYERS[name], name
    for entity in sheet.doc.modelspace():
        assert sheet.line(entity) in LINES[entity.dxf.layer], entity
        assert not entity.dxf.hasattr("color")
        assert entity.dxftype() != "TEXT" or entity.dxf.layer == "NOTE"


def test_an_entity_has_a_line_of_its_own_only_where_it_differs(sheet):
    for entity in sheet.doc.modelspace():
        _, line_type, width = LAYERS[entity.dxf.layer]
        assert entity.dxf.linetype != line_type
        assert entity.dxf.get("lineweight") != width


def test_line_types_are_those_of_iso_128(sheet):
    # In widths of the 0.25 mm line: dashes of 12, long dashes of 24, gaps of 3, dots.
    dashes = {
        "DASHED": [12, -3],
        "LONG-DASH-DOT": [24, -3, 0, -3],
        "LONG-DASH-DOUBLE-DOT": [24, -3, 0, -3, 0, -3],
    }
    for name, want in dashes.items():
        tags = sheet.doc.linetypes.get(name).pattern_tags.tags
        assert [tag.value / 0.25 for tag in tags if tag.code == 49] == want
        assert [tag.value / 0.25 for tag in tags if tag.code == 40] == [sum(map(abs, want))]


def test_the_square_measures_10_mm(sheet):
    (square,) = sheet.closed(4)
    corners = [(x, y) for x, y in square.get_points("xy")]
    sides = [math.dist(p, q) for p, q in zip(corners, corners[1:] + corners[:1])]
    assert sides == pytest.approx([10] * 4, abs=1e-9)
    assert math.dist(corners[0], corners[2]) == pytest.approx(10 * math.sqrt(2), abs=1e-9)


def test_the_rims_are_those_of_the_design(sheet):
    rims = sorted(circle.dxf.radius for circle in sheet.on("KEEP", "CIRCLE"))
    assert rims == pytest.approx([sheet.inner, sheet.outer], rel=1e-12)
    assert all(circle.dxf.center.magnitude == 0 for circle in sheet.on("KEEP", "CIRCLE"))


def test_every_standing_dog_has_one_tip_and_one_root(sheet):
    for outlines in (sheet.tips, sheet.roots):
        assert len(outlines) == len(sheet.report)
        assert all(line.closed for line in outlines)
    assert len(removed_in_plan(sheet)) == len(gone(sheet))


def gone(sheet):
    count = len(sheet.ring["dogs"]) if "dogs" in sheet.ring else sheet.number("count")
    found = [place for place in range(1, count + 1) if sheet.found(place)["height_mm"] > 0]
    return [place for place in found if place not in [dog["place"] for dog in sheet.report]]


FLANK_WORK = {"narrow_drive", "narrow_coast", "recut_drive", "recut_coast"}


def test_what_is_worked_lies_on_cut_at_its_level_and_the_rest_on_keep(sheet):
    """Z0 is the tallest tip as found; a level is that of the tip as cut, or of the web."""
    web = -sheet.tallest
    on_cut = 0
    for dog, tip, root in zip(sheet.report, sheet.tips, sheet.roots, strict=True):
        found, works = sheet.found(dog["place"]), sheet.works(dog["place"])
        lowered = cut_down(dog, found) > 1e-9
        flanks = any(work["do"] in FLANK_WORK for work in works)
        edges = [work["break_to_mm"] for work in works if work["do"] == "break"]
        assert tip.dxf.layer == ("CUT" if lowered or flanks or edges else "KEEP"), dog
        assert root.dxf.layer == ("CUT" if flanks else "KEEP"), dog
        level = web + dog["height_mm"] - (0 if lowered or flanks else max(edges, default=0))
        if tip.dxf.layer == "CUT":
            assert tip.dxf.elevation == pytest.approx(level, abs=1e-9)
        if root.dxf.layer == "CUT":
            assert root.dxf.elevation == pytest.approx(web, abs=1e-9)
        on_cut += sum(line.dxf.layer == "CUT" for line in (tip, root))
    for line in removed_in_plan(sheet):
        assert line.dxf.elevation == pytest.approx(web, abs=1e-9)
    cut = list(sheet.on("CUT"))
    assert len(cut) == on_cut + len(gone(sheet)), "nothing else is on the layer"
    for entity in cut:
        assert entity.dxftype() == "LWPOLYLINE" and entity.closed
        assert max(math.hypot(x, y) for x, y in entity.get_points("xy")) <= sheet.outer + 1e-9
    for entity in sheet.doc.modelspace().query('LWPOLYLINE[layer!="CUT"]'):
        assert entity.dxf.elevation == 0


def test_the_elevation_has_every_dog_at_its_place_and_height(sheet):
    """Unrolled at the mean diameter, the datum at the left end of the web, seen from outside."""
    (web,) = sheet.on("ELEVATION", "LINE")
    mean = (sheet.inner + sheet.outer) / 2
    start, base = web.dxf.start.x, web.dxf.start.y
    assert web.dxf.end.x - start == pytest.approx(math.tau * mean) and web.dxf.end.y == base
    outlines = sheet.on("ELEVATION", "LWPOLYLINE")
    for dog, outline in zip(sheet.report, outlines, strict=True):
        shape = Polygon(outline.get_points("xy"))
        low_x, low_y, high_x, high_y = shape.bounds
        assert (low_y, high_y) == pytest.approx((base, base + dog["height_mm"]), abs=1e-9), dog
        if any(work["do"] in FLANK_WORK for work in sheet.works(dog["place"])):
            continue
        # A trapezium less the breaks of its edges; cutting down leaves the flanks where they are.
        found, wide = sheet.found(dog["place"]), mean * math.radians(dog["tip_width_deg"])
        slopes = sum(math.tan(math.radians(slope)) for slope in slopes_of(sheet, dog))
        half_way = cut_down(dog, found) + dog["height_mm"] / 2
        breaks = [w["break_to_mm"] for w in sheet.works(dog["place"]) if w["do"] == "break"]
        edge = max([found.get("edge_break_mm", 0), *breaks])
        area = dog["height_mm"] * (wide - half_way * slopes) - edge**2
        assert shape.area == pytest.approx(area, rel=1e-9), dog
        if slopes == 0 and not any(slopes_of(sheet, dog)):
            middle = start + mean * math.radians(dog["centre_deg"] % 360)
            assert (low_x + high_x) / 2 == pytest.approx(middle, abs=1e-6)
            assert high_x - low_x == pytest.approx(wide, abs=1e-9)
    assert any("Elevation at Ø" in note for note in sheet.notes())


def test_nothing_of_the_part_is_on_the_layer_of_the_section(sheet):
    for entity in [*sheet.on("DETAIL"), *sheet.on("ELEVATION")]:
        lowest = max(p.y for p in make_path(entity).flattening(0.1))
        assert lowest < -sheet.outer, "the section stands below the plan"


def test_the_depth_stands_beside_each_dog_that_is_worked(sheet):
    web = -sheet.tallest
    levels = {}
    for place in gone(sheet):
        levels[place] = web
    for dog, tip, root in zip(sheet.report, sheet.tips, sheet.roots, strict=True):
        worked = [line for line in (tip, root) if line.dxf.layer == "CUT"]
        if worked:
            levels[dog["place"]] = min(line.dxf.elevation for line in worked)
    want = sorted(f"Z{round(level, 3):g}" for level in levels.values())
    texts = [text for text in sheet.on("NOTE", "TEXT") if words(text).startswith("Z-")]
    beside = [text for text in texts if text.dxf.align_point.magnitude < sheet.outer + 25]
    assert sorted(map(words, beside)) == want
    listed = [words(text) for text in texts if text not in beside]
    assert sorted(listed) == want
    for place, level in levels.items():
        at = math.radians(centre(sheet, place))
        near = [text.dxf.align_point for text in beside if words(text) == f"Z{round(level, 3):g}"]
        turn = [math.remainder(math.atan2(p.y, p.x) - at, math.tau) for p in near]
        assert min(map(abs, turn)) <= math.radians(sheet.found(place)["tip_width_deg"]), place
    assert ("the tallest tip as found" in " ".join(sheet.notes())) == bool(levels)


def centre(sheet, place):
    if "dogs" in sheet.ring:
        return sheet.ring["dogs"][place - 1]["centre_deg"]
    return sheet.number("first_dog_deg") + 360 * (place - 1) / sheet.number("count")


def test_the_cautions_stand_on_the_sheet(sheet):
    told = " ".join(sheet.notes())
    for word in ("hardened", "check for cracks", "lock the rear wheel", "a wheel marked for"):
        assert word in told


def test_areas_are_those_of_the_design(sheet):
    whole = (sheet.roots, lambda dog, found: found["height_mm"])
    for outlines, depth in ((sheet.tips, cut_down), whole):
        for dog, line in zip(sheet.report, outlines):
            if any(work["do"] in FLANK_WORK for work in sheet.works(dog["place"])):
                continue
            found = sheet.found(dog["place"])
            want = section_area(sheet, dog, found, depth(dog, found))
            assert polyline_area(line) == pytest.approx(want, rel=1e-6), dog
            assert Polygon(flattened(line)).area == pytest.approx(want, rel=1e-6), dog


def removed_in_plan(sheet):
    """Whole dogs that come off."""
    lines = sheet.on("CUT", "LWPOLYLINE")
    return [line for line in lines if sheet.line(line) == ("LONG-DASH-DOUBLE-DOT", 25)]


def test_hatching_fills_what_comes_off(sheet):
    """Strokes lie on whole dogs that come off, and cover most of them; they are no path for a tool."""
    strokes = sheet.on("NOTE", "LINE")
    assert not sheet.on("CUT", "LINE")
    off = [Polygon(flattened(line)) for line in removed_in_plan(sheet)]
    for polygon in off:
        ends = [((s.dxf.start.x, s.dxf.start.y), (s.dxf.end.x, s.dxf.end.y)) for s in strokes]
        inside = [LineString(e) for e in ends if polygon.buffer(0.01).contains(LineString(e))]
        covered = sum(stroke.length for stroke in inside) * HATCH_MM
        # Words are left out, and an arc is hatched as a chain of chords.
        assert 0.4 * polygon.area < covered < 1.15 * polygon.area + HATCH_MM * 10


def cut_down(dog, found):
    return found["height_mm"] - dog["height_mm"]


def section_area(sheet, dog, found, depth):
    """Area of a dog `depth` mm below its tip as found. Cutting a dog down does not move its flanks."""
    half = math.radians(dog["tip_width_deg"]) / 2
    slopes = [math.tan(math.radians(found[f"back_cut_{s}_deg"])) for s in ("drive", "coast")]
    radial = sheet.ring.get("flanks", "radial") == "radial"
    if radial and depth * max(map(abs, slopes)) == 0:
        return half * (sheet.outer**2 - sheet.inner**2)
    # The dog turned to point along +x: a piece of the ring between two straight flanks.
    mean = (sheet.inner + sheet.outer) / 2
    left = math.radians(85)
    turns = [left * (2 * i / 4000 - 1) for i in range(4001)]
    rim = [(sheet.outer * math.cos(t), sheet.outer * math.sin(t)) for t in turns]
    bore = [(sheet.inner * math.cos(t), sheet.inner * math.sin(t)) for t in reversed(turns)]
    piece = Polygon(rim + bore)
    for side, slope in zip((-1, 1), slopes):
        direction = side * half if radial else 0.0
        start = side * ((0 if radial else mean * math.sin(half)) - depth * slope)
        piece = piece.intersection(half_plane(direction, start, side))
    return piece.area


def half_plane(direction, start, side):
    """What lies inward of a line in `direction`, moved `start` to its left; `side` is outward."""
    far = 2000.0
    along = (math.cos(direction), math.sin(direction))
    out = (-along[1], along[0])

    def at(length, width):
        return tuple(length * a + width * o for a, o in zip(along, out))

    inward = start - side * far
    return Polygon([at(-far, start), at(far, start), at(far, inward), at(-far, inward)])


def polyline_area(line):
    """Exact area of a polyline with bulges: its corners, and a segment of a circle on each bulge."""
    points = list(line.get_points("xyb"))
    area = 0.0
    for (x, y, bulge), (u, v, _) in zip(points, points[1:] + points[:1]):
        area += (x * v - u * y) / 2
        if bulge:
            turn = 4 * math.atan(bulge)
            radius = math.hypot(u - x, v - y) / 2 / math.sin(turn / 2)
            area += radius**2 * (turn - math.sin(turn)) / 2
    return area


def flattened(line):
    """The outline as ezdxf takes it apart, its arcs in chords within 1e-6 mm."""
    points = []
    for piece in line.virtual_entities():
        straight = piece.dxftype() == "LINE"
        ends = [piece.dxf.start, piece.dxf.end] if straight else piece.flattening(1e-6)
        chords = [(p.x, p.y) for p in ends]
        if points and math.dist(points[-1], chords[0]) > math.dist(points[-1], chords[-1]):
            chords.reverse()
        points += chords
    return points


def test_arcs_lie_on_the_rims(sheet):
    for line in [*sheet.tips, *sheet.roots, *removed_in_plan(sheet)]:
        points = list(line.get_points("xyb"))
        assert sum(bulge != 0 for *_, bulge in points) >= 2
        for (x, y, bulge), (u, v, _) in zip(points, points[1:] + points[:1]):
            if bulge:
                centre, _, _, radius = bulge_to_arc((x, y), (u, v), bulge)
                rim = sheet.outer if bulge > 0 else sheet.inner
                assert radius == pytest.approx(rim, rel=1e-8)
                assert centre.magnitude < 1e-6
                assert math.hypot(x, y) == pytest.approx(rim, abs=1e-9)
                assert math.hypot(u, v) == pytest.approx(rim, abs=1e-9)


def test_dogs_stand_where_the_report_says(sheet):
    for dog, line in zip(sheet.report, sheet.tips):
        # An undercut dog that is cut down may have its tip off its old middle.
        if any(slopes_of(sheet, dog)) or dog["tip_width_deg"] > 180:
            continue
        ends = [complex(x, y) for x, y in line.get_points("xy")]
        # The first and the last corner are the inner ends of the two flanks.
        middle = sum(end / abs(end) for end in (ends[0], ends[-1]))
        turn = math.degrees(math.atan2(middle.imag, middle.real)) - dog["centre_deg"]
        assert (turn + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)


def slopes_of(sheet, dog):
    found = sheet.found(dog["place"])
    return [found[f"back_cut_{side}_deg"] for side in ("drive", "coast")]


def test_the_datum_is_at_angle_0(sheet):
    # The heads of arrows are slimmer.
    (mark,) = [line for line in sheet.closed(3) if math.dist(*line.get_points("xy")[1:]) > 3]
    (tip, *foot) = mark.get_points("xy")
    assert mark.closed and tip[1] == 0 and sheet.outer < tip[0] < sheet.outer + 1
    assert [y for _, y in foot] == pytest.approx([-y for _, y in reversed(foot)])
    assert "datum 0°" in sheet.notes()


def test_the_width_is_dimensioned_counter_clockwise(sheet):
    """One dimension arc spans the first dog that is not cut down, or a little more on both sides."""
    arcs = list(sheet.on("NOTE", "ARC"))
    assert all(0 < span(arc) < 360 for arc in arcs)
    cuts = [cut_down(dog, sheet.found(dog["place"])) for dog in sheet.report]
    at = cuts.index(0) if 0 in cuts else 0
    dog, mean = sheet.report[at], (sheet.inner + sheet.outer) / 2
    leans = [cuts[at] * math.tan(math.radians(slope)) for slope in slopes_of(sheet, dog)]
    half = math.radians(dog["tip_width_deg"]) / 2
    # Cutting down an undercut dog moves the middle of its tip.
    if sheet.ring.get("flanks") == "parallel":
        drive, coast = (math.asin(math.sin(half) - lean / mean) for lean in leans)
    else:
        drive, coast = (half - math.asin(lean / mean) for lean in leans)
    moved = math.degrees(coast - drive) / 2
    want = sheet.report[at]["centre_deg"] + moved
    off = [arc.dxf.start_angle + span(arc) / 2 - want for arc in arcs]
    assert min(abs((turn + 180) % 360 - 180) for turn in off) < 1e-9


def span(arc):
    return (arc.dxf.end_angle - arc.dxf.start_angle) % 360


def test_the_link_is_whole(sheet):
    notes = sheet.notes()
    lines = notes[notes.index("Design:") + 1 :]
    assert "".join(lines) == LINK
    assert all(len(line) <= 60 for line in lines)


def test_the_title_is_words_and_nothing_else(sheet):
    heights = {text.dxf.height for text in sheet.on("NOTE", "TEXT")}
    title = [words(text) for text in sheet.on("NOTE", "TEXT") if text.dxf.height == max(heights)]
    shown = title_shown(sheet.title) or "Untitled"
    assert "".join(title).replace(" ", "") in (shown + "–Jº", shown + "…–Jº")
    kinds = {entity.dxftype() for entity in sheet.doc.modelspace()}
    assert kinds <= {"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT"}
    assert sheet.path.read_text().split("\n").count("ENDSEC") == 6


def title_shown(title):
    """At most 120 letters, here without blanks; a character of more than 16 bits is a “?”."""
    title = title[:120]
    letters = [c for c in title if ord(c) >= 32 and not c.isspace()]
    return "".join(c if ord(c) < 0x10000 else "?" for c in letters)


def test_everything_is_inside_the_extents(sheet):
    low, high = sheet.doc.header["$EXTMIN"], sheet.doc.header["$EXTMAX"]
    points = []
    for entity in sheet.doc.modelspace():
        if entity.dxftype() == "TEXT":
            points.append(entity.dxf.align_point)
            assert entity.dxf.valign == 2 and 0 < entity.dxf.height < 5
        else:
            points.extend(make_path(entity).flattening(0.1))
    assert min(p.x for p in points) > low[0] and max(p.x for p in points) < high[0]
    assert min(p.y for p in points) > low[1] and max(p.y for p in points) < high[1]
