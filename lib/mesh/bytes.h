/* SPDX-License-Identifier: MIT
 * Little-endian numbers into bytes. */
#ifndef VUGI_MESH_BYTES_H
#define VUGI_MESH_BYTES_H

#include <stdint.h>

void vugi_put_u32(unsigned char *p, uint32_t u);

/* Rounded to 32 bits. */
void vugi_put_float(unsigned char *p, double value);

#endif
