#include "reader/horn_file.h"

#include "base/messages.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "reader/based.h"
#include "reader/kind.h"
#include "reader/work.h"

#include <assert.h>
#include <string.h>

/* The file name without folder and ending. */
static const char *id_of(const char *path, struct hbk_arena *arena)
{
    const char *const slash = strrchr(path, '/');
    const char *const name = slash == NULL ? path : slash + 1;
    const char *const dot = strrchr(name, '.');
    const size_t length =
        dot == NULL || dot == name ? strlen(name) : (size_t)(dot - name);
    return strcmp(name, "-") == 0 ? "horn"
                                  : hbk_arena_copy(arena, name, length);
}

/* Read last, when it is known which controls the horn has. */
static void read_tuning_press(struct hbk_work *work)
{
    const struct hbk_node *const tuning = hbk_fields_find(&work->top, "tuning");
    if (tuning == NULL || tuning->kind != HBK_MAP) {
        return;
    }
    struct hbk_fields fields = work->top;
    fields.map = tuning;
    fields.words = "tuning";
    const struct hbk_node *const node = hbk_fields_find(&fields, "fingering");
    struct hbk_horn *const horn = work->horn;
    if (node == NULL) {
        return;
    }
    horn->has_tuning_press =
        node->kind == HBK_SCALAR &&
        hbk_horn_press_parse(horn, node->text, &horn->tuning_press);
    if (!horn->has_tuning_press) {
        hbk_value_fault(hbk_fields_ask(&fields, "fingering"),
                        HBK_H_TUNING_FINGERING,
                        "it names what this horn has not; write 0 for "
                        "nothing, or what is pressed, as in 1-3");
    }
}

static void read_parts(struct hbk_work *work)
{
    static const char *const known[] = {
        "hornbook",       "name",          "source",      "written_c4_sounds",
        "clef",           "tuning",        "compass",     "remarks",
        "provenance",     "length",        "fundamental", "bore",
        "partials",       "player_offset", "player",      "keys",
        "valves",         "triggers",      "slides",      "bits",
        "crooks",         "mouthpiece",    "wavefronts",  "bell",
        "step_inertance", "based_on",      "fitted",      "stuck",
        "learn_from",     "mouthpieces",   "bore_assumed"};
    hbk_fields_known(&work->top, known, sizeof(known) / sizeof(known[0]));
    hbk_work_about(work);
    hbk_work_tube(work);
    hbk_work_mouthpieces(work);
    hbk_work_partials(work);
    hbk_work_keys(work);
    hbk_work_valves(work);
    hbk_work_slides(work);
    hbk_work_stuck(work);
    hbk_work_check(work);
    hbk_work_fitted(work);
    read_tuning_press(work);
}

/* Files in the order of their first fault, each in the order of its lines. */
static bool comes_before(const struct hbk_fault *a, const struct hbk_fault *b)
{
    if (strcmp(a->file, b->file) != 0) {
        return false;
    }
    return a->line < b->line || (a->line == b->line && a->column < b->column);
}

static void sort_faults(struct hbk_faults *faults, size_t first)
{
    for (size_t i = first + 1; i < faults->count; i++) {
        for (size_t k = i; k > first && comes_before(&faults->items[k],
                                                     &faults->items[k - 1]);
             k--) {
            const struct hbk_fault fault = faults->items[k];
            faults->items[k] = faults->items[k - 1];
            faults->items[k - 1] = fault;
        }
    }
}

/* The horn that a tree describes, with what it is based on. */
static enum hbk_status read_tree(const char *path, const struct hbk_node *own,
                                 size_t errors, struct hbk_horn *horn,
                                 struct hbk_faults *faults)
{
    struct hbk_arena *const arena = &horn->arena;
    struct hbk_node root = {0};
    HBK_TRY(hbk_based_on(path, own, arena, &root, faults));
    struct hbk_work work = {
        .horn = horn,
        .top = {.map = &root, .words = "", .arena = arena, .faults = faults}};
    horn->path = path;
    horn->id = id_of(path, arena);
    read_parts(&work);
    return faults->errors > errors ? HBK_ERR_INPUT : HBK_OK;
}

/* Reads the text, or, when that is NULL, the file of that path. */
static enum hbk_status read_horn(const char *path, const char *bytes,
                                 size_t length, struct hbk_horn *horn,
                                 struct hbk_faults *faults)
{
    const size_t first = faults->count;
    const size_t errors = faults->errors;
    hbk_horn_init(horn);
    struct hbk_arena *const arena = &horn->arena;
    struct hbk_node own = {0};
    /* Places of sites outlive this call, and must not outlive their path. */
    path = hbk_arena_copy(arena, path, strlen(path));
    enum hbk_status status =
        bytes == NULL ? hbk_kind_read(&hbk_kind_horn, path, arena, &own, faults)
                      : hbk_kind_parse(&hbk_kind_horn, path, bytes, length,
                                       arena, &own, faults);
    if (status == HBK_OK) {
        status = read_tree(path, &own, errors, horn, faults);
    }
    sort_faults(faults, first);
    if (status != HBK_OK) {
        hbk_horn_finish(horn);
        hbk_horn_init(horn);
    }
    return status;
}

enum hbk_status hbk_horn_read_text(const char *path, const char *bytes,
                                   size_t length, struct hbk_horn *horn,
                                   struct hbk_faults *faults)
{
    assert(bytes != NULL);
    return read_horn(path, bytes, length, horn, faults);
}

enum hbk_status hbk_horn_read(const char *path, struct hbk_horn *horn,
                              struct hbk_faults *faults)
{
    return read_horn(path, NULL, 0, horn, faults);
}
