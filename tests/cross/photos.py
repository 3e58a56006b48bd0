"""Photographs of our own solids, worked out ray by ray: what a camera sees of the STL file of a ring."""

import json
import math
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import trimesh
from scipy import ndimage
from trimesh.ray.ray_pyembree import RayMeshIntersector

# How the metal reflects: ground tips brighter than what is milled below them.
TIP, BODY, TABLE = 0.92, 0.45, 0.16
# Rays for each side of a pixel in which an edge lies.
FINE = 3


@dataclass(frozen=True)
class Shot:
    """How a picture is taken."""

    tilt_deg: float = 0.0
    toward_deg: float = 0.0
    turn_deg: float = 0.0
    away_mm: float = 480.0
    pixels: int = 1200
    blur_px: float = 0.7
    noise: float = 2.5
    light: tuple[float, float, float] = (0.25, 0.35, 0.9)
    shadow: bool = True
    # Edges of the tips rounded by so many mm, and bits broken off corners by their radius, dog by dog.
    worn_mm: float = 0.0
    chips: tuple[tuple[int, float], ...] = ()
    # What is near the axis is moved aside by so many mm, as a bore that runs out is.
    bore_mm: float = 0.0
    seed: int = 1

    def rotation(self) -> np.ndarray:
        """From the ring to the camera, which looks along −z with y upwards."""
        turn = math.radians(self.turn_deg)
        spin = np.array([[math.cos(turn), -math.sin(turn), 0], [math.sin(turn), math.cos(turn), 0], [0, 0, 1]])
        at, lean = math.radians(self.toward_deg), math.radians(self.tilt_deg)
        x, y = -lean * math.sin(at), lean * math.cos(at)
        cross = np.array([[0, 0, y], [0, 0, -x], [-y, x, 0]])
        if lean == 0:
            return spin
        turned = np.eye(3) + math.sin(lean) / lean * cross + (1 - math.cos(lean)) / lean**2 * cross @ cross
        return turned @ spin

    def focal(self, radius: float) -> float:
        """A lens that makes the ring nearly fill the picture, px."""
        return 0.45 * self.pixels / radius * self.away_mm

    def place(self, points: np.ndarray, top: float, radius: float) -> np.ndarray:
        """Where points of the ring are seen."""
        seen = (np.asarray(points) - [0, 0, top]) @ self.rotation().T - [0, 0, self.away_mm]
        by = self.focal(radius) / -seen[:, 2:]
        return self.pixels / 2 + by * seen[:, :2] * [1, -1]


class Ring:
    """The solid of a ring, its dogs standing up."""

    def __init__(self, path: Path, outer: float, inner: float, tips: list[tuple[float, float]]):
        self.mesh = trimesh.load_mesh(path)
        self.top = float(self.mesh.bounds[1][2])
        self.outer, self.inner, self.tips = outer, inner, tips

    def picture(self, shot: Shot) -> np.ndarray:
        """Grey pixels, 0 to 255."""
        mesh = self.mesh
        if shot.bore_mm:
            mesh = mesh.copy()
            near = np.hypot(mesh.vertices[:, 0], mesh.vertices[:, 1]) < self.inner - 1
            mesh.vertices[near, 0] += shot.bore_mm
        scene = Scene(self, RayMeshIntersector(mesh), mesh.face_normals, shot)
        wide = shot.pixels
        rows, columns = np.mgrid[0:wide, 0:wide] + 0.5
        light, what = scene.light(columns.ravel(), rows.ravel())
        light, what = light.reshape(wide, wide), what.reshape(wide, wide)
        # Only pixels in which something ends need more than one ray.
        edge = ndimage.maximum_filter(what, 3) != ndimage.minimum_filter(what, 3)
        flat = (ndimage.maximum_filter(light, 3) - ndimage.minimum_filter(light, 3)) > 3
        at = np.argwhere(edge | flat)
        steps = (np.arange(FINE) + 0.5) / FINE
        x = (at[:, 1, None, None] + steps[None, :, None] + np.zeros((1, 1, FINE))).ravel()
        y = (at[:, 0, None, None] + steps[None, None, :] + np.zeros((1, FINE, 1))).ravel()
        fine, _ = scene.light(x, y)
        light[at[:, 0], at[:, 1]] = fine.reshape(len(at), -1).mean(axis=1)
        light = ndimage.gaussian_filter(light, shot.blur_px)
        light += np.random.default_rng(shot.seed).normal(0, shot.noise, light.shape)
        return np.clip(np.round(light), 0, 255).astype(np.uint8)

    def truth(self, shot: Shot) -> list[tuple[float, float]]:
        """Both flanks of each dog as they stand in the picture, degrees."""
        return [(centre - width / 2 + shot.turn_deg, centre + width / 2 + shot.turn_deg) for centre, width in self.tips]

    def circle(self, shot: Shot, radius: float, off: float = 0.0, height: float = 0.0) -> dict:
        """An ellipse laid over a circle by somebody who is off by a share."""
        corners = [[radius, 0], [0, radius], [-radius, 0], [0, -radius]]
        spin = np.radians(-shot.turn_deg)
        turned = np.array(corners) @ np.array(
            [[math.cos(spin), math.sin(spin)], [-math.sin(spin), math.cos(spin)]]
        )
        seen = shot.place(np.column_stack([turned, np.full(4, self.top + height)]), self.top, self.outer)
        middle = seen.mean(axis=0)
        half = [(seen[0] - seen[2]) / 2 * (1 + off), (seen[1] - seen[3]) / 2 * (1 - off)]
        middle = middle + off * np.linalg.norm(half[0]) * np.array([0.6, -0.5])
        return {"middle": middle.tolist(), "half": [h.tolist() for h in half], "height_mm": height}


