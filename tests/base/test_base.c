/* SPDX-License-Identifier: MIT
 * base: version, status, context, memory, progress, growing structs. */
#include "base/base.h"
#include "base/bitset.h"
#include "test.h"

#include <time.h>

START_TEST(version_is_one_number)
{
    int major, minor, patch;
    ck_assert_int_eq(sscanf(vug_version_string(), "%d.%d.%d", &major, &minor, &patch), 3);
    ck_assert_int_eq(vug_version_number(), major * 10000 + minor * 100 + patch);
    ck_assert_int_eq(vug_feature(NULL), 0);
    ck_assert_int_eq(vug_feature("no such thing"), 0);
}
END_TEST

/* What the library says a constant is; INT64_MIN for a name it has not. */
static int64_t constant(const char *wanted)
{
    int64_t value = 0;
    const char *name;
    for (size_t i = 0; (name = vug_constant(i, &value)); i++)
        if (strcmp(name, wanted) == 0)
            return value;
    return INT64_MIN;
}

START_TEST(status_has_name_and_text)
{
    for (vug_status s = 0; s < VUG_STATUS_COUNT; s++) {
        ck_assert_int_eq(constant(vug_status_name(s)), s);
        ck_assert_int_gt(strlen(vug_status_string(s)), 0);
    }
    ck_assert_str_eq(vug_status_string(VUG_STATUS_COUNT), "unknown status");
    ck_assert_str_eq(vug_status_string(-1), "unknown status");
    ck_assert_str_eq(vug_status_name(9999), "VUG_ERR_UNKNOWN");
}
END_TEST

START_TEST(constants_can_be_listed)
{
    int64_t value = -7;
    ck_assert_int_eq(constant("VUG_MAX_TRIANGLES"), VUG_MAX_TRIANGLES);
    ck_assert_int_eq(constant("VUG_ERR_UNKNOWN"), VUG_ERR_UNKNOWN);
    ck_assert_int_eq(constant("VUG_VERSION_MAJOR"), VUG_VERSION_MAJOR);
    ck_assert_str_eq(vug_constant(0, NULL), vug_constant(0, &value));
    ck_assert_int_ne(value, -7);
    ck_assert_ptr_null(vug_constant(100000, &value));
    ck_assert_ptr_null(vug_constant(SIZE_MAX, NULL));
}
END_TEST

START_TEST(context_options_are_checked)
{
    vug_context_options options;
    vug_context *ctx = NULL;
    ck_assert_int_eq(vug_context_options_init(NULL, sizeof options), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_context_options_init(&options, 2), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_context_options_init(&options, sizeof options), VUG_OK);
    ck_assert_int_eq(vug_context_create(&options, NULL), VUG_ERR_ARGUMENT);

    options.threads = VUG_MAX_THREADS + 1;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_ERR_LIMIT);
    options.threads = 3;
    options.alloc = vugi_default_allocator.alloc; /* without the other two */
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_ERR_ARGUMENT);
    options.alloc = NULL;
    options.struct_size = 1;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(ctx);
    options.struct_size = sizeof options;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
    ck_assert_uint_eq(vug_context_threads(ctx), 3);
    vug_context_free(ctx);
    vug_context_free(NULL);
}
END_TEST

START_TEST(null_context_is_harmless)
{
    ck_assert_str_eq(vug_context_message(NULL), "");
    ck_assert_ptr_null(vug_context_warning(NULL, 0));
    ck_assert_ptr_null(vug_context_warning(NULL, 0));
    ck_assert_uint_eq(vug_context_threads(NULL), 0);
    ck_assert(vug_context_progress(NULL) == 0.0);
    vug_context_cancel(NULL);
    vug_context_clear_warnings(NULL);
    ck_assert_int_eq(vug_context_set_progress(NULL, NULL, NULL), VUG_ERR_ARGUMENT);
}
END_TEST

START_TEST(warnings_are_kept_to_a_limit)
{
    vug_context *ctx = test_context();
    for (int i = 0; i < VUGI_WARNINGS + 5; i++)
        vugi_warn(ctx, "warning %d", i);
    ck_assert_uint_eq(warning_count(ctx), VUGI_WARNINGS);
    ck_assert_str_eq(vug_context_warning(ctx, 3), "warning 3");
    ck_assert_ptr_null(vug_context_warning(ctx, VUGI_WARNINGS));
    vug_context_clear_warnings(ctx);
    ck_assert_uint_eq(warning_count(ctx), 0);
    vug_context_free(ctx);
}
END_TEST

static int32_t stop_at_half(void *user, double fraction, const char *stage)
{
    (void)stage;
    *(double *)user = fraction;
    return fraction >= 0.5;
}

