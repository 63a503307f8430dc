/* SPDX-License-Identifier: MIT
 * What systems do with files, each in its own way. A path is UTF-8 on Windows, and what the caller gives elsewhere. */
#ifndef VUGI_MESH_SYSTEM_H
#define VUGI_MESH_SYSTEM_H

#include <stdbool.h>
#include <stdio.h>

/* To read a file; to write one; to write one that must not be there yet. NULL: errno tells why. */
FILE *vugi_system_read(const char *path);
FILE *vugi_system_write(const char *path);
FILE *vugi_system_create(const char *path);

/* Gives a file another name; what has that name now is replaced. false: errno tells why. */
bool vugi_system_rename(const char *from, const char *to);
void vugi_system_remove(const char *path);

/* Is there something of this name that is neither a file nor a folder: a device, a pipe? */
bool vugi_system_device(const char *path);

#endif
