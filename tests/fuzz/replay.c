/* SPDX-License-Identifier: MIT
 * Feeds kept files to a fuzz target, each whole, cut short and with bytes changed: a fuzzer's
 * bounded, repeatable stand-in where there is none.
 *
 *     replay [ROUNDS FILE-OR-DIRECTORY...]
 *
 * Without arguments: the target's own kept files, with its own number of rounds of damage each. */
#define _POSIX_C_SOURCE 200809L

#include "fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static unsigned long inputs;

static uint32_t next_random(uint32_t *state)
{
    *state = *state * 1664525u + 1013904223u; /* Numerical Recipes' quick generator */
    return *state >> 8;
}

/* An exact copy, so that a read past the end is seen by the sanitizer. */
static void feed(const uint8_t *data, size_t size)
{
    uint8_t *copy = malloc(size ? size : 1);
    if (!copy)
        exit(2);
    memcpy(copy, data, size);
    LLVMFuzzerTestOneInput(copy, size);
    free(copy);
    inputs++;
}

static void feed_changed(uint8_t *data, size_t size, uint32_t seed)
{
    uint8_t *changed = malloc(size ? size : 1);
    if (!changed)
        exit(2);
    memcpy(changed, data, size);
    uint32_t state = seed, changes = 1 + next_random(&state) % 4;
    for (uint32_t i = 0; size && i < changes; i++) {
        static const uint8_t odd[] = {0x00, 0xFF, 0x7F, 0x80, '-', 'e', ' ', '\n', '9', ','};
        size_t at = next_random(&state) % size;
        changed[at] = next_random(&state) % 2 ? odd[next_random(&state) % sizeof odd]
                                              : (uint8_t)next_random(&state);
    }
    size_t keep = next_random(&state) % 3 == 0 ? next_random(&state) % (size + 1) : size;
    feed(changed, keep);
    free(changed);
}

static void feed_file(const char *path, uint32_t rounds)
{
    FILE *file = fopen(path, "rb");
    static uint8_t data[1 << 20];
    if (!file) {
        fprintf(stderr, "%s: cannot be read\n", path);
        exit(2);
    }
    size_t size = fread(data, 1, sizeof data, file);
    fclose(file);
    feed(data, size);
    for (uint32_t i = 0; i < rounds; i++)
        feed_changed(data, size, (uint32_t)size * 31u + i);
}

static void feed_path(const char *path, uint32_t rounds)
{
    struct stat info;
    DIR *dir = stat(path, &info) == 0 && S_ISDIR(info.st_mode) ? opendir(path) : NULL;
    if (!dir) {
        feed_file(path, rounds);
        return;
    }
    for (struct dirent *e; (e = readdir(dir)) != NULL;) {
        char inside[4096];
        if (e->d_name[0] == '.')
            continue;
        snprintf(inside, sizeof inside, "%s/%s", path, e->d_name);
        feed_path(inside, rounds);
    }
    closedir(dir);
}

int main(int argc, char **argv)
{
    const char *root = getenv("VUG_SRCDIR");
    char path[4096];
    for (int i = 2; i < argc; i++)
        feed_path(argv[i], (uint32_t)strtoul(argv[1], NULL, 10));
    for (int i = 0; argc < 3 && fuzz_kept[i]; i++) {
        snprintf(path, sizeof path, "%s/tests/%s", root ? root : ".", fuzz_kept[i]);
        feed_path(path, fuzz_rounds);
    }
    printf("%lu inputs\n", inputs);
    return inputs ? 0 : 1;
}
