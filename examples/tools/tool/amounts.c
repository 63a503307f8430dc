/* SPDX-License-Identifier: MIT */
#include "amounts.h"

#include "tool.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

amount amount_ml(double mm3)
{
    amount a;
    if (mm3 >= LEAST_MM3)
        snprintf(a.text, sizeof a.text, "%.3f mL", 1e-3 * mm3);
    else
        snprintf(a.text, sizeof a.text, mm3 > 0.0 ? "less than 0.05 mL" : "none");
    return a;
}

amount amount_drawn(double mm3)
{
    amount a;
    const double ml = 1e-3 * mm3;
    if (mm3 < LEAST_MM3)
        return amount_ml(mm3);
    if (ml < 0.975)
        snprintf(a.text, sizeof a.text, "%.2f mL", 0.05 * floor(ml / 0.05 + 0.5));
    else if (ml < 999.5)
        snprintf(a.text, sizeof a.text, "%.*f mL", ml < 99.95, ml);
    else
        snprintf(a.text, sizeof a.text, "%.1f L", 1e-3 * ml);
    return a;
}

amount amount_of(double mm3, double whole_mm3)
{
    amount a;
    if (mm3 >= LEAST_MM3)
        snprintf(a.text, sizeof a.text, "%10.3f mL (%.2f %%)", 1e-3 * mm3, 100.0 * mm3 / whole_mm3);
    else
        snprintf(a.text, sizeof a.text, "   %.40s", amount_ml(mm3).text);
    return a;
}

amount amount_number(double x)
{
    amount a;
    double size = fabs(x);
    if (size >= 1e5 && size < 1e18)
        snprintf(a.text, sizeof a.text, "%.0f", x);
    else if (size == 0.0 || size >= 1e-4)
        snprintf(a.text, sizeof a.text, "%g", x);
    else {
        snprintf(a.text, sizeof a.text, "%.12f", x);
        for (size_t end = strlen(a.text); end > 0 && a.text[end - 1] == '0'; end--)
            a.text[end - 1] = '\0';
    }
    return a;
}

amount amount_mm(double mm)
{
    amount a;
    snprintf(a.text, sizeof a.text, "%.2f", mm);
    size_t end = strlen(a.text);
    while (end > 2 && a.text[end - 1] == '0' && a.text[end - 2] != '.')
        a.text[--end] = '\0';
    return a;
}

amount amount_place(const double mm[3], int decimals)
{
    amount a;
    double least = 0.5 * pow(10.0, -decimals), p[3];
    for (int k = 0; k < 3; k++)
        p[k] = fabs(mm[k]) <= least ? 0.0 : mm[k];
    snprintf(a.text, sizeof a.text, "(%.*f, %.*f, %.*f)", decimals, p[0], decimals, p[1], decimals,
        p[2]);
    return a;
}
