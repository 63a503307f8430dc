/* SPDX-License-Identifier: MIT
 * Amounts as a person measures them: what a syringe, a clock and a hand can do. */
#include "plan/text/amounts.h"

#include "base/format.h"
#include "base/message.h"

#include <math.h>
#include <string.h>

/* Steps of 0.05 mL are the finest that syringes of a few mL have (common practice, no source). */
vugi_words vugi_words_ml(double mm3)
{
    vugi_words w;
    double ml = 1e-3 * mm3;
    if (mm3 < VUGI_LEAST_MM3)
        vugi_print(w.text, sizeof w.text, "less than 0.05 mL");
    else if (ml < 0.975)
        vugi_print(w.text, sizeof w.text, "%.2f mL", 0.05 * floor(ml / 0.05 + 0.5));
    else if (ml < 99.95)
        vugi_print(w.text, sizeof w.text, "%.1f mL", ml);
    else if (ml < 999.5)
        vugi_print(w.text, sizeof w.text, "%.0f mL", ml);
    else
        vugi_print(w.text, sizeof w.text, "%.1f L", 1e-3 * ml);
    return w;
}

double vugi_need_mm3(double mm3)
{
    return VUGI_LEAST_MM3 * fmax(1.0, ceil(mm3 / VUGI_LEAST_MM3 - 1e-9));
}

vugi_words vugi_words_time(double seconds)
{
    vugi_words w;
    double minutes = seconds / 60.0, hours = seconds / 3600.0;
    if (seconds <= 55.0)
        vugi_print(w.text, sizeof w.text, "%.0f seconds", 5.0 * fmax(1.0, ceil(seconds / 5.0)));
    else if (minutes <= 1.0)
        vugi_print(w.text, sizeof w.text, "1 minute");
    else if (minutes <= 9.5)
        vugi_print(w.text, sizeof w.text, "%g minutes", 0.5 * ceil(minutes / 0.5));
    else if (minutes <= 115.0)
        vugi_print(w.text, sizeof w.text, "%.0f minutes", 5.0 * ceil(minutes / 5.0));
    else
        vugi_print(w.text, sizeof w.text, "%g hours", 0.5 * ceil(hours / 0.5));
    return w;
}

vugi_words vugi_words_long(double seconds)
{
    vugi_words w;
    double days = seconds / 86400.0;
    if (days <= 1.0)
        return vugi_words_time(seconds);
    if (days <= 13.0)
        vugi_print(w.text, sizeof w.text, "%.0f days", ceil(days));
    else if (days <= 364.0)
        vugi_print(w.text, sizeof w.text, "%.0f weeks", ceil(days / 7.0));
    else
        vugi_print(w.text, sizeof w.text, "a year");
    return w;
}

vugi_words vugi_words_percent(double part, double whole)
{
    vugi_words w;
    double percent = whole > 0.0 ? 100.0 * part / whole : 0.0;
    if (percent <= 0.0)
        vugi_print(w.text, sizeof w.text, "0 %%");
    else if (percent < 0.01)
        vugi_print(w.text, sizeof w.text, "less than 0.01 %%");
    else if (percent < 9.995)
        vugi_print(w.text, sizeof w.text, "%.2f %%", percent);
    else if (percent < 90.0 || percent >= 100.0)
        vugi_print(w.text, sizeof w.text, "%.0f %%", percent);
    else if (percent < 99.95) /* so that the rest, told to hundredths, goes with it */
        vugi_print(w.text, sizeof w.text, "%.1f %%", percent);
    else /* what is not all is not told as all */
        vugi_print(w.text, sizeof w.text, "%.2f %%", fmin(percent, 99.99));
    return w;
}

/* More is no part. */
static const double MOST_WHOLES = 1000.0;

vug_status vug_percent_words(vug_context *ctx, double part, double whole, char *text, size_t size)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!text || size == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "text is NULL or has no room");
    if (!isfinite(whole) || !(part >= 0.0) || !(part <= MOST_WHOLES * whole))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%g of %g: it must be 0 to %g wholes", part, whole,
            MOST_WHOLES);
    vugi_print(text, size, "%s", vugi_words_percent(part, whole).text);
    return VUG_OK;
}

vugi_words vugi_words_rate(double mm3_s)
{
    vugi_words w;
    bool slow = mm3_s < 100.0;
    vugi_print(w.text, sizeof w.text, "%.2g mL a %s", 1e-3 * mm3_s * (slow ? 60.0 : 1.0),
        slow ? "minute" : "second");
    return w;
}

double vugi_plain(double x, int decimals)
{
    return fabs(x) < 0.5 * pow(10.0, -decimals) ? 0.0 : x;
}

vugi_words vugi_words_mm(double mm)
{
    vugi_words w;
    vugi_print(w.text, sizeof w.text, "%.2f", mm);
    size_t end = strlen(w.text);
    while (end > 2 && w.text[end - 1] == '0' && w.text[end - 2] != '.')
        w.text[--end] = '\0';
    return w;
}
