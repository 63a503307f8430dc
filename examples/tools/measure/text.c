/* SPDX-License-Identifier: MIT
 * measure, for people. */
#include "text.h"

#include "../tool/amounts.h"
#include "../tool/options.h"

#include <math.h>
#include <stdio.h>

enum { SHELLS_SHOWN = 20, SPOTS_SHOWN = 20 };

static void print_point(const double p[3])
{
    fputs(amount_place(p, 2).text, stdout);
}

static void print_fault(uint64_t count, const char *one, const char *many)
{
    if (count)
        printf("  %-12s%llu %s\n", "", (unsigned long long)count, count == 1 ? one : many);
}

static void print_mesh(const measured *m)
{
    const vug_mesh_measures *q = &m->measures;
    printf("%s\n", m->file);
    printf("  %-12s%llu triangles, %llu vertices, %s\n", "Mesh", (unsigned long long)q->triangles,
        (unsigned long long)q->vertices, q->closed ? "closed" : "NOT CLOSED");
    print_fault(q->edges_open, "open edge", "open edges");
    print_fault(q->edges_flipped, "edge whose triangles turn against each other",
        "edges whose triangles turn against each other");
    print_fault(q->edges_nonmanifold, "edge with more than two triangles",
        "edges with more than two triangles");
    print_fault(q->degenerate, "triangle without area", "triangles without area");
    printf("  %-12s%.2f x %.2f x %.2f mm, from ", "Size", q->hi_mm[0] - q->lo_mm[0],
        q->hi_mm[1] - q->lo_mm[1], q->hi_mm[2] - q->lo_mm[2]);
    print_point(q->lo_mm);
    printf(" to ");
    print_point(q->hi_mm);
    printf("\n");
    if (q->closed)
        printf("  %-12s%.3f mL of solid (%.3f mm3), centre at %s\n", "Volume",
            q->volume_mm3 / 1000.0, q->volume_mm3, amount_place(q->centroid_mm, 2).text);
    else
        printf("  %-12sunknown: the mesh does not bound one\n", "Volume");
    printf("  %-12s%.2f mm2\n", "Surface", q->area_mm2);
}

static void print_shells(const measured *m)
{
    size_t count = vug_shells_count(m->shells);
    printf("  %-12s%zu\n", "Shells", count);
    for (size_t i = 0; count > 1 && i < count && i < SHELLS_SHOWN; i++) {
        vug_mesh_measures q = {.struct_size = sizeof q};
        if (vug_shells_get(m->shells, i, &q) != VUG_OK)
            continue;
        printf("    %zu: %llu triangles, %s, %s\n", i, (unsigned long long)q.triangles,
            amount_ml(fabs(q.volume_mm3)).text,
            !q.closed                ? "open"
                : q.volume_mm3 < 0.0 ? "turned inward: a cavity"
                                     : "turned outward: a solid");
    }
    if (count > SHELLS_SHOWN)
        printf("    and %zu more\n", count - SHELLS_SHOWN);
}

static void print_opening(const measured *m, size_t index)
{
    vug_opening_info o = {.struct_size = sizeof o};
    char name[24] = "";
    vug_opening_letter(NULL, index, name, sizeof name);
    if (vug_cavities_opening(m->cavities, index, &o) != VUG_OK)
        return;
    printf("    Opening %s: %.2f mm wide at ", name, o.diameter_mm);
    print_point(o.center_mm);
    printf(", outward %s, bore %.2f mm long%s\n", amount_place(o.normal, 2).text, o.bore_length_mm,
        o.planned ? ", still to be drilled" : "");
    if (o.inscribed_diameter_mm < 0.8 * o.diameter_mm)
        printf("      not round: a rod of at most %.2f mm passes\n", o.inscribed_diameter_mm);
}

static void print_places(const measured *m, size_t cavity, const vug_cavity_info *c)
{
    for (size_t i = 0; i < c->chambers && c->chambers > 1; i++) {
        vug_chamber_info h = {.struct_size = sizeof h};
        if (vug_cavities_chamber(m->cavities, cavity, i, &h) != VUG_OK)
            continue;
        printf("    Chamber %zu: a ball of %.2f mm radius fits at ", i, h.radius_mm);
        print_point(h.center_mm);
        printf("\n");
    }
    for (size_t i = 0; i < c->throats; i++) {
        vug_throat_info t = {.struct_size = sizeof t};
        if (vug_cavities_throat(m->cavities, cavity, i, &t) != VUG_OK)
            continue;
        printf("    Throat between chambers %u and %u: %.2f mm radius at ", (unsigned)t.chamber_a,
            (unsigned)t.chamber_b, t.radius_mm);
        print_point(t.center_mm);
        printf("\n");
    }
}

