# SPDX-License-Identifier: MIT
"""The part that the numbered examples go by: a hollow gourd of two bulbs, leaning, with a bore in
its foot. Held with the bore up, the rim between its bulbs catches air. gourd.py FILE writes it."""
import math
import struct
import sys

TURNS = 16
INSIDE = [(0, 46), (6, 45), (9, 42), (10, 37), (10, 30), (8, 24.5), (5.5, 28), (4, 28), (4, 23),
          (7, 20), (11, 17), (12, 12), (11, 6), (8, 3), (2, 3), (2, 0)]
OUTSIDE = [(10, 0), (13, 4), (14, 12), (13, 18), (11.5, 22), (11.5, 26), (12, 30), (12, 38), (11, 43),
           (7, 47), (0, 48)]


def place(r, z, turn):
    """Leaning, so that no two poses are alike."""
    angle = 2 * math.pi * (turn % TURNS) / TURNS
    return (r * math.cos(angle) + 0.003 * z * z, r * math.sin(angle) + 4e-5 * z ** 3, z)


def lathe(profile):
    """Triangles of a profile of (r, z) turned about z and leaned."""
    found = []
    for (r0, z0), (r1, z1) in zip(profile, profile[1:]):
        for k in range(TURNS):
            a, b, c, d = place(r0, z0, k), place(r0, z0, k + 1), place(r1, z1, k + 1), place(r1, z1, k)
            if r0 > 0:
                found.append((a, b, c if r1 > 0 else d))
            if r1 > 0:
                found.append((a, c, d))
    return found


def part():
    return lathe(INSIDE + OUTSIDE)


def cavity():
    """Its closed inner wall, the bore with it, turned outward."""
    return [(a, c, b) for a, b, c in lathe(INSIDE + [(0, 0)])]


def volume(triangles):
    """Divergence theorem."""
    return sum(a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g)
               for (a, b, c), (d, e, f), (g, h, i) in triangles) / 6


def stl(triangles):
    rows = [struct.pack("<12fH", 0, 0, 0, *a, *b, *c, 0) for a, b, c in triangles]
    return b"gourd".ljust(80) + struct.pack("<I", len(rows)) + b"".join(rows)


if __name__ == "__main__":
    with open(sys.argv[1], "wb") as out:
        out.write(stl(part()))
