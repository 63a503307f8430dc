/* SPDX-License-Identifier: MIT
 * Triangles on the surface of a field: a surface net (Gibson 1998) whose vertices lie on the
 * field, with the sharp edge kept where a plane cuts it. */
#ifndef TOOLS_CORAL_NET_H
#define TOOLS_CORAL_NET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct net_field {
    double (*value)(const void *user, const double p[3]); /* negative inside */
    const void *user;
    double slack;        /* value changes by at most 1 per mm, but for so much */
    double lo[3], hi[3]; /* all that is inside and above the plane lies within */
    double plane;        /* inside is above z = plane */
} net_field;

typedef struct surface_net {
    double *xyz;
    size_t vertex_count;
    uint32_t *triangles; /* counter-clockwise from outside; pairs 2q, 2q + 1 are one quad */
    size_t triangle_count;
} surface_net;

/* spacing: mm between grid points. false without memory, with nothing to free. */
bool net_make(const net_field *field, double spacing, surface_net *out);
void net_free(surface_net *net);

/* Appends b, turned inside out, to a. */
bool net_append_flipped(surface_net *a, const surface_net *b);

bool net_add_triangle(surface_net *net, uint32_t a, uint32_t b, uint32_t c);

/* Signed volume by the divergence theorem. */
double net_volume(const surface_net *net);

/* Every edge has exactly two sides, turned the same way. false also without memory. */
bool net_closed(const surface_net *net);

#endif
