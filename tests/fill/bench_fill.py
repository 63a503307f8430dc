#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Times the fill of the demo coral, and one and the same random cavity on the gravity graph and on
the voxels of voxel_fill.py."""
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import test_fill_voxels as cases
from voxel_fill import VoxelFill

BUILD = Path(os.environ.get("VUG_BUILDDIR") or Path(__file__).resolve().parents[2])
CASES = 40


def coral():
    with tempfile.TemporaryDirectory() as folder:
        part = Path(folder) / "coral.stl"
        made = subprocess.run([BUILD / "examples" / "tools" / "vug-coral", "--out", part, "--json", "-"],
                              stdout=subprocess.PIPE, check=True)
        holes = [bore["hole"] for bore in json.loads(made.stdout)["bores"]]
        subprocess.run([BUILD / "tests" / "fill" / "bench_fill", part, *holes], check=True)


def against_voxels():
    text, models = [], []
    for seed in range(CASES):
        rng = random.Random(1000 + seed)
        void = cases.random_cavity(rng)
        mouths = cases.random_mouths(rng, void)
        text.append(cases.case_text(void, mouths, False, False))
        cells = [[(x, y, z) for z in range(lip, top)] for x, y, lip, top in mouths]
        models.append((void, cells, cases.inlet_cell(void, mouths[0])))
    tool = BUILD / "tests" / "fill" / "fill_tool"
    start = time.process_time()
    for model in models:
        VoxelFill(*model).run()
    voxels = time.process_time() - start
    start = time.perf_counter()
    for _ in range(25):
        subprocess.run([tool], input="".join(text), text=True, stdout=subprocess.DEVNULL, check=True)
    graph = (time.perf_counter() - start) / 25
    print(f"{CASES} small random cavities: on voxels {voxels:.3f} s, on the gravity graph with reading "
          f"{graph:.4f} s, {voxels / graph:.0f} times as fast")


if __name__ == "__main__":
    coral()
    against_voxels()
