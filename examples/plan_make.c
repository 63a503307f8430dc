/* SPDX-License-Identifier: MIT
 * The pose, its pockets, a vent for each that matters, and a second look with the vents drilled. */
#include "plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* The part's cavities with its own openings and the vents found so far as further holes. */
static vug_status find_cavities(fill_plan *plan, vug_cavities **out)
{
    const number_rows *holes = &plan->settings->holes;
    size_t count = holes->count + plan->vent_count;
    double *row = malloc((count + 1) * 7 * sizeof *row);
    if (!row)
        return VUG_ERR_MEMORY;
    if (holes->count > 0)
        memcpy(row, holes->number, holes->count * 7 * sizeof *row);
    size_t filled = holes->count;
    for (size_t i = 0; i < plan->vent_count; i++) {
        const vug_bore_info *bore = &plan->vents[i].bore;
        if (!(bore->depth_mm > 0.0))
            continue;
        double *r = row + 7 * filled++;
        for (int k = 0; k < 3; k++) {
            r[k] = bore->point_mm[k];
            r[3 + k] = -bore->direction[k];
        }
        r[6] = plan->settings->drill_mm;
    }
    vug_status status = vug_cavities_find(plan->ctx, plan->mesh, row, filled, NULL, out);
    free(row);
    return status;
}

/* Trapped air with p up, on coarse columns. */
static vug_status try_pose(fill_plan *plan, const double up[3], double *trapped)
{
    vug_pose_options options;
    vug_pockets *pockets = NULL;
    vug_pose_options_init(&options, sizeof options);
    options.columns_across = 200;
    vug_status status = vug_pockets_find(plan->ctx, plan->cavities, up, NULL, 0, &options, &pockets);
    *trapped = vug_pockets_trapped_mm3(pockets);
    vug_pockets_free(pockets);
    return status;
}

/* Leans the pose this way and that, less and less, as long as it gets better. */
static vug_status refine_pose(fill_plan *plan)
{
    double least;
    vug_status status = try_pose(plan, plan->up, &least);
    for (double step = 0.1; step > 0.01 && !status;) {
        bool better = false;
        for (int way = 0; way < 6 && !status; way++) {
            double up[3], length, trapped;
            memcpy(up, plan->up, sizeof up);
            up[way / 2] += way % 2 ? step : -step;
            length = sqrt(dot(up, up));
            for (int k = 0; k < 3; k++)
                up[k] /= length;
            status = try_pose(plan, up, &trapped);
            if (status || trapped >= least)
                continue;
            least = trapped;
            better = true;
            memcpy(plan->up, up, sizeof up);
        }
        if (!better)
            step *= 0.5;
    }
    return status;
}

/* A flat pose, with one of the part's axes upright, is easier to hold: it is taken if it costs no
 * more than a thousandth of the cavity. */
static vug_status prefer_flat_pose(fill_plan *plan)
{
    double least, best;
    vug_status status = try_pose(plan, plan->up, &least);
    best = least + 0.001 * plan->capacity_mm3;
    for (int way = 0; way < 6 && !status; way++) {
        double up[3] = {0.0, 0.0, 0.0}, trapped;
        up[way / 2] = way % 2 ? -1.0 : 1.0;
        status = try_pose(plan, up, &trapped);
        if (status || trapped > best)
            continue;
        best = trapped;
        memcpy(plan->up, up, sizeof up);
    }
    return status;
}

static vug_status choose_pose(fill_plan *plan)
{
    if (plan->settings->pose_given) {
        double length = sqrt(dot(plan->settings->up, plan->settings->up));
        for (int k = 0; k < 3; k++)
            plan->up[k] = plan->settings->up[k] / length;
        return VUG_OK;
    }
    vug_pose_options options;
    vug_pose_scan *scan = NULL;
    vug_pose_options_init(&options, sizeof options);
    options.pose_count = (uint32_t)plan->settings->poses;
    vug_status status = vug_pose_scan_run(plan->ctx, plan->cavities, NULL, 0, &options, &scan);
    if (!status)
        memcpy(plan->up, vug_pose_scan_ups(scan) + 3 * vug_pose_scan_best(scan), sizeof plan->up);
    vug_pose_scan_free(scan);
    if (!status)
        status = refine_pose(plan);
    return status ? status : prefer_flat_pose(plan);
}

static vug_status choose_spacing(fill_plan *plan)
{
    double longest = 0.0;
    for (size_t i = 0; i < vug_cavities_count(plan->cavities); i++) {
        vug_cavity_info info;
        vug_cavity_info_init(&info, sizeof info);
        vug_status status = vug_cavities_info(plan->cavities, i, &info);
        if (status)
            return status;
        for (int k = 0; k < 3; k++)
            longest = fmax(longest, info.hi_mm[k] - info.lo_mm[k]);
        plan->capacity_mm3 += info.volume_mm3;
    }
    plan->spacing_mm = longest / (double)plan->settings->columns;
    return VUG_OK;
}

static vug_status find_pockets(fill_plan *plan, const vug_cavities *cavities, vug_pockets **out)
{
    vug_pose_options options;
    vug_pose_options_init(&options, sizeof options);
    options.spacing_mm = plan->spacing_mm;
    return vug_pockets_find(plan->ctx, cavities, plan->up, NULL, 0, &options, out);
}

