# SPDX-License-Identifier: MIT
"""Fluids, tubes, holes, capillarity, bubbles, drills, supplies.

Sums without a mesh. Units are in the names. Each takes numbers, or a row of them in its _array
form, and raises DomainError for a number outside the range of its formula. Written by
tests/new_call from vug.h.
"""
from __future__ import annotations

from typing import Any, Optional, Sequence, Tuple

from ._context import Context
from ._raw import lib
from ._records import *  # noqa: F401,F403
from ._sums import Numbers, alike, byref, ctypes, ref, run


def tube_flow(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        pressure_pa: float,
        context: Optional[Context] = None) -> float:
    """Flow through a long round tube, driven by a pressure difference: Rabinowitsch's integral
    in closed form for Herschel-Bulkley fluids (Hagen-Poiseuille, power law and Buckingham-Reiner
    are its special cases). Laminar and without end losses: for short holes use hole_flow(). A
    negative pressure gives a negative flow. radius_mm 1e-4..1e4, length_mm 1e-4..1e7."""
    flow_mm3_s = ctypes.c_double()
    run(lib.vug_tube_flow, context, ref(fluid), radius_mm, length_mm, pressure_pa,
        byref(flow_mm3_s))
    return flow_mm3_s.value


def tube_flow_array(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        pressure_pa: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """tube_flow() for count pressures."""
    pressure_pa_ = Numbers(pressure_pa, ctypes.c_double)
    count = alike(pressure_pa_)
    flow_mm3_s = Numbers.room(count, ctypes.c_double)
    run(lib.vug_tube_flow_array, context, ref(fluid), radius_mm, length_mm,
        pressure_pa_.pointer, count, flow_mm3_s.pointer)
    return flow_mm3_s.array


def tube_pressure(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        flow_mm3_s: float,
        context: Optional[Context] = None) -> float:
    """The inverse: pressure that drives a flow. Flow 0 needs 0; any other needs more than
    tube_start_pressure()."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_tube_pressure, context, ref(fluid), radius_mm, length_mm, flow_mm3_s,
        byref(pressure_pa))
    return pressure_pa.value


def tube_pressure_array(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        flow_mm3_s: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """tube_pressure() for count flows."""
    flow_mm3_s_ = Numbers(flow_mm3_s, ctypes.c_double)
    count = alike(flow_mm3_s_)
    pressure_pa = Numbers.room(count, ctypes.c_double)
    run(lib.vug_tube_pressure_array, context, ref(fluid), radius_mm, length_mm,
        flow_mm3_s_.pointer, count, pressure_pa.pointer)
    return pressure_pa.array


def tube_start_pressure(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure up to which a yield stress keeps a tube still: 2 length yield / radius."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_tube_start_pressure, context, ref(fluid), radius_mm, length_mm,
        byref(pressure_pa))
    return pressure_pa.value


def slot_flow(
        fluid: Optional[Fluid],
        gap_mm: float,
        width_mm: float,
        length_mm: float,
        pressure_pa: float,
        context: Optional[Context] = None) -> float:
    """Flow through a long flat slot of width much larger than gap (for a plain liquid the side
    walls take a share of 0.63 gap/width, which this leaves out). width_mm is at least gap_mm."""
    flow_mm3_s = ctypes.c_double()
    run(lib.vug_slot_flow, context, ref(fluid), gap_mm, width_mm, length_mm, pressure_pa,
        byref(flow_mm3_s))
    return flow_mm3_s.value


def slot_flow_array(
        fluid: Optional[Fluid],
        gap_mm: float,
        width_mm: float,
        length_mm: float,
        pressure_pa: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """slot_flow() for count pressures."""
    pressure_pa_ = Numbers(pressure_pa, ctypes.c_double)
    count = alike(pressure_pa_)
    flow_mm3_s = Numbers.room(count, ctypes.c_double)
    run(lib.vug_slot_flow_array, context, ref(fluid), gap_mm, width_mm, length_mm,
        pressure_pa_.pointer, count, flow_mm3_s.pointer)
    return flow_mm3_s.array


def slot_pressure(
        fluid: Optional[Fluid],
        gap_mm: float,
        width_mm: float,
        length_mm: float,
        flow_mm3_s: float,
        context: Optional[Context] = None) -> float:
    """The inverse of slot_flow()."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_slot_pressure, context, ref(fluid), gap_mm, width_mm, length_mm, flow_mm3_s,
        byref(pressure_pa))
    return pressure_pa.value


