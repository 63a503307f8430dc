/* SPDX-License-Identifier: MIT */
#include "events.h"

#include "../tool/amounts.h"
#include "../tool/clock.h"
#include "../tool/json.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct {
    const char *key, *text;
} kinds[] = {
    [VUG_EVENT_BASIN] = {"basin", "liquid comes to a low place (basin) at"},
    [VUG_EVENT_SILL] = {"sill", "it runs over the edge (sill) at"},
    [VUG_EVENT_MERGE] = {"merge", "the pools join over the edge (sill) at"},
    [VUG_EVENT_POCKET] = {"pocket", "air is cut off under"},
    [VUG_EVENT_SPILL] = {"spill", "liquid is at the lowest point (lip) of"},
    [VUG_EVENT_RIM] = {"rim", "no more air leaves by"},
    [VUG_EVENT_FULL] = {"full", "no surface can rise any more; inlet:"},
    [VUG_EVENT_LEFT] = {"left", "a pool stays behind at"},
    [VUG_EVENT_LIP] = {"lip", "the liquid has fallen to the lowest point (lip) of"},
    [VUG_EVENT_EMPTY] = {"empty", "nothing more runs out; air came in by"},
    [VUG_EVENT_LEVEL] = {"level", "all is level again; inlet:"},
    [VUG_EVENT_SLOPE] = {"slope",
        "the yield stress holds a surface higher than its neighbours over"},
    [VUG_EVENT_WAIT] = {"wait", "air and liquid have to pass each other in a throat at"},
};

static const char *kind_key(int32_t kind)
{
    return kind >= 0 && (size_t)kind < sizeof kinds / sizeof kinds[0] ? kinds[kind].key : "other";
}

static bool has_volume(int32_t kind)
{
    return kind == VUG_EVENT_POCKET || kind == VUG_EVENT_LEFT || kind == VUG_EVENT_WAIT;
}

void place_text(const vug_event_info *e, char *text, size_t size)
{
    const amount place = amount_place(e->point_mm, 1);
    char name[24] = "";
    if (e->opening >= 0)
        vug_opening_letter(NULL, (size_t)e->opening, name, sizeof name);
    if (name[0])
        snprintf(text, size, "opening %s at %s", name, place.text);
    else
        snprintf(text, size, "%s", place.text);
}

/* A time in seconds, as long as it is one to wait for; NaN: none. */
static void print_time(double seconds)
{
    if (isnan(seconds))
        printf(" %10s", "-");
    else if (seconds < 0.0)
        printf(" %10s", "never");
    else if (seconds > clock_longest_s)
        printf(" %10s", "> a day");
    else
        printf(" %10.2f", seconds);
}

static void print_wait(const vug_event_info *e)
{
    char words[160];
    clock_range_words(e->wait_s, e->wait_low_s, e->wait_high_s, words, sizeof words);
    printf(", %.1f mm wide: %s", e->diameter_mm, words);
}

void events_print(const vug_course *course, bool timed)
{
    vug_event_info e = {.struct_size = sizeof e};
    char place[128];
    printf("%12s%s  %s\n", "liquid mL", timed ? "     time s" : "",
        "event (places in mm, part coordinates)");
    for (size_t i = 0; i < vug_course_event_count(course); i++) {
        if (vug_course_event(course, i, &e) != VUG_OK)
            continue;
        place_text(&e, place, sizeof place);
        printf("%12.3f", e.liquid_mm3 / 1000.0);
        if (timed)
            print_time(e.kind == VUG_EVENT_WAIT ? (double)NAN : e.time_s);
        printf("  %s%s %s",
            timed && e.kind != VUG_EVENT_WAIT && e.time_s < 0.0 ? "once helped: " : "",
            e.kind >= 0 && (size_t)e.kind < sizeof kinds / sizeof kinds[0] ? kinds[e.kind].text
                                                                           : "",
            place);
        if (has_volume(e.kind))
            printf(": %s", amount_ml(e.volume_mm3).text);
        if (e.kind == VUG_EVENT_WAIT)
            print_wait(&e);
        putchar('\n');
    }
}

json_t *waits_json(double typical, double low, double high)
{
    return json_pack("[o, o, o]", seconds_json(low), seconds_json(typical), seconds_json(high));
}

json_t *seconds_json(double seconds)
{
    return seconds >= 0.0 ? json_real(seconds) : json_null();
}

json_t *pools_json(const vug_moment *moment, size_t count)
{
    json_t *list = json_array();
    vug_pool_info pool = {.struct_size = sizeof pool};
    for (size_t i = 0; i < count; i++) {
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
    vug_event_info e = {.struct_size = sizeof e};
    for (size_t i = 0; i < vug_course_event_count(course); i++) {
        if (vug_course_event(course, i, &e) != VUG_OK)
            continue;
        json_t *row = json_pack("{s:s, s:f, s:o, s:f, s:o}", "kind", kind_key(e.kind), "liquid_mm3",
            e.liquid_mm3, "time_s", seconds_json(e.time_s), "level_mm", e.level_mm, "point_mm",
            json_triple(e.point_mm));
        if (e.opening >= 0)
            json_object_set_new(row, "opening", json_integer(e.opening));
        if (has_volume(e.kind))
            json_object_set_new(row, "volume_mm3", json_real(e.volume_mm3));
        if (e.kind == VUG_EVENT_WAIT) {
            json_object_set_new(row, "diameter_mm", json_real(e.diameter_mm));
            json_object_set_new(row, "wait_s", waits_json(e.wait_s, e.wait_low_s, e.wait_high_s));
        }
        json_array_append_new(list, row);
    }
    return list;
}
