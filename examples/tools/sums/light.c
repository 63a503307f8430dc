/* SPDX-License-Identifier: MIT
 * Questions about curing, walls, paint films, relief and coats. */
#include "light.h"

#define COUNT(list) (sizeof list / sizeof list[0])

/* ---- curing ------------------------------------------------------------------------- */

static const ask cure_asks[] = {
    {"penetration-mm",
        "Penetration depth of the curing light in the resin (0.05:0.15:0.5, as published curves "
        "differ; the data sheet's is better).",
        0.15, NULL},
    {"critical-mj-cm2", "Critical dose of the resin (2:8:20, likewise).", 8.0, NULL},
    {"dose-mj-cm2", "Dose on the surface; or give the depth.", ABSENT, NULL},
    {"depth-mm", "Depth to cure; or give the dose.", ABSENT, NULL},
};
static const tell cure_tells[] = {
    {"depth_mm", "Cured depth, mm", NULL, false},
    {"dose_mj_cm2", "Dose, mJ/cm2", NULL, false},
};
static vug_status cure(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    out[0] = in[3];
    out[1] = in[2];
    if (isnan(in[3]))
        return vug_cure_depth(ctx, in[0], in[1], &in[2], 1, &out[0]);
    return vug_cure_dose(ctx, in[0], in[1], &in[3], 1, &out[1]);
}

static const ask inside_asks[] = {
    {"lamp-mw-cm2", "Lamp on the outside (10).", 10.0, NULL},
    {"wall-mm", "Wall (2).", 2.0, NULL},
    {"penetration-mm", "Penetration depth of its light in the cured wall (0.5).", 0.5, NULL},
    {"opening-mm", "Diameter of a hole that lets light in (0: none).", 0.0, NULL},
    {"distance-mm", "From the hole to the inner spot (10).", 10.0, NULL},
    {"needed-mj-cm2", "Dose that the inside needs (1000; data sheet).", 1000.0, NULL},
};
static const tell inside_tells[] = {
    {"wall_share", "Share of the light through the wall", NULL, false},
    {"opening_share", "Share through the hole", NULL, false},
    {"time_s", "Exposure for the inside, s", NULL, false},
};
static vug_status inside(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_cure_inside lamp;
    vug_cure_inside_init(&lamp, sizeof lamp);
    lamp.lamp_mw_cm2 = in[0];
    lamp.wall_mm = in[1];
    lamp.penetration_mm = in[2];
    lamp.opening_mm = in[3];
    lamp.distance_mm = in[4];
    lamp.needed_mj_cm2 = in[5];
    return vug_cure_through(ctx, &lamp, &out[0], &out[1], &out[2]);
}

/* ---- walls, films, relief ------------------------------------------------------------- */

static const ask wall_asks[] = {
    {"wall-mm", "Thickness of the wall.", NEEDED, NULL},
    {"attenuation-per-mm", "Of visible light in the wall.", NEEDED, NULL},
    {"refractive-index", "Of the resin (1.5); 1 leaves the faces out.", 1.5, NULL},
};
static const tell wall_tells[] = {{"share", "Share of light through the wall", NULL, false}};
static vug_status wall(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    return vug_wall_transmission(ctx, in[1], in[2], &in[0], 1, &out[0]);
}

static const ask film_asks[] = {
    {"absorption-per-mm", "Kubelka-Munk absorption of the dry paint.", NEEDED, NULL},
    {"scattering-per-mm", "Kubelka-Munk scattering of the dry paint.", NEEDED, NULL},
    {"film-mm", "Dry film (0.05).", 0.05, NULL},
    {"contrast-ratio", "Contrast ratio that hides (0.98).", 0.98, NULL},
    {"blocked-share", "Share of backlight that may pass (0.001).", 0.001, NULL},
};
static const tell film_tells[] = {
    {"contrast_ratio", "Contrast ratio of the film", NULL, false},
    {"transmittance", "Share of backlight through it", NULL, false},
    {"hiding_mm", "Film that hides, mm", NULL, false},
    {"blocking_mm", "Film that blocks backlight, mm", NULL, false},
};
static vug_status film(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_status status = vug_film_transmittance(ctx, in[0], in[1], &in[2], 1, &out[1]);
    if (!status)
        status = vug_film_blocking(ctx, in[0], in[1], in[4], &out[3]);
    if (status || in[1] == 0.0)
        return status; /* without scattering there is no contrast ratio */
    status = vug_film_contrast(ctx, in[0], in[1], &in[2], 1, &out[0]);
    return status ? status : vug_film_hiding(ctx, in[0], in[1], in[3], &out[2]);
}

