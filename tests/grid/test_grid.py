# SPDX-License-Identifier: MIT
"""The distance transform against scipy.ndimage and the merge tree against gudhi and skimage."""
import os
import subprocess
import sys

try:
    import gudhi
    import numpy as np
    from scipy import ndimage
    from skimage.morphology import max_tree
except ImportError as missing:
    print("skipped:", missing)
    sys.exit(77)

TOOL = os.path.join(os.environ.get("VUG_BUILDDIR", "."), "tests", "grid", "grid_tool")


def run(arguments, cells):
    """cells: array indexed [z, y, x]."""
    header = np.array(cells.shape[::-1], np.int32).tobytes()
    return subprocess.run([TOOL, *arguments], input=header + cells.tobytes(), check=True,
                          stdout=subprocess.PIPE).stdout


def shapes(rng):
    yield rng.random((7, 5, 9)) < 0.2
    yield rng.random((40, 33, 57)) < 0.01
    yield rng.random((1, 64, 31)) < 0.05
    yield rng.random((30, 1, 1)) < 0.1
    one = np.zeros((20, 40, 30), bool)
    one[19, 0, 29] = True
    yield one
    z, y, x = np.mgrid[-30:31, -25:26, -28:29]
    shell = abs(np.sqrt(x * x + y * y + z * z) - 20) < 2
    yield shell
    yield ~shell
    yield np.ones((3, 4, 5), bool)


def check_distance(rng):
    """Exactly: scipy gives the nearest feature of each cell, so that the squares are integers."""
    for solid in shapes(rng):
        if not solid.any():
            continue
        got = np.frombuffer(run(["distance"], solid.astype(np.uint8)), np.uint32)
        nearest = ndimage.distance_transform_edt(~solid, return_distances=False,
                                                 return_indices=True)
        want = ((nearest - np.indices(solid.shape)) ** 2).sum(axis=0)
        assert (got.reshape(solid.shape) == want).all(), solid.shape
    empty = np.frombuffer(run(["distance"], np.zeros((3, 4, 5), np.uint8)), np.uint32)
    assert (empty == 2**32 - 1).all()


def fields(rng):
    noise = rng.integers(1, 50, (12, 15, 14))
    yield noise
    smooth = ndimage.gaussian_filter(rng.random((24, 30, 27)), 2)
    yield 1 + ((smooth - smooth.min()) / np.ptp(smooth) * 5000).astype(int)
    solid = rng.random((30, 28, 26)) < 0.01
    yield (ndimage.distance_transform_edt(~solid) ** 2).round().astype(int)


def gudhi_pairs(value):
    """0-dimensional pairs of the superlevel sets; cells that share a corner are neighbours."""
    cubes = gudhi.CubicalComplex(top_dimensional_cells=-value.astype(float))
    cubes.compute_persistence(homology_coeff_field=2, min_persistence=0)
    pairs = cubes.persistence_intervals_in_dimension(0)
    finite = [(-b, -d) for b, d in pairs if np.isfinite(d) and d > b]
    return sorted(finite)


def skimage_pairs(value):
    """The same, cells that share a face, from the component tree: a component that gets a second
    child merges, and the child whose own maximum is lower ends there."""
    parent, order = max_tree(value, connectivity=1)
    flat, parent = value.ravel(), parent.ravel()
    best = flat.copy()
    pairs = []
    for node in order[::-1]:
        above = parent[node]
        if above == node:
            continue
        if flat[above] == flat[node]:
            best[above] = max(best[above], best[node])
        elif best[above] == flat[above]:
            best[above] = best[node]
        else:
            pairs.append((min(best[above], best[node]), flat[above]))
            best[above] = max(best[above], best[node])
    return sorted((float(b), float(d)) for b, d in pairs if b > d)


def check_tree(rng):
    for value in fields(rng):
        value = np.where(value < 3, 0, value)
        for connectivity, reference in (("26", gudhi_pairs), ("6", skimage_pairs)):
            got = np.frombuffer(run(["tree", connectivity], value.astype(np.uint32)), np.uint32)
            got = sorted((float(b), float(d)) for b, d in got.reshape(-1, 2) if b > d > 0)
            want = [pair for pair in reference(value) if pair[1] > 0]
            assert len(want) > 3 and got == want, (connectivity, len(got), len(want))


generator = np.random.default_rng(20)
check_distance(generator)
check_tree(generator)
print("distance transform and merge tree agree")
