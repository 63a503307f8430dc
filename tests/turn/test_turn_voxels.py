#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Random small cavities, partly filled and turned over with all openings covered, against particles on
voxels that share nothing with it: one after the other, lowest first, each particle of the lesser of
liquid and air falls (or rises) as a drop of the voxel model of filling does, and what it displaces takes
its place."""
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
from voxel_cases import CELL, case_text, inlet_cell, random_cavity, random_mouths, spans_of
from voxel_fill import SIX, VoxelFill

BUILD = Path(os.environ.get("VUG_BUILDDIR") or Path(__file__).resolve().parents[2])
SEEDS = int(os.environ.get("VUG_SEEDS", "40"))
FINE = int(os.environ.get("VUG_FINE", "4"))     # particles to a voxel


class Particles(VoxelFill):
    """What moves is the liquid of the model; what it displaces goes where the particle came from."""

    def __init__(self, void, source):
        self.source = None
        super().__init__(void, [], source)

    def look(self):
        label, _ = ndimage.label(self.void & ~self.liquid, SIX)
        own = label[self.source] if self.source else 0
        self.vented = (label == own) if own else self.void & ~self.liquid

    def settle(self, moving):
        for x, y, z in sorted(zip(*np.nonzero(moving)), key=lambda cell: (cell[2], cell[0], cell[1])):
            self.source = self.inlet = (int(x), int(y), int(z))
            self.look()
            layer = self.next_layer()
            if not layer:
                self.source = None
                self.look()
                layer = self.next_layer()
            self.liquid[layer[0]] = True


def layers_filled(rng, void, mouths):
    """Voxels of liquid after some whole layers: then surfaces lie between voxels."""
    cells = [[(x, y, z) for z in range(lip, top)] for x, y, lip, top in mouths]
    model = VoxelFill(void, cells, inlet_cell(void, mouths[0]))
    for _ in range(rng.randint(1, 150)):
        layer = model.next_layer()
        if not layer:
            break
        for cell in layer:
            model.liquid[cell] = True
        model.look()
    return int(model.liquid.sum())


def liquid_of(void, heights):
    """Voxels of liquid from the heights of liquid in each span, columns in rows of x."""
    wet, part = np.zeros_like(void), np.zeros(void.shape)
    number = iter(heights)
    for y in range(void.shape[1]):
        for x in range(void.shape[0]):
            for lo, hi in spans_of(void[x, y]):
                height = float(next(number)) / CELL
                part[x, y, lo:hi] = np.clip(height - np.arange(hi - lo), 0, 1)
    wet[part > 0.5] = True
    return wet, part


def settled(void, wet):
    """Liquid in the void, which is the other way up already, at rest: the share of each voxel."""
    void, wet = np.repeat(void, FINE, 2), np.repeat(wet, FINE, 2)
    rest = whole_settled(void, wet).astype(float)
    return rest.reshape(*void.shape[:2], -1, FINE).mean(3)


def whole_settled(void, wet):
    air = 2 * wet.sum() > void.sum()
    moving = void & (~wet if air else wet)
    model = Particles(void[:, :, ::-1] if air else void, None)
    model.settle(moving[:, :, ::-1] if air else moving)
    return void & ~model.liquid[:, :, ::-1] if air else model.liquid


def off(void, got, want):
    """Greatest difference of liquid in a span, in voxels."""
    worst = 0.0
    for x in range(void.shape[0]):
        for y in range(void.shape[1]):
            for lo, hi in spans_of(void[x, y]):
                worst = max(worst, abs(got[x, y, lo:hi].sum() - want[x, y, lo:hi].sum()))
    return worst


def check(void, mouths, lines):
    before, part = liquid_of(void, lines[0].split())
    over = void[:, :, ::-1]
    _, after = liquid_of(over, lines[1].split())
    total = part.sum()
    if abs(after.sum() - total) > 1e-6 * void.sum():
        return f"{total} voxels of liquid before, {after.sum()} after"
    want = settled(over, before[:, :, ::-1])
    # Particles fill a layer one by one: what is cut off meanwhile is off by some of them (six at most in
    # 220 cavities, however fine they are).
    if off(over, after, want) > 6.0 / FINE:
        return f"a span differs by {off(over, after, want):.1f} voxels"
    return None


def main():
    cases, text = [], []
    for seed in range(SEEDS):
        rng = random.Random(1000 + seed)
        void = random_cavity(rng)
        mouths = random_mouths(rng, void)
        cases.append((void, mouths))
        volume = CELL * layers_filled(rng, void, mouths)
        text.append(case_text(void, mouths, False, False) + f"{volume}\n")
    run = subprocess.run([BUILD / "tests" / "turn" / "turn_tool"], input="".join(text), text=True,
                         stdout=subprocess.PIPE, check=True)
    lines = run.stdout.splitlines()
    assert len(lines) == 2 * SEEDS, (len(lines), SEEDS)
    wrong = 0
    for seed, case in enumerate(cases):
        problem = check(*case, lines[2 * seed:2 * seed + 2])
        if problem:
            wrong += 1
            print(f"seed {seed}: {problem}")
    print(f"{SEEDS - wrong} of {SEEDS} turned cavities agree with the particles")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
