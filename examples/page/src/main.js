// SPDX-License-Identifier: MIT
// The page: what the hand does to the part, what the library says of it, and the plan's steps one by one.
import * as THREE from "three";
import { Asker } from "./asker.js";
import { draw as drawCurves } from "./curves.js";
import { Globe, LEGEND } from "./globe.js";
import { View } from "./view.js";

/* global PAGE_WASM, PAGE_WORKER, PLAN_WASM, PLAN_WORKER: put in by build.mjs */
const $ = (id) => document.getElementById(id);
const bytesOf = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
const unpacked = (text) => new Response(new Blob([bytesOf(text)]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
const wasm = unpacked(PAGE_WASM);
const live = new Asker(PAGE_WORKER, wasm), slow = new Asker(PAGE_WORKER, wasm);
let planner = null; // a worker while it makes a plan
const POURING = 1500; // ms that a step's paint takes to rise, or what rinses to run out
const AT_ONCE = 0.25; // of that at most from one picture to the next: slow machines take longer, and show it all the same
const COARSE = 140, FINE = 280, FINGER = 110; // columns while the hand moves, once it rests, while paint is poured
const view = new View($("view"), $("labels"));
const state = { held: null, file: null, roles: null, share: 1, drained: 0, resting: false, swinging: false, busy: false, wanted: null, rest: 0, told: null, plan: null, page: null, at: null, plans: 0, tries: [] };

// ---- what stands beside the part --------------------------------------------------------------------

const BESIDE = 125; // ms: words and figures that change quicker nobody reads, and slow machines draw them slower than the part
const beside = { wanted: new Map(), last: -Infinity, timer: 0 };

/** Writes something beside the part, by its name the latest wins: a few times a second. */
function write(name, how) {
    const wait = beside.last + BESIDE - performance.now();
    beside.wanted.set(name, how);
    if (wait <= 0)
        writeAll();
    else
        beside.timer ||= setTimeout(writeAll, wait);
}

function writeAll() {
    clearTimeout(beside.timer);
    beside.timer = 0;
    beside.last = performance.now();
    for (const how of beside.wanted.values())
        how();
    beside.wanted.clear();
}

/** All is as it stays, until a hand or a button moves something. */
function rest() {
    writeAll();
    document.documentElement.dataset.rest = "yes";
}

// ---- figures, as a person can act on them --------------------------------------------------------

const millilitres = (mm3) => (mm3 < 50 ? "under 0.05 mL" : `${(mm3 / 1000).toFixed(mm3 < 1e4 ? 2 : 1)} mL`);
const seconds = (s) => (s < 120 ? `${s.toFixed(s < 10 ? 1 : 0)} s` : s < 7200 ? `${(s / 60).toFixed(0)} min` : `${(s / 3600).toFixed(0)} h`);
const percent = (share) => (share < 0.001 ? "under 0.1 %" : `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`);

function tell(told) {
    state.told = told;
    write("figures", () => tellFigures(told));
    Object.assign(document.documentElement.dataset, { inside: told.liquid_mm3, time: told.time_s, ms: told.ms, air: told.trapped_mm3,
        columns: told.columns, up: told.up.join(" ") });
}

function tellFigures(told) {
    const { capacity_mm3: capacity, trapped_mm3: air } = told;
    $("f-cavity").textContent = millilitres(capacity);
    const runs = told.residue_mm3 !== undefined, stays = runs ? told.residue_mm3 : air;
    $("key-liquid").textContent = runs ? told.rinse : stuff();
    $("l-paint").textContent = runs ? `Now of ${told.rinse}` : `${capital(stuff())} in`;
    $("f-paint").textContent = millilitres(told.liquid_mm3 === undefined ? capacity - air : told.liquid_mm3);
    $("l-air").textContent = runs ? "Stays behind" : told.step !== undefined ? `Air after step ${told.step + 1}`
        : state.share === 1 ? "Air that stays" : "Air cut off so far";
    $("f-air").textContent = millilitres(stays);
    $("f-share").textContent = stays < 50 ? "" : percent(stays / capacity);
    $("l-pockets").textContent = runs ? "in pools" : "in pockets";
    $("f-pockets").textContent = stays < 50 ? "–" : `${told.count}`;
    $("share-told").textContent = runs ? "all that goes in" : state.share === 1 ? "all that goes in"
        : `${millilitres(told.liquid_mm3)} of ${millilitres(told.whole_mm3)}`;
    $("drained-told").textContent = !runs ? "not yet"
        : told.whole_s < 0 ? "not by itself: draw it out, let air in" : `for ${seconds(told.time_s)} of ${seconds(told.whole_s)}`;
    $("foot").textContent = told.step !== undefined ? "as the plan's steps leave it; turn it by hand to fill it anew"
        : `${told.columns} columns across, ${Math.round(told.ms)} ms`;
}

function trouble(error) {
    if (error && error.code === "VUG_ERR_CANCELLED")
        return;
    $("trouble").hidden = !error;
    $("trouble").textContent = error ? error.message : "";
}

// ---- the pose that is held: the latest wins --------------------------------------------------------

async function follow(columns) {
    if (!state.held)
        return;
    state.wanted = { up: view.up, columns };
    if (state.busy)
        return;
    state.busy = true;
    while (state.wanted) {
        const { up, columns: across } = state.wanted, { held } = state;
        state.wanted = null;
        try {
            const ask = { up, roles: state.roles, columns: across };
            const told = state.drained > 0 ? await live.ask("drain", { ...ask, share: state.drained })
                : state.share < 1 ? await live.ask("pour", { ...ask, share: state.share }) : await live.ask("pose", ask);
            if (state.held !== held) // another part was opened meanwhile
                continue;
            showBehind(null);
            view.levels(up, told.levels);
            tell({ ...told, up, columns: across });
            trouble(null);
        } catch (error) {
            trouble(error);
        }
    }
    state.busy = false;
    if (state.resting)
        rest();
}

/** The course that the sliders walk along, as curves, once they rest; none for what is neither poured nor run out. */
async function curves() {
    const run = state.drained > 0 ? "drain" : state.share < 1 ? "fill" : null, at = run === "drain" ? state.drained : state.share;
    if (!run) {
        $("curves").toggleAttribute("hidden", true);
        return;
    }
    const { held } = state;
    try {
        const told = await live.ask("curves", { run, up: view.up, columns: FINGER, roles: state.roles });
        if (state.held !== held)
            return;
        drawCurves($("curves"), told, at);
        $("curves").toggleAttribute("hidden", false);
        document.documentElement.dataset.curves = JSON.stringify(told);
    } catch (error) {
        trouble(error);
    }
}

/** What is behind the skin, or paint and air again (null), each with its key. */
function showBehind(behind) {
    $("key").hidden = behind !== null;
    $("behind-key").hidden = behind === null;
    $("key-backed").textContent = `${stuff()} behind it`;
    $("key-filmed").textContent = `a film of ${stuff()} (dotted)`;
    if (behind)
        view.behind(behind);
    else
        delete document.documentElement.dataset.skin;
}

/** The pose changed: coarse at once, fine and in words when the hand rests. */
function moved() {
    const still = state.share === 1 && state.drained === 0;
    mark(null);
    write("globe", () => globe.draw(view.up));
    unrest();
    view.move(true);
    follow(still ? COARSE : FINGER);
    write("openings", openings);
    state.rest = setTimeout(() => {
        if (state.swinging)
            return;
        state.resting = true;
        view.move(false);
        follow(still ? FINE : FINGER);
        if (state.held) {
            words();
            curves();
        }
    }, Math.max(180, 2 * view.waited)); // a slow frame is no rest
}

/** The hand turned it: what is behind the skin stays as it is, paint and air follow. */
function turned() {
    if (view.states) {
        write("globe", () => globe.draw(view.up));
        words();
    } else {
        moved();
    }
}

async function words() {
    const { held } = state, said = await live.ask("words", { up: view.up });
    if (state.held === held)
        $("pose").textContent = capital(said.words);
}

/** Something is on the move: what is shown is not what it comes to. */
function unrest() {
    state.resting = false;
    delete document.documentElement.dataset.rest;
    clearTimeout(state.rest);
}

/** What the plan fills it with. */
const stuff = () => state.plan?.paint || $("paint").value;
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** Swings the part to a pose by the shortest way; then: what to do once there, in place of following. */
function swing(up, then) {
    const from = view.turned.quaternion.clone(), to = view.towards(up), start = performance.now();
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const step = () => {
        const t = still ? 1 : Math.min(1, (performance.now() - start) / 600);
        view.turned.quaternion.slerpQuaternions(from, to, t * t * (3 - 2 * t));
        view.draw();
        state.swinging = t < 1;
        if (then)
            write("globe", () => globe.draw(view.up));
        else
            turned();
        if (state.swing !== step)
            return;
        if (t < 1)
            requestAnimationFrame(step);
        else if (then)
            then();
    };
    unrest();
    state.swing = step;
    step();
}

/** The hand takes over from a swing. */
function takeHold() {
    state.swing = null;
    state.swinging = false;
}

const upright = new THREE.Quaternion().setFromEuler(new THREE.Euler(-Math.PI / 2, 0, 0));
const globe = new Globe($("globe"), swing, (share) => {
    $("mapped").textContent = `By the map ${percent(share)} of the cavity stays air as it is held now.`;
    document.documentElement.dataset.mapped = share;
});

// ---- hand and keys ---------------------------------------------------------------------------------

const fingers = new Map();
$("view").addEventListener("pointerdown", (event) => {
    takeHold();
    $("view").setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, event);
});
$("view").addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before)
        return;
    const others = [...fingers.values()].filter((f) => f.pointerId !== event.pointerId);
    fingers.set(event.pointerId, event);
    if (others.length) { // two fingers: nearer and farther, and rolled
        const [o] = others, old = [before.clientX - o.clientX, before.clientY - o.clientY];
        const now = [event.clientX - o.clientX, event.clientY - o.clientY];
        zoom(Math.hypot(...now) / Math.hypot(...old));
        view.turn(0, 0, Math.atan2(old[1], old[0]) - Math.atan2(now[1], now[0]));
    } else {
        const speed = 3.2 / Math.min($("stage").clientWidth, $("stage").clientHeight);
        view.turn((event.clientX - before.clientX) * speed, (event.clientY - before.clientY) * speed);
    }
    turned();
});
for (const end of ["pointerup", "pointercancel"])
    $("view").addEventListener(end, (event) => fingers.delete(event.pointerId));
