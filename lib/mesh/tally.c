/* SPDX-License-Identifier: MIT
 * Health of edges. */
#include "mesh/tally.h"

enum { BLOCK = 65536 };

typedef struct tally {
    uint32_t count;
    int64_t balance;
} tally;

static void close_tally(tally *piece, vug_mesh_measures *measures)
{
    if (piece->count == 1)
        measures->edges_open++;
    else if (piece->balance != 0)
        measures->edges_flipped++;
    if (piece->count > 2)
        measures->edges_nonmanifold++;
    piece->count = 0;
    piece->balance = 0;
}

vug_status vugi_edges_tally(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    const uint32_t *of, size_t piece_count, vug_mesh_measures *measures)
{
    tally *pieces = vugi_calloc(&ctx->mem, piece_count, sizeof *pieces);
    if (!pieces)
        return vugi_fail_memory(ctx);
    vug_status status = VUG_OK;
    size_t looked = 0;
    for (size_t first = 0, end; first < edges->count && !status; first = end) {
        end = vugi_edges_next(mesh, edges, first);
        if (first >= looked) {
            status = vugi_step(ctx, 0.0);
            looked = first + BLOCK;
        }
        for (size_t i = first; i < end; i++) {
            uint32_t half = edges->half[i];
            tally *piece = &pieces[of ? of[half / 3] : 0];
            piece->count++;
            piece->balance += vugi_edge_from(mesh, half) < vugi_edge_to(mesh, half) ? 1 : -1;
        }
        for (size_t i = first; i < end; i++) {
            size_t piece = of ? of[edges->half[i] / 3] : 0;
            if (pieces[piece].count)
                close_tally(&pieces[piece], &measures[piece]);
        }
    }
    for (size_t p = 0; p < piece_count; p++)
        measures[p].closed = measures[p].edges_open == 0 && measures[p].edges_flipped == 0;
    vugi_free(&ctx->mem, pieces);
    return status;
}
