# SPDX-License-Identifier: MIT
"""An independent model of filling, on voxels, layer by layer, for the tests: slow and simple.

Liquid is let in at a cell. It runs down, always over the deepest edge beside it, to the lowest cells it
reaches; these fill, one layer at a time. A layer fills only where its air is connected to an open
mouth. What is connected is looked for anew after every layer, by scipy.ndimage.label."""
import heapq
from itertools import count

import numpy as np
from scipy import ndimage

SIX = ndimage.generate_binary_structure(3, 1)
SIDEWAYS = ((1, 0), (-1, 0), (0, 1), (0, -1))


class VoxelFill:
    """void: bool array [x, y, z]. mouths: lists of cells through which air leaves."""

    def __init__(self, void, mouths, inlet):
        self.void = np.asarray(void, bool)
        self.mouths = mouths
        self.inlet = inlet
        self.liquid = np.zeros_like(self.void)
        self.sealed_at = []     # (liquid voxels, air voxels) of each pocket when it was cut off
        self.look()

    def look(self):
        label, n = ndimage.label(self.void & ~self.liquid, SIX)
        good = {label[cell] for cells in self.mouths for cell in cells} - {0}
        vented = np.isin(label, list(good)) if good else np.zeros_like(self.void)
        if hasattr(self, "vented"):
            lost = self.vented & ~self.liquid & ~vented
            for k in np.unique(label[lost]):
                self.sealed_at.append((int(self.liquid.sum()), int((label == k).sum())))
        self.vented = vented

    def inside(self, cell):
        return all(0 <= c < s for c, s in zip(cell, self.void.shape))

    def is_air(self, cell, any_air=False):
        """Air that liquid may push out, or any air, through which it may fall."""
        if not self.inside(cell):
            return False
        return bool(self.void[cell] and not self.liquid[cell]) if any_air else bool(self.vented[cell])

    def fall(self, cell, any_air=False):
        x, y, z = cell
        while self.is_air((x, y, z - 1), any_air):
            z -= 1
        return x, y, z

    def floor_below(self, cell):
        x, y, z = cell
        while self.inside((x, y, z - 1)) and self.void[x, y, z - 1]:
            z -= 1
        return z

    def deepest_beside(self, cell, any_air=False):
        """Where liquid at cell falls to over the deepest edge beside it, or None."""
        x, y, z = cell
        best, deepest = None, z
        for dx, dy in SIDEWAYS:
            beside = (x + dx, y + dy, z)
            if self.is_air(beside, any_air):
                landing, floor = self.fall(beside, any_air), self.floor_below(beside)
                if landing[2] < z and floor < deepest:
                    best, deepest = landing, floor
        return best

    def land(self):
        """Where liquid from the inlet comes to rest or meets liquid, also through trapped air."""
        if self.liquid[self.inlet]:
            return self.inlet
        cell = self.inlet
        while cell is not None:
            low = self.fall(cell, True)
            below = (low[0], low[1], low[2] - 1)
            if self.inside(below) and self.liquid[below]:
                return below
            cell = self.deepest_beside(low, True)
        return low

    def next_layer(self):
        """The cells that fill next, or []."""
        start = self.land()
        if not self.liquid[start] and not self.is_air(start):
            return []
        while True:
            layer, lower = self.rise_from(start)
            if lower is None:
                return layer
            start = lower

    def rise_from(self, start):
        """Explores from start, never lower than it must: (layer to fill, None), or a lower place."""
        order = count()
        heap = [(start[2], next(order), start)]
        seen = {start}
        layer, height = [], start[2]
        while heap:
            key, _, cell = heapq.heappop(heap)
            if key > height and layer:
                return layer, None
            height = key
            if not self.liquid[cell]:
                below = self.fall(cell)
                lower = below if below[2] < cell[2] else self.deepest_beside(cell)
                if lower is not None:
                    return [], lower
                layer.append(cell)
            x, y, z = cell
            near = [(x + dx, y + dy, z) for dx, dy in SIDEWAYS] + [(x, y, z - 1), (x, y, z + 1)]
            for other in near:
                if other in seen or not self.inside(other):
                    continue
                if self.liquid[other]:
                    seen.add(other)
                    heapq.heappush(heap, (max(height, other[2]), next(order), other))
                elif self.vented[other]:
                    if other[2] < height:       # air below the surface: it fills first
                        return [], self.fall(other)
                    seen.add(other)
                    heapq.heappush(heap, (other[2], next(order), other))
        return layer, None

    def run(self):
        while True:
            layer = self.next_layer()
            if not layer:
                return
            for cell in layer:
                self.liquid[cell] = True
            self.look()

    def totals(self):
        """Voxels of liquid, of trapped air, of air with a way out."""
        air = self.void & ~self.liquid
        vented = int((air & self.vented).sum())
        return int(self.liquid.sum()), int(air.sum()) - vented, vented
