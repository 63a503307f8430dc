/* SPDX-License-Identifier: MIT
 * One conversion after the other, each by the C library; what stands in a finite number and is no
 * digit, sign, exponent or padding is the locale's point, and becomes a point. So no locale has to be
 * asked or set: either would be the whole process's. */
#define __USE_MINGW_ANSI_STDIO \
    1 /* on Windows, whose own snprintf() writes exponents of three digits */

#include "base/format.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

typedef struct writer {
    char *text;
    size_t size, length;
} writer;

/* Flags, width and precision, and room for a length and a conversion. */
typedef struct conversion {
    char spec[48];
    size_t length;
    int precision; /* -1: none */
    char size;     /* 'h' for hh and h, 'l', 'L' for ll, 'z', 'j', 't', 0 */
} conversion;

enum { LONGEST_NUMBER = 512 }; /* %f of the largest double has 309 digits before the point */

static void put(writer *w, const char *text, size_t count)
{
    for (size_t i = 0; i < count; i++, w->length++)
        if (w->length + 1 < w->size)
            w->text[w->length] = text[i];
}

static void add(conversion *c, char letter)
{
    if (c->length + 1 < sizeof c->spec)
        c->spec[c->length++] = letter;
}

/* The digits at *at, 0 if there are none. */
static int read_digits(const char **at, conversion *c)
{
    int number = 0;
    for (; **at >= '0' && **at <= '9'; ++*at) {
        number = number < 1000 ? 10 * number + (**at - '0') : number;
        add(c, **at);
    }
    return number;
}

/* All of a conversion but its letter, at which *at then stands. */
static conversion read_conversion(const char **at)
{
    conversion c = {.spec = "%", .length = 1, .precision = -1};
    for (; **at && strchr("-+ #0", **at); ++*at)
        add(&c, **at);
    read_digits(at, &c);
    if (**at == '.') {
        add(&c, '.');
        ++*at;
        c.precision = read_digits(at, &c);
    }
    for (; **at && strchr("hlzjt", **at); ++*at)
        c.size = c.size == 'l' && **at == 'l' ? 'L' : **at;
    return c;
}

static intmax_t signed_of(char size, va_list *args)
{
    switch (size) {
    case 'l':
        return va_arg(*args, long);
    case 'L':
        return va_arg(*args, long long);
    case 'z':
    case 't':
        return va_arg(*args, ptrdiff_t);
    case 'j':
        return va_arg(*args, intmax_t);
    default:
        return va_arg(*args, int);
    }
}

static uintmax_t unsigned_of(char size, va_list *args)
{
    switch (size) {
    case 'l':
        return va_arg(*args, unsigned long);
    case 'L':
        return va_arg(*args, unsigned long long);
    case 'z':
    case 't':
        return va_arg(*args, size_t);
    case 'j':
        return va_arg(*args, uintmax_t);
    default:
        return va_arg(*args, unsigned);
    }
}

/* The point is one run of bytes: some locales have one of several bytes. */
static void put_real(writer *w, const char *number, double value)
{
    if (!isfinite(value)) {
        put(w, number, strlen(number));
        return;
    }
    while (*number) {
        size_t plain = strspn(number, "0123456789+-eE ");
        put(w, number, plain);
        number += plain;
        size_t point = strcspn(number, "0123456789+-eE ");
        put(w, ".", point > 0);
        number += point;
    }
}

static void put_text(writer *w, const conversion *c, const char *text)
{
    size_t length = 0;
    text = text ? text : "(null)";
    while ((c->precision < 0 || length < (size_t)c->precision) && text[length])
        length++;
    put(w, text, length);
}

#if defined(__GNUC__)
#pragma GCC diagnostic ignored "-Wformat-nonliteral" /* the formats are put together here */
#endif

static void convert(writer *w, conversion *c, char letter, va_list *args)
{
    char number[LONGEST_NUMBER] = "";
    if (letter == 's') {
        put_text(w, c, va_arg(*args, const char *));
        return;
    }
    if (strchr("fFeEgG", letter)) {
        double value = va_arg(*args, double);
        add(c, letter);
        snprintf(number, sizeof number, c->spec, value);
        put_real(w, number, value);
        return;
    }
    if (letter == 'c') {
        number[0] = (char)va_arg(*args, int);
    } else if (letter == 'p') {
        snprintf(number, sizeof number, "%p", va_arg(*args, void *));
    } else {
        add(c, 'j');
        add(c, letter);
        if (letter == 'd' || letter == 'i')
            snprintf(number, sizeof number, c->spec, signed_of(c->size, args));
        else
            snprintf(number, sizeof number, c->spec, unsigned_of(c->size, args));
    }
    put(w, number, strlen(number));
}

size_t vugi_vprint(char *text, size_t size, const char *format, va_list given)
{
    writer w = {text, size, 0};
    va_list args;
    va_copy(args, given);
    for (const char *at = format; *at; at++) {
        if (*at != '%' || at[1] == '%') {
            put(&w, at, 1);
            at += *at == '%';
            continue;
        }
        at++;
        conversion c = read_conversion(&at);
        if (!*at)
            break;
        convert(&w, &c, *at, &args);
    }
    va_end(args);
    if (size > 0)
        text[w.length < size ? w.length : size - 1] = '\0';
    return w.length;
}

size_t vugi_print(char *text, size_t size, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    size_t length = vugi_vprint(text, size, format, args);
    va_end(args);
    return length;
}
