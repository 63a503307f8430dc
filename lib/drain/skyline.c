/* SPDX-License-Identifier: MIT
 * Cholesky on rows from their first entry to the diagonal (Jennings 1966, Computer J. 9:281): what lies before the
 * first entry of a row stays nothing. */
#include "drain/skyline.h"

#include <assert.h>
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
        count += i - m->first[i] + 1;
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

double *vugi_skyline_at(const vugi_skyline *m, size_t row, size_t column)
{
    assert(row < m->rows && column <= row && column >= m->first[row]);
    return m->value + m->start[row] + (column - m->first[row]);
}

void vugi_skyline_solve(vugi_skyline *m, double *x)
{
    for (size_t i = 0; i < m->rows; i++) {
        double *row = m->value + m->start[i];
        size_t first = m->first[i];
        double left = row[i - first], sum = x[i];
        for (size_t j = first; j < i; j++) {
            const double *other = m->value + m->start[j];
            size_t from = m->first[j] > first ? m->first[j] : first;
            double at = row[j - first];
            for (size_t k = from; k < j; k++)
                at -= row[k - first] * other[k - m->first[j]];
            at /= other[j - m->first[j]];
            row[j - first] = at;
            left -= at * at;
            sum -= at * x[j];
        }
        row[i - first] = sqrt(fmax(left, 1e-300));
        x[i] = sum / row[i - first];
    }
    for (size_t i = m->rows; i-- > 0;) {
        const double *row = m->value + m->start[i];
        x[i] /= row[i - m->first[i]];
        for (size_t j = m->first[i]; j < i; j++)
            x[j] -= row[j - m->first[i]] * x[i];
    }
}
