/* SPDX-License-Identifier: MIT
 * Archives read from memory (ZIP, PKWARE's APPNOTE 6.3.3): the list of what is in one, and one thing
 * at a time in pieces, so that what unpacks to gigabytes takes no memory. */
#ifndef VUGI_MESH_ZIP_H
#define VUGI_MESH_ZIP_H

#include "base/base.h"

typedef struct vugi_zip {
    vug_context *ctx;
    const char *name; /* of the file, for messages */
    const unsigned char *data;
    size_t size;
    size_t list, count; /* where the list of entries begins, and how many there are */
} vugi_zip;

typedef struct vugi_zip_entry {
    uint32_t method, crc;
    uint64_t packed, unpacked;
    uint64_t begin; /* of what is packed */
} vugi_zip_entry;

/* Takes the next piece of what is unpacked; anything but VUG_OK ends the reading. last: nothing
 * follows. */
typedef vug_status (*vugi_zip_sink)(void *user, const unsigned char *data, size_t size, bool last);

/* Finds the list in data[0..size), which must stay. */
vug_status vugi_zip_open(vugi_zip *zip, vug_context *ctx, const char *name,
    const unsigned char *data, size_t size);

/* Is there an entry of that path, in upper or lower case, without a leading slash? */
bool vugi_zip_find(const vugi_zip *zip, const char *path, vugi_zip_entry *entry);

/* Unpacks an entry into sink; checks its length and check sum. path: for messages. Reports progress, from
 * lo to hi of the current range. */
vug_status vugi_zip_read(const vugi_zip *zip, const char *path, const vugi_zip_entry *entry,
    vugi_zip_sink sink, void *user, double lo, double hi);

#endif
