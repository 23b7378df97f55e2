#ifndef HBK_REPORT_RESONANCES_H
#define HBK_REPORT_RESONANCES_H

#include "base/text.h"
#include "notes/curve.h"

/*
 * Impedance curves as comma-separated values (RFC 4180): one row a frequency,
 * one column of levels a fingering, and two that are filled in where a maximum
 * lies: its own Hz and those that are heard. With a mouthpiece that is not the
 * horn's own, its name and what it does to pitch and octaves follow in every
 * row. And as JSON.
 */
void hbk_resonances_csv(const struct hbk_curves *curves, struct hbk_text *out);
void hbk_resonances_json(const struct hbk_curves *curves, struct hbk_text *out);

#endif
