// SPDX-License-Identifier: MIT
// The library in a worker: the page that asks stays free, and stops it by a flag in shared memory.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { Worker, isMainThread, parentPort, workerData } from "node:worker_threads";
import { load } from "../../bindings/js/vug.js";

if (!isMainThread) {
    const vug = await load(workerData.module);
    vug.cancelFlag = workerData.flag;
    const cavities = vug.mesh(workerData.gourd, "gourd.stl").cavities();
    vug.progress = (fraction) => { parentPort.postMessage({ fraction }); };
    try {
        cavities.scan({ pose_count: workerData.poses, columns_across: 100 });
        parentPort.postMessage({ done: true });
    } catch (error) {
        parentPort.postMessage({ code: error.code });
    }
} else {
    const gourd = readFileSync(process.env.VUG_SRCDIR + "/examples/gourd.stl");
    const module = await WebAssembly.compile(readFileSync(process.env.VUG_WASM));

    const run = (poses, stop) => new Promise((resolve, reject) => {
        const flag = new Int32Array(new SharedArrayBuffer(4)), told = [];
        const worker = new Worker(new URL(import.meta.url), { workerData: { gourd, module, flag, poses } });
        worker.on("error", reject);
        worker.on("message", (message) => {
            told.push(message);
            if (stop && "fraction" in message)
                Atomics.store(flag, 0, 1);
            if ("done" in message || "code" in message)
                worker.terminate().then(() => resolve(told));
        });
    });

    test("a worker tells its progress and finishes", async () => {
        const told = await run(50, false);
        assert.deepEqual(told.at(-1), { done: true });
        assert.ok(told.some((m) => m.fraction > 0));
    });

    test("it stops when the flag is set", async () => {
        const told = await run(1000000, true);
        assert.deepEqual(told.at(-1), { code: "VUG_ERR_CANCELLED" });
    });
}
