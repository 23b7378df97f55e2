#include "sheet/chart/gamut_bar.h"

#include "horn/about.h"
#include "horn/press.h"
#include "sheet/article/beside.h"
#include "sheet/block/wedge.h"
#include "sheet/words/words.h"
#include "sheet/words/words_use.h"

#include <math.h>

/* In units. */
static const double octave_gap = 0.2;
static const double alternate_gap = 1.1;

/* Points of the numbers, and the share of it that a long one keeps. */
static const double first_points = 15.0;
static const double first_least = 0.6;
static const double sounding_points = 7.5;
static const double alternate_points = 9.0;
static const double alternate_least = 7.0 / 9.0;

static const char *const no_fingering = "out of reach";
static const char *const takes_care = "needs care";

static struct hbk_style styled(const struct hbk_gamut *gamut,
                               enum hbk_face face, double points)
{
    const struct hbk_style style = {
        .face = face,
        .size = HBK_PT(fmax(points * gamut->unit, gamut->least_points))};
    return style;
}

static struct hbk_style plain(const struct hbk_gamut *gamut, double points)
{
    return styled(gamut, HBK_FACE_PLAIN, points);
}

static struct hbk_style bold(const struct hbk_gamut *gamut, double points)
{
    return styled(gamut, HBK_FACE_BOLD, points);
}

static struct hbk_style name_style(const struct hbk_gamut *gamut)
{
    return bold(gamut, 14.0);
}

static struct hbk_style octave_style(const struct hbk_gamut *gamut)
{
    return plain(gamut, 8.0);
}

/* The letters of a note: one name, or sharp and flat. */
struct names {
    size_t n;
    char text[2][HBK_NAME_SIZE];
    char octave[HBK_NAME_SIZE];
    double width[2], octave_width;
    double gap;
};

static void name_it(const struct hbk_pad *pad, const struct hbk_gamut *gamut,
                    int note, struct names *names)
{
    const struct hbk_spelling sharp = hbk_note_sharp(note);
    hbk_spelling_letter(sharp, HBK_UNICODE, names->text[0]);
    hbk_spelling_letter(hbk_note_flat(note), HBK_UNICODE, names->text[1]);
    names->n = hbk_note_is_black(note) ? 2 : 1;
    const struct hbk_style style = name_style(gamut);
    names->width[0] = hbk_pad_width(pad, style, names->text[0]);
    names->width[1] =
        names->n == 2 ? hbk_pad_width(pad, style, names->text[1]) : 0.0;
    /* Octaves of the written name run from 0 to 9. */
    names->octave[0] = (char)('0' + sharp.octave);
    names->octave[1] = '\0';
    names->octave_width =
        hbk_pad_width(pad, octave_style(gamut), names->octave);
    names->gap = names->n == 2 ? 0.32 * style.size : 0.0;
}

static double name_width(const struct hbk_pad *pad,
                         const struct hbk_gamut *gamut, int note)
{
    struct names names;
    name_it(pad, gamut, note, &names);
    return names.width[0] + names.gap + names.width[1] + 0.5 * gamut->unit +
           names.octave_width;
}

static void draw_names(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                       double centre, double y, int note)
{
    struct names names;
    name_it(pad, gamut, note, &names);
    const struct hbk_style style = name_style(gamut);
    double x = centre - 0.5 * name_width(pad, gamut, note);
    hbk_pad_group(pad);
    for (size_t i = 0; i < names.n; i++) {
        hbk_pad_text(pad, x, y, style, names.text[i]);
        x += names.width[i] + (i == 0 ? names.gap : 0.0);
    }
    hbk_pad_text(pad, x + octave_gap * gamut->unit, y + 0.5 * gamut->unit,
                 octave_style(gamut), names.octave);
}

const char *hbk_gamut_label(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_fingering *fingering)
{
    if (hbk_horn_n_controls(notes->horn) == 0) {
        return hbk_arena_printf(arena, "%u", fingering->partial);
    }
    char label[HBK_LABEL_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_horn_press_label(notes->horn, fingering->press, label));
}

