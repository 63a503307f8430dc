/* SPDX-License-Identifier: MIT
 * gravity: what must hold of the graph of any cavity in any pose, whole and cut: each arc hangs in the two nodes that
 * it names and in no other (a graph has two ends of each arc, by definition), and nothing of the volume is lost. And
 * which arc a span lies in is what the section itself shows at that height. */
#include "gravity/cut.h"
#include "gravity/graph.h"
#include "gravity/section.h"
#include "gravity/trace.h"

#include "column/columns.h"

#include "shapes.h"
#include "test.h"

/* A ring-shaped dome and one in its middle over a common room: two rise from a node one way up, two hang from it the
 * other way up. */
static vug_mesh *two_domes(vug_context *ctx)
{
    const double inner[] = {0, 0, 20, 0, 20, 30, 12, 30, 12, 20, 10, 20, 10, 25, 0, 25};
    shape s = {0};
    shape_revolve(&s, inner, 8, 90, 0);
    return shape_mesh(ctx, &s);
}

static const double ups[][3] = {{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {0.36, 0.48, 0.8},
    {0.6, 0, -0.8}};

static int times_in(const vugi_graph *g, uint32_t first, uint32_t count, uint32_t arc)
{
    int times = 0;
    for (uint32_t i = first; i < first + count; i++)
        times += g->link[i] == arc;
    return times;
}

static void check_links(const vugi_graph *g)
{
    size_t ends = 0;
    for (uint32_t n = 0; n < g->node_count; n++)
        ends += g->node[n].downs + g->node[n].ups;
    ck_assert_uint_eq(ends, 2 * g->arc_count);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        const vugi_node *from = g->node + g->arc[a].from, *to = g->node + g->arc[a].to;
        ck_assert_int_eq(times_in(g, from->link + from->downs, from->ups, a), 1);
        ck_assert_int_eq(times_in(g, to->link, to->downs, a), 1);
        ck_assert(from->z == g->arc[a].lo && to->z == g->arc[a].hi && from->z < to->z);
    }
}

static double volume_below(const vugi_graph *g, double z)
{
    double volume = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        volume += vugi_arc_volume(g, a, z);
    return volume;
}

