/* SPDX-License-Identifier: MIT
 * base: vectors, angles, disjoint sets, heap, sort, roots. */
#include "base/angle.h"
#include "base/disjoint_set.h"
#include "base/heap.h"
#include "base/root.h"
#include "base/sort.h"
#include "base/vec.h"
#include "failing.h"
#include "test.h"

/* Park and Miller's minimal standard (CACM 31(10), 1988). */
static uint32_t next_random(uint32_t *seed)
{
    *seed = (uint32_t)((uint64_t)*seed * 48271 % 2147483647);
    return *seed;
}

/* ---- vectors and angles ----------------------------------------------------------------- */

START_TEST(vectors_by_hand)
{
    const double a[3] = {1.0, 2.0, 3.0}, b[3] = {4.0, 5.0, 6.0}, long_one[3] = {2.0, 3.0, 6.0};
    double c[3], zero[3] = {0.0, 0.0, 0.0};
    ck_assert_double_eq(vugi_dot(a, b), 32.0); /* 4 + 10 + 18 */
    vugi_cross(a, b, c);                       /* 12 - 15, 12 - 6, 5 - 8 */
    ck_assert_double_eq(c[0], -3.0);
    ck_assert_double_eq(c[1], 6.0);
    ck_assert_double_eq(c[2], -3.0);
    ck_assert_double_eq(vugi_length(long_one), 7.0); /* 4 + 9 + 36 */
    ck_assert_double_eq(vugi_square_distance(a, b), 27.0);
    ck_assert_double_eq(vugi_point_distance(long_one, zero), 7.0);
    vugi_along(a, b, -2.0, c);
    ck_assert_double_eq(c[0], -7.0);
    ck_assert_double_eq(c[1], -8.0);
    ck_assert_double_eq(c[2], -9.0);
    vugi_subtract(b, a, c);
    ck_assert_double_eq(vugi_normalise(c), sqrt(27.0));
    ck_near(c[1], 0.57735026918962576, 1e-15); /* 1 / sqrt 3 */
    ck_assert_double_eq(vugi_normalise(zero), 0.0);
    ck_assert_double_eq(zero[0], 0.0);
    /* half of 3 by 4 by the right hand */
    const double p[3] = {1.0, 1.0, 1.0}, q[3] = {4.0, 1.0, 1.0}, r[3] = {1.0, 5.0, 1.0};
    vugi_triangle_cross(p, q, r, c);
    ck_assert_double_eq(c[2], 12.0);
    ck_assert_double_eq(vugi_length(c), 12.0);
}
END_TEST

START_TEST(angles_have_one_unit)
{
    ck_assert_double_eq(cos(VUGI_PI), -1.0);
    ck_near(sin(30.0 * VUGI_DEGREE), 0.5, 1e-15);
    ck_near(1.0 * VUGI_RADIAN, 57.295779513082320877, 1e-15); /* OEIS A072097 */
}
END_TEST

/* A zone of a sphere has an area that is proportional to its height, whatever the axis (Archimedes),
 * so half of the points lie within 60 degrees around any axis's poles; and each point is turned by the
 * golden angle from the one before, 137.5077640500378546 degrees (OEIS A096627). */
START_TEST(points_share_the_sphere)
{
    enum { COUNT = 1000 };
    const double axis[4][3] = {{0.0, 0.0, 1.0}, {1.0, 0.0, 0.0}, {0.6, 0.8, 0.0},
        {0.48, 0.6, 0.64}};
    for (int a = 0; a < 4; a++) {
        int near_poles = 0;
        for (size_t i = 0; i < COUNT; i++) {
            double p[3];
            vugi_sphere_point(i, COUNT, p);
            ck_near(vugi_length(p), 1.0, 1e-14);
            near_poles += fabs(vugi_dot(p, axis[a])) > 0.5;
        }
        ck_assert_int_ge(near_poles, COUNT / 2 - 15);
        ck_assert_int_le(near_poles, COUNT / 2 + 15);
    }
    double p[3], q[3];
    vugi_sphere_point(500, COUNT, p);
    vugi_sphere_point(501, COUNT, q);
    double turn = (atan2(q[1], q[0]) - atan2(p[1], p[0])) * VUGI_RADIAN;
    ck_close(turn < 0.0 ? turn + 360.0 : turn, 137.5077640500378546, 1e-9);
}
END_TEST

/* ---- disjoint sets -------------------------------------------------------------------------- */

