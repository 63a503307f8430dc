# SPDX-License-Identifier: MIT
"""Curing dose, wall and paint optics.

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


def cure_depth(
        penetration_mm: float,
        critical_mj_cm2: float,
        dose_mj_cm2: Any,
        context: Optional[Context] = None) -> Any:
    """Cured depth for a dose on the surface: penetration ln(dose / critical) (Jacobs 1992), 0
    below the critical dose. penetration_mm is that of the curing light. Published values scatter
    by 7 times (penetration) and 70 times (critical dose): give ranges."""
    return law(lib.vug_cure_depth, context, dose_mj_cm2, penetration_mm, critical_mj_cm2)


def cure_dose(
        penetration_mm: float,
        critical_mj_cm2: float,
        depth_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Dose on the surface that cures to a depth: critical exp(depth / penetration)."""
    return law(lib.vug_cure_dose, context, depth_mm, penetration_mm, critical_mj_cm2)


def cure_fit(
        dose_mj_cm2: Sequence[float],
        depth_mm: Sequence[float],
        context: Optional[Context] = None) -> Tuple[float, float]:
    """The working curve from count (2 or more) measured doses and cured depths, by least squares
    of depth on ln(dose)."""
    dose_mj_cm2_ = Numbers(dose_mj_cm2, ctypes.c_double)
    depth_mm_ = Numbers(depth_mm, ctypes.c_double)
    count = alike(dose_mj_cm2_, depth_mm_)
    penetration_mm = ctypes.c_double()
    critical_mj_cm2 = ctypes.c_double()
    run(lib.vug_cure_fit, context, dose_mj_cm2_.pointer, depth_mm_.pointer, count,
        byref(penetration_mm), byref(critical_mj_cm2))
    return penetration_mm.value, critical_mj_cm2.value


def cure_through(
        inside: Optional[CureInside],
        context: Optional[Context] = None) -> Tuple[float, float, float]:
    """Shares of the lamp's light that come through the wall (Beer-Lambert) and, from a lamp all
    around, through the opening (view factor r^2 / (r^2 + distance^2)), and the exposure the
    inside needs by both. UV hurts eyes and skin: closed lamp. What stays wet inside keeps
    irritating. Any result may be NULL."""
    wall_share = ctypes.c_double()
    opening_share = ctypes.c_double()
    time_s = ctypes.c_double()
    run(lib.vug_cure_through, context, ref(inside), byref(wall_share), byref(opening_share),
        byref(time_s))
    return wall_share.value, opening_share.value, time_s.value


def wall_transmission(
        attenuation_per_mm: float,
        refractive_index: float,
        thickness_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Share of visible light a wall lets through: Beer-Lambert, exp(-attenuation thickness),
    less the reflection at its two faces ((n-1)/(n+1))^2 each (Fresnel); refractive_index 1
    leaves that out. The attenuation is that of visible light, not the curing light's."""
    return law(lib.vug_wall_transmission, context, thickness_mm, attenuation_per_mm,
        refractive_index)


def film_reflectance(
        absorption_per_mm: float,
        scattering_per_mm: float,
        background: float,
        thickness_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Reflectance of a film over a background (0 black .. 1 white): Kubelka and Munk with
    absorption K and scattering S per mm."""
    return law(lib.vug_film_reflectance, context, thickness_mm, absorption_per_mm,
        scattering_per_mm, background)


def film_transmittance(
        absorption_per_mm: float,
        scattering_per_mm: float,
        thickness_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Transmittance of a film: Kubelka and Munk."""
    return law(lib.vug_film_transmittance, context, thickness_mm, absorption_per_mm,
        scattering_per_mm)


def film_contrast(
        absorption_per_mm: float,
        scattering_per_mm: float,
        thickness_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Contrast ratio of a film: its reflectance over black (0) by that over white (0.8); it
    hides at 0.98 (ISO 6504)."""
    return law(lib.vug_film_contrast, context, thickness_mm, absorption_per_mm,
        scattering_per_mm)


def film_hiding(
        absorption_per_mm: float,
        scattering_per_mm: float,
        contrast_ratio: float,
        context: Optional[Context] = None) -> float:
    """Dry film that hides: contrast ratio as asked (0.98)."""
    thickness_mm = ctypes.c_double()
    run(lib.vug_film_hiding, context, absorption_per_mm, scattering_per_mm, contrast_ratio,
        byref(thickness_mm))
    return thickness_mm.value


def film_blocking(
        absorption_per_mm: float,
        scattering_per_mm: float,
        transmittance: float,
        context: Optional[Context] = None) -> float:
    """Dry film that lets through no more than a share of light from behind: the measure for dark
    paint and backlight."""
    thickness_mm = ctypes.c_double()
    run(lib.vug_film_blocking, context, absorption_per_mm, scattering_per_mm, transmittance,
        byref(thickness_mm))
    return thickness_mm.value


def relief_contrast(
        relief: Optional[Relief],
        skin_mm: Any,
        context: Optional[Context] = None) -> Any:
    """Contrast (lightest - darkest) / (lightest + darkest) of a relief whose skin is skin_mm
    thick in the middle (at least half the height): reflectance of the skin over the core
    (Kubelka and Munk) at crest and hollow, blurred by scattering as a wave of that width is
    through the skin, q t / sinh(q t), q = 2 pi / width (diffusion without loss). An estimate:
    print a step wedge. relief NULL: defaults."""
    return law(lib.vug_relief_contrast, context, skin_mm, ref(relief))


def relief_skin(relief: Optional[Relief], context: Optional[Context] = None) -> float:
    """Thickest skin through which the relief still reads, contrast at the threshold."""
    skin_mm = ctypes.c_double()
    run(lib.vug_relief_skin, context, ref(relief), byref(skin_mm))
    return skin_mm.value


def coat_plan(
        area_mm2: float,
        volume_mm3: float,
        dry_film_mm: float,
        solids_fraction: float,
        wet_coat_mm: float,
        context: Optional[Context] = None) -> Coat:
    """Paint to coat the wall of a cavity to a dry film, in coats of wet_coat_mm (what hangs
    without running: yield stress / (density g) on a standing wall, or film_hang())."""
    coat = Coat()
    run(lib.vug_coat_plan, context, area_mm2, volume_mm3, dry_film_mm, solids_fraction,
        wet_coat_mm, ref(coat))
    return coat


def film_hang(
        fluid: Optional[Fluid],
        slope_deg: float,
        height_mm: float,
        after_s: float,
        context: Optional[Context] = None) -> float:
    """Film that stays on a wall of a slope (90: standing): yield stress / (density g sin), and
    for a plain liquid what has not yet run off after_s down height_mm, sqrt(viscosity height /
    (density g sin time)) (Jeffreys 1930), the larger."""
    film_mm = ctypes.c_double()
    run(lib.vug_film_hang, context, ref(fluid), slope_deg, height_mm, after_s,
        byref(film_mm))
    return film_mm.value
