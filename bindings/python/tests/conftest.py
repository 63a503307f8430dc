# SPDX-License-Identifier: MIT
"""The package of this folder, the library of this build."""
import os
import signal
import sys
from pathlib import Path

import pytest

# A job in the background of a shell without job control is deaf to Ctrl-C.
signal.signal(signal.SIGINT, signal.default_int_handler)

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))
sys.path.insert(0, str(HERE.parents[2] / "tests"))
build = os.environ.get("VUG_BUILDDIR")
if build and (Path(build) / ".libs" / "libvug.so").exists():
    os.environ.setdefault("VUG_LIBRARY", str(Path(build) / ".libs" / "libvug.so"))


def cube(side=10.0):
    """Vertices and outward triangles of a cube at the origin."""
    vertices = [(x * side, y * side, z * side) for z in (0, 1) for y in (0, 1) for x in (0, 1)]
    triangles = [(0, 2, 3), (0, 3, 1), (4, 5, 7), (4, 7, 6), (0, 1, 5), (0, 5, 4),
                 (2, 6, 7), (2, 7, 3), (0, 4, 6), (0, 6, 2), (1, 3, 7), (1, 7, 5)]
    return vertices, triangles


@pytest.fixture
def part(tmp_path):
    """A closed, hollow, round box with one bore in its floor, as an STL file."""
    import test_man_programs
    path = tmp_path / "part.stl"
    test_man_programs.part(path)
    return path
