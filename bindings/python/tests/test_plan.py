# SPDX-License-Identifier: MIT
"""Whole plans, wall thickness, cleaning, tables in options."""
import math

import pytest

import vug
from conftest import cube
from vug import flow

numpy = pytest.importorskip("numpy")
HOLE = [0, 0, 0, 0, 0, -1, 4.0]


@pytest.fixture
def cavities(part):
    return vug.Mesh.load(part).cavities([HOLE])


def test_plan_of_the_round_box(cavities):
    plan = cavities.plan(pose_count=24, columns_across=60, verify_across=80)
    assert len(plan) >= 1
    info = plan.info()
    assert info.capacity_mm3 == pytest.approx(cavities.info(0).volume_mm3, rel=0.02)
    assert info.trapped_mm3 <= info.capacity_mm3
    steps = plan.steps()
    assert all(len(s.feed) == len(s.feed_mm3) and sum(s.feed_mm3) == pytest.approx(s.inject_mm3) for s in steps)
    assert len(steps) == info.steps and math.isclose(sum(x * x for x in steps[0].up), 1, rel_tol=1e-9)
    assert len(plan.steps(sequence=vug.PLAN_DRAIN)) >= 1
    assert all(step.rate_mm3_s == 0 for step in steps[1:]) and steps[0].rate_mm3_s >= 0
    course = plan.cavities().fill(steps[0].up, inlet=steps[0].inlet, columns_across=80)
    assert course.info.liquid_mm3 == pytest.approx(steps[0].inject_mm3, rel=2e-3)
    assert len(plan.bores()) == info.bores
    inside = plan.cavities()
    plan.close()
    assert inside.opening_count == cavities.opening_count + info.bores
    with pytest.raises(ValueError):
        plan.info()


def test_words_and_cautions(cavities):
    assert vug.pose_words([0, 0, 1]) and vug.pose_words([1, 0, 0], [0, 0, 1])
    assert vug.caution_text(vug.CAUTION_SOLVENT) and vug.caution_text(-1) is None
    plan = cavities.plan(pose_count=12, columns_across=40, verify_across=60, max_bores=0)
    assert all(isinstance(text, str) and text for text in plan.cautions())


def test_words_bring_the_pose_back(cavities):
    plan = cavities.plan(pose_count=26, columns_across=40, verify_across=60)
    text = plan.text(part="box.stl", paint="ink", rinse="water", width=60)
    assert "box.stl: the cavity takes" in text and "Fill with ink" in text and "with water" in text
    assert max(map(len, text.splitlines())) <= 60 and str(plan).startswith("The part: the cavity")
    for sequence in (vug.PLAN_FILL, vug.PLAN_DRAIN):
        for step in plan.steps(sequence=sequence):
            words = vug.pose_words(step.up)
            assert words.split("its ", 1)[1] in " ".join(text.split())
            assert vug.pose_parse(words) == pytest.approx(step.up, abs=1e-12)
    assert vug.pose_parse("its base straight up") == (0, 0, -1)
    with pytest.raises(vug.NotFoundError):
        vug.pose_parse("as you like it")
    with pytest.raises(vug.NotFoundError):
        plan.text(99)
    assert plan.letter(0) == "A" == vug.opening_letter(0)
    assert vug.percent_words(97.77, 100) == "97.8 %"
    assert vug.opening_number("c2") == 28 and vug.opening_letter(28) == "C2"
    assert "Opening A is at its base." in cavities.sides_words()


def test_tables_in_options():
    options = vug.PlanOptions(view=[[0, 0, 1], [1, 0, 0]], keep_clear=numpy.ones((3, 5))[:, :4])
    assert options._c.view_count == 2 and options._c.keep_clear_count == 3
    assert [options._c.view[i] for i in range(6)] == [0, 0, 1, 1, 0, 0]
    assert [options._c.keep_clear[i] for i in range(12)] == [1.0] * 12
    options.view = None
    assert options._c.view_count == 0 and options.view is None
    with pytest.raises(ValueError):
        options.view = [[0, 0]]
    with pytest.raises(AttributeError):
        options.view_count = 7


def test_fill_in_time(cavities):
    water = flow.Fluid()
    course = cavities.fill([0, 0, -1], fluid=water, rates=[[0, 500.0], [10, 250.0]], viscous=1,
                           volume_mm3=6000.0, columns_across=60)
    curve = course.curve()
    assert curve.shape[1] == 3 and (numpy.diff(curve[:, 0]) >= 0).all()
    # 10 s at 500 mm3/s, then 250 mm3/s: 6000 mm3 after 14 s.
    assert curve[-1, 1] == pytest.approx(6000.0, rel=0.02)
    assert curve[-1, 0] == pytest.approx(14.0, rel=0.05)


def test_thickness_of_the_round_box(part):
    mesh = vug.Mesh.load(part)
    thickness = mesh.thickness()
    info = thickness.info
    # The walls are 3 mm, and no ball inside is thicker than the solid corner ring allows.
    assert info.min_mm == pytest.approx(3.0, abs=0.1) or info.min_mm < 3.0
    assert thickness.at([15.0, 0.0, 20.0]) == pytest.approx(3.0, abs=0.1)
    assert thickness.vertices.shape == (len(mesh.vertices),)
    assert thickness.histogram(0, 10, 20).sum() == pytest.approx(info.area_mm2, rel=1e-9)
    assert thickness.spots(100.0).shape[1] == 5


def test_clean_turns_triangles():
    vertices, triangles = cube()
    mixed = [t[::-1] if i % 3 == 0 else t for i, t in enumerate(triangles)]
    mesh = vug.Mesh.from_arrays(vertices, mixed)
    assert not mesh.measure().closed
    clean, report = mesh.clean()
    assert clean.measure().closed and not report.closed_before
    assert clean.measure().volume_mm3 == pytest.approx(1000.0)


def test_sight(cavities):
    sight = cavities.sight()
    assert sight.window_mm == pytest.approx(4 * sight.cell_mm)
    assert sight.hollow_mm == pytest.approx((6 + math.sqrt(3)) * sight.cell_mm)


def test_chambers(cavities):
    chambers = cavities.chambers(0)
    assert len(chambers) == cavities.info(0).chambers >= 1
    # The largest ball in a round box of radius 12 and height 34 has radius 12 (less for 48 sides).
    assert chambers[0].radius_mm == pytest.approx(12 * math.cos(math.pi / 48), abs=0.4)
    assert len(cavities.throats(0)) == cavities.info(0).throats
