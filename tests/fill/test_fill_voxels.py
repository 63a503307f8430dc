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
    import numpy as np
    from scipy import ndimage
except ImportError:
    sys.exit(77)

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from voxel_fill import SIX, VoxelFill

BUILD = Path(os.environ.get("VUG_BUILDDIR") or Path(__file__).resolve().parents[2])
SEEDS = int(os.environ.get("VUG_SEEDS", "220"))
CELL = 10.0     # height of a voxel in widths of a column: nothing is as small as the sampling
POCKET = 3        # VUG_EVENT_POCKET


def random_cavity(rng):
    """A connected random set of spans on a small grid, as voxels [x, y, z]."""
    nx, ny, nz = rng.randint(3, 7), rng.randint(1, 5), 120
    while True:
        ends = rng.sample(range(nz), nz)    # every height is used once
        void = np.zeros((nx, ny, nz), bool)
        for x in range(nx):
            for y in range(ny):
                for lo, hi in random_spans(rng, ends):
                    void[x, y, lo:hi] = True
        label, n = ndimage.label(void, SIX)
        if n == 0:
            continue
        sizes = ndimage.sum(void, label, range(1, n + 1))
        void = label == 1 + int(np.argmax(sizes))
        if void.sum() > 0.15 * void.size:
            return void


def random_spans(rng, ends):
    pick = sorted(ends.pop() for _ in range(2 * rng.choice((1, 1, 2, 2, 3))) if ends)
    return [(pick[i], pick[i + 1]) for i in range(0, len(pick) - 1, 2) if pick[i + 1] - pick[i] > 1]


def spans_of(line):
    edge = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(int), [0]))))
    return list(zip(edge[0::2], edge[1::2]))


def random_mouths(rng, void):
    """Columns with spans, each with a rim of some height in one of its spans."""
    columns = [(x, y) for x in range(void.shape[0]) for y in range(void.shape[1]) if void[x, y].any()]
    mouths = []
    for x, y in rng.sample(columns, min(len(columns), rng.randint(1, 3))):
        lo, hi = rng.choice(spans_of(void[x, y]))
        top = rng.randint(lo + 1, hi)
        mouths.append((x, y, max(lo, top - rng.randint(1, 5)), top))
    return mouths


def case_text(void, mouths, tight, mirror):
    nx, ny, nz = void.shape
    out = [f"{nx} {ny} 1 {int(mirror)}"]
    if mirror:
        void = void[:, :, ::-1]
        mouths = [(x, y, nz - top, nz - lip) for x, y, lip, top in mouths]
    for y in range(ny):
        for x in range(nx):
            spans = spans_of(void[x, y])
            out.append(" ".join([str(len(spans))] + [f"{lo * CELL} {hi * CELL}" for lo, hi in spans]))
    out.append(str(len(mouths)))
    out += [f"{y * nx + x} {lip * CELL} {top * CELL} {int(i > 0 or not tight)}"
            for i, (x, y, lip, top) in enumerate(mouths)]
    return "\n".join(out) + "\n"


def inlet_cell(void, mouth):
    x, y, lip, top = mouth
    return x, y, (lip + top) // 2 if (lip + top) // 2 < top else lip


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
