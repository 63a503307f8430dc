/* SPDX-License-Identifier: MIT
 * Elimination by Gauss. The systems of pools and air are sparse, so rows without an entry are skipped. */
#include "hydrostatic/linear.h"

#include <math.h>

static void exchange(double *m, double *x, size_t n, size_t i, size_t k)
{
    for (size_t j = 0; j < n; j++) {
        double t = m[k * n + j];
        m[k * n + j] = m[i * n + j];
        m[i * n + j] = t;
    }
    double t = x[k];
    x[k] = x[i];
    x[i] = t;
}

bool vugi_eliminate(double *m, double *x, size_t n)
{
    for (size_t k = 0; k < n; k++) {
        size_t p = k;
        for (size_t i = k + 1; i < n; i++)
            if (fabs(m[i * n + k]) > fabs(m[p * n + k]))
                p = i;
        if (p != k)
            exchange(m, x, n, p, k);
        if (!(fabs(m[k * n + k]) > 0.0))
            return false;
        for (size_t i = k + 1; i < n; i++) {
            if (m[i * n + k] == 0.0)
                continue;
            double f = m[i * n + k] / m[k * n + k];
            for (size_t j = k + 1; j < n; j++)
                m[i * n + j] -= f * m[k * n + j];
            x[i] -= f * x[k];
        }
    }
    for (size_t k = n; k-- > 0;) {
        for (size_t j = k + 1; j < n; j++)
            x[k] -= m[k * n + j] * x[j];
        x[k] /= m[k * n + k];
        if (!isfinite(x[k]))
            return false;
    }
    return true;
}
