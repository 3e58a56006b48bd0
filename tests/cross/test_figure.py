"""Figures for papers, drawn by an independent renderer (resvg) and measured in the picture."""

import bisect
import io
import json
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
import resvg_py
from conftest import ROOT, report, run
from PIL import Image

SVG = "{http://www.w3.org/2000/svg}"
DPI = 254  # 10 dots on a mm.
DOTS = DPI / 25.4

# Views that have words; every one of the pair is read.
VIEWS = ["face", "unrolled", "map"]


def figure(what, *style, width=85, points=8, design=None):
    given = json.dumps({"crenel": 1} | (design or {}))
    return run("figure", "-", what, str(width), str(points), *style, given=given)


def drawn(svg, dpi=DPI):
    """Red, green and blue of every dot. No font is at hand: words that are no outlines leave no ink."""
    png = resvg_py.svg_to_bytes(svg_string=svg, dpi=dpi, background="#ffffff", skip_system_fonts=True)
    return np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGB")).astype(int)


def points_of(path):
    """Absolute points of a path of M, L and Q, all pairs of its numbers."""
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d"))]
    return np.array(numbers).reshape(-1, 2)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("width", [85, 120, 175])
def test_a_figure_is_as_wide_as_its_column_and_needs_no_font(view, width):
    svg = figure(view, "outlines", width=width)
    root = ET.fromstring(svg)
    assert root.get("width") == f"{width}mm"
    assert root.findall(f".//{SVG}text") == []
    picture = drawn(svg)
    assert picture.shape[1] == pytest.approx(width * DOTS, abs=1)
    dark = picture.min(axis=2) < 128
    letters = [p for p in root.iter(SVG + "path") if p.get("class", "").startswith("letters")]
    assert len(letters) > 5
    for path in letters:
        (left, top), (right, bottom) = points_of(path).min(axis=0), points_of(path).max(axis=0)
        assert left >= 0 and right <= width + 0.01, path.get("aria-label")
        cut = dark[int(top * DOTS) : int(bottom * DOTS) + 2, int(left * DOTS) : int(right * DOTS) + 2]
        assert cut.any(), f"no ink at {path.get('aria-label')}"


def test_words_as_outlines_are_as_wide_as_the_program_takes_them_for():
    """A letter is 0.55 of its height on the average: no line of words is much wider, so none runs into its neighbour."""
    root = ET.fromstring(figure("face", "outlines"))
    for path in root.iter(SVG + "path"):
        if not path.get("class", "").startswith("letters"):
            continue
        words, points = path.get("aria-label"), points_of(path)
        height = 8 * 25.4 / 72 * 13 / 12
        assert np.ptp(points[:, 0]) < 1.12 * 0.55 * len(words) * height + height, words


def test_outlines_stand_where_the_words_stood():
    """The same file with words: as many of them, each beginning, centred or ending where its outline does."""
    words = ET.fromstring(figure("face")).findall(f".//{SVG}text")
    paths = [p for p in ET.fromstring(figure("face", "outlines")).iter(SVG + "path") if p.get("aria-label")]
    assert [w.text for w in words] == [p.get("aria-label") for p in paths]
    for word, path in zip(words, paths):
        x, size = float(word.get("x")), float(word.get("font-size"))
        left, right = points_of(path)[:, 0].min(), points_of(path)[:, 0].max()
        at = {"start": left, "middle": (left + right) / 2, "end": right}[word.get("text-anchor")]
        assert at == pytest.approx(x, abs=0.15 * size), word.text


def test_outlines_are_those_of_the_file():
    """Each letter drawn from the file itself, as SVG reads its steps, gives the very picture of the figure's outline."""
    lines = (ROOT / "www/letters.txt").read_text(encoding="utf-8").split("\n\n", 1)[1].splitlines()
    letters = {line[0]: line[2:].partition(" ") for line in lines}
    root = ET.fromstring(figure("face", "outlines"))
    paths = [p for p in root.iter(SVG + "path") if p.get("aria-label")]
    box = root.get("viewBox")
    sheet = f'<svg xmlns="http://www.w3.org/2000/svg" width="{root.get("width")}" height="{root.get("height")}" viewBox="{box}">'
    size = 8 * 25.4 / 72
    caption = [p for p in paths if len(p.get("aria-label")) > 20]
    assert len(caption) > 2
    for path in caption:
        # The first letter of a line begins half a letter height from the edge.
        base = max(y for _, y in points_of(path))
        ours = drawn(f'{sheet}<path d="{path.get("d")}"/></svg>').min(axis=2) < 128
        x, parts = size / 2, []
        for letter in path.get("aria-label"):
            advance, _, outline = letters[letter]
            parts.append(f'<path d="{outline}" transform="translate({x} {{y}}) scale({size / 1000} {-size / 1000})"/>')
            x += float(advance) * size / 1000
        # The base line: below it only tails reach.
        best = min(
            (np.mean(ours != (drawn(sheet + "".join(parts).replace("{y}", str(base - drop)) + "</svg>").min(axis=2) < 128)))
            for drop in (0, 0.0115 * size, 0.207 * size, 0.212 * size)
        )
        assert best < 0.1 * ours.mean(), path.get("aria-label")


