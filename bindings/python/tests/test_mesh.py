# SPDX-License-Identifier: MIT
"""Meshes: arrays in and out, files, measures, lifetime."""
import gc
import math
import os
import pickle
import subprocess
import sys
import threading

import pytest

import vug
from conftest import cube

numpy = pytest.importorskip("numpy")


def test_cube_has_the_measures_of_a_cube():
    measures = vug.Mesh.from_arrays(*cube(10.0)).measure()
    # Volume, area and centroid of a cube: elementary geometry.
    assert measures.closed == 1 and measures.shells == 1
    assert math.isclose(measures.volume_mm3, 1000.0, rel_tol=1e-12)
    assert math.isclose(measures.area_mm2, 600.0, rel_tol=1e-12)
    assert measures.centroid_mm == pytest.approx((5, 5, 5))
    assert measures.lo_mm == (0, 0, 0) and measures.hi_mm == (10, 10, 10)
    with pytest.raises(AttributeError):
        measures.volume
    assert "volume_mm3=" in repr(measures)


def test_numpy_goes_in_as_it_lies():
    vertices, triangles = cube()
    wide = numpy.zeros((8, 5))
    wide[:, 1:4] = vertices
    strided = wide[:, 1:4]
    assert not strided.flags.c_contiguous
    _, count, stride, table = vug._arrays.rows(strided, vug._arrays.ctypes.c_double, 3)
    assert count == 8 and stride == 40 and numpy.shares_memory(table, wide)
    for points in (strided, numpy.array(vertices, "f4"), numpy.asfortranarray(vertices),
                   numpy.array(vertices)[::-1][::-1], vertices):
        for corners in (triangles, numpy.array(triangles), numpy.array(triangles, "u1"),
                        numpy.array(triangles).ravel()):
            mesh = vug.Mesh.from_arrays(points, corners)
            assert math.isclose(mesh.measure().volume_mm3, 1000.0, rel_tol=1e-12)


@pytest.mark.parametrize("vertices, triangles, kind", [
    (cube()[0], [(0, 1, 8)], vug.MeshError),
    ([(0, 0, float("nan")), (1, 0, 0), (0, 1, 0)], [(0, 1, 2)], vug.MeshError),
    (cube()[0], numpy.zeros((0, 3)), TypeError),
    (cube()[0], numpy.zeros((0, 3), "u4"), vug.MeshError),
    (cube()[0], [(0, 1, -1)], ValueError),
    (cube()[0], [(0, 1)], ValueError),
    ([(0, 1)], [(0, 1, 2)], ValueError),
    (cube()[0], [(0, 1, 2.5)], TypeError),
])
def test_bad_arrays_are_refused(vertices, triangles, kind):
    with pytest.raises(kind):
        vug.Mesh.from_arrays(vertices, triangles)


def test_arrays_outlive_the_handle():
    with vug.Mesh.from_arrays(*cube()) as mesh:
        vertices, triangles = mesh.vertices, mesh.triangles
    assert mesh.closed_handle
    with pytest.raises(ValueError):
        mesh.measure()
    del mesh
    gc.collect()
    assert vertices.shape == (8, 3) and triangles.shape == (12, 3)
    assert vertices.max() == 10.0 and triangles.max() == 7
    with pytest.raises(ValueError):
        vertices[0, 0] = 1.0


def test_files(part, tmp_path):
    mesh = vug.Mesh.load(part)
    copy = tmp_path / "copy.stl"
    mesh.save(str(copy))
    again = vug.Mesh.load_memory(copy.read_bytes(), name="copy")
    assert numpy.array_equal(mesh.vertices, again.vertices)
    assert numpy.array_equal(mesh.triangles, again.triangles)
    # Solids of revolution of the straight profile with 48 sides: n/2 sin(2 pi / n) r^2 h each.
    section = 24 * math.sin(math.pi / 24)
    assert mesh.measure().volume_mm3 == pytest.approx(
        section * (15**2 * 40 - 12**2 * 34 - 2**2 * 3), rel=1e-6)


