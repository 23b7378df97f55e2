#include "sheet/chart/strip.h"

#include "horn/about.h"
#include "horn/press.h"
#include "notes/beside.h"
#include "notes/verdict.h"
#include "sheet/words/words.h"

#include <math.h>

/* Heights of any letter, and what hangs below, of the em. */
static const double box = 0.77;
static const double hangs = 0.24;

/* White, mm at unit 1. */
static const double top_gap = 1.5;
static const double staff_gap = 1.0;
static const double figure_gap = 1.7;
static const double letter_gap = 1.5;
static const double grid_gap = 0.7;
static const double foot_gap = 1.0;

/* A line under a figure, of its em. */
static const double underline = 0.16;

/* How far ledger lines go beyond a head, both sides, in staff spaces. */
static const double ledgers = 0.9;

enum hbk_strip_mark hbk_strip_mark_of(const struct hbk_notes *notes,
                                      const struct hbk_notes *beside,
                                      const struct hbk_strip_run *all)
{
    if (beside == NULL) {
        return HBK_MARK_NONE;
    }
    size_t others = 0;
    for (size_t i = 0; i < all->n; i++) {
        const int written = notes->notes[all->shown[i]].written;
        others += hbk_beside_note(notes, beside, written) != HBK_BESIDE_SAME;
    }
    if (others == 0 || others == all->n) {
        return HBK_MARK_NONE;
    }
    return 2 * others <= all->n ? HBK_MARK_OTHER : HBK_MARK_SAME;
}

const struct hbk_note *hbk_strip_note(const struct hbk_strip *strip,
                                      const struct hbk_strip_run *run, size_t i)
{
    return &strip->notes->notes[run->shown[i]];
}

/* The note that the player reads. */
int hbk_strip_read(const struct hbk_strip *strip, const struct hbk_note *note)
{
    return hbk_notation_note(&strip->notes->notation, note->written);
}

bool hbk_strip_doubtful(const struct hbk_note *note)
{
    return note->n > 0 &&
           (note->fingerings[0].verdict & HBK_VERDICT_UNRELIABLE) != 0;
}

struct hbk_heads hbk_strip_heads_of(const struct hbk_strip *strip, int read)
{
    struct hbk_heads heads = hbk_heads_of(read);
    heads.n = strip->look.pairs ? heads.n : 1;
    return heads;
}

double hbk_strip_heads(const struct hbk_strip *strip,
                       const struct hbk_strip_run *run)
{
    double widest = 0.0;
    for (size_t i = 0; i < run->n; i++) {
        const struct hbk_heads heads = hbk_strip_heads_of(
            strip, hbk_strip_read(strip, hbk_strip_note(strip, run, i)));
        widest = fmax(widest, hbk_heads_width(&heads, 1.0) + ledgers);
    }
    return widest;
}

const char *hbk_strip_lip(const struct hbk_note *note)
{
    return note->n == 0 ? "" : hbk_words_lip(note->fingerings[0].cents);
}

/* Unreliable without a disc that could say so. */
bool hbk_strip_ringed(const struct hbk_note *note)
{
    return hbk_strip_doubtful(note) && note->fingerings[0].press == 0;
}

/* What a ring about a figure needs above and below it, of the em. */
static double ring_room(const struct hbk_strip *strip,
                        const struct hbk_strip_run *run)
{
    bool any = false;
    for (size_t i = 0; i < run->n; i++) {
        any = any || hbk_strip_ringed(hbk_strip_note(strip, run, i));
    }
    return any ? HBK_STRIP_RING - 0.5 * HBK_STRIP_TALL : 0.0;
}

/* How far the hand pulls a slide for a note, whole mm. */
static double pulled_mm(const struct hbk_note *note)
{
    return note->n == 0 ? 0.0 : round(note->fingerings[0].drawn_m * 1e3);
}

const char *hbk_strip_slide(const struct hbk_strip *strip,
                            struct hbk_arena *arena,
                            const struct hbk_note *note)
{
    const double mm = pulled_mm(note);
    return mm < 1.0 ? ""
                    : hbk_arena_printf(arena, "%s%.0f",
                                       strip->bare ? "" : "slide ", mm);
}

/* What has a line below the fingers of a row. */
struct below {
    bool lip, slide, both; /* both: of one note */
};

