/* SPDX-License-Identifier: MIT
 * Decimal numbers in text, whatever the locale. */
#ifndef VUGI_MESH_NUMBER_H
#define VUGI_MESH_NUMBER_H

#include "base/base.h"

#include <stddef.h>

enum { VUGI_NUMBER_OK, VUGI_NUMBER_BAD, VUGI_NUMBER_NOT_FINITE };

/* Reads the whole of text[0..length): sign, digits, point, digits, exponent by e or d. Exact for
 * up to 15 digits and exponents to 22, else to about one unit in the last place. */
int vugi_number_read(const unsigned char *text, size_t length, double *value);

#endif
