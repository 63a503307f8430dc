#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Random small cavities filled under air that gives: at the end every pool and all closed air must be
at rest. What is connected is found here anew, from the heights of the liquid in the columns; the
conditions are those of hydrostatics (one head in a pool, one pressure in a piece of air, level = head less
pressure) and Boyle's law (pressure times volume stays), from any textbook."""
import os
import random
import subprocess
import sys
from pathlib import Path

try:
    import numpy as np
    from scipy import ndimage  # noqa: F401
except ImportError:
    sys.exit(77)

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from voxel_cases import CELL, POCKET, case_text, random_cavity, random_mouths, spans_of

BUILD = Path(os.environ.get("VUG_BUILDDIR") or Path(__file__).resolve().parents[2])
SEEDS = int(os.environ.get("VUG_SEEDS", "400"))
AIR = 3000.0    # pressure outside as a height of the liquid; the cavities are 1200 high
SLOW = 1e-3     # mm3/s
NEAR = 1e-5
THIN = 1e-6     # a layer less thick than this is none


class Bodies:
    """Pools or pieces of air: parts of spans that touch, joined."""

    def __init__(self, parts):
        self.parts, self.of = parts, list(range(len(parts)))
        by_column = {}
        for i, (x, y, lo, hi) in enumerate(parts):
            if hi - lo > THIN:
                by_column.setdefault((x, y), []).append(i)
        for (x, y), here in by_column.items():
            for near in ((x + 1, y), (x, y + 1)):
                for i in here:
                    for k in by_column.get(near, ()):
                        if min(parts[i][3], parts[k][3]) - max(parts[i][2], parts[k][2]) > THIN:
                            self.of[self.root(i)] = self.root(k)

    def root(self, i):
        while self.of[i] != i:
            i = self.of[i]
        return i


def heads(surfaces, vented):
    """Head of each pool and pressure of each air from the surfaces between them, or why there are none."""
    pool, air = {}, {a: 0.0 for a in vented}
    left = list(surfaces)
    while left:
        rest = []
        for z, p, a in left:
            if a in air and p in pool:
                if abs(pool[p] - air[a] - z) > NEAR * AIR:
                    return None, f"a surface stands at {z}, not at {pool[p] - air[a]}"
            elif a in air:
                pool[p] = z + air[a]
            elif p in pool:
                air[a] = pool[p] - z
            else:
                rest.append((z, p, a))
        if len(rest) == len(left):
            break               # closed off from all open air: only differences are known
        left = rest
    return air, None


def check(void, mouths, tight, line):
    """(what is wrong or None, pieces of closed air that were checked)."""
    number = [float(v) for v in line.split()]
    count = int(number[3])
    events = list(zip(*[iter(number[4:4 + 3 * count])] * 3))
    tops = number[4 + 3 * count:]
    wet, dry = [], []
    for y in range(void.shape[1]):
        for x in range(void.shape[0]):
            for lo, hi in spans_of(void[x, y]):
                top = tops[len(wet)]
                wet.append((x, y, lo * CELL, top))
                dry.append((x, y, top, hi * CELL))
    pools, airs = Bodies(wet), Bodies(dry)
    vented = set()
    for i, (x, y, lip, top) in enumerate(mouths):
        for k, (cx, cy, lo, hi) in enumerate(dry):
            if (cx, cy) == (x, y) and (i > 0 or not tight) and hi - lo > THIN \
                    and lo < top * CELL - THIN and hi >= top * CELL - THIN:
                vented.add(airs.root(k))
    surfaces = [(w[3], pools.root(i), airs.root(i)) for i, w in enumerate(wet)
                if w[3] - w[2] > THIN and dry[i][3] - w[3] > THIN]
    pressure, wrong = heads(surfaces, vented)
    if wrong:
        return wrong, 0
    volume = {}
    for k, (_, _, lo, hi) in enumerate(dry):
        if hi - lo > THIN:
            volume[airs.root(k)] = volume.get(airs.root(k), 0.0) + hi - lo
    closed = [a for a in volume if a not in vented]
    sealed = sum(v for kind, _, v in events if kind == POCKET)
    if not closed or any(a not in pressure for a in closed):
        return None, 0
    amount = sum(volume[a] * (1.0 + pressure[a] / AIR) for a in closed)
    if amount > sealed * (1.0 + NEAR) + 1e-3:
        return f"closed air of {sealed} has become {amount}", 0
    escaped = sealed - amount > NEAR * sealed + 1e-3
    return None, 0 if escaped else len(closed)


def totals(text, *arguments):
    """Liquid, trapped and empty of each case."""
    run = subprocess.run([BUILD / "tests" / "fill" / "fill_tool", str(AIR), "0", *arguments], input="".join(text),
                         text=True, stdout=subprocess.PIPE, check=True)
    return [[float(v) for v in line.split()[:3]] for line in run.stdout.splitlines()]


def compare_slow(text):
    """How many fills in time end otherwise than without hurry, at a rate so low that nothing resists."""
    still, slow = totals(text), totals(text, str(SLOW))
    different = [seed for seed, (a, b) in enumerate(zip(still, slow))
                 if any(abs(x - y) > 0.003 * sum(a) for x, y in zip(a, b))]
    print(f"{len(text) - len(different)} of {len(text)} slow fills in time end as those without hurry")
    for seed in different:
        print(f"seed {seed}: {slow[seed]} in time, {still[seed]} without hurry")
    return len(different)


def vents_that_trap(cases, text):
    """How many cases have more closed air at the end with one more vent: there should be none."""
    more = []
    for seed, (void, mouths, tight) in enumerate(cases):
        extra = random_mouths(random.Random(10**6 + seed), void)[0]
        more.append(case_text(void, mouths + [extra], tight, False))
    worse = [seed for seed, (a, b) in enumerate(zip(totals(text), totals(more)))
             if b[1] > a[1] * (1.0 + NEAR) + 1e-3]
    print(f"a vent more traps more in {len(worse)} of {len(cases)}", *worse)
    return len(worse)


def main():
    cases, text = [], []
    for seed in range(SEEDS):
        rng = random.Random(seed)
        void = random_cavity(rng)
        mouths = random_mouths(rng, void)
        tight = len(mouths) > 1 and rng.random() < 0.5
        cases.append((void, mouths, tight))
        text.append(case_text(*cases[-1], False))
    wrong = checked = 0
    for share in (0.2513, 0.5071, 0.7519, 0.0):
        run = subprocess.run([BUILD / "tests" / "fill" / "fill_tool", str(AIR), str(share)], input="".join(text),
                             text=True, stdout=subprocess.PIPE, check=True)
        lines = run.stdout.splitlines()
        assert len(lines) == SEEDS, (len(lines), SEEDS)
        for seed, (case, line) in enumerate(zip(cases, lines)):
            problem, airs = check(*case, line)
            checked += airs
            if problem:
                wrong += 1
                print(f"seed {seed}, {share} of it full: {problem}")
    slow, worse = compare_slow(text), vents_that_trap(cases, text)
    print(f"{4 * SEEDS - wrong} of {4 * SEEDS} fills are at rest, with {checked} pieces of closed air")
    return 1 if wrong or slow or worse or checked < SEEDS else 0


if __name__ == "__main__":
    sys.exit(main())
