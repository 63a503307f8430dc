/* SPDX-License-Identifier: MIT
 * Whether the walls of a cavity can be taken at their word. */
#ifndef VUGI_CAVITY_SOUND_H
#define VUGI_CAVITY_SOUND_H

#include "cavity/cavity.h"

/* Makes the terrain of a new cavity's mesh. It is sound (mesh/terrain.h) only if columns hold as much as the walls enclose, in
 * three poses: they do not where shells lie on each other. */
vug_status vugi_cavity_lay(vug_context *ctx, vugi_cavity *cavity);

#endif
