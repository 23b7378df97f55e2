#include "report/lessons.h"

#include "horn/about.h"
#include "horn/press.h"
#include "report/beside.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/read.h"
#include "report/screen.h"
#include "sheet/words/words.h"

enum { WIDE_NUMBER = 8, WIDE_NOTE = 12, WIDE_LABEL = 11, WIDE_KNOWN = 15 };

/* In place of a written note: the header, and a row that has none. */
enum { HEADER = -1, NO_NOTE = -2 };

static const char *said(const struct hbk_lessons *lessons,
                        struct hbk_spelling written, char name[HBK_NAME_SIZE])
{
    const struct hbk_notation *const notation = &lessons->notes->notation;
    return hbk_spelling_said(hbk_notation_spelling(notation, written),
                             notation->naming, HBK_UNICODE, name);
}

static const char *kind_word(enum hbk_lesson_kind kind)
{
    static const char *const words[] = {[HBK_LESSON_NOTES] = "notes",
                                        [HBK_LESSON_SLUR] = "slur",
                                        [HBK_LESSON_CHORD] = "chord",
                                        [HBK_LESSON_MOVE] = "move",
                                        [HBK_LESSON_CALL] = "call"};
    return words[kind];
}

static void text_first(const struct hbk_lessons *lessons, struct hbk_text *out)
{
    const struct hbk_first *const first = &lessons->first;
    if (first->n == 0) {
        hbk_text_addf(out, "No lessons. %s\n", first->why);
        return;
    }
    hbk_text_add(out, "The first notes:");
    for (size_t i = 0; i < first->n; i++) {
        char name[HBK_NAME_SIZE];
        hbk_text_addf(out, " %s", said(lessons, first->spellings[i], name));
    }
    hbk_text_addf(out, ".\n%s\n", first->why);
}

/* What is told, and beside which horn; NULL for none. */
struct telling {
    const struct hbk_lessons *lessons;
    const struct hbk_notes *known;
};

/* A line of the table. */
struct row {
    size_t number; /* 0 for none */
    const char *note, *label, *why;
    int written; /* to compare; HEADER, NO_NOTE */
};

static void text_row(const struct telling *telling, const struct row *row,
                     struct hbk_text *out)
{
    size_t start = out->length;
    if (row->number > 0) {
        hbk_text_addf(out, "%4zu", row->number);
    }
    hbk_report_pad(out, start, WIDE_NUMBER);
    start = out->length;
    hbk_text_add(out, row->note);
    hbk_report_pad(out, start, WIDE_NOTE);
    start = out->length;
    hbk_text_add(out, row->label);
    hbk_report_pad(out, start, WIDE_LABEL);
    start = out->length;
    if (telling->known != NULL) {
        if (row->written != NO_NOTE) {
            hbk_beside_text_cells(telling->lessons->notes, telling->known,
                                  row->written, out);
        }
        hbk_report_pad(out, start, WIDE_KNOWN);
    }
    hbk_text_addf(out, HBK_HANG "%s\n", row->why);
}

static void text_lesson(const struct telling *telling,
                        const struct hbk_lesson *lesson, struct hbk_text *out)
{
    const struct hbk_lessons *const lessons = telling->lessons;
    char name[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE];
    for (size_t i = 0; i < lesson->n_new; i++) {
        const struct hbk_lesson_note *const added = &lesson->added[i];
        const struct row row = {
            i == 0 ? lesson->number : 0, said(lessons, added->spelling, name),
            hbk_horn_press_label(lessons->notes->horn, added->fingering->press,
                                 label),
            added->why, added->written};
        text_row(telling, &row, out);
    }
    if (lesson->n_new == 0) {
        char to[HBK_NAME_SIZE];
        const int fifths = lesson->study.tune->keys[0].fifths;
        const struct row row = {
            lesson->number,
            hbk_arena_printf(
                out->arena, "%s\u2013%s",
                said(lessons, hbk_spelling_in_key(lesson->from, fifths), name),
                said(lessons, hbk_spelling_in_key(lesson->to, fifths), to)),
            kind_word(lesson->kind), lesson->why, NO_NOTE};
        text_row(telling, &row, out);
    }
}

