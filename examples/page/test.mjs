// SPDX-License-Identifier: MIT
// The page in a browser without a screen: node test.mjs PAGE.html PART.stl PICTURES-FOLDER
// It opens from file:// without a complaint, and shows for each pose the air that the native library says.
import { chromium } from "playwright-core";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [page_file, stl, pictures] = process.argv.slice(2);
let part = stl;
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"] });
const page = await browser.newPage({ viewport: { width: 1280, height: 860 } });
const complaints = [];
page.on("console", (m) => ["error", "warning"].includes(m.type()) && !/GPU stall|GL Driver/.test(m.text()) && complaints.push(m.text()));
page.on("pageerror", (error) => complaints.push(String(error)));
page.on("request", (r) => !/^(file|blob|data):/.test(r.url()) && complaints.push(`asks the network for ${r.url()}`));
const told = () => page.evaluate(() => ({ ...document.documentElement.dataset }));
const settled = async (columns = "280") => {
    await page.waitForFunction((c) => document.documentElement.dataset.rest === "yes" && document.documentElement.dataset.columns === c,
        columns, { timeout: 120000 });
    return told();
};

// What the native library says of that part in that pose, with as many columns.
function native(up, columns, holes) {
    const code = `import json, sys, vug; c = vug.Mesh.load(sys.argv[1]).cavities(json.loads(sys.argv[4]))
print(repr(c.pockets([float(x) for x in sys.argv[2].split()], columns_across=int(sys.argv[3])).trapped_mm3))`;
    return Number(execFileSync(process.env.PYTHON3 || "python3", ["-c", code, part, up, String(columns), holes]));
}

function same(now, where) {
    const wanted = native(now.up, now.columns, now.holes), got = Number(now.air);
    console.log(`${where}: up ${now.up.split(" ").map((x) => (+x).toFixed(3)).join(" ")}: ${got.toFixed(3)} mm3, native ${wanted.toFixed(3)}`);
    assert.ok(Math.abs(got - wanted) <= 1e-9 * Math.max(1, wanted), where);
    return got;
}

// What is left when isopropanol has run out of it in that pose for a share of the time, natively.
function drained(up, columns, holes, share) {
    const code = `import json, sys, vug; c = vug.Mesh.load(sys.argv[1]).cavities(json.loads(sys.argv[4]))
d = c.drain([float(x) for x in sys.argv[2].split()], fluid=vug.liquid("isopropanol"), columns_across=int(sys.argv[3]))
m = d.at_time(float(sys.argv[5]) * d.info.time_s)
print(repr([d.info.time_s, m.info.liquid_mm3]))`;
    return JSON.parse(execFileSync(process.env.PYTHON3 || "python3", ["-c", code, part, up, String(columns), holes, String(share)]));
}

