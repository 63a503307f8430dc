/* SPDX-License-Identifier: MIT
 * Bores that lead so steeply down and out that the top of their rim lies below the lip of their inner end.
 *
 * Such an opening is what it is in every question: air leaves by it while all liquid inside stands below the top of its
 * rim, and no further, though the bore may be dry. Air would have to go down past liquid that stands higher, and a drop
 * from the needle, or a hand that shakes, shuts the bore. The needle reaches through the bore, so what is injected falls
 * from its inner end; once the liquid inside stands as high as the rim, the bore fills too, as if the part were dipped.
 * Less steep, its rim may still lie below what parts a hollow from it: of the one opening that leads farthest on the same holds
 * for what hangs together with it beyond its rim.
 * Liquid is air in the mirror: by a bore that leads steeply up and out it leaves while it stands above the rim's lip. */
#ifndef VUGI_GRAVITY_DIP_H
#define VUGI_GRAVITY_DIP_H

#include "gravity/scene.h"

/* Lets such bores of a scene pass air, or liquid, so: at the height of their rims they are joined to all that passes it, and
 * entries are moved to their inner ends. Not where another opening is open farther on: then they fill as any other leg. open: of
 * each opening, whether anything passes it; NULL: all are open. */
vug_status vugi_dip(vug_context *ctx, vugi_scene *scene, bool liquid, const bool *open);

#endif