/* The truth by painting: of two that join, all of the one colour take the lower. */
START_TEST(sets_join_and_their_lowest_leads)
{
    enum { COUNT = 300 };
    uint32_t parent[COUNT], colour[COUNT], seed = 7;
    vugi_sets_init(parent, COUNT);
    for (uint32_t i = 0; i < COUNT; i++)
        colour[i] = i;
    for (int round = 0; round < 400; round++) {
        uint32_t a = next_random(&seed) % COUNT, b = next_random(&seed) % COUNT;
        uint32_t lo = colour[a] < colour[b] ? colour[a] : colour[b],
                 hi = colour[a] ^ colour[b] ^ lo;
        vugi_sets_unite(parent, a, b);
        for (uint32_t i = 0; i < COUNT; i++)
            colour[i] = colour[i] == hi ? lo : colour[i];
        for (uint32_t i = 0; i < COUNT && round % 20 == 0; i++)
            ck_assert_uint_eq(vugi_sets_find(parent, i), colour[i]);
    }
}
END_TEST

START_TEST(a_chain_of_sets_gets_shorter)
{
    enum { COUNT = 1024 };
    uint32_t parent[COUNT];
    for (uint32_t i = 0; i < COUNT; i++)
        parent[i] = i ? i - 1 : 0; /* as long as can be */
    ck_assert_uint_eq(vugi_sets_find(parent, COUNT - 1), 0);
    int steps = 0;
    for (uint32_t i = COUNT - 1; parent[i] != i; i = parent[i])
        steps++;
    ck_assert_int_le(steps, COUNT / 2); /* halved */
}
END_TEST

/* ---- sort --------------------------------------------------------------------------------------- */

typedef struct card {
    uint32_t value, number;
    char rest[16]; /* longer than a register */
} card;

static int by_value(const void *left, const void *right, const void *user)
{
    const card *p = left, *q = right;
    ++*(uint64_t *)(uintptr_t)user; /* comparisons */
    return (p->value > q->value) - (p->value < q->value);
}

/* The reference: the C library's, told to keep the order of equals. */
static int by_value_then_number(const void *left, const void *right)
{
    const card *p = left, *q = right;
    if (p->value != q->value)
        return p->value < q->value ? -1 : 1;
    return (p->number > q->number) - (p->number < q->number);
}

/* Orders that are hard on one sort or another: random, rising, falling, all equal, two values in
 * turn (quadratic for Shell's gaps when the count is a power of two), the halves interleaved. */
enum { PATTERNS = 6 };
static uint32_t pattern(int which, uint32_t i, uint32_t count, uint32_t *seed)
{
    switch (which) {
    case 0:
        return next_random(seed) % (count / 2 + 1);
    case 1:
        return i;
    case 2:
        return count - i;
    case 3:
        return 5;
    case 4:
        return i % 2;
    default:
        return i % 2 ? i / 2 : count + i / 2;
    }
}

static void check_sort(uint32_t count, int which)
{
    uint32_t seed = count + 1;
    uint64_t compared = 0;
    card *list = malloc((count + 1) * sizeof *list), *want = malloc((count + 1) * sizeof *want);
    ck_assert(list && want);
    for (uint32_t i = 0; i < count; i++) {
        list[i] = (card){pattern(which, i, count, &seed), i, "kept together"};
        want[i] = list[i];
    }
    ck_assert(vugi_sort(&vugi_default_allocator, list, count, sizeof *list, by_value, &compared));
    qsort(want, count, sizeof *want, by_value_then_number);
    ck_assert(count == 0 || memcmp(list, want, count * sizeof *list) == 0);
    /* Merging takes n lg n - 2^lg n + 1 at most, lg rounded up (Knuth, The Art of Computer Programming
     * 3, 5.2.4), and a look at each of the n - 1 seams. */
    uint64_t lg = 0;
    while ((uint64_t)1 << lg < count)
        lg++;
    if (count > 0)
        ck_assert_uint_le(compared, count * lg - ((uint64_t)1 << lg) + 1 + count - 1);
    if (count > 0 && (which == 1 || which == 3))
        ck_assert_uint_eq(compared, count - 1);
    free(list);
    free(want);
}

START_TEST(sort_is_stable_and_quick_in_any_order)
{
    for (int which = 0; which < PATTERNS; which++) {
        for (uint32_t count = 0; count < 100; count++)
            check_sort(count, which);
        check_sort(4097, which);
        check_sort(262144, which);
    }
}
END_TEST

static int by_size(const void *left, const void *right, const void *user)
{
    return memcmp(left, right, *(const size_t *)user);
}

