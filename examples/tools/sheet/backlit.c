/* SPDX-License-Identifier: MIT */
#include "backlit.h"

#include "held.h"
#include "../tool/fail.h"
#include "../tool/whole_file.h"

#include <cairo.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 420, MOST = 560, LEAST = 280 }; /* pixels; the height is as the part asks */

static cairo_status_t write_some(void *stream, const unsigned char *data, unsigned int length)
{
    return fwrite(data, 1, length, stream) == length ? CAIRO_STATUS_SUCCESS
                                                     : CAIRO_STATUS_WRITE_ERROR;
}

/* Bytes red, green, blue to Cairo's words of a pixel, in place. */
static void to_words(unsigned char *pixels, int height)
{
    for (size_t i = 0; i < (size_t)WIDTH * (size_t)height; i++) {
        unsigned char *p = pixels + 4 * i;
        uint32_t word = 0xff000000u | (uint32_t)p[0] << 16 | (uint32_t)p[1] << 8 | p[2];
        memcpy(p, &word, sizeof word);
    }
}

static int write_png(const tool *program, const char *base, const char *ending,
    unsigned char *pixels, int height)
{
    int code = FAILED;
    char *file = malloc(strlen(base) + strlen(ending) + 1), *beside = NULL;
    if (!file)
        return fail(program, "no memory");
    strcat(strcpy(file, base), ending);
    FILE *stream = whole_open(program, file, &beside);
    if (stream) {
        to_words(pixels, height);
        cairo_surface_t *image = cairo_image_surface_create_for_data(pixels, CAIRO_FORMAT_RGB24,
            WIDTH, height, 4 * WIDTH);
        bool good = cairo_surface_write_to_png_stream(image, write_some, stream)
            == CAIRO_STATUS_SUCCESS;
        cairo_surface_destroy(image);
        if (!good)
            fail(program, "cannot draw %s", file);
        code = whole_close(program, stream, file, beside, good);
    }
    free(file);
    return code;
}

/* Half of what the first pose takes. */
static vug_status half(const fill_plan *plan, vug_moment **moment)
{
    vug_course *course = NULL;
    vug_fill_options options;
    vug_fill_options_init(&options, sizeof options);
    options.inlet = plan->fill[0].inlet;
    vug_status status = vug_fill_run(plan->ctx, plan->drilled, &plan->paint.typical,
        plan->fill[0].up, NULL, 0, &options, &course);
    if (!status)
        status = vug_course_at_volume(plan->ctx, course, 0.5 * plan->fill[0].inject_mm3, moment);
    vug_course_free(course);
    return status;
}

int plan_backlit(const tool *program, const fill_plan *plan, const char *base)
{
    static const char *const ending[3] = {"-empty.png", "-half.png", "-full.png"};
    vug_backlit look;
    vug_moment *moment = NULL;
    unsigned char *pixels = malloc(4 * (size_t)WIDTH * MOST);
    double front[3];
    if (!pixels)
        return fail(program, "no memory");
    held_front(plan->fill[0].up, front);
    held_view view = held_look(plan, plan->fill[0].up, front);
    vug_backlit_init(&look, sizeof look);
    memcpy(look.up, view.up, sizeof look.up);
    memcpy(look.toward, view.toward, sizeof look.toward);
    int height = (int)fmax(LEAST, fmin(MOST, ceil(WIDTH * view.tall / view.wide)));
    int code = DONE;
    for (int i = 0; i < 3 && code == DONE; i++) {
        look.filled = i == 2;
        vug_status status = i == 1 ? half(plan, &moment) : VUG_OK;
        if (!status)
            status = vug_backlit_render(plan->ctx, plan->mesh, plan->drilled,
                i == 1 ? moment : NULL, &look, WIDTH, (uint32_t)height, pixels, 0);
        code = status ? fail_status(program, plan->ctx, status)
                      : write_png(program, base, ending[i], pixels, height);
    }
    vug_moment_free(moment);
    free(pixels);
    return code;
}
