# SPDX-License-Identifier: MIT
"""The coral's plan followed on dense voxels, bubble by bubble: a second opinion on how much air the
turns leave, that shares nothing with the library but the STL file and the poses of the plan.

Air is moved one voxel at a time. It rises to the ceiling above it, runs along it to the nearest place
from which it can rise further, and so on, until it is at a top. If there is air already, the body of
air there takes in the highest voxel of liquid that it touches, or, when that leads to a higher place
beyond a sill, the new air goes there. Air that touches a bore above the lowest part of its rim's top
leaves. Thick paint: bubbles stay where they are while the part is turned."""
import heapq
import json
import subprocess
import sys
import tempfile
from collections import deque
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

so = house.library("so")
if not so or house.sanitized():
    house.skip("no plain shared library")
import voxels
from voxels import np
from scipy import ndimage

SIDE = 0.65          # mm; the wall is thicker than sqrt(3) times this
WALL = 1.5
BESIDE = ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0))
AROUND = BESIDE + ((0, 0, 1), (0, 0, -1))


class Pose:
    """The cavity as voxels with z up, and where air leaves: {voxel: True}."""

    def __init__(self, part, up):
        self.turn = voxels.frame(up)
        resin, self.first = voxels.solid(part.triangles @ self.turn.T, SIDE, (0.31, 0.17, 0.43))
        closed, plugs = resin.copy(), []
        for bore in part.bores:
            center, outward = self.turn @ bore.center, self.turn @ bore.outward
            box, disc = voxels.plug(resin.shape, self.first, SIDE, center, outward, bore.diameter)
            closed[box] |= disc
            rim = center[2] + 0.5 * bore.diameter * np.sqrt(max(0.0, 1.0 - outward[2] ** 2))
            plugs.append((box, disc, rim))
        labels, _ = ndimage.label(~closed)
        inside = self.turn @ (part.bores[0].center
                              - 0.5 * part.bores[0].length * part.bores[0].outward)
        self.void = labels == labels[tuple(np.rint((inside - self.first) / SIDE).astype(int))]
        assert not self.void[0, 0, 0], "the voxels are too large for the wall"
        self.vents = set()
        z = self.first[2] + SIDE * np.arange(self.void.shape[2])
        for box, disc, rim in plugs:
            mouth = np.zeros_like(self.void)
            mouth[box] = ndimage.binary_dilation(disc, voxels.CROSS) & self.void[box]
            self.vents |= {tuple(v) for v in np.argwhere(mouth & (z <= rim))}
        self.cells = np.argwhere(self.void)

    def to_part(self, cells):
        return (self.first + SIDE * np.asarray(cells, float)) @ self.turn

    def from_part(self, points):
        """Nearest voxel of the cavity to each point."""
        cells = np.rint((points @ self.turn.T - self.first) / SIDE).astype(int)
        inside = np.all((cells >= 0) & (cells < self.void.shape), axis=1)
        cells = np.clip(cells, 0, np.array(self.void.shape) - 1)
        good = inside & self.void[tuple(cells.T)]
        if not good.all():
            near = ndimage.distance_transform_edt(~self.void, return_distances=False,
                                                  return_indices=True)
            cells = near[(slice(None),) + tuple(cells.T)].T
        return [tuple(c) for c in cells]

    def first_fill(self):
        """Air that can't reach a vent without going down: a max-min path from the vents."""
        level = {}
        heap = [(-v[2], v) for v in self.vents]
        heapq.heapify(heap)
        while heap:
            z, v = heapq.heappop(heap)
            if v in level:
                continue
            level[v] = -z
            for step in AROUND:
                n = (v[0] + step[0], v[1] + step[1], v[2] + step[2])
                if self.void[n] and n not in level:
                    heapq.heappush(heap, (max(z, -n[2]), n))
        return [tuple(c) for c in self.cells if level.get(tuple(c), -1) < c[2]]


