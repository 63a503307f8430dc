/* SPDX-License-Identifier: MIT
 * The part from outside: an orthographic camera, a depth buffer, soft light from the upper left,
 * and dark lines where near parts stand before far ones. */
#include "outside.h"

#include "behind.h"
#include "project.h"

#include <cglm/cglm.h>
#include <math.h>
#include <stdlib.h>

typedef struct canvas {
    int width, height;
    float *depth; /* nearness in mm, -INFINITY where there is nothing */
    float *light;
    unsigned char *kind; /* a skin_kind */
} canvas;

/* From part coordinates to pixels, with nearness as the third. */
static void make_camera(const drawing *picture, double left, double top, double scale, mat4 camera)
{
    vec3 eye, away, up;
    for (int k = 0; k < 3; k++) {
        eye[k] = (float)picture->point_mm[k];
        away[k] = (float)-picture->toward[k];
        up[k] = (float)picture->up[k];
    }
    mat4 view;
    glm_look(eye, away, up, view); /* heights from the cut's point */
    double origin[3];
    picture_project(picture, picture->point_mm, origin);
    glm_mat4_identity(camera);
    glm_scale(camera, (vec3){(float)scale, (float)-scale, 1.0f});
    glm_translate(camera, (vec3){(float)-left, (float)(origin[1] - top), 0.0f});
    glm_mat4_mul(camera, view, camera);
}

static float shade(vec3 normal)
{
    vec3 sun = {-0.45f, -0.65f, 0.62f}; /* in pixels: y runs down */
    float direct = fmaxf(0.0f, glm_vec3_dot(normal, sun));
    float sky = 0.5f - 0.5f * normal[1];
    return fminf(1.0f, 0.42f + 0.42f * direct + 0.22f * sky);
}

static void fill_triangle(canvas *c, vec3 p[3], const float light[3], unsigned char kind)
{
    float area = (p[1][0] - p[0][0]) * (p[2][1] - p[0][1])
        - (p[2][0] - p[0][0]) * (p[1][1] - p[0][1]);
    int x0 = (int)fmaxf(0.0f, floorf(fminf(p[0][0], fminf(p[1][0], p[2][0])) - 0.5f));
    int y0 = (int)fmaxf(0.0f, floorf(fminf(p[0][1], fminf(p[1][1], p[2][1])) - 0.5f));
    int x1 = (int)fminf((float)c->width - 1.0f, fmaxf(p[0][0], fmaxf(p[1][0], p[2][0])));
    int y1 = (int)fminf((float)c->height - 1.0f, fmaxf(p[0][1], fmaxf(p[1][1], p[2][1])));
    for (int y = y0; y <= y1; y++)
        for (int x = x0; x <= x1; x++) {
            float dx = (float)x + 0.5f - p[0][0], dy = (float)y + 0.5f - p[0][1];
            float u = (dx * (p[2][1] - p[0][1]) - dy * (p[2][0] - p[0][0])) / area;
            float v = (dy * (p[1][0] - p[0][0]) - dx * (p[1][1] - p[0][1])) / area;
            if (!(u >= -1e-4f && v >= -1e-4f && u + v <= 1.0002f))
                continue;
            float depth = p[0][2] + u * (p[1][2] - p[0][2]) + v * (p[2][2] - p[0][2]);
            size_t at = (size_t)y * (size_t)c->width + (size_t)x;
            if (depth > c->depth[at]) {
                c->kind[at] = kind;
                c->depth[at] = depth;
                c->light[at] = light[0] + u * (light[1] - light[0]) + v * (light[2] - light[0]);
            }
        }
}

static void place_vertices(const drawing *picture, mat4 camera, vec3 *place)
{
    for (size_t i = 0; i < picture->vertex_count; i++) {
        const double *v = picture->xyz + 3 * i;
        vec4 from = {(float)v[0], (float)v[1], (float)v[2], 1.0f}, to;
        glm_mat4_mulv(camera, from, to);
        glm_vec3_copy(to, place[i]);
    }
}

/* Outward normal of a triangle, as long as twice its area, in pixels with y down. */
static void face_normal(vec3 a, vec3 b, vec3 c, float pixels_per_mm, vec3 normal)
{
    vec3 side[2];
    glm_vec3_sub(b, a, side[0]);
    glm_vec3_sub(c, a, side[1]);
    side[0][2] *= pixels_per_mm;
    side[1][2] *= pixels_per_mm;
    glm_vec3_cross(side[1], side[0], normal); /* y down: the other way about */
}

/* The triangles around each vertex, and their outward normals, as long as twice their areas. */
typedef struct fans {
    uint32_t *first; /* of each vertex, and one more: where its triangles begin */
    uint32_t *triangle;
    vec3 *normal;
} fans;

static void fans_free(fans *f)
{
    free(f->first);
    free(f->triangle);
    free(f->normal);
}

