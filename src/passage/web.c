#include "passage/web.h"

#include "passage/keep.h"
#include "passage/lip.h"
#include "passage/prices.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_note(const struct hbk_tune_event *event)
{
    return event->kind != HBK_TUNE_REST;
}

/* The written notes that are played at all, and which of them sound. */
static void find_notes(struct hbk_web *web,
                       const struct hbk_tune_performance *performance,
                       bool sounds[], struct hbk_passage *passage)
{
    const struct hbk_tune *const tune = web->request->tune;
    bool *const played = HBK_ARENA_ARRAY(web->arena, bool, tune->n_events + 1);
    for (size_t i = 0; i < performance->n; i++) {
        played[performance->items[i].event] = true;
    }
    size_t *const out = HBK_ARENA_ARRAY(web->arena, size_t, tune->n_events + 1);
    web->notes = HBK_ARENA_ARRAY(web->arena, struct hbk_passage_note,
                                 tune->n_events + 1);
    web->note_of = HBK_ARENA_ARRAY(web->arena, size_t, tune->n_events + 1);
    for (size_t e = 0; e < tune->n_events; e++) {
        web->note_of[e] = HBK_TUNE_NONE;
        if (!is_note(&tune->events[e]) || !played[e]) {
            continue;
        }
        const struct hbk_candidates *const candidates =
            hbk_repertoire_of(&web->repertoire, tune->events[e].note);
        if (candidates->n == 0) {
            out[passage->n_out++] = e;
            continue;
        }
        sounds[e] = true;
        web->note_of[e] = web->n;
        web->notes[web->n++] = (struct hbk_passage_note){
            .event = e, .candidates = candidates, .before = HBK_TUNE_NONE};
    }
    passage->out = out;
}

/* A trill goes to the next note of the key. */
static int trill_interval(const struct hbk_tune *tune, size_t event)
{
    const struct hbk_spelling main = tune->events[event].spelling;
    struct hbk_spelling upper = {.step = (main.step + 1) % 7,
                                 .octave =
                                     main.octave + (main.step == 6 ? 1 : 0)};
    upper.alter = hbk_tune_key_at(tune, event)->alter[upper.step];
    const int interval = hbk_spelling_note(upper) - hbk_spelling_note(main);
    return interval < 2 ? 1 : 2;
}

const struct hbk_trill *hbk_web_trills(struct hbk_web *web,
                                       const struct hbk_candidates *candidates,
                                       int interval)
{
    const int written = candidates->note->written;
    struct hbk_trill **const slot = &web->trills[written][interval - 1];
    if (*slot == NULL) {
        *slot = HBK_ARENA_ARRAY(web->arena, struct hbk_trill, candidates->n);
        for (size_t x = 0; x < candidates->n; x++) {
            (*slot)[x] =
                hbk_trill_find(web->request->keywork, web->request->notes,
                               written, interval, candidates->of[x]);
        }
    }
    return *slot;
}

/* What the trill of a note adds to the costs of its candidates. */
static void add_trill(struct hbk_web *web, struct hbk_passage_note *note,
                      double price[HBK_CANDIDATES_MAX])
{
    const struct hbk_candidates *const list = note->candidates;
    note->trill.interval = trill_interval(web->request->tune, note->event);
    const struct hbk_trill *const trills =
        hbk_web_trills(web, list, note->trill.interval);
    bool any = false;
    for (size_t x = 0; x < list->n; x++) {
        any = any || trills[x].kind != HBK_TRILL_NONE;
    }
    for (size_t x = 0; x < list->n && any; x++) {
        price[x] += trills[x].kind == HBK_TRILL_NONE
                        ? HBK_PRICE_NO_TRILL
                        : trills[x].price - hbk_trill_heard(list->of[x]);
    }
}

static int64_t whole(double price)
{
    return (int64_t)floor((price * HBK_WEB_SCALE) + 0.5);
}

