#include "tune/musicxml/musicxml.h"

#include "base/messages.h"
#include "tune/melody/source.h"
#include "tune/melody/write.h"
#include "tune/musicxml/musicxml_own.h"
#include "tune/musicxml/score.h"
#include "tune/musicxml/xml_spots.h"

#include <string.h>

/*
 * Fingerings go into the bytes of the user's own file, where the tree says
 * that they belong, each with its mark (tune/musicxml/musicxml_own.h).
 */

/* Something new in the making. */
struct addition {
    struct hbk_xml_spots *spots;
    const struct hbk_xml_spot *note; /* whose prefix new elements take */
    struct hbk_text text;
    size_t at;              /* where it goes */
    size_t blank, blank_to; /* the blanks that go before it */
};

/* To stand behind an element, or first in `parent`. */
static struct addition begin_addition(struct hbk_xml_spots *spots,
                                      const xmlNode *note,
                                      const xmlNode *parent,
                                      const xmlNode *behind)
{
    struct addition addition = {.spots = spots,
                                .note = hbk_xml_spot(note),
                                .text = {.arena = spots->arena}};
    if (behind != NULL) {
        const struct hbk_xml_spot *const spot = hbk_xml_spot(behind);
        addition.at = spot->end;
        addition.blank = hbk_xml_blank_before(spots, spot->begin);
        addition.blank_to = spot->begin;
    } else {
        addition.at = hbk_xml_spot(parent)->inside;
        addition.blank = addition.at;
        addition.blank_to = hbk_xml_blank_after(spots, addition.at);
    }
    return addition;
}

static void put_mark(struct addition *addition, const char *name)
{
    hbk_xml_put_blank(addition->spots, addition->blank, addition->blank_to,
                      &addition->text);
    const char *const pi = hbk_arena_printf(addition->spots->arena, "<?%s %s?>",
                                            HBK_MUSICXML_MARK, name);
    hbk_xml_put_text(addition->spots, pi, &addition->text);
}

/* <name attributes>, or </name>, with `open` "<" or "</". */
static void put_tag(struct addition *addition, const char *open,
                    const char *name, const char *attributes)
{
    const struct hbk_xml_spots *const spots = addition->spots;
    const struct hbk_xml_spot *const note = addition->note;
    hbk_xml_put_text(spots, open, &addition->text);
    hbk_text_put(&addition->text, spots->bytes + note->name,
                 note->local - note->name);
    hbk_xml_put_text(spots, name, &addition->text);
    hbk_xml_put_text(spots, attributes, &addition->text);
    hbk_xml_put_text(spots, ">", &addition->text);
}

static void put_fingering(struct addition *addition, const char *text,
                          bool is_alternate)
{
    struct hbk_text escaped = {.arena = addition->spots->arena};
    hbk_text_add_xml(&escaped, text);
    put_tag(addition, "<", "fingering",
            is_alternate ? " alternate=\"yes\" placement=\"below\""
                         : " placement=\"below\"");
    hbk_xml_put_text(addition->spots, hbk_text_string(&escaped),
                     &addition->text);
    put_tag(addition, "</", "fingering", "");
}

static void put_technical(struct addition *addition,
                          const struct hbk_tune_fingering *fingering)
{
    put_tag(addition, "<", "technical", "");
    put_fingering(addition, fingering->main, false);
    for (size_t k = 0; k < fingering->n_alternates; k++) {
        put_fingering(addition, fingering->alternates[k], true);
    }
    put_tag(addition, "</", "technical", "");
}

/* Whether more can go in and be seen: <notations/> stays as it is. */
static bool is_open(const xmlNode *node)
{
    return !hbk_xml_spot(node)->is_empty &&
           !hbk_xml_says(node, "print-object", "no");
}

static const xmlNode *open_named(const xmlNode *node, const char *name)
{
    const xmlNode *at = hbk_xml_live_named(node, name);
    while (at != NULL && !is_open(at)) {
        at = hbk_xml_live_named(at->next, name);
    }
    return at;
}

static const xmlNode *find_technical(const xmlNode *note)
{
    for (const xmlNode *at = open_named(note->children, "notations");
         at != NULL; at = open_named(at->next, "notations")) {
        const xmlNode *const technical = open_named(at->children, "technical");
        if (technical != NULL) {
            return technical;
        }
    }
    return NULL;
}

/* The last element child that the schema has before new <notations>. */
static const xmlNode *place_of_notations(const xmlNode *note)
{
    static const char *const later[] = {"lyric", "play", "listen"};
    for (const xmlNode *at = note->children; at != NULL; at = at->next) {
        for (size_t i = 0; i < sizeof(later) / sizeof(later[0]); i++) {
            if (hbk_xml_is(at, later[i])) {
                return hbk_xml_live_before(at->prev);
            }
        }
    }
    return hbk_xml_live_before(note->last);
}

/* Ours come before the user's own: the main fingering is the first. */
static struct addition
add_to_technical(struct hbk_xml_spots *spots, const xmlNode *note,
                 const xmlNode *technical,
                 const struct hbk_tune_fingering *fingering)
{
    const xmlNode *const first =
        hbk_xml_live_named(technical->children, "fingering");
    const xmlNode *const last =
        hbk_xml_live_before(first == NULL ? technical->last : first->prev);
    struct addition addition = begin_addition(spots, note, technical, last);
    put_mark(&addition, "fingering");
    put_fingering(&addition, fingering->main, false);
    for (size_t k = 0; k < fingering->n_alternates; k++) {
        put_mark(&addition, "fingering");
        put_fingering(&addition, fingering->alternates[k], true);
    }
    return addition;
}

