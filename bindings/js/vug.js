// SPDX-License-Identifier: MIT
// The library in a browser, a worker or node: the classes of vug.h, thinly. Names of options and of what
// comes back are those of vug.h, with the units in them. One thread, no files, no 3MF.
import { CONSTANTS, STRUCTS } from "./raw.js";

export { CONSTANTS };

/** A call that failed: the library's own message, and which of the VUG_ERR_ constants it was. */
export class VugError extends Error {
    constructor(status, name, message) {
        super(message);
        this.name = "VugError";
        this.status = status;
        this.code = name;
    }
}

const READ = {
    i32: (v, at) => v.getInt32(at, true), u32: (v, at) => v.getUint32(at, true),
    i64: (v, at) => Number(v.getBigInt64(at, true)), u64: (v, at) => Number(v.getBigUint64(at, true)),
    f64: (v, at) => v.getFloat64(at, true), u8: (v, at) => v.getUint8(at),
    pointer: (v, at) => v.getUint32(at, true),
};
const WRITE = {
    i32: (v, at, x) => v.setInt32(at, x, true), u32: (v, at, x) => v.setUint32(at, x, true),
    i64: (v, at, x) => v.setBigInt64(at, BigInt(x), true), u64: (v, at, x) => v.setBigUint64(at, BigInt(x), true),
    f64: (v, at, x) => v.setFloat64(at, x, true), u8: (v, at, x) => v.setUint8(at, x),
    pointer: (v, at, x) => v.setUint32(at, x, true),
};
const WIDTH = { i32: 4, u32: 4, i64: 8, u64: 8, f64: 8, u8: 1, pointer: 4 };

/** Lists whose count is of rows, and how wide these are; they are read flat. */
const ROWS = { way: 3 };

/** The member that counts what a pointer member points to: cover has cover_count, feed_most_mm3 has feed_count as
 *  feed has; else the next one called so. */
function counter(members, index) {
    const words = members[index][0].split("_");
    for (; words.length > 0; words.pop()) {
        const own = words.join("_") + "_count";
        if (members.some(([name]) => name === own))
            return own;
    }
    const next = members.slice(index + 1).find(([name]) => name.endsWith("_count"));
    return next && next[0];
}

/** Memory for one call, given back together. */
class Scratch {
    constructor(vug) {
        this.vug = vug;
        this.taken = [];
    }

    room(bytes) {
        const at = this.vug.raw.malloc(Math.max(bytes, 8));
        if (!at)
            throw new VugError(CONSTANTS.VUG_ERR_MEMORY, "VUG_ERR_MEMORY", `no memory for ${bytes} bytes`);
        this.taken.push(at);
        new Uint8Array(this.vug.raw.memory.buffer, at, bytes).fill(0);
        return at;
    }

    text(string) {
        if (string === undefined || string === null)
            return 0;
        return this.bytes(new TextEncoder().encode(string + "\0"));
    }

    bytes(array) {
        const at = this.room(array.length);
        new Uint8Array(this.vug.raw.memory.buffer, at, array.length).set(array);
        return at;
    }

    numbers(kind, values) {
        const flat = values.BYTES_PER_ELEMENT ? values : Array.from(values).flat();
        const at = this.room(flat.length * WIDTH[kind]), view = this.vug.view;
        if (kind === "f64")
            new Float64Array(this.vug.raw.memory.buffer, at, flat.length).set(flat);
        else
            for (let i = 0; i < flat.length; i++)
                WRITE[kind](view, at + i * WIDTH[kind], flat[i]);
        return at;
    }

    /** A struct that goes in: its defaults, then what values say. undefined gives NULL. */
    given(struct, values) {
        if (values === undefined || values === null)
            return 0;
        const [size, members] = STRUCTS[struct], at = this.room(size);
        this.vug.check(this.vug.raw[struct + "_init"](at, size));
        for (const [name, value] of Object.entries(values)) {
            const index = members.findIndex(([member]) => member === name);
            if (index < 0 || name === "struct_size")
                throw new TypeError(`${struct} has no member ${name}; it has ` +
                    members.map(([member]) => member).filter((m) => m !== "struct_size").join(", "));
            this.member(at, members, index, value);
        }
        return at;
    }

