#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Benchmark: trapped air of the coral in one pose by dense voxels (grey reconstruction of
scikit-image) and by columns, both at 1/500 of the height, one thread each, in the same run."""
import os
import sys
import tempfile
import time
from pathlib import Path

import house

so = house.library("so")
if not so:
    sys.exit("bench_voxels: no shared library")
import voxels
from voxels import np

os.environ.setdefault("VUG_LIBRARY", str(so))
sys.dont_write_bytecode = True
sys.path.insert(0, str(house.SRC / "bindings" / "python"))
import vug

TARGET = 500.0
UP = (0.36, 0.48, -0.8)


def main():
    with tempfile.TemporaryDirectory() as folder:
        part = voxels.coral(Path(folder), 115, 1.5)
        cavities = vug.Mesh.load(part.path).cavities([b.row for b in part.bores], detect=0)
    height = np.ptp(part.triangles[:, :, 2])
    h = float(height) / 500.0
    wall, cpu = [], []
    for _ in range(10):
        start, spent = time.perf_counter(), time.process_time()
        pockets = cavities.pockets(UP, spacing_mm=h)
        cpu.append(time.process_time() - spent)
        wall.append(time.perf_counter() - start)
    dense = voxels.flood(part, UP, h, (0.3, 0.6, 0.4))
    print(f"{len(part.triangles)} triangles, h = height/500 = {h:.3f} mm; seconds by the clock and "
          "of processor time")
    print(f"voxels:  {dense.seconds:8.3f} s {dense.cpu:8.3f} s  the flood alone, {dense.voxels} "
          f"voxels; trapped {dense.trapped:.1f} of {dense.capacity:.1f} mm3")
    print(f"columns: {min(wall):8.4f} s {min(cpu):8.4f} s  columns, flood and pockets; trapped "
          f"{pockets.trapped_mm3:.1f} of {pockets.capacity_mm3:.1f} mm3 (exact: "
          f"{cavities.info(0).volume_mm3:.1f})")
    print(f"ratio: {dense.seconds / min(wall):.0f} x by the clock, {dense.cpu / min(cpu):.0f} x in "
          f"processor time (target {TARGET:.0f} x)")


main()
