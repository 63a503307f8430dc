#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""The sums against independent libraries: scipy (quadrature, differential equations, roots, Bessel
functions), python3-fluids (losses, friction, groups) and python3-iapws (water)."""
import ctypes
import math
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import house

so = house.library("so")
if not so or house.sanitized():
    house.skip("no plain shared library")
try:
    from scipy.integrate import quad, solve_ivp
    from scipy.optimize import brentq
    from scipy.special import jn_zeros, jnp_zeros
except ImportError:
    house.skip("no scipy")
try:
    import fluids
except ImportError:
    fluids = None
try:
    import iapws
except ImportError:
    iapws = None

lib = ctypes.CDLL(str(so))
F64, REF = ctypes.c_double, ctypes.byref
G = 9.80665
random.seed(20031)
worst = {}


class Fluid(ctypes.Structure):
    _fields_ = [("struct_size", ctypes.c_uint32)] + [(n, F64) for n in (
        "density_kg_m3", "surface_tension_n_m", "contact_angle_deg", "yield_stress_pa",
        "consistency_pa_sn", "flow_index")]


def fluid(rho=1000.0, sigma=0.03, angle=0.0, ty=0.0, k=1.0, n=1.0):
    return Fluid(ctypes.sizeof(Fluid), rho, sigma, angle, ty, k, n)


def call(name, *args):
    """Numbers in, one number out."""
    out = F64(math.nan)
    given = [REF(a) if isinstance(a, Fluid) else F64(a) for a in args]
    status = getattr(lib, name)(None, *given, REF(out))
    assert status == 0, (name, status, args)
    return out.value


def law(name, *args):
    """The same of a law, whose last argument is a row: here of one number."""
    *given, x = args
    out, row = F64(math.nan), F64(x)
    given = [REF(a) if isinstance(a, Fluid) else F64(a) for a in given]
    status = getattr(lib, name)(None, *given, REF(row), ctypes.c_size_t(1), REF(out))
    assert status == 0, (name, status, args)
    return out.value


def near(what, got, want, relative):
    error = abs(got - want) / abs(want)
    worst[what] = max(worst.get(what, 0.0), error)
    assert error <= relative, f"{what}: {got!r}, expected {want!r} within {relative}"


def between(lo, hi):
    return lo * (hi / lo) ** random.random()


def tubes_and_slots():
    """Rabinowitsch's integral, by quadrature, of random Herschel-Bulkley fluids."""
    for _ in range(60):
        radius, length, pressure = between(0.1, 5), between(1, 100), between(1e3, 1e6)
        stress = pressure * radius / (2 * length)
        f = fluid(ty=random.choice([0.0, stress * random.random()]), k=between(1e-3, 20),
                  n=between(0.25, 1.4))
        rate = lambda t: max(t - f.yield_stress_pa, 0.0) ** (1 / f.flow_index) \
            / f.consistency_pa_sn ** (1 / f.flow_index)
        part = quad(lambda t: t * t * rate(t), f.yield_stress_pa, stress, epsabs=0, epsrel=1e-11)[0]
        near("tube, scipy.integrate.quad",
             law("vug_tube_flow", f, radius, length, pressure),
             math.pi * radius ** 3 / stress ** 3 * part, 1e-8)
        gap, width = between(0.05, 2), 50.0
        stress = pressure * gap / (2 * length)
        f.yield_stress_pa *= 0.5 if f.yield_stress_pa * 0.5 < stress else 0.0
        part = quad(lambda t: t * rate(t), f.yield_stress_pa, stress, epsabs=0, epsrel=1e-11)[0]
        near("slot, scipy.integrate.quad",
             law("vug_slot_flow", f, gap, width, length, pressure),
             2 * width * (gap / 2) ** 2 / stress ** 2 * part, 1e-8)


