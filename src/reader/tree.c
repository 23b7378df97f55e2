#include "reader/tree.h"

#include "base/file.h"
#include "base/messages.h"
#include "base/text.h"
#include "reader/shown.h"
#include "reader/tree_lines.h"

#include <yaml.h>

#include <string.h>

struct builder {
    yaml_parser_t parser;
    const char *file;
    const char *bytes; /* for the place of a control character */
    size_t length;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    size_t n_nodes;
    struct hbk_lines lines; /* as far as nodes have been read */
};

static struct hbk_place place_of(const char *file, const yaml_mark_t *mark)
{
    return (struct hbk_place){.file = file,
                              .line = (unsigned)mark->line + 1,
                              .column = (unsigned)mark->column + 1};
}

/* The place of a byte; columns count code points. */
static struct hbk_place place_of_byte(const char *file, const char *bytes,
                                      size_t offset)
{
    struct hbk_place place = {.file = file, .line = 1, .column = 1};
    for (size_t i = 0; i < offset; i++) {
        if (bytes[i] == '\n') {
            place.line++;
            place.column = 1;
        } else {
            place.column += ((unsigned char)bytes[i] & 0xC0U) != 0x80U;
        }
    }
    return place;
}

/* How many bytes at the start are valid UTF-8 without NUL. */
static size_t valid_bytes(const char *bytes, size_t length)
{
    enum { SEQUENCE_MAX = 4 };
    size_t i = 0;
    while (i < length) {
        size_t step = 1;
        while (step <= SEQUENCE_MAX &&
               (step > length - i || !hbk_text_is_utf8(bytes + i, step))) {
            step++;
        }
        if (step > SEQUENCE_MAX) {
            return i;
        }
        i += step;
    }
    return i;
}

/* What the parser library finds, and what its author should do about it. */
static const char *syntax_advice(const char *problem)
{
    static const struct {
        const char *part, *advice;
    } table[] = {
        {"mapping values are not allowed",
         "there is a second colon here; put the text after the first one "
         "between quotation marks, or begin a new line"},
        {"block sequence entries are not allowed",
         "a list of the form '- ...' must begin on a line of its own"},
        {"expected ',' or ']'", "a comma or the closing ] is missing"},
        {"expected ',' or '}'", "a comma or the closing } is missing"},
        {"expected key", "this line is not indented like its neighbors"},
        {"expected '-' indicator",
         "this line is not indented like its neighbors"},
        {"could not find expected ':'",
         "a colon and a space are missing after the name"},
        {"unexpected end of stream", "a quotation mark is never closed"},
        {"unknown escape character",
         "the backslash means something else between double quotation "
         "marks; use single ones"},
        {"cannot start any token",
         "a value cannot begin with this character; put it between "
         "quotation marks, and indent with spaces, not with tabs"},
        {"tab character", "indent with spaces, not with tabs"},
        {"directive", "a line cannot begin with %"},
        {"control characters", "control characters are not allowed"},
    };
    for (size_t i = 0; i < sizeof(table) / sizeof(table[0]); i++) {
        if (strstr(problem, table[i].part) != NULL) {
            return table[i].advice;
        }
    }
    return problem;
}

/* A [ or { that is never closed because a comment took its end away. */
static bool lost_to_comment(struct builder *b)
{
    const yaml_parser_t *const parser = &b->parser;
    struct hbk_lines lines = {.bytes = b->bytes, .length = b->length};
    if (parser->context == NULL ||
        strstr(parser->context, "while parsing a flow") == NULL) {
        return false;
    }
    const size_t from = hbk_lines_offset(&lines, parser->context_mark.line,
                                         parser->context_mark.column);
    const size_t to = hbk_lines_offset(&lines, parser->problem_mark.line,
                                       parser->problem_mark.column);
    const size_t at = hbk_lines_comment_within(&lines, from, to);
    if (at == b->length) {
        return false;
    }
    hbk_fault_add(b->faults, place_of_byte(b->file, b->bytes, at), HBK_H_SYNTAX,
                  "the file cannot be understood from here on: what follows "
                  "this '#' is a comment, so that no bracket closes; write "
                  "sharps behind their letter, as in F#3, and text between "
                  "quotation marks");
    return true;
}

