"""Runs the example programs on a design: what it computes, and what it exports."""

import io
import json
import math
import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# Elements of our drawings; one more would be somebody's text.
SVG_TAGS = set("svg title desc style defs pattern g rect path circle text".split())

EXAMPLES = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "debug" / "examples"


def run(program: str, *arguments: str, given: str = "") -> str:
    """Standard output of an example; what it complains of if it fails or does not know a key."""
    path = EXAMPLES / program
    assert path.exists(), f"{path} is missing: cargo build --examples"
    done = subprocess.run([path, *arguments], input=given, capture_output=True, encoding="utf-8")
    assert done.returncode == 0 and "is an unknown key" not in done.stderr, done.stderr
    return done.stdout


def report(design: dict) -> dict:
    """The report of a design, its numbers at full precision."""
    report = json.loads(run("report", "-", given=json.dumps({"crenel": 1} | design)))
    assert report["computed"], report["findings"]
    return report


def export(design: dict, tmp_path: Path, *link: str) -> Path:
    """A folder with every file the design can be exported to."""
    saved = tmp_path / "given.json"
    saved.write_text(json.dumps({"crenel": 1} | design), encoding="utf-8")
    folder = tmp_path / "exported"
    run("export", str(saved), str(folder), *link)
    return folder


def table(text: str) -> io.StringIO:
    """The table of a CSV file, without the lines above it that say what to mind."""
    heads = []
    while text.startswith("#"):
        head, text = text.split("\n", 1)
        heads.append(head)
    assert len(heads) == 7 and not any("," in head for head in heads)
    return io.StringIO(text, newline="")


# ---- what a design means, worked out here from its saved form ----

DEFAULTS = {
    "inner_diameter_mm": 44.0,
    "outer_diameter_mm": 60.0,
    "count": 6,
    "tip_width_deg": 24.0,
    "height_mm": 5.0,
    "back_cut_drive_deg": 0.0,
    "back_cut_coast_deg": 0.0,
    "first_dog_deg": 0.0,
    "heights": [1],
    "centre_deg": 0.0,
    "flanks": "radial",
}


class Dog:
    """One dog as found, and how much of it was cut down."""

    def __init__(self, given: dict, height: float, cut):
        value = DEFAULTS | given
        self.centre = math.radians(value["centre_deg"])
        self.width = math.radians(value["tip_width_deg"])
        self.tan_drive = math.tan(math.radians(value["back_cut_drive_deg"]))
        self.tan_coast = math.tan(math.radians(value["back_cut_coast_deg"]))
        left = 0.0 if cut == "remove" else min(height, cut or height)
        self.height, self.cut_down = left, height - left


class Ring:
    """A ring of the saved form with the dogs that stand."""

    def __init__(self, given: dict):
        value = DEFAULTS | given
        self.inner = value["inner_diameter_mm"] / 2
        self.outer = value["outer_diameter_mm"] / 2
        self.mean = (self.inner + self.outer) / 2
        self.parallel = value["flanks"] == "parallel"
        cuts = value.get("cuts", {})
        found = value["dogs"] if "dogs" in value else self._even(value)
        dogs = [
            Dog(dog, dog.get("height_mm", DEFAULTS["height_mm"]), cuts.get(str(place + 1)))
            for place, dog in enumerate(found)
        ]
        self.dogs = [dog for dog in dogs if dog.height > 0]
        self.tallest = max(dog.height for dog in self.dogs)
        # What the cuts took off the tallest tip is lost from the overlap.
        self.lowered = max(dog.height + dog.cut_down for dog in dogs) - self.tallest

    @staticmethod
    def _even(value: dict) -> list[dict]:
        count, heights = value["count"], value["heights"]
        return [
            value
            | {
                "centre_deg": value["first_dog_deg"] + 360 / count * place,
                "height_mm": value["height_mm"] * heights[place % len(heights)],
            }
            for place in range(count)
        ]

    def half_chord(self, dog: Dog) -> float:
        """Half the tip as found, square to the middle line."""
        return self.mean * math.sin(dog.width / 2)

    def half_width_at(self, dog: Dog, radius: float) -> float:
        """Half the angle of the tip as found at a radius."""
        return math.asin(self.half_chord(dog) / radius) if self.parallel else dog.width / 2