def holes_in_parts():
    """Each loss of a hole by itself, from python3-fluids, and the drain time by quadrature."""
    if fluids:
        mu, rho, d = 1.002e-3, 998.2, 1e-3
        q = 1e-4 / rho  # m3/s; long tube: friction alone
        length = 100.0
        laminar = fluids.one_phase_dP(m=1e-4, rho=rho, mu=mu, D=d, L=length)
        near("long hole, fluids.one_phase_dP",
             law("vug_hole_pressure", fluid(rho=rho, k=mu), d * 1e3, length * 1e3, q * 1e9),
             laminar, 1e-3)
        speed = 8.0  # turbulent, Re 8000: Blasius against Colebrook's smooth pipe, 2 %
        q = speed * math.pi / 4 * d * d
        near("turbulent tube, fluids.friction_factor",
             law("vug_hole_pressure", fluid(rho=rho, k=mu), d * 1e3, 1e4, q * 1e9),
             fluids.friction_factor(Re=rho * speed * d / mu, eD=0) * 10 / d * rho * speed ** 2 / 2,
             0.03)
        # An orifice of 12.5 mm in 50 mm at Re 2e4, edge of ISO 5167-2's range (diameter ratio 0.25):
        # its coefficient of discharge over an approach speed near nothing
        cd = fluids.C_Reader_Harris_Gallagher(D=.05, Do=.0125, rho=rho, mu=mu, m=.2, taps='corner')
        q = 0.2 / rho
        pressure = law("vug_hole_pressure", fluid(rho=rho, k=mu), 12.5, 0.0, q * 1e9)
        a = math.pi / 4 * 0.0125 ** 2
        near("sharp orifice, fluids.C_Reader_Harris_Gallagher (ISO 5167-2)",
             q / (a * math.sqrt(2 * pressure / rho)), cd, 0.02)
        # Entrance 0.5 (fluids: 0.57, Rennels) and exit 1 of a hole long enough to reattach
        near("mouthpiece, fluids.entrance_sharp + exit_normal",
             law("vug_hole_pressure", fluid(rho=rho, k=1e-6), 3.0, 9.0, 1000.0),
             (fluids.entrance_sharp() + fluids.exit_normal()) * rho / 2
             * (1e-6 / (math.pi / 4 * 9e-6)) ** 2, 0.06)
    for _ in range(20):
        f = fluid(rho=between(800, 1500), k=between(1e-3, 5), n=between(0.6, 1.1),
                  ty=random.choice([0.0, between(0.01, 1.0)]))
        d, wall, area = between(1, 6), random.choice([0.0, between(0.5, 5)]), between(100, 5000)
        start = call("vug_hole_start_pressure", f, d, wall) / (f.density_kg_m3 * G) * 1e3
        low = start * 1.2 + between(0.5, 5)
        high = low + between(5, 100)
        flow = lambda h: law("vug_hole_flow", f, d, wall, f.density_kg_m3 * G * h * 1e-3)
        want = quad(lambda h: area / flow(h), low, high, epsabs=0, epsrel=1e-10, limit=200)[0]
        out, rows = F64(), F64 * 2
        assert lib.vug_drain_time(None, REF(f), F64(d), F64(wall), rows(low, high), rows(area, area),
                                  ctypes.c_size_t(2), REF(out)) == 0
        near("drain time, scipy.integrate.quad", out.value, want, 1e-8)


def profile(b):
    """Radius and slope where the curvature of a heavy meniscus over a light one vanishes: there it is
    marginally stable against tilting (Young-Laplace, lengths in capillary lengths)."""
    def along(s, y):
        r, z, p = y
        return [math.cos(p), math.sin(p), 2 * b - (math.sin(p) / r if r > 1e-12 else b) - z]

    def flat(s, y):
        return along(s, y)[2]
    flat.terminal, flat.direction = True, -1
    got = solve_ivp(along, [1e-4, 10], [1e-4, b * 5e-9, b * 1e-4], events=flat, rtol=1e-11,
                    atol=1e-13, method="DOP853")
    r, _, p = got.y_events[0][0]
    return r, math.degrees(p)


