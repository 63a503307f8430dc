/* SPDX-License-Identifier: MIT
 * The openings of cavities as gates in their walls: see column/wall_flood.h. */
#ifndef VUGI_CAVITY_GATES_H
#define VUGI_CAVITY_GATES_H

#include "cavity/cavity.h"

/* An all-zero one may be used again and again, then freed. */
typedef struct vugi_gates {
    int32_t *
        gate; /* of each triangle of the cavities, one after the other: the opening that it caps, -1: none */
    double *error; /* of each opening: how far its height may be off */
    size_t gate_capacity, error_capacity;
} vugi_gates;

/* Of cavities first .. first + count - 1. role: of each opening. up: as air goes; liquid: it goes the other way. false:
 * no memory. */
bool vugi_gates_find(const vugi_allocator *mem, const vug_cavities *cavities, size_t first,
    size_t count, const int32_t *role, const double up[3], bool liquid, vugi_gates *gates);
void vugi_gates_free(const vugi_allocator *mem, vugi_gates *gates);

#endif
