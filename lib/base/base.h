/* SPDX-License-Identifier: MIT
 * Floor 0: status and messages, memory, growing structs, progress, threads. */
#ifndef VUGI_BASE_H
#define VUGI_BASE_H

#include "vug.h"

#include <stdarg.h>
#include <stdatomic.h>
#include <stdbool.h>

#if defined(__GNUC__)
#define VUGI_PRINTF(fmt, args) __attribute__((format(printf, fmt, args)))
#else
#define VUGI_PRINTF(fmt, args)
#endif

/* ---- memory: every object keeps a copy, so it can outlive its context ---- */

typedef struct vugi_allocator {
    vug_alloc_fn alloc;
    vug_realloc_fn realloc;
    vug_free_fn free;
    void *user;
} vugi_allocator;

/* The C library's allocator, the only place that names malloc. */
extern const vugi_allocator vugi_default_allocator;

/* count * size bytes, NULL if that overflows or the allocator says no. Zero asks for 1. */
void *vugi_alloc(const vugi_allocator *mem, size_t count, size_t size);
void *vugi_calloc(const vugi_allocator *mem, size_t count, size_t size);
void *vugi_realloc(const vugi_allocator *mem, void *ptr, size_t count, size_t size);
void vugi_free(const vugi_allocator *mem, void *ptr);

/* Makes room for need elements of elem bytes in the growing array *ptr whose capacity is
 * *capacity: doubles, so that appends are cheap. false: no memory, nothing changed. */
bool vugi_reserve(const vugi_allocator *mem, void *ptr, size_t *capacity, size_t need, size_t elem);

/* ---- context ------------------------------------------------------------- */

enum { VUGI_MESSAGE_SIZE = 512, VUGI_WARNINGS = 64 };

struct vug_context {
    vugi_allocator mem;
    uint32_t threads;
    vug_progress_fn progress;
    void *progress_user;
    double lo, hi; /* the part of 0..1 that the running stage covers */
    const char *stage;
    atomic_int cancel;
    _Atomic double fraction;
    char message[VUGI_MESSAGE_SIZE];
    size_t warning_count;
    char *warnings[VUGI_WARNINGS];
};

/* Sets the message (ctx may be NULL) and returns status, for `return vugi_fail(...)`. */
vug_status vugi_fail(vug_context *ctx, vug_status status, const char *format, ...)
    VUGI_PRINTF(3, 4);
vug_status vugi_fail_memory(vug_context *ctx);
void vugi_warn(vug_context *ctx, const char *format, ...) VUGI_PRINTF(2, 3);

/* ---- progress: begin once at a public call, then step -------------------- */

/* Starts a long public call: fraction 0, whole range. */
void vugi_progress_begin(vug_context *ctx, const char *stage);

/* A part of a longer call. Saves the current range and narrows it to lo..hi of it. */
typedef struct vugi_range {
    double lo, hi;
    const char *stage;
} vugi_range;
vugi_range vugi_progress_enter(vug_context *ctx, double lo, double hi, const char *stage);
void vugi_progress_leave(vug_context *ctx, vugi_range saved);

/* Reports fraction 0..1 of the current range, from the calling thread only. VUG_OK, or
 * VUG_ERR_CANCELLED with the message set: then clean up and return it. */
vug_status vugi_step(vug_context *ctx, double fraction);

/* The same from within a loop of several threads, where only the first of them reports: has someone
 * cancelled? Then leave the loop; the vugi_step() after it returns the status. */
bool vugi_pulse(vug_context *ctx, double fraction);

/* For worker threads: has someone cancelled? The thread that called reports it by vugi_step. */
bool vugi_cancelled(const vug_context *ctx);

/* ---- structs that grow --------------------------------------------------- */

/* *given: as much of defaults (full bytes) as the caller's size has; its struct_size is set. */
vug_status vugi_struct_init(void *given, size_t size, const void *defaults, size_t full);

/* *own (full bytes, holding the defaults) gets what *given has. given may be NULL. A longer
 * struct from a newer header is accepted if what we do not know is zero. */
vug_status vugi_struct_read(vug_context *ctx, void *own, size_t full, const void *given,
    const char *name);

/* *given gets as much of *own as given->struct_size has room for. */
vug_status vugi_struct_write(vug_context *ctx, void *given, const void *own, size_t full,
    const char *name);

/* ---- threads ------------------------------------------------------------- */

/* Threads worth using for count pieces of work. */
int vugi_threads(const vug_context *ctx, size_t count);

/* Number of this thread in the running parallel region, 0 without OpenMP. */
int vugi_thread_index(void);

#endif
