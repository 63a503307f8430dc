/* SPDX-License-Identifier: MIT
 * An allocator that keeps count of another and says no beyond a limit. */
#ifndef VUGI_BASE_QUOTA_H
#define VUGI_BASE_QUOTA_H

#include "base/memory.h"

typedef struct vugi_quota vugi_quota;

/* *mem becomes the counting allocator over what it was. Objects outlive their context, so the account is
 * freed with the last of the blocks, after vugi_quota_leave(). NULL: no memory for it. */
vugi_quota *vugi_quota_new(vugi_allocator *mem, uint64_t most);

/* The context goes. */
void vugi_quota_leave(vugi_quota *limit);

/* What is in use, and the limit. */
uint64_t vugi_quota_used(const vugi_quota *limit, uint64_t *most);

/* The request that was refused last, or 0, and what was in use then; forgets it. */
uint64_t vugi_quota_refused(vugi_quota *limit, uint64_t *used, uint64_t *most);

#endif
