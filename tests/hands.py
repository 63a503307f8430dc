# SPDX-License-Identifier: MIT
"""Hands that are not exact."""
import math


def askew(up, degrees, chance):
    """A direction so far off, any way alike."""
    while True:
        v = [chance.gauss(0, 1) for _ in range(3)]
        along = sum(x * y for x, y in zip(v, up))
        across = [x - along * y for x, y in zip(v, up)]
        length = math.hypot(*across)
        if length > 1e-3:
            break
    a = math.radians(degrees)
    return [math.cos(a) * y + math.sin(a) * x / length for x, y in zip(across, up)]
