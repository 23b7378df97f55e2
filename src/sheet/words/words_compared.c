#include "base/text.h"
#include "music/pitch.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_read.h"

/* The notes that become `which`, as runs; NULL for none. */
static const char *runs_of(struct hbk_arena *arena,
                           const struct hbk_notes *here,
                           const struct hbk_notes *known,
                           enum hbk_beside_note which)
{
    int list[HBK_NOTE_MAX + 1];
    size_t n = 0;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        if (hbk_beside_note(here, known, written) == which) {
            list[n++] = written;
        }
    }
    return n == 0 ? NULL : hbk_words_read_runs(arena, here, n, list);
}

/* What becomes of the notes that both horns reach. */
static void add_common(struct hbk_text *text, size_t same, size_t finger,
                       size_t other)
{
    const size_t all = same + finger + other;
    if (all == 0) {
        hbk_text_add(text, "The two horns have no written note in common.");
        return;
    }
    if (same == all) {
        hbk_text_addf(text,
                      all == 1 ? "The one note of both horns keeps its "
                                 "fingering."
                               : "All %zu notes of both horns keep "
                                 "their fingering.",
                      all);
        return;
    }
    hbk_text_addf(text, "Of the %zu written note%s that both horns have, ", all,
                  all == 1 ? "" : "s");
    if (same == 0) {
        hbk_text_add(text, "none keeps its fingering");
    } else {
        hbk_text_addf(text, "%zu %s fingering", same,
                      same == 1 ? "keeps its" : "keep their");
    }
    if (finger > 0) {
        hbk_text_addf(text, "%s %zu %s the same number%s under another finger",
                      other > 0 ? "," : " and", finger,
                      finger == 1 ? "has" : "have", finger == 1 ? "" : "s");
    }
    if (other > 0 && other < all) {
        hbk_text_addf(text, " and %zu %s", other,
                      other == 1 ? "changes" : "change");
    }
    hbk_text_add(text, ".");
}

const char *hbk_beside_summary(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known)
{
    size_t n[HBK_BESIDE_LOST + 1] = {0};
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        n[hbk_beside_note(here, known, written)]++;
    }
    struct hbk_text text = {.arena = arena};
    add_common(&text, n[HBK_BESIDE_SAME], n[HBK_BESIDE_FINGER],
               n[HBK_BESIDE_OTHER]);
    const char *const fresh = runs_of(arena, here, known, HBK_BESIDE_NEW);
    const char *const lost = runs_of(arena, here, known, HBK_BESIDE_LOST);
    if (fresh != NULL) {
        hbk_text_addf(&text, " New: %s.", fresh);
    }
    if (lost != NULL) {
        hbk_text_addf(&text, " Not available here: %s.", lost);
    }
    return hbk_text_string(&text);
}

/* What the C sounds that this player reads. */
static int read_c4_sounds(const struct hbk_notes *notes)
{
    return notes->written_c4_sounds - notes->notation.shift;
}

const char *hbk_beside_sounds(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known)
{
    const int up = read_c4_sounds(here) - read_c4_sounds(known);
    struct hbk_text text = {.arena = arena};
    if (up == 0) {
        hbk_text_add(&text, "The same written note sounds the same on both.");
    } else {
        hbk_text_addf(&text,
                      "The same written note sounds %s %s than on the horn "
                      "you know: a part written for that one does not fit.",
                      hbk_words_interval(arena, up),
                      up > 0 ? "higher" : "lower");
    }
    if (here->notation.clef != known->notation.clef) {
        hbk_text_addf(&text,
                      " It is read in the %s clef, the horn you know in the "
                      "%s clef.",
                      hbk_clef_name(here->notation.clef),
                      hbk_clef_name(known->notation.clef));
    }
    return hbk_text_string(&text);
}
