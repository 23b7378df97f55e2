#include "engrave/engrave_signposts.h"

#include "engrave/engrave_ink.h"
#include "engrave/engrave_marks.h"
#include "engrave/engrave_spots.h"
#include "engrave/quill.h"

#include <math.h>

/* In staff spaces; common practice. */
static const double tempo_em = 1.7;
static const double tempo_points = 8.5;
static const double letter_em = 2.1; /* of a rehearsal letter */
static const double letter_points = 10.0;
static const double capital = 0.73; /* height of a capital, in its em */
static const double apart = 0.5;
static const double in_frame = 0.4; /* white about a letter */
static const double frame_pen = 0.16;
static const double after_letter = 0.8;
static const double before_line = 0.8; /* from a jump to its bar line */
static const double dash_pen = 0.13;
static const double least_dashes = 2.0;
static const double leading = 1.2;

static struct hbk_style words_at(const struct hbk_eng_view *view,
                                 enum hbk_align align)
{
    return (struct hbk_style){
        .face = HBK_FACE_BOLD,
        .size = hbk_quill_em(view->quill, tempo_em, tempo_points),
        .align = align};
}

/* A sign whose left edge is at x. */
static void draw_place(struct hbk_eng_view *view, double x, uint32_t glyph,
                       const char *reads)
{
    const double wide = hbk_glyph_box(glyph).width;
    x = fmax(fmin(x, view->line->room - wide), 0.0);
    hbk_quill_glyph(view->quill, x,
                    hbk_quill_top(view->quill, x, x + wide) + apart, 1.0, glyph,
                    reads);
}

/* Words in as many lines as they need, above what there is. */
static void draw_lines(struct hbk_eng_view *view, double x,
                       struct hbk_style style, const char *text)
{
    struct hbk_quill *quill = view->quill;
    struct hbk_style in_mm = style;
    in_mm.size *= quill->space;
    const struct hbk_lines lines =
        hbk_pad_wrap(quill->pad, in_mm, view->line->room * quill->space, text);
    const double wide = lines.widest / quill->space;
    const double left = style.align == HBK_RIGHT ? x - wide : x;
    const double shift = fmax(-left, fmin(0.0, view->line->room - wide - left));
    const double foot =
        hbk_quill_top(quill, left + shift, left + shift + wide) + apart +
        0.22 * style.size;
    for (size_t i = 0; i < lines.n; i++) {
        hbk_quill_text(quill, x + shift,
                       foot + leading * style.size * (double)(lines.n - 1 - i),
                       style, lines.text[i]);
    }
}

/* "D.C. al Fine" ends with its bar; what stands elsewhere begins there. */
static void draw_jump(struct hbk_eng_view *view,
                      const struct hbk_tune_mark *mark,
                      const struct hbk_eng_spot *spot)
{
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_eng_bar *bar = &eng->bars[spot->bar];
    bool is_last = spot->at_end;
    if (bar->n > 1 && bar->closes && spot->note != HBK_ENG_NONE) {
        is_last = is_last ||
                  spot->note >= eng->columns[bar->first + bar->n - 1].first;
    }
    draw_lines(view, is_last ? bar->end - before_line : spot->x,
               words_at(view, is_last ? HBK_RIGHT : HBK_LEFT), mark->text);
}

/* A note with its dots, or the number that is counted, of a metronome mark. */
struct piece {
    const char *text; /* or NULL for a note */
    int value;
    unsigned dots;
    double width;
};

enum { PIECES_MAX = 6 };

static void add_text(const struct hbk_eng_view *view, struct piece *pieces,
                     size_t *n, const char *text, double gap)
{
    pieces[(*n)++] = (struct piece){
        .text = text,
        .width =
            gap + hbk_quill_width(view->quill, words_at(view, HBK_LEFT), text)};
}

static void add_note(struct piece *pieces, size_t *n, struct hbk_ratio length)
{
    struct piece *piece = &pieces[(*n)++];
    *piece = (struct piece){.text = NULL};
    piece->value = hbk_tune_value_of(length, &piece->dots);
    piece->width =
        hbk_eng_draw_beat(NULL, piece->value, piece->dots, 0.0, 0) + 0.6;
}

static bool has_metronome(const struct hbk_eng_view *view,
                          const struct hbk_tune_mark *mark)
{
    return !view->eng->other_tempo &&
           hbk_ratio_value(mark->metronome.beat) > 0.0;
}

/* All of a mark but the words before it. */
static size_t pieces_of(const struct hbk_eng_view *view,
                        const struct hbk_tune_metronome *metronome,
                        struct piece pieces[PIECES_MAX])
{
    size_t n = 0;
    struct hbk_arena *arena = view->eng->arena;
    const bool counts = metronome->count[0] != '\0';
    const char *const closes = metronome->in_parentheses ? ")" : "";
    if (metronome->in_parentheses) {
        add_text(view, pieces, &n, "(", 0.1);
    }
    add_note(pieces, &n, metronome->beat);
    if (counts) {
        add_text(view, pieces, &n,
                 hbk_arena_printf(arena, "= %s%s", metronome->count, closes),
                 0.0);
    } else {
        add_text(view, pieces, &n, "= ", 0.5);
        add_note(pieces, &n, metronome->equals);
        if (metronome->in_parentheses) {
            add_text(view, pieces, &n, closes, 0.0);
        }
    }
    return n;
}

