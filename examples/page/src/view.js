// SPDX-License-Identifier: MIT
// The part as it is held: a thin veil of resin, inside it the walls of the cavity, dark where paint stands and
// striped where air does. The part turns, up stays up.
import * as THREE from "three";

const INK = new THREE.Color("#1c2b33"), AIR = new THREE.Color("#e08a3c"), LINE = new THREE.Color("#fdf6e3");
const RIM = new THREE.Color("#a3123f"), DEEP = new THREE.Color("#14080d"); // of a bore, outside and at its end
const SIZES = [1, 0.7, 0.5, 0.35, 0.25]; // parts of the pixels along a side
const COARSE = 0.025; // of the part's radius: what corners are taken together where the first of these is too many
const BEHIND = { backed: "#1c2b33", filmed: "#7fb3b5", bare: "#f6e9c6", cross: "#a3123f", unknown: "#9a9a94" };

/** Of a corner, for both shaders: where it is seen, its face and the eye from there. */
const placed = `vec4 seen = modelViewMatrix * vec4(position, 1.0);
            face = normalMatrix * normal;
            eye = -seen.xyz;
            gl_Position = projectionMatrix * seen;`;

/** Of a point: its face towards the eye, how the lamp falls on it, and how much of an outline it is. */
const lit = `vec3 n = normalize(face);
            n = dot(n, eye) < 0.0 ? -n : n;
            vec3 e = normalize(eye);
            float lamp = max(dot(n, normalize(vec3(0.3, 0.8, 0.6))), 0.0);
            float edge = pow(1.0 - max(dot(n, e), 0.0), 3.0);`;

const wallShader = {
    vertexShader: `
        attribute float level;
        uniform vec3 up;
        varying float depth;
        varying float height;
        varying vec3 face;
        varying vec3 eye;
        void main() {
            height = dot(position, up);
            depth = level - height;
            ${placed}
        }`,
    fragmentShader: `
        uniform vec3 ink;
        uniform vec3 air;
        uniform vec3 line;
        uniform float scale;
        varying float depth;
        varying float height;
        varying vec3 face;
        varying vec3 eye;
        void main() {
            ${lit}
            float light = 0.55 + 0.45 * lamp;
            float wide = fwidth(height) + 1e-6; // not of the depth, which jumps between two pools
            float wet = smoothstep(-0.5 * wide, 0.5 * wide, depth);
            float stripe = step(0.62, fract((gl_FragCoord.x + gl_FragCoord.y) / (11.0 * scale)));
            vec3 dry = mix(air, air * 0.72, stripe) * light + 0.10 * edge;
            vec3 dark = ink * light + vec3(0.10, 0.13, 0.14) * edge
                + 0.22 * pow(max(dot(n, normalize(e + vec3(0.3, 0.8, 0.6))), 0.0), 40.0);
            vec3 shade = mix(dry, dark, wet);
            float rim = 1.0 - smoothstep(0.6, 1.6, abs(depth) / wide);
            gl_FragColor = vec4(mix(shade, line, 0.75 * rim), 1.0);
            #include <colorspace_fragment>
        }`,
};

/** What is behind the skin, by a pattern of its own each: paint (dark), a film of it (dotted), nothing (crossed). */
const stateShader = {
    vertexShader: `
        attribute float state;
        varying float kind;
        varying vec3 face;
        varying vec3 eye;
        void main() {
            kind = state;
            ${placed}
        }`,
    fragmentShader: `
        uniform vec3 backed;
        uniform vec3 filmed;
        uniform vec3 bare;
        uniform vec3 cross;
        uniform vec3 unknown;
        uniform float scale;
        varying float kind;
        varying vec3 face;
        varying vec3 eye;
        void main() {
            ${lit}
            float light = 0.6 + 0.4 * lamp;
            vec2 at = gl_FragCoord.xy / scale;
            float dot6 = 1.0 - step(0.3, length(fract(at / 6.0) - 0.5));
            float lines = max(step(0.76, fract((at.x + at.y) / 7.0)), step(0.76, fract((at.x - at.y) / 7.0)));
            vec3 colour = kind < 0.5 ? backed : kind < 1.5 ? mix(filmed, backed, dot6)
                : kind < 2.5 ? mix(bare, cross, lines) : unknown;
            gl_FragColor = vec4(colour * light + 0.10 * edge, 1.0);
            #include <colorspace_fragment>
        }`,
};

