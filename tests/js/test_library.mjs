// SPDX-License-Identifier: MIT
// The library in node against the native one (its figures come in VUG_NATIVE, made by native.py).
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { CONSTANTS, VugError, load } from "../../bindings/js/vug.js";
import { CALLS } from "../../bindings/js/raw.js";
import { near, rows } from "./compare.mjs";

const native = JSON.parse(readFileSync(process.env.VUG_NATIVE));
const bytes = readFileSync(process.env.VUG_WASM);
const gourd = readFileSync(process.env.VUG_SRCDIR + "/examples/gourd.stl");
const vug = await load(bytes);
const mesh = vug.mesh(gourd, "gourd.stl");
const cavities = mesh.cavities({ holes: native.second });

test("the module exports every call, and asks its host for nothing but progress, memory, a clock and sums of Math", () => {
    for (const name of CALLS)
        assert.equal(typeof vug.raw[name], "function", name);
    const names = WebAssembly.Module.imports(new WebAssembly.Module(bytes)).map(({ module, name }) => [module, name]);
    const known = ["vug_js_progress", "emscripten_notify_memory_growth"];
    for (const [module, name] of names)
        assert.ok(module === "wasi_snapshot_preview1" || (module === "Math" && name in Math) || known.includes(name) || /^_*sys/.test(name),
            `${module}.${name}`);
});

test("part, cavity and openings", () => {
    near(mesh.measure(), native.measures, "measures");
    assert.equal(cavities.count, 1);
    near(cavities.get(0), native.cavity, "cavity");
    assert.equal(cavities.openingCount, native.openings.length);
    native.openings.forEach((wanted, i) => near(cavities.opening(i), wanted, `opening ${i}`));
    assert.equal(cavities.opening(1).letter, "B");
    const bare = mesh.cavities(), again = bare.withBores(native.second);
    native.openings.forEach((wanted, i) => near(again.opening(1 - i), wanted, `opening ${i}, as withBores has it: the new one last`));
    near(again.get(0).volume_mm3, native.cavity.volume_mm3, "volume of withBores");
    assert.equal(bare.openingCount, 1);
    assert.throws(() => bare.withBores([[100, 0, 0, 0, 0, 1, 1]]), /no wall/);
    again.free();
    bare.free();
    const inside = cavities.mesh(0);
    assert.equal(inside.triangles.length, 3 * inside.tags.length);
    assert.ok(inside.tags.includes(1) && !inside.tags.includes(0), "the hole has a cap, the bore to come none");
    near(mesh.vertices.length, 3 * native.measures.vertices, "vertices");
});

test("pockets and scan", () => {
    native.pockets.forEach(([capacity, trapped, list], k) => {
        const p = cavities.pockets(native.ups[k], { columns_across: 90 });
        near([p.capacity_mm3, p.trapped_mm3], [capacity, trapped], `pose ${k}`);
        near(Array.from({ length: p.count }, (_, i) => p.get(i)), list, `pose ${k} pockets`);
        near(Array.from(p.levels(native.points.flat())), native.pocket_levels[k], `levels ${k}`);
        p.free();
        assert.throws(() => p.count, TypeError);
    });
    near(cavities.pockets(native.ups[1], { roles: [4, 0], columns_across: 90 }).trapped_mm3, native.sealed, "sealed");
    const scan = cavities.scan({ pose_count: 60, columns_across: 60 });
    near(Array.from(scan.trapped_mm3), native.scan[0], "scan");
    assert.equal(scan.best, native.scan[1]);
    near(Array.from(scan.ups), Array.from(vug.spherePoints(60)), "ups", 0);
});