static double draw_pieces(struct hbk_eng_view *view, size_t n,
                          const struct piece *pieces, double x, int pos)
{
    for (size_t i = 0; i < n; i++) {
        if (pieces[i].text == NULL) {
            hbk_eng_draw_beat(view->quill, pieces[i].value, pieces[i].dots, x,
                              pos);
        } else {
            hbk_quill_text(view->quill, x, hbk_eng_y(pos) - 0.35,
                           words_at(view, HBK_LEFT), pieces[i].text);
        }
        x += pieces[i].width;
    }
    return x;
}

/* Dashes up to where a gradual change of tempo ends. */
static void draw_dashes(struct hbk_eng_view *view, double x0, double x1,
                        double y)
{
    if (x1 - x0 >= least_dashes) {
        hbk_quill_dashes(view->quill, x0, y, x1 - x0, dash_pen);
    }
}

/* Words, the note that is counted, and how many of them a minute. */
static void draw_tempo(struct hbk_eng_view *view,
                       const struct hbk_tune_mark *mark, double from,
                       double until)
{
    struct hbk_quill *quill = view->quill;
    const struct hbk_style style = words_at(view, HBK_LEFT);
    struct piece pieces[PIECES_MAX];
    const size_t n = has_metronome(view, mark)
                         ? pieces_of(view, &mark->metronome, pieces)
                         : 0;
    double wide =
        mark->text[0] == '\0' ? 0.0 : hbk_quill_width(quill, style, mark->text);
    if (wide > view->line->room || n == 0) {
        if (wide > 0.0) {
            draw_lines(view, from, style, mark->text);
        }
        const double x = from + wide + 0.6;
        const double y = hbk_quill_top(quill, from, x) - 0.55 * style.size;
        draw_dashes(view, x, until, y);
        from = 0.0;
        wide = 0.0;
    }
    if (n == 0) {
        return;
    }
    const double before = wide > 0.0 ? wide + 0.8 : 0.0;
    wide = before;
    for (size_t i = 0; i < n; i++) {
        wide += pieces[i].width;
    }
    const double x = fmax(fmin(from, view->line->room - wide), 0.0);
    const double foot = hbk_quill_top(quill, x, x + wide) + apart + 0.75;
    const int pos = (int)ceil(2.0 * foot);
    if (before > 0.0) {
        hbk_quill_text(quill, x, hbk_eng_y(pos) - 0.35, style, mark->text);
    }
    const double end = draw_pieces(view, n, pieces, x + before, pos);
    draw_dashes(view, end + 0.6, until, hbk_eng_y(pos));
}

/* Left edge of the frame of a letter: at the line where a bar begins. */
static double letter_x(const struct hbk_eng_view *view,
                       const struct hbk_eng_spot *spot)
{
    const bool at_line = spot->at_start && spot->bar > view->line->first;
    return at_line ? view->eng->bars[spot->bar - 1].end : spot->x;
}

static struct hbk_style letter_style(const struct hbk_eng_view *view)
{
    return (struct hbk_style){
        .face = HBK_FACE_BOLD,
        .size = hbk_quill_em(view->quill, letter_em, letter_points),
        .align = HBK_LEFT};
}

/* A letter or name, in more than one line if it is wider than the music. */
static struct hbk_lines letter_lines(const struct hbk_eng_view *view,
                                     const struct hbk_tune_mark *mark)
{
    const struct hbk_quill *quill = view->quill;
    struct hbk_style style = letter_style(view);
    style.size *= quill->space;
    const double room = view->line->room - 2.0 * in_frame - frame_pen;
    return hbk_pad_wrap(quill->pad, style, room * quill->space, mark->text);
}

static double letter_width(const struct hbk_eng_view *view,
                           const struct hbk_tune_mark *mark)
{
    return letter_lines(view, mark).widest / view->quill->space +
           2.0 * in_frame;
}

