# SPDX-License-Identifier: MIT
"""Fluids, tubes, holes, capillarity, bubbles, drills, supplies.

Sums without a mesh. Units are in the names. Each takes numbers and raises DomainError for one
outside the range of its formula. A law that is drawn as a curve takes a number or a row of them
as its last argument, and gives the same. Written by tests/new_call from vug.h.
"""
from __future__ import annotations

from typing import Any, Optional, Sequence, Tuple

from ._context import Context
from ._raw import lib
from ._records import *  # noqa: F401,F403
from ._sums import Numbers, alike, byref, ctypes, law, ref, run  # noqa: F401
from ._interval import interval_of  # noqa: F401


def tube_flow(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        pressure_pa: Any,
        context: Optional[Context] = None) -> Any:
    """Flow through a long round tube, driven by a pressure difference: Rabinowitsch's integral
    in closed form for Herschel-Bulkley fluids (Hagen-Poiseuille, power law and Buckingham-Reiner
    are its special cases). Laminar and without end losses: for short holes use hole_flow(). A
    negative pressure gives a negative flow. radius_mm 1e-4..1e4, length_mm 1e-4..1e7."""
    return law(lib.vug_tube_flow, context, pressure_pa, ref(fluid), radius_mm, length_mm)


def tube_pressure(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        flow_mm3_s: Any,
        context: Optional[Context] = None) -> Any:
    """The inverse: pressure that drives a flow. Flow 0 needs 0; any other needs more than
    tube_start_pressure()."""
    return law(lib.vug_tube_pressure, context, flow_mm3_s, ref(fluid), radius_mm, length_mm)


def tube_start_pressure(
        fluid: Optional[Fluid],
        radius_mm: float,
        length_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure up to which a yield stress keeps a tube still: 2 length yield / radius. A slot
    starts like a tube whose radius is its gap."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_tube_start_pressure, context, ref(fluid), radius_mm, length_mm,
        byref(pressure_pa))
    return pressure_pa.value


def slot_flow(
        fluid: Optional[Fluid],
        gap_mm: float,
        width_mm: float,
        length_mm: float,
        pressure_pa: Any,
        context: Optional[Context] = None) -> Any:
    """Flow through a long flat slot of width much larger than gap (for a plain liquid the side
    walls take a share of 0.63 gap/width, which this leaves out). width_mm is at least gap_mm."""
    return law(lib.vug_slot_flow, context, pressure_pa, ref(fluid), gap_mm, width_mm,
        length_mm)


def slot_pressure(
        fluid: Optional[Fluid],
        gap_mm: float,
        width_mm: float,
        length_mm: float,
        flow_mm3_s: Any,
        context: Optional[Context] = None) -> Any:
    """The inverse of slot_flow()."""
    return law(lib.vug_slot_pressure, context, flow_mm3_s, ref(fluid), gap_mm, width_mm,
        length_mm)


def hole_flow(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        pressure_pa: Any,
        context: Optional[Context] = None) -> Any:
    """Flow of a liquid through a round hole in a wall, which it leaves as a jet into air: any
    length from 0 (a sharp-edged orifice) to a long tube, from creeping flow to Reynolds numbers
    of some thousands. The pressure drop is that of a tube lengthened by 3 pi / 16 radii (the
    entrance's half of Sampson 1891, with Dagan, Weinbaum, Pfeffer 1982: exact for a plain liquid
    in creeping flow, an estimate for others), plus 1.5 dynamic pressures for entrance and jet,
    plus what a jet that contracts costs (form of Idelchik, scaled to a discharge coefficient of
    0.611 at length 0; none from 2.4 diameters on), which a slow jet does not (Johansen 1930),
    plus what developing flow costs from there on (Shah 1978; 2.25 dynamic pressures in all for a
    long laminar tube), plus friction of turbulence above a Reynolds number of 2000 to 4000
    (Blasius). Plain liquids, sharp edges: flows are within 10 % of OpenFOAM's at Reynolds
    numbers of 0.2 to 300 for lengths of 0.1 to 2 diameters, and discharge coefficients from 2
    diameters on within 0.035 of those measured by Lichtarowicz et al. 1965 up to 2e4. Surface
    tension, which holds a jet back by 2 tension / diameter, is not in it. diameter_mm 1e-4..1e4,
    length_mm 0..1e7."""
    return law(lib.vug_hole_flow, context, pressure_pa, ref(fluid), diameter_mm, length_mm)