START_TEST(progress_never_falls_and_cancels)
{
    vug_context *ctx = test_context();
    double seen = -1.0;
    ctx->pause_ns = 0;
    ck_ok(ctx, vug_context_set_progress(ctx, stop_at_half, &seen));
    vugi_progress_begin(ctx, "first");
    vugi_range saved = vugi_progress_enter(ctx, 0.2, 0.4, "second");
    ck_ok(ctx, vugi_step(ctx, 0.5));
    ck_close(seen, 0.3, 1e-12);
    ck_ok(ctx, vugi_step(ctx, 0.1));
    ck_close(seen, 0.3, 1e-12);
    vugi_progress_leave(ctx, saved);
    ck_assert_int_eq(vugi_step(ctx, 0.6), VUG_ERR_CANCELLED);
    ck_assert_str_eq(vug_context_message(ctx), "cancelled during first");
    ck_close(vug_context_progress(ctx), 0.6, 1e-12);

    ck_ok(ctx, vug_context_set_progress(ctx, NULL, NULL));
    vug_context_cancel(ctx); /* before the next call: used up by it */
    vugi_progress_begin(ctx, "third");
    ck_assert(vugi_cancelled(ctx));
    ck_assert_int_eq(vugi_step(ctx, 0.0), VUG_ERR_CANCELLED);
    ck_ok(ctx, vugi_step(ctx, 0.0));
    vug_context_free(ctx);
}
END_TEST

/* Work in threads of their own is cancelled with its caller, who alone uses that up, and is heard of while it goes on. */
START_TEST(work_beside_others_is_cancelled_with_them)
{
    vug_context *ctx = test_context();
    double seen = -1.0;
    ctx->pause_ns = 0;
    ck_ok(ctx, vug_context_set_progress(ctx, stop_at_half, &seen));
    vugi_progress_begin(ctx, "first");
    ck_ok(ctx, vugi_step(ctx, 0.3));
    vug_context beside = vugi_context_beside(ctx), further = vugi_context_beside(&beside);
    seen = -1.0;
    ck_assert_int_eq(vugi_step(&further, 0.9), VUG_OK);
    ck_close(seen, 0.3, 1e-12);
    vug_context_cancel(ctx);
    for (int i = 0; i < 2; i++) {
        ck_assert(vugi_cancelled(&further));
        ck_assert(vugi_pulse(&beside, 0.0));
        ck_assert_int_eq(vugi_step(&further, 0.0), VUG_ERR_CANCELLED);
        ck_assert_int_eq(vugi_step(&beside, 0.0), VUG_ERR_CANCELLED);
    }
    ck_assert_int_eq(vugi_step(ctx, 0.3), VUG_ERR_CANCELLED);
    ck_ok(ctx, vugi_step(ctx, 0.3));
    ck_assert(!vugi_cancelled(&further));
    vug_context_free(ctx);
}
END_TEST

static int32_t count_calls(void *user, double fraction, const char *stage)
{
    (void)stage;
    int *calls = user;
    calls[0]++;
    calls[1] += fraction >= 1.0;
    return 0;
}

/* However often a loop reports, a caller is called 20 times a second at most, and once at the end. */
START_TEST(progress_does_not_rush)
{
    vug_context *ctx = test_context();
    int calls[2] = {0, 0};
    time_t start = time(NULL);
    ck_ok(ctx, vug_context_set_progress(ctx, count_calls, calls));
    vugi_progress_begin(ctx, "first");
    for (int i = 0; i < 200000; i++)
        ck_ok(ctx, vugi_step(ctx, i / 200000.0));
    ck_ok(ctx, vugi_step(ctx, 1.0));
    ck_ok(ctx, vugi_step(ctx, 1.0));
    ck_assert_int_le(calls[0], 20 * (int)(time(NULL) - start + 1) + 1);
    ck_assert_int_eq(calls[1], 1);
    vug_context_free(ctx);
}
END_TEST

/* Blocks are counted while they are held, by whoever frees them, and outlive their context. */
START_TEST(memory_has_a_limit)
{
    vug_context_options options;
    vug_context *ctx = NULL;
    ck_assert_int_eq(vug_context_options_init(&options, sizeof options), VUG_OK);
    ck_assert(options.memory_limit_bytes == 0);
    options.memory_limit_bytes = 100;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_ERR_MEMORY);
    options.memory_limit_bytes = 3000000;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
    vugi_allocator mem = ctx->mem;
    char *p = vugi_alloc(&mem, 2000000, 1);
    ck_assert_ptr_nonnull(p);
    ck_assert_ptr_null(vugi_alloc(&mem, 1500000, 1));
    ck_assert_int_eq(vugi_fail_memory(ctx), VUG_ERR_MEMORY);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "3 MB"));
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "1.5 MB"));
    p[1999999] = 1;
    p = vugi_realloc(&mem, p, 900000, 1);
    ck_assert_ptr_nonnull(p);
    char *q = vugi_alloc(&mem, 1500000, 1);
    ck_assert_ptr_nonnull(q);
    vugi_free(&mem, p);
    vug_context_free(ctx);
    q[1499999] = 1;
    vugi_free(&mem, q);
}
END_TEST

