/* SPDX-License-Identifier: MIT
 * The answer of a question: numbers or ranges, as text or as JSON. */
#include "tell.h"

#include "refuse.h"

#include "../tool/clock.h"
#include "../tool/fail.h"
#include "../tool/json.h"

#include <stdio.h>
#include <string.h>

/* The inputs that are ranges, and the answer wanted of them. */
typedef struct search {
    vug_context *ctx;
    const question *q;
    double in[MOST_ASKED];
    size_t varied[MOST_ASKED];
    size_t count;
    size_t wanted;  /* number of the answer */
    uint32_t words; /* of a worded answer: which came up */
} search;

static vug_status at_inputs(void *user, const double *input, double *result)
{
    search *s = user;
    double out[MOST_TOLD];
    for (size_t i = 0; i < MOST_TOLD; i++)
        out[i] = NAN;
    for (size_t i = 0; i < s->count; i++)
        s->in[s->varied[i]] = input[i];
    vug_fluid fluid = fluid_of(s->q, s->in);
    vug_status status = s->q->sum(s->ctx, s->in, &fluid, out);
    if (status)
        return status;
    *result = out[s->wanted];
    if (s->q->tells[s->wanted].words && *result >= 0.0)
        s->words |= (uint32_t)1 << (int)*result;
    return VUG_OK;
}

typedef struct told {
    bool there;  /* there is an answer */
    bool ranged; /* it is a range */
    vug_interval range;
    uint32_t words;
} told;

static void tell_range(search *s, const given *g, size_t which, told *t)
{
    double low[MOST_ASKED], typical[MOST_ASKED], high[MOST_ASKED];
    for (size_t i = 0; i < s->count; i++) {
        low[i] = g->low[s->varied[i]];
        typical[i] = g->typical[s->varied[i]];
        high[i] = g->high[s->varied[i]];
    }
    s->wanted = which;
    s->words = 0;
    vug_interval range = {.struct_size = sizeof range};
    if (vug_interval_of(s->ctx, at_inputs, s, low, typical, high, s->count, NULL, &range))
        return;
    range.decides = range.decides < 0 ? -1 : (int32_t)s->varied[range.decides];
    t->range = range;
    t->words = s->words;
    t->ranged = range.low < range.high;
}

static bool is_time(const tell *t)
{
    size_t length = strlen(t->name);
    return length >= 6 && strcmp(t->name + length - 6, "time_s") == 0;
}

static const char *word_of(const tell *t, double value)
{
    return value >= 0.0 ? t->words[(int)value] : "none";
}

/* ---- text ------------------------------------------------------------------------- */

/* What a person can do or tell apart ends somewhere: beyond that the end is told. A thumb, a syringe and how often one
 * fills it, a lamp of 10 mW/cm2 for a day, the patience for rinses and coats, what the strongest plastics bear, and the
 * finest step of a syringe (common practice, no source). Answers whose names end so; a whole name goes before the end of
 * one. */
static const struct {
    const char *ending;
    double least, most;
    const char *below, *above;
} told_ends[] = {
    {"thumb_force_n", 0.0, 100.0, NULL, "more than 100"},
    {"pressure_pa", 1e-4, SYRINGE_PA, "less than 0.0001", "more than 2000000"},
    {"dose_mj_cm2", 0.0, 864000.0, NULL, "more than a lamp of 10 mW/cm2 gives in a day"},
    {"low_pa", 1e-4, SYRINGE_PA, "less than 0.0001", "more than 2000000"},
    {"high_pa", 1e-4, SYRINGE_PA, "less than 0.0001", "more than 2000000"},
    {"shear_pa", 1e-4, 1e8, "less than 0.0001", "more than 100000000"},
    {"stress_pa", 1e-4, 1e8, "less than 0.0001", "more than 100000000"},
    {"soak_cycles", 0.0, 100.0, NULL, "more than 100"},
    {"coats", 0.0, 100.0, NULL, "more than 100"},
    {"fills", 0.0, 100.0, NULL, "more than 100"},
    {"loads", 0.0, 100.0, NULL, "more than 100"},
    {"loads_low", 0.0, 100.0, NULL, "more than 100"},
    {"loads_high", 0.0, 100.0, NULL, "more than 100"},
    {"saved_ml", 0.0, 1e5, "none: it takes more than to fill", "more than 100000"},
    {"plug_mm3", LEAST_MM3, 1e5, "less than 50, a drop", "more than 100000"},
    {"_ml", 1e-3 * LEAST_MM3, 1e5, "less than 0.05", "more than 100000"},
    {"", 1e-4, 1e9, "less than 0.0001", "more than 1000000000"},
};