static const char *partial_text(struct hbk_arena *arena, unsigned partial)
{
    return hbk_arena_printf(arena, "p%u", partial);
}

static bool is_doubtful(const struct hbk_fingering *first)
{
    return (first->verdict & HBK_VERDICT_UNRELIABLE) != 0;
}

static bool says_care(const struct hbk_gamut *gamut,
                      const struct hbk_fingering *first)
{
    return gamut->care && (first->verdict & HBK_VERDICT_CARE) != 0;
}

/*
 * The number large, with a query at its shoulder when it is doubtful and a
 * line beneath when the player knows another.
 */
static void draw_number(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                        double centre, double y, int written,
                        const struct hbk_fingering *first)
{
    struct hbk_arena *arena = pad->sheet->arena;
    const char *label = hbk_gamut_label(arena, gamut->notes, first);
    const double room =
        hbk_gamut_bar_width(gamut) - 2.0 * HBK_GAMUT_BAR_PAD * gamut->unit;
    const bool doubtful = is_doubtful(first);
    const struct hbk_style query = bold(gamut, 11.0);
    const double query_room =
        doubtful ? hbk_pad_width(pad, query, "?") + 0.4 * gamut->unit : 0.0;
    const struct hbk_style style = hbk_pad_fit(
        pad, bold(gamut, first_points), room - query_room, first_least, label);
    const double width = hbk_pad_width(pad, style, label);
    /* The number keeps the middle unless the query needs its room. */
    const double left =
        fmin(centre - 0.5 * width, centre + 0.5 * room - query_room - width);
    hbk_pad_group(pad);
    hbk_pad_text(pad, left, y, style, label);
    if (gamut->beside != NULL && hbk_beside_note(gamut->notes, gamut->beside,
                                                 written) != HBK_BESIDE_SAME) {
        hbk_pad_line(pad, left, y + 0.75 * gamut->unit, width, 0.0,
                     0.45 * gamut->unit);
    }
    if (doubtful) {
        hbk_pad_text(pad, left + width + 0.4 * gamut->unit,
                     y - 1.3 * gamut->unit, query, "?");
    }
}

static const char *sounding_text(struct hbk_arena *arena,
                                 const struct hbk_gamut *gamut,
                                 const struct hbk_note *note)
{
    return hbk_arena_printf(
        arena, "sounds %s",
        hbk_words_sounding(arena, note->written,
                           gamut->notes->written_c4_sounds));
}

/* Wedge, cents and partial. */
static double cents_width(const struct hbk_pad *pad,
                          const struct hbk_gamut *gamut,
                          const struct hbk_fingering *first)
{
    return hbk_wedge_width(pad, plain(gamut, 8.5), first->cents) +
           1.4 * gamut->unit +
           hbk_pad_width(pad, plain(gamut, 7.0),
                         partial_text(pad->sheet->arena, first->partial));
}

/* Number and query, at the least size of the number. */
static double number_width(const struct hbk_pad *pad,
                           const struct hbk_gamut *gamut,
                           const struct hbk_fingering *first)
{
    const double label =
        hbk_pad_width(pad, bold(gamut, first_points * first_least),
                      hbk_gamut_label(pad->sheet->arena, gamut->notes, first));
    return is_doubtful(first)
               ? label + hbk_pad_width(pad, bold(gamut, 11.0), "?") +
                     0.4 * gamut->unit
               : label;
}

double hbk_gamut_first_width(const struct hbk_pad *pad,
                             const struct hbk_gamut *gamut, size_t index)
{
    struct hbk_arena *arena = pad->sheet->arena;
    const struct hbk_note *note = &gamut->notes->notes[index];
    const struct hbk_heads heads = hbk_heads_of(note->written);
    const double space = hbk_gamut_space(gamut);
    const struct hbk_style small = plain(gamut, 7.0);
    double widest = fmax(name_width(pad, gamut, note->written),
                         hbk_heads_width(&heads, space) + space);
    if (gamut->sounding) {
        widest = fmax(widest, hbk_pad_width(pad, plain(gamut, sounding_points),
                                            sounding_text(arena, gamut, note)));
    }
    if (note->n == 0) {
        return fmax(widest, hbk_pad_width(pad, small, no_fingering));
    }
    const struct hbk_fingering *first = &note->fingerings[0];
    widest = fmax(widest, number_width(pad, gamut, first));
    widest =
        fmax(widest, hbk_pad_width(pad, small, hbk_words_draw(arena, first)));
    if (says_care(gamut, first)) {
        widest = fmax(widest, hbk_pad_width(pad, small, takes_care));
    }
    if (gamut->detail == HBK_DETAIL_ALL) {
        widest = fmax(widest, cents_width(pad, gamut, first));
    }
    return widest;
}

