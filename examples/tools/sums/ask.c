/* SPDX-License-Identifier: MIT
 * The arguments of a question: numbers, ranges low:high or low:typical:high, words, a liquid. */
#include "ask.h"

#include "../tool/amounts.h"
#include "../tool/fail.h"
#include "../tool/liquid.h"
#include "../tool/options.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const property_name[VUG_PROPERTY_COUNT] = {
    "density-kg-m3",
    "surface-tension-n-m",
    "contact-angle-deg",
    "yield-pa",
    "consistency-pa-sn",
    "index",
};

static const char *const property_help[VUG_PROPERTY_COUNT] = {
    "Density of the liquid.",
    "Surface tension.",
    "Contact angle on the part; 0 wets it.",
    "Yield stress; 0 for none.",
    "Consistency; for index 1 the viscosity in Pa s.",
    "Flow index; 1 is a plain liquid, below 1 it thins under shear.",
};

const char *input_name(const question *q, size_t index)
{
    return index < q->ask_count ? q->asks[index].name : property_name[index - q->ask_count];
}

static void to_row(const vug_fluid *f, double row[VUG_PROPERTY_COUNT])
{
    row[VUG_PROPERTY_DENSITY] = f->density_kg_m3;
    row[VUG_PROPERTY_TENSION] = f->surface_tension_n_m;
    row[VUG_PROPERTY_ANGLE] = f->contact_angle_deg;
    row[VUG_PROPERTY_YIELD] = f->yield_stress_pa;
    row[VUG_PROPERTY_CONSISTENCY] = f->consistency_pa_sn;
    row[VUG_PROPERTY_INDEX] = f->flow_index;
}

vug_fluid fluid_of(const question *q, const double *in)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    if (!q->fluid)
        return f;
    const double *row = in + q->ask_count;
    f.density_kg_m3 = row[VUG_PROPERTY_DENSITY];
    f.surface_tension_n_m = row[VUG_PROPERTY_TENSION];
    f.contact_angle_deg = row[VUG_PROPERTY_ANGLE];
    f.yield_stress_pa = row[VUG_PROPERTY_YIELD];
    f.consistency_pa_sn = row[VUG_PROPERTY_CONSISTENCY];
    f.flow_index = row[VUG_PROPERTY_INDEX];
    return f;
}

/* ---- values -------------------------------------------------------------------- */

/* One, two or three numbers with colons between, rising. */
static bool parse_range(const char *text, double number[3])
{
    size_t count = 0;
    for (;;) {
        char *end = NULL;
        if (count == 3)
            return false;
        number[count] = strtod(text, &end);
        if (end == text || !isfinite(number[count]))
            return false;
        count++;
        if (*end == '\0')
            break;
        if (*end != ':')
            return false;
        text = end + 1;
    }
    if (count == 1)
        number[1] = number[2] = number[0];
    if (count == 2) {
        number[2] = number[1];
        number[1] = 0.5 * (number[0] + number[2]);
    }
    return number[0] <= number[1] && number[1] <= number[2];
}

static int word_number(const char *const *words, const char *text)
{
    for (int i = 0; words[i]; i++)
        if (strcmp(words[i], text) == 0)
            return i;
    return -1;
}

/* Usual values that are known as ranges only. Working curves of five resins differ 10-fold (Bennett 2017,
 * Addit. Manuf. 18:203); the middles are from memory. */
static const struct {
    const char *question, *option;
    double low, high;
} usual_ranges[] = {
    {"cure", "penetration-mm", 0.05, 0.5},
    {"cure", "critical-mj-cm2", 2.0, 20.0},
};

static void spread(const question *q, const ask *a, double number[3])
{
    for (size_t i = 0; i < sizeof usual_ranges / sizeof usual_ranges[0]; i++)
        if (strcmp(usual_ranges[i].question, q->name) == 0
            && strcmp(usual_ranges[i].option, a->name) == 0) {
            number[0] = usual_ranges[i].low;
            number[2] = usual_ranges[i].high;
        }
}

/* ---- what can be ---------------------------------------------------------------------- */