def exchange():
    lc = math.sqrt(0.03 / (1000 * G)) * 1e3
    for angle in (0, 5, 15, 25, 35, 50, 65, 75, 85, 89):
        b = brentq(lambda b: profile(b)[1] - (90 - angle), 1e-5, 1.75, xtol=1e-13)
        near("exchange diameter, scipy.integrate.solve_ivp",
             call("vug_exchange_diameter_free", fluid(angle=angle)), 2 * lc * profile(b)[0], 1e-8)
    near("exchange at 90 degrees, scipy.special.jnp_zeros",
         call("vug_exchange_diameter_free", fluid(angle=90.0)), 2 * lc * jnp_zeros(1, 1)[0], 1e-9)
    free, pinned = F64(), F64()
    lib.vug_exchange_diameter(None, REF(fluid()), REF(free), REF(pinned))
    near("pinned exchange, scipy.special.jn_zeros", pinned.value, 2 * lc * jn_zeros(1, 1)[0], 1e-12)


def bubbles():
    """Terminal speed of the drag law, solved by brentq; groups by python3-fluids."""
    for _ in range(40):
        f = fluid(rho=between(800, 1500), sigma=between(.02, .07), k=between(1e-3, 2))
        d = between(2e-4, 3e-2)
        eo = fluids.Eotvos(f.density_kg_m3, 0.0, f.surface_tension_n_m, d) if fluids else \
            f.density_kg_m3 * G * d * d / f.surface_tension_n_m

        def force(u):  # Tomiyama et al. 1998, dirty
            re = f.density_kg_m3 * u * d / f.consistency_pa_sn
            cd = max(24 / re * (1 + 0.15 * re ** 0.687), 8 / 3 * eo / (eo + 4))
            return cd * 0.75 * u * u / d - G
        want = brentq(force, 1e-9, 5.0, xtol=1e-15, rtol=1e-13)
        out = F64()
        assert lib.vug_bubble_open_speed(None, REF(f), 0, REF(F64(d * 500)), ctypes.c_size_t(1),
                                         REF(out)) == 0
        near("bubble in the open, scipy.optimize.brentq", out.value, want * 1e3, 1e-8)


def water():
    if not iapws:
        return
    for celsius in (1, 10, 20, 30, 45, 59):
        out = fluid()
        assert lib.vug_fluid_preset(None, 0, 1, F64(celsius), REF(out)) == 0
        state = iapws.IAPWS95(T=celsius + 273.15, P=0.101325)
        near("water density, iapws.IAPWS95", out.density_kg_m3, state.rho, 3e-5)
        near("water viscosity, iapws.IAPWS95", out.consistency_pa_sn, state.mu, 2e-3)
        near("water tension, iapws", out.surface_tension_n_m, iapws._iapws._Tension(
            celsius + 273.15), 1e-6)
        if celsius < 45:
            k, b = state.kappa * 1e-6, state.alfav
            shell_pressure(celsius, k, b)
            humid = drying(celsius)
            p = iapws.iapws97._PSat_T(celsius + 273.15) * 1e6
            near("vapour pressure in drying, iapws97", humid, p, 1e-3)


