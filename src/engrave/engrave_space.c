#include "engrave/engrave_space.h"

#include "engrave/engrave_beam.h"
#include "engrave/engrave_rests.h"
#include "engrave/engrave_signs.h"

#include <math.h>

/*
 * Distances by length: each doubling adds as much as the shortest common
 * note gets half of (a published rule of engraving, used as a formula).
 */
static const double doubling = 1.2;
/* At most this counts as the shortest common note. */
static const double quaver = 0.125;

static const double after_ink = 0.4;   /* least white between two columns */
static const double head_apart = 0.55; /* least white between two heads */
static const double label_apart = 0.7;
static const double beside_rests = 1.0; /* at both ends of several bars' rest */
static const double before_line = 0.9;
static const double after_line = 1.1;
static const double after_line_sign = 0.6; /* to an accidental */

/* How a line must be stretched to look as bad as it can be borne. */
static const double tightest = 0.8;
/* A last line that would be stretched more than this stays short. */
static const double widest_last = 1.9;
static const double usual_last = 1.2;
static const double short_last = 0.5;

/* The most frequent shortest note of a bar. */
static double find_shortest(const struct hbk_engraving *eng)
{
    size_t votes[16] = {0};
    for (size_t b = 0; b < eng->n_bars; b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        double least = 1.0;
        for (size_t i = bar->first; i < bar->first + bar->n; i++) {
            const struct hbk_eng_column *column = &eng->columns[i];
            if (column->has_main) {
                const double length =
                    hbk_ratio_value(eng->notes[column->first + column->n_graces]
                                        .source->length);
                least = length > 0.0 ? fmin(least, length) : least;
            }
        }
        const long slot = lround(-log2(least) * 2.0);
        votes[slot < 0 ? 0 : slot > 15 ? 15 : slot]++;
    }
    size_t best = 0;
    for (size_t i = 0; i < 16; i++) {
        best = votes[i] > votes[best] ? i : best;
    }
    return fmin(exp2(-0.5 * (double)best), quaver);
}

static const struct hbk_eng_note *main_of(const struct hbk_engraving *eng,
                                          const struct hbk_eng_column *column)
{
    const size_t n = column->n_graces + (column->has_main ? 1 : 0);
    return &eng->notes[column->first + n - 1];
}

static double ideal_of(const struct hbk_engraving *eng,
                       const struct hbk_eng_column *column)
{
    if (!column->has_main) {
        return 0.0;
    }
    const struct hbk_eng_note *note = main_of(eng, column);
    /* A rest in the middle of its bar needs no more than a half note. */
    const double length =
        note->fills_bar ? 0.5 : hbk_ratio_value(note->source->length);
    const double share = length / eng->shortest;
    if (share < 1.0) {
        return 2.0 * doubling * fmax(share, 0.2);
    }
    return doubling * (2.0 + log2(share));
}

/* From the middle of a head to the edge of what stands below. */
static double label_right(const struct hbk_engraving *eng,
                          const struct hbk_eng_column *column)
{
    const struct hbk_eng_note *note = main_of(eng, column);
    return column->has_main ? 0.5 * (note->label + note->width) : 0.0;
}

static double label_left(const struct hbk_engraving *eng,
                         const struct hbk_eng_column *column)
{
    const struct hbk_eng_note *note = main_of(eng, column);
    return column->has_main && column->n_graces == 0
               ? 0.5 * (note->label - note->width)
               : column->left;
}

/*
 * Left of a column's anchor: what stands below its note, sung words too. Words
 * are kept apart by widen().
 */
static double below_left(const struct hbk_engraving *eng,
                         const struct hbk_eng_column *column)
{
    return fmax(label_left(eng, column), main_of(eng, column)->sung_left);
}

static double least_between(const struct hbk_engraving *eng,
                            const struct hbk_eng_column *a,
                            const struct hbk_eng_column *b)
{
    double least = a->right + after_ink + b->left;
    const struct hbk_eng_note *from = main_of(eng, a);
    least = fmax(least, from->width + head_apart);
    const double labels = label_right(eng, a) + label_left(eng, b);
    if (from->label > 0.0) {
        least = fmax(least, labels + label_apart);
    }
    return least;
}

/* Adds what columns lack of a width, as much to each. */
static void spread(struct hbk_eng_column *columns, size_t n, double width)
{
    double have = 0.0;
    for (size_t i = 0; i < n; i++) {
        have += columns[i].least;
    }
    for (size_t i = 0; i < n && have < width; i++) {
        columns[i].least += (width - have) / (double)n;
    }
}

/* How far what stands below a column reaches from its anchor. */
struct reach {
    double left, right;
    double gap; /* white wanted after it; 0 where nothing stands */
};