// Where the map is clicked the part is held so, and what it says there, in words and by its colour, lies between what
// the native scan says of the three poses next to it.
const scanned = (holes) => JSON.parse(execFileSync(process.env.PYTHON3 || "python3", ["-c", `import json, sys, vug
c = vug.Mesh.load(sys.argv[1]).cavities(json.loads(sys.argv[2])); s = c.scan(pose_count=1500, columns_across=70)
print(json.dumps([c.info(0).volume_mm3, s.ups.tolist(), s.trapped_mm3.tolist()]))`, part, holes]));
async function mapAgrees() {
    const [capacity, ups, air] = scanned((await told()).holes), globe = page.locator("#globe"), wide = (await globe.boundingBox()).width;
    const around = (up) => {
        const near = [...ups.keys()].sort((a, b) => dot(ups[b], up) - dot(ups[a], up)).slice(0, 3).map((i) => air[i] / capacity);
        return [Math.min(...near) - 1e-9, Math.max(...near) + 1e-9];
    };
    for (const [x, y] of [[0.25, 0.5], [0.16, 0.36], [0.31, 0.7], [0.75, 0.5], [0.68, 0.62], [0.84, 0.4]]) {
        await globe.click({ position: { x: x * wide, y: y * wide * 330 / 640 } });
        await settled();
        const { up, mapped } = await told(), [low, high] = around(up.split(" ").map(Number));
        console.log(`map at ${x} ${y}: ${(100 * mapped).toFixed(2)} %, scan ${(100 * low).toFixed(2)} to ${(100 * high).toFixed(2)} %`);
        assert.ok(mapped >= low && mapped <= high);
    }
    // Its colours, by Lambert's azimuthal projection (Snyder, Map projections, 1987, equation 24): the distance from the middle is
    // 2 sin(c / 2) for an angle c, sqrt(2) at the edge.
    const legend = await page.locator("#legend li").evaluateAll((list) => list.map((li) => [li.firstChild.style.background, li.textContent]));
    const limit = (i) => (i < 0 ? 0 : i > 5 ? 1 : parseFloat(legend[i][1].match(/[0-9.]+/)[0]) / 100);
    const pixels = [-1, 1].flatMap((half) => Array.from({ length: 121 }, (_, n) => [320 + half * 160 + 20 * (n % 11 - 5), 165 + 20 * (Math.floor(n / 11) - 5), -half]))
        .map(([px, py, side]) => [px, py, side, Math.hypot(px + 0.5 - (side > 0 ? 160 : 480), py + 0.5 - 165) / 126]).filter(([, , , far]) => far < 0.97);
    const colours = await globe.evaluate((c, list) => {
        const { data } = c.getContext("2d").getImageData(0, 0, c.width, c.height), at = (x, y) => 4 * (y * c.width + x);
        return list.map(([x, y]) => `rgb(${[...data.subarray(at(x, y), at(x, y) + 3)].join(", ")})`);
    }, pixels);
    let seen = 0;
    for (const [n, [px, py, side, far]] of pixels.entries()) {
        const c = 2 * Math.asin(far / Math.SQRT2), turn = Math.atan2(165 - py - 0.5, px + 0.5 - (side > 0 ? 160 : 480));
        const [low, high] = around([side * Math.sin(c) * Math.cos(turn), Math.sin(c) * Math.sin(turn), side * Math.cos(c)]);
        const at = legend.findIndex(([colour]) => colour === colours[n]);
        if (at < 0) // the mark of the pose is drawn over it
            continue;
        seen++;
        assert.ok(limit(at - 1) <= high && limit(at) >= low, `${px} ${py} is ${legend[at][1]}, scan ${low} to ${high}`);
    }
    console.log(`map: ${seen} of ${pixels.length} places have the scan's colour`);
    assert.ok(seen > 0.9 * pixels.length);
}
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

// All by keys: each thing has its turn and a name, and does what it is for.
async function byKeys() {
    await page.evaluate(() => { document.activeElement.blur(); getSelection().removeAllRanges(); scrollTo(0, 0); });
    const passed = [], wanted = ["file", "view", "play", "share", "run", "drained", "wide", "try", "try-top", "globe", "paint", "make", "back", "next", "text"];
    const to = async (id) => {
        for (let i = 0; i < 60; i++) {
            const now = await page.evaluate(() => document.activeElement.id);
            passed.push(now);
            if (now === id)
                return;
            await page.keyboard.press("Tab");
        }
        assert.fail(`the Tab key does not lead to ${id}: ${passed}`);
    };
    for (const id of wanted)
        if (await page.isVisible(`#${id}:not(:disabled)`) || id === "file")
            await to(id);
    for (const [id, key] of [["view", "ArrowRight"], ["globe", "ArrowDown"]]) {
        const { up } = await told();
        await to(id);
        await page.keyboard.press(key);
        await page.waitForFunction((old) => document.documentElement.dataset.up !== old, up, { timeout: 60000 });
        await settled();
    }
    await to("share");
    await page.keyboard.press("ArrowLeft");
    assert.ok((await settled("110")).inside > 0 && await page.inputValue("#share") === "99");
    await page.keyboard.press("ArrowRight");
    await settled();
    const { air } = await told();
    await page.locator("#openings input").first().focus();
    for (let i = 0; i < await page.locator("#openings input").count(); i++) {
        await page.keyboard.press(" ");
        await page.keyboard.press("Tab");
    }
    assert.notEqual((await settled()).air, air);
    const nameless = await page.evaluate(() => [...document.querySelectorAll("canvas, svg, img, input, select, button, progress")]
        .filter((e) => !(e.getAttribute("aria-label") || e.getAttribute("alt") || e.labels?.length || e.textContent.trim()) && e.id !== "curves").map((e) => e.outerHTML));
    assert.deepEqual(nameless, []);
}

