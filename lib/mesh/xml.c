/* SPDX-License-Identifier: MIT */
#include "mesh/xml.h"

#include <expat.h>
#include <string.h>

typedef struct reading {
    const vugi_zip *zip;
    const char *path;
    const vugi_xml_calls *calls;
    XML_Parser parser;
    vug_status status; /* the first that was not VUG_OK */
} reading;

static void stop(reading *r, vug_status status)
{
    r->status = status;
    XML_StopParser(r->parser, XML_FALSE);
}

static void XMLCALL on_begin(void *user, const XML_Char *name, const XML_Char **attributes)
{
    reading *r = user;
    if (r->status)
        return; /* a stopped parser still ends what it is at */
    vug_status status = r->calls->begin(r->calls->user, name, (const char *const *)attributes,
        XML_GetCurrentLineNumber(r->parser));
    if (status)
        stop(r, status);
}

static void XMLCALL on_end(void *user, const XML_Char *name)
{
    reading *r = user;
    (void)name;
    vug_status status = r->status ? VUG_OK : r->calls->end(r->calls->user);
    if (status)
        stop(r, status);
}

static void XMLCALL on_prefix(void *user, const XML_Char *prefix, const XML_Char *space)
{
    reading *r = user;
    if (r->calls->prefix && prefix && space)
        r->calls->prefix(r->calls->user, prefix, space);
}

static void XMLCALL on_type(void *user, const XML_Char *name, const XML_Char *system,
    const XML_Char *public, int has_subset)
{
    reading *r = user;
    (void)name, (void)system, (void)public, (void)has_subset;
    stop(r,
        vugi_fail(r->zip->ctx, VUG_ERR_FORMAT, "%s: %s, line %lu: a document type is not allowed",
            r->zip->name, r->path, (unsigned long)XML_GetCurrentLineNumber(r->parser)));
}

static vug_status feed(void *user, const unsigned char *data, size_t size, bool last)
{
    reading *r = user;
    if (XML_Parse(r->parser, (const char *)data, (int)size, last) == XML_STATUS_OK)
        return r->status;
    enum XML_Error error = XML_GetErrorCode(r->parser);
    if (r->status)
        return r->status;
    if (error == XML_ERROR_NO_MEMORY)
        return vugi_fail_memory(r->zip->ctx);
    return vugi_fail(r->zip->ctx, VUG_ERR_FORMAT, "%s: %s, line %lu: %s", r->zip->name, r->path,
        (unsigned long)XML_GetCurrentLineNumber(r->parser), XML_ErrorString(error));
}

vug_status vugi_xml_read(const vugi_zip *zip, const char *path, const vugi_xml_calls *calls,
    double lo, double hi)
{
    vugi_zip_entry entry;
    if (!vugi_zip_find(zip, path, &entry))
        return vugi_fail(zip->ctx, VUG_ERR_FORMAT, "%s: there is no %s in it", zip->name, path);
    reading r = {.zip = zip,
        .path = path,
        .calls = calls,
        .parser = XML_ParserCreateNS(NULL, '\n')};
    if (!r.parser)
        return vugi_fail_memory(zip->ctx);
    XML_SetUserData(r.parser, &r);
    XML_SetElementHandler(r.parser, on_begin, on_end);
    XML_SetStartNamespaceDeclHandler(r.parser, on_prefix);
    XML_SetStartDoctypeDeclHandler(r.parser, on_type);
    vug_status status = vugi_zip_read(zip, path, &entry, feed, &r, lo, hi);
    XML_ParserFree(r.parser);
    return status;
}

const char *vugi_xml_attribute(const char *const *attributes, const char *name)
{
    for (; *attributes; attributes += 2)
        if (strcmp(attributes[0], name) == 0)
            return attributes[1];
    return NULL;
}
