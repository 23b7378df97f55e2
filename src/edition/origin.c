#include "edition/origin.h"

#include "edition/note_list.h"
#include "report/origin.h"
#include "sheet/words/words.h"
#include "solve/search.h"
#include "solve/setup.h"

enum hbk_status hbk_explain_notes(const struct hbk_horn *horn,
                                  const struct hbk_setting *setting,
                                  const char *asked, struct hbk_text *out,
                                  struct hbk_text *bad,
                                  struct hbk_faults *faults)
{
    struct hbk_arena *const arena = out->arena;
    struct hbk_setup setup;
    struct hbk_notes notes;
    struct hbk_notes wide;
    struct hbk_gaps gaps;
    struct hbk_note_list list;
    HBK_TRY(hbk_set_up(horn, setting, arena, &setup, faults));
    HBK_TRY(hbk_solve_as_set(horn, setting, &setup, arena, &notes, faults));
    if (!hbk_note_list_read(asked, &notes, &list, bad)) {
        return HBK_ERR_INPUT;
    }
    HBK_TRY(hbk_gaps_of(&notes, &setup, arena, &gaps, faults));
    HBK_TRY(hbk_origin_wide(&notes, &setup, arena, &wide, faults));
    hbk_text_add(out, hbk_words_head(arena, &notes));
    for (size_t i = 0; i < list.n; i++) {
        struct hbk_origin origin;
        HBK_TRY(hbk_origin_of(&notes, &wide, &setup,
                              hbk_notes_find(&notes, list.notes[i]), &origin,
                              faults));
        hbk_text_add(out, "\n");
        hbk_origin_text(&notes, &origin, &gaps, out);
    }
    return HBK_OK;
}
