/* SPDX-License-Identifier: MIT
 * Floor 1: the sums. Pure functions: no mesh, no allocation, no state. Inside, lengths are in
 * metres and everything else in SI; millimetres stay at the public surface. */
#ifndef VUGI_FLOW_FLOW_H
#define VUGI_FLOW_FLOW_H

#include "base/angle.h"
#include "base/base.h"

#define VUGI_G 9.80665           /* standard gravity, m/s2 */
#define VUGI_ATMOSPHERE 101325.0 /* standard atmosphere, Pa */
#define VUGI_MM 1e-3             /* m */
#define VUGI_MM2 1e-6            /* m2 */
#define VUGI_MM3 1e-9            /* m3 */

#endif
