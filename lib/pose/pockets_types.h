/* SPDX-License-Identifier: MIT
 * What pockets are made of, for the files that read them. */
#ifndef VUGI_POSE_POCKETS_TYPES_H
#define VUGI_POSE_POCKETS_TYPES_H

#include "pose/pose.h"

struct vug_pockets {
    vugi_allocator mem;
    vugi_pose_room room;
    double up[3];
    vugi_pose_sums sums;
    bool trusted;
    size_t count, room_for, found_room;
    vug_pocket_info *pocket;
    uint32_t *found; /* of each pocket: its number in of */
    uint32_t *of;    /* by columns: of each span the number of its pocket, as found; 0: none */
    double
        spacing; /* of columns, which are made when they are asked for where the walls tell all */
    vug_cavities *cavities; /* its own */
};

#endif