static struct reach reach_of(const struct hbk_engraving *eng,
                             const struct hbk_eng_column *column, bool words)
{
    const struct hbk_eng_note *note = main_of(eng, column);
    if (words) {
        return (struct reach){note->sung_left, note->sung_right,
                              note->sung_gap};
    }
    return (struct reach){label_left(eng, column), label_right(eng, column),
                          note->label > 0.0 ? label_apart : 0.0};
}

/*
 * Spreads the columns between two fingerings, or two syllables, that would
 * come too close, and those after the last one.
 */
static void widen(struct hbk_engraving *eng, const struct hbk_eng_bar *bar,
                  bool words)
{
    struct hbk_eng_column *columns = &eng->columns[bar->first];
    struct reach before = {0.0, 0.0, 0.0};
    size_t from = 0;
    for (size_t i = 0; i < bar->n; i++) {
        const struct reach reach = reach_of(eng, &columns[i], words);
        if (reach.gap == 0.0) {
            continue;
        }
        if (before.gap > 0.0) {
            spread(&columns[from], i - from,
                   before.right + before.gap + reach.left);
        }
        before = reach;
        from = i;
    }
    if (before.gap > 0.0) {
        spread(&columns[from], bar->n - from, before.right + 0.5 * before.gap);
    }
}

static void space_bar(struct hbk_engraving *eng, struct hbk_eng_bar *bar)
{
    bar->ideal = 0.0;
    bar->least = 0.0;
    bar->tail = 0.0;
    if (bar->closes) {
        bar->tail = hbk_eng_draw_bar_line(eng, bar->last, false, NULL, 0.0);
    }
    bar->lead = 0.0;
    if (bar->opens) {
        bar->lead = hbk_eng_draw_change(eng, bar->bar, false, NULL, 0.0);
    }
    if (bar->n == 0) {
        bar->ideal = bar->least = 3.0;
        return;
    }
    struct hbk_eng_column *columns = &eng->columns[bar->first];
    const bool has_sign = columns[0].left > 0.3;
    bar->lead +=
        fmax(columns[0].left + (has_sign ? after_line_sign : after_line),
             below_left(eng, columns) + 0.5 * label_apart);
    if (!bar->opens) {
        bar->lead =
            fmax(columns[0].left, below_left(eng, columns) + 0.5 * label_apart);
    }
    for (size_t i = 0; i < bar->n; i++) {
        struct hbk_eng_column *column = &columns[i];
        column->ideal = ideal_of(eng, column);
        column->least =
            i + 1 < bar->n ? least_between(eng, column, column + 1)
                           : fmax(column->right + before_line,
                                  label_right(eng, column) + 0.5 * label_apart);
        if (main_of(eng, column)->fills_bar) {
            column->least = fmax(column->least,
                                 main_of(eng, column)->n_bars > 1
                                     ? hbk_eng_rests_room(main_of(eng, column))
                                     : 4.0);
        }
        column->ideal = fmax(column->ideal, 0.8 * column->least);
    }
    widen(eng, bar, false);
    widen(eng, bar, true);
    for (size_t i = 0; i < bar->n; i++) {
        bar->ideal += fmax(columns[i].ideal, columns[i].least);
        bar->least += columns[i].least;
    }
}

/* Whether a bar may be broken before a column: where a beat begins. */
static bool may_break(const struct hbk_engraving *eng,
                      const struct hbk_eng_column *before,
                      const struct hbk_eng_column *column)
{
    const struct hbk_eng_note *note = main_of(eng, column);
    const struct hbk_eng_note *last = main_of(eng, before);
    return !(note->beam != HBK_ENG_NONE && note->beam == last->beam) &&
           !(note->source->tuplet != HBK_TUNE_NONE &&
             note->source->tuplet == last->source->tuplet);
}

/* Room for the notes of a bar that has a line to itself. */
static double room_of(const struct hbk_engraving *eng, size_t b, double width)
{
    const struct hbk_eng_bar *bar = &eng->bars[b];
    /* Whichever note comes first in a line, what stands below it has room. */
    double lead = 0.0;
    for (size_t i = bar->first; i < bar->first + bar->n; i++) {
        const struct hbk_eng_column *column = &eng->columns[i];
        lead = fmax(lead, fmax(column->left, below_left(eng, column) - 1.5));
    }
    double taken = hbk_eng_draw_prefix(eng, b, NULL, 0.0) + bar->tail +
                   fmax(3.0, 1.5 + lead);
    if (b + 1 < eng->n_bars) {
        taken += hbk_eng_draw_change(eng, bar->last + 1, true, NULL, 0.0);
    }
    return fmax(width - taken, 0.3 * width);
}