static struct below below_of(const struct hbk_strip *strip,
                             const struct hbk_strip_run *run)
{
    struct below below = {false, false, false};
    for (size_t i = 0; i < run->n; i++) {
        const struct hbk_note *note = hbk_strip_note(strip, run, i);
        const bool lip = hbk_strip_lip(note)[0] != '\0';
        const bool slide = pulled_mm(note) >= 1.0;
        below.lip = below.lip || lip;
        below.slide = below.slide || slide;
        below.both = below.both || (lip && slide);
    }
    return below;
}

struct hbk_levels hbk_strip_levels(const struct hbk_strip *strip,
                                   const struct hbk_strip_run *run)
{
    const struct hbk_strip_look *look = &strip->look;
    const double u = look->air;
    const enum hbk_clef clef = strip->notes->notation.clef;
    double above;
    double below;
    hbk_clef_reach(clef, &above, &below);
    for (size_t i = 0; i < run->n; i++) {
        const struct hbk_heads heads = hbk_strip_heads_of(
            strip, hbk_strip_read(strip, hbk_strip_note(strip, run, i)));
        double up;
        double down;
        hbk_heads_reach(clef, &heads, &up, &down);
        above = fmax(above, up);
        below = fmax(below, down);
    }
    struct hbk_levels at = {0};
    const double top = HBK_STRIP_EDGE_PEN * look->unit + top_gap * u;
    at.name = top + box * look->name;
    at.lower = at.name;
    if (!look->pairs) {
        at.name = top + box * look->half;
        at.lower = at.name + 0.95 * look->half;
    }
    at.sound = at.lower + (strip->sounding ? 1.15 * look->sound : 0.0);
    at.bottom = at.sound + staff_gap * u + hangs * look->sound +
                (above + 4.0) * look->space;
    const double ring = ring_room(strip, run);
    at.figure = at.bottom + below * look->space + figure_gap * u +
                (HBK_STRIP_TALL + ring) * look->figure;
    const double line = strip->mark != HBK_MARK_NONE ? underline : 0.0;
    double y = at.figure + fmax(ring, line) * look->figure;
    if (strip->cells.n_rows > 0) {
        /* Of one hand the letter stands over the map alone. */
        at.grid =
            y + letter_gap * u + grid_gap * look->unit +
            (strip->cells.n_hands > 1 ? HBK_STRIP_TALL * look->letter : 0.0);
        at.letter = at.grid - grid_gap * look->unit;
        y = at.grid + look->row * (double)strip->cells.n_rows;
    } else {
        y += letter_gap * u;
    }
    const struct below below_fingers = below_of(strip, run);
    if (below_fingers.lip) {
        at.word = y + 0.5 * u + box * look->word;
        y = at.word + hangs * look->word;
    }
    /* In one line where each says of itself what it is. */
    if (below_fingers.slide && below_fingers.lip && !below_fingers.both &&
        !strip->bare) {
        at.slide = at.word;
    } else if (below_fingers.slide) {
        at.slide = y + 0.5 * u + box * look->word;
        y = at.slide + hangs * look->word;
    }
    at.end = y + foot_gap * u + HBK_STRIP_EDGE_PEN * look->unit;
    return at;
}

double hbk_strip_height(const struct hbk_strip *strip,
                        const struct hbk_strip_run *run)
{
    return hbk_strip_levels(strip, run).end;
}

const char *hbk_strip_figure(const struct hbk_strip *strip,
                             struct hbk_arena *arena,
                             const struct hbk_note *note)
{
    if (note->n == 0) {
        return "\u2013";
    }
    const struct hbk_fingering *first = &note->fingerings[0];
    if (hbk_horn_n_controls(strip->notes->horn) == 0) {
        return hbk_arena_printf(arena, "%u", first->partial);
    }
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(strip->notes->horn, first->press, label);
    size_t n = 0;
    for (size_t i = 0; label[i] != '\0'; i++) {
        if (label[i] != '-' || !strip->joined) {
            label[n++] = label[i];
        }
    }
    return hbk_arena_copy(arena, label, n);
}

double hbk_strip_end(const struct hbk_strip *strip,
                     const struct hbk_strip_run *run, double x)
{
    return x + strip->look.label + strip->look.cell * (double)run->n;
}
