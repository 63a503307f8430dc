# SPDX-License-Identifier: MIT
"""A closed, hollow, round box with one bore in its floor: 30 mm wide, 40 mm high, 3 mm of wall."""
import math
import struct


def lathe(path, profile, turns=48):
    """Binary STL of a closed profile of (r, z), counter-clockwise, turned about z."""
    triangles = []
    for (r0, z0), (r1, z1) in zip(profile, profile[1:]):
        for k in range(turns):
            a, b = 2 * math.pi * k / turns, 2 * math.pi * ((k + 1) % turns) / turns
            p = [(r0 * math.cos(a), r0 * math.sin(a), z0), (r0 * math.cos(b), r0 * math.sin(b), z0),
                 (r1 * math.cos(b), r1 * math.sin(b), z1), (r1 * math.cos(a), r1 * math.sin(a), z1)]
            if r0 > 0:
                triangles.append((p[0], p[1], p[2] if r1 > 0 else p[3]))
            if r1 > 0:
                triangles.append((p[0], p[2], p[3]))
    with open(path, "wb") as out:
        out.write(b"round box".ljust(80) + struct.pack("<I", len(triangles)))
        for t in triangles:
            out.write(struct.pack("<12fH", 0, 0, 0, *t[0], *t[1], *t[2], 0))


def part(path):
    lathe(path, [(0, 37), (12, 37), (12, 3), (2, 3), (2, 0), (15, 0), (15, 40), (0, 40)])
