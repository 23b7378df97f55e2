#include "engrave/engrave_rests.h"

#include "engrave/engrave_signs.h"
#include "engrave/quill.h"

/* In staff spaces; common practice. */
static const double thick = 0.8;   /* of the line */
static const double stroke = 0.16; /* at both its ends, two spaces tall */
static const double room = 10.0;   /* of a bar; more for a long number */
static const double figure_em = 2.0 / 0.745; /* as the figures of a meter */
static const double over_staff = 0.7;

/* What stands where a bar begins, in it and where it ends, by bar. */
enum { AT_START = 1, WITHIN = 2, AT_END = 4 };

static void add_spot(const struct hbk_tune *tune,
                     const struct hbk_tune_spot *spot, unsigned char *places)
{
    const struct hbk_tune_bar *bar = &tune->bars[spot->bar];
    if (hbk_ratio_compare(spot->time, bar->onset) == 0) {
        places[spot->bar] |= AT_START;
    } else {
        struct hbk_ratio end;
        const bool is_within = !hbk_ratio_add(bar->onset, bar->length, &end) ||
                               hbk_ratio_compare(spot->time, end) < 0;
        places[spot->bar] |= is_within ? WITHIN : AT_END;
    }
}

/* Where marks stand; those that only sound are none. */
static unsigned char *places_of(const struct hbk_engraving *eng)
{
    const struct hbk_tune *tune = eng->tune;
    unsigned char *places =
        HBK_ARENA_ARRAY(eng->arena, unsigned char, tune->n_bars + 1);
    for (size_t i = 0; i < tune->marks.n; i++) {
        add_spot(tune, &tune->marks.items[i].at, places);
        add_spot(tune, &tune->marks.items[i].end, places);
    }
    return places;
}

/* A bar with nothing but a rest as long as a bar is. */
static bool is_empty(const struct hbk_tune *tune, size_t bar)
{
    const struct hbk_tune_bar *at = &tune->bars[bar];
    const struct hbk_tune_event *rest = &tune->events[at->first];
    if (at->count != 1 || at->implicit || rest->kind != HBK_TUNE_REST ||
        rest->hidden || rest->articulation != 0 || rest->slur_starts > 0 ||
        rest->slur_stops > 0) {
        return false;
    }
    const struct hbk_tune_meter *meter = hbk_tune_meter_at(tune, at->first);
    return meter->beats > 0 &&
           hbk_ratio_compare(at->length, hbk_tune_full_bar(meter)) == 0;
}

/* Whether the line between a bar and the next says nothing. */
static bool is_plain_between(const struct hbk_tune *tune, size_t bar)
{
    const struct hbk_tune_bar *at = &tune->bars[bar];
    const struct hbk_tune_bar *next = at + 1;
    const struct hbk_eng_change change = hbk_eng_change_at(tune, next->first);
    return at->right == HBK_TUNE_BAR_PLAIN && at->repeat_end == 0 &&
           !at->ending_stop && at->jump == NULL && !next->repeat_start &&
           next->ending == NULL && (next->signs.bits & HBK_SIGN_PLACE) == 0 &&
           change.clef == NULL && change.key == NULL && change.meter == NULL;
}

const size_t *hbk_eng_gather_rests(const struct hbk_engraving *eng)
{
    const struct hbk_tune *tune = eng->tune;
    const unsigned char *places = places_of(eng);
    size_t *n = HBK_ARENA_ARRAY(eng->arena, size_t, tune->n_bars + 1);
    for (size_t b = eng->first_bar; b < eng->end_bar; b += n[b]) {
        n[b] = 1;
        if (!is_empty(tune, b) || (places[b] & WITHIN) != 0) {
            continue;
        }
        const unsigned most = tune->bars[b].rests;
        for (size_t next = b + 1; next < eng->end_bar; next++) {
            if ((most > 0 && n[b] >= most) || tune->bars[next].rests > 0 ||
                !is_empty(tune, next) || (places[next - 1] & AT_END) != 0 ||
                (places[next] & (AT_START | WITHIN)) != 0 ||
                !is_plain_between(tune, next - 1)) {
                break;
            }
            n[b]++;
        }
    }
    return n;
}

double hbk_eng_rests_room(const struct hbk_eng_note *rest)
{
    return room + (rest->n_bars > 99 ? 2.0 : 0.0);
}

void hbk_eng_draw_rests(struct hbk_eng_view *view,
                        const struct hbk_eng_note *rest)
{
    struct hbk_quill *quill = view->quill;
    const struct hbk_tune_bar *first =
        &view->eng->tune->bars[rest->source->bar];
    const double end = rest->x + rest->width;
    hbk_quill_block(quill, rest->x, 2.0 - 0.5 * thick, rest->width, thick);
    hbk_quill_block(quill, rest->x, 1.0, stroke, 2.0);
    hbk_quill_block(quill, end - stroke, 1.0, stroke, 2.0);
    const struct hbk_style style = {
        .face = HBK_FACE_BOLD, .size = figure_em, .align = HBK_CENTRE};
    hbk_pad_read_as(
        quill->pad,
        hbk_arena_printf(view->eng->arena, "bars %s to %s: %zu bars rest ",
                         first->number, first[rest->n_bars - 1].number,
                         rest->n_bars));
    hbk_quill_text(quill, 0.5 * (rest->x + end), 4.0 + over_staff, style,
                   hbk_arena_printf(view->eng->arena, "%zu", rest->n_bars));
    hbk_pad_read_as(quill->pad, NULL);
}