/* By the end of an option's name, or all of it. Temperatures can be anything; all else is 0 or more. */
static const struct {
    const char *end, *words;
    double least, most;
    bool ends_too; /* the least and the most themselves */
} limits[] = {
    {"-c", "", -INFINITY, INFINITY, true},
    {"warm-k", "", -INFINITY, INFINITY, true},
    {"humidity", "0 or more, and less than 1", -1e-300, 1.0, false},
    {"-share", "from 0 to 1", 0.0, 1.0, true},
    {"-fraction", "from 0 to 1", 0.0, 1.0, true},
    {"-reflectance", "from 0 to 1", 0.0, 1.0, true},
    {"contrast-ratio", "from 0 to 1", 0.0, 1.0, true},
    {"mixing", "from 0 to 1", 0.0, 1.0, true},
    {"contact-angle-deg", "from 0 to 180", 0.0, 180.0, true},
    {"-diameter-mm", "above 0", 0.0, INFINITY, false},
    {"radius-mm", "above 0", 0.0, INFINITY, false},
    {"plunger-mm", "above 0", 0.0, INFINITY, false},
    {"area-mm2", "above 0", 0.0, INFINITY, false},
    {"density-kg-m3", "above 0", 0.0, INFINITY, false},
    {"viscosity-pa-s", "above 0", 0.0, INFINITY, false},
    {"consistency-pa-sn", "above 0", 0.0, INFINITY, false},
    {"index", "above 0", 0.0, INFINITY, false},
    {"", "0 or more", 0.0, INFINITY, true},
};

static bool ends_in(const char *name, const char *end)
{
    size_t length = strlen(name), tail = strlen(end);
    return length >= tail && strcmp(name + length - tail, end) == 0;
}

static int check_limits(const tool *program, const ask *a, const double number[3])
{
    size_t k = 0;
    while (!ends_in(a->name, limits[k].end))
        k++;
    for (int i = 0; i < 3; i += 2) {
        double x = number[i];
        bool inside = limits[k].ends_too ? x >= limits[k].least && x <= limits[k].most
                                         : x > limits[k].least && x < limits[k].most;
        if (!inside)
            return fail(program, "--%s is %s; it must be %s", a->name, amount_number(x).text,
                limits[k].words);
    }
    return GO_ON;
}

static int read_value(const tool *program, const ask *a, const char *text, double number[3])
{
    if (!text) {
        if (isnan(a->usual))
            return fail_usage(program, "--%s is needed: %s", a->name, a->help);
        number[0] = number[1] = number[2] = isinf(a->usual) ? (double)NAN : a->usual;
        return GO_ON;
    }
    if (!a->words && !parse_range(text, number))
        return fail_usage(program,
            "--%s wants a number, or low:high, or low:typical:high, not '%s'", a->name, text);
    if (a->words) {
        int word = word_number(a->words, text);
        if (word < 0)
            return fail_usage(program, "--%s does not know '%s'; see --help", a->name, text);
        number[0] = number[1] = number[2] = word;
        return GO_ON;
    }
    return check_limits(program, a, number);
}

/* ---- the liquid -------------------------------------------------------------------- */

typedef struct liquid_text {
    const char *preset, *celsius, *viscosity;
    const char *property[VUG_PROPERTY_COUNT];
} liquid_text;

static int read_preset(const tool *program, const liquid_text *text, double row[3][6])
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    for (int level = 0; level < 3; level++)
        to_row(&f, row[level]);
    if (!text->preset)
        return text->celsius ? fail_usage(program, "--temperature-c needs --liquid") : GO_ON;
    double celsius = 20.0;
    int preset = liquid_number(text->preset);
    if (preset < 0)
        return fail_usage(program, "--liquid does not know '%s'; see --help", text->preset);
    if (text->celsius && !parse_numbers(text->celsius, &celsius, 1))
        return fail_usage(program, "--temperature-c wants a number, not '%s'", text->celsius);
    for (int32_t level = 0; level < 3; level++) {
        if (vug_fluid_preset(NULL, preset, level, celsius, &f))
            return fail(program, "no numbers for %s at %g C", text->preset, celsius);
        to_row(&f, row[level]);
    }
    return GO_ON;
}

static void describe(const liquid_text *text, char words[96])
{
    size_t own = text->viscosity != NULL;
    for (size_t i = 0; i < VUG_PROPERTY_COUNT; i++)
        own += text->property[i] != NULL;
    const char *rest = own ? ", with the numbers given" : "";
    if (text->preset)
        snprintf(words, 96, "%s at %s C, known as a range%s", text->preset,
            text->celsius ? text->celsius : "20", rest);
    else
        snprintf(words, 96, "water at 20 C that wets the part%s", own ? rest : " (see --liquid)");
}