def shell_pressure(celsius, k, b):
    """A rigid shell full of water: expansion over compressibility, both of IAPWS-95."""
    class Shell(ctypes.Structure):
        _fields_ = [("struct_size", ctypes.c_uint32), ("shape", ctypes.c_int32)] + [
            (n, F64) for n in "inner wall modulus poisson low high".split()]

    class Sealed(ctypes.Structure):
        _fields_ = [("struct_size", ctypes.c_uint32), ("content", ctypes.c_int32)] + [
            (n, F64) for n in "expansion give air at".split()]
    shell = Shell(ctypes.sizeof(Shell), 0, 10.0, 1e4, 1e13, 0.3, 0.0, 0.0)
    sealed = Sealed(ctypes.sizeof(Sealed), 1, b, k, 0.0, celsius)
    low, high = F64(), F64()
    assert lib.vug_sealed_pressure(None, REF(shell), REF(sealed), F64(1.0), REF(low), REF(high)) == 0
    if b / k > -101325.0:
        near("sealed rigid liquid, iapws.IAPWS95", high.value, b / k, 1e-3)
    # Water over the real range, and its vapour: what a rigid shell half full of air comes to
    sealed = Sealed(ctypes.sizeof(Sealed), 0, 0.0, 0.0, 0.5, celsius)
    for warm in (5, 30, 50):
        assert lib.vug_sealed_pressure(None, REF(shell), REF(sealed), F64(warm), REF(low),
                                       REF(high)) == 0
        before, after = celsius + 273.15, celsius + 273.15 + warm
        density = [iapws.IAPWS97(T=t, P=0.101325).rho for t in (before, after)]
        vapour = [iapws.iapws97._PSat_T(t) * 1e6 for t in (before, after)]
        dry = (101325 - vapour[0]) * after / before * 0.5 / (1 - 0.5 * density[0] / density[1])
        near("sealed water and damp air, iapws.IAPWS97", high.value + 101325, dry + vapour[1], 1e-3)


def drying(celsius):
    """Saturation pressure back out of the time that 1 mm3 of water takes through a hole."""
    out = F64()
    assert lib.vug_drying_time(None, F64(1.0), F64(3.0), F64(2.0), F64(celsius), F64(0.0),
                               REF(out)) == 0
    t, a = celsius + 273.15, 1.5e-3
    rho = iapws.IAPWS95(T=t, P=0.101325).rho
    diffusivity = 2.178e-5 * (t / 273.15) ** 1.81
    moles = rho * 1e-9 / 0.018015 / out.value
    share = moles * 8.314462618 * t * (2e-3 + math.pi / 4 * a) / (math.pi * a * a * diffusivity
                                                                 * 101325)
    return 101325 * (1 - math.exp(-share))


def diffusion():
    """A sheet of one closed face: finite differences, against Crank's series."""
    n, left = 200, 1.0
    import numpy as np
    c = np.ones(n)
    x = 1.0 / n

    def rate(t, c):
        d = np.zeros(n)
        d[1:] += (c[:-1] - c[1:]) / x
        d[:-1] += (c[1:] - c[:-1]) / x
        d[0] -= 2 * c[0] / x
        return d / x
    got = solve_ivp(rate, [0, 1.0], c, t_eval=[0.02, 0.1, 0.3, 1.0], method="LSODA", rtol=1e-8,
                    atol=1e-10)
    for t, column in zip(got.t, got.y.T):
        near("soaking, scipy.integrate.solve_ivp (method of lines)",
             call("vug_soak_time", 10.0, 1e-9, float(column.mean())) * 1e-9 / 1e-4, t, 5e-3)


def films():
    """Kubelka and Munk's two differential equations, solved numerically."""
    for _ in range(15):
        k, s, x, rg = between(0.1, 20), between(0.1, 40), between(0.01, 0.5), random.random()
        # up-going j and down-going i: dR/dx = S - 2 (K + S) R + S R^2 from the background up
        got = solve_ivp(lambda _, r: s - 2 * (k + s) * r + s * r * r, [0, x], [rg], rtol=1e-10,
                        atol=1e-12)
        near("film reflectance, scipy.integrate.solve_ivp",
             law("vug_film_reflectance", k, s, rg, x), got.y[0][-1], 1e-7)


def exchange_free(ctx, f, out):
    return lib.vug_exchange_diameter(ctx, f, out, None)


lib.vug_exchange_diameter_free = exchange_free
for test in (tubes_and_slots, holes_in_parts, exchange, bubbles, water, diffusion, films):
    test()
for name, error in worst.items():
    print(f"{name}: {error:.1e}")
