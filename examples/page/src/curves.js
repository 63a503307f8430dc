// SPDX-License-Identifier: MIT
// A pour or a drain as curves, one chart above the other on one axis: told apart by their titles, never by colour.
const WIDE = 340, HIGH = 62, LEFT = 44, GAP = 30;

const round = (x) => (x >= 100 ? x.toFixed(0) : x >= 10 ? x.toFixed(1) : x.toPrecision(2));

/** Titles and values of what there is to show. */
export function quantities({ run, timed, rows }) {
    const along = timed ? rows.map((r) => r.time_s) : rows.map((r) => r.liquid_mm3 / 1000);
    const list = [{ title: `${run === "drain" ? "Level that runs out" : "Highest liquid"}, mm over the lowest place`, values: rows.map((r) => r.level_mm) }];
    if (timed) {
        const rate = rows.map((r, i) => {
            const a = rows[Math.max(0, i - 1)], b = rows[Math.min(rows.length - 1, i + 1)];
            return (a.liquid_mm3 - b.liquid_mm3) / 1000 / (b.time_s - a.time_s);
        });
        list.push({ title: "Inside, mL", values: rows.map((r) => r.liquid_mm3 / 1000) }, { title: "Runs out, mL/s", values: rate });
    } else if (rows.some((r) => r.pressure_pa > 0.5)) {
        list.push({ title: "Pressure at the inlet, Pa", values: rows.map((r) => r.pressure_pa) });
    }
    return { along, unit: timed ? "s" : "mL inside", list };
}

/** Draws them into an svg; at: the share of the axis that is shown now. */
export function draw(svg, told, at) {
    const { along, unit, list } = quantities(told), high = list.length * (HIGH + GAP) + 20;
    const first = along[0], span = along.at(-1) - first || 1, reverse = span < 0;
    const x = (v) => LEFT + (v - first) / span * (WIDE - LEFT - 8), parts = [];
    list.forEach(({ title, values }, i) => {
        const top = i * (HIGH + GAP) + 18, most = Math.max(...values, 1e-9), y = (v) => top + HIGH - Math.max(0, v) / most * HIGH;
        parts.push(`<text x="${LEFT}" y="${top - 5}">${title}</text><text class="end" x="${LEFT - 5}" y="${top + 10}">${round(most)}</text>`,
            `<text class="end" x="${LEFT - 5}" y="${top + HIGH}">0</text><path class="frame" d="M${LEFT} ${top}V${top + HIGH}H${WIDE - 8}"/>`,
            `<path class="curve" d="M${values.map((v, k) => `${x(along[k]).toFixed(1)} ${y(v).toFixed(1)}`).join("L")}"/>`);
    });
    const now = LEFT + at * (WIDE - LEFT - 8), foot = list.length * (HIGH + GAP) + 6;
    parts.push(`<path class="now" d="M${now.toFixed(1)} 14V${foot - 16}"/><text x="${LEFT}" y="${foot}">${round(first)}</text>`,
        `<text class="end" x="${WIDE - 8}" y="${foot}">${round(along.at(-1))} ${unit}</text>`);
    svg.setAttribute("viewBox", `0 0 ${WIDE} ${high}`);
    svg.innerHTML = parts.join("");
    svg.setAttribute("aria-label", list.map(({ title, values }) => `${title}: from ${round(values[0])} to ${round(values.at(-1))}, at most ${round(Math.max(...values))}`)
        .join(". ") + `. Along ${round(along[0])} to ${round(along.at(-1))} ${unit}${reverse ? ", falling" : ""}.`);
}
