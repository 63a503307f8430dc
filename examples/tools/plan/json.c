/* SPDX-License-Identifier: MIT
 * The plan as JSON. */
#include "json.h"

#include "../tool/json.h"

#include <math.h>

static json_t *numbers_of(const uint32_t *openings, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++)
        json_array_append_new(list, json_integer((json_int_t)openings[i]));
    return list;
}

static json_t *cavities_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < vug_cavities_count(plan->cavities); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        vug_cavities_get(plan->cavities, i, &info);
        json_array_append_new(list,
            json_pack("{s:f,s:f,s:f}", "volume_mm3", info.volume_mm3, "volume_error_mm3",
                info.volume_error_mm3, "area_mm2", info.area_mm2));
    }
    return list;
}

static json_t *openings_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *o = &plan->openings[i];
        json_array_append_new(list,
            json_pack("{s:s,s:o,s:o,s:f,s:f,s:b,s:b}", "label", o->label, "center_mm",
                json_triple(o->info.center_mm), "normal", json_triple(o->info.normal),
                "diameter_mm", o->info.diameter_mm, "bore_length_mm", o->info.bore_length_mm,
                "to_drill", o->info.planned != 0, "inlet", (int32_t)i == plan->fill[0].inlet));
    }
    return list;
}

/* Of each cavity the pockets; with room_after_first_step together steps[0].trapped_mm3. */
static json_t *pockets_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < plan->first_count; i++) {
        const first_air *f = plan->first + i;
        for (uint32_t k = 0; f->moment && k < f->info.pockets; k++) {
            vug_pocket_info info = {.struct_size = sizeof info};
            vug_moment_pocket(f->moment, k, &info);
            json_array_append_new(list,
                json_pack("{s:I,s:f,s:o,s:f}", "cavity", (json_int_t)i, "volume_mm3",
                    info.volume_mm3, "top_mm", json_triple(info.top_mm), "level_mm",
                    info.level_mm));
        }
    }
    return list;
}

/* Of each cavity the room that has an opening and that paint does not get to. */
static json_t *room_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < plan->first_count; i++)
        if (plan->first[i].info.empty_mm3 > 0.0)
            json_array_append_new(list,
                json_pack("{s:I,s:f}", "cavity", (json_int_t)i, "volume_mm3",
                    plan->first[i].info.empty_mm3));
    return list;
}

static json_t *bores_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < plan->info.bores; i++) {
        const vug_plan_bore_info *b = &plan->bores[i];
        json_array_append_new(list,
            json_pack("{s:o,s:o,s:f,s:f,s:f,s:f,s:f,s:f,s:f,s:b,s:b,s:I}", "point_mm",
                json_triple(b->point_mm), "direction", json_triple(b->direction), "depth_mm",
                b->depth_mm, "diameter_mm", b->diameter_mm, "least_mm", b->least_mm, "slant_deg",
                b->slant_deg, "edge_mm", b->edge_mm, "thinnest_mm", b->thinnest_mm, "visibility",
                b->visibility, "preferred", b->preferred, "chuck_clear", b->chuck_clear, "opening",
                (json_int_t)b->opening));
    }
    return list;
}

static json_t *feeds_json(const vug_step_info *s)
{
    json_t *list = json_array();
    for (size_t i = 0; i < s->feed_count; i++)
        json_array_append_new(list,
            json_pack("{s:I,s:f,s:f}", "opening", (json_int_t)s->feed[i], "inject_mm3",
                s->feed_mm3[i], "most_mm3", s->feed_most_mm3[i]));
    return list;
}

static json_t *way_json(const vug_step_info *s)
{
    json_t *list = json_array();
    for (size_t i = 0; i < s->way_count; i++)
        json_array_append_new(list, json_triple(s->way + 3 * i));
    return list;
}

/* fill: "inject_mm3" goes in and "trapped_mm3" of air stays; drain: that much leaves, "stuck_mm3" of
 * it by a syringe, "residue_mm3" stays. */