// Nothing of it lies beside a phone's screen or beside its frame, and nothing to press is too small for a finger (24 px: WCAG 2.2, 2.5.8).
async function fitsPhone() {
    const [wide, beside, small] = await page.evaluate(() => [document.scrollingElement.scrollWidth,
        [...document.querySelectorAll("#side section *")].filter((e) => e.checkVisibility() && !e.closest(".hidden")
            && e.getBoundingClientRect().right > e.closest("section").getBoundingClientRect().right).map((e) => e.outerHTML),
        [...document.querySelectorAll("button, select, .button, input[type=number]")].filter((e) => e.checkVisibility())
            .map((e) => [e.id, e.getBoundingClientRect()]).filter(([, r]) => r.width < 24 || r.height < 24 || r.right > innerWidth).map(([id]) => id)]);
    assert.ok(wide <= 390, `${wide} px wide`);
    assert.deepEqual(beside, []);
    assert.deepEqual(small, []);
}

// What is inside, each time it is told, from a click on a button of the plan until it was told so often or all rests.
const moving = (button, often = 1e9) => page.evaluate(([id, most]) => new Promise((done) => {
    const root = document.documentElement, seen = [];
    new MutationObserver((changes, observer) => {
        if (changes.some((c) => c.attributeName === "data-inside"))
            seen.push(Number(root.dataset.inside));
        if (seen.length >= most || (root.dataset.rest === "yes" && root.dataset.columns === "plan")) {
            observer.disconnect();
            done(seen);
        }
    }).observe(root, { attributes: true, attributeFilter: ["data-inside", "data-rest"] });
    document.getElementById(id).click();
}), [button, often]);

// Each step shows the liquid and the air that its words tell, not those of its pose alone; the last page the skin, as the
// plan has it.
const capacity = Number(execFileSync(process.env.PYTHON3 || "python3", ["-c",
    "import sys, vug; print(vug.Mesh.load(sys.argv[1]).cavities().info(0).volume_mm3)", part]));
