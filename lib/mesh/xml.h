/* SPDX-License-Identifier: MIT
 * XML out of an archive, by expat: what begins and what ends, to the caller. */
#ifndef VUGI_MESH_XML_H
#define VUGI_MESH_XML_H

#include "mesh/zip.h"

/* name: namespace, a line feed, name. attributes: names and values in turn, then NULL; those of a
 * namespace have it before the name as name has. Anything but VUG_OK ends the reading. */
typedef struct vugi_xml_calls {
    vug_status (*begin)(void *user, const char *name, const char *const *attributes, size_t line);
    vug_status (*end)(void *user);
    void (*prefix)(void *user, const char *prefix, const char *space); /* or NULL */
    void *user;
} vugi_xml_calls;

/* Reads the entry at path. A document type is refused, as the formats do that are read here. Progress:
 * from lo to hi of the current range. */
vug_status vugi_xml_read(const vugi_zip *zip, const char *path, const vugi_xml_calls *calls,
    double lo, double hi);

/* Value of an attribute; NULL: there is none. */
const char *vugi_xml_attribute(const char *const *attributes, const char *name);

#endif
