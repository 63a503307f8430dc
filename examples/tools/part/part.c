/* SPDX-License-Identifier: MIT */
#include "part.h"

#include "../tool/fail.h"

#include <math.h>
#include <stdlib.h>

static int load(const tool *program, const char *file, const part_settings *s, part *p)
{
    vug_mesh *mesh = NULL;
    vug_status status = vug_mesh_load(p->ctx, file, NULL, &mesh);
    if (!status)
        status = vug_cavities_find(p->ctx, mesh, s->holes.number, s->holes.count, NULL,
            &p->cavities);
    vug_mesh_free(mesh);
    if (status)
        return fail_status(program, p->ctx, status);
    p->openings = vug_cavities_opening_count(p->cavities);
    p->role = calloc(p->openings + 1, sizeof *p->role);
    if (!p->role)
        return fail(program, "no memory");
    print_warnings(program, p->ctx);
    return DONE;
}

static int name(const tool *program, part *p, double number, const char *argument, int32_t role)
{
    if (number < 0.0 || number >= (double)p->openings || number != floor(number))
        return fail_usage(program, "%s %g: the part has %zu openings, numbered from 0", argument,
            number, p->openings);
    p->role[(size_t)number] = role;
    return DONE;
}

static int set_roles(const tool *program, const part_settings *s, int32_t named_role, part *p)
{
    bool named = s->inlet >= 0 || s->vents.count > 0;
    int code = DONE;
    for (size_t i = 0; i < p->openings; i++)
        p->role[i] = named ? VUG_ROLE_SEALED : VUG_ROLE_OPEN;
    for (size_t i = 0; i < s->vents.count && code == DONE; i++)
        code = name(program, p, s->vents.number[i], "--vent", VUG_ROLE_VENT);
    if (code == DONE && s->inlet >= 0)
        code = name(program, p, (double)s->inlet, "--inlet", named_role);
    return code;
}

int part_open(const tool *program, const char *file, const part_settings *settings,
    int32_t named_role, part *out)
{
    *out = (part){.ctx = NULL};
    if (vug_context_create(NULL, &out->ctx) != VUG_OK)
        return fail(program, "no memory");
    int code = load(program, file, settings, out);
    return code == DONE ? set_roles(program, settings, named_role, out) : code;
}

void part_close(part *p, part_settings *settings)
{
    free(p->role);
    vug_cavities_free(p->cavities);
    vug_context_free(p->ctx);
    free(settings->holes.number);
    free(settings->vents.number);
}

/* ---- events ------------------------------------------------------------------ */