async function stepsAgree() {
    let before = capacity;
    for (; /^Wash/.test(await page.textContent("#step-number")); await page.click("#next")) {
        const { inside } = await settled("plan"), words = await page.textContent("#step");
        const said = [...words.matchAll(/([0-9.]+) mL run out|draw ([0-9.]+) mL out/g)].map((m) => m[1] || m[2]); // by itself; by hand
        const step = (s) => (/\.\d\d/.test(s) ? 0.05 : 10 ** -(s.split(".")[1] || "").length); // below 1 mL as syringes are marked
        const unit = said.reduce((sum, s) => sum + step(s), 0), told = said.reduce((sum, s) => sum + Number(s), 0);
        console.log(`${await page.textContent("#step-number")}: ${((before - inside) / 1000).toFixed(3)} mL come out as shown, ${said.join(" and ")} told`);
        assert.ok(said.length > 0 && Math.abs((before - inside) / 1000 - told) <= 0.51 * unit);
        before = inside;
    }
    while (await page.textContent("#step-number") !== "Behind the skin") {
        const { air } = await settled("plan"), words = await page.textContent("#step");
        const said = words.match(/Air inside now: .*\(([0-9.]+) %\)/)[1], unit = 10 ** -(said.split(".")[1] || "").length;
        console.log(`${await page.textContent("#step-number")}: ${(100 * air / capacity).toFixed(2)} % shown, ${said} % told`);
        assert.ok(Math.abs(100 * air / capacity - Number(said)) <= 0.51 * unit);
        await page.click("#next");
    }
    await page.waitForFunction(() => document.documentElement.dataset.skin, null, { timeout: 120000 });
    const [planned, shown] = JSON.parse((await told()).skin), words = await page.textContent("#step");
    for (const [key, said] of [["backed_mm2", /([0-9.]+) % has [a-z ]+ behind/], ["filmed_mm2", /([0-9.]+) % a film/], ["bare_mm2", /([0-9.]+) % is bare/]]) {
        assert.ok(Math.abs(shown[key] - planned[key]) <= 1e-6 * planned.area_mm2, key);
        if (/^All of the skin/.test(words)) { // but for what nobody finds
            assert.ok(key === "backed_mm2" || shown[key] < 1e-3 * planned.area_mm2, key);
            continue;
        }
        const figure = words.match(said)[1], unit = 10 ** -(figure.split(".")[1] || "").length;
        console.log(`skin: ${key} ${shown[key].toFixed(2)}, planned ${planned[key].toFixed(2)}, ${figure} % told`);
        assert.ok(Math.abs(100 * shown[key] / planned.area_mm2 - Number(figure)) <= 0.51 * unit, key);
    }
    assert.ok(await page.isVisible("#behind-key") && await page.isHidden("#key"));
}

await page.goto(pathToFileURL(page_file).href);
await page.screenshot({ path: `${pictures}/empty.png` });
await page.setInputFiles("#file", part);
const upright = same(await settled(), "upright");

// The mouse
await page.mouse.move(400, 400);
await page.mouse.down();
for (let i = 1; i <= 12; i++)
    await page.mouse.move(400 + 9 * i, 400 + 14 * i);
await page.mouse.up();
const turned = same(await settled(), "turned by the mouse");
assert.notEqual(turned, upright);

// The keyboard
await page.focus("#view");
for (let i = 0; i < 9; i++)
    await page.keyboard.press("ArrowUp");
same(await settled(), "turned by keys");
await page.waitForFunction(() => document.documentElement.dataset.map === "done", null, { timeout: 240000 });
await page.screenshot({ path: `${pictures}/turned.png` });

// How fast it follows: frames and answered poses in two seconds of turning, what a pose at 140 columns takes in the worker,
// and what each frame takes of the page's own thread. Frames are told, not judged, as pixels are drawn without a graphics
// card here; the page's work is, by what the C library takes for the same poses on this machine.
const cdp = await page.context().newCDPSession(page);
await cdp.send("Performance.enable", { timeDomain: "threadTicks" }); // the thread's own time, not what it waits for others
const busy = async () => {
    const of = Object.fromEntries((await cdp.send("Performance.getMetrics")).metrics.map(({ name, value }) => [name, value]));
    return 1000 * (of.ScriptDuration + of.LayoutDuration + of.RecalcStyleDuration);
};
async function turning() {
    const before = await busy();
    const { frames, poses, ms, whole } = await page.evaluate(async () => {
        const data = document.documentElement.dataset, took = [], view = document.getElementById("view"), start = performance.now();
        let frames = 0, last = data.up;
        while (performance.now() < start + 2000 || (took.length < 3 && performance.now() < start + 60000)) {
            view.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft", shiftKey: true }));
            await new Promise(requestAnimationFrame);
            frames++;
            if (data.up !== last && data.columns === "140")
                took.push(Number(data.ms));
            last = data.up;
        }
        return { frames, poses: took.length, ms: took.sort((a, b) => a - b)[took.length >> 1], whole: (performance.now() - start) / 1000 };
    });
    return { frames: frames / whole, poses: poses / whole, ms, own: (await busy() - before) / frames };
}
// The middle of what some poses and their levels take in C, on one thread, ms.
const inC = () => Number(execFileSync(process.env.PYTHON3 || "python3", ["-c", `import sys, time, math, vug
c = vug.Mesh.load(sys.argv[1]).cavities(); points = c.mesh(0).vertices; took = []
for i in range(25):
    start = time.perf_counter(); c.pockets([math.sin(0.1 * i), 0.3, math.cos(0.1 * i)], columns_across=140).levels(points)
    took.append(time.perf_counter() - start)
print(1000 * sorted(took)[12])`, part], { env: { ...process.env, OMP_NUM_THREADS: "1" } }));
await turning(); // it learns how many pixels it can draw
const speed = await turning();
await page.setViewportSize({ width: 1280, height: 120 }); // hardly a pixel to draw
const idle = await turning();
await page.setViewportSize({ width: 1280, height: 860 });
const native_ms = inC(), frame_ms = idle.ms + idle.own;
console.log(`benchmark: ${speed.frames.toFixed(1)} frames and ${speed.poses.toFixed(1)} poses a second while it turns, ${idle.frames.toFixed(1)} frames where `
    + `there is hardly a pixel to draw; a pose ${idle.ms.toFixed(1)} ms in the worker (in C ${native_ms.toFixed(1)}), a frame ${idle.own.toFixed(1)} ms of the page's own `
    + `thread (aims: 30 frames, a pose in 16 ms, both together in 33)`);
