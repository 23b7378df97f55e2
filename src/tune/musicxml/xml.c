#include "tune/musicxml/xml.h"

#include "base/messages.h"
#include "tune/melody/build.h"
#include "tune/musicxml/xml_look.h"

#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <libxml/xmlerror.h>

#include <string.h>

/* libxml2's own switches leave gaps, so the parser's events are watched. */
struct watch {
    size_t nodes;
    unsigned problem; /* a message number, 0 while all is well */
    bool is_deep;
    int line;
};

static void stop(xmlParserCtxt *parser, unsigned problem)
{
    struct watch *const watch = parser->_private;
    if (watch->problem == 0) {
        watch->problem = problem;
        watch->line = parser->input == NULL ? 0 : parser->input->line;
    }
    xmlStopParser(parser);
}

/* NOLINTNEXTLINE(readability-function-size): libxml2 says what it takes. */
static void start_element(void *user, const xmlChar *name,
                          const xmlChar *prefix, const xmlChar *uri,
                          int n_namespaces, const xmlChar **namespaces,
                          int n_attributes, int n_defaulted,
                          const xmlChar **attributes)
{
    xmlParserCtxt *const parser = user;
    struct watch *const watch = parser->_private;
    watch->nodes += 1 + (size_t)n_attributes + (size_t)n_namespaces;
    if (watch->nodes > HBK_XML_NODES_MAX ||
        parser->nodeNr >= HBK_XML_DEPTH_MAX) {
        watch->is_deep = parser->nodeNr >= HBK_XML_DEPTH_MAX;
        stop(parser, HBK_H_XML_LARGE);
        return;
    }
    xmlSAX2StartElementNs(user, name, prefix, uri, n_namespaces, namespaces,
                          n_attributes, n_defaulted, attributes);
}

/* False once there are too many nodes of other kinds. */
static bool count_node(xmlParserCtxt *parser)
{
    struct watch *const watch = parser->_private;
    watch->nodes++;
    if (watch->nodes > HBK_XML_NODES_MAX) {
        stop(parser, HBK_H_XML_LARGE);
        return false;
    }
    return true;
}

static void add_comment(void *user, const xmlChar *text)
{
    if (count_node(user)) {
        xmlSAX2Comment(user, text);
    }
}

static void add_instruction(void *user, const xmlChar *target,
                            const xmlChar *data)
{
    if (count_node(user)) {
        xmlSAX2ProcessingInstruction(user, target, data);
    }
}

static void add_cdata(void *user, const xmlChar *text, int length)
{
    if (count_node(user)) {
        xmlSAX2CDataBlock(user, text, length);
    }
}

static void declare_entity(void *user, const xmlChar *name, int type,
                           const xmlChar *public_id, const xmlChar *system_id,
                           xmlChar *content)
{
    (void)name;
    (void)type;
    (void)public_id;
    (void)system_id;
    (void)content;
    stop(user, HBK_H_XML_ENTITY);
}

static xmlEntity *get_entity(void *user, const xmlChar *name)
{
    xmlEntity *const standard = xmlGetPredefinedEntity(name);
    if (standard == NULL) {
        stop(user, HBK_H_XML_ENTITY);
    }
    return standard;
}

static xmlParserInput *load_nothing(const char *url, const char *id,
                                    xmlParserCtxt *parser)
{
    (void)url;
    (void)id;
    (void)parser;
    return NULL;
}

static void tell(const char *file, xmlParserCtxt *parser,
                 const struct watch *watch, struct hbk_faults *faults)
{
    struct hbk_place place = {
        .file = file, .line = watch->line > 0 ? (unsigned)watch->line : 0};
    if (watch->problem == HBK_H_XML_ENTITY) {
        hbk_fault_add(faults, place, HBK_H_XML_ENTITY,
                      "an entity is declared or used; write the character "
                      "itself");
    } else if (watch->problem == HBK_H_XML_LARGE && watch->is_deep) {
        hbk_fault_add(faults, place, HBK_H_XML_LARGE,
                      "elements are nested more than %d deep; music never is",
                      HBK_XML_DEPTH_MAX);
    } else if (watch->problem == HBK_H_XML_LARGE) {
        hbk_fault_add(faults, place, HBK_H_XML_LARGE,
                      "there are more than %d elements and attributes; save "
                      "the one part that is wanted",
                      HBK_XML_NODES_MAX);
    } else {
        const xmlError *const error = xmlCtxtGetLastError(parser);
        char text[160] = "it is empty";
        if (error != NULL && error->message != NULL) {
            place.line = error->line > 0 ? (unsigned)error->line : 0;
            place.column = error->int2 > 0 ? (unsigned)error->int2 : 0;
            size_t n = strcspn(error->message, "\n");
            n = n < sizeof(text) - 1 ? n : sizeof(text) - 1;
            memcpy(text, error->message, n);
            text[n] = '\0';
        }
        for (char *c = text; *c != '\0'; c++) {
            *c = *c < 0x20 || *c == 0x7F ? '?' : *c;
        }
        hbk_fault_add(faults, place, HBK_H_XML_SYNTAX,
                      "this is not well-formed XML: %s", text);
    }
}

static bool looks_good(const char *file, const char *bytes, size_t length,
                       struct hbk_faults *faults)
{
    struct hbk_place place = {.file = file};
    switch (hbk_xml_look_over(bytes, length, &place.line)) {
    case HBK_XML_LOOKS_GOOD:
        return true;
    case HBK_XML_DECLARES:
        hbk_fault_add(faults, place, HBK_H_XML_ENTITY,
                      "an entity, element or the like is declared; music "
                      "files need no declarations of their own");
        return false;
    case HBK_XML_CROWDED:
        hbk_fault_add(faults, place, HBK_H_XML_LARGE,
                      "an element has more than %d attributes",
                      HBK_XML_ATTRIBUTES_MAX);
        return false;
    case HBK_XML_ENCODING:
        hbk_fault_add(faults, place, HBK_H_XML_SYNTAX,
                      "this encoding is not read; save the file as UTF-8");
        return false;
    case HBK_XML_NOT_TEXT:
        hbk_fault_add(faults, place, HBK_H_XML_SYNTAX,
                      "this is not well-formed XML: it has NUL characters");
        return false;
    }
    return false;
}

