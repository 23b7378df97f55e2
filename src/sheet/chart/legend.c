#include "sheet/chart/legend.h"

#include "base/text.h"
#include "horn/horn.h"
#include "sheet/block/hand.h"
#include "sheet/block/wedge.h"
#include "sheet/chart/gamut_bar.h"
#include "sheet/words/words.h"
#include "sheet/words/words_use.h"

#include <math.h>
#include <string.h>

/* mm, in units of the legend. */
static const double leading = 3.05;
static const double sign_room = 10.5;
static const double column_gap = 4.0;

static const char *const known_heading = "What is known";
static const char *const remarks_heading = "Of this horn";

enum sign {
    SIGN_PRESSED,
    SIGN_OPEN_KEY,
    SIGN_STUCK,
    SIGN_STUCK_SQUARE,
    SIGN_ASCENDING,
    SIGN_NUMBER,
    SIGN_CHANGED,
    SIGN_SHARP,
    SIGN_FLAT,
    SIGN_LIP,
    SIGN_PARTIAL,
    SIGN_DRAW,
    SIGN_CARE,
    SIGN_DOUBT,
    SIGN_REACH,
    SIGN_OTHERS
};

struct entry {
    enum sign sign;
    const char *text;
};

enum { ENTRIES_MAX = 16 };

struct entries {
    size_t n;
    const char *other; /* a sample of another fingering */
    struct entry items[ENTRIES_MAX];
};

static struct hbk_style plain(double unit)
{
    return hbk_style_of(HBK_FACE_PLAIN, 7.0, unit, HBK_LEFT);
}

/* Which marks the sheet has. */
struct use {
    bool open_key, ascending, sharp, flat, draw, care, doubt, reach, others;
    bool stuck, stuck_square, lip;
    bool truer, other_hand, avoid, cut;
    const char *as_for; /* one of those on the sheet, or NULL */
    const char *other;  /* the shortest other fingering, as it is printed */
};

static void see_alternates(struct hbk_arena *arena,
                           const struct hbk_legend *legend, size_t i,
                           struct use *use)
{
    const struct hbk_note *note = &legend->notes->notes[i];
    for (size_t place = 1; place < note->n && place <= legend->alternates;
         place++) {
        const size_t k = hbk_note_other(note, legend->alternates, place);
        const struct hbk_fingering *other = &note->fingerings[k];
        const char *label = hbk_gamut_label(arena, legend->notes, other);
        if (use->other == NULL || strlen(label) < strlen(use->other)) {
            use->other = label;
        }
        use->others = true;
        use->truer = use->truer || other->use == HBK_USE_TRUER;
        if (use->as_for == NULL && other->use == HBK_USE_AS_FOR) {
            use->as_for = hbk_words_use(arena, other);
        }
        use->other_hand = use->other_hand || other->use == HBK_USE_OTHER_HAND;
        use->avoid = use->avoid || other->use == HBK_USE_AVOID;
        use->draw = use->draw || other->drawn_m > 0.0;
        use->sharp = use->sharp || other->cents >= 0.5;
        use->flat = use->flat || other->cents <= -0.5;
        use->cut = use->cut || fabs(other->cents) > HBK_WEDGE_CENTS;
    }
}

static struct use see(struct hbk_arena *arena, const struct hbk_legend *legend)
{
    const struct hbk_horn *horn = legend->notes->horn;
    struct use use = {0};
    const uint32_t stuck = legend->notes->setting.stuck.held_down |
                           legend->notes->setting.stuck.held_up;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *control = &horn->controls[i];
        const bool moves = (stuck >> i & 1u) == 0;
        use.open_key = use.open_key || (moves && control->stands_open);
        use.ascending = use.ascending || (moves && control->rests_in);
        use.stuck = use.stuck || !moves;
        use.stuck_square = use.stuck_square || (!moves && control->stands_open);
    }
    for (size_t i = 0; i < legend->notes->n; i++) {
        const struct hbk_note *note = &legend->notes->notes[i];
        if (note->n == 0) {
            use.reach = true;
            continue;
        }
        const struct hbk_fingering *first = &note->fingerings[0];
        use.sharp = use.sharp || first->cents >= 0.5;
        use.flat = use.flat || first->cents <= -0.5;
        use.cut = use.cut || fabs(first->cents) > HBK_WEDGE_CENTS;
        use.draw = use.draw || first->drawn_m > 0.0;
        use.care = use.care || (first->verdict & HBK_VERDICT_CARE) != 0;
        use.lip = use.lip || hbk_words_lip(first->cents)[0] != '\0';
        use.doubt = use.doubt || (first->verdict & HBK_VERDICT_UNRELIABLE) != 0;
        see_alternates(arena, legend, i, &use);
    }
    return use;
}