    member(at, members, index, value) {
        const [, kind, offset, count] = members[index];
        if (kind.endsWith("*")) {
            const array = value ? this.numbers(kind.slice(0, -1), value) : 0, view = this.vug.view;
            view.setUint32(at + offset, array, true);
            const by = members.find(([member]) => member === counter(members, index));
            if (by)
                view.setUint32(at + by[2], value ? value.length : 0, true);
        } else {
            for (let i = 0; i < Math.max(count, 1); i++)
                WRITE[kind](this.vug.view, at + offset + i * WIDTH[kind], count ? value[i] : value);
        }
    }

    /** Room for a struct that comes out. */
    wanted(struct) {
        const size = STRUCTS[struct][0], at = this.room(size);
        this.vug.view.setUint32(at, size, true);
        return at;
    }

    end() {
        for (const at of this.taken)
            this.vug.raw.free(at);
    }
}

/** Objects of the library: free() gives the memory back now, the collector does it some time. */
const collector = typeof FinalizationRegistry === "undefined" ? null
    : new FinalizationRegistry(([vug, call, pointer]) => vug.raw[call](pointer));

class Handle {
    constructor(vug, pointer, call) {
        this.vug = vug;
        this.pointer = pointer;
        this._free = call;
        if (call && collector)
            collector.register(this, [vug, call, pointer], this);
    }

    /** Gives its memory back. Nothing may be asked of it afterwards. */
    free() {
        if (this.pointer && this._free) {
            if (collector)
                collector.unregister(this);
            this.vug.raw[this._free](this.pointer);
        }
        this.pointer = 0;
    }

    get at() {
        if (!this.pointer)
            throw new TypeError(`this ${this.constructor.name.toLowerCase()} was freed`);
        return this.pointer;
    }

    _get(call, struct, ...args) {
        return this.vug.scratch((s) => {
            const at = s.wanted(struct);
            this.vug.check(this.vug.raw[call](this.at, ...args, at));
            return this.vug.read(struct, at);
        });
    }

    _levels(call, points) {
        return this.vug.scratch((s) => {
            const count = points.length / 3, at = s.room(8 * count);
            this.vug.run(this.vug.raw[call](this.vug.context, this.at, s.numbers("f64", points), count, at));
            return this.vug.doubles(at, count);
        });
    }

    _rows(call, width, given) {
        return this.vug.scratch((s) => {
            const out = s.room(8), { raw } = this.vug;
            this.vug.run(raw[call](this.vug.context, this.at, ...given(s), out, out + 4));
            const at = this.vug.view.getUint32(out, true), count = this.vug.view.getUint32(out + 4, true);
            const rows = this.vug.doubles(at, count * width);
            raw.vug_free(this.vug.context, at);
            return rows;
        });
    }
}

/** A part. */
export class Mesh extends Handle {
    constructor(vug, pointer, owned = true) {
        super(vug, pointer, owned ? "vug_mesh_free" : null);
    }

    /** Corners, 3 numbers each, in mm; a copy. */
    get vertices() {
        const { raw } = this.vug;
        return this.vug.doubles(raw.vug_mesh_vertices(this.at), 3 * raw.vug_mesh_vertex_count(this.at));
    }

    /** The same as single numbers, relative to origin, for a graphics card. */
    verticesFloat(origin = [0, 0, 0]) {
        return this.vug.scratch((s) => {
            const { raw } = this.vug, count = 3 * raw.vug_mesh_vertex_count(this.at), at = s.room(4 * count);
            this.vug.check(raw.vug_mesh_vertices_float(this.at, s.numbers("f64", origin), at));
            return new Float32Array(raw.memory.buffer, at, count).slice();
        });
    }