static void draw_letter(struct hbk_eng_view *view,
                        const struct hbk_tune_mark *mark, double x)
{
    struct hbk_quill *quill = view->quill;
    const struct hbk_style style = letter_style(view);
    const struct hbk_lines lines = letter_lines(view, mark);
    const double wide = letter_width(view, mark);
    const double half = 0.5 * frame_pen;
    x = fmax(fmin(x, view->line->room - wide - half), half);
    const double foot = hbk_quill_top(quill, x - half, x + wide + half) + apart;
    const double step = leading * style.size;
    const double first = 0.97 * style.size + 1.2 * in_frame;
    const double tall = first + step * (double)(lines.n - 1);
    const struct hbk_point frame[5] = {{x, foot},
                                       {x + wide, foot},
                                       {x + wide, foot + tall},
                                       {x, foot + tall},
                                       {x, foot}};
    hbk_quill_path(quill, 5, frame, frame_pen);
    hbk_pad_read_as(
        quill->pad,
        hbk_arena_printf(view->eng->arena, "rehearsal mark %s ", mark->text));
    const double base = foot + tall - 0.5 * (first + capital * style.size);
    for (size_t i = 0; i < lines.n; i++) {
        hbk_quill_text(quill, x + in_frame, base - step * (double)i, style,
                       lines.text[i]);
    }
    hbk_pad_read_as(quill->pad, NULL);
}

/* Where a mark begins: right of a letter that stands at the same place. */
static double beside_letter(const struct hbk_eng_view *view,
                            const struct hbk_tune_mark *mark,
                            const struct hbk_eng_span *span)
{
    for (size_t i = 0; i < view->n_marks; i++) {
        const struct hbk_tune_mark *letter = view->marks[i].mark;
        if (letter->kind == HBK_TUNE_MARK_REHEARSAL &&
            letter->at.bar == mark->at.bar &&
            hbk_ratio_equal(letter->at.time, mark->at.time)) {
            return fmax(span->x0, letter_x(view, &span->from) +
                                      letter_width(view, letter) +
                                      after_letter);
        }
    }
    return span->x0;
}

/* What the line has of a tempo: dashes may come from the line before. */
static void draw_tempo_span(struct hbk_eng_view *view,
                            const struct hbk_tune_mark *mark,
                            const struct hbk_eng_span *span)
{
    const bool is_long = hbk_ratio_compare(mark->end.time, mark->at.time) > 0;
    if (span->begins) {
        draw_tempo(view, mark, beside_letter(view, mark, span),
                   is_long ? span->x1 - 0.4 : 0.0);
    } else {
        draw_dashes(view, span->x0, span->x1 - 0.4,
                    hbk_quill_top(view->quill, span->x0, span->x1) + 1.0);
    }
}

static void draw_mark(struct hbk_eng_view *view,
                      const struct hbk_tune_mark *mark,
                      const struct hbk_eng_span *span)
{
    switch (mark->kind) {
    case HBK_TUNE_MARK_FERMATA: {
        const double x =
            fmin(span->from.x, view->line->room - HBK_ENG_FERMATA_HALF);
        hbk_eng_draw_fermata(view->quill, x);
        hbk_quill_say(view->quill, x, 4.0, "fermata ");
        break;
    }
    case HBK_TUNE_MARK_SEGNO:
        draw_place(view, beside_letter(view, mark, span), HBK_GLYPH_SEGNO,
                   "segno ");
        break;
    case HBK_TUNE_MARK_CODA:
        draw_place(view, beside_letter(view, mark, span), HBK_GLYPH_CODA,
                   "coda ");
        break;
    case HBK_TUNE_MARK_JUMP:
        draw_jump(view, mark, &span->from);
        break;
    case HBK_TUNE_MARK_TEMPO:
        draw_tempo_span(view, mark, span);
        break;
    case HBK_TUNE_MARK_REHEARSAL:
        draw_letter(view, mark, letter_x(view, &span->from));
        break;
    case HBK_TUNE_MARK_DYNAMIC:
    case HBK_TUNE_MARK_CRESCENDO:
    case HBK_TUNE_MARK_DIMINUENDO:
    case HBK_TUNE_MARK_WORDS:
    case HBK_TUNE_MARK_PLUS:
    case HBK_TUNE_MARK_OPEN:
        break;
    }
}

/* One kind of mark at a time, so that the same stand on a height. */
static void draw_kind(struct hbk_eng_view *view, enum hbk_tune_mark_kind kind)
{
    for (size_t i = 0; i < view->n_marks; i++) {
        const struct hbk_tune_mark *mark = view->marks[i].mark;
        const struct hbk_eng_span *span = &view->marks[i].span;
        if (mark->kind == kind &&
            (span->begins || kind == HBK_TUNE_MARK_TEMPO)) {
            hbk_pad_group(view->quill->pad);
            const size_t begin = hbk_eng_marks_now(view);
            draw_mark(view, mark, span);
            hbk_eng_read_at(view, &span->from, HBK_ENG_LEADS, begin);
        }
    }
}

void hbk_eng_draw_signposts(struct hbk_eng_view *view)
{
    static const enum hbk_tune_mark_kind kinds[] = {
        HBK_TUNE_MARK_FERMATA,   HBK_TUNE_MARK_SEGNO, HBK_TUNE_MARK_CODA,
        HBK_TUNE_MARK_REHEARSAL, HBK_TUNE_MARK_TEMPO, HBK_TUNE_MARK_JUMP};
    for (size_t i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++) {
        draw_kind(view, kinds[i]);
    }
}