static void syntax_error(struct builder *b)
{
    const yaml_parser_t *const parser = &b->parser;
    if (lost_to_comment(b)) {
        return;
    }
    const char *const problem =
        parser->problem == NULL ? "unreadable" : parser->problem;
    struct hbk_place place = place_of(b->file, &parser->problem_mark);
    if (parser->error == YAML_READER_ERROR) {
        const size_t at = parser->problem_offset;
        place =
            place_of_byte(b->file, b->bytes, at < b->length ? at : b->length);
    }
    hbk_fault_add(b->faults, place, HBK_H_SYNTAX,
                  "the file cannot be understood from here on: %s",
                  syntax_advice(problem));
}

static bool next_event(struct builder *b, yaml_event_t *event)
{
    if (yaml_parser_parse(&b->parser, event) == 0) {
        syntax_error(b);
        return false;
    }
    return true;
}

/* A tag as the file has it: the parser writes the usual ones out. */
static const char *short_tag(const char *tag, char shown[HBK_SHOWN_SIZE])
{
    static const char usual[] = "tag:yaml.org,2002:";
    const size_t length = strlen(usual);
    if (strncmp(tag, usual, length) != 0) {
        return hbk_shown(tag, shown);
    }
    hbk_shown(tag + length - 2, shown);
    shown[0] = shown[1] = '!';
    return shown;
}

/* Reports an anchor or a tag; true if there was one. */
static bool has_extras(struct builder *b, const yaml_event_t *event,
                       const yaml_char_t *anchor, const yaml_char_t *tag)
{
    const struct hbk_place place = place_of(b->file, &event->start_mark);
    char shown[HBK_SHOWN_SIZE];
    if (anchor != NULL) {
        hbk_fault_add(b->faults, place, HBK_H_ANCHOR,
                      "'&%s' is an anchor, which files of this kind do not "
                      "have; write the value alone, and in quotation marks if "
                      "it really begins with &",
                      hbk_shown((const char *)anchor, shown));
    }
    if (tag != NULL) {
        hbk_fault_add(b->faults, place, HBK_H_TAG,
                      "'%s' is a tag, which files of this kind do not have; "
                      "write the value alone, and in quotation marks if it "
                      "really begins with !",
                      short_tag((const char *)tag, shown));
    }
    return anchor != NULL || tag != NULL;
}

/* The comment that stands right behind a value without quotation marks. */
static const char *comment_after(struct builder *b, const yaml_mark_t *end)
{
    const size_t at = hbk_lines_comment(
        &b->lines, hbk_lines_offset(&b->lines, end->line, end->column));
    return at == b->length ? NULL
                           : hbk_arena_copy(b->arena, b->bytes + at,
                                            strcspn(b->bytes + at, "\r\n"));
}

static void scalar_node(struct builder *b, const yaml_event_t *event,
                        struct hbk_node *node)
{
    const char *const text = (const char *)event->data.scalar.value;
    const size_t length = event->data.scalar.length;
    node->kind = HBK_SCALAR;
    node->is_quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE;
    node->text = hbk_arena_copy(b->arena, text, length);
    node->comment = node->is_quoted ? NULL : comment_after(b, &event->end_mark);
    node->is_faulty =
        has_extras(b, event, event->data.scalar.anchor, event->data.scalar.tag);
    if (strlen(node->text) != length) {
        hbk_fault_add(b->faults, node->place, HBK_H_NUL,
                      "the text contains a NUL character (\\0); leave it out");
        node->is_faulty = true;
    }
}

static bool build(struct builder *b, yaml_event_t *event, unsigned depth,
                  struct hbk_node *node);

static bool build_list(struct builder *b, unsigned depth, struct hbk_node *node)
{
    struct hbk_node *items = NULL;
    size_t room = 0;
    for (;;) {
        yaml_event_t event;
        if (!next_event(b, &event)) {
            return false;
        }
        if (event.type == YAML_SEQUENCE_END_EVENT) {
            yaml_event_delete(&event);
            return true;
        }
        node->items = HBK_ARENA_GROW(b->arena, items, node->n, room);
        if (!build(b, &event, depth + 1, &items[node->n])) {
            return false;
        }
        node->n++;
    }
}