    /** Triangles, 3 numbers of corners each; a copy. */
    get triangles() {
        const { raw } = this.vug, at = raw.vug_mesh_triangles(this.at);
        return new Uint32Array(raw.memory.buffer, at, 3 * raw.vug_mesh_triangle_count(this.at)).slice();
    }

    /** Health and measures: a vug_mesh_measures. */
    measure() {
        return this.vug.scratch((s) => {
            const at = s.wanted("vug_mesh_measures");
            this.vug.run(this.vug.raw.vug_mesh_measure(this.vug.context, this.at, at));
            return this.vug.read("vug_mesh_measures", at);
        });
    }

    /** A repaired copy, and what was done: {mesh, report}. */
    clean(options) {
        return this.vug.scratch((s) => {
            const report = s.wanted("vug_mesh_clean_report");
            const mesh = this.vug.make(s, Mesh, (out) => this.vug.raw.vug_mesh_clean(this.vug.context, this.at,
                s.given("vug_mesh_clean_options", options), out, report));
            return { mesh, report: this.vug.read("vug_mesh_clean_report", report) };
        });
    }

    /** Its cavities. holes: rows of 7, a point on the skin, a direction outward, a diameter. */
    cavities({ holes, ...options } = {}) {
        return this.vug.scratch((s) => this.vug.make(s, Cavities, (out) => this.vug.raw.vug_cavities_find(
            this.vug.context, this.at, holes && holes.length ? s.numbers("f64", holes) : 0,
            holes ? holes.length : 0, s.given("vug_cavity_options", options), out)));
    }
}

/** The cavities of a part and their openings. */
export class Cavities extends Handle {
    constructor(vug, pointer, owner) {
        super(vug, pointer, owner ? null : "vug_cavities_free");
        this.owner = owner; // is kept as long as this
    }

    /** The same with more bores planned, rows as holes of Mesh.cavities(): quick enough to follow a drag. */
    withBores(holes) {
        return this.vug.scratch((s) => this.vug.make(s, Cavities, (out) => this.vug.raw.vug_cavities_with_bores(
            this.vug.context, this.at, holes.length ? s.numbers("f64", holes) : 0, holes.length, out)));
    }

    get count() {
        return this.vug.raw.vug_cavities_count(this.at);
    }

    get openingCount() {
        return this.vug.raw.vug_cavities_opening_count(this.at);
    }

    /** Cavity number index: a vug_cavity_info. */
    get(index) {
        return this._get("vug_cavities_get", "vug_cavity_info", index);
    }

    /** Opening number index: a vug_opening_info, with its letter. */
    opening(index) {
        const info = this._get("vug_cavities_opening", "vug_opening_info", index);
        return { ...info, letter: this.vug.letter(index) };
    }

    /** The rim of opening number index: 3 numbers a point. */
    outline(index) {
        return this.vug.scratch((s) => {
            const out = s.room(8);
            this.vug.check(this.vug.raw.vug_cavities_opening_outline(this.at, index, out, out + 4));
            return this.vug.doubles(this.vug.view.getUint32(out, true),
                3 * this.vug.view.getUint32(out + 4, true));
        });
    }

    /** The mesh that bounds cavity number index, and for each triangle -1 (wall) or the opening it caps. */
    mesh(index) {
        return this.vug.scratch((s) => {
            const out = s.room(4), pointer = this.vug.raw.vug_cavities_mesh(this.at, index, out);
            if (!pointer)
                return null;
            const mesh = new Mesh(this.vug, pointer, false), at = this.vug.view.getUint32(out, true);
            const count = this.vug.raw.vug_mesh_triangle_count(pointer);
            mesh.owner = this;
            mesh.tags = new Int32Array(this.vug.raw.memory.buffer, at, count).slice();
            return mesh;
        });
    }

    /** Which side of the part is its top, front and left, in words. */
    sides() {
        return this.vug.scratch((s) => {
            const text = s.room(1024);
            this.vug.run(this.vug.raw.vug_sides_words(this.vug.context, this.at, text, 1024));
            return this.vug.text(text);
        });
    }