/** Triangles of the part that are not the cavity's wall: the outer skin. */
function skinOf(part, walls) {
    const key = (a, i) => `${Math.fround(a[3 * i])},${Math.fround(a[3 * i + 1])},${Math.fround(a[3 * i + 2])}`;
    const inner = new Set();
    for (let i = 0; i < walls.corners.length / 3; i++)
        inner.add(key(walls.corners, i));
    const wall = Array.from({ length: part.corners.length / 3 }, (_, i) => inner.has(key(part.corners, i)));
    const skin = [];
    for (let t = 0; t < part.triangles.length; t += 3) {
        const [a, b, c] = part.triangles.subarray(t, t + 3);
        if (!(wall[a] && wall[b] && wall[c]))
            skin.push(a, b, c);
    }
    return Uint32Array.from(skin);
}

function geometryOf(corners, triangles) {
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(Float32Array.from(corners), 3));
    geometry.setIndex(new THREE.BufferAttribute(triangles, 1));
    geometry.computeVertexNormals();
    return geometry;
}

/** The same triangles between fewer corners: of those in a box of that width the first stands for all. What is left of a
 *  triangle is none where two of its corners become one. */
function coarsened(geometry, width) {
    const { array } = geometry.getAttribute("position"), { array: triangles } = geometry.index, first = new Map(), coarse = [];
    const stands = Uint32Array.from({ length: array.length / 3 }, (_, i) => {
        const box = [0, 1, 2].reduce((key, k) => 4096 * key + Math.floor(array[3 * i + k] / width) % 2048 + 2048, 0);
        if (!first.has(box))
            first.set(box, i);
        return first.get(box);
    });
    for (let t = 0; t < triangles.length; t += 3) {
        const [a, b, c] = [stands[triangles[t]], stands[triangles[t + 1]], stands[triangles[t + 2]]];
        if (a !== b && b !== c && c !== a)
            coarse.push(a, b, c);
    }
    return new THREE.BufferAttribute(Uint32Array.from(coarse), 1);
}

/** Is there no graphics card? Then each sample of a pixel's edge is time. */
function drawnBySoftware() {
    const gl = document.createElement("canvas").getContext("webgl2"), more = gl?.getExtension("WEBGL_debug_renderer_info");
    const name = more ? gl.getParameter(more.UNMASKED_RENDERER_WEBGL) : "";
    gl?.getExtension("WEBGL_lose_context")?.loseContext();
    return /software|swiftshader|llvmpipe|softpipe|basic render/i.test(name);
}

export class View {
    constructor(canvas, labels) {
        this.canvas = canvas;
        this.labels = labels;
        this.renderer = new THREE.WebGLRenderer({ canvas, antialias: !drawnBySoftware(), alpha: true });
        this.scene = new THREE.Scene();
        this.camera = new THREE.PerspectiveCamera(30, 1, 1, 1000);
        this.turned = new THREE.Group();
        this.scene.add(this.turned);
        this.scene.add(new THREE.HemisphereLight("#ffffff", "#9a9486", 2.2));
        const lamp = new THREE.DirectionalLight("#ffffff", 1.6);
        lamp.position.set(0.3, 0.8, 0.6);
        this.scene.add(lamp);
        this.zoom = 1;
        this.openings = [];
        this.wanted = false;
        this.moving = false;
        this.size = 0; // of SIZES, while it moves
        this.tried = 0; // frames
        this.waited = 0; // ms, for the last few frames at most
        new ResizeObserver(() => this.draw()).observe(canvas.parentElement);
    }

    /** Nothing to show. */
    clear() {
        for (const old of [...this.turned.children]) {
            this.turned.remove(old);
            old.geometry.dispose();
        }
        this.wall = this.skin = this.states = null;
        this.openings = [];
        this.labels.replaceChildren();
        this.renderer.clear();
    }

