/* SPDX-License-Identifier: MIT
 * Liquid that finds its level when the part is opened: surfaces of one pool under the air outside. */
#ifndef VUGI_TURN_LEVEL_H
#define VUGI_TURN_LEVEL_H

#include "gravity/links.h"
#include "gravity/scene.h"

/* Surfaces of one pool under air that has a way out by open mouths come to one level. Liquid that would
 * run over a sill on the way stays where it is. links: of the scene, with the outcome. */
vug_status vugi_level_out(vug_context *ctx, const vugi_scene *scene, const bool *open,
    double *level, vugi_links *links);

#endif