    /** Which openings are not exact, by letter, and what is not clear about them; "" for what is trusted. */
    doubt(cavity = -1) {
        return this.vug.scratch((s) => {
            const text = s.room(400);
            this.vug.run(this.vug.raw.vug_doubt_words(this.vug.context, this.at, cavity, text, 400));
            return this.vug.text(text);
        });
    }

    _posed(Class, call, structs, up, { roles, fluid, ...options }) {
        return this.vug.scratch((s) => this.vug.make(s, Class, (out) => this.vug.raw[call](this.vug.context,
            this.at, ...(structs.fluid ? [s.given("vug_fluid", fluid)] : []),
            ...(up ? [s.numbers("f64", up)] : []), roles ? s.numbers("i32", roles) : 0,
            roles ? roles.length : 0, s.given(structs.options, options), out)));
    }

    /** The air that stays trapped with up pointing up. */
    pockets(up, options = {}) {
        return this._posed(Pockets, "vug_pockets_find", { options: "vug_pose_options" }, up, options);
    }

    /** Trapped air over many poses. */
    scan(options = {}) {
        return this._posed(Scan, "vug_pose_scan_run", { options: "vug_pose_options" }, null, options);
    }

    /** Fills it in a pose. */
    fill(up, options = {}) {
        return this._posed(Course, "vug_fill_run", { fluid: true, options: "vug_fill_options" }, up, options);
    }

    /** What one finds on the bench: liquid_mm3 in a cavity that is held still, air at points (3 numbers each). */
    moment(up, { cavity = 0, spacing_mm = 0, liquid_mm3, air = [] }) {
        return this.vug.scratch((s) => this.vug.make(s, Moment, (out) => this.vug.raw.vug_moment_make(
            this.vug.context, this.at, cavity, s.numbers("f64", up), spacing_mm, liquid_mm3,
            air.length ? s.numbers("f64", air) : 0, air.length, out)));
    }

    /** Drains it in a pose. */
    drain(up, options = {}) {
        return this._posed(Course, "vug_drain_run", { fluid: true, options: "vug_drain_options" }, up, options);
    }

    /** Its skin, dry: which of it liquid wets, told by courses one after the other. */
    skin(options) {
        return this.vug.scratch((s) => this.vug.make(s, Skin, (out) => this.vug.raw.vug_skin_make(
            this.vug.context, this.at, s.given("vug_skin_options", options), out)));
    }

    /** Plans how to fill it. fluid: the paint; solvent: the rinsing liquid. */
    plan({ fluid, solvent, roles, ...options } = {}) {
        return this.vug.scratch((s) => this.vug.make(s, Plan, (out) => this.vug.raw.vug_plan_make(
            this.vug.context, this.at, s.given("vug_fluid", fluid), s.given("vug_fluid", solvent),
            roles ? s.numbers("i32", roles) : 0, roles ? roles.length : 0,
            s.given("vug_plan_options", options), out)));
    }
}

/** The pockets of a pose. */
export class Pockets extends Handle {
    constructor(vug, pointer) {
        super(vug, pointer, "vug_pockets_free");
    }

    get count() {
        return this.vug.raw.vug_pockets_count(this.at);
    }

    get capacity_mm3() {
        return this.vug.raw.vug_pockets_capacity_mm3(this.at);
    }

    get trapped_mm3() {
        return this.vug.raw.vug_pockets_trapped_mm3(this.at);
    }

    get(index) {
        return this._get("vug_pockets_get", "vug_pocket_info", index);
    }

    /** The level of the liquid at points, 3 numbers each: below it is liquid, above it air. */
    levels(points) {
        return this._levels("vug_pockets_levels", points);
    }

    /** One pocket as a closed mesh: the cavity's wall above its level, and a flat lid. */
    pocketMesh(index) {
        return this.vug.scratch((s) => this.vug.make(s, Mesh,
            (out) => this.vug.raw.vug_pockets_mesh(this.vug.context, this.at, index, out)));
    }

