"""Writes www/letters.txt: outlines of the letters that figures are exported with as paths.

    target/venv/bin/python tools/letters.py LiberationSans-Regular.ttf LICENCE

The font is Liberation Sans 2.1.5 under the SIL Open Font License 1.1, of which LICENCE is the text as it came with it.
The outlines are a modified version, so they have no name of their own but that of their file. Above the first empty line
is the licence. Below, each line is a letter, its advance and its outline in thousandths of
the type size, y up: m, l and q as in SVG; a figure closes by itself.
"""

import math
import re
import sys
from pathlib import Path

from fontTools.misc.transform import Transform
from fontTools.pens.basePen import BasePen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

EM = 1000
RANGES = [(0x20, 0x7E), (0xA0, 0x17F), (0x391, 0x3CE)]
# An arrow that the font lacks is one that it has, turned about the middle of its square, degrees.
TURNED = {"↘": ("→", -45)}
OTHERS = "–—‘’“”„…‰′″€←↑→↓−√∞∫≈≠≤≥▲▼○●₀₁₂⁴ⁿΩ"


class Outline(BasePen):
    """Writes each point from the one before: an accented letter then has the very text of the letter in it."""

    def __init__(self, glyphs, scale):
        super().__init__(glyphs)
        self.scale, self.parts, self.at = scale, [], (0, 0)

    def write(self, command, *points):
        ends = [tuple(round(v * self.scale) for v in point) for point in points]
        steps = [str(end[axis] - self.at[axis]) for end in ends for axis in (0, 1)]
        self.parts.append(command + re.sub(" -", "-", " ".join(steps)))
        self.at = ends[-1]

    def _moveTo(self, point):
        self.write("m", point)

    def _lineTo(self, point):
        self.write("l", point)

    def _qCurveToOne(self, control, point):
        self.write("q", control, point)


def main():
    font, licence = TTFont(sys.argv[1]), Path(sys.argv[2]).read_text(encoding="utf-8")
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    scale = EM / font["head"].unitsPerEm
    codes = [code for first, last in RANGES for code in range(first, last + 1)]
    codes += [ord(letter) for letter in OTHERS if ord(letter) not in codes]
    lines = []
    for code in codes:
        if code in names:
            pen = Outline(glyphs, scale)
            glyphs[names[code]].draw(pen)
            lines.append(f"{chr(code)} {round(glyphs[names[code]].width * scale)} {''.join(pen.parts)}".rstrip())
    for letter, (arrow, by) in TURNED.items():
        pen, glyph = Outline(glyphs, scale), glyphs[names[ord(arrow)]]
        x, y = glyph.width / 2, 0.34 * font["head"].unitsPerEm
        turned = Transform().translate(x, y).rotate(math.radians(by)).translate(-x, -y)
        glyph.draw(TransformPen(pen, turned))
        lines.append(f"{letter} {round(glyph.width * scale)} {''.join(pen.parts)}")
    head = re.sub(r"\n\s*\n", "\n.\n", licence.strip())
    out = Path(__file__).parent.parent / "www" / "letters.txt"
    out.write_text(f"{head}\n\n" + "\n".join(lines) + "\n", encoding="utf-8")


main()