assert.ok(speed.poses > 0 && frame_ms <= 5 * native_ms, `${frame_ms} ms a frame, the library takes ${native_ms}`);
console.log(`benchmark: ${Number((await settled()).ms).toFixed(1)} ms a pose of 280 columns, once the hand rests`);

// The latest pose wins: of 60 that come while the worker looks at one, none but the last is looked at, then finely.
const answered = await page.evaluate(() => new Promise((done) => {
    const root = document.documentElement, view = document.getElementById("view"), seen = [];
    new MutationObserver((changes, observer) => {
        if (changes.some((c) => c.attributeName === "data-up"))
            seen.push([root.dataset.up, root.dataset.columns]);
        if (root.dataset.rest === "yes") {
            observer.disconnect();
            done(seen);
        }
    }).observe(root, { attributes: true, attributeFilter: ["data-up", "data-rest"] });
    for (let i = 0; i < 60; i++)
        view.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowUp", shiftKey: true }));
}));
console.log(`60 poses at once: ${answered.length} answered`);
assert.ok(answered.length >= 2 && answered.length <= 3 && answered.at(-1)[1] === "280", `${answered}`); // a slow one rests before the second
assert.ok(answered.slice(1).every(([up]) => up === answered.at(-1)[0] && up !== answered[0][0]), `${answered}`);
same(await settled(), "the latest of 60");

// A new hole over the most air lets air out; taken back, all is as before.
await page.keyboard.press("Home");
const before = same(await settled(), "before a hole");
await page.click("#try-top");
const vented = same(await settled(), "with a new hole");
assert.ok(vented < before - 50, `${vented} mm3 with a hole, ${before} without`);
await page.screenshot({ path: `${pictures}/vented.png` });
await page.click("#untry");
assert.ok(Math.abs(same(await settled(), "taken back") - before) < 1e-6);

// One where the skin is clicked
await page.click("#try");
const box = await page.locator("#view").boundingBox();
await page.mouse.click(box.x + 0.5 * box.width, box.y + 0.5 * box.height);
await page.waitForFunction(() => JSON.parse(document.documentElement.dataset.holes).length === 1, null, { timeout: 60000 });
assert.ok(same(await settled(), "with a hole by hand") <= before);
assert.equal(await page.locator("#openings tbody tr").count(), 3);
await page.click("#untry");
await settled();

// The map by the mouse, then half poured
await page.locator("#globe").click({ position: { x: 240, y: 60 } });
same(await settled(), "by the map");
await page.locator("#share").fill("45");
const half = await settled("110");
assert.ok(Number(half.air) >= 0);
await page.screenshot({ path: `${pictures}/pouring.png` });
await page.locator("#share").fill("100");
await settled();