    /** Rows of 4: distance to the right, floor, level, ceiling. */
    section(point, direction) {
        return this._rows("vug_pockets_section", 4, (s) => [s.numbers("f64", point), s.numbers("f64", direction)]);
    }
}

/** Trapped air over many poses. */
export class Scan extends Handle {
    constructor(vug, pointer) {
        super(vug, pointer, "vug_pose_scan_free");
    }

    get count() {
        return this.vug.raw.vug_pose_scan_count(this.at);
    }

    get best() {
        return this.vug.raw.vug_pose_scan_best(this.at);
    }

    /** Up vectors, 3 numbers a pose; a copy. */
    get ups() {
        return this.vug.doubles(this.vug.raw.vug_pose_scan_ups(this.at), 3 * this.count);
    }

    /** Trapped air of each pose; a copy. */
    get trapped_mm3() {
        return this.vug.doubles(this.vug.raw.vug_pose_scan_trapped_mm3(this.at), this.count);
    }

    get(index) {
        return this._get("vug_pose_scan_get", "vug_pose_info", index);
    }
}

/** The course of a fill or a drain. */
export class Course extends Handle {
    constructor(vug, pointer) {
        super(vug, pointer, "vug_course_free");
    }

    get info() {
        return this._get("vug_course_get", "vug_course_info");
    }

    get events() {
        const count = this.vug.raw.vug_course_event_count(this.at);
        return Array.from({ length: count }, (_, i) => this._get("vug_course_event", "vug_event_info", i));
    }

    /** Rows of 3: time, liquid inside, pressure at the inlet. */
    curve() {
        return this._rows("vug_course_curve", 3, () => []);
    }

    _moment(call, value) {
        return this.vug.scratch((s) => this.vug.make(s, Moment,
            (out) => this.vug.raw[call](this.vug.context, this.at, value, out)));
    }

    atVolume(volume_mm3) {
        return this._moment("vug_course_at_volume", volume_mm3);
    }

    atTime(time_s) {
        return this._moment("vug_course_at_time", time_s);
    }
}

/** The state at one moment of a course. */
export class Moment extends Handle {
    constructor(vug, pointer) {
        super(vug, pointer, "vug_moment_free");
    }

    get info() {
        return this._get("vug_moment_get", "vug_moment_info");
    }

    pocket(index) {
        return this._get("vug_moment_pocket", "vug_pocket_info", index);
    }

    pool(index) {
        return this._get("vug_moment_pool", "vug_pool_info", index);
    }

    /** The part with what is in it turned to another pose, and filled on by the inlet of options. */
    turn(cavities, up, { fluid, roles, ...options } = {}) {
        return this.vug.scratch((s) => this.vug.make(s, Course, (out) => this.vug.raw.vug_fill_turn(
            this.vug.context, cavities.at, s.given("vug_fluid", fluid), this.at, s.numbers("f64", up),
            roles ? s.numbers("i32", roles) : 0, roles ? roles.length : 0, s.given("vug_fill_options", options), out)));
    }

    /** One pocket, or one pool, as a closed mesh: the cavity's wall on that side of its levels, and flat lids. */
    pocketMesh(index) {
        return this.vug.scratch((s) => this.vug.make(s, Mesh,
            (out) => this.vug.raw.vug_moment_pocket_mesh(this.vug.context, this.at, index, out)));
    }

    poolMesh(index) {
        return this.vug.scratch((s) => this.vug.make(s, Mesh,
            (out) => this.vug.raw.vug_moment_pool_mesh(this.vug.context, this.at, index, out)));
    }

    /** The free surfaces of the liquid. */
    surface() {
        return this.vug.scratch((s) => this.vug.make(s, Mesh,
            (out) => this.vug.raw.vug_moment_surface(this.vug.context, this.at, out)));
    }

    /** The level of the liquid at points, 3 numbers each: below it is liquid, above it air. */
    levels(points) {
        return this._levels("vug_moment_levels", points);
    }

    /** Rows of 4: distance to the right, floor, level, ceiling. */
    section(point, direction) {
        return this._rows("vug_moment_section", 4, (s) => [s.numbers("f64", point), s.numbers("f64", direction)]);
    }
}

