# SPDX-License-Identifier: MIT
"""Filling the round box: what goes in, what stays, in which order."""
import math

import pytest

import vug
from vug import flow

pytest.importorskip("numpy")
SECTION = 24 * math.sin(math.pi / 24)  # area of a regular 48-gon of circumradius 1
HOLE = [0, 0, 0, 0, 0, -1, 4.0]


@pytest.fixture
def cavities(part):
    return vug.Mesh.load(part).cavities([HOLE])


def test_bore_up_fills_to_the_brim(cavities):
    course = cavities.fill([0, 0, -1], rate_mm3_s=500.0)
    summary = course.info
    want = SECTION * (12**2 * 34 + 2**2 * 3)
    assert summary.end == vug.END_FULL
    assert summary.capacity_mm3 == pytest.approx(want, rel=5e-3)
    assert summary.liquid_mm3 + summary.trapped_mm3 + summary.empty_mm3 == pytest.approx(
        summary.capacity_mm3, rel=1e-9)
    assert summary.liquid_mm3 == pytest.approx(want, rel=0.01)
    assert summary.time_s == pytest.approx(summary.liquid_mm3 / 500.0, rel=1e-6)
    events = course.events()
    assert len(events) == len(course) and events[0].kind == vug.EVENT_BASIN
    assert [e.liquid_mm3 for e in events] == sorted(e.liquid_mm3 for e in events)
    with pytest.raises(vug.NotFoundError):
        course.event(len(course))


def test_half_way(cavities):
    course = cavities.fill([0, 0, -1])
    half = course.at_volume(0.5 * course.info.capacity_mm3)
    course.close()  # the moment lives on
    assert half.info.pools == 1 and len(half.pools()) == 1
    pool = half.pool(0)
    # Up is -z: the floor stands at -37; half the volume is half of 34 mm higher, less the bore.
    level = -37 + 0.5 * (34 + (2 / 12)**2 * 3)
    assert pool.level_mm == pytest.approx(level, abs=0.2)
    assert half.pool_level(0, pool.volume_mm3) == pytest.approx(pool.level_mm, abs=1e-6)
    assert half.pool_volume(0, pool.level_mm) == pytest.approx(pool.volume_mm3, rel=1e-6)
    rows = half.section([0, 0, 20], [1, 0, 0])
    assert rows.shape[1] == 4 and len(rows) > 50
    assert len(half.pockets()) == half.info.pockets


def test_fills_take_a_fluid(cavities):
    paint = flow.fluid_preset(vug.FLUID_CRAFT_ACRYLIC, vug.TYPICAL, 20.0)
    with pytest.raises(AttributeError):
        vug.FillOptions(fluid=paint)  # the fluid is an argument, wherever one is needed
    course = cavities.fill([0, 0, -1], fluid=paint, volume_mm3=1000.0)
    assert course.info.end == vug.END_SUPPLY
    assert course.info.liquid_mm3 == pytest.approx(1000.0, rel=1e-6)


def test_interval_of_a_sum():
    # Corners of a product that only rises: exact.
    interval, spread = flow.interval_of(lambda x: x[0] * x[1], [1, 2], [2, 3], [3, 4])
    assert (interval.low, interval.typical, interval.high) == (2, 6, 12)
    assert list(spread) == [6, 4] and interval.decides == 0
    with pytest.raises(ZeroDivisionError):
        flow.interval_of(lambda x: 1 / 0, [1.0], [2.0], [3.0])
    with pytest.raises(vug.DomainError):
        flow.interval_of(lambda x: x[0], [2.0], [1.0], [3.0])
    with pytest.raises(vug.DomainError):
        flow.interval_of(lambda x: flow.tube_flow(None, x[0], 1.0, 1.0), [-1.0], [2.0], [3.0])


def test_drain(cavities):
    # Bore down: a lone wide bore lets all out but what clings; bore up: nothing can leave.
    down = cavities.drain([0, 0, 1]).info
    assert down.capacity_mm3 == pytest.approx(SECTION * (12**2 * 34 + 2**2 * 3), rel=5e-3)
    assert down.inlet == -1 and down.liquid_mm3 < 0.05 * down.capacity_mm3
    up = cavities.drain([0, 0, -1], drip_s=1.0).info
    assert up.liquid_mm3 > 0.95 * up.capacity_mm3


def test_levels_of_a_cavity(cavities):
    mesh = cavities.mesh(0)
    # A prism on a 48-gon, half of it below half of its height (the bore lies below z = 3).
    want = SECTION * (12**2 * 17 + 2**2 * 3)
    assert mesh.volume_below([0, 0, 1], 20.0) == pytest.approx(want, rel=1e-3)
    assert mesh.level([0, 0, 1], mesh.volume_below([0, 0, 1], 20.0)) == pytest.approx(20.0, abs=1e-9)
    with pytest.raises(vug.DomainError):
        mesh.level([0, 0, 1], -1.0)


def test_pockets_that_are_shown_and_squeezed(cavities):
    course = cavities.fill([1, 0, 0], columns_across=80)
    moment = course.at_volume(course.info.liquid_mm3)
    assert moment.info.pockets >= 1
    assert moment.pocket_mesh(0).measure().volume_mm3 == pytest.approx(
        moment.pocket(0).volume_mm3, rel=0.02)
    assert len(moment.surface()) > 10
    assert moment.pool_mesh(0).measure().closed == 1
    many = cavities.pockets_of_poses([[1, 0, 0], [0, 0, 1]], columns_across=80)
    assert many[0].trapped_mm3 == cavities.pockets([1, 0, 0], columns_across=80).trapped_mm3
    air = many[0].mesh(0)
    assert air.measure().volume_mm3 == pytest.approx(many[0].info(0).volume_mm3, rel=0.02)
    assert list(air.vertices_float(origin=air.vertices[0])[0]) == [0.0, 0.0, 0.0]
    # Boyle at twice the pressure: half the air, but for the little head of liquid above it.
    liquid, volumes = moment.squeeze(pressure_pa=101325.0)
    assert len(volumes) == moment.info.pockets
    assert volumes[0] == pytest.approx(0.5 * moment.pocket(0).volume_mm3, rel=0.02)
    assert liquid == pytest.approx(0.5 * moment.info.trapped_mm3, rel=0.05)


