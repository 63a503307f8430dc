/* SPDX-License-Identifier: MIT
 * A hole whose section is no circle, as a bundle of round tubes that resists as much. */
#ifndef VUGI_FLOW_SECTION_H
#define VUGI_FLOW_SECTION_H

/* So many tubes of that diameter have the area of the section together, and its resistance. */
typedef struct vugi_tubes {
    double count, diameter; /* count: 1 for a circle, no whole number for others */
} vugi_tubes;

/* radius: of the circle of equal area; inscribed: of the widest circle in the section. */
vugi_tubes vugi_section_tubes(double radius, double inscribed);

/* Area of all of them. */
double vugi_tubes_area(const vugi_tubes *tubes);

#endif
