/* SPDX-License-Identifier: MIT */
#include "printing.h"

#include "../tool/amounts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double atmosphere_pa = 101325.0;

printing_settings printing_usual(void)
{
    return (printing_settings){.layer_mm = 0.05,
        .lift_mm_s = 1.0,
        .film_pa = 2000.0,
        .vat_kg_m3 = 1100.0,
        .vat_pa_s = 0.2};
}

/* ---- looking for them ---------------------------------------------------------------- */

static double along(const double *a, const double *b)
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* An opening whose face lies at the lowest level of the part is shut by the plate. */
static void find_on_plate(const part *p, const double *up, printing *out)
{
    double length = sqrt(along(up, up));
    for (size_t i = 0; i < p->openings; i++) {
        vug_opening_info info = {.struct_size = sizeof info};
        if (vug_cavities_opening(p->cavities, i, &info) == VUG_OK)
            out->on_plate[i] = along(info.center_mm, up) / length - out->lowest_mm
                    < out->settings.layer_mm
                && along(info.normal, up) / length < -0.99;
    }
}

static vug_status find_inside(part *p, int32_t cavity, const double *up, int64_t columns,
    printing *out)
{
    vug_cup_options options;
    vug_fluid resin;
    int32_t *role = calloc(p->openings + 1, sizeof *role);
    if (!role)
        return VUG_ERR_MEMORY;
    printing_ask(&out->settings, columns, &options, &resin);
    for (size_t i = 0; i < p->openings; i++)
        role[i] = out->on_plate[i] ? VUG_ROLE_SEALED : p->role[i];
    options.cavity = cavity;
    vug_status status = vug_cups_find(p->ctx, p->cavities, &resin, up, role, p->openings, &options,
        &out->inside);
    free(role);
    return status;
}

/* Where the cavity is, and how far from its wall a cup that begins on that may seem to. */
static void know_cavity(const part *p, size_t cavity, printing *out)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    vug_sight_info sight = {.struct_size = sizeof sight};
    out->cavity = vug_cavities_mesh(p->cavities, cavity, NULL);
    out->aside_mm = 0.05;
    if (vug_cavities_get(p->cavities, cavity, &info) != VUG_OK
        || vug_cavities_sight(p->cavities, &sight) != VUG_OK)
        return;
    if (!info.exact)
        out->aside_mm = fmax(out->aside_mm, 1.5 * sight.cell_mm);
    memcpy(out->lo, info.lo_mm, sizeof out->lo);
    memcpy(out->hi, info.hi_mm, sizeof out->hi);
}

vug_status printing_find(part *p, int32_t cavity, const double *up, int64_t columns,
    const printing_settings *settings, printing *out)
{
    *out = (printing){.settings = *settings,
        .on_plate = calloc(p->openings + 1, sizeof *out->on_plate),
        .openings = p->openings};
    if (!out->on_plate)
        return VUG_ERR_MEMORY;
    if (cavity >= 0)
        know_cavity(p, (size_t)cavity, out);
    for (int k = 0; k < 3; k++)
        out->up[k] = up[k] / sqrt(along(up, up));
    out->lowest_mm = outside_lowest(p->mesh, up);
    vug_status status = VUG_OK;
    if (!settings->supports)
        find_on_plate(p, up, out);
    if (cavity >= 0)
        status = find_inside(p, cavity, up, columns, out);
    if (!status)
        status = outside_find(p->ctx, p->mesh, up, columns, settings, &out->outside);
    return status;
}

void printing_free(printing *found)
{
    vug_cups_free(found->inside);
    outside_free(&found->outside);
    free(found->on_plate);
}

/* ---- telling ----------------------------------------------------------------------------- */

static double strongest(const vug_cups *cups)
{
    size_t layers;
    const double *row = vug_cups_layers(cups, &layers);
    double most = 0.0;
    for (size_t i = 0; i < layers; i++)
        most = fmax(most, row[4 * i + 3]);
    return most;
}

