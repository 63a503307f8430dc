/* SPDX-License-Identifier: MIT
 * Priority-Flood over the walls of cavities.
 *
 * What a cavity holds above a height falls into pieces. Each reaches up to a top of the wall, and where two of them meet as
 * the height sinks, their walls meet, at a corner of the mesh. So levels are found on corners and edges alone: each
 * corner has a way up to a top, and where the ways of the two ends of an edge part, two tops meet, at the lower end
 * of it. What stands up from a floor and ends below the ceiling has a top of its own that is none of the air. Straight
 * up from it is a wall to which it belongs from its own height on: air gets there on no lower way than that. */
#include "column/wall_flood.h"

#include "base/disjoint_set.h"
#include "base/vec.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Two tops meet at a level: that of a corner, or of a column's end. */
typedef struct meeting {
    double level;
    uint32_t a, b, at;
} meeting;

struct vugi_wall_room {
    meeting *meeting;
    size_t meeting_count, meeting_capacity;
    uint32_t *way; /* meetings of each top */
    size_t way_capacity;
    uint32_t *higher; /* of each corner of a body, on the way up */
    size_t higher_capacity;
    int32_t *gate; /* of each corner: the open opening that it is a corner of, or -1 */
    size_t gate_capacity;
    vugi_front front;
};

/* A triangle of the bodies: where it is in the order of its terrain, and the number of that one's first corner. */
typedef struct place {
    const vugi_terrain *terrain;
    uint32_t at, corner;
} place;

static place place_of(const vugi_bodies *bodies, uint32_t triangle)
{
    size_t m = 0;
    place p = {.terrain = vugi_terrain_of(bodies->mesh[0])};
    while (triangle >= p.terrain->triangle_count) {
        triangle -= (uint32_t)p.terrain->triangle_count;
        p.corner += (uint32_t)p.terrain->corner_count;
        p.terrain = vugi_terrain_of(bodies->mesh[++m]);
    }
    p.at = p.terrain->place[triangle];
    return p;
}

bool vugi_wall_flood_can(const vugi_bodies *bodies)
{
    bool can = bodies->bore_count == 0;
    for (size_t m = 0; m < bodies->count && can; m++)
        can = vugi_terrain_of(bodies->mesh[m]) && vugi_terrain_of(bodies->mesh[m])->closed;
    return can;
}

bool vugi_wall_flood_sound(const vugi_bodies *bodies)
{
    bool sound = true;
    for (size_t m = 0; m < bodies->count && sound; m++)
        sound = vugi_terrain_of(bodies->mesh[m])->sound;
    return sound;
}

/* ---- ways up --------------------------------------------------------------------- */

static bool make_room(const vugi_allocator *mem, const vugi_bodies *bodies, vugi_wall_flood *s)
{
    if (!s->room && !(s->room = vugi_calloc(mem, 1, sizeof *s->room)))
        return false;
    s->corner_count = 0;
    for (size_t m = 0; m < bodies->count; m++)
        s->corner_count += vugi_terrain_of(bodies->mesh[m])->corner_count;
    return vugi_reserve(mem, &s->height, &s->height_capacity, s->corner_count, sizeof *s->height)
        && vugi_reserve(mem, &s->top, &s->top_capacity, s->corner_count, sizeof *s->top)
        && vugi_reserve(mem, &s->room->gate, &s->room->gate_capacity, s->corner_count,
            sizeof *s->room->gate)
        && vugi_reserve(mem, &s->room->higher, &s->room->higher_capacity, s->corner_count,
            sizeof *s->room->higher);
}

/* Each corner points to a higher one beside it. Of equal heights the one with the higher number counts as higher. */
static void point_up(const vugi_terrain *t, const double up[3], double *z, uint32_t *to)
{
    for (uint32_t v = 0; v < t->corner_count; v++) {
        z[v] = vugi_dot(up, t->xyz + 3 * (size_t)v);
        to[v] = v;
    }
    for (size_t e = 0; e < t->edge_count; e++) {
        const uint32_t a = t->edge[2 * e], b = t->edge[2 * e + 1];
        const bool rising = z[b] > z[a] || (z[b] == z[a] && b > a);
        to[rising ? a : b] = rising ? b : a;
    }
}

