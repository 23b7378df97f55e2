#include "tune/musicxml/score.h"

#include "base/messages.h"
#include "tune/melody/build_marks.h"

#include <string.h>
#include <strings.h>

/* The head of a score: titles, who made it, and what the page says. */

/* Adds a text after what is there, unless it is there already. */
static void append(struct hbk_arena *arena, const char **to,
                   const char *between, const char *text)
{
    if (text[0] == '\0' || strstr(*to, text) != NULL) {
        return;
    }
    *to = (*to)[0] == '\0'
              ? text
              : hbk_arena_printf(arena, "%s%s%s", *to, between, text);
}

static const char *child_text(struct hbk_arena *arena, const xmlNode *node,
                              const char *name)
{
    return hbk_xml_text(arena, hbk_xml_child(node, name));
}

/* The work leads; its number, and what part of it this is, stand below. */
static void read_titles(struct hbk_musicxml_reader *reader, const xmlNode *root)
{
    struct hbk_tune *const tune = reader->build.tune;
    struct hbk_arena *const arena = reader->arena;
    const xmlNode *const work = hbk_xml_child(root, "work");
    const char *const title = child_text(arena, work, "work-title");
    const char *movement = child_text(arena, root, "movement-title");
    const char *const number = child_text(arena, root, "movement-number");
    append(arena, &tune->subtitle, "\n",
           child_text(arena, work, "work-number"));
    if (title[0] == '\0') {
        tune->title = movement;
        append(arena, &tune->subtitle, "\n", number);
        return;
    }
    tune->title = title;
    if (strcasecmp(title, movement) == 0) {
        movement = "";
    }
    if (movement[0] != '\0' && number[0] != '\0') {
        movement = hbk_arena_printf(arena, "%s. %s", number, movement);
    }
    append(arena, &tune->subtitle, "\n",
           movement[0] == '\0' ? number : movement);
}

static const char **creator_slot(struct hbk_tune *tune, const char *type)
{
    static const char *const words[] = {"lyricist", "poet", "librettist",
                                        "author"};
    if (type == NULL || strcasecmp(type, "composer") == 0) {
        return &tune->composer;
    }
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if (strcasecmp(type, words[i]) == 0) {
            return &tune->lyricist;
        }
    }
    return strcasecmp(type, "arranger") == 0 ? &tune->arranger : NULL;
}

static void read_identification(struct hbk_musicxml_reader *reader,
                                const xmlNode *node)
{
    struct hbk_tune *const tune = reader->build.tune;
    struct hbk_arena *const arena = reader->arena;
    for (const xmlNode *at = node == NULL ? NULL : node->children; at != NULL;
         at = at->next) {
        const char *const text =
            at->type == XML_ELEMENT_NODE ? hbk_xml_text(arena, at) : "";
        if (hbk_xml_is(at, "rights")) {
            append(arena, &tune->rights, "\n", text);
        } else if (hbk_xml_is(at, "creator") && text[0] != '\0') {
            const char **const slot =
                creator_slot(tune, hbk_xml_attribute(arena, at, "type"));
            if (slot != NULL) {
                append(arena, slot, ", ", text);
            } else {
                hbk_build_left_out(&reader->build, "name of another creator",
                                   "names of other creators");
            }
        } else if (hbk_xml_is(at, "source") || hbk_xml_is(at, "relation")) {
            hbk_build_left_out(&reader->build, "line about the tune",
                               "lines about the tune");
        }
    }
    const xmlNode *const more = hbk_xml_child(node, "miscellaneous");
    for (const xmlNode *at = hbk_xml_child(more, "miscellaneous-field");
         at != NULL; at = hbk_xml_next(at, "miscellaneous-field")) {
        hbk_build_left_out(&reader->build, "line about the tune",
                           "lines about the tune");
    }
}