static void add(struct entries *entries, bool wanted, enum sign sign,
                const char *text)
{
    if (wanted) {
        entries->items[entries->n++] = (struct entry){sign, text};
    }
}

static const char *others_text(struct hbk_arena *arena, struct use use)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, "below: other fingerings, the best first");
    hbk_text_add(&text, use.truer ? "; truer: nearer in tune" : "");
    if (use.as_for != NULL) {
        hbk_text_addf(&text,
                      "; %s: fingered like that neighbour, so that no finger "
                      "moves between them",
                      use.as_for);
    }
    hbk_text_add(&text,
                 use.other_hand ? "; other hand: frees the usual one" : "");
    hbk_text_add(&text,
                 use.avoid ? "; avoid: on a partial that lies badly" : "");
    return hbk_text_string(&text);
}

static void list_entries(struct hbk_arena *arena,
                         const struct hbk_legend *legend,
                         struct entries *entries)
{
    const struct hbk_horn *horn = legend->notes->horn;
    const struct use use = see(arena, legend);
    const bool fingers = horn->n_controls > 0;
    struct hbk_hands hands;
    hbk_hands_arrange(horn, &hands);
    *entries = (struct entries){.other = use.other};
    add(entries, !fingers, SIGN_NUMBER,
        "the note of the tube\u2019s natural series (partial) to sound, "
        "counted from its lowest");
    add(entries, fingers, SIGN_NUMBER,
        hbk_arena_printf(arena,
                         "what the fingers press; 0: nothing. The circles "
                         "show it %s",
                         hbk_hands_order(&hands)));
    add(entries, legend->compared, SIGN_CHANGED,
        "underlined: not as on the horn you know");
    add(entries, fingers, SIGN_PRESSED, "a finger presses; an empty one is up");
    add(entries, use.open_key, SIGN_OPEN_KEY,
        "a key that stands open: filled, the finger shuts it");
    add(entries, use.stuck, use.stuck_square ? SIGN_STUCK_SQUARE : SIGN_STUCK,
        use.stuck_square ? "crossed: stuck, no finger moves it; a square: a "
                           "key that would stand open"
                         : "crossed: stuck; no finger moves it");
    add(entries, use.ascending, SIGN_ASCENDING,
        "a valve that raises the horn when pressed");
    const bool all = legend->detail == HBK_DETAIL_ALL;
    static const char *const cut = "; a wedge cut in two: more than 30 cents";
    add(entries, all && use.sharp, SIGN_SHARP,
        hbk_arena_printf(
            arena, "cents sharp once tuned, the wedge points up: lip down%s",
            use.cut && !use.flat ? cut : ""));
    add(entries, all && use.flat, SIGN_FLAT,
        hbk_arena_printf(
            arena, "cents flat once tuned, the wedge points down: lip up%s",
            use.cut ? cut : ""));
    add(entries, !all && use.lip, SIGN_LIP,
        "lip up, lip down: more than 10 cents flat or sharp once tuned; bend "
        "it that way");
    add(entries, all && fingers, SIGN_PARTIAL,
        "partial: the 5th note of the tube\u2019s natural series");
    add(entries, use.draw, SIGN_DRAW,
        "draw: how far the hand draws the trigger while the note is played");
    add(entries, use.care, SIGN_CARE,
        "needs care: the note speaks far less freely than most of this horn");
    add(entries, use.doubt, SIGN_DOUBT,
        "doubtful: more than 30 cents off, or on a partial to avoid");
    add(entries, use.reach && fingers, SIGN_REACH,
        "no fingering comes near the note");
    add(entries, use.others, SIGN_OTHERS, others_text(arena, use));
}