test("fill and drain", () => {
    const fill = cavities.fill(native.ups[2], { columns_across: 80 });
    near(fill.info, native.fill, "fill");
    near(fill.events, native.events, "events");
    near(rows(fill.curve(), 3), native.curve, "curve");
    const half = fill.atVolume(0.5 * fill.info.liquid_mm3);
    near(half.info, native.half, "half");
    near(half.pool(0), native.pool, "pool");
    near(Array.from(half.levels(native.points.flat())), native.levels, "levels");
    assert.ok(half.surface().triangles.length > 0);
    const pool = half.poolMesh(0).measure();
    assert.equal(pool.closed, 1);
    near(pool.volume_mm3, native.pool.volume_mm3, "the pool's mesh", 0.02);
    const air = cavities.pockets(native.ups[0], { columns_across: 90 }), told = air.get(0), shown = air.pocketMesh(0);
    assert.ok(Math.abs(shown.measure().volume_mm3 - told.volume_mm3) <= told.volume_error_mm3 + 0.02 * told.volume_mm3);
    const origin = Array.from(shown.vertices.subarray(0, 3));
    assert.deepEqual(Array.from(shown.verticesFloat(origin).subarray(0, 3)), [0, 0, 0]);
    near(cavities.drain(native.ups[0], { columns_across: 80 }).info, native.drain, "drain");
    // A fill in time iterates to a tolerance: what it comes to agrees to 1e-6.
    near(cavities.fill(native.ups[1], { fluid: { consistency_pa_sn: 0.5 }, rate_mm3_s: 200, viscous: 1,
        columns_across: 40 }).info, native.viscous, "viscous", 1e-6);
});

test("skin: what a fill wets of it", () => {
    const skin = cavities.skin(), fill = cavities.fill(native.ups[2], { columns_across: 80 });
    skin.wet(undefined, fill);
    near(skin.info, native.skin, "skin");
    assert.equal(skin.triangles().length, 4 * cavities.mesh(0).tags.length);
    near(rows(skin.triangles(), 4), native.skin_triangles, "skin triangles");
    near(rows(skin.spots(), 5), native.skin_spots, "bare spots");
});

test("plan: figures, steps and words", () => {
    const plan = cavities.plan({ columns_across: 60, verify_across: 80, pose_count: 48 });
    near(plan.get(0), native.plan, "plan");
    near(plan.steps(), native.steps, "steps");
    assert.equal(plan.text(), native.text);
    near(vug.fluid("craft acrylic"), native.craft, "craft acrylic");
    assert.throws(() => vug.fluid("soup"), /craft acrylic/);
    assert.ok(plan.cautions().length > 0);
    assert.ok(plan.cavities().openingCount >= 2);
});

test("errors have the library's own message", () => {
    const failed = (work) => {
        try {
            work();
        } catch (error) {
            assert.ok(error instanceof VugError, String(error));
            return error;
        }
        return assert.fail("no error");
    };
    const short = failed(() => vug.mesh(gourd.subarray(0, 100), "short.stl"));
    assert.equal(short.code, "VUG_ERR_FORMAT");
    assert.match(short.message, /short\.stl/);
    assert.equal(vug.feature("3mf"), false);
    const zip = readFileSync(process.env.VUG_SRCDIR + "/tests/data/bb16.3mf");
    assert.equal(failed(() => vug.mesh(zip, "bb16.3mf")).status, CONSTANTS.VUG_ERR_UNSUPPORTED);
    assert.equal(failed(() => cavities.get(7)).status, CONSTANTS.VUG_ERR_NOT_FOUND);
    assert.match(failed(() => cavities.pockets([0, 0, 0])).message, /up/);
    assert.throws(() => cavities.pockets([0, 0, 1], { columns: 3 }), /columns_across/);
});

test("progress is told at most 20 times a second, and cancels", () => {
    let calls = 0, last = 0;
    vug.progress = (fraction, stage) => {
        calls++;
        assert.ok(fraction >= last && stage.length > 0);
        last = fraction;
    };
    const start = Date.now();
    cavities.scan({ pose_count: 300, columns_across: 60 }).free();
    assert.ok(calls > 0 && calls <= 2 + (Date.now() - start) / 50, `${calls} calls`);
    assert.equal(last, 1);
    vug.progress = () => true;
    assert.throws(() => cavities.scan({ pose_count: 300 }), { code: "VUG_ERR_CANCELLED" });
    vug.progress = () => { throw new RangeError("mine"); };
    assert.throws(() => cavities.scan({ pose_count: 300 }), RangeError);
    vug.progress = null;
    vug.cancelFlag = new Int32Array(new SharedArrayBuffer(4));
    cavities.scan({ pose_count: 10, columns_across: 20 }).free();
    vug.cancelFlag[0] = 1;
    assert.throws(() => cavities.scan({ pose_count: 10 }), { code: "VUG_ERR_CANCELLED" });
    vug.cancelFlag = null;
});

test("what is freed is given back", () => {
    const use = () => {
        for (let i = 0; i < 40; i++)
            cavities.pockets([0, 0, 1], { columns_across: 100 }).free();
        return vug.raw.memory.buffer.byteLength;
    };
    const once = use();
    use();
    assert.equal(use(), once);
});
