/* SPDX-License-Identifier: MIT
 * The public face of chambers and throats. */
#include "cavity/cavity.h"

#include <string.h>

vug_status vug_cavities_chamber(const vug_cavities *c, size_t cavity, size_t index,
    vug_chamber_info *info)
{
    if (!c || !info)
        return VUG_ERR_ARGUMENT;
    if (cavity >= c->cavity_count || index >= c->cavity[cavity].chamber_count)
        return VUG_ERR_NOT_FOUND;
    const vugi_place *place = c->cavity[cavity].chamber + index;
    vug_chamber_info own = {.struct_size = sizeof own,
        .radius_mm = place->radius,
        .volume_mm3 = place->volume};
    memcpy(own.center_mm, place->center, sizeof own.center_mm);
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_chamber_info");
}

vug_status vug_cavities_throat(const vug_cavities *c, size_t cavity, size_t index,
    vug_throat_info *info)
{
    if (!c || !info)
        return VUG_ERR_ARGUMENT;
    if (cavity >= c->cavity_count || index >= c->cavity[cavity].throat_count)
        return VUG_ERR_NOT_FOUND;
    const vugi_place *place = c->cavity[cavity].throat + index;
    vug_throat_info own = {.struct_size = sizeof own,
        .chamber_a = (uint32_t)place->a,
        .chamber_b = (uint32_t)place->b,
        .radius_mm = place->radius,
        .resistance_mm3 = place->thin};
    memcpy(own.center_mm, place->center, sizeof own.center_mm);
    memcpy(own.direction, place->direction, sizeof own.direction);
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_throat_info");
}
