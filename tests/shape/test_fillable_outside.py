#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Figures hollowed for filling, looked at from outside the library by numpy and SciPy: the mesh is sound and the wall as
asked; the air that stays, by a flood of columns of its own, is as told and less than before; no skin lost the liquid near
behind it; and nothing deeper than the greatest wall became solid.

    tests/shape/test_fillable_outside.py          one on a coarse grid, quickly
    tests/shape/test_fillable_outside.py --all    a coral and two figures on finer ones: a minute
"""
import heapq
import os
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
from test_hollow_outside import DATA, SOURCE, cKDTree, crossings, distances, np, some, sound, vug  # noqa: E402

SKIN, DEEP = 4000, 60  # samples


def turned(up):
    """Rows x, y, up."""
    z = np.asarray(up, float) / np.linalg.norm(up)
    x = np.cross(z, np.eye(3)[np.argmin(abs(z))])
    x /= np.linalg.norm(x)
    return np.stack([x, np.cross(z, x), z])


def columns(xyz, tri, origin, step):
    """Spans [lo, hi] of the cavity in each column, by the heights at which it meets the triangles."""
    hits = {}
    for a, b, c in xyz[tri]:
        lo = np.ceil((np.minimum(np.minimum(a, b), c)[:2] - origin) / step).astype(int)
        hi = np.floor((np.maximum(np.maximum(a, b), c)[:2] - origin) / step).astype(int)
        area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        if area == 0:
            continue
        for i in range(lo[0], hi[0] + 1):
            for j in range(lo[1], hi[1] + 1):
                x, y = origin + step * np.array([i, j])
                s = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area
                t = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area
                if s >= 0 and t >= 0 and s + t <= 1:
                    hits.setdefault((i, j), []).append(a[2] + s * (b[2] - a[2]) + t * (c[2] - a[2]))
    spans = {}
    for at, z in hits.items():
        z.sort()
        if len(z) % 2 == 0:
            spans[at] = list(zip(z[::2], z[1::2]))
    return spans


def flood(spans, outlet, origin, step):
    """Level of liquid in each span, with an outlet at the highest ceiling near a point (Barnes, Lehman, Mulla 2014, upside
    down)."""
    top = max((hi, at, n) for at, row in spans.items() for n, (_, hi) in enumerate(row)
              if np.hypot(*(origin + step * np.array(at) - outlet[:2])) < 2 * step and abs(hi - outlet[2]) < 3 * step)
    level, heap = {}, [(-top[0], top[1], top[2])]
    while heap:
        w, at, n = heapq.heappop(heap)
        if (at, n) in level:
            continue
        level[at, n] = -w
        lo, hi = spans[at][n]
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            beside = at[0] + dx, at[1] + dy
            for m, (l, h) in enumerate(spans.get(beside, ())):
                if (beside, m) not in level and l < hi and lo < h:
                    heapq.heappush(heap, (-min(-w, h), beside, m))
    return level


def liquid(spans, level, origin, step):
    """Air that stays, and points of the liquid."""
    air, points = 0.0, []
    for at, row in spans.items():
        for n, (lo, hi) in enumerate(row):
            top = max(lo, min(hi, level.get((at, n), lo)))
            air += (hi - top) * step * step
            if top > lo:
                z = np.append(np.arange(lo, top, step), top)
                x, y = origin + step * np.array(at)
                points.append(np.stack([x + 0 * z, y + 0 * z, z], 1))
    return air, np.concatenate(points)


def skin_samples(rng, xyz, tri):
    a, b, c = (xyz[tri[:, k]] for k in range(3))
    area = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    t = rng.choice(len(tri), SKIN, p=area / area.sum())
    u, v = rng.random((2, SKIN, 1))
    u, v = np.where(u + v > 1, 1 - u, u), np.where(u + v > 1, 1 - v, v)
    return a[t] + u * (b[t] - a[t]) + v * (c[t] - a[t])


def examine(name, mesh, up, less, **options):
    rng = np.random.default_rng(7)
    wall, most = options["wall_mm"], options["most_wall_mm"]
    frame, count = turned(up), len(mesh.vertices)
    skin = np.asarray(mesh.vertices) @ frame.T
    tri = np.asarray(mesh.triangles)
    corners = [skin[tri[:, k]] for k in range(3)]
    plain = options | {"most_wall_mm": 0.0}
    found = []
    step = np.ptp(skin, 0).max() / options["cells"] * 1.25
    origin = skin.min(0)[:2] + 0.37 * step
    first = np.asarray(mesh.hollow(**plain)[0].vertices)[count:]
    outlet = first[np.argmax(first @ frame[2])]
    for o in (plain, options):
        made, info, _ = mesh.hollow(fill_up=up, outlet_mm=outlet, **o)
        xyz, inner = np.asarray(made.vertices), np.asarray(made.triangles)[len(tri):]
        assert (xyz[:count] == np.asarray(mesh.vertices)).all() and sound(inner), name
        spans = columns(xyz @ frame.T, inner, origin, step)
        air, points = liquid(spans, flood(spans, frame @ outlet, origin, step), origin, step)
        found.append((spans, air, points, xyz, inner))
    (before, air_before, wet_before, _, _), (after, air, wet, xyz, inner) = found
    assert crossings(xyz, inner) == 0, name
    thin = distances(some(rng, xyz[count:]) @ frame.T, corners).min()
    assert thin >= wall - 0.1 * info.step_mm - 1e-9, (name, thin)

    size = info.volume_mm3
    told = abs(air_before - info.trapped_before_mm3), abs(air - info.trapped_mm3)
    assert max(told) < 0.08 * air_before + 0.002 * size, (name, air_before, air, info)
    assert air < less * air_before, (name, air_before, air)

    samples = skin_samples(rng, skin, tri)
    near, then = (cKDTree(p).query(samples)[0] for p in (wet_before, wet))
    lost = ((near <= most) & (then > most + step)).sum()
    assert lost == 0, (name, lost)
    assert (then > most).mean() <= (near > most).mean() + 0.005, (name, (near > most).mean(), (then > most).mean())

    deep = [(at, z) for at, row in before.items() for lo, hi in row for z in np.arange(lo, hi, step)]
    deep = [deep[i] for i in rng.choice(len(deep), min(len(deep), 40 * DEEP), replace=False)]
    points = np.array([(*(origin + step * np.array(at)), z) for at, z in deep])
    rough = cKDTree(skin_samples(rng, skin, tri)).query(points)[0]
    keep = np.flatnonzero(rough > most)[:DEEP]
    keep = keep[distances(points[keep], corners) > most]
    for k in keep:
        at, z = deep[k]
        assert any(lo - step <= z <= hi + step for lo, hi in after.get(at, ())), (name, points[k])
    print(f"{name}: air {air_before:.0f} to {air:.0f} mm3 (told {info.trapped_before_mm3:.0f} to "
          f"{info.trapped_mm3:.0f}), bare {100 * (near > most).mean():.1f} to {100 * (then > most).mean():.1f} % of the "
          f"skin, {len(keep)} points deeper than {most} mm kept")


def figure(name, scale):
    raw = vug.Mesh.load(DATA / name, unit_mm=1.0)
    return vug.Mesh.from_arrays(np.asarray(raw.vertices) * scale, np.asarray(raw.triangles))


def solid_coral(program):
    """The outer skin of the coral that vug-coral makes: the one of its two closed surfaces that reaches highest."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "coral.stl"
        subprocess.run([program, "--out", path, "--bores", "0", "--resolution", "140"], check=True, capture_output=True)
        raw = vug.Mesh.load(path)
    xyz, tri = np.asarray(raw.vertices), np.asarray(raw.triangles)
    _, part = connected_components(coo_matrix(
        (np.ones(tri.size), (tri.ravel(), tri[:, [1, 2, 0]].ravel())), shape=(len(xyz), len(xyz))), directed=False)
    tri = tri[part[tri[:, 0]] == part[np.argmax(xyz[:, 2])]]
    used, renumbered = np.unique(tri, return_inverse=True)
    return vug.Mesh.from_arrays(xyz[used], renumbered.reshape(tri.shape))


def main():
    if sys.argv[1:] != ["--all"]:
        examine("spot.ply", figure("spot.ply", 60), (1, 0, 0), 0.8, wall_mm=4.0, most_wall_mm=9.0, cells=52)
        return
    spot, suzanne = figure("spot.ply", 60), figure("suzanne.stl", 40)
    examine("spot.ply on its side", spot, (1, 0, 0), 0.7, wall_mm=2.5, most_wall_mm=6.0, cells=120)
    examine("spot.ply on its head", spot, (0, -1, 0), 0.4, wall_mm=2.5, most_wall_mm=6.0, cells=120)
    examine("suzanne.stl", suzanne, (0, 0, -1), 0.4, wall_mm=2.0, most_wall_mm=6.0, cells=110)
    program = Path(os.environ.get("VUG_BUILDDIR", SOURCE)).resolve() / "examples" / "tools" / "vug-coral"
    if program.exists():
        examine("coral", solid_coral(program), (0, 0, 1), 0.4, wall_mm=0.8, chamber_mm=1.0, most_wall_mm=3.0, cells=220)


main()