class Air:
    """Bodies of air at rest in a pose."""

    def __init__(self, pose):
        self.pose, self.body, self.edge, self.parent, self.open = pose, {}, {}, {}, set()

    def find(self, b):
        while self.parent[b] != b:
            b = self.parent[b]
        return b

    def rise(self, v):
        """To the top that air from v comes to, running along ceilings."""
        void = self.pose.void
        while True:
            while void[v[0], v[1], v[2] + 1]:
                v = (v[0], v[1], v[2] + 1)
            seen, queue, up = {v}, deque([v]), None
            while queue and up is None:
                x, y, z = queue.popleft()
                for dx, dy, _ in BESIDE:
                    n = (x + dx, y + dy, z)
                    if n in seen or not void[n]:
                        continue
                    if void[n[0], n[1], z + 1]:
                        up = n
                        break
                    seen.add(n)
                    queue.append(n)
            if up is None:
                return v, seen
            v = up

    def take(self, v, b):
        """Voxel v becomes air of body b; bodies that it touches become one."""
        self.body[v] = b
        if v in self.pose.vents:
            self.open.add(b)
        for step in AROUND:
            n = (v[0] + step[0], v[1] + step[1], v[2] + step[2])
            if not self.pose.void[n]:
                continue
            if n not in self.body:
                heapq.heappush(self.edge[b], (-n[2], n))
                continue
            other = self.find(self.body[n])
            if other != b:
                self.parent[other] = b
                self.edge[b] = list(heapq.merge(sorted(self.edge[b]), sorted(self.edge.pop(other))))
                if other in self.open:
                    self.open.add(b)

    def add(self, v):
        for _ in range(1000):
            top, plateau = self.rise(v)
            there = next((p for p in plateau if p in self.body), None)
            if any(p in self.pose.vents for p in plateau):
                return
            if there is None:
                b = len(self.parent)
                self.parent[b], self.edge[b] = b, []
                self.take(top, b)
                return
            b = self.find(self.body[there])
            if b in self.open:
                return
            edge = self.edge[b]
            while edge and edge[0][1] in self.body:
                heapq.heappop(edge)
            if not edge:
                return
            n = edge[0][1]
            beyond, flat = self.rise(n)
            if beyond[2] > n[2] and not any(p in self.body and self.find(self.body[p]) == b
                                            for p in flat):
                v = n           # over the sill
                continue
            self.take(n, b)
            return
        raise AssertionError("air that does not come to rest")


def turned(pose, parcels):
    air = Air(pose)
    for v in pose.from_part(parcels):
        air.add(v)
    kept = [v for v, b in air.body.items() if air.find(b) not in air.open]
    return pose.to_part(kept) if kept else np.zeros((0, 3))


def main():
    program = house.BUILD / "examples" / "tools" / "vug-plan"
    if not program.exists():
        house.skip("the example programs are not built")
    with tempfile.TemporaryDirectory() as folder:
        part = voxels.coral(Path(folder), 85, WALL)
        holes = [w for b in part.bores for w in ("--hole=" + ",".join(map(str, b.row)),)]
        done = subprocess.run([str(program), str(part.path), *holes, "--bores", "0", "--paint",
                               "dyed epoxy", "--json", "-"], stdout=subprocess.PIPE, check=True)
    plan = json.loads(done.stdout)
    faults, air, cell = 0, None, SIDE ** 3
    for i, step in enumerate(plan["steps"]):
        pose = Pose(part, step["up"])
        capacity = len(pose.cells) * cell
        air = pose.to_part(pose.first_fill()) if i == 0 else turned(pose, air)
        left, said = len(air) * cell / capacity, step["trapped_mm3"] / plan["capacity_mm3"]
        print(f"step {i + 1}: voxels {100 * left:.2f} % air, the plan {100 * said:.2f} %")
        # a level known to half a voxel in each of some bodies of air, walls to half a voxel
        if abs(left - said) > 0.01 + 0.1 * said:
            print("FAULT: they differ by more than the voxels explain")
            faults += 1
    if left > 0.005 or plan["trapped_mm3"] > 0.005 * plan["capacity_mm3"]:
        print("FAULT: more than 0.5 % air stays")
        faults += 1
    sys.exit(1 if faults else 0)


main()
