#include "sheet/wedge.h"

#include <math.h>
#include <stdio.h>

/*
 * In ems of the number: length per cent; thickness of the blunt end, of a
 * short wedge and what the longest has more; the gap to the figures.
 */
static const double per_cent = 0.045;
static const double thickness = 0.18;
static const double thickness_more = 0.14;
static const double gap = 0.17;
static const double figure_height = 0.74;
static const double longest_cents = 60.0;
static const double shortest_cents = 3.0;

double hbk_wedge_length(double cents, double size)
{
    const double shown = fmin(fabs(cents), longest_cents);
    return shown < shortest_cents ? 0.0 : shown * per_cent * size;
}

char *hbk_cents_text(double cents, char text[HBK_CENTS_SIZE])
{
    const double whole = round(cents);
    const double kept = fmin(fmax(whole, -9999.0), 9999.0);
    if (kept == 0.0) {
        snprintf(text, HBK_CENTS_SIZE, "0");
    } else {
        snprintf(text, HBK_CENTS_SIZE, "%s%.0f",
                 kept > 0.0 ? "+" : "\xE2\x88\x92", fabs(kept));
    }
    return text;
}

double hbk_wedge_width(const struct hbk_pad *pad, struct hbk_style style,
                       double cents)
{
    char text[HBK_CENTS_SIZE];
    return fmax(hbk_pad_width(pad, style, hbk_cents_text(cents, text)),
                hbk_wedge_length(cents, style.size));
}

double hbk_wedge_draw(struct hbk_pad *pad, double x, double y,
                      struct hbk_style style, double cents)
{
    char text[HBK_CENTS_SIZE];
    hbk_pad_text(pad, x, y, style, hbk_cents_text(cents, text));
    const double length = hbk_wedge_length(cents, style.size);
    if (length > 0.0) {
        const double size = style.size;
        const double share = fmin(fabs(cents), longest_cents) / longest_cents;
        const double thick = (thickness + thickness_more * share) * size;
        /* Above: standing on its flat side; below: hanging from it. */
        const double base =
            cents > 0.0 ? y - (figure_height + gap) * size : y + gap * size;
        const double tip = cents > 0.0 ? base - thick : base + thick;
        const struct hbk_point points[] = {
            {x, base}, {x + length, base}, {x + length, tip}};
        hbk_pad_shape(pad, 3, points);
        if (fabs(cents) > longest_cents) {
            hbk_pad_panel(pad, x + length - 0.4 * size, fmin(base, tip),
                          0.16 * size, thick, HBK_WHITE);
        }
    }
    return hbk_wedge_width(pad, style, cents);
}
