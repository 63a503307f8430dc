/* SPDX-License-Identifier: MIT
 * A place for an opening at the top that a cavity has in some pose. */
#ifndef VUGI_PLAN_BORES_TOP_H
#define VUGI_PLAN_BORES_TOP_H

#include "plan/bores/candidates.h"
#include "plan/bores/site.h"
#include "plan/planning.h"

typedef struct vugi_top_task {
    int32_t cavity;
    uint32_t only; /* this pose; UINT32_MAX: any that is convenient */
    size_t lone;   /* there are so many, see bores/lone.h, and are to be fewer by it; 0: none */
    vugi_width width;
} vugi_top_task;

/* The whole cavity as a bubble in a pose; its node is VUGI_NO_AIRNODE where the pose does not see it. */
vugi_bubble vugi_whole(const vugi_airtree *tree, int32_t cavity);

/* To site[sites]: where the first fill leaves least and it shows least, with the other sites vented too; *pose (may be
 * NULL): the one whose top it is at. */
vug_status vugi_plan_top(vugi_planning *p, const vugi_top_task *task, vugi_site *site, size_t sites,
    size_t *pose, bool *found);

#endif
