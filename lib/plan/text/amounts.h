/* SPDX-License-Identifier: MIT
 * Amounts as a person measures them: what a syringe, a clock and a hand can do. */
#ifndef VUGI_PLAN_TEXT_AMOUNTS_H
#define VUGI_PLAN_TEXT_AMOUNTS_H

#include "plan/verify/move.h"

/* One amount in words. */
typedef struct vugi_words {
    char text[64];
} vugi_words;

/* A wait of more, in s, is none that anybody waits for. */
#define VUGI_LONGEST_S 86400.0

/* "0.35 mL", "12.6 mL", "less than 0.05 mL", "21.3 L". */
vugi_words vugi_words_ml(double mm3);

/* "10 seconds" to "24 hours", rounded up. */
/* So much at least: a whole number of the least that a syringe measures, mm3. */
double vugi_need_mm3(double mm3);

vugi_words vugi_words_time(double seconds);

/* "3 days", "2 weeks", "5 months", "a year" (or more): what is waited for beside other work. */
vugi_words vugi_words_long(double seconds);

/* Of a part of a whole: "0.37 %", "less than 0.01 %". */
vugi_words vugi_words_percent(double part, double whole);

/* "0.35 mL a second" or a minute. */
vugi_words vugi_words_rate(double mm3_s);

/* For so many decimals: what rounds to 0 has no sign. */
double vugi_plain(double x, int decimals);

/* "2.5" or "0.85": a diameter in mm, to hundredths, no more digits than it has. */
vugi_words vugi_words_mm(double mm);

#endif
