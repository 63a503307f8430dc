// SPDX-License-Identifier: MIT
// The library in a worker of the page, all but plans. Two of these run: one for what has to follow the hand, one for
// the map of poses.
import { CONSTANTS } from "../../../bindings/js/vug.js";
import { answer, openingsOf, RINSE } from "./answer.js";

const SEALED = CONSTANTS.VUG_ROLE_SEALED;
let vug, mesh, cavities, walls, last = null, replayed = null;

/** The walls of all cavities as one list of corners and triangles, without the caps of openings. */
function wallsOf(found) {
    const corners = [], triangles = [], first = [];
    let base = 0;
    for (let i = 0; i < found.count; i++) {
        const part = found.mesh(i), index = part.triangles, points = part.vertices;
        corners.push(points);
        first.push(3 * base);
        for (let t = 0; t < part.tags.length; t++)
            if (part.tags[t] < 0)
                triangles.push(base + index[3 * t], base + index[3 * t + 1], base + index[3 * t + 2]);
        base += points.length / 3;
    }
    const flat = new Float64Array(3 * base);
    let at = 0;
    for (const points of corners) {
        flat.set(points, at);
        at += points.length;
    }
    return { corners: flat, triangles: Uint32Array.from(triangles), first };
}

function take(found, letter) {
    cavities = found;
    last = replayed = null;
    walls = wallsOf(found);
    const list = Array.from({ length: found.count }, (_, i) => found.get(i));
    return { walls, cavities: list, openings: openingsOf(found, letter), sides: found.count ? found.sides() : "",
        doubt: letter ? undefined : found.doubt() };
}

/** The course of a fill without hurry, or of a drain of the rinsing liquid; the last one is kept. */
function courseOf(what, up, columns, roles) {
    const key = JSON.stringify([what, Array.from(up), columns, roles]);
    if (last && last.key === key)
        return last;
    if (last)
        last.course.free();
    const options = { columns_across: columns, roles };
    const course = what === "fill" ? cavities.fill(up, options) : cavities.drain(up, { ...options, fluid: vug.fluid(RINSE) });
    last = { key, course, info: course.info };
    return last;
}

/** What is in each cavity after a step of a plan, as its JSON has it: the steps from the first on, played by the calls
 *  that they are told for. skin: gets all courses, or null. rising: gets for each cavity that is filled in the last step the
 *  course of that and the liquid before it. */
function played(plan, step, skin, rising = []) {
    const fluid = vug.fluid(plan.paint), count = cavities.openingCount, now = [];
    const cavity = Array.from({ length: count }, (_, i) => cavities.opening(i).cavity);
    const shut = new Array(count).fill(SEALED), { spacing_mm, start } = plan;
    const play = (c, up, roles, options, keep) => {
        const before = now[c] ? now[c].info.liquid_mm3 : 0;
        const course = now[c] ? now[c].turn(cavities, up, { fluid, roles, spacing_mm, ...options })
            : cavities.fill(up, { fluid, roles, spacing_mm, ...options });
        if (now[c])
            now[c].free();
        now[c] = course.atTime(Infinity);
        if (skin)
            skin.wet(fluid, course);
        if (keep)
            rising[c] = { course, before };
        else
            course.free();
    };
    if (start && !plan.steps[0].feed.length) { // found so on the bench
        now[start.cavity] = cavities.moment(start.up, { cavity: start.cavity, spacing_mm, liquid_mm3: start.liquid_mm3,
            air: start.air });
        if (skin)
            play(start.cavity, start.up, shut, {});
    }
    for (const [k, { up, way, open, feed }] of plan.steps.slice(0, step + 1).entries()) {
        const roles = shut.map((role, i) => (open.includes(i) ? 0 : role));
        for (let c = 0; c < cavities.count; c++) {
            const by = feed.find((f) => cavity[f.opening] === c);
            for (const at of now[c] ? way : [])
                play(c, at, shut, {});
            if (by)
                play(c, up, roles, { inlet: by.opening, volume_mm3: by.most_mm3 }, k === step && !skin);
            else if (now[c] && k >= plan.given_steps)
                play(c, up, shut, {});
        }
    }
    return now;
}