static void text_left(const struct hbk_lessons *lessons, struct hbk_text *out)
{
    if (lessons->n_left == 0) {
        return;
    }
    hbk_text_add(out, "\nLeft out: ");
    for (size_t i = 0; i < lessons->n_left; i++) {
        const struct hbk_lesson_left *const left = &lessons->left[i];
        char name[HBK_NAME_SIZE];
        hbk_text_addf(out, "%s%s (%s)", i == 0 ? "" : ", ",
                      said(lessons, hbk_note_usual(left->written), name),
                      left->why);
    }
    hbk_text_add(out, ".\n");
}

void hbk_lessons_text(const struct hbk_lessons *lessons,
                      const struct hbk_notes *known, struct hbk_text *out)
{
    const struct telling telling = {lessons, known};
    hbk_text_addf(out, "%s\n", hbk_words_head(out->arena, lessons->notes));
    text_first(lessons, out);
    if (known != NULL) {
        hbk_beside_text_head(lessons->notes, known, out);
    }
    if (lessons->n > 0) {
        hbk_text_add(out, "\n" HBK_HEAD);
        const struct row head = {0, hbk_read_heading(lessons->notes),
                                 "fingering", "why", HEADER};
        text_row(&telling, &head, out);
        out->length--; /* the mark goes before the end of the line */
        hbk_text_add(out, HBK_PLAIN "\n");
    }
    for (size_t i = 0; i < lessons->n; i++) {
        text_lesson(&telling, &lessons->lessons[i], out);
    }
    text_left(lessons, out);
}

static void json_spelled(const struct hbk_lessons *lessons,
                         struct hbk_spelling spelling, struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    const struct hbk_spelling sharp =
        hbk_note_sharp(hbk_spelling_note(spelling));
    hbk_json_string(json, "name", hbk_spelling_name(spelling, HBK_ASCII, name));
    hbk_json_string(json, "written", hbk_spelling_name(sharp, HBK_ASCII, name));
    hbk_read_json(lessons->notes,
                  hbk_notation_spelling(&lessons->notes->notation, spelling),
                  json);
}

static void json_pressed(const struct hbk_lessons *lessons,
                         const struct hbk_fingering *fingering,
                         struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    hbk_json_string(
        json, "label",
        hbk_horn_press_label(lessons->notes->horn, fingering->press, label));
    hbk_json_whole(json, "partial", (long)fingering->partial);
    hbk_json_number(json, "cents", fingering->cents, 2);
}

static void json_written(const char *member, int written, struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    hbk_json_string(
        json, member,
        hbk_spelling_name(hbk_note_sharp(written), HBK_ASCII, name));
}