/** The skin of cavities, and what was wetted of it so far. */
export class Skin extends Handle {
    constructor(vug, pointer) {
        super(vug, pointer, "vug_skin_free");
    }

    /** Adds a course, the next one in its cavity. */
    wet(fluid, course) {
        this.vug.scratch((s) => this.vug.run(this.vug.raw.vug_skin_wet(this.vug.context, this.at,
            s.given("vug_fluid", fluid), course.at)));
    }

    get info() {
        return this.vug.scratch((s) => {
            const at = s.wanted("vug_skin_info");
            this.vug.run(this.vug.raw.vug_skin_get(this.vug.context, this.at, at));
            return this.vug.read("vug_skin_info", at);
        });
    }

    /** Rows of 4 for each triangle of Cavities.mesh(cavity): backed, filmed and bare in mm2, film in mm. */
    triangles(cavity = 0) {
        return this._rows("vug_skin_triangles", 4, () => [cavity]);
    }

    /** Bare spots, the largest first, rows of 5: middle in mm, area in mm2, how visible it is, 0 to 1. */
    spots() {
        return this._rows("vug_skin_spots", 5, () => []);
    }
}

/** A plan and its alternatives; number 0 is the one to take. */
export class Plan extends Handle {
    constructor(vug, pointer) {
        super(vug, pointer, "vug_plan_free");
    }

    get count() {
        return this.vug.raw.vug_plan_count(this.at);
    }

    get(index = 0) {
        return this._get("vug_plan_get", "vug_plan_info", index);
    }

    /** Its steps in order; sequence: CONSTANTS.VUG_PLAN_FILL or VUG_PLAN_DRAIN. */
    steps(index = 0, sequence = CONSTANTS.VUG_PLAN_FILL) {
        const found = [];
        for (;;) {
            try {
                found.push(this._get("vug_plan_step", "vug_step_info", index, sequence, found.length));
            } catch (error) {
                if (error.status !== CONSTANTS.VUG_ERR_NOT_FOUND)
                    throw error;
                return found;
            }
        }
    }

    bores(index = 0) {
        return Array.from({ length: this.get(index).bores }, (_, i) =>
            this._get("vug_plan_bore", "vug_plan_bore_info", index, i));
    }

    /** The cavities with the bores of an alternative. */
    cavities(index = 0) {
        const pointer = this.vug.raw.vug_plan_cavities(this.at, index);
        return pointer ? new Cavities(this.vug, pointer, this) : null;
    }

    /** What an opening of cavities(index) is called. */
    letter(opening, index = 0) {
        return this.vug.scratch((s) => {
            const text = s.room(32);
            this.vug.run(this.vug.raw.vug_plan_letter(this.vug.context, this.at, index, opening, text, 32));
            return this.vug.text(text);
        });
    }

    /** The cautions of an alternative, in words. */
    cautions(index = 0) {
        return Array.from({ length: CONSTANTS.VUG_CAUTION_COUNT }, (_, i) => i)
            .filter((i) => this.vug.raw.vug_plan_caution(this.at, index, i))
            .map((i) => this.vug.text(this.vug.raw.vug_caution_text(i)));
    }

    /** The plan in plain words. */
    text({ index = 0, part, paint, rinse, width = 0 } = {}) {
        return this.vug.scratch((s) => {
            const out = s.room(4), { raw } = this.vug;
            this.vug.run(raw.vug_plan_text(this.vug.context, this.at, index, s.text(part), s.text(paint),
                s.text(rinse), width, out));
            const at = this.vug.view.getUint32(out, true), words = this.vug.text(at);
            raw.vug_free(this.vug.context, at);
            return words;
        });
    }
}

