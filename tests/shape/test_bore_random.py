#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Random bores, each looked at from outside the library: every directed edge of the result has its opposite once,
no two vertices are one, and the volume that numpy sums up is less by what the call says. Two thirds of the bores begin
at a vertex or in the middle of an edge.

    tests/shape/test_bore_random.py [COUNT [MESH]]    of a mesh, in place of 60 of examples/gourd.stl;
                                                      coral: of the one that vug-coral makes
"""
import os
import subprocess
import sys
import tempfile
from pathlib import Path

try:
    import numpy as np
except ImportError:
    print("skipped: numpy is not there")
    sys.exit(77)

SOURCE = Path(os.environ.get("VUG_SRCDIR", Path(__file__).resolve().parents[2])).resolve()
sys.path.insert(0, str(SOURCE / "bindings" / "python"))
built = Path(os.environ.get("VUG_BUILDDIR", SOURCE)).resolve() / ".libs" / "libvug.so"
os.environ.setdefault("VUG_LIBRARY", str(built))
if not built.exists():
    print("skipped: there is no shared library")
    sys.exit(77)
import vug  # noqa: E402


def sound(mesh):
    t = np.asarray(mesh.triangles).astype(np.int64)
    a, b = t.ravel(), t[:, [1, 2, 0]].ravel()
    there = np.sort(a << 32 | b)
    return (np.diff(there) > 0).all() and (there == np.sort(b << 32 | a)).all() \
        and len(np.unique(mesh.vertices, axis=0)) == len(mesh.vertices)


def volume(mesh):
    v = np.asarray(mesh.vertices)
    a, b, c = ((v - v.mean(0))[np.asarray(mesh.triangles)[:, k]] for k in range(3))
    return np.einsum("ij,ij->", a, np.cross(b, c)) / 6


def flattest(mesh):
    """Least height of a triangle: where three corners are in line but for rounding, its neighbours cross."""
    v = np.asarray(mesh.vertices)[np.asarray(mesh.triangles)]
    longest = np.linalg.norm(v - v[:, [1, 2, 0]], axis=2).max(1)
    return (np.linalg.norm(np.cross(v[:, 1] - v[:, 0], v[:, 2] - v[:, 0]), axis=1) / longest).min()


def load(name):
    if name != "coral":
        return vug.Mesh.load(name, warn_of_size=0)
    program = built.parents[1] / "examples" / "tools" / "vug-coral"
    if not program.exists():
        print("skipped: the examples are not built")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "coral.stl"
        subprocess.run([program, "--out", path], check=True, capture_output=True)
        return vug.Mesh.load(path)


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    mesh = load(sys.argv[2] if len(sys.argv) > 2 else SOURCE / "examples" / "gourd.stl")
    assert sound(mesh), "the mesh is not sound to begin with"
    rng = np.random.default_rng(20)
    v, t = np.asarray(mesh.vertices), np.asarray(mesh.triangles)
    before, cut, whole, refused = volume(mesh), 0, mesh, 0
    for i in range(count):
        a, b, c = v[t[rng.integers(len(t))]]
        inward = -np.cross(b - a, c - a)
        inward /= np.linalg.norm(inward)
        start = [a, (a + b) / 2, (a + b + c) / 3][i % 3]
        row = [*start, *(inward + 0.5 * rng.normal(size=3)), rng.uniform(0.4, 4), [0, np.inf, rng.uniform(0.5, 4)][i // 3 % 3]]
        one, cuts = mesh.bore([row])
        assert sound(one), f"bore {i} broke the mesh: {row}"
        assert abs(before - volume(one) - cuts[0][0]) < 1e-9 * before, (row, cuts[0][0], before - volume(one))
        cut += cuts[0][0] > 0
        try:  # and all into one part, where they meet
            whole, cuts = whole.bore([row])
        except vug.NotFoundError:  # what it was to go through is gone
            continue
        except vug.MeshError:  # where many bores meet, rounded corners may leave a fold: said, and nothing is cut
            refused += 1
            continue
        assert sound(whole), f"bore {i} broke the mesh that has the ones before: {row}"
    assert flattest(whole) > 1e-12, flattest(whole)
    assert cut == count
    assert refused <= count / 100, f"{refused} refused"
    print(f"{count} bores, {len(mesh)} triangles, {len(whole)} with all of them but {refused} refused")


main()
