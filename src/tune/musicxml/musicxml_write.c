#include "tune/musicxml/musicxml.h"

#include "base/messages.h"
#include "tune/melody/source.h"
#include "tune/melody/write.h"
#include "tune/musicxml/score.h"

#include <string.h>

/*
 * Fingerings go into the user's own tree. A processing instruction before
 * each thing that was added says what it is, so that it can be found again:
 * <?hornbook fingering?>, or technical or notations where these were new.
 */

static const char mark[] = "hornbook";

static const xmlChar *text_of(const char *text)
{
    return (const xmlChar *)text;
}

static bool is_mark(const xmlNode *node)
{
    return node != NULL && node->type == XML_PI_NODE &&
           strcmp((const char *)node->name, mark) == 0 && node->content != NULL;
}

static bool is_blank(const xmlNode *node)
{
    return node != NULL && node->type == XML_TEXT_NODE &&
           node->content != NULL &&
           node->content[strspn((const char *)node->content, " \t\r\n")] == 0;
}

static void drop(xmlNode *node)
{
    xmlUnlinkNode(node);
    xmlFreeNode(node);
}

static xmlNode *element_before(xmlNode *node)
{
    while (node != NULL && node->type != XML_ELEMENT_NODE) {
        node = node->prev;
    }
    return node;
}

static bool has_elements(const xmlNode *node)
{
    const xmlNode *at = node->children;
    while (at != NULL && at->type != XML_ELEMENT_NODE) {
        at = at->next;
    }
    return at != NULL;
}

/* ---- taking out ---- */

static void drop_fingerings(xmlNode *technical)
{
    xmlNode *at = hbk_xml_child(technical, "fingering");
    while (at != NULL) {
        xmlNode *const next = hbk_xml_next(at, "fingering");
        drop(at);
        at = next;
    }
}

/* Others may have put their own marks into what was added; those stay. */
static void drop_added(xmlNode *added)
{
    xmlNode *const technical = hbk_xml_is(added, "notations")
                                   ? hbk_xml_child(added, "technical")
                                   : added;
    if (technical != NULL && hbk_xml_is(technical, "technical")) {
        drop_fingerings(technical);
        if (technical != added && !has_elements(technical)) {
            drop(technical);
        }
    }
    if (hbk_xml_is(added, "fingering") || !has_elements(added)) {
        drop(added);
    }
}

/* The blanks before the mark were put there with it. */
static void take_out(xmlNode *pi)
{
    xmlNode *const added = pi->next;
    if (is_blank(pi->prev)) {
        drop(pi->prev);
    }
    if (added != NULL && added->type == XML_ELEMENT_NODE &&
        strcmp((const char *)added->name, (const char *)pi->content) == 0) {
        drop_added(added);
    }
    drop(pi);
}

/* The next node in document order that is not inside `node`. */
static xmlNode *after(xmlNode *node, const xmlNode *root)
{
    while (node != NULL && node != root && node->next == NULL) {
        node = node->parent;
    }
    return node == NULL || node == root ? NULL : node->next;
}

static xmlNode *following(xmlNode *node, const xmlNode *root)
{
    const bool goes_down =
        node->type == XML_ELEMENT_NODE && node->children != NULL;
    return goes_down ? node->children : after(node, root);
}

static void strip_tree(xmlNode *root)
{
    xmlNode *at = root;
    while (at != NULL) {
        if (!is_mark(at)) {
            at = following(at, root);
            continue;
        }
        xmlNode *const parent = at->parent;
        xmlNode *kept = is_blank(at->prev) ? at->prev->prev : at->prev;
        take_out(at);
        if (kept != NULL) {
            at = after(kept, root);
        } else {
            at = parent->children != NULL ? parent->children
                                          : after(parent, root);
        }
    }
}

/* ---- putting in ---- */

/* Puts `node`, marked, after the element `behind`, or first in `parent`. */
static void put(xmlNode *parent, xmlNode *behind, xmlNode *node)
{
    xmlNode *const pi = xmlNewDocPI(parent->doc, text_of(mark), node->name);
    const xmlNode *const lead =
        behind == NULL ? parent->children : behind->prev;
    xmlNode *const blank =
        is_blank(lead) ? xmlNewDocText(parent->doc, lead->content) : NULL;
    if (behind != NULL) {
        xmlAddNextSibling(behind, pi);
    } else if (parent->children != NULL) {
        xmlAddPrevSibling(parent->children, pi);
    } else {
        xmlAddChild(parent, pi);
    }
    xmlAddNextSibling(pi, node);
    if (blank != NULL) {
        /* Last, for libxml2 joins a text with the text beside it. */
        xmlAddPrevSibling(pi, blank);
    }
}

static xmlNode *new_fingering(xmlDoc *document, const char *text,
                              bool is_alternate)
{
    xmlNode *const node =
        xmlNewDocRawNode(document, NULL, text_of("fingering"), text_of(text));
    if (is_alternate) {
        xmlNewProp(node, text_of("alternate"), text_of("yes"));
    }
    xmlNewProp(node, text_of("placement"), text_of("below"));
    return node;
}