static void print_sight(const measured *m)
{
    vug_sight_info s = {.struct_size = sizeof s};
    if (vug_cavities_sight(m->cavities, &s) == VUG_OK && s.cells_across > 0)
        printf("  Looked for in cells of %.2f mm (%u across): an opening below %.2f mm, or an open "
               "cavity\n  narrower than %.2f mm, may have been missed.\n",
            s.cell_mm, (unsigned)s.cells_across, s.window_mm, s.hollow_mm);
}

/* Which side is called what, as poses are said. */
static void print_sides(const measured *m)
{
    char text[700];
    if (vug_cavities_count(m->cavities) > 0
        && vug_sides_words(m->ctx, m->cavities, text, sizeof text) == VUG_OK)
        print_wrapped(text, printf("Sides: "), 2);
}

static void print_cavities(const measured *m)
{
    size_t count = vug_cavities_count(m->cavities);
    if (m->why[0]) {
        printf("Cavities: unknown. %s\n", m->why);
        return;
    }
    printf("Cavities: %zu\n", count);
    print_sight(m);
    for (size_t i = 0; i < count; i++) {
        vug_cavity_info c = {.struct_size = sizeof c};
        if (vug_cavities_get(m->cavities, i, &c) != VUG_OK)
            continue;
        printf("  Cavity %zu: %s (+- %.3f)%s, wall %.2f mm2, %s\n", i, amount_ml(c.volume_mm3).text,
            c.volume_error_mm3 / 1000.0, c.sealed ? "" : " up to the skin in its holes", c.area_mm2,
            c.exact ? "on the part's own triangles" : "on a grid");
        char doubt[400] = "";
        vug_doubt_words(m->ctx, m->cavities, (int32_t)i, doubt, sizeof doubt);
        if (doubt[0])
            print_wrapped(doubt, printf("    "), 4);
        if (c.sealed)
            printf("    Sealed: no opening leads to it.\n");
        for (size_t k = 0; k < c.openings; k++)
            print_opening(m, c.first_opening + k);
        print_places(m, i, &c);
    }
}

static void print_coincident(const vug_thickness_info *w)
{
    if (!(w->coincident_mm2 > 0.0))
        return;
    printf("  No thickness on %.1f mm2 of skin: another wall lies in the same place, as at ",
        w->coincident_mm2);
    print_point(w->coincident_at_mm);
    printf(
        ".\n    Bodies that touch: join them, or part them. A cavity that reaches the skin: it has "
        "no wall there.\n");
}

static void print_wall(const measured *m)
{
    vug_thickness_info w = {.struct_size = sizeof w};
    if (!m->wall || vug_thickness_get(m->wall, &w) != VUG_OK)
        return;
    printf("Wall: mostly %.2f mm thick; 5 %% of it is thinner than %.2f mm, 1 %% than %.2f mm\n",
        w.p50_mm, w.p5_mm, w.p1_mm);
    printf("  Thinnest: %.2f mm at ", w.min_mm);
    print_point(w.min_at_mm);
    printf(w.min_mm < 0.005 ? ": two walls meet there\n" : "\n");
    print_coincident(&w);
    if (m->thin_mm > 0.0)
        printf("  Thinner than %.2f mm: %zu %s\n", m->thin_mm, m->thin_count,
            m->thin_count == 1 ? "spot" : "spots");
    for (size_t i = 0; i < m->thin_count && i < SPOTS_SHOWN; i++) {
        printf("    %.2f mm at ", m->thin[5 * i + 3]);
        print_point(m->thin + 5 * i);
        printf(", %.1f mm2 around it\n", m->thin[5 * i + 4]);
    }
    if (m->thin_count > SPOTS_SHOWN)
        printf("    and %zu more\n", m->thin_count - SPOTS_SHOWN);
}

void measure_print(const measured *m)
{
    print_mesh(m);
    print_shells(m);
    print_cavities(m);
    print_sides(m);
    print_wall(m);
}