/* Reads a name; it stays NULL, and is reported, if it is not a scalar. */
static bool build_name(struct builder *b, yaml_event_t *event, unsigned depth,
                       const struct hbk_node *map, struct hbk_entry *entry)
{
    struct hbk_node name = {0};
    if (!build(b, event, depth + 1, &name)) {
        return false;
    }
    entry->place = name.place;
    if (name.kind != HBK_SCALAR) {
        hbk_fault_add(b->faults, name.place, HBK_H_NAME_NOT_A_WORD,
                      "what stands before a colon must be a word or a number, "
                      "not a list");
        return true;
    }
    entry->name = name.text;
    const struct hbk_entry *const first = hbk_node_entry(map, entry->name);
    if (first != NULL) {
        char shown[HBK_SHOWN_SIZE];
        hbk_fault_add(b->faults, entry->place, HBK_H_DUPLICATE,
                      "'%s' is given twice, first in line %u; keep one of the "
                      "two",
                      hbk_shown(entry->name, shown), first->place.line);
    }
    return true;
}

static bool build_map(struct builder *b, unsigned depth, struct hbk_node *node)
{
    struct hbk_entry *entries = NULL;
    size_t room = 0;
    for (;;) {
        yaml_event_t event;
        if (!next_event(b, &event)) {
            return false;
        }
        if (event.type == YAML_MAPPING_END_EVENT) {
            yaml_event_delete(&event);
            return true;
        }
        node->entries = HBK_ARENA_GROW(b->arena, entries, node->n, room);
        struct hbk_entry *const entry = &entries[node->n];
        if (!build_name(b, &event, depth, node, entry) ||
            !next_event(b, &event) ||
            !build(b, &event, depth + 1, &entry->value)) {
            return false;
        }
        if (entry->name == NULL) {
            *entry = (struct hbk_entry){0};
            continue;
        }
        node->n++;
    }
}

/*
 * Builds the node that begins with an event, which it deletes. Returns false
 * when reading cannot go on.
 */
static bool build(struct builder *b, yaml_event_t *event, unsigned depth,
                  struct hbk_node *node)
{
    node->place = place_of(b->file, &event->start_mark);
    const yaml_event_type_t type = event->type;
    if (type == YAML_ALIAS_EVENT) {
        char shown[HBK_SHOWN_SIZE];
        hbk_fault_add(b->faults, node->place, HBK_H_ALIAS,
                      "'*%s' is an alias, which files of this kind do not "
                      "have; write the value out again, and in quotation "
                      "marks if it really begins with *",
                      hbk_shown((const char *)event->data.alias.anchor, shown));
        node->text = "";
        node->is_faulty = true;
    } else if (type == YAML_SCALAR_EVENT) {
        scalar_node(b, event, node);
    } else if (type == YAML_SEQUENCE_START_EVENT) {
        node->kind = HBK_LIST;
        (void)has_extras(b, event, event->data.sequence_start.anchor,
                         event->data.sequence_start.tag);
    } else {
        node->kind = HBK_MAP;
        (void)has_extras(b, event, event->data.mapping_start.anchor,
                         event->data.mapping_start.tag);
    }
    yaml_event_delete(event);
    if (++b->n_nodes > HBK_TREE_NODES_MAX) {
        hbk_fault_add(b->faults, node->place, HBK_H_TOO_MANY_VALUES,
                      "the file holds more than %d values; no file of this "
                      "kind needs as many",
                      HBK_TREE_NODES_MAX);
        return false;
    }
    if (node->kind != HBK_SCALAR && depth > HBK_TREE_DEPTH_MAX) {
        hbk_fault_add(b->faults, node->place, HBK_H_DEPTH,
                      "lists stand in lists more than %d deep; no file of "
                      "this kind needs that",
                      HBK_TREE_DEPTH_MAX);
        return false;
    }
    switch (node->kind) {
    case HBK_SCALAR:
        return true;
    case HBK_LIST:
        return build_list(b, depth, node);
    case HBK_MAP:
        return build_map(b, depth, node);
    }
    return false;
}

/* The event after the one that opened the document or the stream. */
static bool skip_to(struct builder *b, yaml_event_type_t type,
                    yaml_event_t *event)
{
    if (!next_event(b, event)) {
        return false;
    }
    while (event->type == type) {
        yaml_event_delete(event);
        if (!next_event(b, event)) {
            return false;
        }
    }
    return true;
}

static void report_empty(struct builder *b, const char *expects)
{
    hbk_fault_add(b->faults, (struct hbk_place){.file = b->file, .line = 1},
                  HBK_H_EMPTY, "the file is empty; it should begin with '%s'",
                  expects);
}

