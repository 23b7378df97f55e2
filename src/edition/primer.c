#include "edition/primer.h"

#include "fit/fit.h"
#include "lesson/deal.h"
#include "passage/scale.h"
#include "passage/trill.h"
#include "reader/shipped.h"
#include "sheet/primer/primer_taught.h"

/* A tune to a lesson, where one fits; what fits after the last follows. */
static void deal_tunes(struct hbk_primer *primer,
                       const struct hbk_tune_book *book,
                       struct hbk_arena *arena)
{
    const struct hbk_dealt dealt =
        hbk_tunes_deal(primer->lessons, book->tunes, book->n, arena);
    struct hbk_primer_tune *const tunes =
        HBK_ARENA_ARRAY(arena, struct hbk_primer_tune, dealt.n + 1);
    for (size_t i = 0; i < dealt.n; i++) {
        tunes[i] = (struct hbk_primer_tune){&dealt.tunes[i].tune.tune,
                                            dealt.tunes[i].after};
    }
    primer->n_tunes = dealt.n;
    primer->tunes = tunes;
}

/* Whether the horn as it is set has a note with those fingers. */
static bool has_reading(const struct hbk_notes *notes,
                        const struct hbk_fit_next *next)
{
    const struct hbk_note *const note = hbk_notes_find(notes, next->written);
    for (size_t i = 0; note != NULL && i < note->n; i++) {
        if (note->fingerings[i].press == next->press) {
            return true;
        }
    }
    return false;
}

/* The readings that would tell most, of notes that the player has. */
static void find_next(struct hbk_primer *primer, struct hbk_arena *arena)
{
    const struct hbk_notes *const notes = primer->notes;
    struct hbk_fit *const fit = HBK_ARENA_ARRAY(arena, struct hbk_fit, 1);
    struct hbk_fit_next *const next =
        HBK_ARENA_ARRAY(arena, struct hbk_fit_next, HBK_FIT_NEXT_MAX);
    hbk_fit_unread(notes->horn, &notes->setting.stuck, arena, fit);
    for (size_t i = 0; i < fit->report.n_next; i++) {
        if (has_reading(notes, &fit->report.next[i]) &&
            hbk_primer_asks(primer, fit->report.next[i].written)) {
            next[primer->n_next++] = fit->report.next[i];
        }
    }
    primer->next = next;
}

static enum hbk_status read_book(struct hbk_primer_made *made,
                                 struct hbk_arena *arena,
                                 struct hbk_faults *faults)
{
    const char *const path = hbk_shipped_tunes(arena, faults);
    return path == NULL ? HBK_ERR_INPUT
                        : hbk_tune_book_read(path, &made->book, faults);
}

enum hbk_status hbk_primer_make(const struct hbk_primer_wish *wish,
                                struct hbk_arena *arena,
                                struct hbk_primer_made *made,
                                struct hbk_faults *faults)
{
    const struct hbk_notes *const notes = wish->notes;
    struct hbk_primer *const primer = &made->primer;
    HBK_TRY(read_book(made, arena, faults));
    *primer = (struct hbk_primer){
        .notes = notes,
        .known = wish->known,
        .lessons = hbk_lessons_of(notes, wish->low, wish->high, arena),
        .scales = hbk_scales_of(notes, arena),
        .trills = hbk_trills_of(notes, arena)};
    deal_tunes(primer, &made->book, arena);
    find_next(primer, arena);
    return HBK_OK;
}

void hbk_primer_finish(struct hbk_primer_made *made)
{
    hbk_tune_book_finish(&made->book);
}
