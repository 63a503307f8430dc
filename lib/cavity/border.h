/* SPDX-License-Identifier: MIT
 * Where labelled regions of the grid meet, in connected pieces. */
#ifndef VUGI_CAVITY_BORDER_H
#define VUGI_CAVITY_BORDER_H

#include "cavity/void_types.h"

/* The borders of labelled cells: fills border and border_count. */
vug_status vugi_void_borders(vug_context *ctx, vugi_void *v);

/* Gives to the outside what is open for more than a seventh of its boundary: a cage, not a cavity. */
vug_status vugi_void_drop_cages(vug_context *ctx, vugi_void *v);

#endif
