#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Benchmark: a bumpy ball of 250,000 triangles hollowed on a grid of 300 along its longest side, seconds and the peak
of memory of this process; and ten bores in one of a million."""
import os
import resource
import sys
import time
from pathlib import Path

try:
    import numpy as np
except ImportError as missing:
    sys.exit(f"bench_shape: {missing}")

SOURCE = Path(os.environ.get("VUG_SRCDIR", Path(__file__).resolve().parents[2])).resolve()
sys.path.insert(0, str(SOURCE / "bindings" / "python"))
os.environ.setdefault("VUG_LIBRARY", str(Path(os.environ.get("VUG_BUILDDIR", SOURCE)).resolve() / ".libs" / "libvug.so"))
import vug  # noqa: E402

SECONDS, MIB, BORING = 3.0, 1024, 1.0


def bumpy_ball(rings):
    """2 * rings around; 4 rings (rings - 1) triangles."""
    a = np.linspace(0, np.pi, rings + 1)[1:-1, None]
    b = np.linspace(0, 2 * np.pi, 2 * rings, endpoint=False)[None, :]
    d = np.stack([np.sin(a) * np.cos(b), np.sin(a) * np.sin(b), np.cos(a) + 0 * b], -1).reshape(-1, 3)
    r = 40 * (1 + 0.08 * np.sin(7 * d[:, 0]) * np.sin(6 * d[:, 1] + 1) * np.cos(5 * d[:, 2]))
    xyz = np.vstack([[0, 0, 40], d * r[:, None], [0, 0, -40]])
    n, last = 2 * rings, len(xyz) - 1
    i = np.arange(n)
    j = (i + 1) % n
    tri = [np.stack([0 * i, 1 + i, 1 + j], 1), np.stack([last - n + i, 0 * i + last, last - n + j], 1)]
    for k in range(rings - 2):
        p, q = 1 + k * n, 1 + (k + 1) * n
        tri += [np.stack([p + i, q + i, q + j], 1), np.stack([p + i, q + j, p + j], 1)]
    return vug.Mesh.from_arrays(xyz, np.vstack(tri))


def timed(job):
    """What it returns, the seconds it takes, and those of a processor."""
    begin, work = time.perf_counter(), time.process_time()
    done = job()
    return done, time.perf_counter() - begin, time.process_time() - work


mesh = bumpy_ball(250)
(made, info, _), seconds, work = timed(lambda: mesh.hollow(wall_mm=2.0, cells=300))
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(f"hollow: {len(mesh)} triangles, grid of 300, {info.triangles} inner ones: {seconds:.2f} s "
      f"({work:.2f} of a processor; target {SECONDS}), {peak:.0f} MiB (target {MIB})")
mesh = bumpy_ball(500)
rng = np.random.default_rng(10)
start = 44 * (lambda d: d / np.linalg.norm(d, axis=1)[:, None])(rng.normal(size=(10, 3)))
rows = [[*p, *-p, 3.0, 20.0] for p in start]
_, boring, work = timed(lambda: mesh.bore(rows))
print(f"bores: 10 in {len(mesh)} triangles: {boring:.2f} s ({work:.2f} of a processor; target {BORING})")
sys.exit(not (seconds < SECONDS and peak < MIB and boring < BORING))
