/* SPDX-License-Identifier: MIT
 * Columns cut at barriers. */
#ifndef VUGI_AIRTREE_BARRIER_CUT_H
#define VUGI_AIRTREE_BARRIER_CUT_H

#include "airtree/barrier.h"

#include "column/column.h"

/* The columns once more with their spans cut at the barriers, and side set, so that spans on two sides
 * of a barrier do not touch through it. cut is to be freed with vugi_columns_free(). false: no memory. */
bool vugi_barriers_cut(const vugi_allocator *mem, const vugi_barriers *barriers,
    const vugi_columns *columns, vugi_columns *cut);

#endif