/* Numbers the tops, and has each corner know its own. first: number of the first corner of the body. */
static bool find_tops(const vugi_allocator *mem, const vugi_terrain *t, uint32_t body,
    uint32_t first, vugi_wall_flood *s)
{
    uint32_t *to = s->room->higher, *top = s->top + first;
    for (uint32_t v = 0; v < t->corner_count; v++) {
        to[v] = vugi_sets_find(to, v);
        if (to[v] != v)
            continue;
        if (!vugi_reserve(mem, &s->tops, &s->tops_capacity, s->top_count + 1, sizeof *s->tops))
            return false;
        top[v] = (uint32_t)s->top_count;
        s->tops[s->top_count++] = (vugi_wall_top){.level = -INFINITY,
            .corner = first + v,
            .sill = VUGI_NO_CORNER,
            .hung = UINT32_MAX,
            .opening = -1,
            .body = body};
    }
    for (uint32_t v = 0; v < t->corner_count; v++)
        top[v] = top[to[v]];
    return true;
}

/* ---- meetings -------------------------------------------------------------------- */

static bool meet(const vugi_allocator *mem, vugi_wall_flood *s, uint32_t a, uint32_t b, uint32_t at,
    double level)
{
    struct vugi_wall_room *r = s->room;
    if (a == b)
        return true;
    if (!vugi_reserve(mem, &r->meeting, &r->meeting_capacity, r->meeting_count + 1,
            sizeof *r->meeting))
        return false;
    r->meeting[r->meeting_count++] = (meeting){level, a, b, at};
    return true;
}

static bool meet_at_edges(const vugi_allocator *mem, const vugi_terrain *t, uint32_t first,
    vugi_wall_flood *s)
{
    const uint32_t *top = s->top + first;
    const double *z = s->height + first;
    for (size_t e = 0; e < t->edge_count; e++) {
        const uint32_t a = t->edge[2 * e], b = t->edge[2 * e + 1];
        if (top[a] == top[b])
            continue;
        const uint32_t low = z[a] < z[b] ? a : b;
        if (!meet(mem, s, top[a], top[b], first + low, z[low]))
            return false;
    }
    return true;
}

/* The highest corner of the triangle at a place in order: from all of the triangle one gets there without going down. */
static uint32_t highest(const vugi_terrain *t, size_t at, const double *z)
{
    const uint32_t *v = t->corner + 3 * at;
    const uint32_t high = z[v[1]] > z[v[0]] ? v[1] : v[0];
    return z[v[2]] > z[high] ? v[2] : high;
}

/* Tops with air above them belong to what is over them. */
static bool meet_above(const vugi_allocator *mem, const vugi_terrain *t, const double pose[9],
    uint32_t first, size_t first_top, vugi_wall_flood *s)
{
    for (size_t n = first_top; n < s->top_count; n++) {
        const uint32_t corner = s->tops[n].corner, own = corner - first;
        if (!(vugi_dot(t->normal + 3 * (size_t)own, s->up) < 0.0))
            continue;
        const uint32_t above = vugi_tree_above(&t->tree, t->vertex[own], pose);
        if (above == UINT32_MAX)
            continue;
        const uint32_t over = first + highest(t, t->place[above], s->height + first);
        if (!meet(mem, s, (uint32_t)n, s->top[over], corner, s->height[corner]))
            return false;
    }
    return true;
}

/* The number of the top that is above a triangle. */
static uint32_t top_of(const vugi_bodies *bodies, const vugi_wall_flood *s, uint32_t triangle)
{
    const place p = place_of(bodies, triangle);
    return s->top[p.corner + highest(p.terrain, p.at, s->height + p.corner)];
}

/* Air comes from one end of a column to the other, at the lower one. */
static bool meet_on_columns(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_columns *c, bool liquid, vugi_wall_flood *s)
{
    for (size_t n = 0; n < c->count; n++)
        if (!meet(mem, s, top_of(bodies, s, c->floor[n]), top_of(bodies, s, c->ceiling[n]),
                VUGI_NO_CORNER, liquid ? -c->hi[n] : c->lo[n]))
            return false;
    return true;
}

