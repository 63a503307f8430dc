/* SPDX-License-Identifier: MIT
 * What a fuzz target offers: it returns 0 for any input, or the process dies. */
#ifndef VUG_FUZZ_H
#define VUG_FUZZ_H

#include <stddef.h>
#include <stdint.h>

/* Kept inputs: files or directories under tests/, up to a NULL. */
extern const char *const fuzz_kept[];

/* How often each is damaged in a replay. */
extern const unsigned fuzz_rounds;

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
