# SPDX-License-Identifier: MIT
"""What Python people expect of a package: errors at once, its own words, nothing freed under a call."""
import errno
import inspect
import os
import subprocess
import threading
import warnings

import pytest

import vug

from conftest import cube


def test_one_line_from_file_to_plan(part):
    plan = vug.plan(part)
    text = str(plan)
    assert text == plan.text(0) and text.endswith("\n")
    assert "thinned acrylic" in text and "isopropanol" in text
    assert f"{1e-3 * plan.info().capacity_mm3:.1f} mL" in text
    assert vug.plan(vug.Mesh.load(part), paint="Dyed-Epoxy").paint == "Dyed-Epoxy"
    with pytest.raises(vug.NotFoundError):
        plan.text(99)
    with pytest.raises(vug.ArgumentError):
        plan.text(width=3)


def test_the_program_says_the_same(part):
    build = os.environ.get("VUG_BUILDDIR", ".")
    program = os.path.join(build, "examples", "tools", "vug-plan")
    if not os.path.exists(program):
        pytest.skip("the programs are not built")
    done = subprocess.run([program, str(part)], capture_output=True, text=True, check=True)
    assert done.stdout == str(vug.plan(part))


def test_liquids_have_names():
    assert vug.liquid("water").density_kg_m3 == pytest.approx(998.2, rel=1e-4)  # IAPWS-95, 20 C
    assert vug.liquid("Craft acrylic") == vug.liquid("craft-acrylic")
    assert vug.liquid("water", temperature_c=60.0).density_kg_m3 < 990
    assert vug.liquid("resin", level=vug.HIGH).consistency_pa_sn > \
        vug.liquid("resin", level=vug.LOW).consistency_pa_sn
    with pytest.raises(ValueError, match="isopropanol"):
        vug.liquid("soup")


def test_star_gives_what_is_meant():
    names = {}
    exec("from vug import *", names)
    assert {"Mesh", "Fluid", "plan", "PlanOptions", "VugError"} <= names.keys()
    assert "ctypes" not in names and "Any" not in names
    assert sorted(set(vug.__all__)) == sorted(vug.__all__)


def test_unknown_names_are_refused_at_once(part):
    with vug.Mesh.load(part) as mesh:
        with pytest.raises(AttributeError):
            mesh.name = "part"
        with pytest.raises(AttributeError):
            mesh.context.thread = 3
        with pytest.raises(AttributeError, match="spacing_mm"):
            mesh.cavities().pockets((0, 0, 1), spacing=1.0)
        with pytest.raises(AttributeError):
            vug.plan(mesh, turns=3)
    with pytest.raises(AttributeError):
        vug.NO_SUCH_CONSTANT


def test_options_are_shown_with_their_defaults():
    shown = inspect.signature(vug.plan).parameters
    assert shown["limit"].default == 0.005 and shown["limit"].kind is inspect.Parameter.KEYWORD_ONLY
    assert inspect.signature(vug.Cavities.fill).parameters["columns_across"].default == \
        vug.FillOptions().columns_across
    assert "warn_of_size=1" in str(inspect.signature(vug.Mesh.load))


def test_files_that_are_not_there(tmp_path):
    with pytest.raises(FileNotFoundError) as caught:
        vug.Mesh.load(tmp_path / "none.stl")
    assert caught.value.errno == errno.ENOENT and caught.value.filename.endswith("none.stl")
    assert isinstance(caught.value, vug.VugError) and caught.value.status == vug.ERR_IO
    with pytest.raises(IsADirectoryError):
        vug.Mesh.load(tmp_path)
    mesh = vug.Mesh.from_arrays(*cube())
    with pytest.raises(FileNotFoundError):
        mesh.save(tmp_path / "none" / "part.stl")
    with pytest.raises(FileNotFoundError):
        vug.plan(tmp_path / "none.stl")


def test_handles_say_what_they_are(part):
    mesh = vug.Mesh.load(part)
    cavities = mesh.cavities()
    course = cavities.fill((0, 0, -1))
    assert repr(mesh) == f"<vug.Mesh of {len(mesh)} triangles>"
    assert repr(cavities) == "<vug.Cavities 1, with 1 opening>"
    assert "events" in repr(course) and "mL" in repr(course.at_volume(1e3))
    assert "pose" in repr(cavities.plan()) and "mL" in repr(cavities.pockets((0, 0, 1)))
    mesh.close()
    assert repr(mesh) == "<vug.Mesh closed>"
    context = vug.Context(threads=1)
    assert "1 thread" in repr(context)
    context.close()
    assert "closed" in repr(context)


def test_warnings_point_to_who_called(part):
    data = bytearray(part.read_bytes())
    data[80:84] = (10**6).to_bytes(4, "little")  # a count that the file does not have
    with warnings.catch_warnings(record=True) as seen:
        warnings.simplefilter("always")
        vug.Mesh.load_memory(bytes(data))
        line = inspect.currentframe().f_lineno - 1
    assert [(w.filename, w.lineno) for w in seen] == [(__file__, line)]


def test_closing_in_a_callback_ends_nothing(part):
    mesh = vug.Mesh.load(part)
    cavities = mesh.cavities()
    closed = []

    def close_all(fraction, stage):
        if not closed:
            closed.append(stage)
            cavities.close()
            context.close()

    context = vug.Context(threads=1, progress=close_all)
    scan = cavities.scan(context=context, pose_count=50, columns_across=60)
    assert closed and len(scan) == 50
    with pytest.raises(ValueError, match="closed"):
        cavities.scan()
    with pytest.raises(ValueError, match="closed"):
        mesh.measure(context=context)


def test_closing_in_another_thread_ends_nothing(part):
    for _ in range(3):
        cavities = vug.Mesh.load(part).cavities()
        running, found = threading.Event(), []

        def scan():
            context = vug.Context(threads=1, progress=lambda fraction, stage: running.set())
            found.append(cavities.scan(context=context, pose_count=50, columns_across=60))

        thread = threading.Thread(target=scan)
        thread.start()
        running.wait()
        cavities.close()
        thread.join()
        assert len(found[0]) == 50
