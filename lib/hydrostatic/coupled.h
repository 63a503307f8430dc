/* SPDX-License-Identifier: MIT
 * The pools and closed air that hang together with the pool that is fed, as a balance. */
#ifndef VUGI_HYDROSTATIC_COUPLED_H
#define VUGI_HYDROSTATIC_COUPLED_H

#include "hydrostatic/newton.h"
#include "hydrostatic/run.h"

typedef struct vugi_coupled {
    vugi_run *run;
    vugi_balance balance;
    double *press;        /* of each arc: excess pressure of the air in it, mm */
    uint32_t *pool, *air; /* body of each pool and air of run->links, or VUGI_NONE */
} vugi_coupled;

bool vugi_coupled_alloc(vugi_coupled *b, vugi_run *run, double compressibility);
void vugi_coupled_free(vugi_coupled *b);

/* Begins anew: no bodies. */
void vugi_coupled_clear(vugi_coupled *b);

/* The pool that stands in an arc, with all that hangs together with it; an empty one if the arc is
 * a dry basin. false: no memory. */
bool vugi_coupled_pool(vugi_coupled *b, uint32_t arc, uint32_t *body);
bool vugi_coupled_air(vugi_coupled *b, uint32_t air, uint32_t *body);

/* A full surface runs over by link k into the pool over the basin's arc; the air of a surface at its lower
 * end escapes into other air, or outside (VUGI_NONE). Where that leads back to itself the surface is
 * fixed instead. */
void vugi_coupled_run_over(vugi_coupled *b, size_t surface, uint32_t to);
void vugi_coupled_escape(vugi_coupled *b, size_t surface, uint32_t to);

/* Pressures of closed air from the levels that there are: what holds them. */
void vugi_coupled_press(vugi_coupled *b);

/* Number of the air over an arc's liquid now: vugi_links_air_over(). */
uint32_t vugi_air_over(const vugi_run *run, uint32_t arc);

/* The air into which that of a dry arc bubbles when it is pressed out at its lower end: that over the liquid beside
 * it, VUGI_NONE: none. *bare: there is no liquid beside it, and arcs are below that its air would enter. */
uint32_t vugi_air_beside(const vugi_run *run, uint32_t arc, bool *bare);

#endif