static bool fans_make(const drawing *picture, vec3 *place, float pixels_per_mm, fans *f)
{
    const size_t vertices = picture->vertex_count, triangles = picture->triangle_count;
    const uint32_t *v = picture->triangles;
    *f = (fans){calloc(vertices + 2, sizeof *f->first),
        malloc((3 * triangles + 1) * sizeof *f->triangle),
        malloc((triangles + 1) * sizeof *f->normal)};
    if (!f->first || !f->triangle || !f->normal)
        return false;
    for (size_t t = 0; t < triangles; t++)
        face_normal(place[v[3 * t]], place[v[3 * t + 1]], place[v[3 * t + 2]], pixels_per_mm,
            f->normal[t]);
    /* two places on, so that filling moves each beginning to where it belongs */
    for (size_t k = 0; k < 3 * triangles; k++)
        f->first[v[k] + 2]++;
    for (size_t i = 2; i < vertices + 2; i++)
        f->first[i] += f->first[i - 1];
    for (size_t k = 0; k < 3 * triangles; k++)
        f->triangle[f->first[v[k] + 1]++] = (uint32_t)(k / 3);
    return true;
}

/* Of a surface that bends no more than this from a triangle to the next a corner is round: 30 degrees. */
static const float bends = 0.866f;
/* More triangles around a corner change its light no more. */
enum { MOST_AROUND = 256 };

/* At a corner of a triangle with this unit normal: of the triangles around it that go on from it smoothly. */
static void corner_normal(const fans *f, uint32_t vertex, vec3 face, vec3 soft)
{
    const uint32_t from = f->first[vertex], to = f->first[vertex + 1];
    glm_vec3_zero(soft);
    for (uint32_t i = from; i < to && i - from < MOST_AROUND; i++) {
        float *n = f->normal[f->triangle[i]];
        if (glm_vec3_dot(n, face) > bends * glm_vec3_norm(n))
            glm_vec3_add(soft, n, soft);
    }
    if (glm_vec3_norm(soft) > 0.0f)
        glm_vec3_normalize(soft);
    else
        glm_vec3_copy(face, soft);
}

static void draw_part(const drawing *picture, vec3 *place, const fans *f, canvas *c)
{
    const uint32_t *v = picture->triangles;
    for (size_t t = 0; t < picture->triangle_count; t++, v += 3) {
        vec3 face, p[3];
        float light[3];
        if (!(f->normal[t][2] > 0.0f))
            continue;
        glm_vec3_normalize_to(f->normal[t], face);
        for (int k = 0; k < 3; k++) {
            vec3 soft;
            corner_normal(f, v[k], face, soft);
            light[k] = shade(soft);
            glm_vec3_copy(place[v[k]], p[k]);
        }
        fill_triangle(c, p, light, picture->kind ? picture->kind[t] : SKIN_RESIN);
    }
}

/* 1 on open ground, less just behind something nearer or at the outline. */
static float edge_factor(const canvas *c, int x, int y)
{
    static const int step[4][2] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    float here = c->depth[(size_t)y * (size_t)c->width + (size_t)x];
    for (int i = 0; i < 4; i++) {
        int nx = x + step[i][0], ny = y + step[i][1];
        if (nx < 0 || ny < 0 || nx >= c->width || ny >= c->height)
            continue;
        float there = c->depth[(size_t)ny * (size_t)c->width + (size_t)nx];
        if (fabsf(there - here) > 1.5f)
            return 0.25f;
    }
    return 1.0f;
}

static void put_pixels(const canvas *c, int stride, unsigned char *pixels)
{
    for (int y = 0; y < c->height; y++)
        for (int x = 0; x < c->width; x++) {
            size_t at = (size_t)y * (size_t)c->width + (size_t)x;
            uint32_t pixel = 0;
            if (c->depth[at] > -INFINITY) {
                float light = c->light[at] * edge_factor(c, x, y), color[3];
                behind_color((enum skin_kind)c->kind[at], x, y, color);
                pixel = 0xff000000u;
                for (int k = 0; k < 3; k++)
                    pixel |= (uint32_t)lroundf(color[k] * light) << 8 * k;
            }
            *(uint32_t *)(void *)(pixels + (size_t)y * (size_t)stride + 4 * (size_t)x) = pixel;
        }
}

bool picture_outside(const drawing *picture, double left, double top, double pixels_per_mm,
    int width, int height, int stride, unsigned char *pixels)
{
    size_t total = (size_t)width * (size_t)height;
    canvas c = {width, height, malloc((total + 1) * sizeof *c.depth),
        calloc(total + 1, sizeof *c.light), calloc(total + 1, sizeof *c.kind)};
    vec3 *place = malloc((picture->vertex_count + 1) * sizeof *place);
    fans around = {.first = NULL};
    bool good = c.depth && c.light && c.kind && place;
    if (good) {
        for (size_t i = 0; i < total; i++)
            c.depth[i] = -INFINITY;
        mat4 camera;
        make_camera(picture, left, top, pixels_per_mm, camera);
        place_vertices(picture, camera, place);
        good = fans_make(picture, place, (float)pixels_per_mm, &around);
    }
    if (good) {
        draw_part(picture, place, &around, &c);
        put_pixels(&c, stride, pixels);
    }
    fans_free(&around);
    free(c.depth);
    free(c.light);
    free(c.kind);
    free(place);
    return good;
}