typedef struct shorter {
    uint32_t struct_size;
    int32_t a;
} shorter;
typedef struct longer {
    uint32_t struct_size;
    int32_t a;
    double b;
} longer;

START_TEST(structs_may_be_older_or_newer)
{
    const longer defaults = {sizeof(longer), 7, 2.5};
    shorter old;
    ck_assert_int_eq(vugi_struct_init(&old, sizeof old, &defaults, sizeof defaults), VUG_OK);
    ck_assert_uint_eq(old.struct_size, sizeof old);
    ck_assert_int_eq(old.a, 7);

    longer own = defaults;
    old.a = 9;
    ck_assert_int_eq(vugi_struct_read(NULL, &own, sizeof own, &old, "longer"), VUG_OK);
    ck_assert_int_eq(own.a, 9);
    ck_assert(own.b == 2.5); /* what the old caller does not know keeps its default */

    shorter mine = {sizeof mine, 1};
    longer newer = {sizeof newer, 2, 0.0};
    ck_assert_int_eq(vugi_struct_read(NULL, &mine, sizeof mine, &newer, "shorter"), VUG_OK);
    ck_assert_int_eq(mine.a, 2);
    newer.b = 1.0; /* asks for something this library does not have */
    ck_assert_int_eq(vugi_struct_read(NULL, &mine, sizeof mine, &newer, "shorter"),
        VUG_ERR_UNSUPPORTED);

    ck_assert_int_eq(vugi_struct_write(NULL, &old, &own, sizeof own, "longer"), VUG_OK);
    ck_assert_uint_eq(old.struct_size, sizeof old);
    old.struct_size = 0;
    vug_context *ctx = test_context();
    ck_assert_int_eq(vugi_struct_write(ctx, &old, &own, sizeof own, "longer"), VUG_ERR_ARGUMENT);
    ck_assert_str_eq(vug_context_message(ctx),
        "longer: struct_size is 0; set it to sizeof(longer)");
    vug_context_free(ctx);
}
END_TEST

START_TEST(sizes_that_overflow_are_refused)
{
    const vugi_allocator *mem = &vugi_default_allocator;
    ck_assert_ptr_null(vugi_alloc(mem, SIZE_MAX / 4, 8));
    ck_assert_ptr_null(vugi_calloc(mem, SIZE_MAX, SIZE_MAX));
    void *empty = vugi_alloc(mem, 0, 8);
    ck_assert_ptr_nonnull(empty);
    vugi_free(mem, empty);
    vugi_free(mem, NULL);

    int *list = NULL;
    size_t capacity = 0;
    for (size_t i = 0; i < 1000; i++) {
        ck_assert(vugi_reserve(mem, &list, &capacity, i + 1, sizeof *list));
        list[i] = (int)i;
    }
    ck_assert_int_eq(list[999], 999);
    vugi_free(mem, list);
}
END_TEST

START_TEST(sets_of_numbers)
{
    static const uint32_t member[] = {0, 63, 64, 127, 128, 299};
    const vugi_allocator *mem = &vugi_default_allocator;
    vugi_bitset set;
    uint32_t *list = NULL;
    size_t count = 1;
    ck_assert(vugi_bitset_make(mem, 300, &set));
    ck_assert(vugi_bitset_list(mem, &set, &list, &count));
    ck_assert_ptr_null(list);
    ck_assert_uint_eq(count, 0);
    for (size_t i = 6; i-- > 0;)
        vugi_bitset_add(&set, member[i]);
    vugi_bitset_add(&set, 64); /* once is enough */
    ck_assert_uint_eq(vugi_bitset_count(&set), 6);
    for (size_t i = 0, k = 0; i < 300; i++) {
        bool in = k < 6 && member[k] == i;
        ck_assert_int_eq(vugi_bitset_has(&set, i), in);
        k += in;
    }
    ck_assert(!vugi_bitset_has(&set, 100000));
    ck_assert(vugi_bitset_list(mem, &set, &list, &count));
    ck_assert_uint_eq(count, 6);
    ck_assert_mem_eq(list, member, sizeof member);
    vugi_free(mem, list);
    vugi_bitset_free(mem, &set);
    ck_assert(!vugi_bitset_has(&set, 0));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("base");
    TCase *tc = tcase_create("base");
    tcase_add_test(tc, version_is_one_number);
    tcase_add_test(tc, status_has_name_and_text);
    tcase_add_test(tc, constants_can_be_listed);
    tcase_add_test(tc, context_options_are_checked);
    tcase_add_test(tc, null_context_is_harmless);
    tcase_add_test(tc, warnings_are_kept_to_a_limit);
    tcase_add_test(tc, progress_never_falls_and_cancels);
    tcase_add_test(tc, work_beside_others_is_cancelled_with_them);
    tcase_add_test(tc, progress_does_not_rush);
    tcase_add_test(tc, memory_has_a_limit);
    tcase_add_test(tc, structs_may_be_older_or_newer);
    tcase_add_test(tc, sizes_that_overflow_are_refused);
    tcase_add_test(tc, sets_of_numbers);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
