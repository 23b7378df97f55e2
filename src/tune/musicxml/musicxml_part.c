#include "tune/musicxml/score.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"

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

static const struct part *choose(struct hbk_musicxml_reader *reader,
                                 const struct parts *parts, const char *wanted)
{
    if (parts->n == 0) {
        hbk_build_error(&reader->build,
                        (struct hbk_place){.file = reader->file},
                        HBK_H_NO_MEASURES, "there is no part in it");
        return NULL;
    }
    if (wanted == NULL && parts->n > 1) {
        tell_parts(reader, parts, HBK_H_CHOOSE_PART,
                   "there are several parts in it");
        return NULL;
    }
    if (wanted == NULL) {
        return &parts->items[0];
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
    HBK_ARENA_GROW(reader->arena, reader->measures, reader->n_measures,
                   reader->room_measures);
    reader->measures[reader->n_measures++] =
        (struct hbk_musicxml_measure){.content = content, .element = element};
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
                            const xmlNode *root, const char *wanted)
{
    struct parts parts = {.n = 0};
    list_parts(reader, root, &parts);
    const struct part *const part = choose(reader, &parts, wanted);
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

/* A voice counts when it has a note that sounds. */
static const char *voice_of(struct hbk_musicxml_reader *reader,
                            const xmlNode *node)
{
    if (!hbk_xml_is(node, "note") || hbk_xml_child(node, "pitch") == NULL ||
        hbk_xml_child(node, "cue") != NULL) {
        return NULL;
    }
    const char *const voice =
        hbk_xml_text(reader->arena, hbk_xml_child(node, "voice"));
    return voice[0] == '\0' ? "1" : voice;
}

enum { VOICES_MAX = 16 };

struct voices {
    const char *names[VOICES_MAX];
    const xmlNode *first[VOICES_MAX];
    size_t bar[VOICES_MAX];
    size_t n;
};

static void list_voices(struct hbk_musicxml_reader *reader,
                        struct voices *voices)
{
    for (size_t m = 0; m < reader->n_measures; m++) {
        for (const xmlNode *node = reader->measures[m].content->children;
             node != NULL; node = node->next) {
            const char *const voice = voice_of(reader, node);
            size_t i = 0;
            while (voice != NULL && i < voices->n &&
                   strcmp(voices->names[i], voice) != 0) {
                i++;
            }
            if (voice != NULL && i == voices->n && i < VOICES_MAX) {
                voices->names[i] = voice;
                voices->first[i] = node;
                voices->bar[i] = m;
                voices->n++;
            }
        }
    }
}

bool hbk_musicxml_find_voice(struct hbk_musicxml_reader *reader,
                             const char *wanted)
{
    struct voices voices = {.n = 0};
    list_voices(reader, &voices);
    if (wanted == NULL && voices.n < 2) {
        reader->voice = voices.n == 0 ? "1" : voices.names[0];
        return true;
    }
    struct hbk_text list = {.arena = reader->arena};
    for (size_t i = 0; i < voices.n; i++) {
        if (wanted != NULL && strcmp(voices.names[i], wanted) == 0) {
            reader->voice = voices.names[i];
            return true;
        }
        hbk_text_addf(&list, "%s%.20s", i == 0 ? "" : ", ", voices.names[i]);
    }
    if (wanted != NULL) {
        hbk_build_error(&reader->build,
                        (struct hbk_place){.file = reader->file},
                        HBK_H_NO_SUCH_VOICE,
                        "the part has no voice \"%.40s\"; it has %.200s",
                        wanted, hbk_text_string(&list));
        return false;
    }
    const char *const number = hbk_xml_attribute(
        reader->arena, reader->measures[voices.bar[1]].element, "number");
    hbk_build_error(&reader->build,
                    hbk_xml_place(reader->file, voices.first[1]),
                    HBK_H_CHOOSE_VOICE,
                    "bar %.20s: a second voice begins; a horn plays one note "
                    "at a time, choose one of the voices %.200s",
                    number == NULL ? "?" : number, hbk_text_string(&list));
    return false;
}