static bool find_meetings(const vugi_allocator *mem, const vugi_bodies *bodies,
    const double basis[9], const vugi_columns *columns, bool liquid, vugi_wall_flood *s)
{
    const bool sound = vugi_wall_flood_sound(bodies);
    double pose[9];
    uint32_t first = 0;
    memcpy(pose, basis, sizeof pose);
    memcpy(pose + 6, s->up, sizeof s->up);
    s->top_count = s->room->meeting_count = 0;
    for (size_t m = 0; m < bodies->count; m++) {
        const vugi_terrain *t = vugi_terrain_of(bodies->mesh[m]);
        const size_t first_top = s->top_count;
        point_up(t, s->up, s->height + first, s->room->higher);
        if (!find_tops(mem, t, (uint32_t)m, first, s) || !meet_at_edges(mem, t, first, s)
            || (sound && !meet_above(mem, t, pose, first, first_top, s)))
            return false;
        first += (uint32_t)t->corner_count;
    }
    return sound || meet_on_columns(mem, bodies, columns, liquid, s);
}

/* Lists the meetings of each top: from tops[n].first up to that of the next, one beyond the last is there. */
static bool list_ways(const vugi_allocator *mem, vugi_wall_flood *s)
{
    struct vugi_wall_room *r = s->room;
    if (!vugi_reserve(mem, &r->way, &r->way_capacity, 2 * r->meeting_count, sizeof *r->way)
        || !vugi_reserve(mem, &s->tops, &s->tops_capacity, s->top_count + 1, sizeof *s->tops))
        return false;
    s->tops[s->top_count] = (vugi_wall_top){.first = 0};
    for (size_t i = 0; i < r->meeting_count; i++) {
        s->tops[r->meeting[i].a].first++;
        s->tops[r->meeting[i].b].first++;
    }
    uint32_t sum = 0;
    for (size_t n = 0; n <= s->top_count; n++)
        s->tops[n].first = sum += s->tops[n].first;
    for (size_t i = 0; i < r->meeting_count; i++) {
        r->way[--s->tops[r->meeting[i].a].first] = (uint32_t)i;
        r->way[--s->tops[r->meeting[i].b].first] = (uint32_t)i;
    }
    return true;
}

/* ---- levels ---------------------------------------------------------------------- */

/* Lets what is at a top come to it at a level; of equal ways the one with fewer columns counts. */
static bool come(const vugi_allocator *mem, vugi_wall_flood *s, uint32_t n, double level,
    uint32_t sill, uint32_t hung, bool lower)
{
    vugi_wall_top *top = s->tops + n;
    if (level < top->level || (level == top->level && hung >= top->hung))
        return true;
    top->level = level;
    top->sill = sill;
    top->hung = hung;
    return vugi_front_push(mem, &s->room->front, (vugi_front_entry){level, n}, lower);
}

static bool open_gates(const vugi_allocator *mem, const vugi_bodies *bodies,
    const vugi_wall_gate *gate, size_t count, vugi_wall_flood *s)
{
    memset(s->room->gate, 0xff, s->corner_count * sizeof *s->room->gate);
    for (size_t i = 0; i < count; i++) {
        const place p = place_of(bodies, gate[i].triangle);
        for (int k = 0; k < 3; k++) {
            const uint32_t corner = p.corner + p.terrain->corner[3 * (size_t)p.at + (size_t)k];
            s->room->gate[corner] = gate[i].opening;
            if (!come(mem, s, s->top[corner], s->height[corner], corner, 0, true))
                return false;
        }
    }
    return true;
}

static bool spread(const vugi_allocator *mem, vugi_wall_flood *s)
{
    const struct vugi_wall_room *r = s->room;
    for (vugi_front_entry e; vugi_front_pop(&s->room->front, &e);) {
        const vugi_wall_top from = s->tops[e.at];
        if (e.level < from.level)
            continue; /* a better one has overtaken it */
        for (uint32_t i = from.first; i < s->tops[e.at + 1].first; i++) {
            const meeting *m = r->meeting + r->way[i];
            const bool lower = m->level < e.level;
            if (!come(mem, s, m->a == e.at ? m->b : m->a, lower ? m->level : e.level,
                    lower ? m->at : from.sill, from.hung + (m->at == VUGI_NO_CORNER), lower))
                return false;
        }
    }
    return true;
}