/** The courses of the plan's washing step by cavity, the steps before it done: of a cavity that no opening leads to, none. */
function washed(plan, step) {
    const fluid = vug.fluid(plan.rinse), courses = [];
    for (let c = 0; c < cavities.count; c++) {
        for (const { up, open } of plan.drain_steps.slice(0, step + 1)) {
            const roles = Array.from({ length: cavities.openingCount }, (_, i) => (open.includes(i) ? 0 : SEALED));
            if (!roles.some((role, i) => role !== SEALED && cavities.opening(i).cavity === c))
                continue;
            const before = courses[c]?.atTime(Infinity);
            courses[c]?.free();
            courses[c] = cavities.drain(up, { fluid, roles, cavity: c, spacing_mm: plan.spacing_mm, begin: before ? before.at : 0 });
            before?.free();
        }
    }
    return courses;
}

/** What holds for the plan's step that is shown is kept until another is. */
function keep(key, make) {
    if (replayed?.key !== key) {
        for (const old of replayed ? replayed.made : [])
            old?.free();
        replayed = { key, made: make() };
    }
    return replayed;
}

/** Liquid in no cavity yet: a figure for each, and levels to be set. */
function nothingIn() {
    return { trapped_mm3: 0, capacity_mm3: 0, liquid_mm3: 0, count: 0, levels: new Float32Array(walls.corners.length / 3).fill(-1e9) };
}

/** Adds what is in a cavity at a moment; counted: pockets of air or pools of liquid. */
function tellOf(told, c, moment, counted = "pockets") {
    const { liquid_mm3: liquid, [counted]: count } = moment.info, from = walls.first[c], volume = cavities.get(c).volume_mm3;
    told.liquid_mm3 += liquid;
    told.trapped_mm3 += volume - liquid;
    told.count += count;
    told.levels.set(moment.levels(walls.corners.subarray(from, walls.first[c + 1])), from / 3);
}

/** Which of three areas is the largest; 3: all are nothing. */
function mostOf(areas) {
    let most = 3, area = 0;
    for (let i = 0; i < 3; i++)
        if (areas[i] > area) {
            most = i;
            area = areas[i];
        }
    return most;
}

