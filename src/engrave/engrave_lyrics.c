#include "engrave/engrave_lyrics.h"

#include "base/text.h"
#include "engrave/engrave_spots.h"
#include "engrave/quill.h"

#include <math.h>
#include <string.h>

/* In staff spaces; common practice. */
static const double em = 2.0;
static const double least_points = 9.5;
static const double up = 0.76; /* of a letter, in its em */
static const double leading = 1.2;
static const double off_music = 0.8;
static const double word_gap = 0.8;   /* between two words at least */
static const double hyphen_gap = 1.7; /* between two parts of a word */
static const double hyphen_wide = 0.7;
static const double hyphens_apart = 9.0;
static const double hyphen_up = 0.45; /* its height above the base line */
static const double hyphen_pen = 0.14;
static const double line_pen = 0.12;
static const double line_gap = 0.3; /* between a word and its line */
static const double least_line = 1.0;
static const double before_verse = 0.6; /* from its number to the words */
static const double number_room = 2.2;  /* of both */

/* A syllable where it stands. */
struct sung {
    const struct hbk_tune_syllable *syllable;
    const char *label; /* "1." before it, or "" */
    double x0, x1;     /* of its letters */
};

/* One verse on one line. */
struct verse {
    struct hbk_eng_view *view;
    unsigned number;
    struct hbk_style style;
    double y;
    size_t n;
    struct sung *sung;
    const struct hbk_tune_syllable *before; /* on a line before */
    bool goes_on;                           /* on a later line */
};

static struct hbk_style style_at(double space)
{
    return (struct hbk_style){.face = HBK_FACE_PLAIN,
                              .size = fmax(em, HBK_PT(least_points) / space),
                              .align = HBK_LEFT};
}

/* How much of a text is the number of its verse: "1. " of "1. When". */
static size_t number_length(const char *text)
{
    size_t n = strspn(text, "0123456789");
    if (n == 0 || text[n] != '.') {
        return 0;
    }
    n++;
    return n + strspn(text + n, " ");
}

static const char *words_of(const struct hbk_tune_syllable *syllable)
{
    return syllable->text + number_length(syllable->text);
}

/*
 * A syllable stands under the middle of its head; one that is sung to several
 * notes begins where its first head does. The number of a verse stands before.
 */
static double left_of(const struct hbk_eng_note *note,
                      const struct hbk_tune_syllable *syllable, double width)
{
    const bool is_long = syllable->last > syllable->event && !syllable->hyphen;
    return is_long ? 0.0 : 0.5 * (note->width - width);
}

static size_t note_of(const struct hbk_engraving *eng, size_t event)
{
    return event < eng->tune->n_events ? eng->note_of[event] : HBK_ENG_NONE;
}

void hbk_eng_measure_lyrics(struct hbk_engraving *eng,
                            const struct hbk_pad *pad, double space)
{
    const struct hbk_tune_marks *marks = &eng->tune->marks;
    struct hbk_style style = style_at(space);
    style.size *= space;
    for (size_t i = 0; i < marks->n_syllables; i++) {
        const struct hbk_tune_syllable *syllable = &marks->syllables[i];
        const size_t at = note_of(eng, syllable->event);
        if (at == HBK_ENG_NONE || syllable->text[0] == '\0') {
            continue;
        }
        struct hbk_eng_note *note = &eng->notes[at];
        const double width =
            hbk_pad_width(pad, style, words_of(syllable)) / space;
        const double left = left_of(note, syllable, width);
        const double number =
            number_length(syllable->text) == 0 ? 0.0 : number_room;
        note->sung_left = fmax(note->sung_left, number - left);
        note->sung_right = fmax(note->sung_right, left + width);
        note->sung_gap =
            fmax(note->sung_gap, syllable->hyphen ? hyphen_gap : word_gap);
    }
    eng->sung = marks->n_syllables > 0;
}

/* The number of a verse: as its words have it, else where it begins. */
static const char *label_of(const struct verse *verse,
                            const struct hbk_tune_syllable *syllable)
{
    const struct hbk_engraving *eng = verse->view->eng;
    const size_t numbered = strspn(syllable->text, "0123456789");
    if (number_length(syllable->text) > 0) {
        return hbk_arena_printf(eng->arena, "%.*s.", (int)numbered,
                                syllable->text);
    }
    const bool begins = verse->before == NULL && verse->n == 0;
    return eng->tune->marks.n_verses > 1 && begins
               ? hbk_arena_printf(eng->arena, "%u.", verse->number)
               : "";
}

/* The next syllable of a verse from `i` on, or before it; NULL for none. */
static const struct hbk_tune_syllable *syllable_of(const struct verse *verse,
                                                   size_t i, bool before)
{
    const struct hbk_engraving *eng = verse->view->eng;
    const struct hbk_tune_marks *marks = &eng->tune->marks;
    while (before ? i > 0 : i < marks->n_syllables) {
        const struct hbk_tune_syllable *syllable =
            &marks->syllables[before ? --i : i++];
        if (syllable->verse == verse->number) {
            return note_of(eng, syllable->event) == HBK_ENG_NONE ? NULL
                                                                 : syllable;
        }
    }
    return NULL;
}