static json_t *steps_json(const fill_plan *plan, const vug_step_info *steps, bool fill)
{
    json_t *list = json_array();
    uint32_t count = fill ? plan->info.steps : plan->info.drain_steps;
    for (uint32_t i = 0; i < count; i++) {
        const vug_step_info *s = steps + i;
        char words[200] = "";
        if (i > 0)
            vug_pose_words(plan->ctx, s[-1].up, s->up, words, sizeof words);
        else
            vug_pose_words(plan->ctx, NULL, s->up, words, sizeof words);
        json_t *step = json_pack("{s:o,s:s,s:o,s:f,s:f,s:f,s:f,s:f}", "up", json_triple(s->up),
            "words", words, "axis", json_triple(s->axis), "angle_deg", s->angle_deg,
            fill ? "inject_mm3" : "drain_mm3", s->inject_mm3, fill ? "trapped_mm3" : "residue_mm3",
            s->trapped_mm3, "wait_s", s->wait_s, "stand_mm", s->stand_mm);
        json_object_set_new(step, "wait_low_s", json_real(s->wait_low_s));
        json_object_set_new(step, "wait_high_s", json_real(s->wait_high_s));
        json_object_set_new(step, "cover", numbers_of(s->cover, s->cover_count));
        json_object_set_new(step, "open", numbers_of(s->open, s->open_count));
        json_object_set_new(step, fill ? "vent" : "outlet", numbers_of(s->vent, s->vent_count));
        if (fill) {
            json_object_set_new(step, "inlet", json_integer(s->inlet));
            json_object_set_new(step, "feed", feeds_json(s));
            json_object_set_new(step, "rate_mm3_s", json_real(s->rate_mm3_s));
            json_object_set_new(step, "paint_shows_in", numbers_of(s->show, s->show_count));
            json_object_set_new(step, "empty_mm3", json_real(s->empty_mm3));
            json_object_set_new(step, "pace_deg", json_real(s->pace_deg));
            json_object_set_new(step, "lean_deg", json_real(s->lean_deg));
            json_object_set_new(step, "way", way_json(s));
            json_object_set_new(step, "rise_mm", json_real(s->rise_mm));
            json_object_set_new(step, "bubble_mm3", json_real(s->bubble_mm3));
        } else {
            json_object_set_new(step, "time_s", json_real(s->time_s));
            json_object_set_new(step, "stuck_mm3", json_real(s->stuck_mm3));
        }
        json_array_append_new(list, step);
    }
    return list;
}

/* A step may stay in the pose before it, where something is inside already. */
static json_int_t turns_of(const fill_plan *plan, size_t index, uint32_t steps)
{
    json_int_t turns = 0;
    for (uint32_t k = 1; k < steps; k++) {
        vug_step_info step = {.struct_size = sizeof step};
        vug_plan_step(plan->made, index, VUG_PLAN_FILL, k, &step);
        turns += step.angle_deg > 0.0;
    }
    return turns;
}

static json_t *alternatives_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < vug_plan_count(plan->made); i++) {
        vug_plan_info info = {.struct_size = sizeof info};
        vug_plan_get(plan->made, i, &info);
        json_array_append_new(list,
            json_pack("{s:I,s:I,s:f,s:f,s:f,s:f,s:b,s:f}", "bores", (json_int_t)info.bores, "turns",
                turns_of(plan, i, info.steps), "trapped_mm3", info.trapped_mm3, "tilted_mm3",
                info.tilted_mm3, "slowly_mm3", info.slowly_mm3, "cost", info.cost, "within_limit",
                info.within_limit, "chance", info.chance));
    }
    return list;
}

static json_t *cautions_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (int32_t k = 0; k < VUG_CAUTION_COUNT; k++)
        if (vug_plan_caution(plan->made, 0, k))
            json_array_append_new(list, json_string(vug_caution_text(k)));
    return list;
}

/* The sums of the bench: what vug-sums and vug-drain tell for the same. */
static json_t *bench_json(const vug_plan_info *i)
{
    return json_pack("{s:b,s:I,s:f,s:f,s:f,s:f,s:f,s:f,s:f,s:I,s:f,s:f,s:f,s:f,s:f,s:f}",
        "holes_in_model", i->in_model, "rinses", (json_int_t)i->rinses, "rinse_mm3", i->rinse_mm3,
        "film_mm3", i->film_mm3, "resin_s", i->resin_s, "resin_mm3", i->resin_mm3, "wall_mm",
        i->wall_mm, "cure_low_s", i->cure_low_s, "cure_high_s", i->cure_high_s, "needle_gauge",
        (json_int_t)i->needle_gauge, "needle_mm", i->needle_mm, "warm_air_mm3", i->warm_air_mm3,
        "frost_air_mm3", i->frost_air_mm3, "dry_s", i->dry_s, "plug_mm3", i->plug_mm3,
        "thin_wall_mm", i->thin_mm);
}

static json_t *skin_json(const vug_plan_info *info)
{
    const double *at = info->spot_at_mm;
    const double known = info->backed_mm2 + info->filmed_mm2 + info->bare_mm2;
    return json_pack("{s:f,s:f,s:f,s:f,s:f,s:f,s:f,s:[f,f,f]}", "area_mm2", info->skin_mm2,
        "backed_mm2", info->backed_mm2, "filmed_mm2", info->filmed_mm2, "bare_mm2", info->bare_mm2,
        "finer_than_columns_mm2", fmax(0.0, info->skin_mm2 - known), "film_mm", info->film_mm,
        "largest_bare_mm2", info->spot_mm2, "largest_bare_at_mm", at[0], at[1], at[2]);
}

