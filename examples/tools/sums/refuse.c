/* SPDX-License-Identifier: MIT */
#include "refuse.h"

#include "ask.h"

#include "../tool/amounts.h"

#include <stdio.h>
#include <string.h>

/* Arguments of the library whose option is called otherwise or has another unit. */
static const struct {
    const char *argument, *option;
    double scale;
} renamed[] = {
    {"radius_mm", "hole-diameter-mm", 2.0},
    {"radius_mm", "bubble-diameter-mm", 2.0},
    {"diameter_mm", "hole-diameter-mm", 1.0},
    {"diameter_mm", "tube-diameter-mm", 1.0},
    {"length_mm", "wall-mm", 1.0},
    {"thickness_mm", "wall-mm", 1.0},
    {"thickness_mm", "film-mm", 1.0},
    {"dry_film_mm", "film-mm", 1.0},
    {"wet_coat_mm", "coat-mm", 1.0},
    {"head_mm", "from-mm", 1.0},
    {"nominal_ml", "syringe-ml", 1.0},
    {"cavity_mm3", "cavity-ml", 1e-3},
    {"residue_mm3", "residue-ml", 1e-3},
    {"volume_mm3", "volume-ml", 1e-3},
    {"load_ml", "syringe-ml", 1.0},
    {"fraction_left", "left-fraction", 1.0},
    {"yield_stress_pa", "yield-pa", 1.0},
    {"flow_index", "index", 1.0},
    {"expansion_low_per_k", "plastic-low-per-k", 1.0},
    {"expansion_high_per_k", "plastic-high-per-k", 1.0},
    {"liquid_expansion_per_k", "liquid-per-k", 1.0},
    {"liquid_compressibility_per_pa", "liquid-per-pa", 1.0},
    {"filled_at_c", "temperature-c", 1.0},
    {"ratio", "contrast-ratio", 1.0},
    {"share", "blocked-share", 1.0},
};

static bool asks_for(const question *q, const char *option)
{
    size_t count = q->ask_count + (q->fluid ? VUG_PROPERTY_COUNT : 0);
    for (size_t i = 0; i < count; i++)
        if (strcmp(input_name(q, i), option) == 0)
            return true;
    return false;
}

/* The option of an argument such as shell->wall_mm, and what its unit is of the argument's. */
static bool find_option(const question *q, const char *argument, char option[64], double *scale)
{
    const char *member = strstr(argument, "->");
    argument = member ? member + 2 : argument;
    snprintf(option, 64, "%s", argument);
    for (char *c = option; *c; c++)
        *c = *c == '_' ? '-' : *c;
    *scale = 1.0;
    if (asks_for(q, option))
        return true;
    for (size_t i = 0; i < sizeof renamed / sizeof renamed[0]; i++)
        if (strcmp(renamed[i].argument, argument) == 0 && asks_for(q, renamed[i].option)) {
            snprintf(option, 64, "%s", renamed[i].option);
            *scale = renamed[i].scale;
            return true;
        }
    return false;
}

/* A message about several: each word behind "set", and each with a _ before it, that is an argument becomes its option. */
static void rename_all(const question *q, const char *text, char *words, size_t size)
{
    static const char *const word_chars = "abcdefghijklmnopqrstuvwxyz0123456789_";
    const char *set = strstr(text, "; set ");
    size_t used = 0;
    words[0] = '\0';
    while (*text && used + 1 < size) {
        char argument[64], option[64];
        double scale;
        size_t length = strspn(text, word_chars);
        snprintf(argument, sizeof argument, "%.*s", (int)length, text);
        bool wanted = (set && text > set) || strchr(argument, '_');
        if (length > 0 && wanted && find_option(q, argument, option, &scale))
            snprintf(words + used, size - used, "--%s", option);
        else
            snprintf(words + used, size - used, "%.*s", length > 0 ? (int)length : 1, text);
        text += length > 0 ? length : 1;
        used += strlen(words + used);
    }
}

void refuse_in_words(const question *q, const char *message, char *words, size_t size)
{
    const char *text = strncmp(message, "vug_", 4) == 0 ? strstr(message, ": ") : NULL;
    text = text ? text + 2 : message;
    char argument[64], option[64];
    double value, low, high, area, scale;
    int rest = 0, row;
    if (asks_for(q, "to-mm")
        && sscanf(text,
               "row %d is %lg mm, %*g mm2; levels must rise within %lg .. %lg and areas lie within "
               "%*g .. %lg",
               &row, &value, &low, &high, &area)
            == 5)
        snprintf(words, size,
            "--%s-mm is %s; --from-mm must be above --to-mm, both within %s .. %s, --area-mm2 "
            "within 0 .. %s",
            row == 0 ? "to" : "from", amount_number(value).text, amount_number(low).text,
            amount_number(high).text, amount_number(area).text);
    else if (sscanf(text, "%63s is %lg;%n", argument, &value, &rest) < 2
        || !find_option(q, argument, option, &scale))
        rename_all(q, text, words, size);
    else if (sscanf(text + rest, " it must lie within %lg .. %lg", &low, &high) == 2)
        snprintf(words, size, "--%s is %s; it must lie within %s .. %s", option,
            amount_number(value * scale).text, amount_number(low * scale).text,
            amount_number(high * scale).text);
    else
        snprintf(words, size, "--%s is %s;%s", option, amount_number(value * scale).text,
            text + rest);
}
