#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Benchmark: the exact distance transform of scipy.ndimage and ours on the same grids, in the same
run, with the same answer."""
import os
import subprocess
import sys
import time

try:
    import numpy as np
    from scipy import ndimage
except ImportError as missing:
    sys.exit(f"bench_distance: {missing}")

TOOL = os.path.join(os.environ.get("VUG_BUILDDIR", "."), "tests", "grid", "grid_tool")
TARGET = 3.0


def solid(n):
    """Spheres and plates, about a tenth of the cells."""
    z, y, x = np.ogrid[-1:1:n * 1j, -1:1:n * 1j, -1:1:n * 1j]
    wave = 0.07 * np.sin(9 * x) * np.sin(8 * y) * np.sin(7 * z)
    return abs(np.sqrt(x * x + y * y + z * z) - 0.8 + wave) < 0.05


def run(arguments, cells):
    header = np.array(cells.shape[::-1], np.int32).tobytes()
    return subprocess.run([TOOL, *arguments], input=header + cells.astype(np.uint8).tobytes(),
                          check=True, stdout=subprocess.PIPE).stdout


def main():
    for n in (96, 192):
        cells = solid(n)
        start = time.perf_counter()
        reference = ndimage.distance_transform_edt(~cells)
        theirs = time.perf_counter() - start
        one = min(float(run(["time", "1"], cells)) for _ in range(3))
        two = min(float(run(["time", "2"], cells)) for _ in range(3))
        own = np.frombuffer(run(["distance"], cells), np.uint32).reshape(cells.shape)
        same = (own == np.rint(reference ** 2)).all()
        print(f"{n}^3 cells: scipy {theirs:.3f} s, one thread {one:.3f} s ({theirs / one:.1f} x), two "
              f"{two:.3f} s ({theirs / two:.1f} x, target {TARGET:.0f} x), "
              f"{'equal' if same else 'NOT EQUAL'}")


main()