START_TEST(sort_takes_any_size)
{
    for (size_t size = 1; size < 70; size++) {
        unsigned char list[70 * 40];
        uint32_t seed = (uint32_t)size;
        for (size_t i = 0; i < 40 * size; i++)
            list[i] = (unsigned char)(next_random(&seed) >> 8);
        ck_assert(vugi_sort(&vugi_default_allocator, list, 40, size, by_size, &size));
        for (size_t i = 1; i < 40; i++)
            ck_assert_int_le(memcmp(list + (i - 1) * size, list + i * size, size), 0);
    }
}
END_TEST

START_TEST(sort_asks_the_allocator_alone)
{
    enum { SMALL = VUGI_SORT_SMALL / sizeof(double), LARGE = 2 * SMALL };
    failing f;
    size_t size = sizeof(double);
    const vugi_allocator mem = {failing_alloc, failing_realloc, failing_free, &f};
    double list[LARGE];
    atomic_init(&f.left, 0);
    atomic_init(&f.held, 0);
    for (int i = 0; i < LARGE; i++)
        list[i] = (i * 37) % LARGE;
    ck_assert(!vugi_sort(&mem, list, LARGE, size, by_size, &size));
    for (int i = 0; i < LARGE; i++)
        ck_assert_double_eq(list[i], (i * 37) % LARGE);            /* as it was */
    ck_assert(vugi_sort(&mem, list, SMALL, size, by_size, &size)); /* needs none */
    atomic_store(&f.left, -1);
    ck_assert(vugi_sort(&mem, list, LARGE, size, by_size, &size));
    ck_assert_int_eq(atomic_load(&f.held), 0);
}
END_TEST

/* The reference is the other sort, which has its own. */
static int by_key(const void *left, const void *right, const void *user)
{
    const uint32_t *key = user, *p = left, *q = right;
    return (key[*p] > key[*q]) - (key[*p] < key[*q]);
}

START_TEST(keys_sort_by_digits)
{
    enum { COUNT = 5000 };
    static uint32_t key[COUNT], number[COUNT], swap[COUNT], want[COUNT];
    const uint32_t mask[] = {0xffffffff, 0xff, 0xff0000, 0x80000001, 0};
    for (size_t m = 0; m < sizeof mask / sizeof *mask; m++) {
        uint32_t seed = 11;
        for (uint32_t i = 0; i < COUNT; i++) {
            key[i] = (next_random(&seed) << 1 ^ next_random(&seed)) & mask[m];
            number[i] = want[i] = COUNT - 1 - i;
        }
        vugi_sort_keys(number, key, COUNT, swap);
        ck_assert(vugi_sort(&vugi_default_allocator, want, COUNT, sizeof *want, by_key, key));
        ck_assert_int_eq(memcmp(number, want, sizeof number), 0);
    }
}
END_TEST

static int by_number(const void *left, const void *right, const void *user)
{
    int p = *(const int *)left, q = *(const int *)right;
    (void)user;
    return (p > q) - (p < q);
}

START_TEST(search_finds_the_first)
{
    const int list[] = {2, 3, 3, 3, 5, 8, 8, 13};
    size_t n = sizeof list / sizeof *list;
    for (int key = 0; key < 15; key++) {
        size_t first = 0; /* by looking at each */
        while (first < n && list[first] < key)
            first++;
        ck_assert_uint_eq(vugi_lower_bound(&key, list, n, sizeof *list, by_number, NULL), first);
        const int *found = vugi_search(&key, list, n, sizeof *list, by_number, NULL);
        ck_assert_ptr_eq(found, first < n && list[first] == key ? list + first : NULL);
        ck_assert_ptr_null(vugi_search(&key, list, 0, sizeof *list, by_number, NULL));
    }
}
END_TEST

/* ---- heap ------------------------------------------------------------------------------------- */

static bool larger(const void *a, const void *b)
{
    return *(const uint32_t *)a > *(const uint32_t *)b;
}

/* Beside a plain list of which the largest is looked for each time. */
START_TEST(heap_gives_the_first)
{
    uint32_t heap[256], list[256], seed = 3, top;
    size_t count = 0;
    for (int round = 0; round < 4000; round++) {
        if (count > 0 && (next_random(&seed) % 3 == 0 || count == 256)) {
            size_t most = 0, n = count;
            for (size_t i = 1; i < n; i++)
                most = list[i] > list[most] ? i : most;
            vugi_heap_pop(heap, &count, sizeof *heap, &top, larger);
            ck_assert_uint_eq(count, n - 1);
            ck_assert_uint_eq(top, list[most]);
            list[most] = list[n - 1];
        } else {
            list[count] = next_random(&seed);
            vugi_heap_push(heap, &count, sizeof *heap, list + count, larger);
        }
    }
}
END_TEST

