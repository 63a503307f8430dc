#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Head over a sill by general CFD: the figures that test_flow_cases.c compares with, made again.

    tests/cfd/sill.py FOLDER [CASE]...

For people who have OpenFOAM (Debian's package openfoam): interFoam, in the plane, no surface tension. Not part of make
check; a case takes a few minutes of one core. In FOLDER each case gets a folder of its own, with what the solver wrote.

A basin is fed through its floor and runs over a level crest into the next. It begins full to the crest. The head is
what its liquid stands over the crest, by its volume, once that no longer changes.
"""
import os
import subprocess
import sys
from pathlib import Path

BASIN, FEED, ROOM = 30.0, 6.0, 12.0  # mm: width of a basin, of the feed in its floor, height above the crest
G = 9.80665

# crest mm, its height mm, flow mm2/s a mm of depth, viscosity Pa s, density kg/m3, cell mm, until s
CASES = {
    "thick": (5.0, 10.0, 150.0, 0.3, 1300.0, 0.5, 3.0),
    "thin": (8.0, 8.0, 120.0, 0.02, 1000.0, 0.5, 2.5),
    "thick-coarse": (5.0, 10.0, 150.0, 0.3, 1300.0, 1.0, 3.0),
    "thin-coarse": (8.0, 8.0, 120.0, 0.02, 1000.0, 1.0, 2.5),
}

HEAD = "FoamFile {{ version 2.0; format ascii; class {}; object {}; }}\n"


def put(folder, name, text, kind="dictionary"):
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(HEAD.format(kind, path.name) + text)


def mesh(folder, crest, high, cell):
    x = [0.0, FEED, BASIN, BASIN + crest, 2 * BASIN + crest]
    z = [0.0, high, high + ROOM]
    point = lambda i, k, y: i + len(x) * (k + len(z) * y)
    there = [(i, k) for k in range(2) for i in range(4) if (i, k) != (2, 0)]
    zone = lambda i: "left" if i < 2 else "crest" if i == 2 else "right"
    blocks, faces = [], {"feed": [], "air": [], "walls": [], "planes": []}
    for i, k in there:
        a = [point(i + di, k + dk, y) for dk in (0, 1) for di, y in ((0, 0), (1, 0), (1, 1), (0, 1))]
        cells = [max(1, round((v[n + 1] - v[n]) / cell)) for v, n in ((x, i), (z, k))]
        blocks.append(f"hex ({' '.join(map(str, a))}) {zone(i)} ({cells[0]} 1 {cells[1]}) simpleGrading (1 1 1)")
        faces["planes"] += [(a[0], a[1], a[5], a[4]), (a[3], a[7], a[6], a[2])]
        sides = {(i - 1, k): (a[0], a[4], a[7], a[3]), (i + 1, k): (a[1], a[2], a[6], a[5]),
                 (i, k - 1): (a[0], a[3], a[2], a[1]), (i, k + 1): (a[4], a[5], a[6], a[7])}
        for (ni, nk), face in sides.items():
            if (ni, nk) not in there:
                name = "air" if nk == 2 else "feed" if nk == -1 and i == 0 else "walls"
                faces[name].append(face)
    kind = {"feed": "patch", "air": "patch", "walls": "wall", "planes": "empty"}
    corners = [(a, y, b) for y in (0.0, 1.0) for b in z for a in x]
    put(folder, "system/blockMeshDict", "scale 0.001;\nvertices\n(\n"
        + "\n".join("(%g %g %g)" % c for c in corners) + "\n);\nblocks\n(\n" + "\n".join(blocks)
        + "\n);\nedges ();\nboundary\n(\n"
        + "".join("%s { type %s; faces ( %s ); }\n" % (n, kind[n], " ".join("(%d %d %d %d)" % f for f in faces[n]))
                  for n in faces) + ");\nmergePatchPairs ();\n")


def fields(folder, flow):
    def field(name, kind, units, start, of):
        put(folder, "0/" + name, f"dimensions {units};\ninternalField uniform {start};\nboundaryField\n{{\n"
            + "".join(f"{p} {{ {of[p]} }}\n" for p in of) + "planes { type empty; }\n}\n", kind)
    field("alpha.liquid", "volScalarField", "[0 0 0 0 0 0 0]", "0",
          {"feed": "type fixedValue; value uniform 1;", "walls": "type zeroGradient;",
           "air": "type inletOutlet; inletValue uniform 0; value uniform 0;"})
    field("U", "volVectorField", "[0 1 -1 0 0 0 0]", "(0 0 0)",
          {"feed": f"type fixedValue; value uniform (0 0 {1e-3 * flow / FEED:.9g});", "walls": "type noSlip;",
           "air": "type pressureInletOutletVelocity; value uniform (0 0 0);"})
    field("p_rgh", "volScalarField", "[1 -1 -2 0 0 0 0]", "0",
          {"feed": "type fixedFluxPressure; value uniform 0;", "walls": "type fixedFluxPressure; value uniform 0;",
           "air": "type totalPressure; p0 uniform 0; value uniform 0;"})


def settings(folder, high, viscosity, density, until):
    put(folder, "constant/g", f"dimensions [0 1 -2 0 0 0 0]; value (0 0 {-G});\n", "uniformDimensionedVectorField")
    put(folder, "constant/turbulenceProperties", "simulationType laminar;\n")
    put(folder, "constant/transportProperties", "phases (liquid air);\n"
        f"liquid {{ transportModel Newtonian; nu {viscosity / density:.9g}; rho {density}; }}\n"
        "air { transportModel Newtonian; nu 1.5e-5; rho 1.2; }\nsigma 0;\n")
    put(folder, "system/setFieldsDict", "defaultFieldValues ( volScalarFieldValue alpha.liquid 0 );\n"
        f"regions ( boxToCell {{ box (-1 -1 -1) ({1e-3 * BASIN} 1 {1e-3 * high});"
        " fieldValues ( volScalarFieldValue alpha.liquid 1 ); } );\n")
    put(folder, "system/controlDict", "application interFoam; startFrom startTime; startTime 0; stopAt endTime;\n"
        f"endTime {until}; deltaT 1e-4; writeControl adjustableRunTime; writeInterval {until}; writeFormat ascii;\n"
        "adjustTimeStep yes; maxCo 0.6; maxAlphaCo 0.6; maxDeltaT 0.01;\nfunctions\n{\nleft { type volFieldValue;\n"
        'libs ("libfieldFunctionObjects.so"); log false; writeFields false; regionType cellZone; name left;\n'
        "operation volIntegrate; fields (alpha.liquid); writeControl adjustableRunTime; writeInterval 0.05; }\n}\n")
    put(folder, "system/fvSchemes", "ddtSchemes { default Euler; }\ngradSchemes { default Gauss linear; }\n"
        "divSchemes { div(rhoPhi,U) Gauss linearUpwind grad(U); div(phi,alpha) Gauss vanLeer;\n"
        "div(phirb,alpha) Gauss linear; div(((rho*nuEff)*dev2(T(grad(U))))) Gauss linear; }\n"
        "laplacianSchemes { default Gauss linear corrected; }\ninterpolationSchemes { default linear; }\n"
        "snGradSchemes { default corrected; }\n")
    put(folder, "system/fvSolution", 'solvers\n{\n"alpha.liquid.*" { nAlphaCorr 2; nAlphaSubCycles 1; cAlpha 1;\n'
        "MULESCorr yes; nLimiterIter 5; solver smoothSolver; smoother symGaussSeidel; tolerance 1e-9; relTol 0; }\n"
        '"pcorr.*" { solver PCG; preconditioner DIC; tolerance 1e-5; relTol 0; }\n'
        '"p_rgh.*" { solver PCG; preconditioner DIC; tolerance 1e-7; relTol 0.01; }\n'
        '"U.*" { solver smoothSolver; smoother symGaussSeidel; tolerance 1e-7; relTol 0; }\n}\n'
        "PIMPLE { momentumPredictor yes; nOuterCorrectors 1; nCorrectors 2; nNonOrthogonalCorrectors 0; }\n")


def run(folder, *programs):
    own = dict(os.environ, WM_PROJECT_DIR=os.environ.get("WM_PROJECT_DIR", "/usr/share/openfoam"))
    for program in programs:
        with open(folder / (program + ".log"), "w") as log:
            subprocess.run([program, "-case", str(folder)], stdout=log, stderr=log, env=own, check=True)


def solve(folder, case):
    crest, high, flow, viscosity, density, cell, until = case
    mesh(folder, crest, high, cell)
    fields(folder, flow)
    settings(folder, high, viscosity, density, until)
    run(folder, "blockMesh", "setFields", "interFoam")
    rows = []
    for line in (folder / "postProcessing/left/0/volFieldValue.dat").read_text().splitlines():
        if not line.startswith("#"):
            rows.append([float(word) for word in line.split()])
    heads = [(t, 1e9 * volume / BASIN - high) for t, volume in rows]
    half = [h for t, h in heads if t >= 0.75 * until]
    return sum(half) / len(half), max(half) - min(half)


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    for name in sys.argv[2:] or CASES:
        head, change = solve(Path(sys.argv[1]) / name, CASES[name])
        print(f"{name}: head {head:.2f} mm (changes by {change:.2f} mm in the last quarter)", flush=True)


if __name__ == "__main__":
    main()
