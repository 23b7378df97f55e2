#include "sheet/chart/large.h"

#include "base/text.h"
#include "engrave/staff.h"
#include "horn/about.h"
#include "horn/control.h"
#include "horn/press.h"
#include "notes/verdict.h"
#include "sheet/block/said.h"
#include "sheet/block/title.h"
#include "sheet/chart/gamut.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_system.h"
#include "sheet/words/words_use.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Points. */
static const double body_points = 16.0;
static const double name_points = 30.0;
static const double number_points = 38.0;

/* mm. */
static const double margin = 13.0;
static const double leading = 7.4;
static const double space = 2.4; /* of the staff */
static const double staff_width = 30.0;
static const double name_width = 34.0;
static const double number_width = 36.0;
static const double between = 3.0;

/* Alternates that are read out; one at the most is printed. */
enum { SAID_OTHERS = 3 };

struct large {
    struct hbk_pad pad;
    const struct hbk_notes *notes;
    const struct hbk_sheet_options *options;
    struct hbk_paper_size paper;
    double y;
    double above, below; /* of the staff, spaces */
    bool in_table;       /* a table is open on this page */
};

static struct hbk_style body(void)
{
    return hbk_style_of(HBK_FACE_PLAIN, body_points, 1.0, HBK_LEFT);
}

static void open_table(struct large *large)
{
    hbk_pad_open(&large->pad, HBK_TAG_TABLE);
    hbk_said_heads(&large->pad, (struct hbk_point){margin, large->y}, true);
    large->in_table = true;
}

static void turn_page(struct large *large)
{
    /* Parts of a document end with their page. */
    if (large->in_table) {
        hbk_pad_close(&large->pad, HBK_TAG_TABLE);
    }
    struct hbk_paper_size paper = large->paper;
    paper.margin = margin - 3.0;
    const struct hbk_sheet *sheet = large->pad.sheet;
    hbk_pad_page(&large->pad, paper,
                 sheet->n_pages == 0
                     ? sheet->title
                     : hbk_arena_printf(sheet->arena, "%s: %s, page %zu",
                                        sheet->title, sheet->kind,
                                        sheet->n_pages + 1));
    large->y = margin;
    if (large->in_table) {
        open_table(large);
    }
}

/* A paragraph, over as many pages as it needs. */
static void put_words(struct large *large, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const struct hbk_lines lines = hbk_pad_wrap(
        &large->pad, body(), large->paper.width - 2.0 * margin, text);
    hbk_pad_open(&large->pad, HBK_TAG_PARAGRAPH);
    for (size_t i = 0; i < lines.n; i++) {
        if (large->y + leading > large->paper.height - margin) {
            hbk_pad_close(&large->pad, HBK_TAG_PARAGRAPH);
            turn_page(large);
            hbk_pad_open(&large->pad, HBK_TAG_PARAGRAPH);
        }
        const struct hbk_lines line = {1, lines.text + i, lines.widest};
        hbk_pad_group(&large->pad);
        hbk_pad_lines(&large->pad, margin, large->y + 5.4, body(), leading,
                      &line);
        large->y += leading;
    }
    hbk_pad_close(&large->pad, HBK_TAG_PARAGRAPH);
    large->y += between;
}

/* "right ring finger on key 2 and right index finger on key 3". */
static const char *fingers_of(struct hbk_arena *arena,
                              const struct hbk_notes *notes,
                              const struct hbk_fingering *fingering)
{
    struct hbk_text text = {.arena = arena};
    size_t left = (size_t)__builtin_popcount(fingering->press);
    if (hbk_horn_n_controls(notes->horn) == 0) {
        return hbk_arena_printf(arena, "partial %u", fingering->partial);
    }
    if (left == 0) {
        return "nothing pressed";
    }
    for (size_t i = 0; i < hbk_horn_n_controls(notes->horn); i++) {
        if ((fingering->press >> i & 1u) == 0) {
            continue;
        }
        const struct hbk_control *control = hbk_horn_control(notes->horn, i);
        char words[40];
        hbk_text_addf(&text, "%s%s on %s",
                      text.length == 0 ? ""
                      : left == 1      ? " and "
                                       : ", ",
                      hbk_finger_words(control->fingers[0]),
                      hbk_control_words(control, words, sizeof(words)));
        left--;
    }
    return hbk_text_string(&text);
}

/* A capital at the head of each sentence. */
static void capitalize(char *text)
{
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (i == 0 || (i > 1 && text[i - 1] == ' ' && text[i - 2] == '.')) {
            text[i] = (char)toupper((unsigned char)text[i]);
        }
    }
}

