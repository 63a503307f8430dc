// SPDX-License-Identifier: MIT
// One page out of all: node build.mjs PAGE.wasm PLAN.wasm OUT.html
import { build } from "esbuild";
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const [page_wasm, plan_wasm, out] = process.argv.slice(2);
const here = (name) => fileURLToPath(new URL(name, import.meta.url));

async function bundle(entry, define = {}) {
    const made = await build({ entryPoints: [here(entry)], bundle: true, minify: true, write: false, format: "iife",
        target: "es2022", define: { "import.meta.url": "undefined", ...define }, external: ["node:*"],
        legalComments: "inline", logLevel: "warning" });
    return made.outputFiles[0].text;
}

const packed = (wasm) => gzipSync(readFileSync(wasm), { level: 9 });
const modules = { PAGE: packed(page_wasm), PLAN: packed(plan_wasm) };
const script = await bundle("src/main.js", {
    PAGE_WORKER: JSON.stringify(await bundle("src/worker.js")), PAGE_WASM: JSON.stringify(modules.PAGE.toString("base64")),
    PLAN_WORKER: JSON.stringify(await bundle("src/planner.js")), PLAN_WASM: JSON.stringify(modules.PLAN.toString("base64")) });
const page = readFileSync(here("src/index.html"), "utf8")
    .replace("/*STYLE*/", () => readFileSync(here("src/style.css"), "utf8"))
    .replace("/*SCRIPT*/", () => script.replaceAll("</script", "<\\/script"));
writeFileSync(out, page);
console.log(`${out}: ${(page.length / 1e6).toFixed(2)} MB, of which by gzip the library ${(modules.PAGE.length / 1e3).toFixed(0)} kB, `
    + `with what makes plans ${(modules.PLAN.length / 1e3).toFixed(0)} kB`);
if (page.length > 3e6)
    throw new Error("the page is over 3 MB");
