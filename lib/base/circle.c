/* SPDX-License-Identifier: MIT */
#include "base/circle.h"

bool vugi_circle_fit(const double *xy, const bool *use, size_t count, double center[2])
{
    double n = 0.0, mx = 0.0, my = 0.0, xx = 0.0, cross = 0.0, yy = 0.0, xz = 0.0, yz = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (use && !use[i])
            continue;
        n += 1.0;
        mx += xy[2 * i];
        my += xy[2 * i + 1];
    }
    if (n < 6.0)
        return false;
    for (size_t i = 0; i < count; i++) {
        if (use && !use[i])
            continue;
        double x = xy[2 * i] - mx / n, y = xy[2 * i + 1] - my / n, z = x * x + y * y;
        xx += x * x;
        cross += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    double det = xx * yy - cross * cross;
    if (!(det > 1e-3 * (xx + yy) * (xx + yy)))
        return false;
    center[0] = mx / n + 0.5 * (yy * xz - cross * yz) / det;
    center[1] = my / n + 0.5 * (xx * yz - cross * xz) / det;
    return true;
}