/* Vents for the largest pockets, until what the others hold is within the limit. */
static vug_status add_vents(fill_plan *plan, const vug_cavities *cavities, const vug_pockets *pockets)
{
    double rest = vug_pockets_trapped_mm3(pockets);
    for (size_t i = 0; i < vug_pockets_count(pockets) && plan->vent_count < VENTS_MAX; i++) {
        if (plan_percent(plan, rest) <= plan->settings->limit_percent)
            break;
        plan_vent *vent = &plan->vents[plan->vent_count];
        vug_pocket_info_init(&vent->pocket, sizeof vent->pocket);
        vug_bore_info_init(&vent->bore, sizeof vent->bore);
        vug_status status = vug_pockets_info(pockets, i, &vent->pocket);
        if (status)
            return status;
        status = vug_pockets_bore(plan->ctx, cavities, pockets, i, &vent->bore);
        if (status && status != VUG_ERR_NOT_FOUND)
            return status;
        if (status)
            vent->bore.depth_mm = 0.0;
        else if (vent->bore.depth_mm < 0.1 * plan->settings->drill_mm)
            continue; /* it leads into an opening that is there */
        rest -= vent->pocket.volume_mm3;
        plan->vent_count++;
    }
    return VUG_OK;
}

/* Drills, looks again, and drills more where air is still caught. */
static vug_status vent_pockets(fill_plan *plan)
{
    vug_status status = find_pockets(plan, plan->cavities, &plan->pockets);
    const vug_cavities *cavities = plan->cavities;
    const vug_pockets *pockets = plan->pockets;
    for (int round = 0; round < ROUNDS && !status; round++) {
        size_t before = plan->vent_count;
        status = add_vents(plan, cavities, pockets);
        if (status || plan->vent_count == before)
            break;
        vug_cavities *vented = NULL;
        vug_pockets *left = NULL;
        status = find_cavities(plan, &vented);
        if (!status)
            status = find_pockets(plan, vented, &left);
        vug_pockets_free(plan->left);
        vug_cavities_free(plan->vented);
        plan->left = left;
        plan->vented = vented;
        cavities = vented;
        pockets = left;
    }
    return status;
}

/* The vent that an opening is, if it is one. */
static const plan_vent *vent_of(const fill_plan *plan, const vug_opening_info *opening)
{
    for (size_t i = 0; i < plan->vent_count && opening->planned; i++) {
        const vug_bore_info *bore = &plan->vents[i].bore;
        double d[3];
        for (int k = 0; k < 3; k++)
            d[k] = opening->center_mm[k] - bore->point_mm[k];
        if (bore->depth_mm > 0.0 && sqrt(dot(d, d)) < plan->settings->drill_mm)
            return &plan->vents[i];
    }
    return NULL;
}

/* Gathers the openings of the vented part; fills through the highest that the part has, which
 * stays above the liquid longest. */
static vug_status list_openings(fill_plan *plan)
{
    const vug_cavities *cavities = plan->vented ? plan->vented : plan->cavities;
    unsigned own = 0;
    bool found = false;
    plan->opening_count = vug_cavities_opening_count(cavities);
    for (size_t i = 0; i < plan->opening_count; i++) {
        plan_opening *o = &plan->openings[i];
        vug_opening_info_init(&o->info, sizeof o->info);
        vug_status status = vug_cavities_opening(cavities, i, &o->info);
        if (status)
            return status;
        o->vent = vent_of(plan, &o->info);
        o->height_mm = dot(o->info.center_mm, plan->up);
        if (o->vent)
            snprintf(o->label, sizeof o->label, "%u", (unsigned)(o->vent - plan->vents + 1) % 1000);
        else if (own < 26)
            snprintf(o->label, sizeof o->label, "%c", (char)('A' + own++));
        else
            snprintf(o->label, sizeof o->label, "A%u", own++ % 1000);
        if (!o->vent && (!found || o->height_mm > plan->openings[plan->inlet].height_mm + 1e-6))
            plan->inlet = i;
        found = found || !o->vent;
    }
    for (size_t i = 0; i < plan->opening_count; i++)
        plan->openings[i].cover = plan->openings[i].height_mm <
            plan->openings[plan->inlet].height_mm - 0.05;
    return VUG_OK;
}

vug_status plan_make(fill_plan *plan)
{
    vug_status status = find_cavities(plan, &plan->cavities);
    if (status)
        return status;
    plan->closed = vug_cavities_opening_count(plan->cavities) == 0;
    if (plan->closed)
        return VUG_ERR_NOT_FOUND;
    status = choose_spacing(plan);
    if (!status)
        status = choose_pose(plan);
    if (!status)
        status = vent_pockets(plan);
    if (!status)
        status = list_openings(plan);
    if (status)
        return status;
    plan->trapped_mm3 = vug_pockets_trapped_mm3(plan->left ? plan->left : plan->pockets);
    vug_supply_init(&plan->supply, sizeof plan->supply);
    return vug_supply_for(plan->ctx, plan->capacity_mm3 - plan->trapped_mm3,
        plan->settings->syringe_ml, 0.1, 0.0, &plan->supply);
}

void plan_free(fill_plan *plan)
{
    vug_pockets_free(plan->left);
    vug_cavities_free(plan->vented);
    vug_pockets_free(plan->pockets);
    vug_cavities_free(plan->cavities);
    vug_mesh_free(plan->mesh);
    vug_context_free(plan->ctx);
}

double plan_percent(const fill_plan *plan, double volume_mm3)
{
    return 100.0 * volume_mm3 / plan->capacity_mm3;
}
