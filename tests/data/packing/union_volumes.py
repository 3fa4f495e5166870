"""Volumes of unions of spheres by polyhedral booleans, as reference for the closed forms and rays of `volume.rs`.

    pip install manifold3d && python union_volumes.py > union_volumes.json

Each sphere becomes a polyhedron of two finenesses; the error of the union falls with the square of the fineness, so the
two volumes are extrapolated (Richardson). The script stops if that misses a single sphere or the lens of two.
"""

import json
import math
from importlib.metadata import version

from manifold3d import Manifold

SEGMENTS = 256


def faceted(spheres, segments):
    solids = [
        Manifold.sphere(r, segments).translate((x, y, z)) for x, y, z, r in spheres
    ]
    union = solids[0]
    for solid in solids[1:]:
        union += solid
    return union.volume()


def volume(spheres):
    coarse, fine = (faceted(spheres, n) for n in (SEGMENTS // 2, SEGMENTS))
    return fine + (fine - coarse) / 3


def numbers(seed):
    """Uniform in [0, 1): the least-standard generator of Park and Miller."""
    while True:
        seed = seed * 48271 % 2147483647
        yield seed / 2147483647


def scattered(n, side, low, high, seed):
    draw = numbers(seed)
    return [
        [round(next(draw) * side, 4) for _ in range(3)]
        + [round(low + next(draw) * (high - low), 4)]
        for _ in range(n)
    ]


r, d = 0.14, 0.2
lens = math.pi * (4 * r + d) * (2 * r - d) ** 2 / 12
assert abs(volume([[0, 0, 0, r]]) / (4 / 3 * math.pi * r**3) - 1) < 1e-5
pair = volume([[0, 0, 0, r], [d, 0, 0, r]])
assert abs(pair / (8 / 3 * math.pi * r**3 - lens) - 1) < 1e-5

scenes = {
    "three that share their middle": [
        [0, 0, 0, 0.14],
        [0.15, 0, 0, 0.14],
        [0.075, 0.13, 0, 0.12],
    ],
    "a ring of four, 5 % pressed, and a small one on top": [
        [0.133, 0.133, 0, 0.14],
        [-0.133, 0.133, 0, 0.14],
        [-0.133, -0.133, 0, 0.14],
        [0.133, -0.133, 0, 0.14],
        [0, 0, 0.13, 0.09],
    ],
    "a large one with small ones sunk into it": [
        [0, 0, 0, 0.45],
        [0.44, 0, 0, 0.06],
        [0.42, 0.08, 0, 0.07],
        [0.3, 0.3, 0.1, 0.1],
        [0.2, 0.1, 0, 0.08],
    ],
    "40 scattered loosely": scattered(40, 1.2, 0.05, 0.2, 11),
    "40 scattered densely": scattered(40, 0.6, 0.05, 0.2, 12),
}
print('{"made_with": ' + json.dumps({"manifold3d": version("manifold3d"), "segments": SEGMENTS}) + ",")
print('"unit": "m, m3",\n"scenes": [')
for name, spheres in scenes.items():
    end = "" if name == list(scenes)[-1] else ","
    print(json.dumps({"name": name, "volume": round(volume(spheres), 9), "spheres": spheres}) + end)
print("]}")
