#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Hollow figures and bores by CGAL (tests/shape/outside.cpp): closed, outward, without crossings; the distance of every
inner vertex by its tree of boxes; what random bores leave by its exact difference of the part and a prism.

    tests/shape/test_shape_cgal.py [COUNT]    bores, in place of 20
"""
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

try:
    import numpy as np
except ImportError:
    house.skip("numpy is not there")
house.use_package()
import vug  # noqa: E402

COMPILER = shutil.which("g++") or house.skip("g++ is not there")
DATA = house.SRC / "tests" / "data"
report = house.Report()
check = report.check


def ask(room, *words):
    done = subprocess.run([room / "outside", *words], capture_output=True, text=True, timeout=600)
    if done.returncode:
        raise RuntimeError(f"outside {words}: {done.stderr}")
    return [[float(x) for x in line.split()] for line in done.stdout.splitlines()]


def off(path, xyz, triangles):
    with open(path, "w", encoding="ascii") as out:
        out.write(f"OFF\n{len(xyz)} {len(triangles)} 0\n")
        out.writelines("%.17g %.17g %.17g\n" % tuple(p) for p in np.asarray(xyz))
        out.writelines("3 %d %d %d\n" % tuple(t) for t in np.asarray(triangles))
    return path


def walls(room, name, mesh):
    """A wall lies between the widest ball that touches at a vertex and crosses nothing, and the straight way."""
    told = np.asarray(mesh.thickness().vertices)
    ball, way = np.array(ask(room, "walls", off(room / "walls.off", mesh.vertices, mesh.triangles))).T
    known = np.isfinite(way) & (told > 0)
    told, ball, way = told[known], ball[known], way[known]
    within = (told > 0.97 * ball) & (told < 1.03 * way)
    print(f"{name}: of {len(told)} walls {100 * within.mean():.2f} % between ball and straight way, median {np.median(told):.4f}"
          f" mm, by ball {np.median(ball):.4f}, straight {np.median(way):.4f}")
    check(known.mean() > 0.99, f"{name}: {100 * known.mean():.1f} % of the vertices have a wall")
    check(within.mean() > 0.99, f"{name}: {100 * within.mean():.2f} % of the walls between ball and straight way")
    check(abs(np.median(told) / np.median(ball) - 1) < 0.03, f"{name}: median {np.median(told)}, ball {np.median(ball)}")


def hollowed(room, name, scale, **options):
    """With a bound for simplifying: vertices of the finer surface are no farther from the simpler one."""
    mesh = vug.Mesh.load(DATA / name, unit_mm=scale, warn_of_size=0)
    made, info, _ = mesh.hollow(**options)
    xyz, tri = np.asarray(made.vertices), np.asarray(made.triangles)
    first, outer = len(mesh.vertices), off(room / "outer.off", mesh.vertices, mesh.triangles)
    inner = off(room / "inner.off", xyz[first:], tri[len(mesh):, ::-1].astype(np.int64) - first)
    whole = off(room / "whole.off", xyz, tri)
    for path, closed in zip((outer, inner, whole), ask(room, "sound", outer, inner, whole)):
        check(closed[:3] == [1, 1, 0], f"{name}: {path.name}: closed, outward, crossing: {closed[:3]}")
    cavity = ask(room, "sound", inner)[0][3]
    check(abs(cavity / info.volume_mm3 - 1) < 1e-9, f"{name}: {cavity} mm3, not {info.volume_mm3}")
    (least, most), = ask(room, "distances", outer, inner)
    allowed = options["wall_mm"] - 0.1 * info.step_mm
    check(least >= allowed, f"{name}: {least:.4f} mm of wall, less than {allowed:.4f}")
    check(least >= info.least_wall_mm - 1e-6, f"{name}: {least} mm of wall, less than the {info.least_wall_mm} told")
    simple = options.get("simplify_mm")
    if not simple:  # the normal at a vertex of few wide triangles says little
        walls(room, name, made)
    if simple:
        fine, before, _ = mesh.hollow(**{**options, "simplify_mm": 0.0})
        whole = off(room / "fine.off", np.asarray(fine.vertices)[first:],
                    np.asarray(fine.triangles)[len(mesh):, ::-1].astype(np.int64) - first)
        (_, away), = ask(room, "distances", inner, whole)
        check(away <= simple and away <= info.simplify_error_mm + 1e-6, f"{name}: {away} mm from the finer surface")
        check(info.triangles < 0.7 * before.triangles, f"{name}: {info.triangles} of {before.triangles} triangles")
    print(f"{name}: wall {least:.4f} to {most:.4f} mm, asked {options['wall_mm']}, step {info.step_mm:.3f}")


def prism(start, along, radius, length, back, sides):
    """Of the round section's area; turned outward."""
    axis = along / np.linalg.norm(along)
    u = np.cross(axis, np.eye(3)[np.argmin(abs(axis))])
    u /= np.linalg.norm(u)
    angle = 2 * np.pi * np.arange(sides) / sides
    ring = radius * np.sqrt(2 * np.pi / sides / np.sin(2 * np.pi / sides)) \
        * (np.cos(angle)[:, None] * u + np.sin(angle)[:, None] * np.cross(axis, u))
    low, high = start - back * axis, start + length * axis
    xyz = np.vstack([low + ring, high + ring, low, high])
    i = np.arange(sides)
    j = (i + 1) % sides
    tri = np.vstack([np.column_stack(x) for x in (
        (i, j, i + sides), (j, j + sides, i + sides), (j, i, 0 * i + 2 * sides), (i + sides, j + sides, 0 * i + 2 * sides + 1))])
    return xyz, tri