await page.waitForFunction(() => document.documentElement.dataset.map === "done", null, { timeout: 240000 });
await mapAgrees();

// Half the time of a drain
await page.locator("#globe").click({ position: { x: 30, y: 80 } });
await page.locator("#drained").fill("50");
const out = await settled("110"), [whole, left] = drained(out.up, out.columns, out.holes, 0.5);
console.log(`drained for ${out.time} of ${whole} s: ${out.inside} mm3, native ${left}`);
assert.ok(whole > 0 && Math.abs(out.time - 0.5 * whole) <= 1e-6 * whole);
assert.ok(left > 0 && Math.abs(out.inside - left) <= 1e-6 * capacity);
await page.waitForFunction(() => !document.getElementById("curves").hasAttribute("hidden"), null, { timeout: 60000 });
const curves = JSON.parse((await told()).curves), amid = curves.rows[12];
assert.equal(curves.run, "drain");
assert.ok(await page.isHidden("#trouble"));
assert.ok(Math.abs(amid.time_s - 0.5 * whole) <= 1e-6 * whole && Math.abs(amid.liquid_mm3 - left) <= 1e-6 * capacity);
assert.ok(curves.rows.every((r, i, all) => i === 0 || r.liquid_mm3 <= all[i - 1].liquid_mm3 + 1e-6));
assert.match(await page.getAttribute("#curves", "aria-label"), /Level that runs out, mm .*Inside, mL.*Runs out, mL\/s/);
assert.equal(await page.locator("#curves .curve").count(), 3);
await page.locator("#curves").scrollIntoViewIfNeeded();
await page.screenshot({ path: `${pictures}/draining.png` });
await page.locator("#drained").fill("0");
await settled();

// The plan, step by step
await page.click("#make");
await page.waitForFunction(() => document.documentElement.dataset.plan === "done", null, { timeout: 400000 });
assert.match(await page.textContent("#text"), /Fill with thinned acrylic/);
const uses = async (one) => assert.ok((await page.locator(".tag").allTextContents()).every((words) => one.test(words)));
assert.match(await page.textContent("#step-number"), /^Wash 1 of/);
assert.match(await page.textContent("#step"), /^Hold/);
await uses(/^[A-Z]+ (out|air|shut|later)$/);
await settled("plan");
await page.click("#next");
await settled("plan");
await moving("back", 3);
await page.screenshot({ path: `${pictures}/running.png` });
await settled("plan");
await page.click("#next");
await settled("plan");
const run = await moving("back"), full = run.indexOf(Math.max(...run)); // full once more, then it runs out
assert.ok(Math.abs(run[full] - capacity) <= 1e-6 * capacity && new Set(run.slice(full)).size > 3, `${run}`);
assert.ok(run.slice(full).every((inside, i, all) => i === 0 || inside <= all[i - 1]), `${run}`);
await stepsAgree();
while (!/^Step 1 of/.test(await page.textContent("#step-number")))
    await page.click("#back");
await page.click("#next");
await settled("plan");
await moving("back", 3);
await uses(/^[A-Z]+ (in|air|shut)$/);
await page.screenshot({ path: `${pictures}/rising.png` });
await stepsAgree();
await page.screenshot({ path: `${pictures}/skin.png` });
await page.setViewportSize({ width: 390, height: 844 });
await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
await page.screenshot({ path: `${pictures}/narrow.png` });
const tags = await page.locator(".tag").evaluateAll((list) => list.map((t) => t.getBoundingClientRect()).map((r) => [r.x + r.width / 2, r.y + r.height / 2]));
assert.ok(tags.length > 1 && tags.every((a, i) => tags.slice(0, i).every((b) => Math.hypot(a[0] - b[0], a[1] - b[1]) > 32)), `letters on each other: ${tags}`);
await fitsPhone();
await page.click("#back"); // what is behind the skin stays as it is when the part is turned
await settled("plan");
await byKeys();
await page.screenshot({ path: `${pictures}/phone.png`, fullPage: true });
assert.deepEqual(complaints, []);

