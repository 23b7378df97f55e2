#include "tune/musicxml/score.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "tune/melody/part_name.h"

#include <string.h>

struct part {
    const char *id, *name;
};

struct parts {
    struct part *items;
    size_t n, room;
};

static void add_part(struct hbk_musicxml_reader *reader, struct parts *parts,
                     const char *id, const char *name)
{
    for (size_t i = 0; i < parts->n; i++) {
        if (strcmp(parts->items[i].id, id) == 0) {
            return;
        }
    }
    enum { PARTS_MAX = 200 };
    if (parts->n == PARTS_MAX) {
        return;
    }
    HBK_ARENA_GROW(reader->arena, parts->items, parts->n, parts->room);
    parts->items[parts->n++] = (struct part){.id = id, .name = name};
}

/* The parts that hold music, with their names from the part list. */
static void list_parts(struct hbk_musicxml_reader *reader, const xmlNode *root,
                       struct parts *parts)
{
    const xmlNode *const list = hbk_xml_child(root, "part-list");
    for (const xmlNode *part = hbk_xml_child(list, "score-part"); part != NULL;
         part = hbk_xml_next(part, "score-part")) {
        const char *const id = hbk_xml_attribute(reader->arena, part, "id");
        if (id != NULL) {
            add_part(
                reader, parts, id,
                hbk_xml_text(reader->arena, hbk_xml_child(part, "part-name")));
        }
    }
    const bool is_timewise = hbk_xml_is(root, "score-timewise");
    const xmlNode *const holder =
        is_timewise ? hbk_xml_child(root, "measure") : root;
    for (const xmlNode *part = hbk_xml_child(holder, "part"); part != NULL;
         part = hbk_xml_next(part, "part")) {
        const char *const id = hbk_xml_attribute(reader->arena, part, "id");
        if (id != NULL) {
            add_part(reader, parts, id, "");
        }
    }
}

static void tell_parts(struct hbk_musicxml_reader *reader,
                       const struct parts *parts, unsigned number,
                       const char *begin)
{
    struct hbk_text list = {.arena = reader->arena};
    size_t shown = 0;
    while (shown < parts->n && list.length < 240) {
        hbk_text_addf(&list, "%s%.20s (%.40s)", shown == 0 ? "" : ", ",
                      parts->items[shown].id, parts->items[shown].name);
        shown++;
    }
    hbk_build_error(&reader->build, (struct hbk_place){.file = reader->file},
                    number, "%s; choose one of %.280s%s", begin,
                    hbk_text_string(&list), shown < parts->n ? ", ..." : "");
}

/* Whether one of these notes has a pitch. */
static bool measure_has_pitches(const xmlNode *content)
{
    for (const xmlNode *note = hbk_xml_child(content, "note"); note != NULL;
         note = hbk_xml_next(note, "note")) {
        if (hbk_xml_child(note, "pitch") != NULL) {
            return true;
        }
    }
    return false;
}

static bool has_pitches(const xmlNode *root, const char *id)
{
    const bool is_timewise = hbk_xml_is(root, "score-timewise");
    const char *const outer = is_timewise ? "measure" : "part";
    const char *const inner = is_timewise ? "part" : "measure";
    for (const xmlNode *one = hbk_xml_child(root, outer); one != NULL;
         one = hbk_xml_next(one, outer)) {
        for (const xmlNode *two = hbk_xml_child(one, inner); two != NULL;
             two = hbk_xml_next(two, inner)) {
            if (hbk_xml_says(is_timewise ? two : one, "id", id) &&
                measure_has_pitches(two)) {
                return true;
            }
        }
    }
    return false;
}

/* The one part that has notes with pitch; NULL for none or several. */
static const struct part *only_one_playing(const xmlNode *root,
                                           const struct parts *parts)
{
    const struct part *found = NULL;
    for (size_t i = 0; i < parts->n; i++) {
        if (has_pitches(root, parts->items[i].id)) {
            if (found != NULL) {
                return NULL;
            }
            found = &parts->items[i];
        }
    }
    return found;
}

static const char *name_of(const struct part *part)
{
    return part->name[0] == '\0' ? part->id : part->name;
}

/* The part of the same name as player or horn; NULL for none. */
static const struct part *part_by_name(struct hbk_musicxml_reader *reader,
                                       const struct parts *parts,
                                       const struct hbk_tune_options *options)
{
    const char **const names =
        HBK_ARENA_ARRAY(reader->arena, const char *, parts->n + 1);
    for (size_t i = 0; i < parts->n; i++) {
        names[i] = parts->items[i].name;
    }
    const size_t found = hbk_part_by_name(options, names, parts->n);
    return found == parts->n ? NULL : &parts->items[found];
}

