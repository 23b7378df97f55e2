#include "sheet/chart/plate_form.h"

#include "horn/about.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* Further off than this an alternate is left to the wall, cents. */
static const double far_cents = 30.0;

double hbk_plate_centre(const struct hbk_plate_column *column)
{
    return column->x + 0.5 * column->width;
}

double hbk_plate_names_height(const struct hbk_plate *plate)
{
    const double names = plate->pairs ? 5.6 : 8.8;
    return (names + (plate->options->sounding ? 3.6 : 0.0)) * plate->s;
}

double hbk_plate_staff_height(const struct hbk_plate *plate,
                              const struct hbk_plate_system *system)
{
    return (system->staff_above + 4.0 + system->staff_below) * plate->space +
           2.0 * plate->s;
}

double hbk_plate_figure_height(const struct hbk_plate *plate)
{
    return 6.2 * plate->s;
}

double hbk_plate_below_height(const struct hbk_plate *plate)
{
    return ((plate->has_slide ? 4.2 : 0.0) + (plate->has_lip ? 4.2 : 0.0) +
            hbk_plate_other_step(plate) * (double)plate->others + 1.2) *
           plate->s;
}

double hbk_plate_other_step(const struct hbk_plate *plate)
{
    return plate->is_every ? 7.3 : 3.7;
}

double hbk_plate_foot_height(const struct hbk_plate *plate)
{
    const size_t known = plate->known_apart ? 0 : plate->known.n;
    const double foot = fmax((double)known, (double)plate->care.n) * 2.95;
    return (1.5 + (double)plate->legend.n * 4.3 + 1.6 + foot + 0.6) * plate->s;
}

/*
 * In the order of the solver; what is far off, or on a partial to avoid, is
 * left to the wall chart, but an open note that plays is never hidden.
 */
const struct hbk_fingering *
hbk_plate_other(const struct hbk_plate *plate,
                const struct hbk_plate_column *column, size_t k)
{
    const struct hbk_note *note = column->note;
    if (k == 0 || plate->is_every) {
        return k < note->n ? &note->fingerings[k] : NULL;
    }
    const bool many_valves =
        hbk_horn_has_kind(plate->notes->horn, HBK_VALVE) && plate->n_rows > 3;
    size_t found = 0;
    for (size_t i = 1; i < note->n; i++) {
        const struct hbk_fingering *other = &note->fingerings[i];
        const bool is_open = other->press == 0;
        const bool near = fabs(other->cents) <= far_cents;
        const bool worth = !many_valves ||
                           fabs(other->cents) < fabs(note->fingerings[0].cents);
        if ((near && other->use != HBK_USE_AVOID && worth) ||
            (is_open && near)) {
            if (++found == k) {
                return other;
            }
        }
    }
    return NULL;
}

struct hbk_style hbk_plate_fit(const struct hbk_pad *pad,
                               struct hbk_style style, double width,
                               double least, const char **text)
{
    struct hbk_style fit =
        hbk_pad_fit(pad, style, width, fmax(least, 9.5 / 13.0), *text);
    if (hbk_pad_width(pad, fit, *text) <= width) {
        return fit;
    }
    /* Without the hyphens, where every name is of one letter. */
    char *bare = hbk_arena_copy(pad->sheet->arena, *text, strlen(*text));
    size_t n = 0;
    bool single = true;
    for (const char *at = *text; *at != '\0'; at++) {
        if (*at != '-') {
            single = single && !(isalnum((unsigned char)*at) &&
                                 isalnum((unsigned char)at[1]));
            bare[n++] = *at;
        }
    }
    bare[n] = '\0';
    *text = single ? bare : *text;
    return hbk_pad_fit(pad, style, width, least, *text);
}
