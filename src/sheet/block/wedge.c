#include "sheet/block/wedge.h"

#include <math.h>
#include <stdio.h>

/*
 * In ems of the number: length per cent; width at the blunt end; the gap to
 * the figures; the middle line of the figures above their baseline.
 */
static const double per_cent = 0.04;
static const double blunt = 0.34;
static const double gap = 0.15;
static const double middle = 0.37;
static const double shortest_cents = 8.0;
/* As far as a wedge rises from the middle line; a longer one starts lower. */
static const double farthest = HBK_WEDGE_ABOVE - middle;

double hbk_wedge_length(double cents, double size)
{
    const double shown = fmin(fabs(cents), HBK_WEDGE_CENTS);
    return shown < shortest_cents ? 0.0 : shown * per_cent * size;
}

char *hbk_cents_text(double cents, char text[HBK_CENTS_SIZE])
{
    const double whole = round(cents);
    const double kept = fmin(fmax(whole, -9999.0), 9999.0);
    if (kept == 0.0) {
        snprintf(text, HBK_CENTS_SIZE,
                 "\xC2\xB1"
                 "0");
    } else {
        snprintf(text, HBK_CENTS_SIZE, "%s%.0f",
                 kept > 0.0 ? "+" : "\xE2\x88\x92", fabs(kept));
    }
    return text;
}

/* What the wedge takes at the left of the number. */
static double wedge_room(struct hbk_style style, double cents)
{
    const bool shown = hbk_wedge_length(cents, style.size) > 0.0;
    return shown ? (blunt + gap) * style.size : 0.0;
}

double hbk_wedge_width(const struct hbk_pad *pad, struct hbk_style style,
                       double cents)
{
    char text[HBK_CENTS_SIZE];
    return wedge_room(style, cents) +
           hbk_pad_width(pad, style, hbk_cents_text(cents, text));
}

static void draw_wedge(struct hbk_pad *pad, double x, double y, double size,
                       double cents)
{
    const double length = hbk_wedge_length(cents, size);
    const double width = blunt * size;
    const double up = cents > 0.0 ? -1.0 : 1.0;
    const double base =
        y - middle * size - up * fmax(0.0, length - farthest * size);
    const struct hbk_point points[] = {
        {x, base}, {x + width, base}, {x + 0.5 * width, base + up * length}};
    hbk_pad_shape(pad, 3, points);
    if (fabs(cents) > HBK_WEDGE_CENTS) {
        const double thick = 0.12 * size;
        const double at = base + up * 0.35 * length;
        hbk_pad_panel(pad, x, at - 0.5 * thick, width, thick, HBK_WHITE);
    }
}

double hbk_wedge_draw(struct hbk_pad *pad, double x, double y,
                      struct hbk_style style, double cents)
{
    char text[HBK_CENTS_SIZE];
    const double room = wedge_room(style, cents);
    if (room > 0.0) {
        /* A group of its own, so that it may touch no figure. */
        hbk_pad_group(pad);
        draw_wedge(pad, x, y, style.size, cents);
    }
    hbk_pad_group(pad);
    hbk_pad_text(pad, x + room, y, style, hbk_cents_text(cents, text));
    return hbk_wedge_width(pad, style, cents);
}
