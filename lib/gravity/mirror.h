/* SPDX-License-Identifier: MIT
 * A scene upside down. */
#ifndef VUGI_GRAVITY_MIRROR_H
#define VUGI_GRAVITY_MIRROR_H

#include "gravity/scene.h"

#include "column/column.h"

/* The scene upside down: heights and levels change their sign, air takes the place of liquid, vents
 * that of lips. Arcs, nodes and mouths keep their numbers. For draining, where air comes in and liquid
 * goes out. */
vug_status vugi_scene_mirror(vug_context *ctx, const vugi_scene *scene, vugi_scene **out);

/* Number that a span has in the scene upside down. */
uint32_t vugi_mirror_span(const vugi_columns *columns, uint32_t column, uint32_t span);

#endif