answer((made) => { vug = made; }, {
    /** The part; holes: bores of a plan with the letters of all openings by place, or holes that are tried, beside
     *  the part's own openings, which keep theirs. */
    open({ bytes, name, format = CONSTANTS.VUG_FORMAT_AUTO, holes, letters, own }) {
        if (bytes)
            mesh = vug.mesh(bytes, name, { format });
        const found = mesh.cavities({ holes: holes || [] });
        const nearest = (list, o) => list.map((l) => [Math.hypot(...l.center_mm.map((x, k) => x - o.center_mm[k])), l.letter])
            .sort((a, b) => a[0] - b[0])[0] || [Infinity];
        let fresh = own ? own.length : 0;
        const called = (i) => {
            const [away, letter] = nearest(letters || own, found.opening(i));
            return letters || away < 1e-6 ? letter : vug.letter(fresh++);
        };
        const taken = take(found, (letters || own) && called);
        return { ...taken, part: { corners: mesh.vertices, triangles: mesh.triangles }, measures: mesh.measure(),
            warnings: vug.warnings() };
    },

    /** Full as far as it goes: trapped air, its pockets, and the level at each corner of the walls. */
    pose({ up, columns, roles }) {
        const start = performance.now(), p = cavities.pockets(up, { columns_across: columns, roles });
        const pockets = Array.from({ length: Math.min(p.count, 12) }, (_, i) => p.get(i));
        const told = { trapped_mm3: p.trapped_mm3, capacity_mm3: p.capacity_mm3, count: p.count, pockets,
            levels: Float32Array.from(p.levels(walls.corners)) };
        p.free();
        return { ...told, ms: performance.now() - start };
    },

    /** A share of what goes in, poured without hurry. */
    pour({ up, columns, roles, share }) {
        const start = performance.now(), run = courseOf("fill", up, columns, roles), { info } = run;
        const moment = run.course.atVolume(share * info.liquid_mm3), now = moment.info;
        const pockets = Array.from({ length: Math.min(now.pockets, 12) }, (_, i) => moment.pocket(i));
        const told = { trapped_mm3: now.trapped_mm3, capacity_mm3: info.capacity_mm3, liquid_mm3: now.liquid_mm3,
            whole_mm3: info.liquid_mm3, count: now.pockets, pockets,
            levels: Float32Array.from(moment.levels(walls.corners)) };
        moment.free();
        return { ...told, ms: performance.now() - start };
    },

    /** What is inside after a step of a plan, or once a share of what goes in then is in. */
    replay({ plan, number, share = 1 }) {
        const { now, rising } = keep(`${plan.made} fill ${number}`, () => {
            const courses = [], moments = played(plan, number, null, courses);
            return Object.assign([...moments, ...courses.map((r) => r?.course)], { now: moments, rising: courses });
        }).made;
        const told = nothingIn();
        for (let c = 0; c < cavities.count; c++) {
            const volume = cavities.get(c).volume_mm3;
            told.capacity_mm3 += volume;
            if (!now[c]) {
                told.trapped_mm3 += volume;
                continue;
            }
            const whole = now[c].info.liquid_mm3, { course, before } = rising[c] || {};
            const moment = course && share < 1 ? course.atVolume(before + share * (whole - before)) : now[c];
            tellOf(told, c, moment);
            if (moment !== now[c])
                moment.free();
        }
        return told;
    },

    /** What is inside after a washing step of a plan, or once it has run out for a share of the time that it takes; of
     *  what comes out, where it does not by itself. */
    wash({ plan, number, share = 1 }) {
        const courses = keep(`${plan.made} wash ${number}`, () => washed(plan, number)).made, told = nothingIn();
        const whole_s = Math.max(-1, ...courses.map((course) => course?.info.time_s ?? -1));
        Object.assign(told, { rinse: plan.rinse, whole_s, time_s: share * whole_s, residue_mm3: 0 });
        for (let c = 0; c < cavities.count; c++) {
            told.capacity_mm3 += cavities.get(c).volume_mm3;
            if (!courses[c])
                continue;
            const { time_s, capacity_mm3, start_mm3, liquid_mm3: rest } = courses[c].info, full = start_mm3 || capacity_mm3;
            const moment = share === 1 ? courses[c].atTime(Infinity)
                : time_s >= 0 ? courses[c].atTime(share * whole_s) : courses[c].atVolume(full - share * (full - rest));
            told.residue_mm3 += rest;
            tellOf(told, c, moment, "pools");
            moment.free();
        }
        return told;
    },

    /** Full of the rinsing liquid, and let run out for a share of the time that it takes; of what comes out, where it
     *  does not by itself. */
    drain({ up, columns, roles, share }) {
        const start = performance.now(), run = courseOf("drain", up, columns, roles), { info } = run;
        const alone = info.time_s >= 0, { capacity_mm3: full, liquid_mm3: rest } = info;
        const moment = share === 1 ? run.course.atTime(Infinity)
            : alone ? run.course.atTime(share * info.time_s) : run.course.atVolume(full - share * (full - rest));
        const now = moment.info, told = { capacity_mm3: info.capacity_mm3, liquid_mm3: now.liquid_mm3, residue_mm3: info.liquid_mm3,
            time_s: share * info.time_s, whole_s: info.time_s, rinse: RINSE, count: info.pools, pockets: [],
            trapped_mm3: now.trapped_mm3, levels: Float32Array.from(moment.levels(walls.corners)) };
        moment.free();
        return { ...told, ms: performance.now() - start };
    },

    /** A pour or a drain as a whole: rows of time (a pour: 0), liquid inside, pressure at the inlet, and how high liquid stands
     *  over the lowest place (of a drain: liquid that will leave), at evenly spaced moments. */
    curves({ run, up, columns, roles }) {
        const { course, info } = courseOf(run, up, columns, roles), rows = [], n = 24;
        const step = 3 * Math.max(1, Math.ceil(walls.corners.length / 3 / 1500)), some = [];
        for (let i = 0; i + 2 < walls.corners.length; i += step)
            some.push(walls.corners[i], walls.corners[i + 1], walls.corners[i + 2]);
        const length = Math.hypot(...up), height = (i) => (some[i] * up[0] + some[i + 1] * up[1] + some[i + 2] * up[2]) / length;
        const places = Float64Array.from(some), curve = course.curve(), timed = run === "drain" && info.time_s > 0;
        let lowest = Infinity, highest = -Infinity, stays = null;
        for (let i = 0; i < some.length; i += 3) {
            lowest = Math.min(lowest, height(i));
            highest = Math.max(highest, height(i));
        }
        if (run === "drain") { // what stays behind is not what is followed
            const end = course.atTime(Infinity);
            stays = end.levels(places);
            end.free();
        }
        const { capacity_mm3: full, liquid_mm3: rest } = info;
        for (let k = 0; k <= n; k++) {
            const moment = timed ? course.atTime(k / n * info.time_s)
                : course.atVolume(run === "fill" ? k / n * rest : full - k / n * (full - rest));
            const levels = moment.levels(places), now = moment.info;
            let top = lowest, near = 0;
            for (let i = 0; i < levels.length; i++)
                if (levels[i] >= height(3 * i) && !(stays && stays[i] >= height(3 * i)))
                    top = Math.max(top, levels[i] < highest ? levels[i] : height(3 * i));
            for (let i = 0; i < curve.length; i += 3)
                if (Math.abs(curve[i + 1] - now.liquid_mm3) < Math.abs(curve[near + 1] - now.liquid_mm3))
                    near = i;
            rows.push({ time_s: timed ? k / n * info.time_s : 0, liquid_mm3: now.liquid_mm3,
                pressure_pa: curve.length ? curve[near + 2] : 0, level_mm: top - lowest });
            moment.free();
        }
        return { run, timed, rows };
    },

    /** What is behind the skin once all steps are done: of each triangle of the walls, whether most of it is backed,
     *  filmed or bare (0, 1, 2; 3: no column came near), and all of it together. */
    skin({ plan }) {
        const skin = cavities.skin(), state = [];
        for (const moment of played(plan, plan.steps.length - 1, skin))
            moment?.free();
        for (let c = 0; c < cavities.count; c++) {
            const { tags } = cavities.mesh(c), rows = skin.triangles(c);
            for (let t = 0; t < tags.length; t++)
                if (tags[t] < 0)
                    state.push(mostOf(rows.subarray(4 * t, 4 * t + 3)));
        }
        const { backed_mm2, filmed_mm2, bare_mm2 } = skin.info;
        skin.free();
        return { state: Uint8Array.from(state), skin: { backed_mm2, filmed_mm2, bare_mm2 } };
    },

    words({ up }) {
        return { words: vug.poseWords(up) };
    },

    scan({ poses, columns, roles }) {
        const scan = cavities.scan({ pose_count: poses, columns_across: columns, roles });
        const told = { ups: scan.ups, trapped_mm3: scan.trapped_mm3 };
        scan.free();
        const order = Array.from(told.trapped_mm3.keys()).sort((a, b) => told.trapped_mm3[a] - told.trapped_mm3[b]);
        const best = [];
        for (const i of order) { // a few that differ by 25 degrees and more
            const up = told.ups.slice(3 * i, 3 * i + 3);
            if (best.every((b) => b.up[0] * up[0] + b.up[1] * up[1] + b.up[2] * up[2] < 0.906))
                best.push({ up, trapped_mm3: told.trapped_mm3[i], words: vug.poseWords(up) });
            if (best.length === 4)
                break;
        }
        return { ...told, best };
    },
});
