/* SPDX-License-Identifier: MIT
 * A flat hollow box with square holes in its lid, and a hollow comb. */
#ifndef TEST_SIEVE_H
#define TEST_SIEVE_H

#include "vug.h"

/* side mm: of holes and of what stands between them; walls are as thick. The cavity is height mm high. holes
 * fill a square as nearly as they can. NULL: no memory. Free with vug_mesh_free(). */
vug_mesh *sieve(vug_context *ctx, size_t holes, double side, double height);

/* A closed part: chambers side mm wide and height mm high, as many as legs, on a channel that joins them. */
vug_mesh *comb(vug_context *ctx, size_t legs, double side, double height);

#endif