/* A sign at the left of its words, on their first baseline. */
static void draw_sign(struct hbk_pad *pad, enum sign sign, const char *other,
                      double unit, double x, double y)
{
    const double u = unit;
    const double middle = x + 0.4 * sign_room * u;
    const double high = y - 0.95 * u;
    struct hbk_style style = plain(unit);
    static const struct hbk_control shut_key = {.kind = HBK_KEY};
    static const struct hbk_control open_key = {.kind = HBK_KEY,
                                                .stands_open = true};
    static const struct hbk_control ascending = {.kind = HBK_VALVE,
                                                 .rests_in = true};
    style.align = HBK_CENTRE;
    switch (sign) {
    case SIGN_PRESSED:
        hbk_spot_draw(pad, &shut_key, middle - 1.7 * u, high, 1.3 * u, true);
        hbk_spot_draw(pad, &shut_key, middle + 1.7 * u, high, 1.3 * u, false);
        return;
    case SIGN_OPEN_KEY:
        hbk_spot_draw(pad, &open_key, middle - 1.7 * u, high, 1.3 * u, true);
        hbk_spot_draw(pad, &open_key, middle + 1.7 * u, high, 1.3 * u, false);
        return;
    case SIGN_STUCK:
        hbk_spot_draw(pad, &shut_key, middle, high, 1.3 * u, false);
        hbk_spot_cross(pad, middle, high, 1.3 * u);
        return;
    case SIGN_STUCK_SQUARE:
        hbk_spot_draw(pad, &open_key, middle, high, 1.3 * u, false);
        hbk_spot_cross(pad, middle, high, 1.3 * u);
        return;
    case SIGN_ASCENDING:
        hbk_spot_draw(pad, &ascending, middle - 1.7 * u, high, 1.3 * u, true);
        hbk_spot_draw(pad, &ascending, middle + 1.7 * u, high, 1.3 * u, false);
        return;
    case SIGN_SHARP:
    case SIGN_FLAT:
        style.align = HBK_LEFT;
        hbk_wedge_draw(pad, x + 1.0 * u, y, style,
                       sign == SIGN_SHARP ? 20.0 : -20.0);
        return;
    case SIGN_LIP:
        hbk_pad_text(pad, middle, y, style, "lip");
        return;
    case SIGN_PARTIAL:
        hbk_pad_text(pad, middle, y, style, "p5");
        return;
    case SIGN_DRAW:
        hbk_pad_text(pad, middle, y, style, "draw");
        return;
    case SIGN_CARE:
        hbk_pad_text(pad, middle, y, style, "care");
        return;
    case SIGN_DOUBT:
        style.face = HBK_FACE_BOLD;
        hbk_pad_text(pad, middle, y, style, "?");
        return;
    case SIGN_REACH:
        style.face = HBK_FACE_BOLD;
        hbk_pad_text(pad, middle, y, style, "\u2013");
        return;
    case SIGN_CHANGED:
        style.face = HBK_FACE_BOLD;
        hbk_pad_text(pad, middle, y, style, "2");
        hbk_pad_line(pad, middle - 1.0 * u, y + 0.45 * u, 2.0 * u, 0.0,
                     0.3 * u);
        return;
    case SIGN_NUMBER:
    case SIGN_OTHERS:
        style.face = HBK_FACE_BOLD;
        style.size *= sign == SIGN_NUMBER ? 1.25 : 1.0;
        if (sign == SIGN_OTHERS) {
            style = hbk_pad_fit(pad, style, 0.76 * sign_room * u, 0.5, other);
        }
        hbk_pad_text(pad, middle, y, style, sign == SIGN_NUMBER ? "2" : other);
        return;
    }
}

struct walk {
    struct hbk_pad *pad;
    const struct hbk_legend *legend;
    bool draw;
    double x, y;
};

/* Entries in columns of one width, filled down and then across. */
static void signs(struct walk *walk)
{
    const double u = walk->legend->unit;
    struct hbk_arena *arena = walk->pad->sheet->arena;
    struct entries entries;
    list_entries(arena, walk->legend, &entries);
    const double least = 56.0 * u;
    const size_t columns =
        (size_t)fmax(1.0, floor(walk->legend->width / least));
    const double step =
        (walk->legend->width + column_gap * u) / (double)columns;
    const double room = step - column_gap * u - sign_room * u;
    struct hbk_lines lines[ENTRIES_MAX];
    double total = 0.0;
    const double gap = 1.5 * u;
    for (size_t i = 0; i < entries.n; i++) {
        lines[i] =
            hbk_pad_wrap(walk->pad, plain(u), room, entries.items[i].text);
        total += (double)lines[i].n * leading * u + gap;
    }
    /* The shortest column height that holds them all. */
    double height = total / (double)columns;
    for (bool fits = false; !fits; height += 0.5 * leading * u) {
        double used = 0.0;
        size_t column = 0;
        for (size_t i = 0; i < entries.n; i++) {
            const double tall = (double)lines[i].n * leading * u + gap;
            if (used > 0.0 && used + tall > height + 0.01) {
                column++;
                used = 0.0;
            }
            used += tall;
        }
        fits = column < columns;
    }
    height -= 0.5 * leading * u;
    double x = walk->x;
    double y = 0.0;
    double deepest = 0.0;
    for (size_t i = 0; i < entries.n; i++) {
        const double tall = (double)lines[i].n * leading * u + gap;
        if (y > 0.0 && y + tall > height + 0.01) {
            x += step;
            y = 0.0;
        }
        if (walk->draw) {
            const double baseline = walk->y + y + 2.6 * u;
            hbk_pad_group(walk->pad);
            hbk_pad_open(walk->pad, HBK_TAG_PARAGRAPH);
            draw_sign(walk->pad, entries.items[i].sign, entries.other, u, x,
                      baseline);
            hbk_pad_lines(walk->pad, x + sign_room * u, baseline, plain(u),
                          leading * u, &lines[i]);
            hbk_pad_close(walk->pad, HBK_TAG_PARAGRAPH);
        }
        y += tall;
        deepest = fmax(deepest, y);
    }
    walk->y += deepest;
}

