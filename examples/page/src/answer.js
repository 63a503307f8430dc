// SPDX-License-Identifier: MIT
// What the page's workers share. Asks come by number; each gets one answer.
import { load } from "../../../bindings/js/vug.js";

export const RINSE = "isopropanol";

export function openingsOf(found, letter) {
    return Array.from({ length: found.openingCount }, (_, i) => {
        const o = found.opening(i);
        const outline = o.planned ? [] : Array.from(found.outline(i));
        return { ...o, letter: letter ? letter(i) : o.letter, outline };
    });
}

/** Answers asks by the functions of does. started: gets the library, once it is loaded. */
export function answer(started, does) {
    const start = async ({ wasm }) => {
        const vug = await load(wasm);
        vug.progress = (fraction, stage) => { postMessage({ progress: fraction, stage }); };
        started(vug);
        return { version: vug.version };
    };
    onmessage = async ({ data }) => {
        try {
            const told = await (data.what === "start" ? start : does[data.what])(data);
            postMessage({ id: data.id, answer: told }, [told.levels && told.levels.buffer].filter(Boolean));
        } catch (error) {
            postMessage({ id: data.id, error: error.message, code: error.code || "" });
        }
    };
}
