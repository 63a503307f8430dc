/* SPDX-License-Identifier: MIT
 * What to expect of it, and how to light it. */
#include "plan/text/show.h"

/* A milky skin, as vug_relief_init() has it; from memory. */
static const double ABSORPTION = 0.02, SCATTERING = 0.5;

void vugi_write_show(vugi_writing *w)
{
    double wall = w->o->info.wall_mm, share = 0.0;
    char through[40] = "hardly any";
    if (vug_film_transmittance(NULL, ABSORPTION, SCATTERING, &wall, 1, &share))
        return;
    if (share >= 0.01)
        vugi_print(through, sizeof through, "about %.0f %%", 100.0 * share);
    vugi_page_title(&w->page, "Show");
    vugi_page_item(&w->page, "",
        "A milky wall of %.1f mm lets %s of the light through, so the filling reads "
        "softly; a clear one "
        "shows every bubble. A lamp behind makes bubbles shine: look for them so before sealing. "
        "To hide them, light "
        "it from the front on a dark ground.",
        wall, through);
}