def test_other_formats(part, tmp_path):
    mesh = vug.Mesh.load(part)
    colors = numpy.zeros((len(mesh.vertices), 4), "u1")
    colors[:, 0] = 255
    mesh.save(tmp_path / "part.ply", colors=colors[:, :3])
    with pytest.raises(ValueError):
        mesh.save(tmp_path / "part.ply", colors=colors[1:, :3])
    with pytest.raises(vug.UnsupportedError):
        mesh.save(tmp_path / "part.stl", colors=colors[:, :3])
    with pytest.raises(vug.UnsupportedError):
        mesh.save(tmp_path / "part.xyz")
    mesh.save(tmp_path / "part.xyz", vug.FORMAT_STL)
    text = (tmp_path / "part.ply").read_bytes()
    assert vug.Mesh.load_memory(text).measure() == vug.Mesh.load(tmp_path / "part.ply").measure()
    assert text.startswith(b"ply\n") and bytes([255, 0, 0]) in text
    again = vug.Mesh.load(tmp_path / "part.ply", unit_mm=2.0, warn_of_size=False)
    assert again.measure().volume_mm3 == pytest.approx(8 * mesh.measure().volume_mm3, rel=1e-6)
    if vug.feature("3mf"):
        mesh.save(tmp_path / "part.3mf")
        assert len(vug.Mesh.load(tmp_path / "part.3mf")) == len(mesh)
    else:
        with pytest.raises(vug.UnsupportedError):
            mesh.save(tmp_path / "part.3mf")


def test_errors_carry_status_and_message(tmp_path):
    with pytest.raises(vug.FileError) as caught:
        vug.Mesh.load(tmp_path / "none.stl")
    assert caught.value.status == vug.ERR_IO and "none.stl" in caught.value.message
    assert isinstance(caught.value, OSError)
    with pytest.raises(vug.FormatError):
        vug.Mesh.load_memory(b"no mesh at all")


def test_small_faults_become_warnings():
    text = "solid x\n" + "".join(
        "facet normal 0 0 0\nouter loop\n" + "".join("vertex %g %g %g\n" % p for p in corner) +
        "endloop\nendfacet\n"
        for corner in [[cube()[0][i] for i in t] for t in cube()[1]])  # no endsolid
    ctx = vug.Context()
    with pytest.warns(vug.VugWarning):
        mesh = vug.Mesh.load_memory(text.encode(), context=ctx)
    assert ctx.warnings and mesh.measure().closed == 1


def test_shells_of_two_cubes():
    vertices, triangles = cube()
    both = numpy.vstack([vertices, numpy.array(vertices) + 50])
    corners = numpy.vstack([triangles, numpy.array(triangles) + 8])
    mesh = vug.Mesh.from_arrays(both, corners)
    shells = mesh.shells()
    assert len(shells) == 2
    assert [m.volume_mm3 for m in shells.infos()] == pytest.approx([1000, 1000])
    assert list(shells.of_triangles) == [0] * 12 + [1] * 12
    with pytest.raises(vug.NotFoundError):
        shells.info(2)


def test_pickle_keeps_every_byte(part):
    mesh = vug.Mesh.load(part)
    again = pickle.loads(pickle.dumps(mesh))
    assert numpy.array_equal(mesh.vertices, again.vertices)
    assert pickle.loads(pickle.dumps(mesh.measure())) == mesh.measure()


