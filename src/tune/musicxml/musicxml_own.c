#include "tune/musicxml/musicxml_own.h"

#include "tune/melody/source.h"
#include "tune/musicxml/score.h"

#include <string.h>

static bool is_mark(const xmlNode *node)
{
    return node != NULL && node->type == XML_PI_NODE &&
           strcmp((const char *)node->name, HBK_MUSICXML_MARK) == 0 &&
           node->content != NULL;
}

static void drop(struct hbk_xml_spots *spots, const xmlNode *node, size_t from)
{
    struct hbk_xml_spot *const spot = hbk_xml_spot(node);
    spot->is_gone = true;
    hbk_xml_take_out(spots, hbk_xml_blank_before(spots, from), spot->end);
}

static void drop_fingerings(struct hbk_xml_spots *spots,
                            const xmlNode *technical)
{
    for (const xmlNode *at = hbk_xml_child(technical, "fingering"); at != NULL;
         at = hbk_xml_next(at, "fingering")) {
        drop(spots, at, hbk_xml_spot(at)->begin);
    }
}

/*
 * Takes out what was added, which begins with its mark at `from`. Others may
 * have put their own marks into it; those stay.
 */
static void drop_added(struct hbk_xml_spots *spots, const xmlNode *added,
                       size_t from)
{
    const size_t begin = hbk_xml_spot(added)->begin;
    const xmlNode *const technical = hbk_xml_is(added, "notations")
                                         ? hbk_xml_child(added, "technical")
                                         : added;
    if (technical != NULL && hbk_xml_is(technical, "technical")) {
        drop_fingerings(spots, technical);
        if (technical != added &&
            hbk_xml_live_after(technical->children) == NULL) {
            drop(spots, technical, hbk_xml_spot(technical)->begin);
        }
    }
    if (hbk_xml_is(added, "fingering") ||
        hbk_xml_live_after(added->children) == NULL) {
        drop(spots, added, from);
    } else {
        hbk_xml_take_out(spots, from, begin);
    }
}

/* What the mark stands before; NULL when that is not what it says. */
static const xmlNode *marked_by(const xmlNode *pi)
{
    const xmlNode *at = pi->next;
    if (at != NULL && xmlIsBlankNode(at)) {
        at = at->next;
    }
    return at != NULL && hbk_xml_is(at, (const char *)pi->content) ? at : NULL;
}

static void take_out(struct hbk_xml_spots *spots, const xmlNode *pi)
{
    const size_t from = hbk_xml_spot(pi)->begin;
    const xmlNode *const added = marked_by(pi);
    if (added != NULL) {
        drop_added(spots, added, from);
    } else {
        drop(spots, pi, from);
    }
}

static const xmlNode *ancestor(const xmlNode *node, const char *name)
{
    while (node != NULL && !hbk_xml_is(node, name)) {
        node = node->parent;
    }
    return node;
}

/* Whether a mark stands at no note, or at one of the line that was read. */
static bool is_of_line(const xmlNode *pi)
{
    const xmlNode *const note = ancestor(pi, "note");
    return note == NULL || hbk_xml_spot(note)->is_heard;
}

static void take_marks(struct hbk_xml_spots *spots, const xmlNode *root,
                       bool takes_all)
{
    for (const xmlNode *at = root; at != NULL;
         at = hbk_xml_following(at, root)) {
        if (is_mark(at) && (takes_all || is_of_line(at))) {
            take_out(spots, at);
        }
    }
}

void hbk_musicxml_take_own(struct hbk_xml_spots *spots, const xmlNode *root)
{
    take_marks(spots, root, true);
}

void hbk_musicxml_take_own_of(struct hbk_xml_spots *spots, const xmlNode *root,
                              const struct hbk_tune_document *document)
{
    xmlNode *const *const notes = document->source->musicxml->notes;
    for (size_t i = 0; i < document->tune.n_events; i++) {
        if (notes[i] != NULL) {
            hbk_xml_spot(notes[i])->is_heard = true;
        }
    }
    take_marks(spots, root, false);
}