/* Adds a bar, in pieces none of which is wider than `room`, if need be. */
static void add_pieces(struct hbk_engraving *eng, struct hbk_eng_bar bar,
                       double room, struct hbk_eng_bar *out, size_t *n)
{
    size_t from = bar.first;
    const size_t end = bar.first + bar.n;
    double used = 0.0;
    size_t best = 0;
    for (size_t i = bar.first; bar.least > room && i < end; i++) {
        const struct hbk_eng_column *column = &eng->columns[i];
        if (i > from && may_break(eng, column - 1, column)) {
            best = i;
        }
        if (used + column->least > room && i > from) {
            const size_t cut = best > from ? best : i;
            hbk_eng_split_beam(eng, eng->columns[cut].first +
                                        eng->columns[cut].n_graces);
            struct hbk_eng_bar piece = bar;
            piece.first = from;
            piece.n = cut - from;
            piece.opens = from == bar.first && bar.opens;
            piece.closes = false;
            out[(*n)++] = piece;
            from = cut;
            used = 0.0;
            for (size_t k = cut; k < i; k++) {
                used += eng->columns[k].least;
            }
        }
        used += column->least;
    }
    bar.opens = bar.opens && from == bar.first;
    bar.n = end - from;
    bar.first = from;
    out[(*n)++] = bar;
}

void hbk_eng_space(struct hbk_engraving *eng, double width)
{
    eng->shortest = find_shortest(eng);
    for (size_t b = 0; b < eng->n_bars; b++) {
        space_bar(eng, &eng->bars[b]);
    }
    struct hbk_eng_bar *pieces = HBK_ARENA_ARRAY(
        eng->arena, struct hbk_eng_bar, eng->n_bars + eng->n_columns + 1);
    size_t n = 0;
    for (size_t b = 0; b < eng->n_bars; b++) {
        add_pieces(eng, eng->bars[b], room_of(eng, b, width), pieces, &n);
    }
    eng->bars = pieces;
    eng->n_bars = n;
    for (size_t b = 0; b < n; b++) {
        space_bar(eng, &pieces[b]);
    }
}

/* The room of a line that no stretching changes. */
static double fixed_of(const struct hbk_engraving *eng, size_t first,
                       size_t end, double *prefix, double *courtesy)
{
    *prefix = hbk_eng_draw_prefix(eng, first, NULL, 0.0);
    *courtesy = 0.0;
    double fixed = *prefix;
    for (size_t b = first; b < end; b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        fixed += bar->tail;
        if (b > first) {
            fixed += bar->lead;
        } else if (bar->n > 0) {
            const struct hbk_eng_column *column = &eng->columns[bar->first];
            fixed += fmax(column->left, below_left(eng, column) - 1.5);
        }
    }
    const struct hbk_eng_bar *last = &eng->bars[end - 1];
    if (last->closes) {
        fixed += hbk_eng_draw_bar_line(eng, last->last, true, NULL, 0.0) -
                 last->tail;
        if (end < eng->n_bars) {
            *courtesy =
                hbk_eng_draw_change(eng, last->last + 1, true, NULL, 0.0);
            fixed += *courtesy;
        }
    }
    return fixed;
}

/*
 * How badly a line is filled: the square of the logarithm of its stretch,
 * and a little for each line. Less than 0 when it does not fit.
 */
static double badness(double room, double ideal, double least, bool is_last)
{
    if (least > room) {
        return -1.0;
    }
    const double stretch = room / ideal;
    if (is_last && stretch > widest_last) {
        return short_last + (stretch > 3.0 ? short_last : 0.0);
    }
    const double off = log(stretch / HBK_ENG_LOOSE);
    const double tight = stretch < tightest ? 4.0 : 0.0;
    return 4.0 * off * off + tight + 0.02;
}

/* Costs of the best way to break before each bar. */
static void find_ways(struct hbk_engraving *eng, double width, size_t *from)
{
    const size_t n = eng->n_bars;
    double *cost = HBK_ARENA_ARRAY(eng->arena, double, n + 1);
    for (size_t end = 1; end <= n; end++) {
        cost[end] = INFINITY;
        double ideal = 0.0;
        double least = 0.0;
        for (size_t first = end; first-- > 0;) {
            ideal += eng->bars[first].ideal;
            least += eng->bars[first].least;
            double prefix;
            double courtesy;
            if (first + 1 < end && least > width) {
                break;
            }
            const double fixed = fixed_of(eng, first, end, &prefix, &courtesy);
            double bad = badness(width - fixed, ideal, least, end == n);
            if (bad < 0.0) {
                if (first + 1 < end) {
                    break;
                }
                bad = 1000.0; /* wider than a line, and cannot be broken */
            }
            if (cost[first] + bad < cost[end]) {
                cost[end] = cost[first] + bad;
                from[end] = first;
            }
        }
    }
}