/* What the lip must do, and the next fingering. */
static const char *hints_of(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_note *note)
{
    struct hbk_text text = {.arena = arena};
    const struct hbk_fingering *first = &note->fingerings[0];
    const char *lip = hbk_words_lip(first->cents);
    hbk_text_add(&text, hbk_words_draw(arena, notes->horn, first));
    if (lip[0] != '\0') {
        hbk_text_addf(&text, "%s%s %.0f cents", text.length > 0 ? ". " : "",
                      lip, fabs(first->cents));
    }
    if ((first->verdict & HBK_VERDICT_UNRELIABLE) != 0) {
        hbk_text_addf(&text, "%sunreliable", text.length > 0 ? "; " : "");
    }
    if (note->n > 1 &&
        (note->fingerings[1].verdict & HBK_VERDICT_UNRELIABLE) == 0) {
        hbk_text_addf(&text, "%s %s", text.length > 0 ? ". Or" : "Or",
                      hbk_gamut_label(arena, notes, &note->fingerings[1]));
    }
    if (text.length > 0) {
        capitalize(text.bytes);
    }
    return hbk_text_string(&text);
}

/* ". Sounds B flat 4", where that was asked for. */
static const char *sounding_words(const struct large *large,
                                  const struct hbk_note *note)
{
    struct hbk_arena *arena = large->pad.sheet->arena;
    return large->options->sounding
               ? hbk_arena_printf(
                     arena, "; sounds %s",
                     hbk_words_sounding(arena, note->written,
                                        large->notes->written_c4_sounds))
               : "";
}

static void put_name(struct large *large, int read, double x, double base)
{
    const enum hbk_naming naming = large->notes->notation.naming;
    char sharp[HBK_NAME_SIZE];
    char flat[HBK_NAME_SIZE];
    const struct hbk_spelling spelling = hbk_note_sharp(read);
    hbk_spelling_called(spelling, naming, HBK_UNICODE, sharp);
    hbk_spelling_called(hbk_note_flat(read), naming, HBK_UNICODE, flat);
    const bool black = hbk_note_is_black(read);
    struct hbk_arena *arena = large->pad.sheet->arena;
    const char *name =
        black ? hbk_arena_printf(arena, "%s %s", sharp, flat) : sharp;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_BOLD, name_points, 1.0, HBK_LEFT);
    style = hbk_pad_fit(&large->pad, style, name_width - 8.0,
                        body_points / name_points, name);
    hbk_pad_group(&large->pad);
    hbk_pad_text(&large->pad, x, base, style, name);
    char octave[16];
    (void)snprintf(octave, sizeof(octave), "%d", spelling.octave);
    hbk_pad_text(&large->pad, x + hbk_pad_width(&large->pad, style, name) + 0.6,
                 base + 1.2, body(), octave);
}

/* One note: staff, name, number, words. */
static void put_note(struct large *large, const struct hbk_note *note)
{
    struct hbk_pad *pad = &large->pad;
    struct hbk_arena *arena = pad->sheet->arena;
    const double words_x = margin + staff_width + name_width + number_width;
    const double room = large->paper.width - margin - words_x;
    /* On narrow paper the words stand below. */
    const bool beside = room >= 60.0;
    const double width = beside ? room : large->paper.width - 2.0 * margin;
    const char *fingers =
        note->n == 0 ? "no usable fingering"
                     : fingers_of(arena, large->notes, &note->fingerings[0]);
    const char *hints = note->n == 0 ? "" : hints_of(arena, large->notes, note);
    const struct hbk_lines words =
        hbk_pad_wrap(pad, body(), width,
                     hbk_arena_printf(arena, "%s%s%s%s", fingers,
                                      hints[0] == '\0' ? "" : ". ", hints,
                                      sounding_words(large, note)));
    const double staff_tall = (large->above + 4.0 + large->below) * space;
    const double tall = (double)words.n * leading;
    const double row = beside ? fmax(staff_tall, tall) : staff_tall + tall;
    if (large->y + row + between > large->paper.height - margin) {
        turn_page(large);
    }
    const int read = hbk_notation_note(&large->notes->notation, note->written);
    const struct hbk_staff staff = {.clef = large->notes->notation.clef,
                                    .x = margin,
                                    .bottom =
                                        large->y + (large->above + 4.0) * space,
                                    .width = staff_width - 4.0,
                                    .space = space};
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    hbk_staff_lines(pad, &staff);
    hbk_staff_clef(pad, &staff);
    struct hbk_heads heads = hbk_heads_of(read);
    heads.n = 1;
    hbk_heads_draw(pad, &staff, margin + 0.68 * staff_width, &heads);
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
    const double base = staff.bottom - 2.0 * space + 4.0;
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_said_open_name(pad, large->notes, note->written);
    put_name(large, read, margin + staff_width, base);
    hbk_said_close_name(pad);
    hbk_said_open_fingering(pad, large->notes,
                            note->n == 0 ? NULL : &note->fingerings[0]);
    const char *label = note->n == 0 ? "\u2013"
                                     : hbk_gamut_label(arena, large->notes,
                                                       &note->fingerings[0]);
    struct hbk_style number =
        hbk_style_of(HBK_FACE_FIGURE, number_points, 1.0, HBK_LEFT);
    number = hbk_pad_fit(pad, number, number_width - 3.0,
                         body_points / number_points, label);
    hbk_pad_group(pad);
    hbk_pad_text(pad, margin + staff_width + name_width, base + 1.0, number,
                 label);
    hbk_pad_read_as(pad, NULL);
    hbk_pad_group(pad);
    hbk_pad_lines(pad, beside ? words_x : margin,
                  large->y + (beside ? 0.5 * (row - tall) : staff_tall) + 5.4,
                  body(), leading, &words);
    hbk_said_close_fingering(pad);
    hbk_said_rest(pad, (struct hbk_point){margin, base}, large->notes, note,
                  SAID_OTHERS);
    hbk_pad_close(pad, HBK_TAG_ROW);
    large->y += row + 0.5 * between;
    pad->group = 0;
    hbk_pad_line(pad, margin, large->y, large->paper.width - 2.0 * margin, 0.0,
                 0.25);
    large->y += 0.5 * between;
}

