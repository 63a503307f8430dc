/* SPDX-License-Identifier: MIT */
#include "vug.h"

#include <string.h>

static const struct {
    const char *name;
    const char *text;
} statuses[VUG_STATUS_COUNT] = {
    [VUG_OK] = {"VUG_OK", "success"},
    [VUG_ERR_ARGUMENT] = {"VUG_ERR_ARGUMENT", "an argument is not acceptable"},
    [VUG_ERR_MEMORY] = {"VUG_ERR_MEMORY", "out of memory"},
    [VUG_ERR_CANCELLED] = {"VUG_ERR_CANCELLED", "cancelled"},
    [VUG_ERR_IO] = {"VUG_ERR_IO", "a file cannot be opened, read or written"},
    [VUG_ERR_FORMAT] = {"VUG_ERR_FORMAT", "the content of a file is malformed"},
    [VUG_ERR_UNSUPPORTED] = {"VUG_ERR_UNSUPPORTED",
        "not supported by this build or for this format"},
    [VUG_ERR_MESH] = {"VUG_ERR_MESH", "the mesh is not fit for this"},
    [VUG_ERR_LIMIT] = {"VUG_ERR_LIMIT", "larger than the limit"},
    [VUG_ERR_DOMAIN] = {"VUG_ERR_DOMAIN", "a number lies outside the range of the formula"},
    [VUG_ERR_NOT_FOUND] = {"VUG_ERR_NOT_FOUND", "not found"},
    [VUG_ERR_CONVERGENCE] = {"VUG_ERR_CONVERGENCE", "an iteration did not converge"},
    [VUG_ERR_INTERNAL] = {"VUG_ERR_INTERNAL", "a defect of the library; please report it"},
};

const char *vug_status_string(vug_status status)
{
    return status >= 0 && status < VUG_STATUS_COUNT ? statuses[status].text : "unknown status";
}

const char *vug_status_name(vug_status status)
{
    return status >= 0 && status < VUG_STATUS_COUNT ? statuses[status].name : "VUG_ERR_UNKNOWN";
}