    /** A new part; the pose stays if it is the same one with more holes. */
    show({ part, walls, openings, measures }) {
        this.clear();
        const middle = measures.lo_mm.map((x, k) => -(x + measures.hi_mm[k]) / 2);
        this.radius = 0.5 * Math.hypot(...measures.hi_mm.map((x, k) => x - measures.lo_mm[k]));
        const inside = geometryOf(walls.corners, walls.triangles);
        inside.setAttribute("level", new THREE.BufferAttribute(new Float32Array(walls.corners.length / 3).fill(-1e9), 1));
        this.wall = new THREE.Mesh(inside, new THREE.ShaderMaterial({ ...wallShader, side: THREE.DoubleSide,
            uniforms: { up: { value: new THREE.Vector3(0, 0, 1) }, ink: { value: INK }, air: { value: AIR },
                line: { value: LINE }, scale: { value: 1 } } }));
        const skin = geometryOf(part.corners, skinOf(part, walls));
        this.skin = new THREE.Mesh(skin, new THREE.MeshPhongMaterial({ color: "#c9d8d6", transparent: true, opacity: 0.2,
            shininess: 30, depthWrite: false, side: THREE.FrontSide }));
        this.skin.renderOrder = 2;
        this.turned.add(this.wall, this.skin);
        this.indices = [this.wall, this.skin].map(({ geometry }) => ({ geometry, fine: geometry.index, coarse: coarsened(geometry, COARSE * this.radius) }));
        this.states = null;
        for (const o of openings) {
            const points = o.outline.length ? o.outline : circle(o);
            const rim = new THREE.BufferGeometry();
            rim.setAttribute("position", new THREE.BufferAttribute(Float32Array.from(points), 3));
            const loop = new THREE.LineLoop(rim, new THREE.LineBasicMaterial({ color: "#a3123f", linewidth: 2 }));
            loop.renderOrder = 3;
            this.turned.add(loop);
            if (o.planned)
                this.turned.add(boreOf(o));
        }
        for (const child of this.turned.children)
            child.position.set(...middle);
        this.middle = middle;
        this.openings = openings;
        this.labels.replaceChildren(...openings.map((o) => {
            const tag = document.createElement("span");
            tag.className = "tag";
            tag.textContent = o.letter;
            return tag;
        }));
        this.apart = 34;
        this.draw();
    }

    /** Beside each letter what its opening is for, in a word (in, air, shut), or nothing (null). */
    uses(list) {
        this.openings.forEach((o, i) => {
            this.labels.children[i].textContent = list ? `${o.letter} ${list[i]}` : o.letter;
            this.labels.children[i].classList.toggle("shut", Boolean(list) && list[i] === "shut");
        });
        this.apart = list ? 62 : 34;
        this.draw();
    }

    /** Up in the part's own coordinates. */
    get up() {
        return new THREE.Vector3(0, 1, 0).applyQuaternion(this.turned.quaternion.clone().invert()).toArray();
    }

    /** Shows of each triangle of the walls what is behind it: 0 paint, 1 a film, 2 nothing, 3 not known. */
    behind(state) {
        const geometry = this.wall.geometry.toNonIndexed(), each = new Float32Array(3 * state.length);
        for (let i = 0; i < each.length; i++)
            each[i] = state[Math.floor(i / 3)];
        geometry.setAttribute("state", new THREE.BufferAttribute(each, 1));
        const colours = Object.entries(BEHIND).map(([name, colour]) => [name, { value: new THREE.Color(colour) }]);
        this.levelsAgain();
        this.states = new THREE.Mesh(geometry, new THREE.ShaderMaterial({ ...stateShader, side: THREE.DoubleSide,
            uniforms: { ...Object.fromEntries(colours), scale: { value: 1 } } }));
        this.states.position.set(...this.middle);
        this.turned.add(this.states);
        this.wall.visible = false;
        this.draw();
    }

    /** Back from what is behind the skin to paint and air. */
    levelsAgain() {
        if (this.states) {
            this.turned.remove(this.states);
            this.states.geometry.dispose();
            this.states.material.dispose();
        }
        this.states = null;
        this.wall.visible = true;
    }