def bored(room, count):
    mesh = vug.Mesh.load(DATA / "spot.ply", unit_mm=30, warn_of_size=0)
    rng = np.random.default_rng(77)
    v, t = np.asarray(mesh.vertices), np.asarray(mesh.triangles)
    part, worst, beside = off(room / "part.off", v, t), 0.0, 0
    whole = ask(room, "sound", part)[0][3]
    for i in range(count):
        a, b, c = v[t[rng.integers(len(t))]]
        inward = -np.cross(b - a, c - a)
        axis = inward / np.linalg.norm(inward) + 0.3 * rng.normal(size=3)
        start, wide = [a, (a + b) / 2, (a + b + c) / 3][i % 3], rng.uniform(0.5, 3)
        deep = np.inf if i % 2 else rng.uniform(1, 6)
        made, cuts = mesh.bore([[*start, *axis, wide, deep]], error_mm=1e-4)
        solid, begin, end, sides = cuts[0]
        # The prism ends where the hole does, or beyond the part. In front of the skin it takes what is the wall's own slope;
        # if other solid stands there, beside the hole, the hole takes no more than a prism so long, and no less than a short one.
        long, slope, short = (whole - ask(room, "difference", part, off(room / "tool.off", *prism(
            start, axis, wide / 2, end if np.isfinite(deep) else 400.0, back * wide, int(sides))))[0][0] for back in (1, 0.6, 0.05))
        state = ask(room, "sound", off(room / "made.off", made.vertices, made.triangles))[0]
        check(state[:3] == [1, 1, 0], f"bore {i}: closed, outward, crossing: {state[:3]}")
        taken, alone = whole - state[3], abs(long - slope) < 1e-9 * whole
        beside += not alone
        away = abs(taken - long) / taken if alone else max(0, short - taken, taken - long) / taken
        worst = max(worst, away)
        check(away < 1e-4, f"bore {i}: {taken:.6f} mm3 taken, {short:.6f} to {long:.6f} by CGAL ({deep=}, {begin=})")
    check(beside <= count / 10, f"{beside} with other solid in front")
    print(f"{count} bores: the volume taken is off by {worst:.1e} at most; beside {beside} of them stands other solid")


def bored_again(room, count):
    """One after the other into one part, so that they meet."""
    whole, rng, made = vug.Mesh.load(house.SRC / "examples" / "gourd.stl", warn_of_size=0), np.random.default_rng(5), 0
    v, t = np.asarray(whole.vertices), np.asarray(whole.triangles)
    for i in range(count):
        a, b, c = v[t[rng.integers(len(t))]]
        inward = -np.cross(b - a, c - a)
        axis = inward / np.linalg.norm(inward) + 0.5 * rng.normal(size=3)
        start, deep = [a, (a + b) / 2, (a + b + c) / 3][i % 3], [0, np.inf, rng.uniform(0.5, 4)][i // 3 % 3]
        try:
            whole, _ = whole.bore([[*start, *axis, rng.uniform(0.4, 4), deep]])
        except (vug.NotFoundError, vug.MeshError):  # its wall is gone, or it is said that it cannot be cut
            continue
        made += 1
        state = ask(room, "sound", off(room / "again.off", whole.vertices, whole.triangles))[0]
        check(state[:3] == [1, 1, 0], f"bore {i} after others: closed, outward, crossing: {state[:3]}")
    check(made >= 0.9 * count, f"{made} of {count} made")
    print(f"{made} bores one after the other: {len(whole)} triangles, none crosses another")


def main():
    with tempfile.TemporaryDirectory() as name:
        room = Path(name)
        built = subprocess.run([COMPILER, "-std=c++17", "-O1", house.SRC / "tests" / "shape" / "outside.cpp",
                                "-o", room / "outside", "-lgmp", "-lmpfr"], capture_output=True, text=True)
        if built.returncode:
            house.skip("CGAL is not there")
        hollowed(room, "spot.ply", 30, wall_mm=3.0, cells=80)
        hollowed(room, "csg_with_sealed_ball.stl", 1, wall_mm=0.8, chamber_mm=0.5, cells=80)
        hollowed(room, "spot.ply", 30, wall_mm=2.0, cells=80, throat_mm=4.0, base_mm=6.0)
        for bound in (0.05, 0.2):
            hollowed(room, "spot.ply", 30, wall_mm=3.0, cells=80, simplify_mm=bound)
        hollowed(room, "csg_with_sealed_ball.stl", 1, wall_mm=0.8, chamber_mm=0.5, cells=80, simplify_mm=0.05)
        bored(room, int(sys.argv[1]) if len(sys.argv) > 1 else 20)
        bored_again(room, int(sys.argv[2]) if len(sys.argv) > 2 else 100)
    report.end()


main()
