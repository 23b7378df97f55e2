#include "sheet/chart/plate_list.h"

#include "base/text.h"
#include "notes/beside.h"
#include "notes/verdict.h"
#include "sheet/chart/gamut.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_signs.h"

#include <string.h>

/* Of what stands before the first column, at unit 1, mm. */
static const double label_named = 41.0;
static const double label_bare = 34.0;

static bool needs_lip(const struct hbk_note *note)
{
    return note->n > 0 && hbk_lip_needed(note->fingerings[0].cents) != 0;
}

/* Which columns a player of the other horn must look at: the fewer. */
static void mark_columns(struct hbk_plate *plate)
{
    const struct hbk_notes *beside = plate->options->beside;
    if (beside == NULL) {
        return;
    }
    size_t same = 0;
    for (size_t i = 0; i < plate->n; i++) {
        struct hbk_plate_column *column = &plate->columns[i];
        column->is_marked =
            hbk_beside_note(plate->notes, beside, column->note->written) !=
            HBK_BESIDE_SAME;
        same += column->is_marked ? 0 : 1;
    }
    plate->marks_same = 2 * same < plate->n;
    for (size_t i = 0; plate->marks_same && i < plate->n; i++) {
        plate->columns[i].is_marked = !plate->columns[i].is_marked;
    }
}

static void list_columns(struct hbk_plate *plate,
                         const struct hbk_gamut_notes *chosen)
{
    plate->n = chosen->n;
    plate->columns = HBK_ARENA_ARRAY(plate->pad.sheet->arena,
                                     struct hbk_plate_column, chosen->n);
    for (size_t i = 0; i < chosen->n; i++) {
        const struct hbk_note *note = &plate->notes->notes[chosen->shown[i]];
        const int read =
            hbk_notation_note(&plate->notes->notation, note->written);
        plate->columns[i] =
            (struct hbk_plate_column){.note = note,
                                      .read = read,
                                      .is_half = hbk_note_is_black(read),
                                      .is_c = read % 12 == 0};
        plate->has_lip = plate->has_lip || plate->is_every || needs_lip(note);
        plate->has_slide = plate->has_slide ||
                           (note->n > 0 && note->fingerings[0].drawn_m > 0.0);
    }
    mark_columns(plate);
}

/* Rows that go together: keys before valves, and by the hand. */
static int group_of(const struct hbk_horn *horn, size_t control)
{
    const struct hbk_control *what = &horn->controls[control];
    return (what->kind == HBK_KEY ? 0 : 2) +
           (hbk_finger_is_left(what->fingers[0]) ? 1 : 0);
}

/*
 * Keys stand as on the tube, the farthest from the bell on top, and so do the
 * hands; valves as they are counted.
 */
static void list_rows(struct hbk_plate *plate)
{
    const struct hbk_horn *horn = plate->notes->horn;
    double sum[4] = {0.0};
    size_t count[4] = {0};
    for (size_t i = 0; i < horn->n_controls; i++) {
        const int group = group_of(horn, i);
        sum[group] += (double)i;
        count[group]++;
    }
    int order[4] = {0, 1, 2, 3};
    for (int kind = 0; kind < 4; kind += 2) {
        const double a = count[kind] > 0 ? sum[kind] / (double)count[kind] : 0;
        const double b =
            count[kind + 1] > 0 ? sum[kind + 1] / (double)count[kind + 1] : 0;
        if (kind == 0 ? b > a : b < a) {
            order[kind] = kind + 1;
            order[kind + 1] = kind;
        }
    }
    for (int g = 0; g < 4; g++) {
        for (size_t k = 0; k < horn->n_controls; k++) {
            const size_t i = order[g] < 2 ? horn->n_controls - 1 - k : k;
            if (group_of(horn, i) == order[g]) {
                plate->rows[plate->n_rows++] =
                    (struct hbk_plate_row){.control = i,
                                           .is_left = hbk_finger_is_left(
                                               horn->controls[i].fingers[0])};
            }
        }
        if (plate->n_rows > 0) {
            plate->rows[plate->n_rows - 1].ends_group = true;
        }
    }
}

static bool has_names(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].called != NULL) {
            return true;
        }
    }
    return false;
}

/* For whom it is, and how the horn is set. */
static const char *set_words(const struct hbk_plate *plate)
{
    struct hbk_arena *arena = plate->pad.sheet->arena;
    const struct hbk_notes *notes = plate->notes;
    const enum hbk_words_length length = HBK_WORDS_BRIEF;
    const char *const words[] = {
        hbk_words_whom(arena, plate->options->whom),
        hbk_words_reversed(arena, notes), hbk_words_set(arena, notes, length),
        hbk_words_rest(arena, notes, length), hbk_words_assumed(arena, notes)};
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if (words[i][0] != '\0') {
            hbk_text_addf(&text, "%s%s%s", text.length > 0 ? " " : "", words[i],
                          i == 0 ? "." : "");
        }
    }
    return hbk_text_string(&text);
}

/* "Keyed bugle in C" and "six keys" of a name with a comma. */
static void set_names(struct hbk_plate *plate)
{
    struct hbk_arena *arena = plate->pad.sheet->arena;
    const struct hbk_notes *notes = plate->notes;
    const char *name = plate->options->title == NULL ? notes->horn->name
                                                     : plate->options->title;
    const size_t length = strcspn(name, ",");
    plate->name = hbk_arena_copy(arena, name, length);
    const char *rest = name[length] == ',' ? name + length + 1 : "";
    rest += strspn(rest, " ");
    plate->below = hbk_arena_printf(arena, "%s%s%s", rest,
                                    rest[0] == '\0' ? "" : " \u00B7 ",
                                    hbk_words_read_sounds(arena, notes));
    const char *set = set_words(plate);
    const double width = plate->paper.width - 2.6 * HBK_PLATE_MARGIN * plate->s;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, 10.5, plate->s, HBK_CENTRE);
    const char *joined =
        hbk_arena_printf(arena, "%s \u00B7 %s", plate->below, set);
    /* On one line where it can be read there. */
    const struct hbk_style line =
        hbk_style_of(HBK_FACE_ITALIC, 11.0, plate->s, HBK_CENTRE);
    if (hbk_pad_width(&plate->pad, line, joined) <= width) {
        plate->below = joined;
        plate->set = (struct hbk_lines){0};
        return;
    }
    if (hbk_pad_width(&plate->pad, style, plate->below) > width) {
        set = hbk_arena_printf(arena, "%s. %s", plate->below, set);
        plate->below = "";
    }
    plate->set = hbk_pad_wrap(&plate->pad, style, width, set);
}

bool hbk_plate_begin(struct hbk_plate *plate)
{
    struct hbk_gamut_notes chosen;
    struct hbk_arena *arena = plate->pad.sheet->arena;
    hbk_gamut_choose(arena, plate->notes, &chosen);
    if (chosen.n == 0) {
        return false;
    }
    list_columns(plate, &chosen);
    plate->beyond =
        chosen.n_left_out == 0
            ? ""
            : hbk_arena_printf(arena, "Between %s and %s it cannot play %s. ",
                               hbk_words_read_both(arena, plate->notes,
                                                   plate->notes->lowest),
                               hbk_words_read_both(arena, plate->notes,
                                                   plate->notes->highest),
                               hbk_words_read_runs(arena, plate->notes,
                                                   chosen.n_left_out,
                                                   chosen.left_out));
    list_rows(plate);
    set_names(plate);
    plate->label = (plate->n_rows == 0              ? 16.0
                    : has_names(plate->notes->horn) ? label_named
                                                    : label_bare) *
                   plate->s;
    return true;
}