bool vugi_wall_flood_run(const vugi_allocator *mem, const vugi_bodies *bodies,
    const double basis[9], const vugi_columns *columns, bool liquid, const vugi_wall_gate *gate,
    size_t gate_count, vugi_wall_flood *s)
{
    if (!make_room(mem, bodies, s))
        return false;
    for (int k = 0; k < 3; k++)
        s->up[k] = liquid ? -basis[6 + k] : basis[6 + k];
    s->room->front.heap_count = s->room->front.queue_count = 0;
    if (!find_meetings(mem, bodies, basis, columns, liquid, s) || !list_ways(mem, s)
        || !open_gates(mem, bodies, gate, gate_count, s) || !spread(mem, s))
        return false;
    s->bottom = INFINITY;
    for (size_t v = 0; v < s->corner_count; v++)
        s->bottom = vugi_lesser(s->bottom, s->height[v]);
    uint32_t hung = 0;
    for (size_t n = 0; n < s->top_count; n++) {
        vugi_wall_top *top = s->tops + n;
        top->opening = top->sill == VUGI_NO_CORNER ? -1 : s->room->gate[top->sill];
        hung = top->level > -INFINITY && top->hung > hung ? top->hung : hung;
    }
    s->unseen = hung > 0 ? hung * columns->h * columns->h * columns->h : 0.0;
    return true;
}

const vugi_wall_top *vugi_wall_flood_top(const vugi_bodies *bodies, const vugi_wall_flood *s,
    uint32_t triangle)
{
    return s->tops + top_of(bodies, s, triangle);
}

/* ---- volumes --------------------------------------------------------------------- */

static void sort_three(double z[3])
{
    for (int k = 0; k < 3; k++) {
        int i = k % 2; /* 0 1, 1 2, 0 1 */
        if (z[i] > z[i + 1]) {
            double swap = z[i];
            z[i] = z[i + 1];
            z[i + 1] = swap;
        }
    }
}

/* Mean over a triangle of its height where that is above 0, of those of its corners, the highest of which is; *share: of it
 * that is. */
static double mean_above(double z[3], double *share)
{
    sort_three(z);
    const double a = z[0], b = z[1], c = z[2];
    if (a >= 0.0) {
        *share = 1.0;
        return (a + b + c) / 3.0;
    }
    if (b > 0.0) {
        const double below = a / (a - b) * (a / (a - c));
        *share = 1.0 - below;
        return (a + b + c) / 3.0 - a * below / 3.0;
    }
    *share = c / (c - a) * (c / (c - b));
    return c * *share / 3.0;
}

/* Adds the triangle at a place in order, which reaches above a level: as high as it is above it, over what of the ground it
 * covers. error: of the level; < 0: there is no surface. */
static void add_behind(const vugi_terrain *t, const double *z, size_t at, const double up[3],
    double level, double error, vugi_wall_sums *sums)
{
    const uint32_t *v = t->corner + 3 * at;
    double n[3], share, above[3] = {z[v[0]] - level, z[v[1]] - level, z[v[2]] - level};
    vugi_triangle_cross(t->xyz + 3 * (size_t)v[0], t->xyz + 3 * (size_t)v[1],
        t->xyz + 3 * (size_t)v[2], n);
    const double twice = vugi_dot(n, up), square = vugi_dot(n, n);
    sums->volume += 0.5 * twice * mean_above(above, &share);
    sums->side += 0.5 * sqrt(fmax(0.0, square - twice * twice));
    sums->squares += 0.25 * square;
    if (error >= 0.0) {
        sums->surface += 0.5 * twice * share;
        sums->level += 0.5 * twice * share * error;
    }
}

/* Adds all that reaches above the levels of its tops: to the pockets of those, or to one. */
static void add_all(const vugi_bodies *bodies, const vugi_wall_flood *s, const double *error,
    vugi_wall_sums *one, vugi_wall_pocket *pocket)
{
    const uint32_t *top = s->top;
    const double *z = s->height;
    for (size_t m = 0; m < bodies->count; m++) {
        const vugi_terrain *t = vugi_terrain_of(bodies->mesh[m]);
        for (size_t i = 0; i < t->triangle_count; i++) {
            const uint32_t high = highest(t, i, z);
            const vugi_wall_top *p = s->tops + top[high];
            const double level = vugi_greater(p->level, s->bottom);
            if (!(z[high] > level))
                continue;
            const double off = p->level == -INFINITY ? -1.0
                : p->opening < 0                     ? 0.0
                                                     : error[p->opening];
            add_behind(t, z, i, s->up, level, off, one ? one : &pocket[p->pocket - 1].sums);
        }
        top += t->corner_count;
        z += t->corner_count;
    }
}