class Scene:
    """What rays meet."""

    def __init__(self, ring: Ring, rays: RayMeshIntersector, normals: np.ndarray, shot: Shot):
        self.ring, self.rays, self.normals, self.shot = ring, rays, normals, shot
        self.turn = shot.rotation()
        light = np.array(shot.light)
        # The light stands with the camera, not with the ring.
        self.sun = self.turn.T @ (light / np.linalg.norm(light))
        self.rng = np.random.default_rng(5)

    def light(self, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Light at places of the picture, and a number for what is seen there."""
        shot, ring = self.shot, self.ring
        focal = shot.focal(ring.outer)
        ways = np.column_stack([(x - shot.pixels / 2) / focal, (shot.pixels / 2 - y) / focal, np.full(len(x), -1.0)])
        ways = ways @ self.turn
        ways /= np.linalg.norm(ways, axis=1)[:, None]
        eye = np.array([0, 0, shot.away_mm]) @ self.turn + [0, 0, ring.top]
        faces = self.rays.intersects_first(np.broadcast_to(eye, ways.shape), ways)
        light = np.full(len(x), 255 * TABLE)
        what = np.full(len(x), -1)
        hit = faces >= 0
        normal = self.normals[faces[hit]]
        # Where the ray meets the plane of its facet.
        corner = self.rays.mesh.triangles[faces[hit], 0]
        along = np.einsum("ij,ij->i", corner - eye, normal) / np.einsum("ij,ij->i", ways[hit], normal)
        at = eye + along[:, None] * ways[hit]
        # The web is at 0; tips that were cut down are as bright as the others.
        is_tip = (normal[:, 2] > 0.99) & (at[:, 2] > 0.2)
        normal = self.worn(at, normal, is_tip)
        shade = np.clip(normal @ self.sun, 0, None)
        if shot.shadow:
            below = ~is_tip & (shade > 0)
            dark = self.rays.intersects_any(at[below] + 1e-3 * self.normals[faces[hit]][below], np.broadcast_to(self.sun, at[below].shape))
            shade[np.flatnonzero(below)[dark]] *= 0.25
        albedo = np.where(is_tip, TIP, BODY)
        for dog, size in shot.chips:
            centre, width = ring.tips[dog]
            for side in (-1, 1):
                angle = math.radians(centre + side * width / 2)
                radius = ring.outer if side > 0 else (ring.outer + ring.inner) / 2
                off = at[:, :2] - radius * np.array([math.cos(angle), math.sin(angle)])
                albedo = np.where(is_tip & (np.hypot(off[:, 0], off[:, 1]) < size), 0.3, albedo)
        light[hit] = 255 * albedo * (0.25 + 0.75 * shade)
        what[hit] = np.round((np.arctan2(normal[:, 1], normal[:, 0]) * 4 + normal[:, 2] * 100 + at[:, 2] * 7) * 2).astype(int)
        return light, what

    def worn(self, at: np.ndarray, normal: np.ndarray, is_tip: np.ndarray) -> np.ndarray:
        """Normals of tips whose edges are rounded."""
        worn = self.shot.worn_mm
        if not worn:
            return normal
        angle, radius = np.arctan2(at[:, 1], at[:, 0]), np.hypot(at[:, 0], at[:, 1])
        normal = normal.copy()
        for centre, width in self.ring.tips:
            for side in (-1, 1):
                flank = math.radians(centre + side * width / 2)
                off = radius * np.sin((angle - flank) * -side)
                on = is_tip & (off >= 0) & (off < worn) & (np.cos(angle - flank) > 0)
                lean = (1 - off[on] / worn) * math.pi / 2 * 0.8
                way = side * np.array([-math.sin(flank), math.cos(flank)])
                normal[on] = np.column_stack([np.sin(lean)[:, None] * way, np.cos(lean)])
        return normal



def write_fixtures(program: Path, folder: Path) -> None:
    """The pictures of `tests/browser/photo.spec.mjs`: a ring with one dog a degree wide, squarely and far off square, the
    same under another light, and with dog 3 cut down to half its height."""
    import subprocess
    import tempfile

    from PIL import Image

    tips = [(0, 25)] + [(60 * dog, 24) for dog in range(1, 6)]
    dogs = [{"centre_deg": centre, "tip_width_deg": width} for centre, width in tips]
    with tempfile.TemporaryDirectory() as made:
        design = Path(made) / "design.json"

        def made_of(ring: dict) -> Ring:
            design.write_text(json.dumps({"crenel": 1, "a": ring}), encoding="utf-8")
            subprocess.run([program, design, Path(made) / "out"], check=True, capture_output=True)
            return Ring(Path(made) / "out" / "ring-a-cut.stl", 30, 22, tips)

        ring, cut_down = made_of({"dogs": dogs}), made_of({"dogs": dogs, "cuts": {"3": 2.5}})
        # Dog 1 is at the top.
        small = Shot(pixels=640, noise=0, turn_deg=90)
        shots = {
            "square": (ring, replace(small, tilt_deg=5, toward_deg=30)),
            "tilted": (ring, replace(small, tilt_deg=22, toward_deg=200)),
            "other-light": (ring, replace(small, tilt_deg=7, toward_deg=250, light=(-0.5, 0.2, 0.8), turn_deg=101)),
            "cut-down": (cut_down, replace(small, tilt_deg=9, toward_deg=60)),
        }
        for name, (ring, shot) in shots.items():
            # Fewer shades, so that the file is small.
            picture = ring.picture(shot) // 4 * 4
            Image.fromarray(picture).save(folder / f"{name}.png", optimize=True)


if __name__ == "__main__":
    from conftest import EXAMPLES

    ROOT = Path(__file__).resolve().parents[2]
    write_fixtures(EXAMPLES / "export", ROOT / "tests" / "fixtures" / "photo")
