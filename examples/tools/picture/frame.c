/* SPDX-License-Identifier: MIT */
#include "frame.h"

void frame_place(const frame *panel, double across, double height, double *x, double *y)
{
    *x = panel->x + (across - panel->left) * panel->scale;
    *y = panel->y + (panel->top - height) * panel->scale;
}