def slot_pressure_array(
        fluid: Optional[Fluid],
        gap_mm: float,
        width_mm: float,
        length_mm: float,
        flow_mm3_s: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """slot_pressure() for count flows."""
    flow_mm3_s_ = Numbers(flow_mm3_s, ctypes.c_double)
    count = alike(flow_mm3_s_)
    pressure_pa = Numbers.room(count, ctypes.c_double)
    run(lib.vug_slot_pressure_array, context, ref(fluid), gap_mm, width_mm, length_mm,
        flow_mm3_s_.pointer, count, pressure_pa.pointer)
    return pressure_pa.array


def slot_start_pressure(
        fluid: Optional[Fluid],
        gap_mm: float,
        length_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure up to which a yield stress keeps a slot still: 2 length yield / gap."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_slot_start_pressure, context, ref(fluid), gap_mm, length_mm,
        byref(pressure_pa))
    return pressure_pa.value


def hole_flow(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        pressure_pa: float,
        context: Optional[Context] = None) -> float:
    """Flow through a round hole in a wall, of any length from 0 (a sharp-edged orifice) to a
    long tube, from creeping flow to Reynolds numbers of some thousands. The pressure drop is
    that of a tube lengthened by 3 pi / 8 radii (Sampson 1891 and Dagan, Weinbaum, Pfeffer 1982:
    exact for a plain liquid without a tube, an estimate for others), plus the loss of a thick
    sharp-edged orifice (form of Idelchik, scaled to a discharge coefficient of 0.611 at length
    0; 0.816 from 2.4 diameters on), plus the developing flow (Shah 1978), plus friction of
    turbulence above a Reynolds number of 2000 to 4000 (Blasius). Expect 15 % in flow; 25 % near
    a Reynolds number of 200. diameter_mm 1e-4..1e4, length_mm 0..1e7."""
    flow_mm3_s = ctypes.c_double()
    run(lib.vug_hole_flow, context, ref(fluid), diameter_mm, length_mm, pressure_pa,
        byref(flow_mm3_s))
    return flow_mm3_s.value


def hole_flow_array(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        pressure_pa: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """hole_flow() for count pressures."""
    pressure_pa_ = Numbers(pressure_pa, ctypes.c_double)
    count = alike(pressure_pa_)
    flow_mm3_s = Numbers.room(count, ctypes.c_double)
    run(lib.vug_hole_flow_array, context, ref(fluid), diameter_mm, length_mm,
        pressure_pa_.pointer, count, flow_mm3_s.pointer)
    return flow_mm3_s.array


def hole_pressure(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        flow_mm3_s: float,
        context: Optional[Context] = None) -> float:
    """The inverse of hole_flow()."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_hole_pressure, context, ref(fluid), diameter_mm, length_mm, flow_mm3_s,
        byref(pressure_pa))
    return pressure_pa.value


def hole_pressure_array(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        flow_mm3_s: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """hole_pressure() for count flows."""
    flow_mm3_s_ = Numbers(flow_mm3_s, ctypes.c_double)
    count = alike(flow_mm3_s_)
    pressure_pa = Numbers.room(count, ctypes.c_double)
    run(lib.vug_hole_pressure_array, context, ref(fluid), diameter_mm, length_mm,
        flow_mm3_s_.pointer, count, pressure_pa.pointer)
    return pressure_pa.array


def hole_start_pressure(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure up to which a yield stress keeps a hole still."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_hole_start_pressure, context, ref(fluid), diameter_mm, length_mm,
        byref(pressure_pa))
    return pressure_pa.value


def drain_time(
        fluid: Optional[Fluid],
        hole_diameter_mm: float,
        wall_mm: float,
        area_mm2: float,
        from_mm: float,
        to_mm: float,
        context: Optional[Context] = None) -> float:
    """Time for the level above the outer end of a hole to fall from from_mm to to_mm in a vessel
    of constant cross-section, with air coming in freely elsewhere: the integral of area / flow
    with the flow of hole_flow() under the head. Capillarity, which may stop it early, is not in
    it: see capillary_hold_head()."""
    time_s = ctypes.c_double()
    run(lib.vug_drain_time, context, ref(fluid), hole_diameter_mm, wall_mm, area_mm2,
        from_mm, to_mm, byref(time_s))
    return time_s.value


def drain_time_profile(
        fluid: Optional[Fluid],
        hole_diameter_mm: float,
        wall_mm: float,
        level_mm: Sequence[float],
        area_mm2: Sequence[float],
        context: Optional[Context] = None) -> float:
    """The same for a vessel whose cross-section changes: count levels (rising, the first above
    0) and the areas there, linear in between. Time from the last level down to the first."""
    level_mm_ = Numbers(level_mm, ctypes.c_double)
    area_mm2_ = Numbers(area_mm2, ctypes.c_double)
    count = alike(level_mm_, area_mm2_)
    time_s = ctypes.c_double()
    run(lib.vug_drain_time_profile, context, ref(fluid), hole_diameter_mm, wall_mm,
        level_mm_.pointer, area_mm2_.pointer, count, byref(time_s))
    return time_s.value


def capillary_length(fluid: Optional[Fluid], context: Optional[Context] = None) -> float:
    """Capillary length sqrt(tension / (density g))."""
    length_mm = ctypes.c_double()
    run(lib.vug_capillary_length, context, ref(fluid), byref(length_mm))
    return length_mm.value


def capillary_rise(
        fluid: Optional[Fluid],
        radius_mm: float,
        context: Optional[Context] = None) -> float:
    """Height to which the liquid climbs in a round tube (Jurin); negative if it does not wet."""
    height_mm = ctypes.c_double()
    run(lib.vug_capillary_rise, context, ref(fluid), radius_mm, byref(height_mm))
    return height_mm.value


def capillary_pressure(
        fluid: Optional[Fluid],
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure with which a round hole draws the liquid in (negative: must be pushed in), which
    is also what holds it there against draining or against air: 4 tension cos(angle) /
    diameter."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_capillary_pressure, context, ref(fluid), diameter_mm, byref(pressure_pa))
    return pressure_pa.value


def capillary_slot_pressure(
        fluid: Optional[Fluid],
        gap_mm: float,
        context: Optional[Context] = None) -> float:
    """The same for a slot: 2 tension cos(angle) / gap."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_capillary_slot_pressure, context, ref(fluid), gap_mm, byref(pressure_pa))
    return pressure_pa.value


def capillary_hold_head(
        fluid: Optional[Fluid],
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """Height of liquid that hangs above a round hole by capillarity, at most: a drop on the
    wetted outer rim may bulge to a half ball, 4 tension / (density g diameter). Draining stops
    there."""
    head_mm = ctypes.c_double()
    run(lib.vug_capillary_hold_head, context, ref(fluid), diameter_mm, byref(head_mm))
    return head_mm.value


def capillary_hold_diameter(
        fluid: Optional[Fluid],
        head_mm: float,
        context: Optional[Context] = None) -> float:
    """Largest hole that the meniscus inside it (vug_capillary_pressure) closes against a head of
    liquid. 0 when the liquid does not wet the part."""
    diameter_mm = ctypes.c_double()
    run(lib.vug_capillary_hold_diameter, context, ref(fluid), head_mm, byref(diameter_mm))
    return diameter_mm.value


def exchange_diameter(
        fluid: Optional[Fluid],
        context: Optional[Context] = None) -> Tuple[float, float]:
    """Diameter below which a lone hole, open downward under liquid, lets no air in and so
    nothing out. *free_mm: the line of contact moves along the wall at the contact angle (a long
    bore, a rounded rim); the marginal stability of the meniscus against tilting, from 0.918
    capillary lengths of radius at 0 degrees (Bretherton 1961) to 1.841 at 90 (first zero of
    J1'); symmetric about 90. *pinned_mm: the line sits fast on a sharp rim, 3.832 capillary
    lengths (first zero of J1): the upper bound. Tilting or shaking the part, or a second hole,
    breaks both. Take the smaller for a liquid that may stay in, the larger for one that must
    come out. Either result may be NULL."""
    free_mm = ctypes.c_double()
    pinned_mm = ctypes.c_double()
    run(lib.vug_exchange_diameter, context, ref(fluid), byref(free_mm), byref(pinned_mm))
    return free_mm.value, pinned_mm.value


def exchange_diameter_array(
        fluid: Optional[Fluid],
        contact_angle_deg: Sequence[float],
        context: Optional[Context] = None) -> Tuple[Any, Any]:
    """exchange_diameter() for count contact angles in place of the fluid's own."""
    contact_angle_deg_ = Numbers(contact_angle_deg, ctypes.c_double)
    count = alike(contact_angle_deg_)
    free_mm = Numbers.room(count, ctypes.c_double)
    pinned_mm = Numbers.room(count, ctypes.c_double)
    run(lib.vug_exchange_diameter_array, context, ref(fluid), contact_angle_deg_.pointer,
        count, free_mm.pointer, pinned_mm.pointer)
    return free_mm.array, pinned_mm.array


def bubble_stuck_diameter(fluid: Optional[Fluid], context: Optional[Context] = None) -> float:
    """Tube diameter up to which a long bubble stays where it is in a standing tube that the
    liquid wets: density g radius^2 / tension = 0.842 (Bretherton 1961), or held by the yield
    stress if that is more."""
    diameter_mm = ctypes.c_double()
    run(lib.vug_bubble_stuck_diameter, context, ref(fluid), byref(diameter_mm))
    return diameter_mm.value


def bubble_tube_speed(
        fluid: Optional[Fluid],
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """Speed of a long bubble rising in a standing tube: the correlations of Viana et al. 2003
    (J. Fluid Mech. 494:379, 262 experiments, 1 to 3900 mPa s), never above Bretherton's 1961 law
    near the stuck diameter, 0 below it. Non-Newtonian liquids by their viscosity at the stress
    0.0715 density g diameter, at which a bubble just moves: an estimate."""
    speed_mm_s = ctypes.c_double()
    run(lib.vug_bubble_tube_speed, context, ref(fluid), diameter_mm, byref(speed_mm_s))
    return speed_mm_s.value


def bubble_tube_speed_array(
        fluid: Optional[Fluid],
        diameter_mm: Sequence[float],
        context: Optional[Context] = None) -> Any:
    """bubble_tube_speed() for count diameters."""
    diameter_mm_ = Numbers(diameter_mm, ctypes.c_double)
    count = alike(diameter_mm_)
    speed_mm_s = Numbers.room(count, ctypes.c_double)
    run(lib.vug_bubble_tube_speed_array, context, ref(fluid), diameter_mm_.pointer, count,
        speed_mm_s.pointer)
    return speed_mm_s.array


def bubble_open_speed(
        fluid: Optional[Fluid],
        radius_mm: float,
        clean: int,
        context: Optional[Context] = None) -> float:
    """Speed of a lone bubble of the given volume-equivalent radius in the open: drag of Tomiyama
    et al. 1998. clean 0: its skin is held by dirt or surfactant (Stokes for small ones; paint,
    dirty solvent), 1: the skin moves (Hadamard and Rybczynski). 0 if the yield stress holds
    it."""
    speed_mm_s = ctypes.c_double()
    run(lib.vug_bubble_open_speed, context, ref(fluid), radius_mm, clean, byref(speed_mm_s))
    return speed_mm_s.value


def bubble_open_speed_array(
        fluid: Optional[Fluid],
        radius_mm: Sequence[float],
        clean: int,
        context: Optional[Context] = None) -> Any:
    """bubble_open_speed() for count radii."""
    radius_mm_ = Numbers(radius_mm, ctypes.c_double)
    count = alike(radius_mm_)
    speed_mm_s = Numbers.room(count, ctypes.c_double)
    run(lib.vug_bubble_open_speed_array, context, ref(fluid), radius_mm_.pointer, count,
        clean, speed_mm_s.pointer)
    return speed_mm_s.array


def bubble_held_radius(fluid: Optional[Fluid], context: Optional[Context] = None) -> float:
    """Radius up to which a round bubble is held by the yield stress: yield / (0.143 density g),
    with the yield stress scaled by density g radius (Tsamopoulos et al. 2008, J. Fluid Mech.
    601:123)."""
    radius_mm = ctypes.c_double()
    run(lib.vug_bubble_held_radius, context, ref(fluid), byref(radius_mm))
    return radius_mm.value


def drill_at_or_above(
        series: int,
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """The smallest drill of a series at or above diameter_mm."""
    drill_mm = ctypes.c_double()
    run(lib.vug_drill_at_or_above, context, series, diameter_mm, byref(drill_mm))
    return drill_mm.value


def drill_at_or_below(
        series: int,
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """The largest drill of a series at or below diameter_mm. Errors as above."""
    drill_mm = ctypes.c_double()
    run(lib.vug_drill_at_or_below, context, series, diameter_mm, byref(drill_mm))
    return drill_mm.value


def supply_for(
        volume_mm3: float,
        syringe_ml: float,
        loss_fraction: float,
        price_per_l: float,
        context: Optional[Context] = None) -> Supply:
    """Syringe loads, paint with losses, and cost. loss_fraction 0..10 of the volume stays in
    cups, on walls or runs out (0.1 is common practice, no source). price_per_l may be 0. One
    syringe is refilled, so its dead space counts once. syringe_ml is a nominal capacity,
    0.1..1000."""
    supply = Supply()
    run(lib.vug_supply_for, context, volume_mm3, syringe_ml, loss_fraction, price_per_l,
        ref(supply))
    return supply


def syringe_loads(volume_mm3: float, syringe_ml: float, context: Optional[Context] = None) -> int:
    """Only the loads: volume_mm3 / capacity, rounded up."""
    loads = ctypes.c_int64()
    run(lib.vug_syringe_loads, context, volume_mm3, syringe_ml, byref(loads))
    return loads.value