static void check_root(struct builder *b, const struct hbk_node *root,
                       const char *expects)
{
    if (root->kind == HBK_SCALAR && !root->is_quoted && root->text[0] == '\0') {
        report_empty(b, expects);
    } else if (root->kind != HBK_MAP) {
        hbk_fault_add(b->faults, root->place, HBK_H_NOT_A_MAPPING,
                      "the file must consist of lines of the form 'name: "
                      "value', beginning with '%s'",
                      expects);
    }
}

/* Whether a whole mapping is there to be read on. */
static bool build_document(struct builder *b, const char *expects,
                           struct hbk_node *root)
{
    yaml_event_t event;
    if (!skip_to(b, YAML_STREAM_START_EVENT, &event)) {
        return false;
    }
    if (event.type == YAML_STREAM_END_EVENT) {
        yaml_event_delete(&event);
        report_empty(b, expects);
        return false;
    }
    yaml_event_delete(&event);
    if (!next_event(b, &event) || !build(b, &event, 1, root)) {
        return false;
    }
    check_root(b, root, expects);
    if (!skip_to(b, YAML_DOCUMENT_END_EVENT, &event)) {
        return false;
    }
    if (event.type != YAML_STREAM_END_EVENT) {
        hbk_fault_add(b->faults, place_of(b->file, &event.start_mark),
                      HBK_H_SECOND_DOCUMENT,
                      "a second document begins here; keep each in a file of "
                      "its own");
    }
    yaml_event_delete(&event);
    return root->kind == HBK_MAP;
}

static bool is_text(struct builder *b)
{
    const size_t good = valid_bytes(b->bytes, b->length);
    if (good == b->length) {
        return true;
    }
    const struct hbk_place place = place_of_byte(b->file, b->bytes, good);
    if (b->bytes[good] == '\0') {
        hbk_fault_add(b->faults, place, HBK_H_NUL,
                      "the file contains a NUL byte, so it is not plain "
                      "text; save it as plain text in UTF-8");
    } else {
        hbk_fault_add(b->faults, place, HBK_H_UTF8,
                      "the file is not in UTF-8 here; save it with that "
                      "encoding");
    }
    return false;
}

enum hbk_status hbk_tree_parse(const char *path, const char *bytes,
                               size_t length, struct hbk_arena *arena,
                               const char *expects, struct hbk_node *root,
                               struct hbk_faults *faults)
{
    static const char byte_order_mark[] = {'\xEF', '\xBB', '\xBF'};
    if (length >= sizeof(byte_order_mark) &&
        memcmp(bytes, byte_order_mark, sizeof(byte_order_mark)) == 0) {
        bytes += sizeof(byte_order_mark);
        length -= sizeof(byte_order_mark);
    }
    struct builder b = {.file = path,
                        .bytes = bytes,
                        .length = length,
                        .arena = arena,
                        .faults = faults,
                        .lines = {.bytes = bytes, .length = length}};
    if (!is_text(&b)) {
        return HBK_ERR_INPUT;
    }
    if (yaml_parser_initialize(&b.parser) == 0) {
        hbk_fault_add(faults, (struct hbk_place){.file = path}, HBK_H_SYNTAX,
                      "the file cannot be read for want of memory");
        return HBK_ERR_INPUT;
    }
    yaml_parser_set_encoding(&b.parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&b.parser, (const unsigned char *)bytes,
                                 length);
    struct hbk_node built = {.text = ""};
    const bool is_whole = build_document(&b, expects, &built);
    yaml_parser_delete(&b.parser);
    if (!is_whole) {
        return HBK_ERR_INPUT;
    }
    *root = built;
    return HBK_OK;
}

enum hbk_status hbk_tree_read(const char *path, struct hbk_arena *arena,
                              const char *expects, struct hbk_node *root,
                              struct hbk_faults *faults)
{
    char *bytes = NULL;
    size_t length = 0;
    HBK_TRY(hbk_file_read(path, HBK_TREE_BYTES_MAX, arena, &bytes, &length,
                          faults));
    return hbk_tree_parse(path, bytes, length, arena, expects, root, faults);
}

const struct hbk_entry *hbk_node_entry(const struct hbk_node *map,
                                       const char *name)
{
    for (size_t i = 0; i < map->n; i++) {
        if (strcmp(map->entries[i].name, name) == 0) {
            return &map->entries[i];
        }
    }
    return NULL;
}
