/* SPDX-License-Identifier: MIT */
#include "part.h"

#include <math.h>
#include <stdlib.h>

static int load(const example *program, const char *file, const part_settings *s, part *p)
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

static int name(const example *program, part *p, double number, const char *argument, int32_t role)
{
    if (number < 0.0 || number >= (double)p->openings || number != floor(number))
        return fail_usage(program, "%s %g: the part has %zu openings, numbered from 0", argument,
            number, p->openings);
    p->role[(size_t)number] = role;
    return DONE;
}

static int set_roles(const example *program, const part_settings *s, int32_t named_role, part *p)
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

int part_open(const example *program, const char *file, const part_settings *settings,
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

static const struct {
    const char *key, *text;
} kinds[] = {
    [VUG_EVENT_BASIN] = {"basin", "liquid comes to the basin at"},
    [VUG_EVENT_SILL] = {"sill", "it runs over the sill at"},
    [VUG_EVENT_MERGE] = {"merge", "the pools join over the sill at"},
    [VUG_EVENT_POCKET] = {"pocket", "air is cut off under"},
    [VUG_EVENT_SPILL] = {"spill", "liquid is at the lip of"},
    [VUG_EVENT_RIM] = {"rim", "no more air leaves by"},
    [VUG_EVENT_FULL] = {"full", "no surface can rise any more; inlet:"},
    [VUG_EVENT_LEFT] = {"left", "a pool stays behind at"},
    [VUG_EVENT_LIP] = {"lip", "the liquid has fallen to the lip of"},
    [VUG_EVENT_EMPTY] = {"empty", "nothing more runs out; air came in by"},
    [VUG_EVENT_LEVEL] = {"level", "all is level again; inlet:"},
    [VUG_EVENT_SLOPE] = {"slope",
        "the yield stress holds a surface higher than its neighbours over"},
};

static const char *kind_key(int32_t kind)
{
    return kind >= 0 && (size_t)kind < sizeof kinds / sizeof kinds[0] ? kinds[kind].key : "other";
}

static bool has_volume(int32_t kind)
{
    return kind == VUG_EVENT_POCKET || kind == VUG_EVENT_LEFT;
}

void place_text(const vug_course_event *e, char *text, size_t size)
{
    const double *p = e->point_mm;
    if (e->opening >= 0)
        snprintf(text, size, "opening %d at (%.1f, %.1f, %.1f)", (int)e->opening, p[0], p[1], p[2]);
    else
        snprintf(text, size, "(%.1f, %.1f, %.1f)", p[0], p[1], p[2]);
}

void events_print(const vug_course *course, bool timed)
{
    vug_course_event e;
    char place[128];
    printf("%12s %10s  %s\n", "liquid mL", "time s", "event (places in mm, part coordinates)");
    for (size_t i = 0; i < vug_course_event_count(course); i++) {
        vug_course_event_init(&e, sizeof e);
        if (vug_course_event_at(course, i, &e) != VUG_OK)
            continue;
        place_text(&e, place, sizeof place);
        if (timed && e.time_s >= 0.0)
            printf("%12.3f %10.2f", e.liquid_mm3 / 1000.0, e.time_s);
        else
            printf("%12.3f %10s", e.liquid_mm3 / 1000.0, timed ? "never" : "-");
        printf("  %s %s",
            e.kind >= 0 && (size_t)e.kind < sizeof kinds / sizeof kinds[0] ? kinds[e.kind].text
                                                                           : "",
            place);
        if (has_volume(e.kind))
            printf(": %.3f mL", e.volume_mm3 / 1000.0);
        putchar('\n');
    }
}

json_t *seconds_json(double seconds)
{
    return seconds >= 0.0 ? json_real(seconds) : json_null();
}

json_t *pools_json(const vug_moment *moment, size_t count)
{
    json_t *list = json_array();
    vug_pool_info pool;
    for (size_t i = 0; i < count; i++) {
        vug_pool_info_init(&pool, sizeof pool);
        if (vug_moment_pool(moment, i, &pool) == VUG_OK)
            json_array_append_new(list,
                json_pack("{s:f, s:o, s:f, s:f}", "volume_mm3", pool.volume_mm3, "bottom_mm",
                    json_triple(pool.bottom_mm), "level_mm", pool.level_mm, "area_mm2",
                    pool.area_mm2));
    }
    return list;
}

json_t *events_json(const vug_course *course)
{
    json_t *list = json_array();
    vug_course_event e;
    for (size_t i = 0; i < vug_course_event_count(course); i++) {
        vug_course_event_init(&e, sizeof e);
        if (vug_course_event_at(course, i, &e) != VUG_OK)
            continue;
        json_t *row = json_pack("{s:s, s:f, s:o, s:f, s:o}", "kind", kind_key(e.kind), "liquid_mm3",
            e.liquid_mm3, "time_s", seconds_json(e.time_s), "level_mm", e.level_mm, "point_mm",
            json_triple(e.point_mm));
        if (e.opening >= 0)
            json_object_set_new(row, "opening", json_integer(e.opening));
        if (has_volume(e.kind))
            json_object_set_new(row, "volume_mm3", json_real(e.volume_mm3));
        json_array_append_new(list, row);
    }
    return list;
}