static const ask relief_asks[] = {
    {"height-mm", "Height of the relief, hollow to crest.", NEEDED, NULL},
    {"width-mm", "Width of the relief, crest to crest.", NEEDED, NULL},
    {"skin-mm", "Skin in the middle, to learn its contrast.", ABSENT, NULL},
    {"absorption-per-mm", "Kubelka-Munk absorption of the skin (0.02).", 0.02, NULL},
    {"scattering-per-mm", "Kubelka-Munk scattering of the skin (0.5).", 0.5, NULL},
    {"core-reflectance", "Of the filling (0.05).", 0.05, NULL},
    {"threshold", "Contrast that is seen (0.02).", 0.02, NULL},
};
static const tell relief_tells[] = {
    {"skin_mm", "Thickest skin through which it reads, mm", NULL, false},
    {"contrast", "Contrast at the skin given", NULL, false},
};
static vug_status relief(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    (void)fluid;
    vug_relief r;
    vug_relief_init(&r, sizeof r);
    r.height_mm = in[0];
    r.width_mm = in[1];
    r.absorption_per_mm = in[3];
    r.scattering_per_mm = in[4];
    r.core_reflectance = in[5];
    r.threshold = in[6];
    vug_status status = vug_relief_skin(ctx, &r, &out[0]);
    if (!status && !isnan(in[2]))
        status = vug_relief_contrast(ctx, &r, &in[2], 1, &out[1]);
    return status;
}

static const ask coat_asks[] = {
    {"area-mm2", "Wall of the cavity.", NEEDED, NULL},
    {"volume-ml", "Volume of the cavity.", NEEDED, NULL},
    {"film-mm", "Dry film wanted, such as the one that hides.", NEEDED, NULL},
    {"solids-fraction", "Share of the paint that stays when dry (0.4).", 0.4, NULL},
    {"coat-mm", "Wet coat; without it what hangs on a standing wall.", ABSENT, NULL},
    {"height-mm", "Height of the wall, for a liquid without yield stress (50).", 50.0, NULL},
    {"after-s", "Time until it sets, for such a liquid (600).", 600.0, NULL},
};
static const tell coat_tells[] = {
    {"coats", "Coats", NULL, true},
    {"coat_mm", "Wet coat each, mm", NULL, false},
    {"coat_ml", "Paint to coat, mL", NULL, false},
    {"fill_ml", "Paint to fill, mL", NULL, false},
    {"saved_ml", "Saved by coating, mL", NULL, false},
};
static vug_status coat(vug_context *ctx, const double *in, const vug_fluid *fluid, double *out)
{
    vug_coat told = {.struct_size = sizeof told};
    double wet = in[4];
    vug_status status = VUG_OK;
    if (isnan(in[4]))
        status = vug_film_hang(ctx, fluid, 90.0, in[5], in[6], &wet);
    if (!status)
        status = vug_coat_plan(ctx, in[0], in[1] * 1000.0, in[2], in[3], wet, &told);
    out[0] = told.coats;
    out[1] = wet;
    out[2] = told.coat_paint_mm3 / 1000.0;
    out[3] = told.fill_paint_mm3 / 1000.0;
    out[4] = told.saved_mm3 / 1000.0;
    return status;
}

static const char *const lamp_caution =
    "UV hurts eyes and skin: closed lamp. Resin that stays wet "
    "inside keeps irritating and may attack the part: rinse well, cure through an opening.";
static const char *const relief_caution = "An estimate: print a step wedge and look.";

const question light_questions[] = {
    {"cure", "Depth that a dose cures, or dose for a depth: the working curve.", cure_asks,
        COUNT(cure_asks), cure_tells, COUNT(cure_tells), cure, false, NULL, {2, 3}},
    {"inside", "Exposure that cures the inside, through wall and hole.", inside_asks,
        COUNT(inside_asks), inside_tells, COUNT(inside_tells), inside, false, lamp_caution, {0, 0}},
    {"wall", "Visible light through a wall.", wall_asks, COUNT(wall_asks), wall_tells,
        COUNT(wall_tells), wall, false, NULL, {0, 0}},
    {"film", "How well a paint film hides and blocks.", film_asks, COUNT(film_asks), film_tells,
        COUNT(film_tells), film, false, NULL, {0, 0}},
    {"relief", "Thickest skin through which a relief still reads.", relief_asks, COUNT(relief_asks),
        relief_tells, COUNT(relief_tells), relief, false, relief_caution, {0, 0}},
    {"coat", "Paint to coat the inside against paint to fill it.", coat_asks, COUNT(coat_asks),
        coat_tells, COUNT(coat_tells), coat, true, NULL, {0, 0}},
};
const size_t light_question_count = COUNT(light_questions);
