/* SPDX-License-Identifier: MIT
 * Sums that every JavaScript host has: they are imported from its Math, for their tables pack badly. Not those that
 * mean something else there at the edges (hypot, fmod, fmin, fmax, round). */
#ifndef VUG_JS_HOST_MATH_H
#define VUG_JS_HOST_MATH_H

#include <math.h>

#define VUG_JS_MATH(name) __attribute__((import_module("Math"), import_name(#name))) extern double vug_js_##name

VUG_JS_MATH(acos)(double x);
VUG_JS_MATH(atan2)(double y, double x);
VUG_JS_MATH(cbrt)(double x);
VUG_JS_MATH(cos)(double x);
VUG_JS_MATH(exp)(double x);
VUG_JS_MATH(expm1)(double x);
VUG_JS_MATH(log)(double x);
VUG_JS_MATH(pow)(double x, double y);
VUG_JS_MATH(sin)(double x);
VUG_JS_MATH(tan)(double x);

#define acos vug_js_acos
#define atan2 vug_js_atan2
#define cbrt vug_js_cbrt
#define cos vug_js_cos
#define exp vug_js_exp
#define expm1 vug_js_expm1
#define log vug_js_log
#define pow vug_js_pow
#define sin vug_js_sin
#define tan vug_js_tan

#endif
