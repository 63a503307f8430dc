// SPDX-License-Identifier: MIT
// The library in a worker of the page that makes one plan. What makes plans is as large as all the rest, so it is a module of
// its own, which starts when a plan is asked for.
import { CONSTANTS } from "../../../bindings/js/vug.js";
import { answer, openingsOf, RINSE } from "./answer.js";

const ONE_LINE = 10000; // a paragraph of the plan's text, which the page breaks itself
let vug;

/** As the plan's JSON tells it. */
function skinOf({ skin_mm2: area_mm2, backed_mm2, filmed_mm2, bare_mm2 }) {
    return { area_mm2, backed_mm2, filmed_mm2, bare_mm2 };
}

answer((made) => { vug = made; }, {
    /** A plan, as vug-plan's JSON has it, as far as the page needs that, with its words. */
    plan({ bytes, name, format, holes, paint }) {
        const cavities = vug.mesh(bytes, name, { format }).cavities({ holes });
        const plan = cavities.plan({ fluid: vug.fluid(paint), solvent: vug.fluid(RINSE) }), holed = plan.cavities(0);
        const rows = (flat) => Array.from({ length: flat.length / 3 }, (_, i) => Array.from(flat.slice(3 * i, 3 * i + 3)));
        const told = { text: plan.text({ part: name, paint, rinse: RINSE, width: ONE_LINE }), paint,
            rinse: RINSE,
            spacing_mm: plan.get(0).spacing_mm, skin: skinOf(plan.get(0)), given_steps: 0, bores: plan.bores(0),
            openings: openingsOf(holed, (i) => plan.letter(i)).map((o) => ({ label: o.letter, center_mm: o.center_mm })),
            drain_steps: plan.steps(0, CONSTANTS.VUG_PLAN_DRAIN).map((s) => ({ up: s.up, open: Array.from(s.open),
                outlet: Array.from(s.vent), residue_mm3: s.trapped_mm3 })),
            steps: plan.steps(0).map((s) => ({ up: s.up, way: rows(s.way), open: Array.from(s.open),
                feed: Array.from(s.feed, (opening, i) => ({ opening, most_mm3: s.feed_most_mm3[i] })) })) };
        plan.free();
        return told;
    },
});
