/* SPDX-License-Identifier: MIT
 * Derived here, as no published law was found for slow sheets that fall from an edge: on the crest the depth h of a slow
 * sheet falls by q = density g / (3 viscosity) h^3 (-dh/dx) (lubrication, the law that gives Nusselt's film on a slope),
 * so h^4 falls by 4 film^3 for each mm, film = (3 viscosity q / (density g))^(1/3), Nusselt's film 1916 on the wall
 * behind, which is the depth at the edge. A fast sheet stands 1.5 critical depths (q^2 / g)^(1/3) (broad crest, any
 * textbook). Fourth powers are added: the larger of the two counts. Beyond that the sheet's own drop at the edges of a
 * crest, where it turns, is left out. */
#include "transient/sill.h"

#include "flow/flow.h"
#include "flow/viscosity.h"

#include <math.h>

double vugi_sheet_head(const vug_fluid *f, double flow_mm2_s, double crest_mm)
{
    double q = flow_mm2_s * VUGI_MM2, weight = f->density_kg_m3 * VUGI_G, film = 1e-3;
    if (!(q > 0.0))
        return 0.0;
    for (int i = 0; i < 40;
         i++) { /* by the rate of shear at the wall: 3 q / h^2 in a plain liquid */
        double rate = fmax(1e-6, 3.0 * q / (film * film)), last = film;
        film = cbrt(3.0 * vugi_fluid_viscosity(f, rate) * q / weight);
        if (film == last)
            break;
    }
    double fast = 1.5 * cbrt(q * q / VUGI_G), cube = film * film * film;
    double slow = film * cube + 4.0 * cube * crest_mm * VUGI_MM;
    return sqrt(sqrt(slow + fast * fast * fast * fast)) / VUGI_MM;
}

/* ---- the shape of a sill ------------------------------------------------------------ */

enum { DIRECTIONS = 16, BESIDE = 3 };

/* Floor at a place where the cavity is open at height z; INFINITY: it is not. */
static double floor_at(const vugi_graph *g, double x, double y, double z)
{
    const vugi_columns *c = g->columns;
    double i = floor(x / c->h + 0.5), j = floor(y / c->h + 0.5);
    if (i < 0.0 || j < 0.0 || i >= c->nx || j >= c->ny)
        return INFINITY;
    size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
    for (uint32_t s = c->first[column]; s < c->first[column + 1]; s++)
        if (g->sweep.floor_arc[s] != VUGI_NONE && c->lo[s] < z && c->hi[s] > z)
            return c->lo[s];
    return INFINITY;
}

/* How far a straight line from a place stays open at height z, both ways. */
static double run(const vugi_graph *g, const double at[2], const double d[2], double z)
{
    const vugi_columns *c = g->columns;
    double step = 0.5 * c->h, length = 0.0, most = c->h * hypot(c->nx, c->ny);
    for (int side = -1; side <= 1; side += 2)
        for (double t = step; t < most; t += step) {
            double low = floor_at(g, at[0] + side * t * d[0], at[1] + side * t * d[1], z);
            if (!(low < z))
                break;
            length += step;
        }
    return fmax(c->h, length);
}

static bool on_crest(const vugi_graph *g, double x, double y, double z, double least)
{
    double low = floor_at(g, x, y, z);
    return low < z && low >= least;
}

/* A place on the crest, the nearest to one that lies on it or beside it; false: there is none. */
static bool to_crest(const vugi_graph *g, double at[2], double z, double least)
{
    double h = g->columns->h;
    const double from[2] = {at[0], at[1]};
    for (int ring = 0; ring <= BESIDE; ring++)
        for (int j = -ring; j <= ring; j++)
            for (int i = -ring; i <= ring; i++)
                if (on_crest(g, from[0] + i * h, from[1] + j * h, z, least)) {
                    at[0] = from[0] + i * h;
                    at[1] = from[1] + j * h;
                    return true;
                }
    return false;
}

