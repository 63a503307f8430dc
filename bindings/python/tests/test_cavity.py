# SPDX-License-Identifier: MIT
"""Cavities, openings, trapped air, pose scans, Ctrl-C in a real long call."""
import gc
import math
import os
import signal
import threading
import time

import pytest

import vug

numpy = pytest.importorskip("numpy")
SECTION = 24 * math.sin(math.pi / 24)  # area of a regular 48-gon of circumradius 1: n/2 sin(2 pi/n)
HOLE = [0, 0, 0, 0, 0, -1, 4.0]  # the round box's bore: centre, outward, diameter


@pytest.fixture
def cavities(part):
    return vug.Mesh.load(part).cavities([HOLE])


def test_round_box(cavities):
    assert len(cavities) == 1 and cavities.opening_count == 1
    info = cavities.info(0)
    # The cavity to the cap at the outer end of the bore: two prisms on 48-gons.
    want = SECTION * (12**2 * 34 + 2**2 * 3)
    assert info.volume_mm3 == pytest.approx(want, rel=2e-3)
    assert abs(info.volume_mm3 - want) <= info.volume_error_mm3 + 1e-6 * want
    assert info.openings == 1 and not info.sealed
    hole = cavities.opening(0)
    assert hole.center_mm == pytest.approx((0, 0, 0), abs=0.01)
    assert hole.normal == pytest.approx((0, 0, -1), abs=1e-6)
    assert hole.area_mm2 == pytest.approx(SECTION * 4, rel=1e-3)
    assert cavities.outline(0).shape[1] == 3
    with pytest.raises(vug.NotFoundError):
        cavities.info(1)


def test_a_vent_that_is_dragged_about(part, cavities):
    mesh = vug.Mesh.load(part)
    for x in (-5.0, 0.0, 5.0):  # through the lid of 3 mm: pi r^2 times 3
        vent = [x, 0, 40, 0, 0, 1, 2.0]
        moved, named = cavities.with_bores([vent]), mesh.cavities([HOLE, vent])
        assert moved.opening_count == 2 and cavities.opening_count == 1
        assert moved.opening(1).planned == 1
        gained = moved.info(0).volume_mm3 - cavities.info(0).volume_mm3
        assert gained == pytest.approx(math.pi * 3, rel=1e-3)
        up = [0.2, 0, 1]
        assert moved.pockets(up).trapped_mm3 == pytest.approx(named.pockets(up).trapped_mm3, rel=1e-9)
    with pytest.raises(vug.NotFoundError, match="another opening"):
        cavities.with_bores(numpy.array([[3.0, 0, 0, 0, 0, -1, 4.0]]))
    with pytest.raises(vug.NotFoundError, match="no wall"):
        cavities.with_bores([[100, 0, 40, 0, 0, 1, 2.0]])
    with pytest.raises(ValueError):
        cavities.with_bores([[1, 2, 3]])
    assert cavities.with_bores([]).opening_count == 1


def test_borrowed_mesh_outlives_the_handle(cavities):
    mesh, tags = cavities.mesh(0), cavities.mesh_tags(0)
    want = cavities.info(0).volume_mm3
    assert set(tags) == {-1, 0}
    cavities.close()
    del cavities
    gc.collect()
    measures = mesh.measure()
    assert measures.closed == 1 and measures.volume_mm3 == pytest.approx(want, rel=1e-9)
    assert len(tags) == len(mesh)


def test_pockets_of_the_round_box(cavities):
    # Bore at the top: the air has a way out. Bore at the bottom: all above it is trapped.
    bore_up = cavities.pockets([0, 0, -1])
    assert bore_up.trapped_mm3 <= 0.01 * bore_up.capacity_mm3
    bore_down = cavities.pockets([0, 0, 1])
    want = SECTION * 12**2 * 34
    assert bore_down.trapped_mm3 == pytest.approx(want, rel=0.02)
    pocket = bore_down.info(0)
    assert pocket.volume_mm3 == pytest.approx(want, rel=0.02)
    assert pocket.top_mm[2] == pytest.approx(37.0, abs=0.2)
    bore = bore_down.bore(0)
    assert bore.depth_mm == pytest.approx(3.0, abs=0.3)  # the wall
    sealed = cavities.pockets([0, 0, -1], roles=[vug.ROLE_SEALED])
    assert sealed.trapped_mm3 == pytest.approx(sealed.capacity_mm3)
    rows = bore_down.section([0, 0, 20], [0, 1, 0])
    assert rows.shape[1] == 4 and (rows[:, 3] >= rows[:, 2]).all() and (rows[:, 2] >= rows[:, 1]).all()


def test_scan(cavities):
    scan = cavities.scan(pose_count=60, columns_across=60)
    assert len(scan) == 60 and scan.ups.shape == (60, 3)
    assert numpy.allclose(numpy.linalg.norm(scan.ups, axis=1), 1)
    assert scan.trapped_mm3[scan.best] == scan.trapped_mm3.min()
    best = scan.info(scan.best)
    assert best.trapped_mm3 == scan.trapped_mm3[scan.best]
    assert best.up == pytest.approx(tuple(scan.ups[scan.best]))
    with pytest.raises(vug.NotFoundError):
        scan.info(len(scan))
    one = cavities.scan(pose_count=60, columns_across=60, context=vug.Context(threads=1))
    assert one.trapped_mm3.tobytes() == scan.trapped_mm3.tobytes()
    with pytest.raises(AttributeError):
        cavities.scan(poses=3)


def test_progress_of_a_scan(cavities):
    seen = []
    ctx = vug.Context(progress=lambda fraction, stage: seen.append(fraction))
    cavities.scan(pose_count=100000, context=ctx)  # told 20 times a second
    assert len(seen) > 3 and seen == sorted(seen) and 0 <= seen[0] and seen[-1] <= 1


def test_cancel_from_another_thread(cavities):
    ctx = vug.Context()
    timer = threading.Timer(0.2, ctx.cancel)
    timer.start()
    with pytest.raises(vug.CancelledError):
        cavities.scan(pose_count=200000, columns_across=200, context=ctx)
    assert len(cavities.scan(pose_count=10, columns_across=40, context=ctx)) == 10


def test_ctrl_c_stops_a_scan_within_a_moment(cavities):
    sent = []

    def interrupt():
        sent.append(time.monotonic())
        os.kill(os.getpid(), signal.SIGINT)
    threading.Timer(0.2, interrupt).start()
    with pytest.raises(KeyboardInterrupt):
        cavities.scan(pose_count=200000, columns_across=200)
    assert time.monotonic() - sent[0] < 1.0
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
