"""Reads printed papers for papers.spec.mjs and says, as JSON, what came out on each page.

    python tests/browser/papers.py FILE.pdf

Sizes are in mm on paper. `squares` are closed paths of four sides that are square to the paper, from the
page's own vectors, with the same edges measured once more on a picture of 600 dpi; `ring` is the width and
height of the largest round path. `white` is how far the ink keeps from each edge of the paper, in px of a
picture of 150 dpi taken back to mm.
"""

import ctypes
import json
import sys

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw

MM = 25.4 / 72
INK = 200  # Darker than this is ink, of 255.


def matrix(item):
    """Where an object's own coordinates lie in what it stands in."""
    m = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(item, m)
    return m.a, m.b, m.c, m.d, m.e, m.f


def after(first, then):
    a, b, c, d, e, f = first
    A, B, C, D, E, F = then
    return a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F


def paths(items, outer=(1, 0, 0, 1, 0, 0)):
    """Points of every path on the page, pt from its lower left corner, with the kinds of their segments."""
    for item in items:
        kind, here = raw.FPDFPageObj_GetType(item), after(matrix(item), outer)
        if kind == raw.FPDF_PAGEOBJ_FORM:
            count = raw.FPDFFormObj_CountObjects(item)
            yield from paths((raw.FPDFFormObj_GetObject(item, at) for at in range(count)), here)
        elif kind == raw.FPDF_PAGEOBJ_PATH:
            points, kinds = [], []
            for at in range(raw.FPDFPath_CountSegments(item)):
                segment = raw.FPDFPath_GetPathSegment(item, at)
                x, y = ctypes.c_float(), ctypes.c_float()
                raw.FPDFPathSegment_GetPoint(segment, x, y)
                a, b, c, d, e, f = here
                points.append((a * x.value + c * y.value + e, b * x.value + d * y.value + f))
                kinds.append(raw.FPDFPathSegment_GetType(segment))
            if points:
                yield np.array(points), kinds


def is_square(points, kinds):
    """Five points, the last on the first, along the edges of the paper, as high as wide."""
    if len(points) != 5 or raw.FPDF_SEGMENT_BEZIERTO in kinds or np.abs(points[0] - points[4]).max() > 0.01:
        return False
    sides = np.abs(np.diff(points, axis=0))
    along = (sides.min(axis=1) < 0.01).all() and sides.max(axis=1).min() > 1
    return along and np.ptp(sides.max(axis=1)) < 0.05


def dark(page, dpi):
    return np.asarray(page.render(scale=dpi / 72).to_pil().convert("L")) < INK


def edge_middles(dark_share):
    """Middles of the first and the last run of lines that are mostly ink, px."""
    full = np.flatnonzero(dark_share > 0.8)
    if len(full) < 2:
        return None
    runs = np.split(full, np.flatnonzero(np.diff(full) > 1) + 1)
    return (runs[0].mean(), runs[-1].mean()) if len(runs) > 1 else None


def measured(page, box):
    """Width and height of a square from the middles of its lines on a picture of 600 dpi, mm."""
    dpi, around = 600, 3.0
    left, bottom, right, top = box
    high = page.get_height()
    picture = dark(page, dpi)
    px = dpi / 72
    rows = slice(round((high - top - around) * px), round((high - bottom + around) * px))
    columns = slice(round((left - around) * px), round((right + around) * px))
    cut = picture[rows, columns]
    inner = round(2 * around * px)
    across = edge_middles(cut[inner:-inner].mean(axis=0))
    down = edge_middles(cut[:, inner:-inner].mean(axis=1))
    return [None if pair is None else (pair[1] - pair[0]) / px * MM for pair in (across, down)]


def read(page):
    count = raw.FPDFPage_CountObjects(page)
    drawn = list(paths(raw.FPDFPage_GetObject(page, at) for at in range(count)))
    squares, round_ones = [], [(0.0, 0.0)]
    for points, kinds in drawn:
        low, high = points.min(axis=0), points.max(axis=0)
        width, height = (high - low) * MM
        # What is smaller is a tick box or an arrow; larger, a frame.
        if is_square(points, kinds) and 4 < width < 60:
            box = (*low, *high)
            squares.append({"vector": [width, height], "picture": measured(page, box), "at": [v * MM for v in box]})
        if raw.FPDF_SEGMENT_BEZIERTO in kinds and abs(width - height) < 0.2:
            round_ones.append((width, height))
    ink = dark(page, 150)
    rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
    to_mm = 25.4 / 150
    high, wide = ink.shape
    white = None
    if len(rows):
        white = {
            "top": rows[0] * to_mm,
            "bottom": (high - 1 - rows[-1]) * to_mm,
            "left": columns[0] * to_mm,
            "right": (wide - 1 - columns[-1]) * to_mm,
        }
    return {
        "size": [page.get_width() * MM, page.get_height() * MM],
        "text": page.get_textpage().get_text_range().replace("\r\n", "\n"),
        "squares": squares,
        "ring": max(round_ones),
        "white": white,
        "ink": float(ink.mean()),
    }


def main():
    document = pdfium.PdfDocument(sys.argv[1])
    print(json.dumps([read(page) for page in document], ensure_ascii=False, default=float))


if __name__ == "__main__":
    main()