$("view").addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY / 600));
}, { passive: false });

function zoom(by) {
    view.zoom = Math.min(4, Math.max(0.5, view.zoom * by));
    view.draw();
}

$("view").addEventListener("keydown", (event) => {
    const s = (event.shiftKey ? 1 : 5) * Math.PI / 180;
    const turn = { ArrowLeft: [-s, 0], ArrowRight: [s, 0], ArrowUp: [0, -s], ArrowDown: [0, s], q: [0, 0, s], e: [0, 0, -s] }[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (turn) {
        takeHold();
        view.turn(...turn);
        turned();
    } else if (event.key === "+" || event.key === "-") {
        zoom(event.key === "+" ? 1.15 : 1 / 1.15);
    } else if (event.key === "Home") {
        swing([0, 0, 1]);
    } else {
        return;
    }
    event.preventDefault();
});

// ---- openings --------------------------------------------------------------------------------------

function openings() {
    if (!state.held)
        return;
    const up = view.up, list = state.held.openings;
    const height = list.map((o) => o.center_mm[0] * up[0] + o.center_mm[1] * up[1] + o.center_mm[2] * up[2]);
    const free = list.map((_, i) => !(state.roles && state.roles[i] === 4));
    const top = Math.max(...height.filter((_, i) => free[i]));
    list.forEach((_, i) => {
        const below = top - height[i];
        state.row[i].cells[2].textContent = state.at ? { in: `${stuff()} goes in`, air: state.at.outlet ? "open: air in" : "open: air out", out: "runs out", shut: "covered", later: "not drilled yet" }[useOf(i)] : !free[i] ? "nothing passes"
            : below < 0.5 ? (state.drained > 0 ? "highest: air in" : "highest: air out")
                : state.drained > 0 ? "lower: runs out" : "lower: cover it";
    });
}

/** What an opening is for in the plan's step that is shown: in (paint goes in), out (liquid runs out), air (comes or
 *  leaves), shut, or later (it is drilled once the part is washed). */
function useOf(i) {
    const { feed = [], outlet = [], open } = state.at;
    return feed.some((f) => f.opening === i) ? "in" : outlet.includes(i) ? "out" : open.includes(i) ? "air"
        : state.at.outlet && state.held.openings[i].planned ? "later" : "shut";
}

/** Shows what each opening is for in a step of the plan; null: no step. */
function mark(step) {
    if (state.at === step)
        return;
    state.at = step;
    view.uses(step && state.held.openings.map((_, i) => useOf(i)));
    openings();
}

function listOpenings() {
    const list = state.held.openings, order = [...list.keys()].sort((i, k) => (list[i].letter < list[k].letter ? -1 : 1));
    state.row = [];
    $("openings").tBodies[0].replaceChildren(...order.map((i) => {
        const o = list[i];
        const row = state.row[i] = document.createElement("tr");
        row.innerHTML = `<th scope="row">${o.letter}</th><td>${o.diameter_mm.toFixed(1)} mm</td><td></td><td><input type="checkbox" aria-label="Opening ${o.letter} is plugged"></td>`;
        row.querySelector("input").addEventListener("change", (event) => {
            state.roles = state.roles || list.map(() => 0);
            state.roles[i] = event.target.checked ? 4 : 0;
            moved();
            map();
        });
        return row;
    }));
    if (!list.length)
        $("openings").tBodies[0].innerHTML = "<tr><td colspan=4>none: plan the filling, and it says where to drill</td></tr>";
}

// ---- holes that are tried ----------------------------------------------------------------------------

/** Holes that the part has not: those that were named to it, and those that are tried. */
const holes = (more = []) => [...state.file.holes, ...state.tries, ...more];

/** The part with its holes anew, those of a plan gone. */
async function reopen() {
    unrest();
    state.plan = state.page = null;
    $("text").hidden = $("steps").hidden = true;
    $("untry").hidden = !state.tries.length;
    await show(await live.ask("open", { holes: holes(), own: state.own }), false);
    await slow.ask("open", { holes: holes() });
    await map();
}

async function tryHole(at) {
    if (!state.held || !at)
        return;
    state.tries.push([...at.point, ...at.normal, Math.min(10, Math.max(0.5, Number($("wide").value) || 1.5))]);
    try {
        await reopen();
    } catch (error) {
        state.tries.pop();
        $("untry").hidden = !state.tries.length;
        trouble(error);
    }
}

$("try").addEventListener("click", () => $("try").setAttribute("aria-pressed", $("try").getAttribute("aria-pressed") !== "true"));
$("view").addEventListener("click", (event) => {
    if ($("try").getAttribute("aria-pressed") !== "true")
        return;
    const box = $("view").getBoundingClientRect();
    $("try").setAttribute("aria-pressed", "false");
    tryHole(view.pick((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height));
});
$("try-top").addEventListener("click", () => {
    const [most] = [...(state.told && state.told.pockets || [])].sort((a, b) => b.volume_mm3 - a.volume_mm3);
    if (most)
        tryHole(view.pickAbove(most.top_mm, state.told.up));
});
$("untry").addEventListener("click", () => {
    state.tries.pop();
    reopen().catch(trouble);
});

// ---- pouring ---------------------------------------------------------------------------------------

/** Sets how much is poured in and how long it has run out for; what runs out has been full. */
function slide(poured, drained) {
    $("share").value = poured;
    $("drained").value = drained;
    state.share = poured / 100;
    state.drained = drained / 100;
    moved();
}

/** A button that moves a slider to its end, and stops it on the way. */
function player(button, name, slider, set) {
    button.addEventListener("click", () => {
        const on = button.getAttribute("aria-pressed") !== "true";
        button.setAttribute("aria-pressed", on);
        button.textContent = on ? "Pause" : name;
        if (on && +slider.value === 100)
            slider.value = 0;
        const step = () => {
            if (button.getAttribute("aria-pressed") !== "true")
                return;
            if (!state.busy)
                set(+slider.value + 1);
            if (+slider.value < 100)
                setTimeout(step, 60);
            else
                button.click();
        };
        step();
    });
    slider.addEventListener("input", () => set(+slider.value));
}

player($("play"), "Pour", $("share"), (value) => slide(value, 0));
player($("run"), "Drain", $("drained"), (value) => slide(100, value));

// ---- map -------------------------------------------------------------------------------------------

$("legend").replaceChildren(...LEGEND.map(([colour, words]) => {
    const item = document.createElement("li");
    item.innerHTML = `<span class="swatch" style="background:${colour}"></span>${words}`;
    return item;
}));

async function map() {
    if (!state.held || !state.held.openings.length)
        return;
    const { held } = state, capacity = held.cavities.reduce((sum, c) => sum + c.volume_mm3, 0);
    delete document.documentElement.dataset.map;
    try {
        for (const [poses, columns] of [[300, 40], [1500, 70]]) {
            const scan = await slow.ask("scan", { poses, columns, roles: state.roles });
            if (state.held !== held)
                return;
            globe.show(scan, capacity);
            $("best").replaceChildren(...scan.best.map((b) => {
                const item = document.createElement("li"), button = document.createElement("button");
                button.type = "button";
                button.innerHTML = `<b>${percent(b.trapped_mm3 / capacity)} air</b> ${b.words}`;
                button.addEventListener("click", () => swing(b.up));
                item.append(button);
                return item;
            }));
        }
        document.documentElement.dataset.map = "done";
    } catch (error) {
        trouble(error);
    }
}

// ---- plan ------------------------------------------------------------------------------------------

for (const name of ["thinned acrylic", "craft acrylic", "dyed epoxy", "plaster slip", "water"])
    $("paint").append(new Option(name, name));

$("paint").addEventListener("change", () => state.plan || state.share < 1 || follow(FINE)); // its name is in the figures

$("make").addEventListener("click", async () => {
    if (!state.held)
        return;
    const own = planner = new Asker(PLAN_WORKER, unpacked(PLAN_WASM));
    $("make").disabled = true;
    $("stop").hidden = $("going").hidden = false;
    $("going").value = 0;
    own.told = (fraction, stage) => {
        $("going").value = fraction;
        $("going").textContent = stage;
    };
    try {
        await own.ready;
        await take(await own.ask("plan", { ...state.file, holes: holes(), paint: $("paint").value }));
    } catch (error) {
        trouble(error);
    }
    if (planner === own)
        noPlanner();
});
$("stop").addEventListener("click", noPlanner);

/** Nothing is planned, or no longer. */
function noPlanner() {
    planner?.end();
    planner = null;
    $("make").disabled = false;
    $("stop").hidden = $("going").hidden = true;
}

for (const [button, by] of [["back", -1], ["next", 1]])
    $(button).addEventListener("click", () => goTo(state.plan.pages.indexOf(state.page) + by));

/** The plan's own words for each step below a title, out of its text. */
function stepWords(text, title) {
    const lines = text.split("\n"), from = lines.findIndex((line) => title.test(line)), steps = [];
    for (const line of from < 0 ? [] : lines.slice(from + 1)) {
        if (/^\S/.test(line))
            break;
        const begins = line.match(/^ {1,4}(\d+) +(.*)/);
        if (begins)
            steps.push(begins[2]);
        else if (steps.length && line.trim())
            steps[steps.length - 1] += ` ${line.trim()}`;
    }
    return steps;
}

/** The plan's text, a paragraph a line: titles at the margin, items with their marks before them. */
function paragraphs(text) {
    return text.split("\n").filter((line) => line.trim()).map((line) => {
        const [, blank, mark, words] = line.match(/^( *)(?:(\S{1,3}) +)?(.*)$/), item = document.createElement(blank ? "p" : "h3");
        if (blank && blank.length < 5 && mark) {
            const b = document.createElement("b");
            b.textContent = mark;
            item.append(b, words);
        } else {
            item.textContent = line.trim();
        }
        return item;
    });
}

/** What the plan says of the skin, the largest bare spot with it. */
const skinWords = (text) => (text.match(/(Of the skin, |All of the skin).*(\n +The largest bare spot.*)?/) || [""])[0].replace(/\s+/g, " ");

/** A plan's pages in the order of the work: what: wash, fill or skin, and for a step its words and what is done. */
function pagesOf(plan) {
    const of = (what, title, steps, skipped) => stepWords(plan.text, title).map((words, i, all) => ({ what, words,
        title: `${what === "wash" ? "Wash" : "Step"} ${i + 1} of ${all.length}`, number: skipped + i, step: steps[skipped + i] }))
        .filter((page) => page.step);
    const washes = of("wash", /^Wash before/, plan.drain_steps, 0), fills = of("fill", /^(Fill with|Go on)/, plan.steps, plan.given_steps);
    const skin = skinWords(plan.text), last = fills.at(-1);
    return [...washes, ...fills, ...(last && skin ? [{ what: "skin", words: skin, title: "Behind the skin", step: last.step }] : [])];
}

/** The plan's steps with the numbers that openings have here, where new ones come first; by their letters. */
function renumbered(plan) {
    const here = (k) => state.held.openings.findIndex((o) => o.letter === plan.openings[k].label);
    const all = (list) => list && list.map(here);
    const step = (s) => ({ ...s, open: all(s.open), outlet: all(s.outlet), feed: s.feed?.map((f) => ({ ...f, opening: here(f.opening) })) });
    return { ...plan, steps: plan.steps.map(step), drain_steps: plan.drain_steps.map(step) };
}

/** Shows a plan: vug-plan's JSON with its text. */
async function take(plan) {
    $("text").replaceChildren(...paragraphs(plan.text));
    $("text").hidden = false;
    const bores = plan.bores.map((b) => [...b.point_mm, ...b.direction.map((x) => -x), b.diameter_mm]);
    if (bores.length)
        await show(await live.ask("open", { holes: holes(bores),
            letters: plan.openings.map((o) => ({ letter: o.label, center_mm: o.center_mm })) }), false);
    const own = renumbered(plan), pages = pagesOf(own);
    state.plan = { ...own, made: ++state.plans, pages, behind: null };
    $("steps").hidden = !pages.length;
    if (pages.length)
        goTo(0);
    document.documentElement.dataset.plan = "done";
}

function goTo(number) {
    const { pages } = state.plan, { what, title, words, step } = pages[number];
    state.page = pages[number];
    $("back").disabled = number === 0;
    $("next").disabled = number === pages.length - 1;
    $("step-number").textContent = title;
    $("step").textContent = words;
    $("steps").scrollIntoView({ block: "nearest" });
    mark(what === "skin" ? null : step); // what is covered is so before the turn
    swing(step.up, () => (what === "skin" ? showSkin(state.page) : showStep(state.page)));
}

/** What is behind the skin once all steps are done. */
async function showSkin(page) {
    const { plan } = state;
    try {
        plan.behind = plan.behind || await live.ask("skin", { plan });
        if (state.page !== page || state.swing === null)
            return;
        view.move(false);
        showBehind(plan.behind.state);
        $("foot").textContent = "what is behind the skin once all steps are done: turn it to see all sides";
        document.documentElement.dataset.skin = JSON.stringify([plan.skin, plan.behind.skin]);
    } catch (error) {
        trouble(error);
    }
}

/** Paint rises as a step pours it in, and runs out as one drains it, to what is inside after it, the ones before it done:
 *  not what that pose alone would leave. */
async function showStep(page) {
    const { plan } = state, { what, number, step: { up, feed } } = page, ask = what === "wash" ? "wash" : "replay";
    const moves = (what === "wash" || feed.length > 0) && !matchMedia("(prefers-reduced-motion: reduce)").matches;
    unrest();
    try {
        for (let share = moves ? 0 : 1, begun = 0; ; share = Math.min(1, share + AT_ONCE, (performance.now() - begun) / POURING)) {
            const told = await live.ask(ask, { plan, number, share });
            if (state.page !== page || state.swing === null)
                return;
            begun = begun || performance.now();
            showBehind(null);
            view.levels(up, told.levels);
            tell({ ...told, whole_mm3: told.liquid_mm3, step: number, up, columns: "plan", ms: 0, share });
            if (share === 1)
                break;
        }
        view.move(false);
        words();
        openings();
        rest();
    } catch (error) {
        trouble(error);
    }
}

// ---- a part ----------------------------------------------------------------------------------------

async function show(opened, anew) {
    if (!opened.cavities.length)
        throw new Error("This part has no cavity that paint could go into: it is solid, or its hollow is as open as a cup.");
    state.held = opened;
    state.roles = null;
    if (anew)
        view.turned.quaternion.copy(upright);
    view.show(opened);
    document.documentElement.dataset.holes = JSON.stringify(holes());
    document.documentElement.classList.add("held");
    listOpenings();
    if (opened.doubt !== undefined)
        $("doubt").textContent = opened.doubt;
    moved();
}

/** Nothing is left of the part before. */
function nothing() {
    unrest();
    noPlanner();
    beside.wanted.clear();
    state.held = state.plan = state.page = state.at = state.told = null;
    state.tries = [];
    view.clear();
    globe.clear();
    showBehind(null);
    document.documentElement.classList.remove("held");
    for (const cell of ["f-cavity", "f-paint", "f-air", "f-pockets"])
        $(cell).textContent = "–";
    for (const words of ["f-share", "pose", "mapped", "foot", "doubt"])
        $(words).textContent = "";
    for (const list of [$("openings").tBodies[0], $("best")])
        list.replaceChildren();
    $("curves").toggleAttribute("hidden", true);
}

async function open(bytes, name, holes = [], format = undefined) {
    trouble(null);
    for (const key of ["map", "plan", "air"])
        delete document.documentElement.dataset[key];
    nothing();
    $("untry").hidden = true;
    $("text").hidden = $("steps").hidden = true;
    $("name").textContent = `${name}: looking for cavities and openings`;
    state.file = { bytes, name, holes, format };
    try {
        const fresh = slow.waiting.size > 1 ? slow.restart() : slow.ready;
        const opened = await live.ready.then(() => live.ask("open", state.file));
        state.own = opened.openings;
        await show(opened, true);
        $("name").textContent = name;
        await fresh;
        await slow.ask("open", state.file);
        await map();
    } catch (error) {
        $("name").textContent = `${name} was not opened`;
        trouble(error);
    }
}

async function openFile(file) {
    if (file)
        open(new Uint8Array(await file.arrayBuffer()), file.name);
}

$("file").addEventListener("change", (event) => openFile(event.target.files[0]));
addEventListener("dragover", (event) => {
    event.preventDefault();
    document.documentElement.classList.add("dragged");
});
addEventListener("dragleave", (event) => {
    if (!event.relatedTarget)
        document.documentElement.classList.remove("dragged");
});
addEventListener("drop", (event) => {
    event.preventDefault();
    document.documentElement.classList.remove("dragged");
    openFile(event.dataTransfer.files[0]);
});

const STL = 1; // VUG_FORMAT_STL: what vug-plan writes, whatever the part was read from
const inside = $("part"); // a page that was written with its part has it here, and the plan
if (inside.dataset.name) {
    const made = $("made").textContent.trim() ? JSON.parse($("made").textContent) : null;
    open(bytesOf(inside.textContent.trim()), inside.dataset.name, made ? made.named : [], STL)
        .then(() => made && take(made)).catch(trouble);
}
