#include "reader/tree_write.h"

#include "reader/value.h"

#include <string.h>
#include <yaml.h>

/* Within { } and [ ] no line is broken: libyaml would do it amid words. */
enum { WIDTH = 78, NO_WIDTH = 1 << 20, LONG_TEXT = 60 };

static int append(void *data, unsigned char *bytes, size_t length)
{
    struct hbk_text *const out = data;
    hbk_text_put(out, (const char *)bytes, length);
    return 1;
}

static bool is_plain_list(const struct hbk_node *node)
{
    for (size_t i = 0; i < node->n; i++) {
        const struct hbk_node *const item =
            node->kind == HBK_MAP ? &node->entries[i].value : &node->items[i];
        if (item->kind != HBK_SCALAR || strlen(item->text) > LONG_TEXT) {
            return false;
        }
    }
    return true;
}

/*
 * Whether it fits on a line: only scalars, or mappings and lists of them
 * within an item of a list (keys, valves).
 */
static bool is_flow(const struct hbk_node *node, bool is_item)
{
    if (is_plain_list(node)) {
        return true;
    }
    if (!is_item) {
        return false;
    }
    for (size_t i = 0; i < node->n; i++) {
        const struct hbk_node *const item =
            node->kind == HBK_MAP ? &node->entries[i].value : &node->items[i];
        if (item->kind == HBK_SCALAR ? strlen(item->text) > LONG_TEXT
                                     : !is_flow(item, true)) {
            return false;
        }
    }
    return true;
}

struct writer {
    yaml_emitter_t emitter;
    bool is_flow; /* within { } or [ ] */
};

static bool emit(struct writer *w, yaml_event_t *event)
{
    return yaml_emitter_emit(&w->emitter, event) != 0;
}

/* How the text is to be quoted so that it reads back as what it was. */
static yaml_scalar_style_t style_of(const struct writer *w,
                                    const struct hbk_node *node)
{
    if (!node->is_quoted) {
        return YAML_PLAIN_SCALAR_STYLE;
    }
    const struct hbk_node bare = {.kind = HBK_SCALAR, .text = node->text};
    if (hbk_node_type(&bare) != HBK_IS_TEXT) {
        return YAML_SINGLE_QUOTED_SCALAR_STYLE;
    }
    if (!w->is_flow && strchr(node->text, '\n') != NULL) {
        return YAML_LITERAL_SCALAR_STYLE;
    }
    return !w->is_flow && strlen(node->text) > LONG_TEXT
               ? YAML_FOLDED_SCALAR_STYLE
               : YAML_ANY_SCALAR_STYLE;
}

static bool write_scalar(struct writer *w, const struct hbk_node *node)
{
    yaml_event_t event;
    return yaml_scalar_event_initialize(
               &event, NULL, NULL, (const yaml_char_t *)node->text,
               (int)strlen(node->text), 1, 1, style_of(w, node)) != 0 &&
           emit(w, &event);
}

static bool write_name(struct writer *w, const char *name)
{
    yaml_event_t event;
    return yaml_scalar_event_initialize(
               &event, NULL, NULL, (const yaml_char_t *)name, (int)strlen(name),
               1, 1, YAML_PLAIN_SCALAR_STYLE) != 0 &&
           emit(w, &event);
}

/* Depth is that of a tree: at most HBK_TREE_DEPTH_MAX. */
static bool write_node(struct writer *w, const struct hbk_node *node,
                       bool is_item);

static bool write_map(struct writer *w, const struct hbk_node *node)
{
    yaml_event_t event;
    bool is_good = yaml_mapping_start_event_initialize(
                       &event, NULL, NULL, 1,
                       w->is_flow ? YAML_FLOW_MAPPING_STYLE
                                  : YAML_BLOCK_MAPPING_STYLE) != 0 &&
                   emit(w, &event);
    for (size_t i = 0; i < node->n && is_good; i++) {
        is_good = write_name(w, node->entries[i].name) &&
                  write_node(w, &node->entries[i].value, false);
    }
    return is_good && yaml_mapping_end_event_initialize(&event) != 0 &&
           emit(w, &event);
}

static bool write_list(struct writer *w, const struct hbk_node *node)
{
    yaml_event_t event;
    bool is_good = yaml_sequence_start_event_initialize(
                       &event, NULL, NULL, 1,
                       w->is_flow ? YAML_FLOW_SEQUENCE_STYLE
                                  : YAML_BLOCK_SEQUENCE_STYLE) != 0 &&
                   emit(w, &event);
    for (size_t i = 0; i < node->n && is_good; i++) {
        is_good = write_node(w, &node->items[i], true);
    }
    return is_good && yaml_sequence_end_event_initialize(&event) != 0 &&
           emit(w, &event);
}

static bool write_node(struct writer *w, const struct hbk_node *node,
                       bool is_item)
{
    if (node->kind == HBK_SCALAR) {
        return write_scalar(w, node);
    }
    const bool before = w->is_flow;
    w->is_flow = before || is_flow(node, is_item);
    yaml_emitter_set_width(&w->emitter, w->is_flow ? NO_WIDTH : WIDTH);
    const bool is_good =
        node->kind == HBK_MAP ? write_map(w, node) : write_list(w, node);
    w->is_flow = before;
    yaml_emitter_set_width(&w->emitter, w->is_flow ? NO_WIDTH : WIDTH);
    return is_good;
}

static bool write_document(struct writer *w, const struct hbk_node *root)
{
    yaml_event_t event;
    return yaml_stream_start_event_initialize(&event, YAML_UTF8_ENCODING) !=
               0 &&
           emit(w, &event) &&
           yaml_document_start_event_initialize(&event, NULL, NULL, NULL, 1) !=
               0 &&
           emit(w, &event) && write_map(w, root) &&
           yaml_document_end_event_initialize(&event, 1) != 0 &&
           emit(w, &event) && yaml_stream_end_event_initialize(&event) != 0 &&
           emit(w, &event);
}

enum hbk_status hbk_tree_write(const struct hbk_node *root,
                               struct hbk_text *out)
{
    struct writer w = {.is_flow = false};
    if (yaml_emitter_initialize(&w.emitter) == 0) {
        return HBK_ERR_OUTPUT;
    }
    yaml_emitter_set_output(&w.emitter, append, out);
    yaml_emitter_set_unicode(&w.emitter, 1);
    yaml_emitter_set_width(&w.emitter, WIDTH);
    yaml_emitter_set_indent(&w.emitter, 2);
    const bool is_good = write_document(&w, root);
    yaml_emitter_delete(&w.emitter);
    return is_good ? HBK_OK : HBK_ERR_OUTPUT;
}
