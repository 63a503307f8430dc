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
    uint32_t *of;    /* of each span: the number of its pocket, as found; 0: none */
    vug_mesh **wall; /* of each cavity, shared with it */
    size_t wall_count;
};

#endif
