// SPDX-License-Identifier: MIT
// The calls of vug.h that a program makes through vug.js, and what begins each struct that it hands over: node calls.mjs vug.js
// PROGRAM.js... A function or class of vug.js counts when its name stands in the program or in another that counts, a
// method when it stands there behind a point and its class counts; words in comments count for nothing.
import { readFileSync } from "node:fs";

const [vug, ...programs] = process.argv.slice(2)
    .map((file) => readFileSync(file, "utf8").replace(/\/\*.*?\*\/|(?<=^|\s)\/\/[^\n]*/gms, ""));
let owner; // the class that what stands indented is a method of
const heads = [...vug.matchAll(/^(?:( {4})(?:get |async |static )?|(?:export )?(?:async )?function |(?:export )?(class )|const )([A-Za-z_]\w*)/gm)]
    .map(([, method, isClass, name], at, all) => {
        if (!method)
            owner = isClass && name;
        return { at: all[at].index, method, name, owner };
    }).filter((head) => !head.method || head.owner);
const pieces = heads.map(({ at, method, name, owner: of }, i) => ({ of: method && new RegExp(`\\b${of}\\b`),
    named: new RegExp(`${method ? "\\." : "\\b"}${name}\\b`), text: vug.slice(at, heads[i + 1]?.at) }));
const counted = new Set();
let text = programs.join("\n") + " .constructor load", before = -1;
while (counted.size !== before) {
    before = counted.size;
    for (const piece of pieces)
        if (!counted.has(piece) && piece.named.test(text) && (!piece.of || piece.of.test(text))) {
            counted.add(piece);
            text += piece.text;
        }
}
const calls = new Set([...counted].flatMap(({ text: own }) => own.match(/vug_[a-z0-9_]+/g) || []));
console.log([...calls].sort().flatMap((name) => [name, `${name}_init`]).join("\n"));
