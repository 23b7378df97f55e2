#include "report/read.h"

bool hbk_read_asked(const struct hbk_notes *notes)
{
    return notes->setting.reads != HBK_READS_OWN;
}

bool hbk_read_named(const struct hbk_notes *notes)
{
    return notes->setting.names != HBK_NAMES_ENGLISH;
}

void hbk_read_json(const struct hbk_notes *notes, struct hbk_spelling read,
                   struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    if (hbk_read_asked(notes)) {
        hbk_json_string(json, "read", hbk_spelling_name(read, HBK_ASCII, name));
    }
    if (hbk_read_named(notes)) {
        hbk_json_string(
            json, "called",
            hbk_spelling_said(read, notes->notation.naming, HBK_ASCII, name));
    }
}

void hbk_read_csv_names(const struct hbk_notes *notes, struct hbk_text *out)
{
    hbk_text_addf(out, "%s%s", hbk_read_asked(notes) ? ",read" : "",
                  hbk_read_named(notes) ? ",called" : "");
}

void hbk_read_csv(const struct hbk_notes *notes, struct hbk_spelling read,
                  struct hbk_text *out)
{
    char name[HBK_NAME_SIZE];
    if (hbk_read_asked(notes)) {
        hbk_text_addf(out, ",%s", hbk_spelling_name(read, HBK_ASCII, name));
    }
    if (hbk_read_named(notes)) {
        hbk_text_addf(
            out, ",%s",
            hbk_spelling_said(read, notes->notation.naming, HBK_ASCII, name));
    }
}

struct hbk_spelling hbk_read_sharp(const struct hbk_notes *notes, int written)
{
    return hbk_note_sharp(hbk_notation_note(&notes->notation, written));
}

const char *hbk_read_heading(const struct hbk_notes *notes)
{
    return hbk_read_asked(notes) ? "read" : "written";
}