START_TEST(arcs_hang_in_their_nodes)
{
    enum { HEIGHTS = 40 };
    vug_context *ctx = test_context();
    vug_mesh *mesh = two_domes(ctx);
    const vugi_bodies bodies = {.mesh = (const vug_mesh *const[]){mesh}, .count = 1};
    vugi_columns c = {.nx = 0};
    vugi_graph g;
    double before[HEIGHTS];
    ck_ok(ctx, vugi_columns_build(ctx, &ctx->mem, &bodies, ups[_i], 0.5, &c));
    ck_ok(ctx, vugi_graph_build(ctx, &ctx->mem, &c, 0, 0.0, NULL, NULL, 0, &g));
    check_links(&g);
    ck_near(volume_below(&g, c.zhi), vugi_columns_volume(&c), 1e-9);
    for (int i = 0; i < HEIGHTS; i++)
        before[i] = volume_below(&g, c.zlo + (c.zhi - c.zlo) * i / HEIGHTS);
    const uint32_t whole = (uint32_t)g.arc_count;
    for (uint32_t a = 0; a < whole; a++) {
        double middle = 0.5 * (g.arc[a].lo + g.arc[a].hi);
        ck_assert(vugi_graph_cut(&ctx->mem, &g, a, middle, 0));
        check_links(&g);
        ck_assert(vugi_graph_cut(&ctx->mem, &g, a, 0.5 * (g.arc[a].lo + middle), 0));
        check_links(&g);
        ck_assert_uint_ne(vugi_arc_piece(&g, a, middle, true),
            vugi_arc_piece(&g, a, middle, false));
        ck_assert(vugi_arc_is_cut(&g, vugi_arc_piece(&g, a, middle, false)));
    }
    ck_assert_uint_eq(g.arc_count, 3 * whole);
    for (int i = 0; i < HEIGHTS; i++)
        ck_close(volume_below(&g, c.zlo + (c.zhi - c.zlo) * i / HEIGHTS), before[i],
            1e-9 * before[i] + 1e-9);
    vugi_graph_free(&ctx->mem, &g);
    vugi_columns_free(&ctx->mem, &c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The span of a column at a height. */
static uint32_t span_across(const vugi_columns *c, size_t column, double z)
{
    for (uint32_t n = c->first[column]; n < c->first[column + 1]; n++)
        if (c->lo[n] < z && z < c->hi[n])
            return n;
    return VUGI_NONE;
}

typedef struct showing {
    const vugi_columns *columns;
    const vugi_query *seen; /* of each span that is across, in the order of heights and columns */
    const double *z;
} showing;

static vug_status check_section(void *user, size_t stop, const vugi_section *section)
{
    showing *s = user;
    for (size_t k = 0; k < (size_t)s->columns->nx * (size_t)s->columns->ny; k++) {
        const uint32_t span = span_across(s->columns, k, s->z[stop]);
        ck_assert_uint_eq(vugi_section_span(section, k), span);
        ck_assert_uint_eq(vugi_section_arc(section, k),
            span == VUGI_NONE ? VUGI_NONE : s->seen->arc);
        s->seen += span != VUGI_NONE;
    }
    return VUG_OK;
}

/* What the section of a sweep that is done shows, and what another says as it runs past each height. */
START_TEST(section_is_as_the_sweep_saw_it)
{
    enum { HEIGHTS = 9 };
    vug_context *ctx = test_context();
    vug_mesh *mesh = two_domes(ctx);
    const vugi_bodies bodies = {.mesh = (const vug_mesh *const[]){mesh}, .count = 1};
    vugi_columns c = {.nx = 0};
    vugi_sweep sweep, again;
    double z[HEIGHTS];
    size_t count = 0;
    ck_ok(ctx, vugi_columns_build(ctx, &ctx->mem, &bodies, ups[_i], 0.5, &c));
    ck_ok(ctx, vugi_sweep_run(ctx, &ctx->mem, &c, 0, NULL, NULL, 0, &sweep));
    vugi_query *seen = vugi_alloc(&ctx->mem, HEIGHTS * c.count, sizeof *seen);
    ck_assert(seen);
    for (int i = 0; i < HEIGHTS; i++) {
        z[i] = c.zlo + (c.zhi - c.zlo) * (i + 0.37) / HEIGHTS;
        for (size_t k = 0; k < (size_t)c.nx * (size_t)c.ny; k++) {
            const uint32_t span = span_across(&c, k, z[i]);
            if (span != VUGI_NONE)
                seen[count++] = (vugi_query){.span = span, .z = z[i]};
        }
    }
    ck_ok(ctx, vugi_sweep_run(ctx, &ctx->mem, &c, 0, NULL, seen, count, &again));
    showing shown = {&c, seen, z};
    ck_ok(ctx, vugi_sections(ctx, &ctx->mem, &sweep, z, HEIGHTS, check_section, &shown));
    ck_assert_ptr_eq(shown.seen, seen + count);
    vugi_free(&ctx->mem, seen);
    vugi_sweep_free(&ctx->mem, &again);
    vugi_sweep_free(&ctx->mem, &sweep);
    vugi_columns_free(&ctx->mem, &c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* What is asked of a sweep that is done, and what another says as it runs past each height. */
START_TEST(arcs_are_those_of_the_section)
{
    enum { HEIGHTS = 7 };
    vug_context *ctx = test_context();
    vug_mesh *mesh = two_domes(ctx);
    const vugi_bodies bodies = {.mesh = (const vug_mesh *const[]){mesh}, .count = 1};
    vugi_columns c = {.nx = 0};
    vugi_sweep sweep, again;
    ck_ok(ctx, vugi_columns_build(ctx, &ctx->mem, &bodies, ups[_i], 0.5, &c));
    ck_ok(ctx, vugi_sweep_run(ctx, &ctx->mem, &c, 0, NULL, NULL, 0, &sweep));
    const size_t count = HEIGHTS * c.count;
    vugi_query *asked = vugi_alloc(&ctx->mem, count, sizeof *asked);
    vugi_query *seen = vugi_alloc(&ctx->mem, count, sizeof *seen);
    ck_assert(asked && seen);
    for (size_t i = 0; i < count; i++) {
        const size_t span = i / HEIGHTS;
        const double part = (double)(i % HEIGHTS) / (HEIGHTS - 1);
        asked[i] = seen[i] = (vugi_query){.span = (uint32_t)span,
            .z = c.lo[span] + part * (c.hi[span] - c.lo[span]),
            .below = i % 2 == 1};
    }
    ck_ok(ctx, vugi_sweep_run(ctx, &ctx->mem, &c, 0, NULL, seen, count, &again));
    ck_ok(ctx, vugi_sweep_ask(ctx, &ctx->mem, &sweep, asked, count));
    for (size_t i = 0; i < count; i++)
        ck_assert_uint_eq(asked[i].arc, seen[i].arc);
    vugi_free(&ctx->mem, asked);
    vugi_free(&ctx->mem, seen);
    vugi_sweep_free(&ctx->mem, &again);
    vugi_sweep_free(&ctx->mem, &sweep);
    vugi_columns_free(&ctx->mem, &c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("gravity graph");
    TCase *tc = tcase_create("graph");
    tcase_add_loop_test(tc, arcs_hang_in_their_nodes, 0, (int)(sizeof ups / sizeof ups[0]));
    tcase_add_loop_test(tc, arcs_are_those_of_the_section, 0, (int)(sizeof ups / sizeof ups[0]));
    tcase_add_loop_test(tc, section_is_as_the_sweep_saw_it, 0, (int)(sizeof ups / sizeof ups[0]));
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
