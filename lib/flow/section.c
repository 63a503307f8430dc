/* SPDX-License-Identifier: MIT
 * The laminar resistance of a section by its area and its width. */
#include "flow/section.h"

#include "flow/flow.h"

#include <math.h>

/* Resistance by length, viscosity and area squared: of a circle 8 pi, by Poiseuille; of a rectangle of such sides by
 * Boussinesq's series, whose first terms give it to 1e-4 (Shah, London 1978, Laminar Flow Forced Convection in Ducts). */
static double of_rectangle(double wide_over_high)
{
    double sum = 0.0;
    for (int k = 1; k < 8; k += 2)
        sum += tanh(0.5 * k * VUGI_PI * wide_over_high) / pow(k, 5);
    double narrowed = 192.0 / (pow(VUGI_PI, 5) * wide_over_high) * sum;
    return 12.0 * wide_over_high / (1.0 - narrowed);
}

/* Squares as wide as the section have its area so many times: pi / 4 of one is a circle, 1 a square, more a slot. Between
 * circle and square in proportion: a hexagon comes within 1 %, an ellipse twice as long as wide too; a triangle is 14 % too
 * low. */
static double of_section(double squares)
{
    const double circle = 0.25 * VUGI_PI, round = 8.0 * VUGI_PI;
    if (squares >= 1.0)
        return of_rectangle(squares);
    double part = fmax(0.0, squares - circle) / (1.0 - circle);
    return round + part * (of_rectangle(1.0) - round);
}

vugi_tubes vugi_section_tubes(double radius, double inscribed)
{
    double narrow = fmin(inscribed, radius);
    double squares = 0.25 * VUGI_PI * (radius / narrow) * (radius / narrow);
    double count = of_section(squares) / (8.0 * VUGI_PI);
    return (vugi_tubes){count, 2.0 * radius / sqrt(count)};
}

double vugi_tubes_area(const vugi_tubes *tubes)
{
    return 0.25 * VUGI_PI * tubes->count * tubes->diameter * tubes->diameter;
}
