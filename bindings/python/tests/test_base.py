# SPDX-License-Identifier: MIT
"""Constants, contexts, errors, progress, Ctrl-C."""
import ctypes
import gc
import os
import signal
import subprocess
import sys
import threading
import time
import weakref

import pytest

import vug
from vug import _raw
from vug._errors import BY_STATUS


def test_version_and_constants():
    assert vug.version() == vug.__version__
    assert vug.constants().items() >= _raw.CONSTANTS.items()  # a newer library has more
    assert vug.MAX_THREADS == vug.constants()["VUG_MAX_THREADS"]
    assert vug.feature("no such thing") is False
    with pytest.raises(AttributeError):
        vug.NO_SUCH_NAME


def test_each_status_has_its_exception():
    for status in range(1, vug.STATUS_COUNT):
        kind = BY_STATUS[status]
        assert kind.status == status
        assert str(vug._errors.error(status, "why")) == "why"
        assert vug.status_name(status) in _raw.CONSTANTS
        assert vug.status_string(status)
    assert type(vug._errors.error(99, "why")) is vug.VugError
    assert vug._errors.error(99).status == 99


def test_context_options():
    with vug.Context(threads=2) as ctx:
        assert ctx.threads == 2
        assert ctx.message == ""
        assert ctx.fraction == 0.0
    with pytest.raises(ValueError):
        ctx.threads
    with pytest.raises(vug.LimitError):
        vug.Context(threads=vug.MAX_THREADS + 1)


def test_default_context_is_of_its_thread():
    mine = vug.default_context()
    theirs = []
    thread = threading.Thread(target=lambda: theirs.append(vug.default_context()))
    thread.start()
    thread.join()
    assert mine is vug.default_context() and theirs[0] is not mine


def test_context_frees_itself():
    ctx = vug.Context()
    gone = weakref.ref(ctx)
    owner = weakref.ref(ctx._owner)
    del ctx
    gc.collect()
    assert gone() is None and owner() is None


def test_library_named_by_the_environment(tmp_path):
    """VUG_LIBRARY is used, and only that; what was tried is told."""
    missing = tmp_path / "none.so"
    done = subprocess.run([sys.executable, "-c", "import vug"], capture_output=True, text=True,
                          env={**os.environ, "VUG_LIBRARY": str(missing),
                               "PYTHONPATH": os.pathsep.join(sys.path)})
    assert done.returncode != 0
    assert "ImportError" in done.stderr and str(missing) in done.stderr



def test_progress_stops_by_result_and_by_exception():
    def run(progress):
        ctx = vug.Context(progress=progress)

        def call(pointer):
            for i in range(10):
                if ctx._callback(None, i / 10, b"stage"):
                    return vug.ERR_CANCELLED
            return vug.OK
        ctx.call(call)

    run(None)
    seen = []
    run(lambda fraction, stage: seen.append((fraction, stage)))
    assert seen[0] == (0.0, "stage") and len(seen) == 10
    with pytest.raises(vug.CancelledError):
        run(lambda fraction, stage: fraction >= 0.5)

    def fail(fraction, stage):
        raise KeyError("mine")
    with pytest.raises(KeyError):
        run(fail)


def test_context_refuses_use_from_its_own_callback():
    ctx = vug.Context()
    ctx.progress = lambda fraction, stage: ctx.call(lambda pointer: vug.OK)
    with pytest.raises(RuntimeError):
        ctx.call(lambda pointer: ctx._callback(None, 0.5, b"") and vug.ERR_CANCELLED)
    ctx.call(lambda pointer: vug.OK)  # and it still works


def test_second_thread_waits_for_the_context():
    ctx = vug.Context()
    order = []

    def slow(pointer):
        order.append("in")
        time.sleep(0.05)
        order.append("out")
        return vug.OK
    threads = [threading.Thread(target=ctx.call, args=(slow,)) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert order == ["in", "out"] * 3


def test_ctrl_c_raises_after_the_call_has_stopped():
    ctx = vug.Context()
    stopped = []

    def call(pointer):
        os.kill(os.getpid(), signal.SIGINT)
        for i in range(1000):
            time.sleep(0.001)
            ctx._callback(None, i / 1000, b"stage")
        stopped.append(True)
        return vug.ERR_CANCELLED
    with pytest.raises(KeyboardInterrupt):
        ctx.call(call)
    assert stopped
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


@pytest.mark.parametrize("number", [-1, 2 ** 64, 2 ** 70])
def test_numbers_that_do_not_fit(number, part):
    mesh = vug.Mesh.load(part)
    thickness = mesh.thickness()
    for misuse in (lambda: vug.sphere_points(number), lambda: thickness.histogram(0, 1, number),
                   lambda: vug.Context(threads=number), lambda: mesh.cavities().plan(max_bores=number),
                   lambda: mesh.cavities().info(number), lambda: vug.status_name(2 ** 70)):
        with pytest.raises((OverflowError, ctypes.ArgumentError)):
            misuse()
    with pytest.raises(TypeError):
        vug.sphere_points(2.5)


def test_null_bytes_in_paths(part):
    mesh = vug.Mesh.load(part)
    for misuse in (vug.Mesh.load, mesh.save):
        with pytest.raises(ValueError):
            misuse(str(part) + "\0.stl")


def test_unknown_names_raise(part):
    mesh = vug.Mesh.load(part)
    for misuse in (lambda: mesh.cavities(wide=1), lambda: mesh.cavities().scan(pose=1),
                   lambda: mesh.cavities().plan(bores=1), lambda: vug.Fluid(colour=1),
                   lambda: mesh.colour, lambda: vug.Context().colour):
        with pytest.raises((TypeError, AttributeError)):
            misuse()


def test_every_call_ends_at_one(part, tmp_path):
    with vug.Context() as ctx:
        def whole(result):
            assert ctx.fraction == 1.0
            return result

        mesh = whole(vug.Mesh.load(part, context=ctx))
        whole(vug.Mesh.load_memory(part.read_bytes(), context=ctx))
        whole(vug.Mesh.from_arrays(mesh.vertices, mesh.triangles, context=ctx))
        whole(mesh.measure(context=ctx))
        whole(mesh.shells(context=ctx))
        whole(mesh.clean(context=ctx))
        for ending in ["stl", "ply"] + ["3mf"] * vug.feature("3mf"):
            whole(mesh.save(tmp_path / f"a.{ending}", context=ctx))
        whole(mesh.thickness(context=ctx))
        whole(mesh.cavities(detect=0, holes=[(0, 0, 0, 0, 0, -1, 4)], context=ctx))
        cavities = whole(mesh.cavities(context=ctx))
        pockets = whole(cavities.pockets((0, 1, 0), context=ctx))
        whole(pockets.bore(0, context=ctx))
        whole(cavities.scan(pose_count=10, context=ctx))
        whole(cavities.fill((0, 0, -1), context=ctx))
        course = whole(cavities.fill((0, 0, -1), rate_mm3_s=500.0, viscous=1, context=ctx))
        whole(course.at_time(1e9).turn(cavities, (0, 0.1, -1), context=ctx))
        whole(cavities.fill_rate_limit((0, 0, -1), context=ctx))
        whole(cavities.drain((0, 0, 1), context=ctx))
        whole(cavities.cups((0, 0, 1), context=ctx))
        whole(cavities.plan(context=ctx))
