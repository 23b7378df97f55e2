#include "edition/band.h"

#include "base/jobs.h"
#include "base/text.h"
#include "horn/about.h"
#include "reader/horn_word.h"

#include <math.h>

/* A hall in which nobody is cold. */
static const double usual_temperature_c = 20.0;

/* A band being gathered, for the threads. */
struct work {
    const struct hbk_band_ask *ask;
    struct hbk_wishes wishes; /* the temperature filled in */
    struct hbk_band *band;
    double a4_hz; /* the pitch, once it is known */
};

static enum hbk_status set_up(const struct hbk_wishes *wishes,
                              struct hbk_band_member *member)
{
    struct hbk_setting setting = {0};
    struct hbk_text why = {.arena = &member->arena};
    member->unmet = hbk_setting_make(member->horn, wishes, &setting, &why);
    if (member->unmet != HBK_WISH_ALL) {
        member->why = hbk_text_string(&why);
        return HBK_ERR_INPUT;
    }
    return hbk_pitch_reach(member->horn, &setting, &member->arena,
                           &member->reach, &member->faults);
}

static void look(void *ctx, size_t i)
{
    const struct work *const work = ctx;
    struct hbk_band_member *const member = &work->band->members[i];
    member->horn = hbk_horn_new(&member->arena);
    member->status = hbk_horn_read_word(member->word, &member->arena,
                                        member->horn, &member->faults);
    if (member->status == HBK_OK) {
        member->status = set_up(&work->wishes, member);
    }
}

static void settle(void *ctx, size_t i)
{
    const struct work *const work = ctx;
    struct hbk_band_member *const member = &work->band->members[i];
    if (member->status == HBK_OK) {
        member->status =
            hbk_pitch_place(&member->reach, work->a4_hz, &member->arena,
                            &member->place, &member->faults);
    }
}

/* Those that play, packed for the view. */
static void pack(struct hbk_band *band, struct hbk_arena *arena)
{
    const char **const words = HBK_ARENA_ARRAY(arena, const char *, band->n);
    struct hbk_pitch_member *const reaches =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_member, band->n);
    struct hbk_pitch_place *const places =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_place, band->n);
    size_t n = 0;
    for (size_t i = 0; i < band->n; i++) {
        if (band->members[i].status == HBK_OK) {
            words[n] = band->members[i].word;
            reaches[n] = band->members[i].reach;
            places[n++] = band->members[i].place;
        }
    }
    band->view.n = n;
    band->view.words = words;
    band->view.members = reaches;
    band->view.places = places;
}

static void tell(void *ctx, size_t count)
{
    const struct work *const work = ctx;
    if (work->ask->done != NULL) {
        work->ask->done(work->ask->ctx, count);
    }
}

/* Does something with every horn, several at a time. */
static void each(struct work *work, void (*what)(void *ctx, size_t i),
                 void (*done)(void *ctx, size_t count))
{
    const struct hbk_jobs jobs = {.n = work->band->n,
                                  .threads = work->ask->threads,
                                  .work = what,
                                  .done = done,
                                  .ctx = work};
    hbk_jobs_run(&jobs);
}

void hbk_band_gather(const struct hbk_band_ask *ask, struct hbk_arena *arena,
                     struct hbk_band *band)
{
    struct work work = {.ask = ask, .wishes = ask->wishes, .band = band};
    struct hbk_pitch_view *const view = &band->view;
    *band = (struct hbk_band){
        .n = ask->n,
        .members = HBK_ARENA_ARRAY(arena, struct hbk_band_member, ask->n),
        .view = {.asked = !isnan(ask->wishes.a4_hz)}};
    for (size_t i = 0; i < band->n; i++) {
        band->members[i].word = ask->words[i];
    }
    if (isnan(work.wishes.temperature_c) && isnan(work.wishes.room_c)) {
        work.wishes.temperature_c = usual_temperature_c;
    }
    each(&work, look, tell);
    pack(band, arena);
    if (view->n > 0) {
        work.a4_hz = view->asked
                         ? ask->wishes.a4_hz
                         : hbk_common_pitch_find(view->n, view->members).a4_hz;
        each(&work, settle, NULL);
        pack(band, arena);
    }
    if (view->n > 0) {
        view->pitch = hbk_common_pitch_at(view->n, view->members, work.a4_hz);
    }
}

void hbk_band_finish(struct hbk_band *band)
{
    for (size_t i = 0; i < band->n; i++) {
        hbk_horn_finish(band->members[i].horn);
        hbk_arena_finish(&band->members[i].arena);
    }
}
