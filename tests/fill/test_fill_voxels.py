#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Random small cavities: the fill on the gravity graph against a voxel model that shares nothing
with it. Floors and ceilings are whole voxels, all different, so both must agree exactly.
A third of them is given upside down and turned over on the graph, as for draining."""
import os
import random
import subprocess
import sys
from pathlib import Path

try:
    import numpy as np  # noqa: F401
    from scipy import ndimage  # noqa: F401
except ImportError:
    sys.exit(77)

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from voxel_cases import CELL, POCKET, case_text, inlet_cell, random_cavity, random_mouths
from voxel_fill import VoxelFill

BUILD = Path(os.environ.get("VUG_BUILDDIR") or Path(__file__).resolve().parents[2])
SEEDS = int(os.environ.get("VUG_SEEDS", "220"))


def check(void, mouths, tight, mirror, line):
    """What the voxel model says otherwise, or None."""
    cells = [[(x, y, z) for z in range(lip, top)] for x, y, lip, top in mouths]
    model = VoxelFill(void, cells[1:] if tight else cells, inlet_cell(void, mouths[0]))
    model.run()
    want = [v * CELL for v in model.totals()]
    number = [float(v) for v in line.split()]
    got, kinds, volumes = number[:3], number[4::3], number[5::3]
    if any(abs(a - b) > 1e-3 for a, b in zip(want, got)):
        return f"liquid, trapped, empty {got}, on voxels {want}"
    cut_off = sorted(v for k, v in zip(kinds, volumes) if k == POCKET)
    on_voxels = sorted(v * CELL for v, _ in model.sealed_at)
    if len(cut_off) != len(on_voxels) or any(abs(a - b) > 1e-3 for a, b in zip(cut_off, on_voxels)):
        return f"air cut off at {cut_off}, on voxels at {on_voxels}"
    return None


def main():
    cases, text = [], []
    for seed in range(SEEDS):
        rng = random.Random(seed)
        void = random_cavity(rng)
        mouths = random_mouths(rng, void)
        tight = len(mouths) > 1 and rng.random() < 0.5  # no air leaves by the inlet
        cases.append((void, mouths, tight, seed % 3 == 2))
        text.append(case_text(*cases[-1]))
    run = subprocess.run([BUILD / "tests" / "fill" / "fill_tool"], input="".join(text), text=True,
                         stdout=subprocess.PIPE, check=True)
    lines = run.stdout.splitlines()
    assert len(lines) == SEEDS, (len(lines), SEEDS)
    wrong = 0
    for seed, (case, line) in enumerate(zip(cases, lines)):
        problem = check(*case, line)
        if problem:
            wrong += 1
            print(f"seed {seed}: {problem}")
    print(f"{SEEDS - wrong} of {SEEDS} random cavities agree with the voxel model")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
