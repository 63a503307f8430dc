/* SPDX-License-Identifier: MIT
 * The openings of cavities as gates in their walls: see column/wall_flood.h. */
#ifndef VUGI_CAVITY_GATES_H
#define VUGI_CAVITY_GATES_H

#include "cavity/cavity.h"
#include "column/wall_flood.h"

typedef struct vugi_gates {
    vugi_wall_gate *gate; /* the caps of what is open */
    double *error;        /* of each opening: how far its height may be off */
    size_t count, gate_capacity, error_capacity;
} vugi_gates;

/* What the walls of cavities say is caught. An all-zero one may be used again and again, then freed. */
typedef struct vugi_wall_look {
    vugi_gates gates;
    vugi_wall_flood flood;
    vugi_wall_sums caught;
    bool known; /* they can say it: see vugi_wall_flood_can() */
} vugi_wall_look;

/* bodies: those of cavities first .. first + count - 1. basis: of the pose. columns: of the same pose; they may be NULL
 * where the walls are sound. false: no memory. */
bool vugi_wall_look_at(const vugi_allocator *mem, const vug_cavities *cavities, size_t first,
    size_t count, const int32_t *role, const vugi_bodies *bodies, const double basis[9],
    const vugi_columns *columns, bool liquid, vugi_wall_look *look);
void vugi_wall_look_free(const vugi_allocator *mem, vugi_wall_look *look);

#endif
