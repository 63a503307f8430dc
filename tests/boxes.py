# SPDX-License-Identifier: MIT
"""Blocks with boxes dug out of them, as exact meshes: what rooms and slots of known sizes are made of."""
import house

house.use_package()
import numpy as np
import vug


def faces(voids, size):
    """The boundary of a block with those voids, on the planes that they have."""
    planes = [sorted({0.0, size[k]} | {v[s][k] for v in voids for s in (0, 1)}) for k in range(3)]
    solid = np.zeros([len(p) + 1 for p in planes], bool)
    solid[1:-1, 1:-1, 1:-1] = True
    for lo, hi in voids:
        solid[tuple(slice(planes[k].index(lo[k]) + 1, planes[k].index(hi[k]) + 1) for k in range(3))] = False
    number, points, triangles = {}, [], []
    for k in range(3):
        u, v = (k + 1) % 3, (k + 2) % 3
        for at in np.argwhere(solid != np.roll(solid, -1, axis=k)):
            square = []
            for du, dv in ((0, 0), (1, 0), (1, 1), (0, 1)):
                index = [int(a) - 1 for a in at]
                index[k] += 1
                index[u] += du
                index[v] += dv
                if tuple(index) not in number:
                    number[tuple(index)] = len(points)
                    points.append([planes[q][index[q]] for q in range(3)])
                square.append(number[tuple(index)])
            if not solid[tuple(at)]:
                square.reverse()
            triangles += [square[:3], [square[0], square[2], square[3]]]
    return vug.Mesh.from_arrays(np.array(points), np.array(triangles, np.uint32))