/* A bold lead-in, and the text in a column; returns the height. */
static double note(const struct walk *walk, double x, double y, double width,
                   const char *heading, const char *text)
{
    if (text[0] == '\0') {
        return 0.0;
    }
    const double u = walk->legend->unit;
    struct hbk_style style = plain(u);
    style.face = HBK_FACE_BOLD;
    const struct hbk_lines lines =
        hbk_pad_wrap(walk->pad, plain(u), width, text);
    if (walk->draw) {
        hbk_pad_group(walk->pad);
        hbk_pad_open(walk->pad, HBK_TAG_PARAGRAPH);
        hbk_pad_text(walk->pad, x, y + 2.0 * u, style, heading);
        hbk_pad_lines(walk->pad, x, y + (2.0 + leading) * u, plain(u),
                      leading * u, &lines);
        hbk_pad_close(walk->pad, HBK_TAG_PARAGRAPH);
    }
    return ((double)lines.n + 1.0) * leading * u + 1.0 * u;
}

static const char *remarks_text(struct hbk_arena *arena,
                                const struct hbk_horn *horn)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < horn->n_remarks; i++) {
        hbk_text_addf(&text, "%s%s", i > 0 ? "\n" : "", horn->remarks[i]);
    }
    return hbk_text_string(&text);
}

static void notes_below(struct walk *walk)
{
    const struct hbk_legend *legend = walk->legend;
    const struct hbk_horn *horn = legend->notes->horn;
    struct hbk_arena *arena = walk->pad->sheet->arena;
    const double u = legend->unit;
    const double gap = 2.0 * column_gap * u;
    const bool columns = legend->width >= 110.0 * u && !legend->known_apart;
    const double width = columns ? 0.5 * (legend->width - gap) : legend->width;
    double y = walk->y;
    if (!legend->known_apart) {
        y += note(walk, walk->x, y, width, known_heading,
                  hbk_words_known(arena, horn));
        y += note(walk, walk->x, y, width, remarks_heading,
                  remarks_text(arena, horn));
    }
    const double x = columns ? walk->x + width + gap : walk->x;
    double other = columns ? walk->y : y;
    other += note(walk, x, other, width, "With care", hbk_words_cautions());
    walk->y = fmax(y, other);
}

struct hbk_lines hbk_legend_known_lines(struct hbk_pad *pad,
                                        const struct hbk_legend *legend)
{
    struct hbk_arena *arena = pad->sheet->arena;
    const struct hbk_horn *horn = legend->notes->horn;
    const char *remarks = remarks_text(arena, horn);
    return hbk_pad_wrap(
        pad, plain(legend->unit), legend->width,
        hbk_arena_printf(arena, "%s: %s%s%s%s%s", known_heading,
                         hbk_words_known(arena, horn),
                         remarks[0] == '\0' ? "" : "\n",
                         remarks[0] == '\0' ? "" : remarks_heading,
                         remarks[0] == '\0' ? "" : ": ", remarks));
}

double hbk_legend_known_draw(struct hbk_pad *pad,
                             const struct hbk_legend *legend,
                             const struct hbk_lines *lines, size_t first,
                             size_t n, double x, double y)
{
    const double u = legend->unit;
    const struct hbk_lines part = {n, lines->text + first, lines->widest};
    hbk_pad_block(pad, HBK_TAG_PARAGRAPH, x, y + 2.0 * u, plain(u), leading * u,
                  &part);
    return ((double)n * leading + 1.0) * u;
}

size_t hbk_legend_known_fit(const struct hbk_legend *legend, double height)
{
    const double lines = floor((height / legend->unit - 1.0) / leading);
    return lines > 0.0 ? (size_t)lines : 0;
}

static double run(struct hbk_pad *pad, const struct hbk_legend *legend,
                  bool draw, double x, double y)
{
    struct walk walk = {pad, legend, draw, x, y};
    const double u = legend->unit;
    for (int part = 0; part < 2; part++) {
        if (draw) {
            hbk_pad_group(pad);
            hbk_pad_line(pad, x, walk.y, legend->width, 0.0, 0.25 * u);
        }
        walk.y += 1.6 * u;
        if (part == 0) {
            signs(&walk);
        } else {
            notes_below(&walk);
        }
        walk.y += 0.4 * u;
    }
    return walk.y - y;
}

double hbk_legend_height(const struct hbk_pad *pad,
                         const struct hbk_legend *legend)
{
    struct hbk_pad copy = *pad;
    return run(&copy, legend, false, 0.0, 0.0);
}

double hbk_legend_draw(struct hbk_pad *pad, const struct hbk_legend *legend,
                       double x, double y)
{
    return run(pad, legend, true, x, y);
}
