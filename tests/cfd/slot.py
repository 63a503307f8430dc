#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Lag of levels over a slot by general CFD: figures that test_flow_cases.c compares with, made again.

    tests/cfd/slot.py FOLDER [CASE]...

For people who have OpenFOAM (Debian's package openfoam): simpleFoam, in the plane, one phase, steady. Not part of make
check; a case takes some seconds of one core, and is within 3 % of finer cells. In FOLDER each case gets a folder of its own, with what the solver wrote.

Two chambers 20 mm long beside each other, a slot between them. Both surfaces rise alike, so half of what comes in by the
left one leaves by each top; the lag is the difference of pressure between the tops, over the liquid's weight.
"""
import sys
from pathlib import Path

from sill import G, put, run

LONG, DEEP, OVER = 20.0, 20.0, 12.0  # mm: of a chamber; depth; height above the slot
DENSITY = 1100.0

# slot mm long, high, over the floor; mm3/s, Pa s, inlet
CASES = {
    "short": (2.0, 2.0, 0.0, 400.0, 1.0, "floor"),
    "middle": (10.0, 2.0, 0.0, 400.0, 0.5, "floor"),
    "middle-roof": (10.0, 2.0, 0.0, 400.0, 0.5, "roof"),
    "long": (20.0, 2.0, 0.0, 200.0, 0.5, "floor"),
    "wide": (10.0, 4.0, 0.0, 3200.0, 0.5, "floor"),
    "wide-roof": (10.0, 4.0, 0.0, 3200.0, 0.5, "roof"),
    "raised": (10.0, 2.0, 10.0, 400.0, 0.5, "floor"),
}
FEED = (8.0, 12.0)  # mm from the left wall


def mesh(folder, length, gap, base, by_floor):
    """Blocks between lines; through the floor the feed is a stub, so that its jet is a channel's."""
    x = [0.0, *FEED, LONG, LONG + length, 2 * LONG + length]
    z = sorted({-2.0, 0.0, base, base + gap, base + gap + OVER})
    there = [(i, k) for i in range(len(x) - 1) for k in range(len(z) - 1)
             if (z[k] >= 0 and (i != 3 or z[k] == base)) or (z[k] < 0 and i == 1 and by_floor)]
    point = lambda i, k, y: i + len(x) * (k + len(z) * y)
    across = [max(4, round(1.25 * (b - a))) for a, b in zip(x, x[1:])]
    along = [16 if a == base else max(4, round(b - a)) for a, b in zip(z, z[1:])]
    blocks, faces = [], {name: [] for name in ("feed", "left", "right", "walls", "planes")}
    for i, k in there:
        a = [point(i + di, k + dk, y) for dk in (0, 1) for di, y in ((0, 0), (1, 0), (1, 1), (0, 1))]
        blocks.append(f"hex ({' '.join(map(str, a))}) ({across[i]} 1 {along[k]}) simpleGrading (1 1 1)")
        faces["planes"] += [(a[0], a[1], a[5], a[4]), (a[3], a[7], a[6], a[2])]
        sides = {(i - 1, k): (a[0], a[4], a[7], a[3]), (i + 1, k): (a[1], a[2], a[6], a[5]),
                 (i, k - 1): (a[0], a[3], a[2], a[1]), (i, k + 1): (a[4], a[5], a[6], a[7])}
        for (ni, nk), face in sides.items():
            if (ni, nk) in there:
                continue
            top = nk == len(z) - 1
            name = "feed" if nk == -1 else "left" if top and i < 3 else "right" if top else "walls"
            faces[name].append(face)
    kind = {"walls": "wall", "planes": "empty"}
    corners = [(a, y, b) for y in (0.0, 1.0) for b in z for a in x]
    put(folder, "system/blockMeshDict", "scale 0.001;\nvertices\n(\n"
        + "\n".join("(%g %g %g)" % c for c in corners) + "\n);\nblocks\n(\n" + "\n".join(blocks)
        + "\n);\nedges ();\nboundary\n(\n"
        + "".join("%s { type %s; faces ( %s ); }\n" % (n, kind.get(n, "patch"),
                                                       " ".join("(%d %d %d %d)" % f for f in of))
                  for n, of in faces.items() if of) + ");\nmergePatchPairs ();\n")


def fields(folder, rate, by_floor):
    rise = 1e-3 * 0.5 * rate / (LONG * DEEP)  # m/s, of each surface
    up = {"feed": 1e-3 * rate / ((FEED[1] - FEED[0]) * DEEP), "left": rise if by_floor else -rise, "right": rise}
    if not by_floor:
        del up["feed"]  # it comes in by the left surface, less what that rises
    moving = "".join(f"{name} {{ type fixedValue; value uniform (0 0 {w:.9g}); }}\n" for name, w in up.items())
    put(folder, "0/U", "dimensions [0 1 -1 0 0 0 0];\ninternalField uniform (0 0 0);\nboundaryField\n{\n" + moving
        + "walls { type noSlip; }\nplanes { type empty; }\n}\n", "volVectorField")
    still = "".join(f"{name} {{ type zeroGradient; }}\n" for name in (*up, "walls"))
    put(folder, "0/p", "dimensions [0 2 -2 0 0 0 0];\ninternalField uniform 0;\nboundaryField\n{\n" + still
        + "planes { type empty; }\n}\n", "volScalarField")


def settings(folder, viscosity):
    put(folder, "constant/transportProperties", f"transportModel Newtonian; nu {viscosity / DENSITY:.9g};\n")
    put(folder, "constant/turbulenceProperties", "simulationType laminar;\n")
    of_top = "".join(f'{name} {{ type surfaceFieldValue; libs ("libfieldFunctionObjects.so"); log false; writeFields false;\n'
                     f"regionType patch; name {name}; operation areaAverage; fields (p); writeControl timeStep;"
                     " writeInterval 50; }\n" for name in ("left", "right"))
    put(folder, "system/controlDict", "application simpleFoam; startFrom startTime; startTime 0; stopAt endTime;\n"
        "endTime 3000; deltaT 1; writeControl timeStep; writeInterval 100000;\nfunctions\n{\n" + of_top + "}\n")
    put(folder, "system/fvSchemes", "ddtSchemes { default steadyState; }\ngradSchemes { default Gauss linear; }\n"
        "divSchemes { default none; div(phi,U) bounded Gauss linear; div((nuEff*dev2(T(grad(U))))) Gauss linear; }\n"
        "laplacianSchemes { default Gauss linear corrected; }\ninterpolationSchemes { default linear; }\n"
        "snGradSchemes { default corrected; }\n")
    put(folder, "system/fvSolution", "solvers\n{\np { solver PCG; preconditioner DIC; tolerance 1e-10; relTol 0.02; }\n"
        "U { solver smoothSolver; smoother symGaussSeidel; tolerance 1e-10; relTol 0.01; }\n}\n"
        "SIMPLE { consistent yes; nNonOrthogonalCorrectors 0; pRefCell 0; pRefValue 0;\n"
        "residualControl { p 2e-5; U 2e-6; } }\nrelaxationFactors { equations { U 0.95; } }\n")


def last(folder, name):
    path = sorted((folder / "postProcessing" / name).glob("*/*.dat"))[-1]
    return float(path.read_text().split()[-1])


def solve(folder, case):
    length, gap, base, rate, viscosity, where = case
    mesh(folder, length, gap, base, where == "floor")
    fields(folder, rate, where == "floor")
    settings(folder, viscosity)
    run(folder, "blockMesh", "simpleFoam")
    return 1e3 * (last(folder, "left") - last(folder, "right")) / G


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    for name in sys.argv[2:] or CASES:
        print(f"{name}: lag {solve(Path(sys.argv[1]) / name, CASES[name]):.2f} mm", flush=True)


if __name__ == "__main__":
    main()