vugi_wall_sums vugi_wall_flood_caught(const vugi_bodies *bodies, const vugi_wall_flood *s,
    const double *error)
{
    vugi_wall_sums sums = {.unseen = s->unseen};
    add_all(bodies, s, error, &sums, NULL);
    return sums;
}

/* ---- pockets --------------------------------------------------------------------- */

static bool is_trapped(const vugi_wall_flood *s, const vugi_wall_top *top)
{
    return s->height[top->corner] > top->level;
}

/* Tops that meet above their level have one pocket: its number is that of the lowest of them. */
static void unite_tops(const vugi_wall_flood *s, uint32_t *parent)
{
    const struct vugi_wall_room *r = s->room;
    vugi_sets_init(parent, s->top_count);
    for (size_t i = 0; i < r->meeting_count; i++) {
        const meeting *m = r->meeting + i;
        if (m->level > s->tops[m->a].level && m->level > s->tops[m->b].level)
            vugi_sets_unite(parent, m->a, m->b);
    }
}

/* Puts a top in the pocket of its root, which may have begun with it. */
static void put_in_pocket(vugi_wall_flood *s, uint32_t n, uint32_t root, vugi_wall_pocket *list,
    size_t *count)
{
    vugi_wall_top *top = s->tops + n;
    if (root == n && is_trapped(s, top))
        list[(*count)++] = (vugi_wall_pocket){.level = top->level, .top = n};
    top->pocket = root != n ? s->tops[root].pocket : is_trapped(s, top) ? (uint32_t)*count : 0;
    vugi_wall_pocket *pocket = top->pocket > 0 ? list + top->pocket - 1 : NULL;
    if (pocket && s->height[top->corner] > s->height[s->tops[pocket->top].corner])
        pocket->top = n;
}

/* Where pockets reach up to; and down to, if no level ends them. */
static void find_ends(const vugi_bodies *bodies, const vugi_wall_flood *s, vugi_wall_pocket *list,
    size_t count)
{
    uint32_t first = 0;
    for (size_t i = 0; i < count; i++)
        list[i].level = list[i].level == -INFINITY ? INFINITY : list[i].level;
    for (size_t v = 0; v < s->corner_count; v++) {
        const vugi_wall_top *top = s->tops + s->top[v];
        if (top->level == -INFINITY && top->pocket > 0)
            list[top->pocket - 1].level = vugi_lesser(s->height[v], list[top->pocket - 1].level);
    }
    for (size_t m = 0; m < bodies->count; m++) {
        const vugi_terrain *t = vugi_terrain_of(bodies->mesh[m]);
        for (size_t i = 0; i < count; i++) {
            const vugi_wall_top *top = s->tops + list[i].top;
            if (top->body == m)
                memcpy(list[i].peak, t->xyz + 3 * (size_t)(top->corner - first),
                    sizeof list[i].peak);
        }
        first += (uint32_t)t->corner_count;
    }
}

bool vugi_wall_flood_pockets(const vugi_allocator *mem, const vugi_bodies *bodies,
    vugi_wall_flood *s, const double *error, vugi_wall_pocket **list, size_t *count)
{
    uint32_t *parent = vugi_alloc(mem, s->top_count, sizeof *parent);
    *list = vugi_alloc(mem, s->top_count, sizeof **list);
    *count = 0;
    if (!parent || !*list) {
        vugi_free(mem, parent);
        vugi_free(mem, *list);
        *list = NULL;
        return false;
    }
    unite_tops(s, parent);
    for (uint32_t n = 0; n < s->top_count; n++)
        put_in_pocket(s, n, vugi_sets_find(parent, n), *list, count);
    add_all(bodies, s, error, NULL, *list);
    find_ends(bodies, s, *list, *count);
    vugi_free(mem, parent);
    return true;
}

void vugi_wall_flood_free(const vugi_allocator *mem, vugi_wall_flood *s)
{
    if (s->room) {
        vugi_free(mem, s->room->meeting);
        vugi_free(mem, s->room->way);
        vugi_free(mem, s->room->higher);
        vugi_free(mem, s->room->gate);
        vugi_front_free(mem, &s->room->front);
        vugi_free(mem, s->room);
    }
    vugi_free(mem, s->height);
    vugi_free(mem, s->top);
    vugi_free(mem, s->tops);
    *s = (vugi_wall_flood){.height = NULL};
}
