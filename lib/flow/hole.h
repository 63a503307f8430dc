/* SPDX-License-Identifier: MIT
 * A round hole of any length, from a sharp-edged orifice to a long tube. */
#ifndef VUGI_FLOW_HOLE_H
#define VUGI_FLOW_HOLE_H

#include "base/base.h"

typedef struct vugi_orifice {
    vug_fluid fluid;
    double radius, length; /* m */
    double length_eff;     /* with the creeping entrance */
    double exit_end;       /* the creeping exit, as a length; 0 for a jet into air */
    double start;          /* Pa; no flow up to here */
    double contraction;    /* loss of a fast jet that contracts, in dynamic pressures */
} vugi_orifice;

/* A hole that liquid leaves as a jet into air; one that leads into more of the same, liquid under
 * liquid or air into air. */
vugi_orifice vugi_orifice_make(const vug_fluid *fluid, double diameter_mm, double length_mm);
vugi_orifice vugi_orifice_immersed(const vug_fluid *fluid, double diameter_mm, double length_mm);

/* m3/s and Pa, odd in their argument. NaN if there is no root. */
double vugi_orifice_flow(const vugi_orifice *hole, double pressure);
double vugi_orifice_pressure(const vugi_orifice *hole, double flow);

/* Reynolds number (Metzner and Reed's for a fluid that is not plain) of a flow in m3/s. */
double vugi_orifice_reynolds(const vugi_orifice *hole, double flow);

#endif
