/* SPDX-License-Identifier: MIT
 * Options and results that grow: the caller's struct may be older (shorter) or newer
 * (longer) than ours. Its first member, struct_size, says how long it is. */
#include "base/structs.h"

#include "base/message.h"

#include "vug.h"

#include <assert.h>
#include <string.h>

static uint32_t given_size(const void *given)
{
    uint32_t size;
    memcpy(&size, given, sizeof size);
    return size;
}

vug_status vugi_struct_init(void *given, size_t size, const void *defaults, size_t full)
{
    assert(full >= sizeof(size_t));
    if (!given || size < sizeof(uint32_t) || size > UINT32_MAX)
        return VUG_ERR_ARGUMENT;
    memset(given, 0, size);
    memcpy(given, defaults, size < full ? size : full);
    uint32_t own = (uint32_t)size;
    memcpy(given, &own, sizeof own);
    return VUG_OK;
}

vug_status vugi_struct_read(vug_context *ctx, void *own, size_t full, const void *given,
    const char *name)
{
    if (!given)
        return VUG_OK;
    size_t size = given_size(given);
    if (size < sizeof(uint32_t))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: struct_size is %zu; call %s_init first", name,
            size, name);
    for (size_t i = full; i < size; i++)
        if (((const unsigned char *)given)[i] != 0)
            return vugi_fail(ctx, VUG_ERR_UNSUPPORTED,
                "%s: byte %zu is set, but this library knows only %zu bytes; use a newer library",
                name, i, full);
    memcpy(own, given, size < full ? size : full);
    uint32_t own_size = (uint32_t)full;
    memcpy(own, &own_size, sizeof own_size);
    return VUG_OK;
}

vug_status vugi_struct_check(vug_context *ctx, const void *given, const char *name)
{
    if (!given)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL", name);
    uint32_t size = given_size(given);
    if (size < sizeof size)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s: struct_size is %u; set it to sizeof(%s)", name,
            (unsigned)size, name);
    return VUG_OK;
}

vug_status vugi_struct_write(vug_context *ctx, void *given, const void *own, size_t full,
    const char *name)
{
    vug_status status = vugi_struct_check(ctx, given, name);
    if (status)
        return status;
    uint32_t size = given_size(given);
    memcpy(given, own, size < full ? size : full);
    memcpy(given, &size, sizeof size);
    return VUG_OK;
}
