/* SPDX-License-Identifier: MIT
 * The XML of a 3MF, read as it is unpacked. */
#ifndef VUGI_MESH_THREEMF_PARSE_H
#define VUGI_MESH_THREEMF_PARSE_H

#include "mesh/threemf_types.h"
#include "mesh/zip.h"

/* The path of the model in an archive, from its relations: (*path) from ctx's allocator. */
vug_status vugi_3mf_find_model(const vugi_zip *zip, char **path);

/* Reads part number part of the model from the archive. Uses may name further parts, which are
 * added to model->part. */
vug_status vugi_3mf_read_part(const vugi_zip *zip, vugi_3mf_model *model, uint32_t part);

#endif