    levels(up, levels) {
        this.levelsAgain();
        const attribute = this.wall.geometry.getAttribute("level");
        for (let i = 0; i < levels.length; i++)
            attribute.array[i] = Number.isNaN(levels[i]) ? 1e9 : levels[i];
        attribute.needsUpdate = true;
        this.wall.material.uniforms.up.value.set(...up);
        this.draw();
    }

    /** Turns by angles in radians about the viewer's axes: upright, to the right, towards the viewer. */
    turn(about, tilt, roll = 0) {
        const spin = new THREE.Quaternion().setFromEuler(new THREE.Euler(tilt, about, roll));
        this.turned.quaternion.premultiply(spin).normalize();
        this.draw();
    }

    /** The turn that brings a direction of the part to the top by the shortest way. */
    towards(up) {
        const now = new THREE.Vector3(...up).normalize().applyQuaternion(this.turned.quaternion);
        return new THREE.Quaternion().setFromUnitVectors(now, new THREE.Vector3(0, 1, 0)).multiply(this.turned.quaternion);
    }

    draw() {
        if (this.wanted)
            return;
        this.wanted = true;
        const asked = performance.now();
        requestAnimationFrame(() => {
            this.wanted = false;
            this.keepUp(performance.now() - asked);
            this.paint();
        });
    }

    /** While it moves, as many pixels and corners as a slow machine draws some 30 times a second. A canvas of another size costs it more
     *  than a frame, so there are few sizes, and one is tried for some frames; these wait by turns, so that it is the longest of
     *  the last few that counts. */
    keepUp(waited) {
        this.waited = Math.max(waited, 0.8 * this.waited);
        if (!this.moving || ++this.tried < 6 || this.waited < 45)
            return;
        const fits = SIZES[this.size] * Math.sqrt(33 / this.waited);
        const next = SIZES.findIndex((size, i) => i > this.size && size <= fits);
        this.size = next < 0 ? SIZES.length - 1 : next;
        this.tried = 0;
    }

    /** The hand moves it, or lets it rest: then all pixels are drawn, and there may be more in the next move if it was quick. */
    move(moving) {
        if (!moving && this.moving && this.tried > 12 && this.waited < 20)
            this.size = Math.max(0, this.size - 1);
        if (moving && !this.moving)
            this.tried = 0;
        this.moving = moving;
        this.draw();
    }

    paint() {
        const start = performance.now(), { clientWidth: width, clientHeight: height } = this.canvas.parentElement;
        const ratio = Math.min(window.devicePixelRatio || 1, 2) * (this.moving ? SIZES[this.size] : 1);
        if (this.canvas.width !== Math.floor(width * ratio) || this.canvas.height !== Math.floor(height * ratio)) {
            this.renderer.setPixelRatio(ratio);
            this.renderer.setSize(width, height, false);
        }
        if (!this.wall)
            return;
        for (const { geometry, fine, coarse } of this.indices)
            geometry.setIndex(this.moving && this.size > 0 ? coarse : fine);
        for (const mesh of [this.wall, this.states])
            if (mesh)
                mesh.material.uniforms.scale.value = ratio;
        const far = 0.98 * this.radius / Math.sin(Math.PI / 12) / Math.min(1, width / height) / this.zoom;
        this.camera.aspect = width / height;
        this.camera.position.set(0, 0.18 * far, far);
        this.camera.lookAt(0, 0, 0);
        this.camera.near = Math.max(0.05 * this.radius, far - 2 * this.radius);
        this.camera.far = far + 3 * this.radius;
        this.camera.updateProjectionMatrix();
        this.renderer.render(this.scene, this.camera);
        const places = this.openings.map((o, i) => this.place(o, this.labels.children[i], width, height));
        spread(places, this.apart);
        places.forEach(([x, y], i) => { this.labels.children[i].style.transform = `translate(-50%, -50%) translate(${x}px, ${y}px)`; });
        document.documentElement.dataset.paint = performance.now() - start;
    }

    /** Where a place of the canvas, 0 to 1 to the right and down, lies on the skin: point and normal of the part. */
    pick(right, down) {
        const ray = new THREE.Raycaster();
        ray.setFromCamera(new THREE.Vector2(2 * right - 1, 1 - 2 * down), this.camera);
        return this.hit(ray);
    }

