/* SPDX-License-Identifier: MIT
 * A part as the programs that fill and drain it get it. */
#include "part.h"

#include "../tool/fail.h"
#include "../tool/options.h"
#include "../tool/progress.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static int load(const tool *program, const char *file, const part_settings *s, part *p)
{
    int code = mesh_open(program, p->ctx, file, &s->mesh, &p->mesh);
    if (code != DONE)
        return code;
    vug_status status = vug_cavities_find(p->ctx, p->mesh, s->mesh.holes.number,
        s->mesh.holes.count, NULL, &p->cavities);
    if (status)
        return fail_status(program, p->ctx, status);
    p->openings = vug_cavities_opening_count(p->cavities);
    p->role = calloc(p->openings + 1, sizeof *p->role);
    if (!p->role)
        return fail(program, "no memory");
    print_warnings(program, p->ctx);
    return DONE;
}

static int name(const tool *program, part *p, int64_t number, const char *argument, int32_t role)
{
    if (number >= (int64_t)p->openings)
        return fail_opening(program, argument, number, p->openings);
    p->role[number] = role;
    return DONE;
}

/* The opening whose middle is nearest to a hole that was named. */
static size_t opening_of(const part *p, const double *hole)
{
    vug_opening_info info = {.struct_size = sizeof info};
    size_t nearest = 0;
    double least = HUGE_VAL;
    for (size_t i = 0; i < p->openings; i++) {
        double away = 0.0;
        if (vug_cavities_opening(p->cavities, i, &info))
            continue;
        for (int k = 0; k < 3; k++)
            away += (info.center_mm[k] - hole[k]) * (info.center_mm[k] - hole[k]);
        nearest = away < least ? i : nearest;
        least = fmin(least, away);
    }
    return nearest;
}

static int set_roles(const tool *program, const part_settings *s, int32_t named_role, part *p)
{
    bool named = s->inlet >= 0 || s->vents.count > 0;
    int code = DONE;
    for (size_t i = 0; i < p->openings; i++)
        p->role[i] = named ? VUG_ROLE_SEALED : VUG_ROLE_OPEN;
    if (!named && named_role == VUG_ROLE_INLET && s->mesh.holes.count > 0 && p->openings > 0)
        p->role[opening_of(p, s->mesh.holes.number)] = named_role;
    for (size_t i = 0; i < s->vents.count && code == DONE; i++)
        code = name(program, p, (int64_t)s->vents.number[i], "--vent", VUG_ROLE_VENT);
    if (code == DONE && s->inlet >= 0)
        code = name(program, p, s->inlet, "--inlet", named_role);
    return code;
}

int part_open(const tool *program, const char *file, const part_settings *settings,
    int32_t named_role, part *out)
{
    *out = (part){.ctx = NULL};
    int code = context_open(program, &out->ctx);
    if (code == DONE)
        code = load(program, file, settings, out);
    return code == DONE ? set_roles(program, settings, named_role, out) : code;
}

void part_print_doubt(const part *p, uint32_t cavity)
{
    char doubt[400] = "";
    vug_doubt_words(p->ctx, p->cavities, (int32_t)cavity, doubt, sizeof doubt);
    if (doubt[0])
        print_wrapped(doubt, 0, 0);
}

/* The letters of the openings of a cavity; "" for none. */
static void print_letters(const part *p, size_t cavity)
{
    vug_opening_info opening = {.struct_size = sizeof opening};
    char letter[24];
    const char *before = " by ";
    for (size_t i = 0; i < p->openings; i++) {
        if (vug_cavities_opening(p->cavities, i, &opening) || opening.cavity != cavity
            || vug_opening_letter(NULL, i, letter, sizeof letter))
            continue;
        printf("%s%s", before, letter);
        before = ", ";
    }
}

void part_print_others(const part *p, uint32_t cavity)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    for (size_t i = 0; i < vug_cavities_count(p->cavities); i++) {
        if (i == cavity || vug_cavities_get(p->cavities, i, &info))
            continue;
        printf("Left aside     %10.3f mL, another cavity", info.volume_mm3 / 1000.0);
        if (info.openings > 0)
            print_letters(p, i);
        else
            fputs(" that no opening leads to", stdout);
        putchar('\n');
    }
}

json_t *part_others_json(const part *p, uint32_t cavity)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    json_t *list = json_array();
    for (size_t i = 0; i < vug_cavities_count(p->cavities); i++)
        if (i != cavity && !vug_cavities_get(p->cavities, i, &info))
            json_array_append_new(list,
                json_pack("{s:i, s:f, s:i}", "cavity", (int)i, "capacity_mm3", info.volume_mm3,
                    "openings", (int)info.openings));
    return list;
}

void part_close(part *p)
{
    free(p->role);
    vug_cavities_free(p->cavities);
    vug_mesh_free(p->mesh);
    vug_context_free(p->ctx);
}

void part_settings_free(part_settings *settings)
{
    mesh_settings_free(&settings->mesh);
    free(settings->vents.number);
    free(settings->at.number);
    settings->vents.number = settings->at.number = NULL;
}
