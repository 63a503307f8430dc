/* SPDX-License-Identifier: MIT
 * A hash table with linear probing. Points come in blocks: hash all, fetch their slots ahead of
 * use, then look up. That hides the memory's latency, which is most of the cost. */
#include "mesh/weld.h"

#include <string.h>

enum { BLOCK = 64, SLOTS_MIN = 64 };

static uint64_t bits(double value)
{
    uint64_t b;
    memcpy(&b, &value, sizeof b);
    return b;
}

/* Multiply and fold, so that every bit of x, y and z reaches the low bits. The constants are
 * odd numbers with mixed bits; any such do. */
static uint64_t hash_point(const double p[3])
{
    uint64_t h = bits(p[0]) * UINT64_C(0x9E3779B97F4A7C15);
    h = ((h ^ (h >> 32)) + bits(p[1])) * UINT64_C(0xC2B2AE3D27D4EB4F);
    h = ((h ^ (h >> 29)) + bits(p[2])) * UINT64_C(0x165667B19E3779F9);
    return h ^ (h >> 32);
}

static bool same(const double *a, const double *b)
{
    return a[0] == b[0] && a[1] == b[1] && a[2] == b[2];
}

/* Makes the table ready for want vertices at a load of at most one half. */
static bool grow_slots(vugi_weld *weld, size_t want)
{
    size_t size = SLOTS_MIN;
    while (size / 2 < want)
        size *= 2;
    uint32_t *slot = vugi_calloc(weld->mem, size, sizeof *slot);
    if (!slot)
        return false;
    vugi_free(weld->mem, weld->slot);
    weld->slot = slot;
    weld->mask = size - 1;
    for (size_t v = 0; v < weld->count; v++) {
        size_t at = (size_t)hash_point(weld->xyz + 3 * v) & weld->mask;
        while (slot[at])
            at = (at + 1) & weld->mask;
        slot[at] = (uint32_t)v + 1;
    }
    return true;
}

vug_status vugi_weld_begin(vug_context *ctx, vugi_weld *weld, size_t expected)
{
    const vugi_allocator *mem = &ctx->mem;
    *weld = (vugi_weld){.mem = mem};
    if (expected < 16)
        expected = 16;
    if (vugi_reserve(mem, &weld->xyz, &weld->capacity, expected, 3 * sizeof(double))
        && grow_slots(weld, expected))
        return VUG_OK;
    vugi_weld_free(weld);
    return vugi_fail_memory(ctx);
}

static vug_status add(vug_context *ctx, vugi_weld *weld, const double p[3], uint64_t hash,
    uint32_t *index)
{
    size_t at = (size_t)hash & weld->mask;
    for (uint32_t v; (v = weld->slot[at]) != 0; at = (at + 1) & weld->mask) {
        if (same(weld->xyz + 3 * (size_t)(v - 1), p)) {
            *index = v - 1;
            return VUG_OK;
        }
    }
    if (weld->count >= UINT32_MAX - 1)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "more than %lu vertices",
            (unsigned long)(UINT32_MAX - 1));
    if (!vugi_reserve(weld->mem, &weld->xyz, &weld->capacity, weld->count + 1, 3 * sizeof *p))
        return vugi_fail_memory(ctx);
    memcpy(weld->xyz + 3 * weld->count, p, 3 * sizeof *p);
    weld->slot[at] = (uint32_t)weld->count + 1;
    *index = (uint32_t)weld->count++;
    if (weld->count <= weld->mask / 3 * 2)
        return VUG_OK;
    return grow_slots(weld, 2 * weld->count) ? VUG_OK : vugi_fail_memory(ctx);
}

vug_status vugi_weld_points(vug_context *ctx, vugi_weld *weld, const double *xyz, size_t count,
    uint32_t *index)
{
    double p[3 * BLOCK];
    uint64_t hash[BLOCK];
    for (size_t done = 0; done < count; done += BLOCK) {
        size_t n = count - done < BLOCK ? count - done : BLOCK;
        for (size_t i = 0; i < 3 * n; i++)
            p[i] = xyz[3 * done + i] + 0.0; /* -0 becomes +0 */
        for (size_t i = 0; i < n; i++) {
            hash[i] = hash_point(p + 3 * i);
            VUGI_PREFETCH(weld->slot + ((size_t)hash[i] & weld->mask));
        }
        for (size_t i = 0; i < n; i++) {
            uint32_t v = weld->slot[(size_t)hash[i] & weld->mask];
            if (v)
                VUGI_PREFETCH(weld->xyz + 3 * (size_t)(v - 1));
        }
        for (size_t i = 0; i < n; i++) {
            vug_status status = add(ctx, weld, p + 3 * i, hash[i], index + done + i);
            if (status)
                return status;
        }
    }
    return VUG_OK;
}

double *vugi_weld_take(vugi_weld *weld)
{
    double *xyz = weld->xyz;
    double *cut = vugi_realloc(weld->mem, xyz, weld->count, 3 * sizeof *cut);
    weld->xyz = NULL;
    vugi_weld_free(weld);
    return cut ? cut : xyz;
}

void vugi_weld_free(vugi_weld *weld)
{
    if (!weld->mem)
        return;
    vugi_free(weld->mem, weld->xyz);
    vugi_free(weld->mem, weld->slot);
    *weld = (vugi_weld){.mem = NULL};
}