def hole_pressure(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        flow_mm3_s: Any,
        context: Optional[Context] = None) -> Any:
    """The inverse of hole_flow()."""
    return law(lib.vug_hole_pressure, context, flow_mm3_s, ref(fluid), diameter_mm,
        length_mm)


def hole_flow_immersed(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        pressure_pa: Any,
        context: Optional[Context] = None) -> Any:
    """hole_flow() for a hole that leads into more of the same: liquid under liquid, such as a
    cup in the vat, or air into air, such as a vent. A slow stream then stirs what is behind the
    hole, 3 pi / 16 radii more; of that and the dynamic pressure a fast one loses, the root of
    the squares counts (Oliveira, Pinho 1997). The same interval. pressure_pa and flow_mm3_s:
    count numbers each."""
    return law(lib.vug_hole_flow_immersed, context, pressure_pa, ref(fluid), diameter_mm,
        length_mm)


def hole_pressure_immersed(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        flow_mm3_s: Any,
        context: Optional[Context] = None) -> Any:
    """The inverse of hole_flow_immersed()."""
    return law(lib.vug_hole_pressure_immersed, context, flow_mm3_s, ref(fluid), diameter_mm,
        length_mm)


def hole_start_pressure(
        fluid: Optional[Fluid],
        diameter_mm: float,
        length_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure up to which a yield stress keeps a hole still, 2 yield (length + 3 pi / 16
    radius) / radius for one that leads into air."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_hole_start_pressure, context, ref(fluid), diameter_mm, length_mm,
        byref(pressure_pa))
    return pressure_pa.value