/* Cents with their wedge, then the partial, centred together. */
static void draw_cents(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                       double centre, double y,
                       const struct hbk_fingering *first)
{
    const struct hbk_style number = plain(gamut, 8.5);
    const struct hbk_style small = plain(gamut, 7.0);
    const char *partial = partial_text(pad->sheet->arena, first->partial);
    const bool has_partial = hbk_horn_n_controls(gamut->notes->horn) > 0;
    const double gap = has_partial ? 1.4 * gamut->unit : 0.0;
    const double left = hbk_wedge_width(pad, number, first->cents);
    const double right = has_partial ? hbk_pad_width(pad, small, partial) : 0.0;
    const double x = centre - 0.5 * (left + gap + right);
    hbk_pad_group(pad);
    hbk_wedge_draw(pad, x, y, number, first->cents);
    if (has_partial) {
        hbk_pad_text(pad, x + left + gap, y, small, partial);
    }
}

double hbk_gamut_alternate_height(const struct hbk_gamut *gamut)
{
    return 6.7 * gamut->unit;
}

/* What the hand must do comes before what it is good for. */
static const char *below_alternate(struct hbk_arena *arena,
                                   const struct hbk_fingering *other)
{
    const char *below = hbk_words_draw(arena, other);
    return below[0] != '\0' ? below : hbk_words_use(arena, other);
}

double hbk_gamut_alternate_width(const struct hbk_pad *pad,
                                 const struct hbk_gamut *gamut, size_t index,
                                 size_t rank)
{
    struct hbk_arena *arena = pad->sheet->arena;
    const struct hbk_fingering *other =
        &gamut->notes->notes[index].fingerings[rank];
    const struct hbk_style small = plain(gamut, 7.0);
    const double label =
        hbk_pad_width(pad, bold(gamut, alternate_points * alternate_least),
                      hbk_gamut_label(arena, gamut->notes, other));
    const double line =
        label + hbk_wedge_width(pad, small, other->cents) +
        hbk_pad_width(pad, small, partial_text(arena, other->partial)) +
        2.0 * alternate_gap * gamut->unit;
    return fmax(line, hbk_pad_width(pad, small, below_alternate(arena, other)));
}

static void draw_alternate(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                           double x, double y, size_t index, size_t rank)
{
    struct hbk_arena *arena = pad->sheet->arena;
    const double u = gamut->unit;
    const struct hbk_fingering *other =
        &gamut->notes->notes[index].fingerings[rank];
    const struct hbk_style cents = plain(gamut, 7.0);
    struct hbk_style small = plain(gamut, 7.0);
    const char *partial = partial_text(arena, other->partial);
    const double room =
        hbk_gamut_bar_width(gamut) - 2.0 * HBK_GAMUT_BAR_PAD * u;
    const double right = hbk_pad_width(pad, small, partial);
    const double middle = hbk_wedge_width(pad, cents, other->cents);
    const double gap = alternate_gap * u;
    const char *label = hbk_gamut_label(arena, gamut->notes, other);
    const struct hbk_style number =
        hbk_pad_fit(pad, bold(gamut, alternate_points),
                    room - right - middle - 2.0 * gap, alternate_least, label);
    const double left = hbk_pad_width(pad, number, label);
    const double baseline = y + 3.0 * u;
    const double start = x + 0.5 * (hbk_gamut_bar_width(gamut) -
                                    (left + gap + middle + gap + right));
    hbk_pad_group(pad);
    hbk_pad_text(pad, start, baseline, number, label);
    hbk_wedge_draw(pad, start + left + gap, baseline, cents, other->cents);
    hbk_pad_text(pad, start + left + gap + middle + gap, baseline, small,
                 partial);
    small.align = HBK_CENTRE;
    const char *below = below_alternate(arena, other);
    hbk_pad_text(pad, x + 0.5 * hbk_gamut_bar_width(gamut), baseline + 2.95 * u,
                 small, below);
}

