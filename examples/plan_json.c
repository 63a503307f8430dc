/* SPDX-License-Identifier: MIT
 * The plan as JSON. */
#include "plan.h"

static json_t *cavities_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < vug_cavities_count(plan->cavities); i++) {
        vug_cavity_info info;
        vug_cavity_info_init(&info, sizeof info);
        vug_cavities_info(plan->cavities, i, &info);
        json_array_append_new(list, json_pack("{s:f,s:f,s:f}", "volume_mm3", info.volume_mm3,
            "volume_error_mm3", info.volume_error_mm3, "area_mm2", info.area_mm2));
    }
    return list;
}

static json_t *openings_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < plan->opening_count; i++) {
        const plan_opening *o = &plan->openings[i];
        json_array_append_new(list, json_pack("{s:s,s:o,s:o,s:f,s:f,s:b,s:b}", "label", o->label,
            "center_mm", json_triple(o->info.center_mm), "normal", json_triple(o->info.normal),
            "diameter_mm", o->info.diameter_mm, "bore_length_mm", o->info.bore_length_mm,
            "vent_to_drill", o->vent != NULL, "inlet", i == plan->inlet));
    }
    return list;
}

static json_t *pockets_json(const vug_pockets *pockets)
{
    json_t *list = json_array();
    for (size_t i = 0; i < vug_pockets_count(pockets); i++) {
        vug_pocket_info info;
        vug_pocket_info_init(&info, sizeof info);
        vug_pockets_info(pockets, i, &info);
        json_array_append_new(list, json_pack("{s:f,s:o,s:f}", "volume_mm3", info.volume_mm3,
            "top_mm", json_triple(info.top_mm), "level_mm", info.level_mm));
    }
    return list;
}

static json_t *bores_json(const fill_plan *plan)
{
    json_t *list = json_array();
    for (size_t i = 0; i < plan->vent_count; i++) {
        const vug_bore_info *bore = &plan->vents[i].bore;
        if (bore->depth_mm > 0.0)
            json_array_append_new(list, json_pack("{s:o,s:o,s:f,s:f,s:f}",
                "point_mm", json_triple(bore->point_mm), "direction", json_triple(bore->direction),
                "depth_mm", bore->depth_mm, "diameter_mm", plan->settings->drill_mm,
                "frees_mm3", plan->vents[i].pocket.volume_mm3));
    }
    return list;
}

/* One step: fill in this pose; cover: numbers of the openings to cover once liquid shows. */
static json_t *steps_json(const fill_plan *plan)
{
    json_t *cover = json_array();
    for (size_t i = 0; i < plan->opening_count; i++)
        if (plan->openings[i].cover)
            json_array_append_new(cover, json_integer((json_int_t)i));
    return json_pack("[{s:o,s:f,s:I,s:o}]", "up", json_triple(plan->up),
        "inject_mm3", plan->capacity_mm3 - plan->trapped_mm3,
        "inlet", (json_int_t)plan->inlet, "cover", cover);
}

json_t *plan_json(const fill_plan *plan)
{
    return json_pack("{s:f,s:f,s:f,s:o,s:o,s:o,s:o,s:o,s:o,s:I,s:f,s:f,s:f}",
        "capacity_mm3", plan->capacity_mm3, "trapped_mm3", plan->trapped_mm3,
        "trapped_without_bores_mm3", vug_pockets_trapped_mm3(plan->pockets),
        "cavities", cavities_json(plan), "openings", openings_json(plan),
        "pockets_without_bores", pockets_json(plan->pockets),
        "pockets", pockets_json(plan->left ? plan->left : plan->pockets),
        "steps", steps_json(plan), "bores", bores_json(plan),
        "loads", (json_int_t)plan->supply.loads, "last_load_ml", plan->supply.last_load_ml,
        "syringe_ml", plan->settings->syringe_ml, "paint_ml", plan->supply.paint_ml);
}