static void print_force(double newton)
{
    if (newton < 1000.0)
        printf("%.3g N", newton);
    else
        printf("%.3g kN", newton / 1000.0);
}

/* Too little resin to drain and too weak a pull to lift a part off: the dents of a rough skin, which JSON has
 * too. Common practice, no source. */
static bool is_dent(const vug_cup_info *cup)
{
    return cup->resin_mm3 < 50.0 && cup->area_mm2 * 1e-6 * atmosphere_pa < 1.0;
}

/* A cup begins at a column, which may stand on the wall itself, in a corner too: places closer to it than any wall is thick,
 * to all sides. What was measured on a grid may begin a cell farther in. */
static bool begins_in_cavity(const printing *found, const double point[3])
{
    const double aside = found->aside_mm, above = fmax(found->settings.layer_mm, aside);
    for (int k = 0; k < 3; k++)
        if (point[k] < found->lo[k] - aside || point[k] > found->hi[k] + aside)
            return false;
    for (int n = 0; n < 27; n++) {
        const double at[3] = {point[0] + above * found->up[0] + aside * (n % 3 - 1),
            point[1] + above * found->up[1] + aside * (n / 3 % 3 - 1),
            point[2] + above * found->up[2] + aside * (n / 9 - 1)};
        if (outside_is_in(found->cavity, at))
            return true;
    }
    return false;
}

/* Cup number index, unless it is one of the outside that begins in the cavity: that is told as inside already. */
static bool get_cup(const printing *found, const vug_cups *cups, size_t index, vug_cup_info *cup)
{
    *cup = (vug_cup_info){.struct_size = sizeof *cup};
    if (vug_cups_get(cups, index, cup) != VUG_OK)
        return false;
    return cups == found->inside || !found->cavity || !begins_in_cavity(found, cup->point_mm);
}

static size_t count_cups(const printing *found, const vug_cups *cups)
{
    vug_cup_info cup;
    size_t count = 0;
    for (size_t i = 0; i < vug_cups_count(cups); i++)
        count += get_cup(found, cups, i, &cup);
    return count;
}

static const char *kind(const printing *found, const vug_cups *cups, const vug_cup_info *cup)
{
    if (cups == found->inside)
        return "Closed cup";
    return cup->lo_mm < found->outside.plate ? "Open cup, its mouth on the plate,"
                                             : "Open cup, its mouth on the film,";
}

/* A floor on the plate is no thicker, mm (common practice, no source): a hole straight through it is shut. */
static const double FLOOR_MM = 5.0;

static void print_relief(const printing *found, const vug_cup_info *cup)
{
    const bool floor = !found->settings.supports
        && along(cup->point_mm, found->up) - found->lowest_mm < FLOOR_MM;
    if (cup->relief_mm * cup->relief_mm * 0.785398 >= cup->area_mm2)
        puts("No hole in it is wide enough to relieve it: lift slower, or turn the part");
    else if (floor)
        printf("A hole of %.1f mm low in a side wall relieves it, or one in its floor on supports: "
               "the plate shuts what lies on it\n",
            cup->relief_mm);
    else
        printf("A hole of %.1f mm near %s relieves it\n", cup->relief_mm,
            amount_place(cup->point_mm, 1).text);
}

static void print_cups(const printing *found, const vug_cups *cups)
{
    const printing_settings *s = &found->settings;
    size_t dents = 0;
    for (size_t i = 0; i < vug_cups_count(cups); i++) {
        vug_cup_info cup;
        if (!get_cup(found, cups, i, &cup))
            continue;
        if (is_dent(&cup)) {
            dents++;
            continue;
        }
        printf("%s from %.2f to %.2f mm, up to %.0f mm2 against the film, resin in it: %s, "
               "pulls at the film with ",
            kind(found, cups, &cup), cup.lo_mm, cup.hi_mm, cup.area_mm2,
            amount_ml(cup.resin_mm3).text);
        print_force(cup.area_mm2 * 1e-6 * s->film_pa);
        printf(" at those %g Pa, with up to ", s->film_pa);
        print_force(cup.area_mm2 * 1e-6 * atmosphere_pa);
        fputs(" if nothing gives way. ", stdout);
        print_relief(found, &cup);
    }
    if (dents > 0)
        printf("Dents besides, each with less than 0.05 mL and less than 1 N of pull: %zu\n",
            dents);
}