/* What of a verse stands on the line; false if nothing does or goes on. */
static bool find_verse(struct verse *verse)
{
    const struct hbk_eng_view *view = verse->view;
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_tune_marks *marks = &eng->tune->marks;
    if (view->first == view->end) {
        return false;
    }
    const size_t from =
        hbk_tune_syllables_from(marks, eng->notes[view->first].event);
    const size_t to =
        hbk_tune_syllables_from(marks, eng->notes[view->end - 1].event + 1);
    verse->before = syllable_of(verse, from, true);
    verse->goes_on = syllable_of(verse, to, false) != NULL;
    verse->sung = HBK_ARENA_ARRAY(eng->arena, struct sung, to - from + 1);
    for (size_t i = from; i < to; i++) {
        const struct hbk_tune_syllable *syllable = &marks->syllables[i];
        if (syllable->verse != verse->number) {
            continue;
        }
        const char *const label = label_of(verse, syllable);
        const struct hbk_eng_note *note =
            &eng->notes[note_of(eng, syllable->event)];
        const double width =
            hbk_quill_width(view->quill, verse->style, words_of(syllable));
        const double alone = note->x + left_of(note, syllable, width);
        const double x0 = fmax(fmin(alone, view->line->room - width), 0.0);
        verse->sung[verse->n++] =
            (struct sung){syllable, label, x0, x0 + width};
    }
    return verse->n > 0 || verse->before != NULL;
}

/* Hyphens in the middle of a gap, several in a long one. */
static void draw_hyphens(const struct verse *verse, double x0, double x1)
{
    const double room = x1 - x0;
    if (room < hyphen_wide + 0.2) {
        return;
    }
    const int n = (int)fmax(1.0, floor(room / hyphens_apart));
    for (int i = 0; i < n; i++) {
        const double x = x0 + room * (i + 0.5) / n;
        hbk_quill_line(verse->view->quill, x - 0.5 * hyphen_wide,
                       verse->y + hyphen_up, hyphen_wide, 0.0, hyphen_pen);
    }
}

/* The line below the notes that are sung to one syllable. */
static void draw_line(const struct verse *verse, double from,
                      const struct hbk_tune_syllable *syllable)
{
    const struct hbk_eng_view *view = verse->view;
    const size_t last = note_of(view->eng, syllable->last);
    if (last == HBK_ENG_NONE || last < view->first) {
        return;
    }
    const struct hbk_eng_note *note = &view->eng->notes[last];
    const double to =
        last < view->end ? note->x + note->width : hbk_eng_line_end(view);
    if (to - from >= least_line) {
        hbk_quill_line(view->quill, from, verse->y, to - from, 0.0, line_pen);
    }
}

/* What comes from the line before, up to the first syllable. */
static void draw_before(const struct verse *verse)
{
    const struct hbk_tune_syllable *before = verse->before;
    const double from = hbk_eng_line_start(verse->view);
    if (before == NULL) {
        return;
    }
    if (before->hyphen && verse->n == 0 && !verse->goes_on) {
        return; /* a word that never ends */
    }
    if (before->hyphen) {
        const double to =
            verse->n > 0 ? verse->sung[0].x0 : hbk_eng_line_end(verse->view);
        draw_hyphens(verse, from, to - 0.2);
    } else {
        draw_line(verse, from, before);
    }
}

/* What follows a syllable, up to the next one or the end of the line. */
static void draw_after(const struct verse *verse, size_t i)
{
    const struct sung *sung = &verse->sung[i];
    const bool is_last = i + 1 == verse->n;
    if (!sung->syllable->hyphen) {
        draw_line(verse, sung->x1 + line_gap, sung->syllable);
    } else if (!is_last) {
        draw_hyphens(verse, sung->x1, sung[1].x0);
    } else {
        const double end = verse->goes_on ? hbk_eng_line_end(verse->view) : 0.0;
        draw_hyphens(verse, sung->x1,
                     fmin(fmax(end, sung->x1 + 1.5), verse->view->line->room));
    }
}

/* The verse as it is spoken: its words whole. */
static const char *said(const struct verse *verse)
{
    struct hbk_text text = {.arena = verse->view->eng->arena};
    const unsigned n_verses = verse->view->eng->tune->marks.n_verses;
    if (n_verses > 1) {
        hbk_text_addf(&text, "verse %u: ", verse->number);
    } else {
        hbk_text_add(&text, "words: ");
    }
    for (size_t i = 0; i < verse->n; i++) {
        const struct hbk_tune_syllable *syllable = verse->sung[i].syllable;
        hbk_text_add(&text, words_of(syllable));
        hbk_text_add(&text, syllable->hyphen && i + 1 < verse->n ? ""
                            : syllable->hyphen                   ? "- "
                                                                 : " ");
    }
    return hbk_text_string(&text);
}

static void draw_verse(const struct verse *verse)
{
    struct hbk_quill *quill = verse->view->quill;
    hbk_pad_group(quill->pad);
    if (verse->n > 0) {
        hbk_pad_read_as(quill->pad, said(verse));
        struct hbk_style style = verse->style;
        style.align = HBK_RIGHT;
        for (size_t i = 0; i < verse->n; i++) {
            hbk_quill_text(quill, verse->sung[i].x0 - before_verse, verse->y,
                           style, verse->sung[i].label);
            hbk_quill_text(quill, verse->sung[i].x0, verse->y, verse->style,
                           words_of(verse->sung[i].syllable));
        }
        hbk_pad_read_as(quill->pad, NULL);
    }
    draw_before(verse);
    for (size_t i = 0; i < verse->n; i++) {
        draw_after(verse, i);
    }
}

void hbk_eng_draw_lyrics(struct hbk_eng_view *view)
{
    const struct hbk_tune_marks *marks = &view->eng->tune->marks;
    const struct hbk_style style = style_at(view->quill->space);
    const double far = 1e6;
    double y =
        hbk_quill_bottom(view->quill, -far, far) - off_music - up * style.size;
    for (unsigned number = 1; number <= marks->n_verses; number++) {
        struct verse verse = {
            .view = view, .number = number, .style = style, .y = y};
        if (find_verse(&verse)) {
            draw_verse(&verse);
            y -= leading * style.size;
        }
    }
}