def drain_time(
        fluid: Optional[Fluid],
        hole_diameter_mm: float,
        wall_mm: float,
        level_mm: Sequence[float],
        area_mm2: Sequence[float],
        context: Optional[Context] = None) -> float:
    """Time for the level above the outer end of a hole to fall from the last to the first of
    count levels (2 or more, rising, the first above 0) in a vessel with the given areas there,
    linear in between, with air coming in freely elsewhere: the integral of area / flow with the
    flow of hole_flow() under the head. A vessel of constant cross-section is two levels with one
    area. Capillarity, which may stop it early, is not in it: see capillary_hold_head()."""
    level_mm_ = Numbers(level_mm, ctypes.c_double)
    area_mm2_ = Numbers(area_mm2, ctypes.c_double)
    count = alike(level_mm_, area_mm2_)
    time_s = ctypes.c_double()
    run(lib.vug_drain_time, context, ref(fluid), hole_diameter_mm, wall_mm,
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
    is also what holds it there against draining or against air: 4 tension cos(angle) / diameter.
    A slot draws like a hole of twice its gap."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_capillary_pressure, context, ref(fluid), diameter_mm, byref(pressure_pa))
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


def exchange_flow(
        fluid: Optional[Fluid],
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """Flow out of a lone hole that lets air in as liquid goes out: its area times the speed of a
    long bubble in it, bubble_tube_speed(); 0 up to the diameter where bubbles are held. What one
    hole manages alone is far less than hole_flow(); a second hole is worth more than a wider
    one. An estimate for a hole some diameters long; a short one passes more."""
    flow_mm3_s = ctypes.c_double()
    run(lib.vug_exchange_flow, context, ref(fluid), diameter_mm, byref(flow_mm3_s))
    return flow_mm3_s.value


def bubble_held(fluid: Optional[Fluid], context: Optional[Context] = None) -> Tuple[float, float]:
    """Sizes up to which bubbles stay where they are. *tube_mm: diameter of a standing tube that
    the liquid wets, for a long bubble in it: density g radius^2 / tension = 0.842 (Bretherton
    1961), or what the yield stress holds if that is more. *open_mm: diameter of a round bubble
    in the open, held by the yield stress alone: 2 yield / (0.143 density g), the yield stress
    scaled by density g radius (Tsamopoulos et al. 2008, J. Fluid Mech. 601:123). Either may be
    NULL."""
    tube_mm = ctypes.c_double()
    open_mm = ctypes.c_double()
    run(lib.vug_bubble_held, context, ref(fluid), byref(tube_mm), byref(open_mm))
    return tube_mm.value, open_mm.value


def bubble_tube_speed(
        fluid: Optional[Fluid],
        diameter_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Speed of a long bubble rising in a standing tube: the correlations of Viana et al. 2003
    (J. Fluid Mech. 494:379, 262 experiments, 1 to 3900 mPa s), never above Bretherton's 1961 law
    near the stuck diameter, 0 below it. Non-Newtonian liquids by their viscosity at the stress
    0.0715 density g diameter, at which a bubble just moves: an estimate."""
    return law(lib.vug_bubble_tube_speed, context, diameter_mm, ref(fluid))


def bubble_open_speed(
        fluid: Optional[Fluid],
        clean: int,
        radius_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Speed of a lone bubble of the given volume-equivalent radius in the open: drag of Tomiyama
    et al. 1998. clean 0: its skin is held by dirt or surfactant (Stokes for small ones; paint,
    dirty solvent), 1: the skin moves (Hadamard and Rybczynski). 0 if the yield stress holds
    it."""
    return law(lib.vug_bubble_open_speed, context, radius_mm, ref(fluid), clean)


def drill_next(
        series: int,
        side: int,
        diameter_mm: float,
        context: Optional[Context] = None) -> float:
    """The drill of a series next to diameter_mm: the smallest VUG_AT_OR_ABOVE it, or the largest
    VUG_AT_OR_BELOW it."""
    drill_mm = ctypes.c_double()
    run(lib.vug_drill_next, context, series, side, diameter_mm, byref(drill_mm))
    return drill_mm.value


def supply_for(
        volume_mm3: float,
        syringe_ml: float,
        loss_fraction: float,
        price_per_l: float,
        context: Optional[Context] = None) -> Supply:
    """Syringe loads (volume_mm3 / capacity, rounded up), paint with losses, and cost.
    loss_fraction 0..10 of the volume stays in cups, on walls or runs out (0.1 is common
    practice, no source). price_per_l may be 0. One syringe is refilled, so its dead space counts
    once. syringe_ml is a nominal capacity, 0.1..1000."""
    supply = Supply()
    run(lib.vug_supply_for, context, volume_mm3, syringe_ml, loss_fraction, price_per_l,
        ref(supply))
    return supply


def fluid_preset(
        preset: int,
        level: int,
        temperature_c: float,
        context: Optional[Context] = None) -> Fluid:
    """A liquid of the bench at one end of its range. Water and isopropanol follow the
    temperature (0 to 60 C); the ranges of the others hold for 15 to 30 C. Sources:
    fluid_preset_source(). Published values of paints and resins scatter widely: measure your own
    with fluid_fit()."""
    fluid = Fluid()
    run(lib.vug_fluid_preset, context, preset, level, temperature_c, ref(fluid))
    return fluid


def fluid_preset_name(preset: int) -> Optional[str]:
    """Name of a preset, such as "craft acrylic"; None past the end."""
    text = lib.vug_fluid_preset_name(preset)
    return text.decode() if text is not None else None


def fluid_preset_source(preset: int) -> Optional[str]:
    """Where the numbers of a preset come from, in a sentence; None past the end."""
    text = lib.vug_fluid_preset_source(preset)
    return text.decode() if text is not None else None


def yield_from_slope(
        density_kg_m3: float,
        layer_mm: float,
        slope_deg: float,
        context: Optional[Context] = None) -> float:
    """Yield stress from a tilted plate: density g thickness sin(slope), for a layer that begins
    to creep at that slope."""
    yield_stress_pa = ctypes.c_double()
    run(lib.vug_yield_from_slope, context, density_kg_m3, layer_mm, slope_deg,
        byref(yield_stress_pa))
    return yield_stress_pa.value


def fluid_fit(
        known: Optional[Fluid],
        needle_bore_mm: float,
        needle_length_mm: float,
        pressure_pa: Sequence[float],
        flow_mm3_s: Sequence[float],
        context: Optional[Context] = None) -> Tuple[Fluid, float]:
    """Consistency and index from a timed syringe: count (2 or more) pressures at a needle, none
    alike, and the flows they gave. *known gives density and yield stress; *fluid is a copy of it
    with the numbers found (both may be the same struct). Two points are met exactly, more by
    least squares in ln(flow). *misfit (may be NULL): root of the mean square of ln(flow / fitted
    flow). Errors: VUG_ERR_ARGUMENT, VUG_ERR_DOMAIN (also a pressure that does not move a fluid
    of that yield stress), VUG_ERR_CONVERGENCE (no index from 0.1 to 2 explains the flows)."""
    pressure_pa_ = Numbers(pressure_pa, ctypes.c_double)
    flow_mm3_s_ = Numbers(flow_mm3_s, ctypes.c_double)
    count = alike(pressure_pa_, flow_mm3_s_)
    fluid = Fluid()
    misfit = ctypes.c_double()
    run(lib.vug_fluid_fit, context, ref(known), needle_bore_mm, needle_length_mm,
        pressure_pa_.pointer, flow_mm3_s_.pointer, count, ref(fluid), byref(misfit))
    return fluid, misfit.value


def needle_by_gauge(gauge: int, context: Optional[Context] = None) -> Needle:
    """The needle of a gauge (10 to 30, not all)."""
    needle = Needle()
    run(lib.vug_needle_by_gauge, context, gauge, ref(needle))
    return needle


def needle_through(hole_mm: float, gap_mm: float, context: Optional[Context] = None) -> Needle:
    """The widest needle that goes through a hole and leaves gap_mm of its diameter free."""
    needle = Needle()
    run(lib.vug_needle_through, context, hole_mm, gap_mm, ref(needle))
    return needle


def syringe_by_size(nominal_ml: float, context: Optional[Context] = None) -> Syringe:
    """The syringe of a nominal capacity: 1, 2, 2.5, 3, 5, 10, 20, 30, 50 or 60 mL."""
    syringe = Syringe()
    run(lib.vug_syringe_by_size, context, nominal_ml, ref(syringe))
    return syringe


def syringe_tolerance(
        nominal_ml: float,
        expelled_ml: float,
        context: Optional[Context] = None) -> float:
    """Error that ISO 7886-1 allows when expelled_ml leave a syringe."""
    tolerance_ml = ctypes.c_double()
    run(lib.vug_syringe_tolerance, context, nominal_ml, expelled_ml, byref(tolerance_ml))
    return tolerance_ml.value


def inject(
        fluid: Optional[Fluid],
        injection: Optional[Injection],
        flow_mm3_s: float,
        thumb_force_n: float,
        context: Optional[Context] = None) -> Injected:
    """Pressure, thumb force and time for a flow, or flow and time for a thumb force: one of the
    two is above 0, the other 0. injection NULL: the defaults."""
    injected = Injected()
    run(lib.vug_inject, context, ref(fluid), ref(injection), flow_mm3_s, thumb_force_n,
        ref(injected))
    return injected


def hole_choose(
        fluid: Optional[Fluid],
        task: Optional[HoleTask],
        context: Optional[Context] = None) -> HoleChoice:
    """The hole that meets every condition asked, the drill for it, and which condition
    decides."""
    choice = HoleChoice()
    run(lib.vug_hole_choose, context, ref(fluid), ref(task), ref(choice))
    return choice


def hole_choose_range(
        low: Optional[Fluid],
        typical: Optional[Fluid],
        high: Optional[Fluid],
        task: Optional[HoleTask],
        context: Optional[Context] = None) -> Tuple[Interval, HoleChoice]:
    """hole_choose() for a fluid known as a range: least_mm as a range, with the property that
    decides it, and the choice for the worst corner. Either result may be NULL."""
    least_mm = Interval()
    worst = HoleChoice()
    run(lib.vug_hole_choose_range, context, ref(low), ref(typical), ref(high), ref(task),
        ref(least_mm), ref(worst))
    return least_mm, worst


def bubble_tube_range(
        low: Optional[Fluid],
        typical: Optional[Fluid],
        high: Optional[Fluid],
        diameter_mm: float,
        context: Optional[Context] = None) -> Interval:
    """bubble_tube_speed() for a fluid known as a range: mm/s, from all corners of its six
    properties. Near the diameter where bubbles are stuck the low end is 0: then none may
    pass."""
    speed_mm_s = Interval()
    run(lib.vug_bubble_tube_range, context, ref(low), ref(typical), ref(high), diameter_mm,
        ref(speed_mm_s))
    return speed_mm_s


def rinse_solvent(
        residue_mm3: float,
        mixing: float,
        target_fraction: float,
        cycles: int,
        context: Optional[Context] = None) -> float:
    """Least solvent for each of a number of equal soaks to reach the target, by the same law."""
    fresh_mm3 = ctypes.c_double()
    run(lib.vug_rinse_solvent, context, residue_mm3, mixing, target_fraction, cycles,
        byref(fresh_mm3))
    return fresh_mm3.value


def rinse_compare(
        cavity_mm3: float,
        residue_mm3: float,
        mixing: float,
        target_fraction: float,
        context: Optional[Context] = None) -> Rinse:
    """Soaking against flushing, for a cavity and the residue that draining leaves in it (from
    the drain simulation), until the concentration is target_fraction of what it was. Each soak
    fills the cavity with fresh = cavity - residue of solvent and leaves 1 - mixing fresh /
    (mixing residue + fresh). mixing is the share of the residue that meets the solvent: 1 well
    shaken (residue / cavity), towards 0 a blind pocket that none reaches. Solvent vapour burns
    and resin irritates skin: gloves, air, no flame, and the data sheets."""
    rinse = Rinse()
    run(lib.vug_rinse_compare, context, cavity_mm3, residue_mm3, mixing, target_fraction,
        ref(rinse))
    return rinse


def soak_time(
        depth_mm: float,
        diffusivity_m2_s: float,
        fraction_left: float,
        context: Optional[Context] = None) -> float:
    """Time for liquid standing in a blind tip of a depth to be washed out by diffusion alone
    into fresh solvent at its mouth, to fraction_left of what was in it (Crank 1975, plane sheet,
    one face). Diffusivities in liquids are near 1e-9 m2/s, in resin 1e-11 (from memory)."""
    time_s = ctypes.c_double()
    run(lib.vug_soak_time, context, depth_mm, diffusivity_m2_s, fraction_left, byref(time_s))
    return time_s.value


def plug(
        diameter_mm: float,
        depth_mm: float,
        pressure_pa: float,
        context: Optional[Context] = None) -> Tuple[float, float]:
    """A round plug: *volume_mm3 of glue or filler, pi/4 diameter^2 depth, and *shear_pa, the
    shear stress on the glue around it when it holds pressure_pa, pressure diameter / (4 depth).
    Either may be NULL."""
    volume_mm3 = ctypes.c_double()
    shear_pa = ctypes.c_double()
    run(lib.vug_plug, context, diameter_mm, depth_mm, pressure_pa, byref(volume_mm3),
        byref(shear_pa))
    return volume_mm3.value, shear_pa.value


def head_pressure(
        fluid: Optional[Fluid],
        head_mm: float,
        context: Optional[Context] = None) -> float:
    """Pressure of a head of liquid: density g head."""
    pressure_pa = ctypes.c_double()
    run(lib.vug_head_pressure, context, ref(fluid), head_mm, byref(pressure_pa))
    return pressure_pa.value


def shell_under(
        shell: Optional[Shell],
        pressure_pa: float,
        context: Optional[Context] = None) -> Tuple[float, float]:
    """What a pressure inside does to a shell (Lame's thick shell): *growth, of the cavity,
    relative, and *stress_pa, the largest tension in the wall, hoop stress at the inner face.
    Either may be NULL; shell NULL: defaults."""
    growth = ctypes.c_double()
    stress_pa = ctypes.c_double()
    run(lib.vug_shell_under, context, ref(shell), pressure_pa, byref(growth),
        byref(stress_pa))
    return growth.value, stress_pa.value


def sealed_pressure(
        shell: Optional[Shell],
        sealed: Optional[Sealed],
        warm_k: float,
        context: Optional[Context] = None) -> Tuple[float, float]:
    """Pressure above the outside in a sealed cavity that warms by warm_k (negative: cools), as
    bounds over the plastic's expansion: *low_pa for expansion_high, *high_pa for expansion_low.
    The sign may differ: plastic can outgrow the liquid. Never below the vapour's pressure: there
    the liquid parts. Water stays between 0 and 100 C; for frost see ice_air(). A warm sealed
    part under pressure can burst or leak: leave air, or a vent."""
    low_pa = ctypes.c_double()
    high_pa = ctypes.c_double()
    run(lib.vug_sealed_pressure, context, ref(shell), ref(sealed), warm_k, byref(low_pa),
        byref(high_pa))
    return low_pa.value, high_pa.value


def sealed_air(
        shell: Optional[Shell],
        sealed: Optional[Sealed],
        warm_k: float,
        allowed_pa: float,
        context: Optional[Context] = None) -> float:
    """Share of the cavity to leave as air so that warming by warm_k stays below allowed_pa, at
    either bound. sealed->air_fraction is ignored."""
    air_fraction = ctypes.c_double()
    run(lib.vug_sealed_air, context, ref(shell), ref(sealed), warm_k, allowed_pa,
        byref(air_fraction))
    return air_fraction.value


def ice_air(
        shell: Optional[Shell],
        water_fraction: float,
        filled_at_c: float,
        coldest_c: float,
        allowed_pa: float,
        context: Optional[Context] = None) -> float:
    """Share of the cavity to leave as air so that freezing stays below allowed_pa, a pressure
    that the part bears: filled at filled_at_c (0..100) with a liquid that is water for
    water_fraction (0..1) of it, frozen and cooled to coldest_c (-60..0). Ice is 916.7 kg/m3 at 0
    C; the shell shrinks by its expansion_high and does not give; the air that is left follows
    Boyle and Gay-Lussac, without the vapour that leaves it."""
    air_fraction = ctypes.c_double()
    run(lib.vug_ice_air, context, ref(shell), water_fraction, filled_at_c, coldest_c,
        allowed_pa, byref(air_fraction))
    return air_fraction.value


def drying_fills(
        solids_fraction: float,
        void_fraction: float,
        context: Optional[Context] = None) -> int:
    """Fills with paint of a solids share by volume, each dried before the next, until at most
    void_fraction of the cavity is empty: each leaves 1 - solids of what it filled."""
    fills = ctypes.c_int32()
    run(lib.vug_drying_fills, context, solids_fraction, void_fraction, byref(fills))
    return fills.value


def drying_time(
        water_mm3: float,
        hole_diameter_mm: float,
        hole_length_mm: float,
        temperature_c: float,
        humidity: float,
        context: Optional[Context] = None) -> float:
    """Time for water to leave a cavity through one open hole by diffusion of vapour through the
    air in it (Stefan; ends like those of a plate's hole): top up after it. temperature_c 0..60,
    humidity of the room 0..0.99. The liquid is taken to stand at the inner end of the hole, so
    it is a lower bound."""
    time_s = ctypes.c_double()
    run(lib.vug_drying_time, context, water_mm3, hole_diameter_mm, hole_length_mm,
        temperature_c, humidity, byref(time_s))
    return time_s.value
