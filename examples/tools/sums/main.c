/* SPDX-License-Identifier: MIT
 * vug-sums: the bench's questions, one sub-command each. */
#include "ask.h"
#include "bench.h"
#include "flow.h"
#include "light.h"
#include "tell.h"
#include "../tool/fail.h"

#include <stdio.h>
#include <string.h>

static const struct {
    const question *list;
    const size_t *count;
    const char *title;
} groups[] = {
    {flow_questions, &flow_question_count, "Liquids, tubes and holes"},
    {bench_questions, &bench_question_count, "At the bench: fill, rinse, seal, dry"},
    {light_questions, &light_question_count, "Light and curing"},
};
enum { GROUPS = sizeof groups / sizeof groups[0] };

static const question *find(const char *name)
{
    for (size_t i = 0; i < GROUPS; i++)
        for (size_t k = 0; k < *groups[i].count; k++)
            if (strcmp(groups[i].list[k].name, name) == 0)
                return &groups[i].list[k];
    return NULL;
}

static int help(void)
{
    printf("Usage: vug-sums QUESTION [OPTION]...\n\n"
           "Answers one question about filling, rinsing, curing and sealing a hollow\n"
           "print. Units are in the names. 'vug-sums QUESTION --help' tells what it asks.\n");
    for (size_t i = 0; i < GROUPS; i++) {
        printf("\n%s:\n", groups[i].title);
        for (size_t k = 0; k < *groups[i].count; k++) {
            const question *q = &groups[i].list[k];
            printf("  %-10s %.*s\n", q->name, (int)strcspn(q->about, "."), q->about);
        }
    }
    printf("\nEach takes --json FILE (- for standard output); those about a liquid take\n"
           "--liquid NAME (or --fluid NAME) with --temperature-c, or --viscosity-pa-s,\n"
           "--density-kg-m3, --surface-tension-n-m, --contact-angle-deg, --yield-pa,\n"
           "--consistency-pa-sn and --index. A number may be a range, low:high or\n"
           "low:typical:high.\n");
    printf("\nExit status: 0 done, 1 failed, 2 wrong arguments.\n");
    return DONE;
}

/* Whole or by its beginning, as getopt_long() has it. */
static bool is_option(const char *word, const char *name)
{
    size_t length = strlen(word);
    return length > 2 && strncmp(word, name, length) == 0;
}

int main(int argc, char **argv)
{
    const tool program = {.name = "vug-sums", .operands = "QUESTION", .about = ""};
    if (argc < 2)
        return fail_usage(&program, "wanted: QUESTION");
    if (is_option(argv[1], "--help") || strcmp(argv[1], "-h") == 0)
        return help();
    if (is_option(argv[1], "--version")) {
        printf("vug-sums (vug) %s\n", vug_version_string());
        return DONE;
    }
    if (argv[1][0] == '-')
        return fail_usage(&program, "unknown option '%s'", argv[1]);
    const question *q = find(argv[1]);
    if (!q)
        return fail_usage(&program, "there is no question '%s'", argv[1]);
    given g;
    int code = read_given(q, argc - 1, argv + 1, &g);
    if (code != GO_ON)
        return code;
    vug_context *ctx = NULL;
    if (vug_context_create(NULL, &ctx))
        return fail(&program, "no memory");
    code = answer(ctx, q, &g);
    vug_context_free(ctx);
    return code;
}
