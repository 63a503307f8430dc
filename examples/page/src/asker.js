// SPDX-License-Identifier: MIT
// A worker that answers: ask(what, more) gives a promise. wasm: the module's bytes, or a promise of them.
export class Asker {
    constructor(source, wasm) {
        this.url = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
        this.wasm = wasm;
        this.told = () => {};
        this.begin();
    }

    begin() {
        this.waiting = new Map();
        this.number = 0;
        this.worker = new Worker(this.url);
        this.worker.onmessage = ({ data }) => {
            if ("progress" in data) {
                this.told(data.progress, data.stage);
                return;
            }
            const { good, bad } = this.waiting.get(data.id);
            this.waiting.delete(data.id);
            if (data.error !== undefined)
                bad(Object.assign(new Error(data.error), { code: data.code }));
            else
                good(data.answer);
        };
        this.worker.onerror = (event) => {
            for (const { bad } of this.waiting.values())
                bad(new Error(event.message || "the worker stopped"));
            this.waiting.clear();
        };
        this.ready = Promise.resolve(this.wasm).then((wasm) => this.ask("start", { wasm }));
    }

    ask(what, more = {}) {
        return new Promise((good, bad) => {
            const id = ++this.number;
            this.waiting.set(id, { good, bad });
            this.worker.postMessage({ id, what, ...more });
        });
    }

    /** Stops whatever it does. */
    end() {
        this.worker.terminate();
        for (const { bad } of this.waiting.values())
            bad(Object.assign(new Error("stopped"), { code: "VUG_ERR_CANCELLED" }));
    }

    /** The same, and begins anew without a part. */
    restart() {
        this.end();
        this.begin();
        return this.ready;
    }
}
