/* SPDX-License-Identifier: MIT
 * Every named constant of vug.h, for bindings that cannot read it. A test compares
 * this table with the header. */
#include "base/base.h"

#include <string.h>

#define CONSTANT(name) {#name, name}

static const struct {
    const char *name;
    int64_t value;
} constants[] = {
    /* base */
    CONSTANT(VUG_VERSION_MAJOR),
    CONSTANT(VUG_VERSION_MINOR),
    CONSTANT(VUG_VERSION_PATCH),
    CONSTANT(VUG_OK),
    CONSTANT(VUG_ERR_ARGUMENT),
    CONSTANT(VUG_ERR_MEMORY),
    CONSTANT(VUG_ERR_CANCELLED),
    CONSTANT(VUG_ERR_IO),
    CONSTANT(VUG_ERR_FORMAT),
    CONSTANT(VUG_ERR_UNSUPPORTED),
    CONSTANT(VUG_ERR_MESH),
    CONSTANT(VUG_ERR_LIMIT),
    CONSTANT(VUG_ERR_DOMAIN),
    CONSTANT(VUG_ERR_NOT_FOUND),
    CONSTANT(VUG_ERR_CONVERGENCE),
    CONSTANT(VUG_ERR_INTERNAL),
    CONSTANT(VUG_STATUS_COUNT),
    CONSTANT(VUG_MAX_TRIANGLES),
    CONSTANT(VUG_MAX_COORDINATE_MM),
    CONSTANT(VUG_MAX_COLUMNS_ACROSS),
    CONSTANT(VUG_MAX_OPENINGS),
    CONSTANT(VUG_MAX_THREADS),
    /* flow */
    CONSTANT(VUG_DRILLS_STOCK),
    CONSTANT(VUG_DRILLS_TENTHS),
    CONSTANT(VUG_DRILLS_HALVES),
    CONSTANT(VUG_DRILLS_COUNT),
    /* pose */
    CONSTANT(VUG_ROLE_OPEN),
    CONSTANT(VUG_ROLE_INLET),
    CONSTANT(VUG_ROLE_VENT),
    CONSTANT(VUG_ROLE_OUTLET),
    CONSTANT(VUG_ROLE_SEALED),
    /* fill */
    CONSTANT(VUG_EVENT_BASIN),
    CONSTANT(VUG_EVENT_SILL),
    CONSTANT(VUG_EVENT_MERGE),
    CONSTANT(VUG_EVENT_POCKET),
    CONSTANT(VUG_EVENT_SPILL),
    CONSTANT(VUG_EVENT_RIM),
    CONSTANT(VUG_EVENT_FULL),
    CONSTANT(VUG_EVENT_SPLIT),
    CONSTANT(VUG_EVENT_LIP),
    CONSTANT(VUG_END_FULL),
    CONSTANT(VUG_END_CUT_OFF),
    CONSTANT(VUG_END_SUPPLY),
    CONSTANT(VUG_END_SPILL),
    CONSTANT(VUG_END_BLOCKED),
    CONSTANT(VUG_END_DRAINED),
    CONSTANT(VUG_ENTRY_INJECTED),
    CONSTANT(VUG_ENTRY_POURED),
};

size_t vug_constant_count(void)
{
    return sizeof constants / sizeof constants[0];
}

const char *vug_constant_name(size_t index)
{
    return index < vug_constant_count() ? constants[index].name : NULL;
}

vug_status vug_constant_value(const char *name, int64_t *value)
{
    if (!name || !value)
        return VUG_ERR_ARGUMENT;
    for (size_t i = 0; i < vug_constant_count(); i++) {
        if (strcmp(name, constants[i].name) == 0) {
            *value = constants[i].value;
            return VUG_OK;
        }
    }
    return VUG_ERR_NOT_FOUND;
}
