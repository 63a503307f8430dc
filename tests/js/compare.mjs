// SPDX-License-Identifier: MIT
// Numbers of the WebAssembly build beside those of the native one. What is the same sum on both differs by
// rounding alone: 1e-9 of the larger, or of 1 for what should be 0.
import assert from "node:assert/strict";

export function near(got, wanted, where = "", share = 1e-9) {
    if (typeof wanted === "number") {
        const scale = Math.max(1, Math.abs(got), Math.abs(wanted));
        assert.ok(Math.abs(got - wanted) <= share * scale, `${where}: ${got}, native ${wanted}`);
    } else if (wanted === null) {
        assert.ok(Number.isNaN(got), `${where}: ${got}, native none`);
    } else if (wanted && typeof wanted === "object") {
        assert.ok(got && typeof got === "object", `${where}: ${got}`);
        if (Array.isArray(wanted))
            assert.equal(got.length, wanted.length, `${where}: how many`);
        for (const [key, value] of Object.entries(wanted))
            near(got[key], value, `${where}.${key}`, share);
    } else {
        assert.equal(got, wanted, where);
    }
}

export function rows(flat, width) {
    return Array.from({ length: flat.length / width }, (_, i) => Array.from(flat.slice(width * i, width * (i + 1))));
}