    /** Where the skin lies outward of a point of the part. */
    pickAbove(point, out) {
        const away = new THREE.Vector3(...out), from = new THREE.Vector3(...point).addScaledVector(away, 4 * this.radius);
        this.turned.updateMatrixWorld();
        return this.hit(new THREE.Raycaster(this.skin.localToWorld(from), away.negate().transformDirection(this.skin.matrixWorld)));
    }

    hit(ray) {
        if (!this.skin)
            return null;
        this.turned.updateMatrixWorld();
        for (const { geometry, fine } of this.indices) // not what is drawn while it moves
            geometry.setIndex(fine);
        const [first] = ray.intersectObject(this.skin, false);
        return first ? { point: this.skin.worldToLocal(first.point.clone()).toArray(), normal: first.face.normal.toArray() } : null;
    }

    /** Where a letter stands beside its opening; fainter where the part is in front of it. */
    place(opening, tag, width, height) {
        const out = new THREE.Vector3(...opening.normal).applyQuaternion(this.turned.quaternion);
        const at = new THREE.Vector3(...opening.center_mm.map((x, k) => x + this.middle[k])).applyQuaternion(this.turned.quaternion)
            .addScaledVector(out, 0.09 * this.radius);
        const behind = out.dot(this.camera.position) < 0;
        at.project(this.camera);
        tag.classList.toggle("behind", behind);
        return [(0.5 + 0.5 * at.x) * width, (0.5 - 0.5 * at.y) * height];
    }
}

/** Pushes places apart that are nearer to each other than that. */
function spread(places, least) {
    for (let round = 0; round < 60; round++)
        for (let i = 0; i < places.length; i++)
            for (let k = 0; k < i; k++) {
                const a = places[i], b = places[k], x = a[0] - b[0], y = a[1] - b[1], apart = Math.hypot(x, y);
                const [ux, uy] = apart > 0.01 ? [x / apart, y / apart] : [1, 0], push = 0.5 * Math.max(0, least - apart);
                a[0] += push * ux;
                a[1] += push * uy;
                b[0] -= push * ux;
                b[1] -= push * uy;
            }
}

/** A bore that is not drilled yet, as it will be: its wall, darker the deeper, and a dark end where it meets the cavity. */
function boreOf(o) {
    const rim = circle(o), n = rim.length / 3, deep = Math.max(o.bore_length_mm, 0.2 * o.diameter_mm);
    const end = rim.map((x, k) => x - deep * o.normal[k % 3]), middle = o.center_mm.map((x, k) => x - deep * o.normal[k]);
    const triangles = Array.from({ length: n }, (_, i) => [i, (i + 1) % n]).flatMap(([i, j]) => [i, n + i, j, j, n + i, n + j, 2 * n, n + j, n + i]);
    const colours = [[n, RIM], [n + 1, DEEP]].flatMap(([count, colour]) => Array.from({ length: count }, () => colour.toArray()).flat());
    const geometry = geometryOf([...rim, ...end, ...middle], Uint32Array.from(triangles));
    geometry.setAttribute("color", new THREE.BufferAttribute(Float32Array.from(colours), 3));
    const bore = new THREE.Mesh(geometry, new THREE.MeshBasicMaterial({ vertexColors: true, side: THREE.DoubleSide }));
    bore.renderOrder = 3;
    return bore;
}

/** The rim of a bore that is not drilled yet. */
function circle({ center_mm: c, normal, diameter_mm: d }) {
    const n = new THREE.Vector3(...normal), a = new THREE.Vector3(Math.abs(n.x) < 0.9 ? 1 : 0, Math.abs(n.x) < 0.9 ? 0 : 1, 0).cross(n).normalize();
    const b = n.clone().cross(a);
    return Array.from({ length: 32 }, (_, i) => {
        const t = (2 * Math.PI * i) / 32, r = d / 2;
        return [0, 1, 2].map((k) => c[k] + r * (Math.cos(t) * a.getComponent(k) + Math.sin(t) * b.getComponent(k)));
    }).flat();
}
