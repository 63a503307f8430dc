/* SPDX-License-Identifier: MIT
 * Text with numbers in it that reads the same in every locale. */
#ifndef VUGI_BASE_FORMAT_H
#define VUGI_BASE_FORMAT_H

#include <stdarg.h>
#include <stddef.h>

#if defined(__MINGW32__) && !defined(__clang__)
#define VUGI_PRINTF(at, first) \
    __attribute__((format(gnu_printf, at, first))) /* C's, not Windows' own */
#elif defined(__GNUC__)
#define VUGI_PRINTF(at, first) __attribute__((format(printf, at, first)))
#else
#define VUGI_PRINTF(at, first)
#endif

/* As snprintf() and vsnprintf(), with a point in numbers whatever the locale of the process says, for
 * d i u x c s p f e g and %; without n, * and the width of s. Returns the length that the text has or would have. */
size_t vugi_print(char *text, size_t size, const char *format, ...) VUGI_PRINTF(3, 4);
size_t vugi_vprint(char *text, size_t size, const char *format, va_list args) VUGI_PRINTF(3, 0);

#endif