static struct addition add_to_note(struct hbk_xml_spots *spots,
                                   const xmlNode *note,
                                   const struct hbk_tune_fingering *fingering)
{
    const xmlNode *const technical = find_technical(note);
    if (technical != NULL) {
        return add_to_technical(spots, note, technical, fingering);
    }
    const xmlNode *const notations = open_named(note->children, "notations");
    struct addition addition;
    if (notations != NULL) {
        addition = begin_addition(spots, note, notations,
                                  hbk_xml_live_before(notations->last));
        put_mark(&addition, "technical");
        put_technical(&addition, fingering);
        return addition;
    }
    addition = begin_addition(spots, note, note, place_of_notations(note));
    put_mark(&addition, "notations");
    put_tag(&addition, "<", "notations", "");
    put_technical(&addition, fingering);
    put_tag(&addition, "</", "notations", "");
    return addition;
}

static bool technical_says(struct hbk_arena *arena, const xmlNode *technical,
                           const char *main)
{
    const xmlNode *at = hbk_xml_live_named(technical->children, "fingering");
    while (at != NULL && (hbk_xml_says(at, "alternate", "yes") ||
                          strcmp(hbk_xml_text(arena, at), main) != 0)) {
        at = hbk_xml_live_named(at->next, "fingering");
    }
    return at != NULL;
}

/* Whether a fingering of the user's own says the same. */
static bool is_said(struct hbk_arena *arena, const xmlNode *note,
                    const char *main)
{
    for (const xmlNode *notations =
             hbk_xml_live_named(note->children, "notations");
         notations != NULL;
         notations = hbk_xml_live_named(notations->next, "notations")) {
        for (const xmlNode *at =
                 hbk_xml_live_named(notations->children, "technical");
             at != NULL; at = hbk_xml_live_named(at->next, "technical")) {
            if (technical_says(arena, at, main)) {
                return true;
            }
        }
    }
    return false;
}

static void annotate(struct hbk_xml_spots *spots,
                     const struct hbk_tune_document *document,
                     const struct hbk_tune_fingering *fingerings)
{
    xmlNode *const *const notes = document->source->musicxml->notes;
    for (size_t i = 0; i < document->tune.n_events; i++) {
        const struct hbk_tune_fingering fingering =
            hbk_write_fingering(&document->tune, fingerings, i);
        if (fingering.main != NULL && notes[i] != NULL &&
            !is_said(spots->arena, notes[i], fingering.main)) {
            const struct addition addition =
                add_to_note(spots, notes[i], &fingering);
            hbk_xml_put_in(spots, addition.at, &addition.text);
        }
    }
}

/* Before the first element, with the blanks that stand there. */
static void put_remark(struct hbk_xml_spots *spots, const xmlNode *root,
                       const char *remark)
{
    const xmlNode *const first = hbk_xml_live_after(root->children);
    if (remark == NULL || first == NULL) {
        return;
    }
    const size_t begin = hbk_xml_spot(first)->begin;
    struct addition addition = {.spots = spots,
                                .text = {.arena = spots->arena},
                                .at = hbk_xml_blank_before(spots, begin),
                                .blank_to = begin};
    addition.blank = addition.at;
    put_mark(&addition, remark);
    hbk_xml_put_in(spots, addition.at, &addition.text);
}

/* What is written must be read again, to be replaced or taken out. */
static bool is_readable(const struct hbk_text *out, const char *file,
                        struct hbk_faults *faults)
{
    struct hbk_faults inner = {.count = 0};
    xmlDoc *const again = hbk_xml_parse(file, out->bytes, out->length, &inner);
    if (again == NULL) {
        hbk_fault_add(faults, (struct hbk_place){.file = file}, HBK_H_XML_LARGE,
                      "with its fingerings it would have more elements and "
                      "attributes than are read (%d), or more than %d MiB; "
                      "save the one part that is wanted",
                      HBK_XML_NODES_MAX, HBK_XML_BYTES_MAX / (1024 * 1024));
    }
    xmlFreeDoc(again);
    return again != NULL;
}

enum hbk_status hbk_musicxml_write(const struct hbk_tune_document *document,
                                   const struct hbk_tune_fingering *fingerings,
                                   const char *remark, struct hbk_text *out,
                                   struct hbk_faults *faults)
{
    const struct hbk_musicxml *const musicxml = document->source->musicxml;
    const xmlNode *const root = xmlDocGetRootElement(musicxml->document);
    struct hbk_xml_spots spots;
    if (!hbk_xml_spots_find(musicxml->document, musicxml->bytes,
                            musicxml->length, out->arena, &spots)) {
        hbk_fault_add(faults, (struct hbk_place){.file = document->tune.file},
                      HBK_H_XML_SYNTAX,
                      "its tags cannot be told apart, so nothing can be "
                      "written into it");
        return HBK_ERR_INPUT;
    }
    if (fingerings == NULL) {
        hbk_musicxml_take_own(&spots, root);
    } else {
        hbk_musicxml_take_own_of(&spots, root, document);
        annotate(&spots, document, fingerings);
        put_remark(&spots, root, remark);
    }
    hbk_xml_edited(&spots, out);
    return fingerings == NULL || is_readable(out, document->tune.file, faults)
               ? HBK_OK
               : HBK_ERR_INPUT;
}
