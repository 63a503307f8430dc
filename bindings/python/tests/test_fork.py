# SPDX-License-Identifier: MIT
"""Workers of multiprocessing that begin by fork, Python's default on Linux until 3.13."""
import multiprocessing
import os
import signal

import pytest

import vug

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork on this system")


def trapped(path):
    signal.alarm(60)  # a worker that hangs ends, and so does the test
    part = vug.Mesh.load(path)
    return part.measure().volume_mm3, list(part.cavities().scan(pose_count=8).trapped_mm3)


def test_pool_after_threads(part):
    import warnings
    want = trapped(part)
    signal.alarm(0)
    with vug.Context(threads=4) as several:
        vug.Mesh.load(part, context=several).cavities()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # Python 3.12 on: fork with threads
        pool = multiprocessing.get_context("fork").Pool(2)
    try:
        got = pool.map_async(trapped, [part] * 4).get(timeout=60)
    finally:
        pool.terminate()
    assert got == [want] * 4
