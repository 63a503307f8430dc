# SPDX-License-Identifier: MIT
"""Random small cavities with openings, as voxels and as the text that the tools of the tests read."""
import numpy as np
from scipy import ndimage

from voxel_fill import SIX

CELL = 10.0     # height of a voxel in widths of a column: nothing is as small as the sampling
POCKET = 3      # VUG_EVENT_POCKET


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
