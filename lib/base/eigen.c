/* SPDX-License-Identifier: MIT */
#include "base/eigen.h"

#include <math.h>

void vugi_smallest_eigenvector(double m[3][3], double out[3])
{
    double e[3][3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    for (int sweep = 0; sweep < 12; sweep++) {
        for (int pair = 0; pair < 3; pair++) {
            int p = pair == 2 ? 1 : 0, q = pair == 0 ? 1 : 2;
            if (m[p][q] == 0.0)
                continue;
            double theta = 0.5 * (m[q][q] - m[p][p]) / m[p][q];
            double t = copysign(1.0, theta) / (fabs(theta) + sqrt(theta * theta + 1.0));
            double c = 1.0 / sqrt(t * t + 1.0), s = t * c;
            for (int k = 0; k < 3; k++) {
                double kp = m[k][p], kq = m[k][q];
                m[k][p] = c * kp - s * kq;
                m[k][q] = s * kp + c * kq;
            }
            for (int k = 0; k < 3; k++) {
                double pk = m[p][k], qk = m[q][k], ep = e[k][p], eq = e[k][q];
                m[p][k] = c * pk - s * qk;
                m[q][k] = s * pk + c * qk;
                e[k][p] = c * ep - s * eq;
                e[k][q] = s * ep + c * eq;
            }
        }
    }
    int least = 0;
    for (int k = 1; k < 3; k++)
        if (m[k][k] < m[least][least])
            least = k;
    for (int k = 0; k < 3; k++)
        out[k] = e[k][least];
}