# ---- maps ----

# A figure over two inputs, each with its ends, and the design that has two values of them.
MAPS = {
    "lash_deg,tip_width_deg,10,24,count,3,8": lambda x, y: {
        side: {"tip_width_deg": x, "count": y} for side in "ab"
    },
    "straight_in_limit_rpm,tip_width_deg,10,28,hold_depth_mm,0.5,2": lambda x, y: {
        "a": {"tip_width_deg": x}, "b": {"tip_width_deg": x}, "hold_depth_mm": y
    },
}


class Map:
    # Finer than elsewhere: on a coarse picture the soft edge of ink has the grey of a band.
    dots = 2 * DOTS

    def __init__(self, what, *style):
        self.svg = figure(what, "outlines", *style, width=120)
        self.root = ET.fromstring(self.svg)
        self.picture = drawn(self.svg, 2 * DPI)
        key, _, *numbers = what.split(",")
        self.figure = key
        self.x = [float(numbers[0]), float(numbers[1])]
        self.y = [float(numbers[3]), float(numbers[4])]
        borders = [points_of(p) for p in self.of("border") if p.get("d").endswith("Z")]
        # The chart is the largest frame; the strip of the key the widest of the others.
        frames = sorted(borders, key=lambda b: -np.ptp(b[:, 0]) * np.ptp(b[:, 1]))
        self.plot, self.key = [(f.min(axis=0), f.max(axis=0)) for f in frames[:2]]
        (_, top), (_, bottom) = self.key
        below = [p for p in self.root.iter(SVG + "path") if p.get("aria-label")]
        middles = {p.get("aria-label"): points_of(p).mean(axis=0) for p in below
                   if 0 < points_of(p)[:, 1].min() - bottom < 4}
        self.levels = sorted(float(words) for words, (x, y) in middles.items() if re.fullmatch(r"[\d.]+", words))

    def of(self, name):
        return [p for p in self.root.iter(SVG + "path") if name in p.get("class", "").split()]

    def near(self, x, y):
        """The dots near a place: a line or a letter may be there."""
        x, y = int(x * self.dots), int(y * self.dots)
        return self.picture[y - 8 : y + 9, x - 8 : x + 9].reshape(-1, 3)

    def band(self, number):
        """The colour of a band of the key, the lowest first."""
        (left, top), (right, bottom) = self.key
        near = self.near(left + (right - left) * (number + 0.5) / (len(self.levels) + 1), (top + bottom) / 2)
        colours, counts = np.unique(near, axis=0, return_counts=True)
        return colours[counts.argmax()]

    def read(self, x, y, bands):
        """The band that most dots have where the inputs have two values; none where it is hidden by ink."""
        (left, top), (right, bottom) = self.plot
        (x0, x1), (y0, y1) = self.x, self.y
        across = left + (right - left) * (x - x0) / (x1 - x0)
        near = self.near(across, bottom - (bottom - top) * (y - y0) / (y1 - y0))
        counts = [(np.abs(near - band).max(axis=1) <= 3).sum() for band in bands]
        return int(np.argmax(counts)) if max(counts) > 20 else None


@pytest.mark.parametrize("style", [(), ("black",)])
@pytest.mark.parametrize("what", MAPS)
def test_a_map_has_the_colour_of_its_key_wherever_it_is_read(what, style):
    put = MAPS[what]
    drawing = Map(what, *style)
    assert len(drawing.levels) >= 3
    bands = [drawing.band(n) for n in range(len(drawing.levels) + 1)]
    lightness = [band @ [0.299, 0.587, 0.114] for band in bands]
    assert all(a - b > 9 for a, b in zip(lightness, lightness[1:])), "each band is darker than the one before"
    if style:
        assert (np.ptp(drawing.picture, axis=2) <= 1).all(), "in black and white there are greys only"
    whole = "count," in what
    (x0, x1), (y0, y1) = drawing.x, drawing.y
    if whole:
        # Whole numbers reach half way to their neighbours.
        drawing.y = [y0 - 0.5, y1 + 0.5]
    checked = 0
    for x in np.linspace(x0, x1, 9)[1:-1]:
        for y in range(int(y0), int(y1) + 1) if whole else np.linspace(y0, y1, 7)[1:-1]:
            value = report(put(float(x), y))["figures"].get(drawing.figure)
            if value is None:
                continue
            band = bisect.bisect_right(drawing.levels, value)
            near = min(abs(value - level) for level in drawing.levels)
            if near < 0.03 * (drawing.levels[-1] - drawing.levels[0]):
                continue
            seen = drawing.read(x, y, bands)
            if seen is None:
                continue
            assert seen == band, (x, y, value)
            checked += 1
    assert checked > 15