// A page that was written with its part and plan, the part not an STL and half full already
const tools = `${process.env.VUG_BUILDDIR}/examples/tools/`, ply = part.replace(/stl$/, "ply"), own = part.replace(/stl$/, "html");
execFileSync(`${tools}vug-measure`, [part, "--no-cavities", "--save", ply]);
execFileSync(`${tools}vug-plan`, [ply, "--inside-ml", "9", "--held", "upside down, its base straight up", "--air-at", "0,0,60",
    "--liquid", "dyed-epoxy", "--columns", "80", "--poses", "12", "--turns", "1", "--page", own], { env: { ...process.env, VUG_PAGE: page_file } });
await page.setViewportSize({ width: 1280, height: 860 });
await page.goto(pathToFileURL(own).href);
await page.waitForFunction(() => document.documentElement.dataset.plan === "done", null, { timeout: 120000 });
await stepsAgree();
assert.ok(await page.isHidden("#trouble"));
assert.match(await page.textContent("#text"), /dyed epoxy/); // as the library calls it, however it was typed
await page.screenshot({ path: `${pictures}/own.png` });
assert.deepEqual(complaints, []);

// Two parts in one file: twice the cavity, and the pose's air as the native library has it
const two = part.replace(/stl$/, "two.obj");
execFileSync(process.env.PYTHON3 || "python3", ["-c", `import sys, vug; m = vug.Mesh.load(sys.argv[1])
with open(sys.argv[2], "w") as f:
    for n, x in enumerate((0, 150)):
        print("o", n, file=f)
        for v in m.vertices.tolist(): print("v", *(repr(c) for c in (v[0] + x, v[1], v[2])), file=f)
        for t in m.triangles.tolist(): print("f", *(k + 1 + n * len(m.vertices) for k in t), file=f)`, part, two]);
await page.setInputFiles("#file", two);
await page.waitForFunction(() => document.getElementById("name").textContent.endsWith("two.obj"), null, { timeout: 240000 });
part = two;
same(await settled(), "two parts");
assert.equal(parseFloat(await page.textContent("#f-cavity")).toFixed(1), (2 * capacity / 1000).toFixed(1));
await page.screenshot({ path: `${pictures}/two.png` });

// What it cannot open it says
async function refused(name, buffer, says) {
    await page.evaluate(() => { document.getElementById("trouble").textContent = ""; });
    await page.setInputFiles("#file", { name, mimeType: "model/stl", buffer });
    await page.waitForFunction(() => document.getElementById("trouble").textContent, null, { timeout: 60000 });
    const words = await page.textContent("#trouble");
    console.log(words);
    assert.match(words, says);
    assert.ok(await page.isVisible("#trouble") && await page.isVisible("#drop"));
    assert.equal(await page.textContent("#f-cavity"), "–"); // nothing of the part before
    assert.equal(await page.locator(".tag, #openings tbody tr, #best li").count(), 0);
}
await refused("part.stl", Buffer.from("no mesh at all"), /STL/);
await refused("empty.stl", Buffer.alloc(0), /empty\.stl/);
await refused("short.stl", readFileSync(stl).subarray(0, 50000), /short\.stl/);
await refused("broken.ply", Buffer.from("ply\nformat ascii 1.0\nelement vertex 3\n"), /broken\.ply/);
await refused("solid.obj", Buffer.from("v 0 0 0\nv 9 0 0\nv 0 9 0\nv 0 0 9\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n"), /no cavity/);
await refused("bb16.3mf", readFileSync(`${process.env.VUG_SRCDIR}/tests/data/bb16.3mf`), /3MF/);
await page.screenshot({ path: `${pictures}/refused.png` });
await browser.close();
console.log("the page is well");
