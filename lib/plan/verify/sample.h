/* SPDX-License-Identifier: MIT
 * The same steps done a little differently, many times, on all threads: at other paces, and by hands that are not exact. */
#ifndef VUGI_PLAN_VERIFY_SAMPLE_H
#define VUGI_PLAN_VERIFY_SAMPLE_H

#include "plan/verify/verification.h"

/* Columns for poses held askew; on fewer the worst hands come out worse than on fine ones. What they see is told as more
 * or less than what the same columns see of the steps as they are told. */
#define VUGI_ASKEW_ACROSS 80.0

/* Air that stays at the end when the turns are made with these stops, mm3, on columns h apart. */
vug_status vugi_sample_paces(vugi_verification *proving, const double *stop_deg, size_t count,
    double h, double *left);

/* And by hands that are not exact, into seen and whole: `count` of the VUG_PLAN_SAMPLES samples, by their numbers. Every
 * pose is held askew, holes and paint are off, and each turn is made at one of the paces of VUGI_PACES, or, unless the
 * steps are good at any of them, at proving->stop. On coarse columns. keep: the first so many steps will be as they are.
 * enough: share of the cavity; a sample in which no more air is left is not played on. */
vug_status vugi_sample_hands(vugi_verification *proving, const size_t *number, size_t count,
    size_t keep, double enough);

/* From now on what is inside after the steps that will be as they are is kept of each sample, to go on from there; and no
 * longer. */
vug_status vugi_sample_keep(vugi_verification *proving);
void vugi_sample_forget(vugi_verification *proving);

/* What those columns see of the steps as they are told. */
vug_status vugi_sample_told(vugi_verification *proving, double *left);

/* One brisk turn; with rests now and then; and as slow as a hand has patience for (common practice, no source). */
enum { VUGI_PACES = 3 };
extern const double vugi_pace_deg[VUGI_PACES];

#endif