/** The library, with a context of its own. Made by load(). */
export class Vug {
    /** progress: called at most 20 times a second with a fraction and the stage's name while a long call
     *  runs; a true result cancels the call. cancelFlag: an Int32Array over shared memory, or null; a
     *  call stops when its first number is not 0, which another thread may set. */
    constructor() {
        this.raw = null;
        this.context = 0;
        this.progress = null;
        this.cancelFlag = null;
        this._told = 0;
        this._thrown = null;
    }

    get view() {
        return new DataView(this.raw.memory.buffer);
    }

    get version() {
        return this.text(this.raw.vug_version_string());
    }

    /** Is an optional feature built in? "openmp" and "3mf" are not. */
    feature(name) {
        return this.scratch((s) => this.raw.vug_feature(s.text(name)) === 1);
    }

    text(at) {
        if (!at)
            return "";
        const bytes = new Uint8Array(this.raw.memory.buffer);
        return new TextDecoder().decode(bytes.slice(at, bytes.indexOf(0, at)));
    }

    /** A copy of count doubles. */
    doubles(at, count) {
        return count ? new Float64Array(this.raw.memory.buffer, at, count).slice() : new Float64Array(0);
    }

    scratch(work) {
        const s = new Scratch(this);
        try {
            return work(s);
        } finally {
            s.end();
        }
    }

    _fail(status, message) {
        const name = this.text(this.raw.vug_status_name(status));
        throw new VugError(status, name, message || this.text(this.raw.vug_status_string(status)));
    }

    /** Throws for the status of a call without a context. */
    check(status) {
        if (status !== 0)
            this._fail(status, "");
    }

    /** Throws for the status of a call with this one's context. */
    run(status) {
        const thrown = this._thrown;
        this._thrown = null;
        if (thrown)
            throw thrown;
        if (status !== 0)
            this._fail(status, this.text(this.raw.vug_context_message(this.context)));
    }

    make(s, Class, call) {
        const out = s.room(4);
        this.run(call(out));
        return new Class(this, this.view.getUint32(out, true));
    }

    /** A struct as an object. */
    read(struct, at) {
        const [, members] = STRUCTS[struct], view = this.view, found = {};
        for (const [name, kind, offset, count] of members) {
            if (name === "struct_size")
                continue;
            const one = kind.replace("*", "");
            if (count && one === "u8")
                found[name] = this.text(at + offset);
            else if (count)
                found[name] = Array.from({ length: count }, (_, i) => READ[one](view, at + offset + i * WIDTH[one]));
            else if (kind.endsWith("*"))
                found[name] = view.getUint32(at + offset, true);
            else
                found[name] = READ[kind](view, at + offset);
        }
        members.forEach(([name, kind], index) => {
            if (kind.endsWith("*")) {
                const one = kind.slice(0, -1), from = found[name];
                found[name] = Array.from({ length: from ? found[counter(members, index)] * (ROWS[name] || 1) : 0 },
                    (_, i) => READ[one](view, from + i * WIDTH[one]));
            }
        });
        return found;
    }

    /** What people call opening number index: A, B ... */
    letter(index) {
        return this.scratch((s) => {
            const text = s.room(32);
            this.run(this.raw.vug_opening_letter(this.context, index, text, 32));
            return this.text(text);
        });
    }

    /** Warnings gathered since the last call of this. */
    warnings() {
        const found = [];
        for (let at; (at = this.raw.vug_context_warning(this.context, found.length));)
            found.push(this.text(at));
        this.raw.vug_context_clear_warnings(this.context);
        return found;
    }

    /** A part from the bytes of an STL, OBJ, PLY or OFF file. name: for messages, and its ending. */
    mesh(bytes, name, options) {
        return this.scratch((s) => this.make(s, Mesh, (out) => this.raw.vug_mesh_load_memory(this.context,
            s.bytes(new Uint8Array(bytes)), bytes.byteLength, s.text(name),
            s.given("vug_mesh_load_options", options), out)));
    }

    /** A part from corners and triangles, flat arrays. */
    meshFromArrays(vertices, triangles) {
        return this.scratch((s) => this.make(s, Mesh, (out) => this.raw.vug_mesh_from_arrays(this.context,
            s.numbers("f64", vertices), vertices.length / 3, 0, s.numbers("u32", triangles),
            triangles.length / 3, 0, out)));
    }

