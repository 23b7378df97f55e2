#include "report/stuck.h"

#include "horn/press.h"
#include "music/pitch.h"
#include "report/columns.h"
#include "report/screen.h"
#include "sheet/words/words_read.h"

/* "C♯4 to F♯4, A4" of the notes that met a fate. */
static const char *runs(const struct hbk_notes *notes,
                        const struct hbk_account *account, enum hbk_fate fate,
                        struct hbk_arena *arena)
{
    int *const list = HBK_ARENA_ARRAY(arena, int, account->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < account->n; i++) {
        if (account->items[i].fate == fate) {
            list[n++] = account->items[i].written;
        }
    }
    return hbk_words_read_runs(arena, notes, n, list);
}

enum { WIDE_NAME = 5 };

static void text_others(const struct hbk_notes *notes,
                        const struct hbk_account *account, struct hbk_text *out)
{
    for (size_t i = 0; i < account->n; i++) {
        const struct hbk_fate_of *const item = &account->items[i];
        char was[HBK_LABEL_SIZE];
        char now[HBK_LABEL_SIZE];
        if (item->fate != HBK_FATE_OTHER) {
            continue;
        }
        hbk_horn_press_label(notes->horn, item->was->press, was);
        hbk_horn_press_label(notes->horn, item->now->press, now);
        hbk_text_add(out, "  ");
        const size_t start = out->length;
        hbk_text_add(out, hbk_words_read(out->arena, notes, item->written));
        hbk_report_pad(out, start, WIDE_NAME);
        const bool is_pressed_alike = item->was->press == item->now->press;
        if (is_pressed_alike && item->was->partial == item->now->partial) {
            hbk_text_addf(out, "%s as before, but %+.0f cents, not %+.0f\n",
                          now, hbk_report_whole(item->now->cents),
                          hbk_report_whole(item->was->cents));
        } else if (is_pressed_alike) {
            hbk_text_addf(out,
                          "%s on partial %u (%+.0f cents) in place of partial "
                          "%u\n",
                          now, item->now->partial,
                          hbk_report_whole(item->now->cents),
                          item->was->partial);
        } else {
            hbk_text_addf(out, "%s (%+.0f cents) in place of %s\n", now,
                          hbk_report_whole(item->now->cents), was);
        }
    }
}

void hbk_stuck_text(const struct hbk_notes *notes,
                    const struct hbk_account *account, struct hbk_text *out)
{
    hbk_text_add(out, "\n" HBK_HEAD "With what is stuck" HBK_PLAIN "\n");
    if (account->lost > 0) {
        hbk_text_addf(out, "lost: " HBK_HANG "%s\n",
                      runs(notes, account, HBK_FATE_LOST, out->arena));
    } else {
        hbk_text_add(out, "nothing is lost\n");
    }
    if (account->gained > 0) {
        hbk_text_addf(out, "available only now: " HBK_HANG "%s\n",
                      runs(notes, account, HBK_FATE_GAINED, out->arena));
    }
    if (account->other > 0) {
        hbk_text_add(out, "plays with another fingering:\n");
        text_others(notes, account, out);
    }
    if (account->same > 0) {
        hbk_text_addf(out, "as before: " HBK_HANG "%s\n",
                      runs(notes, account, HBK_FATE_SAME, out->arena));
    }
}

static void json_names(const struct hbk_account *account, enum hbk_fate fate,
                       const char *name, struct hbk_json *json)
{
    char note[HBK_NAME_SIZE];
    hbk_json_open_array(json, name);
    for (size_t i = 0; i < account->n; i++) {
        if (account->items[i].fate == fate) {
            hbk_json_string(
                json, NULL,
                hbk_spelling_name(hbk_note_sharp(account->items[i].written),
                                  HBK_ASCII, note));
        }
    }
    hbk_json_close_array(json);
}

static void json_fingering(const struct hbk_horn *horn, const char *name,
                           const struct hbk_fingering *f, struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    hbk_json_open_object(json, name);
    hbk_json_string(json, "label", hbk_horn_press_label(horn, f->press, label));
    hbk_json_whole(json, "partial", (long)f->partial);
    hbk_json_number(json, "cents", f->cents, 2);
    hbk_json_close_object(json);
}

void hbk_stuck_json(const struct hbk_horn *horn,
                    const struct hbk_account *account, struct hbk_json *json)
{
    hbk_json_open_object(json, "stuck");
    json_names(account, HBK_FATE_LOST, "lost", json);
    json_names(account, HBK_FATE_GAINED, "gained", json);
    hbk_json_open_array(json, "changed");
    for (size_t i = 0; i < account->n; i++) {
        const struct hbk_fate_of *const item = &account->items[i];
        char note[HBK_NAME_SIZE];
        if (item->fate != HBK_FATE_OTHER) {
            continue;
        }
        hbk_json_open_object(json, NULL);
        hbk_json_string(
            json, "written",
            hbk_spelling_name(hbk_note_sharp(item->written), HBK_ASCII, note));
        json_fingering(horn, "was", item->was, json);
        json_fingering(horn, "now", item->now, json);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_whole(json, "unchanged", (long)account->same);
    hbk_json_close_object(json);
}