/* `heard` is the sum of hbk_lip_heard() over all times it is played. */
static void cost_note(struct hbk_web *web, size_t i, double heard)
{
    struct hbk_passage_note *const note = &web->notes[i];
    const struct hbk_candidates *const list = note->candidates;
    const struct hbk_tune_event *const event =
        &web->request->tune->events[note->event];
    double price[HBK_CANDIDATES_MAX] = {0};
    note->wants_trill = (event->articulation & HBK_TUNE_TRILL) != 0;
    if (note->wants_trill) {
        add_trill(web, note, price);
    }
    const double times = (double)note->times;
    web->costs[i] = HBK_ARENA_ARRAY(web->arena, int64_t, list->n);
    for (size_t x = 0; x < list->n; x++) {
        const double cents2 = list->of[x]->cents * list->of[x]->cents;
        price[x] += list->of[x]->cost - cents2;
        price[x] += x > 0 ? hbk_departure_price(list->of[0], list->of[x]) : 0.0;
        web->costs[i][x] = whole((price[x] * times) + (cents2 * heard));
    }
    if (web->request->keep && event->fingering != NULL) {
        note->kept = hbk_keep(web->request->notes, event->fingering, list,
                              web->costs[i]);
    }
}

static void cost_notes(struct hbk_web *web, const struct hbk_timing *timing)
{
    double *const heard = HBK_ARENA_ARRAY(web->arena, double, web->n + 1);
    for (size_t i = 0; i < timing->n_sounded; i++) {
        const size_t note = web->note_of[timing->sounded[i].event];
        heard[note] += hbk_lip_heard(timing->sounded[i].length_s);
        web->notes[note].times++;
    }
    web->costs = HBK_ARENA_ARRAY(web->arena, int64_t *, web->n + 1);
    for (size_t i = 0; i < web->n; i++) {
        cost_note(web, i, heard[i]);
    }
}

static size_t later(const struct hbk_web_link *link)
{
    return link->from > link->to ? link->from : link->to;
}

static size_t earlier(const struct hbk_web_link *link)
{
    return link->from < link->to ? link->from : link->to;
}

