#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Flow through a hole by OpenFOAM 1912 (Debian's package openfoam): the figures that
tests/flow/test_flow.c holds vug_hole_flow() and vug_hole_flow_immersed() to. Not part of make check.

    tests/flow/cfd_hole.py FOLDER air BORE_MM VISCOSITY_PA_S   a tank of 12 mm radius drains by a hole of
                                                          4 mm into air (interFoam, two phases)
    tests/flow/cfd_hole.py FOLDER immersed SLENDER REYNOLDS    from one chamber into another through a hole
                                                          of diameter 1 (simpleFoam, one phase)

The case is written to FOLDER. Minutes each, on one core."""
import math
import os
import subprocess
import sys
from pathlib import Path

G = 9.80665
HALF_ANGLE = math.tan(math.radians(2.5))  # of the wedge that stands for the round part


def put(case, name, text, kind="dictionary"):
    path = Path(case) / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"FoamFile {{ version 2.0; format ascii; class {kind}; object {path.name}; }}\n"
                    + text)


def boundary(patches):
    return "".join(f"{name} {{ {text} }}\n" for name, text in patches.items())


def field(case, name, kind, dimensions, value, patches):
    patches = {**patches, "front": "type wedge;", "back": "type wedge;"}
    put(case, "0/" + name, f"dimensions {dimensions};\ninternalField uniform {value};\n"
        f"boundaryField\n{{\n{boundary(patches)}}}\n", kind)


def mesh(case, scale, radii, heights, zone, patch, across, along):
    """Blocks between radii and heights where zone(i, k) has a name; patch(i, k, side) names the faces of block
    i, k that lead out of it, side being r or z with the sign of the way out. across and along: cells,
    and the growth of their size."""
    points, number, blocks = [], {}, []
    faces = {"front": [], "back": []}

    def point(i, k, side):
        key = (i, k, side if radii[i] else 0)
        if key not in number:
            number[key] = len(points)
            points.append((radii[i], radii[i] * HALF_ANGLE * (2 * side - 1), heights[k]))
        return number[key]
    cells = [(i, k) for i in range(len(radii) - 1) for k in range(len(heights) - 1) if zone(i, k)]
    for i, k in cells:
        a, b, c, d = point(i, k, 0), point(i + 1, k, 0), point(i + 1, k, 1), point(i, k, 1)
        e, f, g, h = (point(i, k + 1, 0), point(i + 1, k + 1, 0), point(i + 1, k + 1, 1),
                      point(i, k + 1, 1))
        blocks.append(f"hex ({a} {b} {c} {d} {e} {f} {g} {h}) {zone(i, k)} ({across[i][0]} 1 {along[k][0]}) "
                      f"simpleGrading ({across[i][1]} 1 {along[k][1]})")
        faces["front"].append((a, b, f, e))
        faces["back"].append((d, h, g, c))
        for near, side, face in (((i + 1, k), "+r", (b, c, g, f)), ((i - 1, k), "-r", (a, e, h, d)),
                                 ((i, k - 1), "-z", (a, d, c, b)), ((i, k + 1), "+z", (e, f, g, h))):
            if near not in cells and not (side == "-r" and radii[i] == 0):
                faces.setdefault(patch(i, k, side), []).append(face)
    kinds = {"front": "wedge", "back": "wedge", "walls": "wall"}
    text = f"scale {scale};\nvertices\n(\n"
    text += "".join("(%.9g %.9g %.9g)\n" % p for p in points) + ");\nblocks\n(\n"
    text += "\n".join(blocks) + "\n);\nedges ();\nboundary\n(\n"
    for name, list_of in faces.items():
        quads = " ".join("(%d %d %d %d)" % q for q in list_of)
        text += f"{name} {{ type {kinds.get(name, 'patch')}; faces ({quads}); }}\n"
    put(case, "system/blockMeshDict", text + ");\n")


def schemes(case, time, divergences):
    put(case, "system/fvSchemes", f"ddtSchemes {{ default {time}; }}\n"
        "gradSchemes { default Gauss linear; }\n"
        f"divSchemes {{ {divergences} }}\n"
        "laplacianSchemes { default Gauss linear corrected; }\n"
        "interpolationSchemes { default linear; }\nsnGradSchemes { default corrected; }\n")


def run(case, *programs):
    root = os.environ.get("WM_PROJECT_DIR", "/usr/share/openfoam")
    env = dict(os.environ, WM_PROJECT_DIR=root, WM_PROJECT="OpenFOAM", FOAM_ETC=root + "/etc")
    for program in programs:
        with open(Path(case) / ("log." + program), "w") as log:
            subprocess.run([program], cwd=case, env=env, stdout=log, check=True)


def rows(case, name):
    found = sorted((Path(case) / "postProcessing" / name).glob("*/*.dat"))
    return [[float(v) for v in line.split()] for path in found
            for line in path.read_text().splitlines() if line and line[0] != "#"]


def average(name, place, kind, fields, operation, every):
    where = {"patch": ("surfaceFieldValue", "patch"), "zone": ("volFieldValue", "cellZone")}[kind]
    return (f'{name} {{ type {where[0]}; libs ("libfieldFunctionObjects.so"); log false; '
            f"writeFields false; regionType {where[1]}; name {place}; operation {operation}; "
            f"fields ({fields}); {every} }}\n")


# ---- liquid under liquid, air in air ---------------------------------------------------------

def immersed(case, slender, reynolds, cells=16):
    """Diameter 1, mean speed 1 in the hole, chambers of diameter 12."""
    radii, wide = [0, 0.5, 1.5, 6.0], 6.0
    heights = [-slender - 12, -slender - 1.5, -slender, 0, 1.5, 8]

    def patch(i, k, side):
        return {(0, "-z"): "outlet", (4, "+z"): "inlet"}.get((k, side), "walls")
    mesh(case, 1, radii, heights, lambda i, k: (i == 0 or k != 2) and "all", patch,
         [(cells, 1), (int(1.3 * cells), 2.5), (cells, 8)],
         [(2 * cells, 1 / 8), (int(1.6 * cells), 1 / 4), (max(4, int(2 * cells * slender)), 1),
          (int(1.6 * cells), 4), (cells, 8)])
    speed = 0.25 / wide ** 2
    field(case, "U", "volVectorField", "[0 1 -1 0 0 0 0]", "(0 0 0)", {
        "inlet": f"type fixedValue; value uniform (0 0 {-speed:.9g});",
        "outlet": "type pressureInletOutletVelocity; value uniform (0 0 0);",
        "walls": "type noSlip;"})
    field(case, "p", "volScalarField", "[0 2 -2 0 0 0 0]", "0", {
        "inlet": "type zeroGradient;", "outlet": "type fixedValue; value uniform 0;",
        "walls": "type zeroGradient;"})
    put(case, "constant/transportProperties", f"transportModel Newtonian; nu {1 / reynolds:.9g};\n")
    put(case, "constant/turbulenceProperties", "simulationType laminar;\n")
    put(case, "system/controlDict",
        "application simpleFoam; startFrom startTime; startTime 0; stopAt endTime; endTime 1200; "
        "deltaT 1; writeControl timeStep; writeInterval 100000; functions {\n"
        + average("inlet", "inlet", "patch", "p", "areaAverage",
                  "writeControl timeStep; writeInterval 50;") + "}\n")
    schemes(case, "steadyState", "default none; div(phi,U) bounded Gauss linearUpwind grad(U); "
            "div((nuEff*dev2(T(grad(U))))) Gauss linear;")
    put(case, "system/fvSolution",
        "solvers { p { solver GAMG; smoother GaussSeidel; tolerance 1e-10; relTol 0.02; }\n"
        "U { solver smoothSolver; smoother symGaussSeidel; tolerance 1e-11; relTol 0.02; } }\n"
        "SIMPLE { consistent yes; nNonOrthogonalCorrectors 0; residualControl { p 1e-7; U 1e-7; } }\n"
        "relaxationFactors { equations { U 0.9; } fields { p 1.0; } }\n")
    run(case, "blockMesh", "simpleFoam")
    found = rows(case, "inlet")
    loss = 2 * found[-1][1] + speed ** 2
    print(f"L/D {slender:g}, Re {reynolds:g}: {loss:.4g} dynamic pressures "
          f"({2 * found[-2][1] + speed ** 2:.4g} 50 steps before)")


# ---- a jet into air --------------------------------------------------------------------------

def into_air(case, bore, viscosity, fine=1.0, end=0.25):
    """A tank, 30 mm high and full to 28, with a vent of 4 mm in its roof. mm."""
    radii, heights = [0, 2, 6, 12], [-bore - 6, -bore, 0, 4, 10, 30, 32]

    def zone(i, k):
        return "tank" if k in (2, 3, 4) else (i == 0 or (i == 1 and k == 0)) and "rest"

    def patch(i, k, side):
        if k == 5 and side == "+z":
            return "vent"
        return "below" if k == 0 and side in ("-z", "+r") else "walls"

    def count(length, size):
        return max(1, round(length * fine / size))
    sizes = [0.4, 0.25, 0.33, 0.6, 1.0, 1.0]
    mesh(case, 0.001, radii, heights, zone, patch,
         [(count(2, 0.25), 1), (count(4, 0.4), 1), (count(6, 1.0), 1)],
         [(count(b - a, s), 1) for a, b, s in zip(heights, heights[1:], sizes)])
    opened = ("vent", "below")
    field(case, "alpha.liquid", "volScalarField", "[0 0 0 0 0 0 0]", "0", {
        "walls": "type zeroGradient;",
        **{p: "type inletOutlet; inletValue uniform 0; value uniform 0;" for p in opened}})
    field(case, "U", "volVectorField", "[0 1 -1 0 0 0 0]", "(0 0 0)", {
        "walls": "type noSlip;",
        **{p: "type pressureInletOutletVelocity; value uniform (0 0 0);" for p in opened}})
    field(case, "p_rgh", "volScalarField", "[1 -1 -2 0 0 0 0]", "0", {
        "walls": "type fixedFluxPressure; value uniform 0;",
        **{p: "type totalPressure; p0 uniform 0; value uniform 0;" for p in opened}})
    put(case, "constant/g", f"dimensions [0 1 -2 0 0 0 0]; value (0 0 {-G});\n",
        "uniformDimensionedVectorField")
    put(case, "constant/turbulenceProperties", "simulationType laminar;\n")
    put(case, "constant/transportProperties",
        f"phases (liquid air);\nliquid {{ transportModel Newtonian; nu {viscosity / 1100:.9g}; "
        f"rho 1100; }}\nair {{ transportModel Newtonian; nu {1e-3 / 1.2:.9g}; rho 1.2; }}\n"
        "sigma 0;\n")
    put(case, "system/controlDict",
        f"application interFoam; startFrom startTime; startTime 0; stopAt endTime; endTime {end}; "
        f"deltaT 1e-5; writeControl adjustableRunTime; writeInterval {end}; adjustTimeStep yes; "
        "maxCo 0.6; maxAlphaCo 0.6; maxDeltaT 4e-3; functions {\n"
        + average("tank", "tank", "zone", "alpha.liquid", "volIntegrate",
                  f"writeControl adjustableRunTime; writeInterval {end / 20};") + "}\n")
    schemes(case, "Euler", "div(rhoPhi,U) Gauss linearUpwind grad(U); div(phi,alpha) Gauss vanLeer; "
            "div(phirb,alpha) Gauss linear; div(((rho*nuEff)*dev2(T(grad(U))))) Gauss linear;")
    put(case, "system/fvSolution", f"""solvers
{{
"alpha.liquid.*" {{ nAlphaCorr 2; nAlphaSubCycles 1; cAlpha 1; MULESCorr yes; nLimiterIter 5;
    solver smoothSolver; smoother symGaussSeidel; tolerance 1e-9; relTol 0; }}
"pcorr.*" {{ solver PCG; preconditioner DIC; tolerance 1e-5; relTol 0; }}
p_rgh {{ solver PCG; preconditioner DIC; tolerance 1e-7; relTol 0.01; }}
p_rghFinal {{ solver PCG; preconditioner DIC; tolerance 2e-8; relTol 0; }}
"U.*" {{ solver smoothSolver; smoother symGaussSeidel; tolerance 1e-7; relTol 0; }}
}}
PIMPLE {{ nOuterCorrectors {2 if viscosity > 0.3 else 1}; nCorrectors 2; nNonOrthogonalCorrectors 0;
    pRefCell 0; pRefValue 0; }}