/* Where a text of the page belongs by its type, if that is still empty. */
static const char **credit_slot(struct hbk_tune *tune, const char *type)
{
    const struct {
        const char *type;
        const char **slot;
    } slots[] = {{"title", &tune->title},       {"subtitle", &tune->subtitle},
                 {"composer", &tune->composer}, {"lyricist", &tune->lyricist},
                 {"arranger", &tune->arranger}, {"rights", &tune->rights}};
    for (size_t i = 0; i < sizeof(slots) / sizeof(slots[0]); i++) {
        if (strcasecmp(type, slots[i].type) == 0 &&
            (*slots[i].slot)[0] == '\0') {
            return slots[i].slot;
        }
    }
    return NULL;
}

static bool holds(const char *text, const char *part)
{
    const size_t n = strlen(part);
    for (const char *at = text; *at != '\0'; at++) {
        if (strncasecmp(at, part, n) == 0) {
            return true;
        }
    }
    return n == 0;
}

/* Whether a text of the page is in the head already, or names the part. */
static bool is_in_head(const struct hbk_tune *tune, const char *text)
{
    const char *const known[] = {tune->title,    tune->subtitle, tune->composer,
                                 tune->lyricist, tune->arranger, tune->rights,
                                 tune->part};
    for (size_t i = 0; i < sizeof(known) / sizeof(known[0]); i++) {
        if (holds(known[i], text)) {
            return true;
        }
    }
    return text[0] == '\0';
}

/* The lines of a text of the page that stand nowhere else. */
static void count_lines(struct hbk_musicxml_reader *reader, const char *text)
{
    while (*text != '\0') {
        const size_t n = strcspn(text, "\r\n");
        const size_t spaces = strspn(text, " \t");
        size_t end = n;
        while (end > spaces && strchr(" \t", text[end - 1]) != NULL) {
            end--;
        }
        const size_t begin = spaces < end ? spaces : end;
        const char *const line =
            hbk_arena_copy(reader->arena, text + begin, end - begin);
        if (!is_in_head(reader->build.tune, line)) {
            hbk_build_left_out(&reader->build, "line of text on the page",
                               "lines of text on the page");
        }
        text += n + (text[n] != '\0' ? 1 : 0);
    }
}

/* Lines that are printed on the page, apart from what the head says. */
static void read_credit(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    struct hbk_tune *const tune = reader->build.tune;
    const char *const type = child_text(reader->arena, node, "credit-type");
    if (strcasecmp(type, "page number") == 0) {
        return;
    }
    const char **const slot = credit_slot(tune, type);
    for (const xmlNode *at = node->children; at != NULL; at = at->next) {
        if (hbk_xml_is(at, "credit-image")) {
            hbk_build_left_out(&reader->build, "picture", "pictures");
        }
        if (hbk_xml_is(at, "credit-symbol")) {
            hbk_build_left_out(&reader->build, "special sign", "special signs");
        }
        if (!hbk_xml_is(at, "credit-words")) {
            continue;
        }
        const char *const text = hbk_xml_text(reader->arena, at);
        if (strcasecmp(type, "lyrics") == 0) {
            hbk_build_stanza(&reader->build, text);
        } else if (slot != NULL) {
            append(reader->arena, slot, "\n", text);
        } else {
            count_lines(reader, text);
        }
    }
}

void hbk_musicxml_heading(struct hbk_musicxml_reader *reader,
                          const xmlNode *root)
{
    struct hbk_tune *const tune = reader->build.tune;
    read_titles(reader, root);
    read_identification(reader, hbk_xml_child(root, "identification"));
    for (const xmlNode *credit = hbk_xml_child(root, "credit"); credit != NULL;
         credit = hbk_xml_next(credit, "credit")) {
        read_credit(reader, credit);
    }
    const xmlNode *const concert =
        hbk_xml_child(hbk_xml_child(root, "defaults"), "concert-score");
    if (concert != NULL) {
        tune->concert = true;
        hbk_build_warn(&reader->build, hbk_xml_place(reader->file, concert),
                       HBK_H_CONCERT_PITCH,
                       "the file shows sounding notes, not those of the part; "
                       "they are read as they stand");
    }
}