static void measure_staff(struct large *large,
                          const struct hbk_gamut_notes *chosen)
{
    const enum hbk_clef clef = large->notes->notation.clef;
    hbk_clef_reach(clef, &large->above, &large->below);
    for (size_t i = 0; i < chosen->n; i++) {
        const int written = large->notes->notes[chosen->shown[i]].written;
        struct hbk_heads heads =
            hbk_heads_of(hbk_notation_note(&large->notes->notation, written));
        heads.n = 1;
        double above = 0.0;
        double below = 0.0;
        hbk_heads_reach(clef, &heads, &above, &below);
        large->above = fmax(large->above, above);
        large->below = fmax(large->below, below);
    }
}

enum hbk_status hbk_sheet_large(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet)
{
    struct large large = {.pad = {.sheet = sheet, .ruler = ruler},
                          .notes = notes,
                          .options = options,
                          .paper = hbk_paper_size(options->paper)};
    struct hbk_arena *arena = sheet->arena;
    struct hbk_gamut_notes chosen;
    hbk_gamut_choose(arena, notes, &chosen);
    if (chosen.n == 0) {
        return HBK_ERR_DOMAIN;
    }
    const char *title =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->kind = "large print";
    sheet->subject =
        hbk_arena_printf(arena, "%s. %s.", hbk_words_read_sounds(arena, notes),
                         hbk_words_pitch(arena, &notes->setting));
    measure_staff(&large, &chosen);
    turn_page(&large);
    const struct hbk_title head = {.name = sheet->title,
                                   .below = "",
                                   .points = 32.0,
                                   .unit = 1.0,
                                   .rule = 74.0};
    hbk_title_draw(&large.pad, &head, 0.5 * large.paper.width, large.y,
                   large.paper.width - 2.0 * margin);
    large.y += hbk_title_height(&head) + between;
    const char *whom = hbk_words_whom(arena, options->whom);
    put_words(&large,
              hbk_arena_printf(arena, "%s%s%s. %s %s %s", whom,
                               whom[0] == '\0' ? "" : ". ",
                               hbk_words_read_sounds(arena, notes),
                               hbk_words_set(arena, notes, HBK_WORDS_FULL),
                               hbk_words_rest(arena, notes, HBK_WORDS_FULL),
                               hbk_words_assumed(arena, notes)));
    put_words(&large, hbk_words_system(arena, notes));
    if (chosen.n_left_out > 0) {
        put_words(&large, hbk_arena_printf(arena, "It cannot play %s.",
                                           hbk_words_read_runs(
                                               arena, notes, chosen.n_left_out,
                                               chosen.left_out)));
    }
    open_table(&large);
    for (size_t i = 0; i < chosen.n; i++) {
        put_note(&large, &notes->notes[chosen.shown[i]]);
    }
    hbk_pad_close(&large.pad, HBK_TAG_TABLE);
    large.in_table = false;
    put_words(&large, hbk_words_known(arena, notes->horn));
    put_words(&large, hbk_words_response(arena, notes));
    put_words(&large, hbk_words_cautions());
    return HBK_OK;
}
