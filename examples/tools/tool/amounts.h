/* SPDX-License-Identifier: MIT
 * Amounts and places as people have them. */
#ifndef TOOLS_TOOL_AMOUNTS_H
#define TOOLS_TOOL_AMOUNTS_H

/* One amount or place in words. */
typedef struct amount {
    char text[64];
} amount;

/* "12.600 mL", "none", and "less than 0.05 mL" for what no syringe measures. */
amount amount_ml(double mm3);

/* As a syringe has it, and as a plan's text says it: "0.35 mL", "12.6 mL", "123 mL", "21.3 L". */
amount amount_drawn(double mm3);

/* The same as amount_ml() in a column of numbers, its share of a whole behind it: "    12.600 mL (50.00 %)". */
amount amount_of(double mm3, double whole_mm3);

/* A diameter as drills have it: "2.45", "3.0". */
amount amount_mm(double mm);

/* A number as it is written by hand: "0.000001", "2.5", "1000000000", no powers of ten. */
amount amount_number(double x);

/* "(1.0, -2.5, 0.0)": to so many decimals, and never a zero with a sign. */
amount amount_place(const double mm[3], int decimals);

#endif
