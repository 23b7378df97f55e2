#include "tune/musicxml/score.h"

#include "tune/melody/build_marks.h"

/* Jumps that are only heard, for the player to see. */

const char *hbk_musicxml_sound_jump(const xmlNode *sound)
{
    return hbk_xml_says(sound, "dacapo", "yes") ? "D.C."
           : hbk_xml_has(sound, "dalsegno")     ? "D.S."
           : hbk_xml_has(sound, "tocoda")       ? "To Coda"
           : hbk_xml_has(sound, "fine")         ? "Fine"
                                                : NULL;
}

/* A jump that only sounds is printed at the end of its bar. */
void hbk_musicxml_silent_jump(struct hbk_musicxml_reader *reader,
                              const xmlNode *sound)
{
    const char *const words = hbk_musicxml_sound_jump(sound);
    if (words != NULL) {
        reader->jump = words;
        reader->jump_at = hbk_build_at_bar_end(&reader->build);
        reader->jump_place = hbk_xml_place(reader->file, sound);
    }
}

void hbk_musicxml_print_jump(struct hbk_musicxml_reader *reader)
{
    const struct hbk_build_marks *const marks = &reader->build.marks;
    const size_t bar = reader->jump_at.bar;
    const char *const words = reader->jump;
    reader->jump = NULL;
    if (words == NULL) {
        return;
    }
    for (size_t i = marks->n; i-- > 0 && marks->items[i].at.bar + 1 >= bar;) {
        const enum hbk_tune_mark_kind kind = marks->items[i].mark.kind;
        if (marks->items[i].at.bar == bar &&
            (kind == HBK_TUNE_MARK_JUMP ||
             (kind == HBK_TUNE_MARK_CODA && words[0] == 'T'))) {
            return; /* it is printed after all */
        }
    }
    struct hbk_build_mark *const mark =
        hbk_build_mark(&reader->build, HBK_TUNE_MARK_JUMP, reader->jump_at,
                       reader->jump_place);
    if (mark != NULL) {
        mark->mark.text = words;
    }
}