/* The last element child that the schema has before <notations>. */
static xmlNode *place_of_notations(xmlNode *note)
{
    static const char *const later[] = {"lyric", "play", "listen"};
    xmlNode *at = note->children;
    for (; at != NULL; at = at->next) {
        for (size_t i = 0; i < sizeof(later) / sizeof(later[0]); i++) {
            if (hbk_xml_is(at, later[i])) {
                return element_before(at->prev);
            }
        }
    }
    return element_before(note->last);
}

static xmlNode *find_technical(const xmlNode *note)
{
    for (const xmlNode *at = hbk_xml_child(note, "notations"); at != NULL;
         at = hbk_xml_next(at, "notations")) {
        xmlNode *const technical = hbk_xml_child(at, "technical");
        if (technical != NULL) {
            return technical;
        }
    }
    return NULL;
}

static void fill_new(xmlNode *technical,
                     const struct hbk_tune_fingering *fingering)
{
    xmlAddChild(technical,
                new_fingering(technical->doc, fingering->main, false));
    for (size_t k = 0; k < fingering->n_alternates; k++) {
        xmlAddChild(technical, new_fingering(technical->doc,
                                             fingering->alternates[k], true));
    }
}

/* Ours come before the user's own: the main fingering is the first. */
static void add_to_technical(xmlNode *technical,
                             const struct hbk_tune_fingering *fingering)
{
    xmlNode *const first = hbk_xml_child(technical, "fingering");
    xmlNode *const last =
        element_before(first == NULL ? technical->last : first->prev);
    for (size_t k = fingering->n_alternates; k > 0; k--) {
        put(technical, last,
            new_fingering(technical->doc, fingering->alternates[k - 1], true));
    }
    put(technical, last, new_fingering(technical->doc, fingering->main, false));
}

static void annotate_note(xmlNode *note,
                          const struct hbk_tune_fingering *fingering)
{
    xmlNode *const technical = find_technical(note);
    if (technical != NULL) {
        add_to_technical(technical, fingering);
        return;
    }
    xmlNode *const added =
        xmlNewDocRawNode(note->doc, NULL, text_of("technical"), NULL);
    fill_new(added, fingering);
    xmlNode *notations = hbk_xml_child(note, "notations");
    if (notations != NULL) {
        put(notations, element_before(notations->last), added);
        return;
    }
    notations = xmlNewDocRawNode(note->doc, NULL, text_of("notations"), NULL);
    xmlAddChild(notations, added);
    put(note, place_of_notations(note), notations);
}

/* Whether the user's own fingering says the same. */
static bool is_said(struct hbk_arena *arena, const xmlNode *note,
                    const char *main)
{
    const xmlNode *const technical = find_technical(note);
    for (const xmlNode *at = hbk_xml_child(technical, "fingering"); at != NULL;
         at = hbk_xml_next(at, "fingering")) {
        if (!hbk_xml_says(at, "alternate", "yes") &&
            strcmp(hbk_xml_text(arena, at), main) == 0) {
            return true;
        }
    }
    return false;
}

static void annotate_tree(const struct hbk_tune_document *document,
                          const struct hbk_tune_fingering *fingerings,
                          struct hbk_arena *arena)
{
    xmlNode *const *const notes = document->source->musicxml->notes;
    for (size_t i = 0; i < document->tune.n_events; i++) {
        const struct hbk_tune_fingering fingering =
            hbk_write_fingering(&document->tune, fingerings, i);
        if (fingering.main != NULL && notes[i] != NULL &&
            !is_said(arena, notes[i], fingering.main)) {
            annotate_note(notes[i], &fingering);
        }
    }
}

/* Before the first element, with the blanks that stand there. */
static void put_remark(xmlNode *root, const char *remark)
{
    xmlNode *first = root->children;
    while (first != NULL && first->type != XML_ELEMENT_NODE) {
        first = first->next;
    }
    if (remark == NULL || first == NULL) {
        return;
    }
    xmlNode *const blank = is_blank(first->prev)
                               ? xmlNewDocText(root->doc, first->prev->content)
                               : NULL;
    xmlAddPrevSibling(first,
                      xmlNewDocPI(root->doc, text_of(mark), text_of(remark)));
    if (blank != NULL) {
        xmlAddPrevSibling(first, blank);
    }
}

enum hbk_status hbk_musicxml_write(const struct hbk_tune_document *document,
                                   const struct hbk_tune_fingering *fingerings,
                                   const char *remark, struct hbk_text *out,
                                   struct hbk_faults *faults)
{
    xmlDoc *const tree = document->source->musicxml->document;
    xmlNode *const root = xmlDocGetRootElement(tree);
    strip_tree(root);
    if (fingerings != NULL) {
        annotate_tree(document, fingerings, out->arena);
        put_remark(root, remark);
    }
    xmlChar *bytes = NULL;
    int length = 0;
    xmlDocDumpMemoryEnc(tree, &bytes, &length,
                        tree->encoding == NULL ? "UTF-8"
                                               : (const char *)tree->encoding);
    if (fingerings != NULL) {
        strip_tree(root);
    }
    if (bytes == NULL || length <= 0) {
        hbk_fault_add(faults, (struct hbk_place){.file = document->tune.file},
                      HBK_H_XML_LARGE, "no memory is left to write it");
        return HBK_ERR_OUTPUT;
    }
    hbk_text_put(out, (const char *)bytes, (size_t)length);
    xmlFree(bytes);
    return HBK_OK;
}