void printing_print(const printing *found)
{
    const printing_settings *s = &found->settings;
    size_t count = count_cups(found, found->inside);
    printf("\nPrinted along up, from the plate to the last layer: layers of %g mm, lifted at %g "
           "mm/s, "
           "resin of %g kg/m3 and %g Pa s, %g Pa on the film; %s:\n",
        s->layer_mm, s->lift_mm_s, s->vat_kg_m3, s->vat_pa_s, s->film_pa,
        s->supports ? "on supports" : "on the plate itself (--supports if not)");
    for (size_t i = 0; i < found->openings; i++)
        if (found->on_plate[i]) {
            char name[24] = "";
            vug_opening_letter(NULL, i, name, sizeof name);
            printf("Opening %s lies on the plate: shut while the part is printed\n", name);
        }
    print_cups(found, found->inside);
    for (size_t i = 0; i < found->outside.rooms; i++) {
        print_cups(found, found->outside.cups[i]);
        count += count_cups(found, found->outside.cups[i]);
    }
    if (!s->supports && isinf(found->outside.plate))
        puts("Where the part meets the plate its mesh is not clear: what the plate shuts there is "
             "not looked for");
    if (count == 0)
        puts("No cup is closed by the film");
    if (found->inside && strongest(found->inside) > atmosphere_pa)
        puts("Suction of what is open: as much as the air can press, 101 kPa, as its openings are "
             "too "
             "narrow for that lift: lift slower");
    else if (found->inside && strongest(found->inside) > 0.0)
        printf("Suction of what is open up to %.0f Pa\n", strongest(found->inside));
}

static void add_json(const printing *found, const vug_cups *cups, json_t *list)
{
    const printing_settings *s = &found->settings;
    for (size_t i = 0; i < vug_cups_count(cups); i++) {
        vug_cup_info cup;
        if (get_cup(found, cups, i, &cup))
            json_array_append_new(list,
                json_pack("{s:f, s:f, s:f, s:f, s:f, s:f, s:o}", "lo_mm", cup.lo_mm, "hi_mm",
                    cup.hi_mm, "area_mm2", cup.area_mm2, "resin_mm3", cup.resin_mm3, "pull_n",
                    cup.area_mm2 * 1e-6 * s->film_pa, "relief_diameter_mm", cup.relief_mm,
                    "point_mm", json_triple(cup.point_mm)));
    }
}

json_t *printing_json(const printing *found)
{
    const printing_settings *s = &found->settings;
    json_t *shut = json_array(), *cups = json_array(), *open_cups = json_array();
    size_t layers = 0;
    vug_cups_layers(found->inside ? found->inside : found->outside.cups[0], &layers);
    add_json(found, found->inside, cups);
    for (size_t i = 0; i < found->outside.rooms; i++)
        add_json(found, found->outside.cups[i], open_cups);
    for (size_t i = 0; i < found->openings; i++)
        if (found->on_plate[i])
            json_array_append_new(shut, json_integer((json_int_t)i));
    return json_pack("{s:o, s:o, s:o, s:f, s:i, s:f, s:f, s:f, s:f, s:f, s:b}", "cups", cups,
        "open_cups", open_cups, "shut_by_the_plate", shut, "suction_pa", strongest(found->inside),
        "layers", (int)layers, "layer_mm", s->layer_mm, "lift_mm_s", s->lift_mm_s, "film_pa",
        s->film_pa, "resin_kg_m3", s->vat_kg_m3, "resin_pa_s", s->vat_pa_s, "supports",
        s->supports);
}