void hbk_eng_break(struct hbk_engraving *eng, double width)
{
    const size_t n = eng->n_bars;
    size_t *from = HBK_ARENA_ARRAY(eng->arena, size_t, n + 1);
    eng->lines = HBK_ARENA_ARRAY(eng->arena, struct hbk_eng_line, n + 1);
    find_ways(eng, width, from);
    for (size_t end = n; end > 0; end = from[end]) {
        eng->n_lines++;
    }
    size_t at = eng->n_lines;
    for (size_t end = n; end > 0; end = from[end]) {
        struct hbk_eng_line *line = &eng->lines[--at];
        line->first = from[end];
        line->n = end - from[end];
        line->width = width;
        line->room = width;
        line->ragged = end == n;
        (void)fixed_of(eng, line->first, end, &line->prefix, &line->courtesy);
    }
}

/* Sum of all distances of a line at a stretch. */
static double stretched(const struct hbk_engraving *eng,
                        const struct hbk_eng_line *line, double stretch)
{
    double sum = 0.0;
    for (size_t b = line->first; b < line->first + line->n; b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        sum += bar->n == 0 ? bar->least : 0.0;
        for (size_t i = bar->first; i < bar->first + bar->n; i++) {
            sum += fmax(eng->columns[i].least, stretch * eng->columns[i].ideal);
        }
    }
    return sum;
}

static double find_stretch(const struct hbk_engraving *eng,
                           const struct hbk_eng_line *line, double room)
{
    double low = 0.0;
    double high = 64.0;
    for (int i = 0; i < 48; i++) {
        const double middle = 0.5 * (low + high);
        if (stretched(eng, line, middle) > room) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return low;
}

static void place_column(struct hbk_engraving *eng,
                         struct hbk_eng_column *column, double x)
{
    column->x = x;
    for (size_t i = 0; i < column->n_graces; i++) {
        eng->notes[column->first + i].x += x;
    }
    if (column->has_main) {
        eng->notes[column->first + column->n_graces].x = x;
    }
}

/* A rest of a whole bar stands in the middle of it, of several goes through. */
static void centre_rest(struct hbk_engraving *eng,
                        const struct hbk_eng_bar *bar, double from)
{
    if (bar->n != 1) {
        return;
    }
    struct hbk_eng_column *column = &eng->columns[bar->first];
    struct hbk_eng_note *note = &eng->notes[column->first];
    if (note->n_bars > 1) {
        note->x = from + beside_rests;
        note->width = bar->end - beside_rests - note->x;
        column->x = note->x;
    } else if (column->n_graces == 0 && note->fills_bar) {
        note->x = 0.5 * (from + bar->end - note->width);
        column->x = note->x;
    }
}

void hbk_eng_place(struct hbk_engraving *eng, struct hbk_eng_line *line)
{
    double prefix;
    double courtesy;
    const size_t end = line->first + line->n;
    const double fixed = fixed_of(eng, line->first, end, &prefix, &courtesy);
    const double room = line->width - fixed;
    double stretch = find_stretch(eng, line, room);
    double shrink = 1.0;
    const double least = stretched(eng, line, 0.0);
    if (least > room) {
        shrink = room / least;
    }
    const bool stays_short = line->ragged && stretch > widest_last;
    if (stays_short) {
        stretch = usual_last;
    }
    double x = line->prefix;
    for (size_t b = line->first; b < end; b++) {
        struct hbk_eng_bar *bar = &eng->bars[b];
        bar->x = b == line->first ? 0.0 : x;
        double from = x;
        if (b > line->first) {
            x += bar->lead;
            from += bar->opens
                        ? hbk_eng_draw_change(eng, bar->bar, false, NULL, 0.0)
                        : 0.0;
        } else if (bar->n > 0) {
            const struct hbk_eng_column *column = &eng->columns[bar->first];
            x += fmax(column->left, below_left(eng, column) - 1.5);
        }
        for (size_t i = bar->first; i < bar->first + bar->n; i++) {
            struct hbk_eng_column *column = &eng->columns[i];
            place_column(eng, column, x);
            x += shrink * fmax(column->least, stretch * column->ideal);
        }
        x += bar->n == 0 ? bar->least : 0.0;
        bar->end = x;
        centre_rest(eng, bar, from);
        x += bar->closes && b + 1 == end
                 ? hbk_eng_draw_bar_line(eng, bar->last, true, NULL, 0.0)
                 : bar->tail;
    }
    if (stays_short) {
        line->width = x;
    }
}
