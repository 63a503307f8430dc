// SPDX-License-Identifier: MIT
// A map of all poses: the ball of directions laid open in two discs, the part's top half up on the left, its base up
// on the right; areas are true (Lambert's azimuthal projection). Darker is more trapped air.
const STEPS = [[0.005, "#f4ead2"], [0.02, "#e9cf98"], [0.05, "#dda45f"], [0.1, "#c4713a"], [0.2, "#9c4a26"], [0.5, "#6b2a1c"], [1.01, "#3a1613"]];
const SIDES = [["right", 1, 0], ["left", -1, 0], ["back", 0, 1], ["front", 0, -1]];

export class Globe {
    /** chosen: gets a direction that is picked; told: the share of air that the map has for the pose held, once it has one. */
    constructor(canvas, chosen, told) {
        this.canvas = canvas;
        this.told = told;
        this.scan = null;
        this.now = [0, 0, 1];
        canvas.addEventListener("click", (event) => {
            const box = canvas.getBoundingClientRect();
            const up = this.direction((event.clientX - box.left) / box.width * canvas.width,
                (event.clientY - box.top) / box.height * canvas.height);
            if (up)
                chosen(up);
        });
        canvas.addEventListener("keydown", (event) => {
            const move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
            if (!move)
                return;
            event.preventDefault();
            const [x, y, r] = this.place(this.now), s = 0.06 * r;
            chosen(this.direction(x + move[0] * s, y - move[1] * s) || this.mirror(this.now));
        });
    }

    mirror([x, y, z]) {
        return [x, y, z > 0 ? -0.05 : 0.05];
    }

    get discs() {
        const { width, height } = this.canvas, r = Math.min(width / 4 - 34, height / 2 - 26);
        return [[width / 4, height / 2, r, 1], [3 * width / 4, height / 2, r, -1]];
    }

    /** The pose at a place of the picture, or null beside the discs. */
    direction(px, py) {
        for (const [cx, cy, r, side] of this.discs) {
            const x = (px - cx) / r, y = (cy - py) / r, q = x * x + y * y;
            if (q <= 1) {
                const z = 1 - q, s = Math.sqrt(2 - q);
                return [side * x * s, y * s, side * z];
            }
        }
        return null;
    }

    place([x, y, z]) {
        const [cx, cy, r, side] = this.discs[z >= 0 ? 0 : 1], s = 1 / Math.sqrt(1 + Math.abs(z));
        return [cx + side * x * s * r, cy - y * s * r, r];
    }

    show(scan, capacity) {
        this.scan = scan;
        this.capacity = capacity;
        const { width, height } = this.canvas;
        const context = this.canvas.getContext("2d"), image = context.createImageData(width, height);
        for (let py = 0; py < height; py++)
            for (let px = 0; px < width; px++) {
                const up = this.direction(px + 0.5, py + 0.5);
                if (!up)
                    continue;
                const share = this.share(up), hex = STEPS.find(([limit]) => share < limit)[1];
                for (let k = 0; k < 3; k++)
                    image.data[4 * (py * width + px) + k] = parseInt(hex.slice(1 + 2 * k, 3 + 2 * k), 16);
                image.data[4 * (py * width + px) + 3] = 255;
            }
        this.image = image;
        this.draw();
    }

    clear() {
        this.scan = this.image = null;
        this.draw();
    }

    /** Trapped share between the poses looked at: the nearest three, by nearness. */
    share(up) {
        const { ups, trapped_mm3: air } = this.scan, count = air.length;
        const near = [[-2, 0], [-2, 0], [-2, 0]];
        const middle = (1 - up[2]) / 2 * count, reach = 4 * Math.sqrt(count) * Math.sqrt(Math.max(0.12, 1 - up[2] * up[2]));
        for (let i = Math.max(0, Math.floor(middle - reach)); i < Math.min(count, middle + reach); i++) {
            const dot = up[0] * ups[3 * i] + up[1] * ups[3 * i + 1] + up[2] * ups[3 * i + 2];
            if (dot > near[2][0]) {
                near[2] = [dot, i];
                near.sort((a, b) => b[0] - a[0]);
            }
        }
        let sum = 0, weight = 0;
        for (const [dot, i] of near) {
            const w = 1 / (1 - dot + 1e-4);
            sum += w * air[i];
            weight += w;
        }
        return sum / weight / this.capacity;
    }

    /** The picture with the pose that is held. */
    draw(now = this.now) {
        this.now = now;
        if (this.scan)
            this.told(this.share(now));
        const c = this.canvas.getContext("2d"), { width, height } = this.canvas;
        c.clearRect(0, 0, width, height);
        if (this.image)
            c.putImageData(this.image, 0, 0);
        c.font = `${Math.round(height / 15)}px system-ui, sans-serif`;
        c.textAlign = "center";
        c.textBaseline = "middle";
        for (const [cx, cy, r, side] of this.discs) {
            c.strokeStyle = c.fillStyle = "#4b5a5f";
            c.lineWidth = 1.5;
            c.beginPath();
            c.arc(cx, cy, r, 0, 7);
            c.stroke();
            for (const [word, x, y] of SIDES) {
                c.save();
                c.translate(cx + side * x * (r + 15), cy - y * (r + 14));
                if (x)
                    c.rotate(side * x * Math.PI / 2);
                c.fillText(word, 0, 0);
                c.restore();
            }
        }
        const [x, y] = this.place(now);
        for (const [wide, colour] of [[6, "#ffffff"], [2.5, "#0d3b4a"]]) {
            c.strokeStyle = colour;
            c.lineWidth = wide;
            c.beginPath();
            c.arc(x, y, 9, 0, 7);
            c.moveTo(x - 15, y);
            c.lineTo(x + 15, y);
            c.moveTo(x, y - 15);
            c.lineTo(x, y + 15);
            c.stroke();
        }
    }
}

export const LEGEND = STEPS.map(([limit, colour], i) => [colour, i === STEPS.length - 1 ? `over ${100 * STEPS[i - 1][0]} %` : `under ${100 * limit} %`]);