static bool ends_in(const tell *t, const char *ending)
{
    size_t length = strlen(t->name), tail = strlen(ending);
    return length >= tail && strcmp(t->name + length - tail, ending) == 0;
}

/* Words in place of a number that nobody can use; NULL: the number will do. */
static const char *words_beyond(const tell *t, double value)
{
    size_t i = 0;
    while (!ends_in(t, told_ends[i].ending))
        i++;
    if (value > told_ends[i].most)
        return told_ends[i].above;
    if (told_ends[i].below && value < told_ends[i].least && value != 0.0)
        return value > 0.0 || told_ends[i].least == 0.0 ? told_ends[i].below : NULL;
    return NULL;
}

/* Drying and soaking go on beside other work, for days and weeks; all else is waited for, a day at most. */
static bool beside_work(const question *q)
{
    return strcmp(q->name, "dry") == 0 || strcmp(q->name, "soak") == 0;
}

/* Seconds, and in words a clock knows when there are many; from a day on the words alone. */
static void print_time(const question *q, double seconds)
{
    char words[40];
    if (seconds == NEVER_S)
        printf("never by itself");
    else if (seconds > clock_longest_s) {
        (beside_work(q) ? clock_long_words : clock_words)(seconds, words, sizeof words);
        printf("%s", words);
    } else if (seconds > 0.0 && seconds < 1.0)
        printf("less than 1");
    else
        printf(seconds >= 1e4 ? "%.0f" : "%.4g", seconds);
    if (seconds >= 7200.0 && seconds <= clock_longest_s)
        printf(" (%.1f hours)", seconds / 3600.0);
    else if (seconds >= 120.0 && seconds < 7200.0)
        printf(" (%.0f min)", seconds / 60.0);
}

/* Four digits, without powers of ten where a maker need not see them. */
static void print_value(const question *q, const tell *t, double value)
{
    const char *words = words_beyond(t, value);
    if (is_time(t))
        print_time(q, value);
    else if (words)
        printf("%s", words);
    else if (t->whole || fabs(value) >= 9999.5)
        printf("%.0f", value);
    else
        printf("%.4g", value);
}

/* A time that is told in words alone needs no unit before it. */
static int label_length(const tell *t, const vug_interval *range)
{
    const size_t length = strlen(t->help);
    return (int)(is_time(t) && range->low > clock_longest_s ? length - strlen(", s") : length);
}

/* What flows by a pressure that no syringe bears, and how fast: that the pressure is out of reach says it. */
static bool moved_in_vain(const question *q, const tell *t, const double *typical)
{
    static const char *const moved[] = {"flow_mm3_s", "load_time_s", "jet_speed_mm_s", "reynolds"};
    bool moves = false, borne = true;
    for (size_t i = 0; i < sizeof moved / sizeof moved[0]; i++)
        moves |= strcmp(t->name, moved[i]) == 0;
    for (size_t i = 0; i < q->tell_count; i++)
        borne &= strcmp(q->tells[i].name, "pressure_pa") != 0 || !(typical[i] > SYRINGE_PA);
    return moves && !borne;
}

static void print_answer(const question *q, const tell *t, const told *a)
{
    if (t->words) {
        printf("%s: %s", t->help, word_of(t, a->range.typical));
        for (int i = 0; a->ranged && t->words[i]; i++)
            if (a->words >> i & 1 && i != (int)a->range.typical)
                printf(" or %s", t->words[i]);
        putchar('\n');
        return;
    }
    printf("%.*s: ", label_length(t, &a->range), t->help);
    print_value(q, t, a->range.typical);
    const char *low = is_time(t) ? NULL : words_beyond(t, a->range.low);
    if (a->ranged && !(low && low == words_beyond(t, a->range.high))) {
        printf("; from ");
        print_value(q, t, a->range.low);
        printf(" to ");
        print_value(q, t, a->range.high);
        printf(", %s decides",
            a->range.decides < 0 ? "no input alone" : input_name(q, (size_t)a->range.decides));
    }
    putchar('\n');
}

/* ---- JSON -------------------------------------------------------------------------- */

static const double longest_number_s = 100.0 * 365.25 * 86400.0; /* a century: more is no number */

static json_t *json_number(const tell *t, double value)
{
    if (is_time(t) && value > longest_number_s)
        return json_null();
    return t->whole ? json_integer((json_int_t)value) : json_real(value);
}

