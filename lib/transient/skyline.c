/* SPDX-License-Identifier: MIT
 * Gauss's elimination on rows from their first entry to the diagonal (Jennings 1966, Computer J. 9:281), and columns alike:
 * what lies before the first entry stays nothing. */
#include "transient/skyline.h"

#include <math.h>
#include <string.h>

bool vugi_skyline_rows(const vugi_allocator *mem, vugi_skyline *m, size_t rows)
{
    size_t room = m->row_room;
    m->rows = rows;
    if (!vugi_reserve(mem, &m->first, &room, rows, sizeof *m->first)
        || !vugi_reserve(mem, &m->start, &m->row_room, rows, sizeof *m->start))
        return false;
    for (size_t i = 0; i < rows; i++)
        m->first[i] = (uint32_t)i;
    return true;
}

bool vugi_skyline_values(const vugi_allocator *mem, vugi_skyline *m)
{
    size_t count = 0;
    for (size_t i = 0; i < m->rows; i++) {
        m->start[i] = count;
        count += 2 * (i - m->first[i] + 1);
    }
    if (!vugi_reserve(mem, &m->value, &m->value_room, count, sizeof *m->value))
        return false;
    memset(m->value, 0, count * sizeof *m->value);
    return true;
}

void vugi_skyline_free(const vugi_allocator *mem, vugi_skyline *m)
{
    vugi_free(mem, m->first);
    vugi_free(mem, m->start);
    vugi_free(mem, m->value);
    *m = (vugi_skyline){.rows = 0};
}

static double product(const double *a, const double *b, size_t count)
{
    double sum = 0.0;
    for (size_t k = 0; k < count; k++)
        sum += a[k] * b[k];
    return sum;
}

void vugi_skyline_solve(vugi_skyline *m, double *x)
{
    for (size_t i = 0; i < m->rows; i++) {
        double *row = vugi_skyline_row(m, i), *column = vugi_skyline_column(m, i);
        size_t first = m->first[i];
        for (size_t j = first; j < i; j++) {
            size_t own = m->first[j], from = own > first ? own : first, count = j - from;
            column[j - first] -= product(vugi_skyline_row(m, j) + (from - own),
                column + (from - first), count);
            row[j - first] -= product(vugi_skyline_column(m, j) + (from - own),
                row + (from - first), count);
            row[j - first] /= vugi_skyline_row(m, j)[j - own];
        }
        row[i - first] = fmax(1e-300, row[i - first] - product(row, column, i - first));
        x[i] -= product(row, x + first, i - first);
    }
    for (size_t i = m->rows; i-- > 0;) {
        const double *column = vugi_skyline_column(m, i);
        x[i] /= vugi_skyline_row(m, i)[i - m->first[i]];
        for (size_t j = m->first[i]; j < i; j++)
            x[j] -= column[j - m->first[i]] * x[i];
    }
}
