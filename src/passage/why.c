#include "passage/web.h"

#include <stdio.h>

/* A point must save this share of all savings to be spoken of. */
static const double worth_saying = 0.25;

enum { POINTS_MAX = 2 };

/* One thing that the usual fingering would make dearer. */
struct point {
    double saves;
    size_t link;
    bool lip; /* else the hands */
};

struct points {
    size_t n;
    struct point of[POINTS_MAX]; /* the dearest first */
    double total;
};

static void points_add(struct points *points, struct point point)
{
    if (point.saves <= 0.0) {
        return;
    }
    points->total += point.saves;
    for (size_t i = 0; i < POINTS_MAX; i++) {
        if (i == points->n) {
            points->of[points->n++] = point;
            return;
        }
        if (points->of[i].saves < point.saves) {
            const struct point moved = points->of[i];
            points->of[i] = point;
            point = moved;
        }
    }
}

static struct hbk_web_step step_with(const struct hbk_web *web, size_t link,
                                     size_t note, size_t pick)
{
    const struct hbk_web_link *const l = &web->links[link];
    return hbk_web_step_of(web, link,
                           l->from == note ? pick : web->notes[l->from].taken,
                           l->to == note ? pick : web->notes[l->to].taken);
}

static struct points points_of(const struct hbk_web *web, size_t i)
{
    struct points points = {0};
    for (size_t t = web->first_of[i]; t < web->first_of[i + 1]; t++) {
        const size_t link = web->touching[t];
        const double count = web->links[link].count;
        const struct hbk_web_step usual = step_with(web, link, i, 0);
        const struct hbk_web_step taken =
            step_with(web, link, i, web->notes[i].taken);
        points_add(&points, (struct point){.saves = count * (usual.hands_price -
                                                             taken.hands_price),
                                           .link = link});
        points_add(&points, (struct point){.saves = count * (usual.lip_price -
                                                             taken.lip_price),
                                           .link = link,
                                           .lip = true});
    }
    return points;
}

/* The note at the other end of a link. */
static size_t beside(const struct hbk_web *web, size_t i, size_t link)
{
    const struct hbk_web_link *const l = &web->links[link];
    return l->to == i ? l->from : l->to;
}

/* "after D4 the right ring leaves valve 3 while ..." */
static const char *point_words(const struct hbk_web *web, size_t i,
                               const struct point *point)
{
    const bool is_after = web->links[point->link].to == i;
    const struct hbk_passage_note *const other =
        &web->notes[beside(web, i, point->link)];
    const struct hbk_candidates *const own = web->notes[i].candidates;
    const struct hbk_candidates *const others = other->candidates;
    char name[HBK_NAME_SIZE];
    char what[HBK_MOVE_WORDS_SIZE];
    hbk_spelling_name(web->request->tune->events[other->event].spelling,
                      HBK_UNICODE, name);
    if (point->lip) {
        const unsigned a = own->of[0]->partial;
        const unsigned b = others->of[other->taken]->partial;
        (void)snprintf(what, sizeof(what), "the partial changes from %u to %u",
                       is_after ? b : a, is_after ? a : b);
    } else {
        const struct hbk_grips *const a = &own->grips[0];
        const struct hbk_grips *const b = &others->grips[other->taken];
        const unsigned hard = ~(unsigned)HBK_MOVE_STAYS;
        hbk_passing_words(web->request->keywork, is_after ? b : a,
                          is_after ? a : b, hard, what);
    }
    return hbk_arena_printf(web->arena, "%s %s %s",
                            is_after ? "after" : "before", name, what);
}

/* Whether two points are the way to a note and the same way back. */
static bool is_there_and_back(const struct hbk_web *web, size_t i,
                              const struct points *points)
{
    const struct point *const a = &points->of[0];
    const struct point *const b = &points->of[1];
    if (a->lip != b->lip ||
        (web->links[a->link].to == i) == (web->links[b->link].to == i)) {
        return false;
    }
    const struct hbk_passage_note *const x =
        &web->notes[beside(web, i, a->link)];
    const struct hbk_passage_note *const y =
        &web->notes[beside(web, i, b->link)];
    return x->candidates == y->candidates && x->taken == y->taken;
}

static const char *points_words(const struct hbk_web *web, size_t i,
                                const struct points *points)
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(web->request->notes->horn,
                         web->notes[i].candidates->of[0]->press, label);
    const char *const first = point_words(web, i, &points->of[0]);
    if (points->n == 1 || points->of[1].saves < worth_saying * points->total) {
        return hbk_arena_printf(web->arena, "with %s, %s", label, first);
    }
    if (is_there_and_back(web, i, points)) {
        return hbk_arena_printf(
            web->arena, "with %s, %s, and back %s", label, first,
            web->links[points->of[0].link].to == i ? "after it" : "before it");
    }
    return hbk_arena_printf(web->arena, "with %s, %s; %s", label, first,
                            point_words(web, i, &points->of[1]));
}

static bool is_for_the_trill(struct hbk_web *web, size_t i, double saves)
{
    const struct hbk_passage_note *const note = &web->notes[i];
    if (!note->wants_trill) {
        return false;
    }
    const struct hbk_trill *const trills =
        hbk_web_trills(web, note->candidates, note->trill.interval);
    return trills[0].price - trills[note->taken].price > saves;
}

const char *hbk_web_why(struct hbk_web *web, size_t note)
{
    if (web->notes[note].kept == HBK_PASSAGE_KEPT) {
        return "as the file has it";
    }
    const struct points points = points_of(web, note);
    if (is_for_the_trill(web, note, points.total)) {
        return "for the trill";
    }
    if (points.n == 0) {
        return "fewer fingers, and too short for its tuning to count";
    }
    return points_words(web, note, &points);
}
