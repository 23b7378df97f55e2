#ifndef HBK_TUNE_MUSICXML_XML_H
#define HBK_TUNE_MUSICXML_XML_H

#include "base/arena.h"
#include "base/fault.h"

#include <libxml/tree.h>

enum {
    HBK_XML_BYTES_MAX = 16 * 1024 * 1024,
    HBK_XML_NODES_MAX =
        500000, /* elements and attributes: some 180 MB, text and all */
    HBK_XML_DEPTH_MAX = 100
};

/*
 * Parses a whole XML document without opening anything else: no network, no
 * other file, no entities but the five of XML itself, and no more elements,
 * attributes or depth than music needs.
 *
 * file   named in messages; borrowed
 *
 * Returns the document, to be freed with xmlFreeDoc(), or NULL with the
 * reason added to `faults`.
 */
xmlDoc *hbk_xml_parse(const char *file, const char *bytes, size_t length,
                      struct hbk_faults *faults);

/* Whether a node is an element of this name. */
bool hbk_xml_is(const xmlNode *node, const char *name);
/* The first child element of this name, or NULL; `node` may be NULL. */
xmlNode *hbk_xml_child(const xmlNode *node, const char *name);
/* The next sibling element of this name, or NULL. */
xmlNode *hbk_xml_next(const xmlNode *node, const char *name);
/* The next node of the tree under `root`, in the order of the file; or NULL. */
xmlNode *hbk_xml_following(const xmlNode *node, const xmlNode *root);
/* The text in an element without spaces around it; "" for none or NULL. */
const char *hbk_xml_text(struct hbk_arena *arena, const xmlNode *node);
/* An attribute, or NULL; `node` may be NULL. */
const char *hbk_xml_attribute(struct hbk_arena *arena, const xmlNode *node,
                              const char *name);
bool hbk_xml_has(const xmlNode *node, const char *name);
/* Whether the attribute is there and has this value. */
bool hbk_xml_says(const xmlNode *node, const char *name, const char *value);

struct hbk_place hbk_xml_place(const char *file, const xmlNode *node);

#endif
