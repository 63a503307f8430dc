/* SPDX-License-Identifier: MIT
 * One more or one less cavity in a set that is sorted and numbered. */
#include "cavity/insert.h"

#include "cavity/cavity.h"
#include "cavity/set.h"

#include <assert.h>
#include <string.h>

static vug_status make_room(vug_context *ctx, vug_cavities *c, size_t openings)
{
    vugi_cavity *cavity = vugi_realloc(&c->mem, c->cavity, c->cavity_count + 1, sizeof *cavity);
    if (!cavity)
        return vugi_fail_memory(ctx);
    c->cavity = cavity;
    vugi_opening *opening = vugi_realloc(&c->mem, c->opening, c->opening_count + openings,
        sizeof *opening);
    if (!opening)
        return vugi_fail_memory(ctx);
    c->opening = opening;
    void *body = vugi_realloc(&c->mem, c->body, c->cavity_count + 1, sizeof *c->body);
    if (!body)
        return vugi_fail_memory(ctx);
    c->body = body;
    return VUG_OK;
}

static void shift_tags(vugi_cavity *cavity, size_t by)
{
    for (size_t t = 0; t < cavity->mesh->triangle_count; t++)
        if (cavity->tag[t] >= 0)
            cavity->tag[t] += (int32_t)by;
}

vug_status vugi_cavities_insert(vug_context *ctx, vug_cavities *c, const vugi_cavity *cavity,
    const vugi_opening *opening, size_t opening_count)
{
    size_t at = 0, first = 0;
    vug_status status = make_room(ctx, c, opening_count);
    if (status)
        return status;
    while (at < c->cavity_count && c->cavity[at].volume >= cavity->volume)
        at++;
    while (first < c->opening_count && c->opening[first].cavity < (int32_t)at)
        first++;

    for (size_t i = at; i < c->cavity_count; i++)
        shift_tags(c->cavity + i, opening_count);
    memmove(c->cavity + at + 1, c->cavity + at, (c->cavity_count - at) * sizeof *c->cavity);
    c->cavity[at] = *cavity;
    shift_tags(c->cavity + at, first);
    c->cavity_count++;

    for (size_t i = first; i < c->opening_count; i++)
        c->opening[i].cavity++;
    memmove(c->opening + first + opening_count, c->opening + first,
        (c->opening_count - first) * sizeof *c->opening);
    for (size_t i = 0; i < opening_count; i++) {
        c->opening[first + i] = opening[i];
        c->opening[first + i].cavity = (int32_t)at;
    }
    c->opening_count += opening_count;
    for (size_t i = 0; i < c->bore_count; i++)
        if (c->bore[i].body >= (int32_t)at)
            c->bore[i].body++;
    for (size_t i = 0; i < c->cavity_count; i++)
        c->body[i] = c->cavity[i].mesh;
    return VUG_OK;
}

void vugi_cavities_remove(vug_cavities *c, size_t index)
{
    assert(index < c->cavity_count);
    size_t first = 0, count = 0, bores = 0;
    while (first < c->opening_count && c->opening[first].cavity < (int32_t)index)
        first++;
    for (; first + count < c->opening_count && c->opening[first + count].cavity == (int32_t)index;
         count++)
        vugi_free(&c->mem, c->opening[first + count].outline);
    memmove(c->opening + first, c->opening + first + count,
        (c->opening_count - first - count) * sizeof *c->opening);
    c->opening_count -= count;
    for (size_t i = first; i < c->opening_count; i++)
        c->opening[i].cavity--;

    vugi_cavity_free(&c->mem, c->cavity + index);
    memmove(c->cavity + index, c->cavity + index + 1,
        (c->cavity_count - index - 1) * sizeof *c->cavity);
    c->cavity_count--;
    for (size_t i = 0; i < c->cavity_count; i++) {
        vugi_cavity *cavity = c->cavity + i;
        for (size_t t = 0; i >= index && t < cavity->mesh->triangle_count; t++)
            if (cavity->tag[t] >= 0)
                cavity->tag[t] -= (int32_t)count;
        c->body[i] = cavity->mesh;
    }
    for (size_t i = 0; i < c->bore_count; i++) {
        if (c->bore[i].body == (int32_t)index)
            continue;
        c->bore[bores] = c->bore[i];
        c->bore[bores++].body -= c->bore[i].body > (int32_t)index;
    }
    c->bore_count = bores;
}