    /** A pose in words; from: the pose it comes from. */
    poseWords(up, from) {
        return this.scratch((s) => {
            const text = s.room(512);
            this.run(this.raw.vug_pose_words(this.context, from ? s.numbers("f64", from) : 0,
                s.numbers("f64", up), text, 512));
            return this.text(text);
        });
    }

    /** Names of the liquids that fluid() knows. */
    get fluids() {
        const found = [];
        for (let at; (at = this.raw.vug_fluid_preset_name(found.length));)
            found.push(this.text(at));
        return found;
    }

    /** A paint or another liquid of the bench by its name: a vug_fluid. level: an end of its range. */
    fluid(name, { level = CONSTANTS.VUG_TYPICAL, temperature_c = 20 } = {}) {
        const preset = this.fluids.indexOf(name);
        if (preset < 0)
            throw new TypeError(`there is no liquid ${name}; there are ${this.fluids.join(", ")}`);
        return this.scratch((s) => {
            const at = s.wanted("vug_fluid");
            this.run(this.raw.vug_fluid_preset(this.context, preset, level, temperature_c, at));
            return this.read("vug_fluid", at);
        });
    }

    /** count up vectors spread evenly over the sphere. */
    spherePoints(count) {
        return this.scratch((s) => {
            const at = s.room(24 * count);
            this.check(this.raw.vug_sphere_points(count, at));
            return this.doubles(at, 3 * count);
        });
    }

    _ask(fraction, stage) {
        if (this.cancelFlag && Atomics.load(this.cancelFlag, 0) !== 0)
            return 1;
        const now = Date.now();
        if (!this.progress || (now - this._told < 50 && fraction < 1))
            return 0;
        this._told = now;
        try {
            return this.progress(fraction, this.text(stage)) === true ? 1 : 0;
        } catch (error) {
            this._thrown = error; // after the library has cleared up
            return 1;
        }
    }
}

/** What the module may ask of its host: progress, a clock to tell it by, and sines and their like. Of the rest, files
 *  above all, each call says that there is no such thing (52: WASI's ENOSYS). */
function imports(module, vug) {
    const given = {};
    for (const { module: from, name } of WebAssembly.Module.imports(module)) {
        given[from] = given[from] || {};
        given[from][name] = () => 52;
    }
    given.wasi_snapshot_preview1 = given.wasi_snapshot_preview1 || {};
    given.wasi_snapshot_preview1.clock_time_get = (...asked) => {
        vug.view.setBigUint64(asked.at(-1), BigInt(Math.round(performance.now() * 1e6)), true);
        return 0;
    };
    given.env = given.env || {};
    given.env.vug_js_progress = (fraction, stage) => vug._ask(fraction, stage);
    return { ...given, Math };
}

/** Loads the library. source: bytes of vug.wasm, a compiled WebAssembly.Module, a Response, or a URL;
 *  without it, vug.wasm beside this file. */
export async function load(source) {
    if (source === undefined)
        source = new URL("./vug.wasm", import.meta.url);
    if (source instanceof URL && source.protocol === "file:" && typeof process !== "undefined")
        source = await (await import("node:fs/promises")).readFile(source);
    if (source instanceof URL || typeof source === "string")
        source = await fetch(source);
    if (typeof Response !== "undefined" && source instanceof Response)
        source = await source.arrayBuffer();
    const module = source instanceof WebAssembly.Module ? source : await WebAssembly.compile(source);
    const vug = new Vug(), instance = await WebAssembly.instantiate(module, imports(module, vug));
    vug.raw = instance.exports;
    if (vug.raw._initialize)
        vug.raw._initialize();
    vug.scratch((s) => {
        const out = s.room(4);
        vug.check(vug.raw.vug_context_create(0, out));
        vug.context = vug.view.getUint32(out, true);
    });
    vug.check(vug.raw.vug_js_watch(vug.context));
    return vug;
}
