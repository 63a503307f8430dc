#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Hollowed figures looked at from outside the library, by numpy and SciPy: every directed edge has its opposite once;
the distance of inner vertices, of middles of edges and of triangles from all outer triangles, by brute force; no two
triangles of the inner surface cross; and vug's own search finds exactly the cavity that was made.

    tests/shape/test_hollow_outside.py                      one on a coarse grid, quickly
    tests/shape/test_hollow_outside.py --all                four on finer ones: a minute
    tests/shape/test_hollow_outside.py MESH WALL CELLS      one mesh
"""
import os
import sys
from pathlib import Path

try:
    import numpy as np
    from scipy.spatial import cKDTree
except ImportError as missing:
    print("skipped:", missing)
    sys.exit(77)

SOURCE = Path(os.environ.get("VUG_SRCDIR", Path(__file__).resolve().parents[2])).resolve()
sys.path.insert(0, str(SOURCE / "bindings" / "python"))
built = Path(os.environ.get("VUG_BUILDDIR", SOURCE)).resolve() / ".libs" / "libvug.so"
os.environ.setdefault("VUG_LIBRARY", str(built))
if not built.exists():
    print("skipped: there is no shared library")
    sys.exit(77)
import vug  # noqa: E402

DATA = SOURCE / "tests" / "data"
SAMPLES = 100  # points of each kind that are measured


def sound(triangles):
    t = np.asarray(triangles).astype(np.int64)
    a, b = t.ravel(), t[:, [1, 2, 0]].ravel()
    there = np.sort(a << 32 | b)
    return (np.diff(there) > 0).all() and (there == np.sort(b << 32 | a)).all()


def to_segment(p, a, b):
    """Squared distances of points p (n, 1, 3) from segments (m, 3)."""
    u = b - a
    s = np.clip(((p - a) * u).sum(-1) / np.maximum((u * u).sum(-1), 1e-300), 0, 1)
    return ((p - a - s[..., None] * u) ** 2).sum(-1)


def distances(points, corners):
    """Of each point from the nearest of all triangles: the plane where the foot lies inside, else the edges."""
    a, b, c = corners
    n = np.cross(b - a, c - a)
    out = []
    for p in np.array_split(points, max(1, len(points) * len(a) // 2000000)):
        p = p[:, None, :]
        best = np.minimum(to_segment(p, a, b), np.minimum(to_segment(p, b, c), to_segment(p, c, a)))
        inside = np.ones(best.shape, bool)
        for x, y in ((a, b), (b, c), (c, a)):
            inside &= (np.cross(y - x, p - x) * n).sum(-1) >= 0
        flat = ((p - a) * n).sum(-1) ** 2 / np.maximum((n * n).sum(-1), 1e-300)
        out.append(np.sqrt(np.where(inside, np.minimum(flat, best), best).min(1)))
    return np.concatenate(out)


def pierced(p, q, a, b, c):
    """Do the segments pq go through the triangles, well inside? (Moeller, Trumbore 1997)"""
    d, u, v = q - p, b - a, c - a
    h = np.cross(d, v)
    det = (u * h).sum(-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        s = ((p - a) * h).sum(-1) / det
        k = np.cross(p - a, u)
        t = (d * k).sum(-1) / det
        along = (v * k).sum(-1) / det
        e = 1e-7
        size = np.sqrt((d * d).sum(-1) * (u * u).sum(-1) * (v * v).sum(-1))
        return (abs(det) > 1e-9 * size) & (s > e) & (t > e) & (s + t < 1 - e) & (along > e) & (along < 1 - e)


def crossings(xyz, tri):
    """Pairs of triangles of which an edge of one goes through the other, or that lie folded on each other at an edge
    that they share. An edge that ends in a corner of the other triangle does not go through it."""
    corner = xyz[tri]
    middle = corner.mean(1)
    reach = 2 * np.sqrt(((corner - middle[:, None]) ** 2).sum(-1)).max()
    pairs = cKDTree(middle).query_pairs(reach, output_type="ndarray")
    lo, hi = corner.min(1), corner.max(1)
    pairs = pairs[((lo[pairs[:, 0]] <= hi[pairs[:, 1]]) & (lo[pairs[:, 1]] <= hi[pairs[:, 0]])).all(1)]
    both = tri[pairs[:, 0]][:, :, None] == tri[pairs[:, 1]][:, None, :]
    normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    beside = both.sum((1, 2)) >= 2
    bad = ((normal[pairs[beside, 0]] * normal[pairs[beside, 1]]).sum(-1) < -0.99).sum()
    for one, other in ((0, 1), (1, 0)):
        s, t = corner[pairs[:, one]], corner[pairs[:, other]]
        shared = both.any(2 - one)
        for k in range(3):
            free = ~(shared[:, k] | shared[:, (k + 1) % 3])
            bad += pierced(s[free, k], s[free, (k + 1) % 3], *(t[free, c] for c in range(3))).sum()
    return int(bad)


def some(rng, rows):
    return rows[rng.choice(len(rows), min(SAMPLES, len(rows)), replace=False)]


def examine(name, mesh, **options):
    rng = np.random.default_rng(5)
    wall = options["wall_mm"]
    made, info, _ = mesh.hollow(**options)
    outer = np.asarray(mesh.vertices), np.asarray(mesh.triangles)
    xyz, tri = np.asarray(made.vertices), np.asarray(made.triangles)
    assert (xyz[:len(outer[0])] == outer[0]).all() and (tri[:len(outer[1])] == outer[1]).all(), name
    inner = tri[len(outer[1]):]
    assert len(inner) == info.triangles and inner.min() >= len(outer[0]) and sound(inner), name
    corners = [outer[0][outer[1][:, k]] for k in range(3)]
    vertices = xyz[len(outer[0]):]
    at = distances(some(rng, vertices), corners)
    t = some(rng, inner)
    thin = min(at.min(), *(distances(p, corners).min() for p in (
        xyz[t].mean(1), xyz[t[:, :2]].mean(1), xyz[t[:, 1:]].mean(1))))
    assert thin >= max(wall - 0.1 * info.step_mm, info.least_wall_mm) - 1e-9, (name, thin)
    on = np.mean(abs(at - wall) < 1e-5 * info.step_mm)
    if "throat_mm" not in options:
        assert on > 0.97, (name, on)
    bad = crossings(xyz, inner)
    assert bad == 0, (name, bad)
    return made, info


def main():
    if len(sys.argv) == 4:
        examine(sys.argv[1], vug.Mesh.load(sys.argv[1]), wall_mm=float(sys.argv[2]), cells=int(sys.argv[3]))
        return
    coarse = (("spot.ply", 60, {"wall_mm": 5.0, "cells": 45}),)
    fine = (("spot.ply", 60, {"wall_mm": 3.0, "cells": 100}),
            ("suzanne.stl", 30, {"wall_mm": 3.0, "cells": 80}),
            ("csg_with_sealed_ball.stl", 1, {"wall_mm": 0.8, "chamber_mm": 0.5, "cells": 80}),
            ("spot.ply", 60, {"wall_mm": 3.0, "cells": 80, "throat_mm": 6.0, "base_mm": 8.0}))
    every = sys.argv[1:] == ["--all"]
    for name, scale, options in fine if every else coarse:
        raw = vug.Mesh.load(DATA / name, unit_mm=1.0)
        mesh = vug.Mesh.from_arrays(np.asarray(raw.vertices) * scale, np.asarray(raw.triangles))
        made, info = examine(name, mesh, **options)
        if every and name == "spot.ply":
            found = made.cavities()
            assert len(found) == info.chambers == 1, (name, len(found))
            assert abs(found.info(0).volume_mm3 - info.volume_mm3) < 1e-9 * info.volume_mm3, name


if __name__ == "__main__":
    main()
