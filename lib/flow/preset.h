/* SPDX-License-Identifier: MIT
 * Liquids of the bench. */
#ifndef VUGI_FLOW_PRESET_H
#define VUGI_FLOW_PRESET_H

#include "base/base.h"

/* A print in the vat: its resin (values from memory), the speed at which a layer is lifted, and the
 * suction that the film may bear (common practice, no source). */
#define VUGI_VAT_KG_M3 1100.0
#define VUGI_VAT_PA_S 0.2
#define VUGI_VAT_LIFT_MM_S 1.0
#define VUGI_VAT_SUCTION_PA 2000.0
vug_fluid vugi_vat_resin(double density_kg_m3, double viscosity_pa_s);

#endif