def test_turned_over_and_topped_up(cavities):
    half = cavities.fill([0, 0, -1], volume_mm3=8000.0)
    moment = half.at_time(math.inf)
    lying = moment.turn(cavities, [1, 0, 0], roles=[vug.ROLE_SEALED])
    assert lying.info.liquid_mm3 == pytest.approx(moment.info.liquid_mm3, rel=1e-9)
    assert lying.info.end == vug.END_SUPPLY and lying.info.inlet == -1
    over = lying.at_time(math.inf).turn(cavities, [0, 0, -1])
    assert over.info.start_mm3 == pytest.approx(moment.info.liquid_mm3, rel=1e-8)
    assert over.info.liquid_mm3 == pytest.approx(over.info.capacity_mm3, rel=0.01)
    with pytest.raises(vug.ArgumentError):
        moment.turn(cavities, [0, 0, math.nan])


def test_cups(cavities):
    # Printed floor first the bore is there from the first layer: no cup. Upside down the box is a
    # cup until its floor's bore is printed: its section is that of the cavity.
    assert len(cavities.cups([0, 0, 1], columns_across=60)) == 0
    cups = cavities.cups([0, 0, -1], columns_across=60)
    assert len(cups) == len(cups.infos()) == 1
    assert cups.info(0).area_mm2 == pytest.approx(SECTION * 144, rel=0.03)
    assert cups.layers.shape[1] == 4


def test_skin(cavities):
    """Half full: all triangles add up, and what is bare from above is the ceiling."""
    course = cavities.fill([0, 0, -1], volume_mm3=0.5 * cavities.info(0).volume_mm3)
    skin = cavities.skin(view=[[0, 0, -1]], depth_mm=0.0)
    skin.wet(course)
    info, rows, spots = skin.info, skin.triangles(), skin.spots()
    assert rows[:, :3].sum(axis=0) == pytest.approx(
        [info.backed_mm2, info.filmed_mm2, info.bare_mm2], rel=1e-9)
    ends, sides = SECTION * 12**2, 48 * 2 * 12 * math.sin(math.pi / 48) * 34
    level = course.info.liquid_mm3 / ends
    assert info.backed_mm2 == pytest.approx(ends + sides * level / 34, rel=0.01)
    assert info.backed_share == 0.0 and info.bare_share == pytest.approx(1.0)
    assert spots.shape == (1, 5) and spots[0, 3] == pytest.approx(info.bare_mm2)


def test_levels_at_points(part):
    """One level on both sides of a waterline, NaN away from the cavity; a table with gaps goes in too."""
    cavities = vug.Mesh.load(part).cavities([[0, 0, 0, 0, 0, -1, 4]])
    pockets = cavities.pockets((1, 0, 0))
    points = [(-11, 0, 20), (11, 0, 20), (0, 0, 500)]
    levels = list(pockets.levels(points))
    assert levels[0] == levels[1] == pytest.approx(2.0, abs=0.3)  # the bore's radius: its rim's top
    assert levels[2] != levels[2]
    assert len(pockets.levels([])) == 0
    course = cavities.fill((1, 0, 0))
    moment = course.at_volume(0.5 * course.info.liquid_mm3)
    low, high, none = moment.levels(points)
    assert low == high < levels[0] and none != none
    numpy = pytest.importorskip("numpy")
    wide = numpy.array([(*p, 7.0) for p in points])[:, :3]
    assert list(pockets.levels(wide))[:2] == levels[:2]


def test_a_moment_found_on_the_bench(cavities):
    """10 mL in the round box (by hand: 12 mm radius of a 48-gon), upright: the level is volume / area."""
    found = vug.Moment.make(cavities, [0, 0, 1], 10000.0, spacing_mm=0.25)
    assert found.info.liquid_mm3 == pytest.approx(10000.0, rel=1e-9)
    assert found.pool(0).level_mm == pytest.approx(3 + 10000.0 / (SECTION * 12**2), abs=0.1)
    seen = vug.Moment.make(cavities, [0, 0, 1], 10000.0, air=[[0, 0, 40]], spacing_mm=0.25)
    assert seen.pocket(0).top_mm[2] == pytest.approx(37.0, abs=0.1)
    with pytest.raises(vug.NotFoundError):
        vug.Moment.make(cavities, [0, 0, 1], 10000.0, air=[[0, 0, 99]])


def test_a_plan_from_where_one_is(cavities):
    plan = cavities.plan(pose_count=12, columns_across=40, verify_across=60, tilt_deg=0.0, max_bores=0,
                         start_given=1, start_up=[0, 0, 1], start_liquid_mm3=10000.0)
    steps = plan.steps()
    assert plan.info().given == 1 and len(steps) == 2
    assert steps[0].inject_mm3 == pytest.approx(10000.0, rel=1e-3)
    assert plan.steps(0, vug.PLAN_DRAIN) == []
    assert "What is inside now: 10.0 mL" in plan.text()