/* Of several parts, none of which was asked for. */
static const struct part *choose_unasked(struct hbk_musicxml_reader *reader,
                                         const xmlNode *root,
                                         const struct parts *parts,
                                         const struct hbk_tune_options *options)
{
    const struct hbk_place place = hbk_whole_file(reader->file);
    const struct part *const one = only_one_playing(root, parts);
    if (one != NULL) {
        hbk_build_warn(&reader->build, place, HBK_H_ONE_PART_PLAYS,
                       "of %zu parts only %.60s has notes with pitch; it is "
                       "read",
                       parts->n, name_of(one));
        return one;
    }
    const struct part *const own = part_by_name(reader, parts, options);
    if (own != NULL) {
        hbk_build_warn(&reader->build, place, HBK_H_PART_BY_NAME,
                       "of %zu parts %.60s is read, by its name; for another "
                       "name the part",
                       parts->n, name_of(own));
        return own;
    }
    tell_parts(reader, parts, HBK_H_CHOOSE_PART,
               "there are several parts in it");
    return NULL;
}

static const struct part *choose(struct hbk_musicxml_reader *reader,
                                 const xmlNode *root, const struct parts *parts,
                                 const struct hbk_tune_options *options)
{
    const char *const wanted = options == NULL ? NULL : options->part;
    if (parts->n == 0) {
        hbk_build_error(&reader->build, hbk_whole_file(reader->file),
                        HBK_H_NO_MEASURES, "there is no part in it");
        return NULL;
    }
    if (wanted == NULL) {
        return parts->n == 1 ? &parts->items[0]
                             : choose_unasked(reader, root, parts, options);
    }
    for (size_t i = 0; i < parts->n; i++) {
        if (strcmp(parts->items[i].id, wanted) == 0 ||
            strcmp(parts->items[i].name, wanted) == 0) {
            return &parts->items[i];
        }
    }
    long number = 0;
    if (hbk_number_parse_whole(wanted, 1, (long)parts->n, &number)) {
        return &parts->items[number - 1];
    }
    tell_parts(
        reader, parts, HBK_H_NO_SUCH_PART,
        hbk_arena_printf(reader->arena, "there is no part \"%.60s\"", wanted));
    return NULL;
}

static void add_measure(struct hbk_musicxml_reader *reader,
                        const xmlNode *content, const xmlNode *element)
{
    const char *const number =
        hbk_xml_attribute(reader->arena, element, "number");
    HBK_ARENA_GROW(reader->arena, reader->measures, reader->n_measures,
                   reader->room_measures);
    reader->measures[reader->n_measures] = (struct hbk_musicxml_measure){
        .content = content,
        .element = element,
        .number = number != NULL ? number
                                 : hbk_arena_printf(reader->arena, "%zu",
                                                    reader->n_measures + 1),
        .reach = hbk_ratio_whole(0)};
    reader->n_measures++;
}

static void list_measures(struct hbk_musicxml_reader *reader,
                          const xmlNode *root, const char *id)
{
    const bool is_timewise = hbk_xml_is(root, "score-timewise");
    const char *const outer = is_timewise ? "measure" : "part";
    const char *const inner = is_timewise ? "part" : "measure";
    for (const xmlNode *one = hbk_xml_child(root, outer); one != NULL;
         one = hbk_xml_next(one, outer)) {
        if (!is_timewise && !hbk_xml_says(one, "id", id)) {
            continue;
        }
        for (const xmlNode *two = hbk_xml_child(one, inner); two != NULL;
             two = hbk_xml_next(two, inner)) {
            if (!is_timewise) {
                add_measure(reader, two, two);
            } else if (hbk_xml_says(two, "id", id)) {
                add_measure(reader, two, one);
            }
        }
    }
}

bool hbk_musicxml_find_part(struct hbk_musicxml_reader *reader,
                            const xmlNode *root,
                            const struct hbk_tune_options *options)
{
    struct parts parts = {.n = 0};
    list_parts(reader, root, &parts);
    const struct part *const part = choose(reader, root, &parts, options);
    if (part == NULL) {
        return false;
    }
    reader->build.tune->part = part->name[0] == '\0' ? part->id : part->name;
    list_measures(reader, root, part->id);
    if (reader->n_measures == 0) {
        hbk_build_error(
            &reader->build, (struct hbk_place){.file = reader->file},
            HBK_H_NO_MEASURES, "the part %.60s has no measures", part->id);
    }
    return reader->n_measures > 0;
}