/* ---- roots ------------------------------------------------------------------------------------ */

static double omega(const void *user, double ln_x)
{
    (void)user;
    return ln_x + exp(ln_x); /* ln (x e^x) */
}

static double cubic(const void *user, double ln_x)
{
    (void)user;
    return ln_x + log1p(exp(2.0 * ln_x)) - log(10.0); /* ln ((x + x^3) / 10) */
}

static double never(const void *user, double ln_x)
{
    (void)user;
    return 1.0 + exp(-ln_x);
}

START_TEST(roots_in_logarithms)
{
    /* x e^x = 1 at the omega constant (OEIS A030178) */
    for (double guess = -4.0; guess < 4.0; guess += 0.5)
        ck_near(exp(vugi_root(omega, NULL, guess)), 0.56714329040978387300, 1e-14);
    /* 2 + 8 = 10, wherever the search starts: straight far from the root, as our sums are */
    for (double guess = -650.0; guess < 300.0; guess += 50.0)
        ck_near(exp(vugi_root(cubic, NULL, guess)), 2.0, 1e-14);
    ck_assert_double_nan(vugi_root(never, NULL, 0.0));
}
END_TEST

START_TEST(false_position_closes_in)
{
    /* cos x = x at 0.7390851332151606 (OEIS A003957); convex, so that plain false position
     * would leave one end where it was. */
    vugi_bracket b = {0.0, -1.0, 1.0, 1.0 - cos(1.0), 0};
    int steps = 0;
    for (; b.hi - b.lo > 1e-12 && steps < 100; steps++) {
        double x = vugi_bracket_guess(&b), y = x - cos(x);
        ck_assert(x >= b.lo && x <= b.hi);
        vugi_bracket_move(&b, y < 0.0, x, y);
        if (y == 0.0)
            break;
    }
    ck_close(vugi_bracket_guess(&b), 0.73908513321516064166, 1e-12);
    ck_assert_int_lt(steps, 20); /* halving would take 40 */
}
END_TEST

typedef struct asked {
    double edge;
    int times;
} asked;

static bool below_edge(void *user, double x)
{
    asked *a = user;
    a->times++;
    return x < a->edge;
}

START_TEST(halving_ends)
{
    asked a = {1.0 / 3.0, 0};
    double lo = 0.0, hi = 1.0;
    vugi_halve(below_edge, &a, &lo, &hi, 200, 0.0);
    ck_assert(lo < a.edge && a.edge <= hi);
    ck_assert_double_eq(nextafter(lo, 2.0), hi); /* neighbours: no more questions */
    ck_assert_int_lt(a.times, 60);
    lo = 0.0;
    hi = 1.0;
    a.times = 0;
    vugi_halve(below_edge, &a, &lo, &hi, 10, 0.0);
    ck_assert_int_eq(a.times, 10);
    ck_assert_double_eq(hi - lo, 0x1p-10);
    vugi_halve(below_edge, &a, &lo, &hi, 100, 1e-6);
    ck_assert(hi - lo <= 1e-6 * hi && hi - lo > 0.4e-6 * hi);
    vugi_halve(below_edge, &a, &hi, &hi, 100, 0.0); /* nothing in between */
    ck_assert(hi - a.edge < 1e-6);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("kit");
    TCase *tc = tcase_create("kit");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, vectors_by_hand);
    tcase_add_test(tc, angles_have_one_unit);
    tcase_add_test(tc, points_share_the_sphere);
    tcase_add_test(tc, sets_join_and_their_lowest_leads);
    tcase_add_test(tc, a_chain_of_sets_gets_shorter);
    tcase_add_test(tc, sort_is_stable_and_quick_in_any_order);
    tcase_add_test(tc, sort_takes_any_size);
    tcase_add_test(tc, sort_asks_the_allocator_alone);
    tcase_add_test(tc, keys_sort_by_digits);
    tcase_add_test(tc, search_finds_the_first);
    tcase_add_test(tc, heap_gives_the_first);
    tcase_add_test(tc, roots_in_logarithms);
    tcase_add_test(tc, false_position_closes_in);
    tcase_add_test(tc, halving_ends);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
