# SPDX-License-Identifier: MIT
"""Sums as functions: results of handbook formulas come through, rows in and out, errors."""
import inspect
import math

import pytest

import vug
from vug import flow, light


def test_tube_is_hagen_poiseuille():
    # Hagen-Poiseuille: flow = pi r^4 dp / (8 mu l); water, r 1 mm, l 100 mm, 50 Pa.
    water = flow.Fluid()
    want = math.pi * 1e-3**4 * 50 / (8 * water.consistency_pa_sn * 0.1) * 1e9
    assert flow.tube_flow(water, 1.0, 100.0, 50.0) == pytest.approx(want, rel=1e-12)
    assert flow.tube_flow(None, 1.0, 100.0, 50.0) == pytest.approx(want, rel=1e-12)
    assert flow.tube_pressure(water, 1.0, 100.0, want) == pytest.approx(50.0, rel=1e-9)


def test_rows():
    rows = flow.tube_flow(None, 1.0, 100.0, [10.0, 20.0, 30.0])
    assert list(rows) == [flow.tube_flow(None, 1.0, 100.0, p) for p in (10.0, 20.0, 30.0)]
    assert len(flow.tube_flow(None, 1.0, 100.0, [])) == 0
    with pytest.raises(vug.DomainError) as caught:
        flow.tube_flow(None, 1.0, 100.0, [10.0, 1e99])
    assert "pressure_pa[1]" in caught.value.message
    with pytest.raises(ValueError):
        flow.drain_time(None, 2.0, 1.0, [1.0, 2.0], [100.0])


def test_jurin():
    # Jurin: h = 2 tension cos(angle) / (density g r); standard gravity 9.80665 m/s2.
    water = flow.Fluid(contact_angle_deg=30.0)
    want = 2 * 0.07274 * math.cos(math.radians(30)) / (998.2 * 9.80665 * 0.5e-3) * 1e3
    assert flow.capillary_rise(water, 0.5) == pytest.approx(want, rel=1e-4)


def test_struct_results_and_errors():
    supply = flow.supply_for(25000.0, 10.0, 0.1, 0.0)
    assert supply.loads == math.ceil(25.0 / 10.0)
    with pytest.raises(vug.DomainError) as caught:
        flow.tube_flow(None, -1.0, 1.0, 1.0)
    assert "radius_mm" in caught.value.message
    with pytest.raises(vug.NotFoundError):
        flow.drill_next(vug.DRILLS_STOCK, vug.AT_OR_ABOVE, 1e3)
    with pytest.raises(AttributeError):
        flow.Fluid(viscosity=1.0)


def test_records_compare_and_copy():
    paint = flow.Fluid(density_kg_m3=1200.0)
    assert flow.Fluid.of(paint, {}) is paint
    thick = flow.Fluid.of(paint, {"yield_stress_pa": 5.0})
    assert thick != paint and thick.density_kg_m3 == 1200.0
    assert flow.Fluid(**thick.asdict()) == thick


# Arguments that suit every law: a sum that takes a number or a row of them.
ARGUMENTS = {
    "fluid": None, "radius_mm": 1.0, "length_mm": 10.0, "diameter_mm": 3.0, "gap_mm": 0.5,
    "width_mm": 5.0, "pressure_pa": 200.0, "flow_mm3_s": 100.0, "clean": 0, "relief": None,
    "penetration_mm": 0.15, "critical_mj_cm2": 8.0, "dose_mj_cm2": 20.0, "depth_mm": 0.2,
    "attenuation_per_mm": 0.1, "refractive_index": 1.5, "thickness_mm": 1.0, "background": 0.5,
    "absorption_per_mm": 5.0, "scattering_per_mm": 3.0, "skin_mm": 0.8}
LAWS = [getattr(module, name) for module, names in (
    (flow, "tube_flow tube_pressure slot_flow slot_pressure hole_flow hole_pressure "
           "bubble_tube_speed bubble_open_speed"),
    (light, "cure_depth cure_dose wall_transmission film_reflectance film_transmittance "
            "film_contrast relief_contrast")) for name in names.split()]


@pytest.mark.parametrize("law", LAWS)
def test_a_row_gives_what_its_numbers_give(law):
    *names, row, _ = inspect.signature(law).parameters
    given = [ARGUMENTS[n] for n in names]
    values = [ARGUMENTS[row] * f for f in (1.0, 1.1, 1.25)]
    got = law(*given, values)
    assert list(got) == [law(*given, v) for v in values]
    assert isinstance(law(*given, values[0]), float)