def test_without_numpy(part):
    """The package works without numpy: lists and arrays in, memoryviews out."""
    code = f"""
import sys
sys.modules["numpy"] = None
import vug
from array import array
from conftest import cube
vertices, triangles = cube()
flat = array("d", [x for v in vertices for x in v])
for mesh in (vug.Mesh.from_arrays(vertices, triangles), vug.Mesh.from_arrays(flat, triangles)):
    assert abs(mesh.measure().volume_mm3 - 1000) < 1e-9
    view = mesh.vertices
    assert view.shape == (8, 3) and view[7, 2] == 10.0 and view.readonly
    mesh.close()
    assert view[7, 2] == 10.0
try:
    vug.Mesh.from_arrays([(1, 2)], triangles)
except ValueError:
    print("fine", len(vug.Mesh.load({str(part)!r})))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True,
                          env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)})
    assert done.stdout.startswith("fine"), done.stderr


def test_contexts_in_threads_give_the_same(part):
    want = vug.Mesh.load(part).measure()
    got = []

    def work():
        with vug.Context(threads=1) as ctx:
            for _ in range(20):
                got.append(vug.Mesh.load(part, context=ctx).measure(ctx))
    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(got) == 80 and all(m == want for m in got)


def slab():
    corners = [(x, y, z) for x in (0, 40) for y in (0, 30) for z in (0, 5)]
    faces = [(0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1), (2, 3, 7), (2, 7, 6),
             (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)]
    return vug.Mesh.from_arrays(corners, faces)


def test_bores_and_what_fits_them(tmp_path):
    part, row = slab(), (20, 15, 5, 0, 0, -1, 6)
    bored, cuts = part.bore([row], error_mm=0.05)  # by hand: pi 3^2 5
    assert math.isclose(cuts[0][0], math.pi * 45, rel_tol=1e-9) and len(cuts) == 1
    assert math.isclose(bored.measure().volume_mm3, 6000 - math.pi * 45, rel_tol=1e-9)
    plug = vug.Mesh.plug(row, head_mm=0, length_mm=4, clearance_mm=0.5)
    assert math.isclose(plug.measure().volume_mm3, math.pi * 2.5 ** 2 * 4, rel_tol=1e-9)
    assert part.guide(row, height_mm=10).measure().closed
    cradle, stand = part.cradle((0, 0, 1), [(20, 15, 0, 3)], cells=80)
    assert cradle.measure().closed and math.isclose(stand, 20)
    with pytest.raises(vug.NotFoundError, match="misses"):
        part.bore([(90, 15, 5, 0, 0, -1, 6)])
    with pytest.raises(ValueError):
        vug.Mesh.save_pieces([part], tmp_path / "x.3mf", ["a", "b"])
    if vug.feature("3mf"):
        vug.Mesh.save_pieces([part, plug], tmp_path / "x.3mf", ["part", "plug"])
        assert vug.Mesh.load(tmp_path / "x.3mf").measure().shells == 2


def test_hollow():
    part = slab()
    hollow, info, spots = part.hollow(wall_mm=1, chamber_mm=1, cells=80)
    # by hand; edges are cut off within two steps
    assert math.isclose(info.volume_mm3, 38 * 28 * 3, rel_tol=0.02) and info.chambers == 1 and len(spots) == 0
    assert math.isclose(hollow.measure().volume_mm3, 6000 - info.volume_mm3, rel_tol=1e-9)
    assert info.trapped_mm3 == info.slope_deg == 0
    # by hand: held on its narrow side, the ceiling falls by 10 degrees to both sides of its middle; a mean 28 / 4 mm
    shaped, info, _ = part.hollow(wall_mm=1, chamber_mm=1, cells=80, most_wall_mm=6, fill_up=(2, 0, 0))
    assert math.isclose(info.added_mm3, math.tan(math.radians(10)) * 7 * 28 * 3, rel_tol=0.1)
    assert shaped.measure().closed and info.bare_mm2 <= info.bare_before_mm2
    with pytest.raises(vug.ArgumentError, match="most_wall_mm"):
        part.hollow(wall_mm=1, most_wall_mm=0.5)


def test_backlit_box():
    # by hand: 4 mm of resin at 0.1 per mm let exp(-0.4) through (Beer-Lambert)
    corner = [(x, y, z) for x in (0, 9) for y in (0, 4) for z in (0, 9)]
    faces = [(0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1),
             (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)]
    image = vug.Mesh.from_arrays(corner, faces).backlit(20, 30, resin_per_mm=(0.1, 0.1, 0.1), linear=1)
    assert tuple(image.shape) == (30, 20, 4)
    assert [int(image[15, 10, k]) for k in range(4)] == [171, 171, 171, 255]
    assert [int(image[0, 0, k]) for k in range(4)] == [255] * 4