static int by_size(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

/* By the later note, as the lattice wants them; then alike beside alike. */
static int by_ends(const void *a, const void *b)
{
    const struct hbk_web_link *const x = a;
    const struct hbk_web_link *const y = b;
    int order = by_size(later(x), later(y));
    order = order != 0 ? order : by_size(earlier(x), earlier(y));
    order = order != 0 ? order : by_size(x->from, y->from);
    order = order != 0 ? order : (int)x->slurred - (int)y->slurred;
    if (order == 0 && x->available_s != y->available_s) {
        order = x->available_s < y->available_s ? -1 : 1;
    }
    if (order == 0 && x->quarters != y->quarters) {
        order = x->quarters < y->quarters ? -1 : 1;
    }
    return order;
}

static void make_links(struct hbk_web *web, const struct hbk_timing *timing)
{
    struct hbk_web_link *const links = HBK_ARENA_ARRAY(
        web->arena, struct hbk_web_link, timing->n_junctions + 1);
    size_t n = 0;
    for (size_t i = 0; i < timing->n_junctions; i++) {
        const struct hbk_junction *const junction = &timing->junctions[i];
        /* A note after itself is one fingering, and nothing moves. */
        if (junction->from != junction->to) {
            links[n++] =
                (struct hbk_web_link){.from = web->note_of[junction->from],
                                      .to = web->note_of[junction->to],
                                      .available_s = junction->available_s,
                                      .quarters = junction->quarters,
                                      .count = 1.0,
                                      .slurred = junction->slurred,
                                      .grace = junction->grace};
        }
    }
    if (n > 0) {
        qsort(links, n, sizeof(links[0]), by_ends);
    }
    for (size_t i = 0; i < n; i++) {
        if (web->n_links > 0 &&
            by_ends(&links[web->n_links - 1], &links[i]) == 0) {
            links[web->n_links - 1].count += 1.0;
        } else {
            links[web->n_links++] = links[i];
        }
    }
    web->links = links;
}

static int written_of(const struct hbk_web *web, size_t note)
{
    return web->notes[note].candidates->note->written;
}

/* The tables that costs are looked up in. */
static void index_links(struct hbk_web *web)
{
    const size_t n = web->n_links;
    web->lattice_links =
        HBK_ARENA_ARRAY(web->arena, struct hbk_lattice_link, n + 1);
    web->hands_s = HBK_ARENA_ARRAY(web->arena, const double *, n + 1);
    web->memories =
        HBK_ARENA_ARRAY(web->arena, struct hbk_web_memory, HBK_WEB_MEMORIES);
    web->first_of = HBK_ARENA_ARRAY(web->arena, size_t, web->n + 2);
    web->touching = HBK_ARENA_ARRAY(web->arena, size_t, (2 * n) + 1);
    for (size_t l = 0; l < n; l++) {
        const struct hbk_web_link *const link = &web->links[l];
        web->lattice_links[l] =
            (struct hbk_lattice_link){.from = earlier(link), .to = later(link)};
        web->hands_s[l] = hbk_repertoire_between(&web->repertoire,
                                                 written_of(web, link->from),
                                                 written_of(web, link->to));
        web->first_of[link->from + 1]++;
        web->first_of[link->to + 1]++;
    }
    for (size_t i = 0; i < web->n; i++) {
        web->first_of[i + 1] += web->first_of[i];
    }
    size_t *const next = HBK_ARENA_ARRAY(web->arena, size_t, web->n + 1);
    memcpy(next, web->first_of, web->n * sizeof(*next));
    for (size_t l = 0; l < n; l++) {
        web->touching[next[web->links[l].from]++] = l;
        web->touching[next[web->links[l].to]++] = l;
    }
}

static double price_of(const struct hbk_web_link *link, double least_s)
{
    return link->grace ? hbk_grace_price(least_s, link->available_s)
                       : hbk_pressed_price(least_s, link->available_s);
}

struct hbk_web_step hbk_web_step_of(const struct hbk_web *web, size_t link,
                                    size_t from_pick, size_t to_pick)
{
    const struct hbk_web_link *const l = &web->links[link];
    const struct hbk_candidates *const a = web->notes[l->from].candidates;
    const struct hbk_candidates *const b = web->notes[l->to].candidates;
    struct hbk_web_step step = {
        .hands_s = web->hands_s[link][(from_pick * b->n) + to_pick],
        .lip_s = hbk_lip_least_s(a->of[from_pick]->partial,
                                 b->of[to_pick]->partial, l->slurred),
    };
    step.hands_price = price_of(l, step.hands_s);
    step.lip_price = price_of(l, step.lip_s);
    return step;
}

int64_t hbk_web_link_cost(const struct hbk_web *web, size_t link,
                          size_t from_pick, size_t to_pick)
{
    const struct hbk_web_step step =
        hbk_web_step_of(web, link, from_pick, to_pick);
    return whole((step.hands_price + step.lip_price) * web->links[link].count);
}

enum hbk_status hbk_web_make(const struct hbk_passage_request *request,
                             struct hbk_arena *arena, struct hbk_web *web,
                             struct hbk_passage *passage)
{
    struct hbk_tune_performance performance;
    HBK_TRY(
        hbk_tune_unfold(request->tune, request->quarters, arena, &performance));
    if (performance.n > HBK_PASSAGE_PLAYED_MAX) {
        return HBK_ERR_DOMAIN;
    }
    *web = (struct hbk_web){
        .request = request,
        .arena = arena,
        .repertoire = {.notes = request->notes,
                       .keywork = request->keywork,
                       .arena = arena},
    };
    bool *const sounds =
        HBK_ARENA_ARRAY(arena, bool, request->tune->n_events + 1);
    find_notes(web, &performance, sounds, passage);
    const struct hbk_timing timing = hbk_timing_of(
        request->tune, &performance, request->quarters, sounds, arena);
    cost_notes(web, &timing);
    make_links(web, &timing);
    index_links(web);
    passage->tempo_assumed = performance.tempo_assumed;
    return HBK_OK;
}
