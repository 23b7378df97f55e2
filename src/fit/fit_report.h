#ifndef HBK_FIT_FIT_REPORT_H
#define HBK_FIT_FIT_REPORT_H

#include "fit/fitter.h"

/* What is reported of a reading, and a warning about one that is a slip. */
struct hbk_fit_reading hbk_fitter_reading(const struct hbk_fitter *f, size_t i);
void hbk_fitter_say_slip(const struct hbk_fitter *f,
                         const struct hbk_fit_reading *item);

/* Fill the report: the readings, and the numbers of the horn. */
void hbk_fitter_report_readings(struct hbk_fitter *f);
void hbk_fitter_report_values(struct hbk_fitter *f);

#endif