static void json_first(const struct hbk_lessons *lessons, struct hbk_json *json)
{
    const struct hbk_first *const first = &lessons->first;
    hbk_json_open_object(json, "first");
    hbk_json_string(json, "why", first->why);
    hbk_json_open_array(json, "notes");
    for (size_t i = 0; i < first->n; i++) {
        hbk_json_open_object(json, NULL);
        json_spelled(lessons, first->spellings[i], json);
        json_pressed(lessons, first->fingerings[i], json);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

/* As `--run` of passage takes it: "C4:1/2 D4 | r:1/2". */
static const char *run_of(const struct hbk_tune *tune, struct hbk_arena *arena)
{
    struct hbk_text run = {.arena = arena};
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        char name[HBK_NAME_SIZE];
        char length[HBK_RATIO_TEXT];
        const char *const gap = i == 0                                  ? ""
                                : event->bar != tune->events[i - 1].bar ? " | "
                                                                        : " ";
        hbk_text_addf(&run, "%s%s%s:%s%s", gap,
                      event->slur_starts > 0 ? "(" : "",
                      event->kind == HBK_TUNE_REST
                          ? "r"
                          : hbk_spelling_name(event->spelling, HBK_ASCII, name),
                      hbk_ratio_text(event->length, length),
                      event->slur_stops > 0 ? ")" : "");
    }
    return hbk_text_string(&run);
}

static void json_signs(unsigned signs, struct hbk_json *json)
{
    static const char *const words[HBK_STUDY_SIGNS] = {
        "whole note",     "half note",   "dotted half note", "quarter note",
        "dotted quarter", "eighth note", "half rest",        "quarter rest",
        "breath mark",    "slur",        "key signature"};
    hbk_json_open_array(json, "new_signs");
    for (unsigned i = 0; i < HBK_STUDY_SIGNS; i++) {
        if ((signs >> i & 1U) != 0) {
            hbk_json_string(json, NULL, words[i]);
        }
    }
    hbk_json_close_array(json);
}

static void json_study(const struct hbk_study *study, struct hbk_json *json)
{
    hbk_json_open_object(json, "study");
    hbk_json_whole(json, "signature", study->tune->keys[0].fifths);
    hbk_json_string(json, "meter", "4/4");
    hbk_json_whole(json, "bars", (long)study->n_bars);
    json_written("tonic", study->tonic, json);
    hbk_json_string(json, "run", run_of(study->tune, json->out->arena));
    hbk_json_close_object(json);
}

/* Steps with a finger that stays down. */
static void json_holds(const struct hbk_lessons *lessons,
                       const struct hbk_lesson_note *added,
                       struct hbk_json *json)
{
    hbk_json_open_array(json, "holds");
    for (size_t i = 0; i < added->n_holds; i++) {
        const struct hbk_lesson_hold *const hold = &added->holds[i];
        hbk_json_open_object(json, NULL);
        json_written("from", hold->from, json);
        json_written("to", hold->to, json);
        json_pressed(lessons, hold->fingering, json);
        hbk_json_string(json, "how", hold->words);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_lesson(const struct telling *telling,
                        const struct hbk_lesson *lesson, struct hbk_json *json)
{
    const struct hbk_lessons *const lessons = telling->lessons;
    hbk_json_open_object(json, NULL);
    hbk_json_whole(json, "number", (long)lesson->number);
    hbk_json_string(json, "kind", kind_word(lesson->kind));
    hbk_json_open_array(json, "new");
    for (size_t i = 0; i < lesson->n_new; i++) {
        const struct hbk_lesson_note *const added = &lesson->added[i];
        hbk_json_open_object(json, NULL);
        json_spelled(lessons, added->spelling, json);
        json_pressed(lessons, added->fingering, json);
        hbk_json_bool(json, "care", added->care);
        hbk_json_string(json, "why", added->why);
        json_holds(lessons, added, json);
        if (telling->known != NULL) {
            hbk_beside_json_brief(lessons->notes, telling->known,
                                  added->written, json);
        }
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    if (lesson->kind != HBK_LESSON_NOTES) {
        json_written("from", lesson->from, json);
        json_written("to", lesson->to, json);
        hbk_json_string(json, "why", lesson->why);
    }
    hbk_json_open_array(json, "known");
    for (size_t i = 0; i < lesson->n_known; i++) {
        json_written(NULL, lesson->known[i], json);
    }
    hbk_json_close_array(json);
    json_signs(lesson->new_signs, json);
    json_study(&lesson->study, json);
    hbk_json_close_object(json);
}

void hbk_lessons_json(const struct hbk_lessons *lessons,
                      const struct hbk_notes *known, struct hbk_text *out)
{
    const struct telling telling = {lessons, known};
    struct hbk_json json = hbk_report_json_begin("hornbook-lessons/1", out);
    hbk_json_string(&json, "horn", hbk_horn_name(lessons->notes->horn));
    hbk_notes_json_setting(lessons->notes, &json);
    hbk_json_open_object(&json, "range");
    json_written("low", lessons->low, &json);
    json_written("high", lessons->high, &json);
    hbk_json_close_object(&json);
    if (known != NULL) {
        hbk_beside_json_head(lessons->notes, known, &json);
    }
    json_first(lessons, &json);
    hbk_json_open_array(&json, "lessons");
    for (size_t i = 0; i < lessons->n; i++) {
        json_lesson(&telling, &lessons->lessons[i], &json);
    }
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "left_out");
    for (size_t i = 0; i < lessons->n_left; i++) {
        hbk_json_open_object(&json, NULL);
        json_written("written", lessons->left[i].written, &json);
        hbk_json_string(&json, "why", lessons->left[i].why);
        hbk_json_close_object(&json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
