/* SPDX-License-Identifier: MIT */
#include "mesh/zip_memory.h"

static voidpf take(voidpf user, uInt count, uInt size)
{
    return vugi_alloc(user, count, size);
}

static void give(voidpf user, voidpf ptr)
{
    vugi_free(user, ptr);
}

z_stream vugi_zip_stream(vugi_allocator *mem)
{
    return (z_stream){.zalloc = take, .zfree = give, .opaque = mem};
}