static void set_named(json_t *root, const char *name, const char *ending, json_t *value)
{
    char key[80];
    snprintf(key, sizeof key, "%s%s", name, ending);
    json_object_set_new(root, key, value);
}

static void json_answer(json_t *root, const question *q, const tell *t, const told *a)
{
    if (t->words) {
        set_named(root, t->name, "", json_string(word_of(t, a->range.typical)));
        json_t *all = json_array();
        for (int i = 0; t->words[i]; i++)
            if (a->words >> i & 1)
                json_array_append_new(all, json_string(t->words[i]));
        if (a->ranged)
            set_named(root, t->name, "_may_be", json_incref(all));
        json_decref(all);
        return;
    }
    set_named(root, t->name, "", json_number(t, a->range.typical));
    if (!a->ranged)
        return;
    set_named(root, t->name, "_low", json_number(t, a->range.low));
    set_named(root, t->name, "_high", json_number(t, a->range.high));
    if (a->range.decides >= 0)
        set_named(root, t->name, "_decides", json_string(input_name(q, (size_t)a->range.decides)));
}

static json_t *json_inputs(const question *q, const given *g)
{
    json_t *inputs = json_object();
    for (size_t i = 0; i < g->count; i++) {
        const char *name = input_name(q, i);
        if (isnan(g->typical[i]))
            continue;
        if (i < q->ask_count && q->asks[i].words)
            json_object_set_new(inputs, name, json_string(q->asks[i].words[(int)g->typical[i]]));
        else if (g->low[i] < g->high[i])
            json_object_set_new(inputs, name,
                json_pack("[f,f,f]", g->low[i], g->typical[i], g->high[i]));
        else
            json_object_set_new(inputs, name, json_real(g->typical[i]));
    }
    return inputs;
}

/* ---- both -------------------------------------------------------------------------- */

static int refuse(const tool *program, const question *q, vug_context *ctx, vug_status status)
{
    char words[400];
    const char *message = vug_context_message(ctx);
    refuse_in_words(q, *message ? message : vug_status_string(status), words, sizeof words);
    fail(program, "%s", words);
    return status == VUG_ERR_ARGUMENT ? USAGE : FAILED;
}

int answer(vug_context *ctx, const question *q, const given *g)
{
    char name[40];
    snprintf(name, sizeof name, "vug-sums %s", q->name);
    const tool program = {.name = name, .operands = "", .about = q->about};
    search s = {.ctx = ctx, .q = q};
    memcpy(s.in, g->typical, sizeof s.in);
    for (size_t i = 0; i < g->count; i++)
        if (g->low[i] < g->high[i])
            s.varied[s.count++] = i;
    if (s.count > 12)
        return fail_usage(&program, "more than 12 ranges");

    double out[MOST_TOLD];
    for (size_t i = 0; i < MOST_TOLD; i++)
        out[i] = NAN;
    vug_fluid fluid = fluid_of(q, g->typical);
    vug_status status = q->sum(ctx, g->typical, &fluid, out);
    if (status)
        return refuse(&program, q, ctx, status);
    json_t *root = json_pack("{s:s, s:o}", "sum", q->name, "inputs", json_inputs(q, g));
    if (*g->liquid)
        json_object_set_new(root, "liquid", json_string(g->liquid));
    if (*g->liquid && !g->json)
        printf("Liquid: %s\n", g->liquid);
    for (size_t i = 0; i < q->tell_count; i++) {
        told a = {.there = !isnan(out[i]),
            .range = {.decides = -1, .low = out[i], .typical = out[i], .high = out[i]}};
        if (!a.there)
            continue;
        if (s.count)
            tell_range(&s, g, i, &a);
        if (g->json)
            json_answer(root, q, &q->tells[i], &a);
        else if (!moved_in_vain(q, &q->tells[i], out))
            print_answer(q, &q->tells[i], &a);
    }
    if (s.count && *vug_context_message(ctx)) {
        char words[400];
        refuse_in_words(q, vug_context_message(ctx), words, sizeof words);
        fprintf(stderr, "%s: part of the range has no answer: %s\n", name, words);
    }
    if (q->caution && !g->json)
        printf("%s\n", q->caution);
    if (q->caution)
        json_object_set_new(root, "caution", json_string(q->caution));
    if (g->json)
        return json_write(&program, root, g->json);
    json_decref(root);
    return fflush(stdout) == 0 ? DONE : fail(&program, "cannot write to stdout");
}
