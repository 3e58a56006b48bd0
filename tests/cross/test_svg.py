"""The SVG files, read as XML and drawn by an independent renderer, then measured in the picture."""

import io
import re
import xml.etree.ElementTree as ET
from functools import cached_property

import numpy as np
import pytest
import resvg_py
from conftest import SVG_TAGS, export
from PIL import Image

SVG = "{http://www.w3.org/2000/svg}"
DRAWINGS = ["ring-a", "ring-b"]
CHARTS = ["outcome-map", "chances"]
VIEWS = ["face", "unrolled", "phase-map", *CHARTS]

# 10 dots on a mm.
DPI = 254

TITLES = {
    "plain": "Second gear",
    "markup": "</title><script>alert(1)</script><svg onload='x'>&amp;&#0;<!-- ]]> --><?pi?>",
    "quotes": "\" ' ` onload=\"alert(1)\" style='x' “ ” « »",
    "right-to-left": "שיניים \u202e\u2067 أسنان \u202c",
    "emoji": "⚙️ 😀 𝔊 👩🏽‍🔧 切削歯車 गियर",
    "control": "a\u0000b\u0001c\u0008d\u000be\u001bf\ufffeg\uffffh\u007f\u0085",
    "blanks": "\t line\none \r\n two\u2028three",
    "empty": "",
    "long": "WWWW " * 24,
}

SMALL = {"inner_diameter_mm": 7, "outer_diameter_mm": 12}
LARGE = {"inner_diameter_mm": 150, "outer_diameter_mm": 200}

RINGS = {
    "plain": ({}, {}),
    "markup": ({"count": 3, "tip_width_deg": 40}, {"count": 3}),
    "quotes": ({"heights": [1, 0.5]}, {"cuts": {"1": "remove", "3": 2.5}, "back_cut_drive_deg": 4}),
    "right-to-left": ({"count": 30, "tip_width_deg": 5.6}, {"count": 96, "tip_width_deg": 2}),
    "emoji": (SMALL | {"count": 4}, SMALL | {"count": 1}),
    "control": (LARGE | {"height_mm": 12}, LARGE | {"flanks": "parallel"}),
    "blanks": ({"dogs": [{"centre_deg": 0.4}, {"centre_deg": 121.5}, {"centre_deg": -100}]}, {}),
    "empty": ({"first_dog_deg": 90}, {"first_dog_deg": 45}),
    "long": ({"count": 2}, {"back_cut_drive_deg": -5}),
}


@pytest.fixture(scope="module")
def folders(tmp_path_factory):
    link = "https://example.org/#1." + "Wq_" * 99
    folders = {}
    for name, title in TITLES.items():
        a, b = RINGS[name]
        design = {"title": title, "a": a, "b": b}
        folders[name] = export(design, tmp_path_factory.mktemp(name), link)
    return folders


class Drawing:
    """One file, its root element and its size in mm."""

    def __init__(self, path, name):
        self.name = path.stem
        self.title = TITLES[name]
        self.text = path.read_text(encoding="utf-8")
        self.root = ET.parse(path).getroot()
        self.width, self.height = (self.length(key) for key in ("width", "height"))

    def length(self, key):
        return float(re.fullmatch(r"([\d.]+)mm", self.root.get(key))[1])

    @cached_property
    def picture(self):
        """Brightness of every dot, 0 black to 255 white."""
        png = resvg_py.svg_to_bytes(svg_string=self.text, dpi=DPI, background="#ffffff")
        return np.asarray(Image.open(io.BytesIO(bytes(png))).convert("L"))


def of(*names):
    each = [(title, name) for title in TITLES for name in names]
    return pytest.mark.parametrize("drawing", each, ids="-".join, indirect=True)


@pytest.fixture(scope="module")
def drawing(request, folders):
    title, name = request.param
    return Drawing(folders[title] / f"{name}.svg", title)


@of(*DRAWINGS, *VIEWS)
def test_it_is_true_to_size(drawing):
    assert drawing.root.tag == SVG + "svg"
    box = [float(part) for part in drawing.root.get("viewBox").split()]
    assert box == [0, 0, drawing.width, drawing.height]
    numbers = re.findall(r"(?<![#\w.-])-?\d+\.\d{5,}", drawing.text)
    assert not numbers and "NaN" not in drawing.text and "inf" not in drawing.text.lower()


@of(*DRAWINGS, *VIEWS)
def test_somebodys_words_stay_words(drawing):
    tags = {element.tag.removeprefix(SVG) for element in drawing.root.iter()}
    assert tags <= SVG_TAGS
    keys = {key for element in drawing.root.iter() for key in element.attrib}
    assert not [key for key in keys if key.startswith("on") or "href" in key or key == "style"]
    known = re.sub("[^\t\n\r\u0020-\ufffd\U00010000-\U0010ffff]", "", drawing.title)
    # XML readers take every line end for \n.
    known = known.replace("\r\n", "\n").replace("\r", "\n")
    assert (drawing.root.find(SVG + "title").text or "").strip() == known.strip()


@of(*DRAWINGS)
def test_the_title_is_on_the_drawing(drawing):
    sizes = [(float(t.get("font-size")), t.text) for t in drawing.root.iter(SVG + "text")]
    largest = max(size for size, _ in sizes)
    shown = "".join(words or "" for size, words in sizes if size == largest)
    legal = re.sub("[^\t\n\r\u0020-\ufffd\U00010000-\U0010ffff]", "", drawing.title[:120])
    bare = "".join(legal.split()) or "Untitled"
    assert "".join(shown.split()) in (bare, bare + "…")


@of(*DRAWINGS, *VIEWS)
def test_the_picture_is_not_blank(drawing):
    dots = [drawing.height * DPI / 25.4, drawing.width * DPI / 25.4]
    assert drawing.picture.shape == pytest.approx(dots, abs=1)
    ink = (drawing.picture < 128).mean()
    # A chart of shifts that never go in is dark all over.
    assert 0.003 < ink < (0.9 if drawing.name in CHARTS else 0.5)


@of(*DRAWINGS)
def test_the_paper_is_white(drawing):
    assert (drawing.picture > 250).mean() > 0.85


@of(*DRAWINGS)
def test_the_square_measures_10_mm_in_the_picture(drawing):
    (square,) = [path for path in drawing.root.iter(SVG + "path") if path.get("class") == "check"]
    corners = np.array(re.findall(r"[ML]([\d.]+) ([\d.]+)", square.get("d")), float)
    left, top = (corners.min(axis=0) * DPI / 25.4).round().astype(int)
    picture = drawing.picture
    # Straight through the square, from 2 mm before to 2 mm behind it.
    across = picture[top + 50, left - 20 : left + 120]
    down = picture[top - 20 : top + 120, left + 50]
    for cut in (across, down):
        dark = np.flatnonzero(cut < 128)
        middle = len(cut) / 2
        first, last = dark[dark < middle].mean(), dark[dark > middle].mean()
        assert last - first == pytest.approx(100, abs=1)


@of(*DRAWINGS)
def test_nothing_leaves_the_sheet(drawing):
    """The sheet has a margin of 6 mm; no letter, however wide, comes near its edge."""
    picture = drawing.picture
    inside = picture[20:-20, 20:-20]
    assert (picture < 250).sum() == (inside < 250).sum()
