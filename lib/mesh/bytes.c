/* SPDX-License-Identifier: MIT
 * Little-endian numbers into bytes. */
#include "mesh/bytes.h"

#include <string.h>

void vugi_put_u32(unsigned char *p, uint32_t u)
{
    for (int k = 0; k < 4; k++)
        p[k] = (unsigned char)(u >> (8 * k));
}

void vugi_put_float(unsigned char *p, double value)
{
    float f = (float)value;
    uint32_t u;
    memcpy(&u, &f, sizeof u);
    vugi_put_u32(p, u);
}
