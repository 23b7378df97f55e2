#include "solve/gaps.h"

#include "horn/horn.h"
#include "horn/stuck.h"
#include "solve/search.h"

#include <math.h>

static const double far_cents = 600.0;

/* The horn solved again otherwise; warnings were given the first time. */
static enum hbk_status
solve_again(const struct hbk_horn *horn, const struct hbk_setting *setting,
            const struct hbk_setup *setup, struct hbk_arena *arena,
            struct hbk_notes *notes, struct hbk_faults *faults)
{
    struct hbk_faults told = {0};
    const enum hbk_status status =
        hbk_solve_as_set(horn, setting, setup, arena, notes, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, faults);
    }
    return status;
}

/* What a note gets of all partials and a far lip. */
static void look(const struct hbk_note *note, const struct hbk_partials *used,
                 double lip_cents, struct hbk_gap *gap)
{
    double nearest = INFINITY;
    gap->reason = HBK_GAP_NONE;
    for (size_t i = 0; note != NULL && i < note->n; i++) {
        const struct hbk_fingering *const f = &note->fingerings[i];
        const bool is_used =
            f->partial >= used->lowest && f->partial <= used->highest;
        if (!is_used && fabs(f->cents) <= lip_cents) {
            gap->reason = HBK_GAP_PARTIAL;
            gap->partial = f->partial;
            return; /* the best of them: they are ranked */
        }
        if (is_used && fabs(f->cents) < nearest) {
            nearest = fabs(f->cents);
            gap->reason = HBK_GAP_FAR;
            gap->cents = f->cents;
        }
    }
}

enum hbk_status hbk_gaps_of(const struct hbk_notes *notes,
                            const struct hbk_setup *setup,
                            struct hbk_arena *arena, struct hbk_gaps *gaps,
                            struct hbk_faults *faults)
{
    struct hbk_gap *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_gap, notes->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < notes->n; i++) {
        if (notes->notes[i].n == 0) {
            items[n++].written = notes->notes[i].written;
        }
    }
    *gaps = (struct hbk_gaps){.n = n, .items = items};
    if (n == 0) {
        return HBK_OK;
    }
    struct hbk_horn wide_horn = *notes->horn;
    wide_horn.partials.lowest = 1;
    wide_horn.partials.highest = HBK_PARTIALS_MAX;
    struct hbk_setting setting = notes->setting;
    setting.lip_cents = far_cents;
    struct hbk_notes wide = {0};
    struct hbk_notes free = {0};
    HBK_TRY(solve_again(&wide_horn, &setting, setup, arena, &wide, faults));
    if (hbk_stuck_any(&notes->setting.stuck)) {
        setting = notes->setting;
        setting.stuck = (struct hbk_stuck){0};
        HBK_TRY(
            solve_again(notes->horn, &setting, setup, arena, &free, faults));
    }
    for (size_t i = 0; i < n; i++) {
        const struct hbk_note *const unstuck =
            free.n == 0 ? NULL : hbk_notes_find(&free, items[i].written);
        if (unstuck != NULL && unstuck->n > 0) {
            items[i].reason = HBK_GAP_STUCK;
        } else {
            look(hbk_notes_find(&wide, items[i].written),
                 &notes->horn->partials, notes->setting.lip_cents, &items[i]);
        }
    }
    return HBK_OK;
}