""")
    box = f"boxToCell {{ box (-1 -1 {-bore * 1e-3}) (%g 1 %g); fieldValues (volScalarFieldValue " \
          "alpha.liquid 1); }\n"
    put(case, "system/setFieldsDict", "defaultFieldValues (volScalarFieldValue alpha.liquid 0);\n"
        "regions (\n" + box % (1.9999e-3, 1e-6) + box.replace(f"{-bore * 1e-3}", "0") % (1, 28e-3)
        + ");\n")
    run(case, "blockMesh", "setFields", "interFoam")
    report(rows(case, "tank"))


def report(found):
    """What leaves the tank through its floor."""
    whole = math.pi / HALF_ANGLE * 1e9  # of the wedge's volume, in mm3
    for (t, v), (t2, v2) in zip(found, found[1:]):
        level = 0.5 * (v + v2) * whole / (math.pi * 144)
        print(f"level {level:.2f} mm over the floor: {(v - v2) * whole / (t2 - t):.0f} mm3/s")


if __name__ == "__main__":
    if len(sys.argv) != 5 or sys.argv[2] not in ("air", "immersed"):
        sys.exit(__doc__)
    sum_of = into_air if sys.argv[2] == "air" else immersed
    sum_of(sys.argv[1], float(sys.argv[3]), float(sys.argv[4]))
