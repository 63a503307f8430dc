# SPDX-License-Identifier: MIT
"""Constants, contexts, errors, progress, Ctrl-C."""
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