/* Length of the crest along a line. *walls: at how many ends it ends at a wall, not where its floor falls. */
static double along_crest(const vugi_graph *g, const double at[2], const double d[2], double z,
    double least, int *walls)
{
    double step = 0.5 * g->columns->h, length = step;
    *walls = 0;
    for (int side = -1; side <= 1; side += 2) {
        double t = step;
        for (; on_crest(g, at[0] + side * t * d[0], at[1] + side * t * d[1], z, least); t += step)
            length += step;
        *walls += !(floor_at(g, at[0] + side * t * d[0], at[1] + side * t * d[1], z) < z);
    }
    return fmax(g->columns->h, length);
}

/* The crest lies across the shortest line that stays on it from wall to wall. */
static void measure_crest(const vugi_graph *g, const double at[2], double z, double least,
    double *width, double *length)
{
    int walls;
    *width = INFINITY;
    for (int k = 0; k < DIRECTIONS; k++) {
        double angle = VUGI_PI * k / DIRECTIONS, d[2] = {cos(angle), sin(angle)};
        double here = along_crest(g, at, d, z, least, &walls);
        if (walls < 2 || here >= *width)
            continue;
        *width = here;
        const double across[2] = {-d[1], d[0]};
        *length = along_crest(g, at, across, z, least, &walls);
    }
}

/* A sill that no wall bounds, or none that the columns show: as wide as the narrowest way through the place. */
static double narrowest(const vugi_graph *g, const double at[2], double z)
{
    double width = INFINITY;
    for (int k = 0; k < DIRECTIONS; k++) {
        double angle = VUGI_PI * k / DIRECTIONS;
        width = fmin(width, run(g, at, (double[]){cos(angle), sin(angle)}, z));
    }
    return width;
}

void vugi_sill_measure(const vugi_graph *g, uint32_t link, double z, vugi_sill_shape *shape)
{
    const vugi_columns *c = g->columns;
    uint32_t column = g->sweep.column[g->sill[link]];
    const double at[2] = {c->h * (double)(column % (uint32_t)c->nx),
        c->h * (double)(column / (uint32_t)c->nx)};
    for (int i = 0; i < VUGI_SILL_HEADS; i++) {
        double head = 0.1 * pow(2.0, i), least = z - 0.5 * head, place[2] = {at[0], at[1]};
        shape->head[i] = head;
        shape->width[i] = INFINITY;
        shape->crest[i] = c->h;
        if (to_crest(g, place, z + head, least))
            measure_crest(g, place, z + head, least, shape->width + i, shape->crest + i);
        if (!(shape->width[i] < INFINITY) && i > 0) { /* over the roof of the place */
            shape->width[i] = shape->width[i - 1];
            shape->crest[i] = shape->crest[i - 1];
        } else if (!(shape->width[i] < INFINITY)) {
            shape->width[i] = narrowest(g, at, z + head);
        }
        if (i > 0) /* what stands higher runs over all of it: else one flow had two heads */
            shape->width[i] = fmax(shape->width[i], shape->width[i - 1]);
    }
}

/* At a head between those that were looked at. */
static double at_head(const vugi_sill_shape *s, const double *value, double head)
{
    int i = 0;
    while (i + 2 < VUGI_SILL_HEADS && s->head[i + 1] < head)
        i++;
    double part = (head - s->head[i]) / (s->head[i + 1] - s->head[i]);
    return value[i] + fmax(0.0, fmin(1.0, part)) * (value[i + 1] - value[i]);
}

/* The sheet's head grows with its flow as a power of it between 1/7 and 2/3. */
double vugi_sill_flow(const vug_fluid *f, const vugi_sill_shape *s, double head)
{
    double width = at_head(s, s->width, head), crest = at_head(s, s->crest, head), flow = head;
    for (int i = 0; i < 60 && head > 0.0; i++) {
        double off = log(head / vugi_sheet_head(f, flow, crest));
        flow *= exp(fmax(-20.0, fmin(20.0, 1.5 * off)));
        if (fabs(off) < 1e-9)
            break;
    }
    return head > 0.0 ? flow * width : 0.0;
}
