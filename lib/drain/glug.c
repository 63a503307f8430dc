/* SPDX-License-Identifier: MIT
 * Liquid that leaves by a lone opening by turns with air. */
#include "drain/glug.h"

#include <assert.h>

double vugi_glug(const vug_fluid *fluid, double diameter_mm)
{
    assert(diameter_mm > 0.0);
    double free_mm, flow;
    if (vug_exchange_diameter(NULL, fluid, &free_mm, NULL) != VUG_OK || diameter_mm < free_mm
        || vug_exchange_flow(NULL, fluid, diameter_mm, &flow) != VUG_OK)
        return 0.0;
    return flow;
}
