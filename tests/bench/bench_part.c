/*
 * How fast a part is laid out: prints figures and asserts nothing, since they
 * depend on the machine. The music is invented: 300 bars of sixteenths.
 */
#include "support/ruler.h"

#include "sheet/part/part.h"
#include "sheet/part/part_sheet.h"
#include "tune/document.h"

#include <stdio.h>
#include <time.h>

enum { BARS = 300 };

static double seconds(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (1e-9 * (double)now.tv_nsec);
}

int main(void)
{
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "X:1\nT:Study\nM:4/4\nL:1/16\nK:Eb\n");
    for (int i = 0; i < BARS; i++) {
        hbk_text_add(&music, i % 2 == 0 ? "(cd=ef) gfed c=Bcd _e4 |\n"
                                        : "gabc' bag^f (gfed) c2B2 |\n");
    }
    struct hbk_tune_document document = {.source = NULL};
    if (hbk_tune_read_bytes("study.abc", music.bytes, music.length, NULL,
                            &document, &faults) != HBK_OK) {
        return 1;
    }
    const size_t n = document.tune.n_events;
    struct hbk_part_fingering *fingerings =
        HBK_ARENA_ARRAY(&arena, struct hbk_part_fingering, n);
    for (size_t i = 0; i < n; i++) {
        fingerings[i] = (struct hbk_part_fingering){
            .label = i % 3 == 0 ? "1-2" : "0", .shown = true};
    }
    const struct hbk_ruler ruler = fixed_ruler();
    double best = 1e9;
    for (int round = 0; round < 5; round++) {
        struct hbk_sheet sheet = {.arena = &arena};
        const double start = seconds();
        if (hbk_sheet_part(&document.tune, fingerings, NULL, NULL, NULL, &ruler,
                           &sheet) != HBK_OK) {
            return 1;
        }
        const double took = seconds() - start;
        best = took < best ? took : best;
    }
    printf("part of %d bars, %zu events: %.1f ms, %.1f us a bar\n", BARS, n,
           1e3 * best, 1e6 * best / BARS);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
    return 0;
}