/* What step 0 is made of where it has no feed: vug_moment_make() of this. */
static json_t *start_json(const fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    json_t *air = json_array(), *plugged = json_array();
    for (size_t i = 0; i < s->air.count; i++)
        json_array_append_new(air, json_triple(s->air.number + 3 * i));
    for (size_t i = 0; i < s->plugged.count; i++)
        json_array_append_new(plugged, json_integer((json_int_t)s->plugged.number[i]));
    return json_pack("{s:I,s:f,s:o,s:o,s:o,s:b}", "cavity",
        (json_int_t)fill_plan_start_cavity(plan), "liquid_mm3", 1e3 * s->inside_ml, "up",
        json_triple(plan->fill[0].up), "air", air, "plugged", plugged, "air_not_seen",
        plan->info.unseen);
}

/* What a swirl makes of it, pose by pose. */
static json_t *coat_json(const fill_plan *plan)
{
    const vug_plan_info *info = &plan->info;
    json_t *poses = json_array();
    for (uint32_t i = 0; i < info->coat_steps; i++) {
        vug_step_info step = {.struct_size = sizeof step};
        vug_plan_step(plan->made, 0, VUG_PLAN_COAT, i, &step);
        json_array_append_new(poses, json_triple(step.up));
    }
    return json_pack("{s:I,s:f,s:f,s:f,s:f,s:o}", "coats", (json_int_t)info->coats, "swirl_mm3",
        info->swirl_mm3, "paint_mm3", info->coat_mm3, "wetted_mm2", info->coat_wetted_mm2, "dry_s",
        info->coat_dry_s, "poses", poses);
}

json_t *plan_json(const fill_plan *plan)
{
    const vug_plan_info *info = &plan->info;
    json_t *root = json_pack("{s:f,s:f,s:f,s:f,s:f,s:b,s:I,s:f}", "capacity_mm3",
        info->capacity_mm3, "trapped_mm3", info->trapped_mm3, "tilted_mm3", info->tilted_mm3,
        "slowly_mm3", info->slowly_mm3, "residue_mm3", info->residue_mm3, "within_limit",
        info->within_limit, "narrow_throats", (json_int_t)info->throats, "throat_limit_mm",
        info->throat_limit_mm);
    json_object_set_new(root, "given_steps", json_integer(info->given));
    json_object_set_new(root, "repeats", json_integer(info->repeats));
    json_object_set_new(root, "again", json_integer(info->again));
    if (info->given)
        json_object_set_new(root, "start", start_json(plan));
    json_object_set_new(root, "sealed_mm3", json_real(info->sealed_mm3));
    json_object_set_new(root, "any_pace", json_boolean(info->any_pace));
    json_object_set_new(root, "chance", json_real(info->chance));
    json_object_set_new(root, "spacing_mm", json_real(info->spacing_mm));
    json_object_set_new(root, "skin", skin_json(info));
    if (plan->settings->wall_mm > 0.0) {
        json_object_set_new(root, "cavity_made", hollowed_cavity_json(&plan->hollowed));
        json_object_set_new(root, "solid", hollowed_solid_json(&plan->hollowed));
    }
    json_object_set_new(root, "paint", json_string(plan->paint.name));
    json_object_set_new(root, "rinse", json_string(plan->rinse.name));
    json_object_set_new(root, "temperature_c", json_real(plan->settings->temperature_c));
    json_object_set_new(root, "cavities", cavities_json(plan));
    json_object_set_new(root, "openings", openings_json(plan));
    json_object_set_new(root, "pockets_after_first_step", pockets_json(plan));
    json_object_set_new(root, "room_after_first_step", room_json(plan));
    json_object_set_new(root, "steps", steps_json(plan, plan->fill, true));
    json_object_set_new(root, "drain_steps", steps_json(plan, plan->drain, false));
    json_object_set_new(root, "bores", bores_json(plan));
    json_object_set_new(root, "alternatives", alternatives_json(plan));
    json_object_set_new(root, "cautions", cautions_json(plan));
    json_object_set_new(root, "loads", json_integer((json_int_t)info->loads));
    json_object_set_new(root, "last_load_ml", json_real(info->last_load_ml));
    json_object_set_new(root, "syringe_ml", json_real(plan->info.syringe_ml));
    json_object_set_new(root, "paint_ml", json_real(info->paint_ml));
    json_object_set_new(root, "bench", bench_json(info));
    json_object_set_new(root, "coat", coat_json(plan));
    return root;
}
