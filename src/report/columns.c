#include "report/columns.h"

#include <math.h>

double hbk_report_whole(double value)
{
    const double rounded = round(value);
    return rounded == 0.0 ? 0.0 : rounded;
}

void hbk_report_pad(struct hbk_text *out, size_t start, size_t width)
{
    const size_t columns = hbk_text_columns(hbk_text_string(out) + start);
    hbk_text_addf(out, "%*s", (int)(columns < width ? width - columns : 1), "");
}

void hbk_report_sentence(struct hbk_text *out, const char *sentence)
{
    hbk_text_addf(out, "%s%s", sentence, sentence[0] == '\0' ? "" : "\n");
}
