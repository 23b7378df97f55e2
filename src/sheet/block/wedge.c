#include "sheet/block/wedge.h"

#include <math.h>
#include <stdio.h>

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