static void draw_out_of_reach(struct hbk_pad *pad,
                              const struct hbk_gamut *gamut,
                              const struct hbk_gamut_lines *lines,
                              double centre, double y)
{
    struct hbk_style style = bold(gamut, 15.0);
    style.align = HBK_CENTRE;
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y + lines->number, style, "\u2013");
    style = plain(gamut, 7.0);
    style.align = HBK_CENTRE;
    hbk_pad_text(pad, centre, y + lines->number + 3.4 * gamut->unit, style,
                 no_fingering);
}

/* What is said of the first choice, beneath its circles. */
static void draw_words(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                       const struct hbk_gamut_lines *lines, double centre,
                       double y, const struct hbk_fingering *first)
{
    struct hbk_style style = plain(gamut, 7.0);
    style.align = HBK_CENTRE;
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y + lines->draw, style,
                 hbk_words_draw(pad->sheet->arena, first));
    if (gamut->detail == HBK_DETAIL_FINGERS) {
        return;
    }
    if (gamut->detail == HBK_DETAIL_ALL) {
        draw_cents(pad, gamut, centre, y + lines->cents, first);
    }
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y + lines->lip, style,
                 hbk_words_lip(first->cents));
    if (says_care(gamut, first)) {
        hbk_pad_group(pad);
        hbk_pad_text(pad, centre, y + lines->care, style, takes_care);
    }
}

/* The first choice and the others, from the number down. */
static void draw_fingerings(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                            const struct hbk_gamut_lines *lines, size_t index,
                            double x, double y)
{
    const struct hbk_note *note = &gamut->notes->notes[index];
    const double centre = x + 0.5 * hbk_gamut_bar_width(gamut);
    const struct hbk_fingering *first = &note->fingerings[0];
    draw_number(pad, gamut, centre, y + lines->number, note->written, first);
    if (gamut->hands.n_rows > 0) {
        hbk_hands_draw(pad, gamut->notes->horn, &gamut->hands, centre,
                       y + lines->hands, hbk_gamut_pitch(gamut), first->press);
    }
    draw_words(pad, gamut, lines, centre, y, first);
    for (size_t k = 1; k < note->n && k <= gamut->alternates; k++) {
        draw_alternate(pad, gamut, x,
                       y + lines->rest +
                           (double)(k - 1) * hbk_gamut_alternate_height(gamut),
                       index, hbk_note_other(note, gamut->alternates, k));
    }
}

void hbk_gamut_bar_draw(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                        const struct hbk_gamut_lines *lines,
                        const struct hbk_staff *staff, size_t index, double x,
                        double y)
{
    const struct hbk_note *note = &gamut->notes->notes[index];
    const double centre = x + 0.5 * hbk_gamut_bar_width(gamut);
    draw_names(pad, gamut, centre, y + lines->name, note->written);
    if (gamut->sounding) {
        struct hbk_style style = plain(gamut, sounding_points);
        style.align = HBK_CENTRE;
        hbk_pad_group(pad);
        hbk_pad_text(pad, centre, y + lines->sounding, style,
                     sounding_text(pad->sheet->arena, gamut, note));
    }
    if (note->n == 0) {
        draw_out_of_reach(pad, gamut, lines, centre, y);
    } else {
        draw_fingerings(pad, gamut, lines, index, x, y);
    }
    /*
     * The heads come last: some readers of a tagged PDF lose the words of a
     * part after a character that stands for other text.
     */
    const struct hbk_heads heads = hbk_heads_of(note->written);
    hbk_heads_draw(pad, staff, centre, &heads);
}
