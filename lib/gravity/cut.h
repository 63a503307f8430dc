/* SPDX-License-Identifier: MIT
 * Arcs cut in two below throats: what stands above a throat and what below it have levels of their own. */
#ifndef VUGI_GRAVITY_CUT_H
#define VUGI_GRAVITY_CUT_H

#include "gravity/graph.h"

/* Where an arc has a throat at height z that is narrower than the arc below and above it: the height at which the
 * throat's lower end opens; NAN: it has none there. */
double vugi_arc_throat_end(const vugi_graph *graph, uint32_t arc, double z);

/* Parts an arc at a height inside it by a node at that span that joins the pieces and nothing else. false: no memory. */
bool vugi_graph_cut(const vugi_allocator *mem, vugi_graph *graph, uint32_t arc, double z,
    uint32_t span);

/* Two nodes become one, with the arcs of both. false: no memory. */
bool vugi_graph_join(const vugi_allocator *mem, vugi_graph *graph, uint32_t a, uint32_t b);

/* The node below an arc is such a cut. */
bool vugi_arc_is_cut(const vugi_graph *graph, uint32_t arc);

#endif