xmlDoc *hbk_xml_parse(const char *file, const char *bytes, size_t length,
                      struct hbk_faults *faults)
{
    if (length > HBK_XML_BYTES_MAX) {
        hbk_fault_add(faults, (struct hbk_place){.file = file}, HBK_H_XML_LARGE,
                      "more than %d MiB; save the one part that is wanted",
                      HBK_XML_BYTES_MAX / (1024 * 1024));
        return NULL;
    }
    if (!looks_good(file, bytes, length, faults)) {
        return NULL;
    }
    xmlParserCtxt *const parser = xmlNewParserCtxt();
    if (parser == NULL) {
        hbk_fault_add(faults, (struct hbk_place){.file = file}, HBK_H_XML_LARGE,
                      "no memory is left to read it");
        return NULL;
    }
    struct watch watch = {.nodes = 0};
    parser->_private = &watch;
    parser->sax->startElementNs = start_element;
    parser->sax->comment = add_comment;
    parser->sax->processingInstruction = add_instruction;
    parser->sax->cdataBlock = add_cdata;
    parser->sax->entityDecl = declare_entity;
    parser->sax->getEntity = get_entity;
    const xmlExternalEntityLoader loader = xmlGetExternalEntityLoader();
    xmlSetExternalEntityLoader(load_nothing);
    xmlDoc *document =
        xmlCtxtReadMemory(parser, bytes, (int)length, NULL, NULL,
                          XML_PARSE_NONET | XML_PARSE_BIG_LINES |
                              XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    xmlSetExternalEntityLoader(loader);
    /* A parser that was stopped may still call the document well-formed. */
    if (document == NULL || watch.problem != 0 || !parser->wellFormed) {
        tell(file, parser, &watch, faults);
        xmlFreeDoc(document);
        document = NULL;
    }
    xmlFreeParserCtxt(parser);
    return document;
}

bool hbk_xml_is(const xmlNode *node, const char *name)
{
    return node != NULL && node->type == XML_ELEMENT_NODE &&
           strcmp((const char *)node->name, name) == 0;
}

static xmlNode *first_of(xmlNode *node, const char *name)
{
    while (node != NULL && !hbk_xml_is(node, name)) {
        node = node->next;
    }
    return node;
}

xmlNode *hbk_xml_child(const xmlNode *node, const char *name)
{
    return node == NULL ? NULL : first_of(node->children, name);
}

xmlNode *hbk_xml_next(const xmlNode *node, const char *name)
{
    return node == NULL ? NULL : first_of(node->next, name);
}

xmlNode *hbk_xml_following(const xmlNode *node, const xmlNode *root)
{
    if (node->type == XML_ELEMENT_NODE && node->children != NULL) {
        return node->children;
    }
    while (node != root && node->next == NULL) {
        node = node->parent;
    }
    return node == root ? NULL : node->next;
}

static bool is_text(const xmlNode *node)
{
    return (node->type == XML_TEXT_NODE ||
            node->type == XML_CDATA_SECTION_NODE) &&
           node->content != NULL;
}

static const char *join_text(struct hbk_arena *arena, const xmlNode *first)
{
    size_t length = 0;
    for (const xmlNode *node = first; node != NULL; node = node->next) {
        length += is_text(node) ? strlen((const char *)node->content) : 0;
    }
    if (length == 0) {
        return "";
    }
    char *const text = hbk_arena_zalloc(arena, length + 1, 1);
    size_t n = 0;
    for (const xmlNode *node = first; node != NULL; node = node->next) {
        if (is_text(node)) {
            const size_t part = strlen((const char *)node->content);
            memcpy(text + n, node->content, part);
            n += part;
        }
    }
    while (n > 0 && strchr(" \t\r\n", text[n - 1]) != NULL) {
        text[--n] = '\0';
    }
    return text + strspn(text, " \t\r\n");
}

const char *hbk_xml_text(struct hbk_arena *arena, const xmlNode *node)
{
    return node == NULL ? "" : join_text(arena, node->children);
}

static const xmlAttr *attribute(const xmlNode *node, const char *name)
{
    const xmlAttr *at = node == NULL ? NULL : node->properties;
    while (at != NULL && strcmp((const char *)at->name, name) != 0) {
        at = at->next;
    }
    return at;
}

bool hbk_xml_has(const xmlNode *node, const char *name)
{
    return attribute(node, name) != NULL;
}

const char *hbk_xml_attribute(struct hbk_arena *arena, const xmlNode *node,
                              const char *name)
{
    const xmlAttr *const at = attribute(node, name);
    return at == NULL ? NULL : join_text(arena, at->children);
}

bool hbk_xml_says(const xmlNode *node, const char *name, const char *value)
{
    const xmlAttr *const at = attribute(node, name);
    return at != NULL && at->children != NULL && at->children->next == NULL &&
           at->children->content != NULL &&
           strcmp((const char *)at->children->content, value) == 0;
}

struct hbk_place hbk_xml_place(const char *file, const xmlNode *node)
{
    const long line = node == NULL ? 0 : xmlGetLineNo(node);
    return (struct hbk_place){.file = file,
                              .line = line > 0 ? (unsigned)line : 0};
}