/* Preset or water, then each property given by itself. */
static int read_liquid(const tool *program, const question *q, const liquid_text *text, given *g)
{
    double row[3][VUG_PROPERTY_COUNT];
    int code = read_preset(program, text, row);
    describe(text, g->liquid);
    for (size_t i = 0; code == GO_ON && i < VUG_PROPERTY_COUNT; i++) {
        double number[3] = {row[0][i], row[1][i], row[2][i]};
        const char *own = text->property[i],
                   *plain = i == VUG_PROPERTY_CONSISTENCY ? text->viscosity : NULL;
        const ask a = {property_name[i], property_help[i], row[1][i], NULL};
        const ask b = {"viscosity-pa-s", property_help[i], row[1][i], NULL};
        if (own)
            code = read_value(program, &a, own, number);
        if (plain && code == GO_ON)
            code = read_value(program, &b, plain, number);
        if (!own && !plain && text->viscosity
            && (i == VUG_PROPERTY_YIELD || i == VUG_PROPERTY_INDEX))
            number[0] = number[1] = number[2] = i == VUG_PROPERTY_INDEX; /* a plain liquid */
        g->low[q->ask_count + i] = number[0];
        g->typical[q->ask_count + i] = number[1];
        g->high[q->ask_count + i] = number[2];
    }
    return code;
}

/* ---- all arguments ------------------------------------------------------------------- */

static option text_option(const char *name, const char *value, const char *help,
    const char **target)
{
    return (option){.name = name,
        .value = value,
        .help = help,
        .kind = OPTION_TEXT,
        .target = (void *)target};
}

int read_given(const question *q, int argc, char **argv, given *g)
{
    char flag[MOST_ASKED + VUG_PROPERTY_COUNT][40], name[40];
    const char *text[MOST_ASKED] = {NULL};
    liquid_text liquid = {0};
    option options[MOST_ASKED + VUG_PROPERTY_COUNT + 5];
    size_t n = 0;
    *g = (given){.count = q->ask_count + (q->fluid ? VUG_PROPERTY_COUNT : 0)};
    for (size_t i = 0; i < q->ask_count; i++) {
        snprintf(flag[i], sizeof flag[i], "--%s", q->asks[i].name);
        options[n++] = text_option(flag[i], q->asks[i].words ? "WORD" : "N", q->asks[i].help,
            &text[i]);
    }
    if (q->fluid) {
        options[n++] = text_option("--liquid", "NAME",
            "Take the liquid's numbers from a preset, as "
            "ranges: water, isopropanol, resin, craft-acrylic, thinned-acrylic, dyed-epoxy, "
            "plaster-slip. Without it: water at 20 C that wets the part.",
            &liquid.preset);
        options[n++] = text_option("--fluid", "NAME", "The same as --liquid.", &liquid.preset);
        options[n++] = text_option("--temperature-c", "N", "Temperature of the preset (20).",
            &liquid.celsius);
        options[n++] = text_option("--viscosity-pa-s", "N",
            "Viscosity of a plain liquid: sets "
            "consistency, index 1 and no yield stress.",
            &liquid.viscosity);
        for (size_t i = 0; i < VUG_PROPERTY_COUNT; i++) {
            snprintf(flag[q->ask_count + i], sizeof flag[0], "--%s", property_name[i]);
            options[n++] = text_option(flag[q->ask_count + i], "N", property_help[i],
                &liquid.property[i]);
        }
    }
    options[n++] = text_option("--json", "FILE",
        "Write the answer as JSON to FILE, or - for "
        "standard output.",
        &g->json);
    snprintf(name, sizeof name, "vug-sums %s", q->name);
    const tool program = {.name = name,
        .operands = "",
        .about = q->about,
        .notes = "A number may be a range, low:high or low:typical:high: the answer then is one "
                 "too, with the input that decides it.",
        .options = options,
        .option_count = n};
    int code = options_read(&program, argc, argv, NULL);
    for (size_t i = 0; code == GO_ON && i < q->ask_count; i++) {
        double number[3];
        code = read_value(&program, &q->asks[i], text[i], number);
        if (!text[i])
            spread(q, &q->asks[i], number);
        g->low[i] = number[0];
        g->typical[i] = number[1];
        g->high[i] = number[2];
    }
    size_t a = q->either[0], b = q->either[1];
    if (code == GO_ON && a != b && isnan(g->typical[a]) == isnan(g->typical[b]))
        return fail_usage(&program, "give either --%s or --%s", q->asks[a].name, q->asks[b].name);
    if (code == GO_ON && q->fluid)
        code = read_liquid(&program, q, &liquid, g);
    return code;
}
