#include "report/choose.h"

#include "base/json.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/passage_moved.h"
#include "sheet/words/words.h"
#include "sheet/words/words_player.h"

#include <math.h>
#include <string.h>

/* Bars that are named before "and so on" must do. */
enum { BARS_MAX = 8 };

/* "bar 3: B3 A♯3, bar 7: B3": each note once a bar. */
static void add_out(const struct hbk_suit *suit, struct hbk_text *out)
{
    size_t bars = 0;
    const char *bar = NULL;
    size_t first = 0;
    for (size_t i = 0; i < suit->n_out; i++) {
        const struct hbk_suit_out *const note = &suit->out[i];
        if (bar == NULL || strcmp(bar, note->bar) != 0) {
            if (bars++ == BARS_MAX) {
                hbk_text_add(out, " and in later bars");
                return;
            }
            hbk_text_addf(out, "%sbar %s:", bar == NULL ? "" : ", ", note->bar);
            bar = note->bar;
            first = i;
        }
        bool said = false;
        for (size_t k = first; k < i; k++) {
            said |= suit->out[k].written == note->written;
        }
        if (!said) {
            char name[HBK_NAME_SIZE];
            hbk_text_addf(out, " %s",
                          hbk_note_name(note->written, HBK_UNICODE, name));
        }
    }
}

static void add_reach(const struct hbk_chosen *horn, struct hbk_text *out)
{
    const struct hbk_suit *const suit = &horn->suit;
    if (horn->unwritable) {
        hbk_text_add(out, "the part, moved for this horn, leaves the notes "
                          "that can be written");
    } else if (suit->n_out == 0) {
        hbk_text_add(out, "plays every note");
    } else {
        hbk_text_addf(out, "%zu of %zu notes not available (", suit->n_out,
                      suit->n_notes);
        add_out(suit, out);
        hbk_text_add(out, ")");
    }
}

/* What the horn lacks of the pitch asked for, told once. */
static void add_pitch(const struct hbk_suit *suit, struct hbk_text *out)
{
    if (fabs(suit->left_cents) >= HBK_IN_TUNE_CENTS) {
        hbk_text_addf(
            out, "; all %.0f cents %s of A = %.4g Hz, plays at A = %.1f Hz",
            fabs(suit->left_cents), suit->left_cents < 0.0 ? "flat" : "sharp",
            suit->a4_hz, suit->pitch_hz);
    }
}

static void add_tuning(const struct hbk_suit *suit, struct hbk_text *out)
{
    char name[HBK_NAME_SIZE];
    if (suit->n_out == suit->n_notes) {
        return;
    }
    hbk_text_addf(
        out,
        "; %.0f cents off on average, at worst %+.0f (%s, bar "
        "%s)",
        hbk_report_whole(suit->rms_cents), hbk_report_whole(suit->worst_cents),
        hbk_note_name(suit->worst_written, HBK_UNICODE, name), suit->worst_bar);
}

static void add_moves(const struct hbk_suit *suit, struct hbk_text *out)
{
    if (suit->n_out == suit->n_notes) {
        return;
    }
    if (suit->n_hard == 0) {
        hbk_text_add(out, suit->hurry < 0.02
                              ? "; nothing is hurried"
                              : "; every move is in time, some hurried");
    } else if (suit->playable_quarters > 0.0) {
        hbk_text_addf(out,
                      "; %zu move%s too quick at %.0f quarter notes a "
                      "minute, all in time at %.0f",
                      suit->n_hard, suit->n_hard == 1 ? "" : "s",
                      suit->quarters, floor(suit->playable_quarters));
    } else {
        hbk_text_addf(out, "; %zu grace note%s too quick", suit->n_hard,
                      suit->n_hard == 1 ? "" : "s");
    }
}

/* The reasons for the score, as one would tell them. */
static const char *reasons(const struct hbk_chosen *horn,
                           struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    add_reach(horn, &out);
    if (!horn->unwritable) {
        add_pitch(&horn->suit, &out);
        add_tuning(&horn->suit, &out);
        add_moves(&horn->suit, &out);
        if (horn->suit.extreme_share >= 0.005) {
            hbk_text_addf(&out, "; %.0f %% of the time in its extreme notes",
                          hbk_report_whole(100.0 * horn->suit.extreme_share));
        }
    }
    hbk_text_add(&out, ".");
    return hbk_text_string(&out);
}

/* What the score lost, "tuning 4, difficulty 1". */
static const char *losses(const struct hbk_suit *suit, struct hbk_arena *arena)
{
    const struct {
        const char *name;
        double points;
    } parts[] = {{"notes", suit->lost_reach},
                 {"octave", suit->lost_octave},
                 {"pitch", suit->lost_pitch},
                 {"tuning", suit->lost_tuning},
                 {"difficulty", suit->lost_difficulty},
                 {"extreme notes", suit->lost_comfort}};
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < sizeof(parts) / sizeof(parts[0]); i++) {
        if (parts[i].points >= 0.05) {
            hbk_text_addf(&out, "%s%s %.1f", out.length > 0 ? ", " : "",
                          parts[i].name, parts[i].points);
        }
    }
    return out.length > 0 ? hbk_text_string(&out) : "nothing";
}

/* "moved a fifth up", "played an octave lower, and moved a fourth down". */
static const char *placed_words(const struct hbk_placing *placing,
                                struct hbk_arena *arena)
{
    const int by = hbk_placing_moved(placing);
    const char *const moved =
        by == 0 ? "as written"
                : hbk_arena_printf(arena, "moved %s %s",
                                   hbk_words_interval(arena, by),
                                   by > 0 ? "up" : "down");
    const char *const octaves = hbk_octaves_words(placing->octaves, arena);
    return placing->octaves == 0 ? moved
           : by == hbk_placing_asked(placing)
               ? hbk_arena_printf(arena, "played %s", octaves)
               : hbk_arena_printf(arena, "played %s, and %s", octaves, moved);
}

/* How many of the horns take the tune in this way; by its clef, likewise. */
static size_t count_taken(const struct hbk_choice *choice, enum hbk_taken taken,
                          bool by_clef)
{
    size_t n = 0;
    for (size_t i = 0; i < choice->n; i++) {
        const struct hbk_placing *const placing = &choice->horns[i].placing;
        n += placing->taken == taken && placing->by_clef == by_clef ? 1 : 0;
    }
    return n;
}

/* How the tune is taken, for whoever wonders why a horn is moved. */
static const char *taken_words(const struct hbk_choice *choice)
{
    const size_t by_clef = count_taken(choice, HBK_TAKEN_SOUNDING, true);
    if (count_taken(choice, HBK_TAKEN_STATED, false) > 0) {
        return "The tune is taken by the transposition that it states, and "
               "moved to each horn's key.\n";
    }
    if (count_taken(choice, HBK_TAKEN_SOUNDING, false) > 0) {
        return "The tune is taken as it sounds, and moved to each horn's "
               "key.\n";
    }
    if (by_clef == 0) {
        return "The tune states no transposition: its notes are taken as "
               "written for each horn.\n";
    }
    return by_clef == choice->n
               ? "The tune states no transposition. It is in another clef than "
                 "the horns read: its notes are taken as they sound, and moved "
                 "to each horn's key.\n"
               : "The tune states no transposition. For horns that read "
                 "another clef its notes are taken as they sound, and moved to "
                 "the horn's key; for the others they are taken as written.\n";
}

void hbk_choose_text(const struct hbk_choice *choice, struct hbk_text *out)
{
    hbk_text_addf(out, "%s%s%.0f quarter notes a minute%s\n", choice->title,
                  choice->title[0] == '\0' ? "" : ", ", choice->quarters,
                  choice->tempo_assumed ? " (assumed)" : "");
    const char *const line = hbk_line_words(out->arena, &choice->line);
    if (line[0] != '\0') {
        hbk_text_addf(out, "Read: %s.\n", line);
    }
    hbk_text_add(out, taken_words(choice));
    if (choice->semitones != 0) {
        hbk_text_addf(out, "It is played %s %s, as asked.\n",
                      hbk_words_interval(out->arena, choice->semitones),
                      choice->semitones > 0 ? "higher" : "lower");
    }
    for (size_t i = 0; i < choice->n; i++) {
        const struct hbk_chosen *const horn = &choice->horns[i];
        hbk_text_addf(out, "\n%zu. %s (%s): %.1f\n", i + 1, horn->name,
                      horn->word, horn->suit.score);
        if (horn->as_played != NULL) {
            hbk_text_addf(out, "    %s\n",
                          hbk_words_player(out->arena, horn->as_played));
        }
        hbk_text_addf(out, "    %s\n", reasons(horn, out->arena));
        hbk_text_addf(out, "    The part is %s. Lost: %s.\n",
                      placed_words(&horn->placing, out->arena),
                      losses(&horn->suit, out->arena));
    }
    hbk_text_addf(out,
                  "\nOut of 100 points: notes that are not available lose %.0f "
                  "and more, each octave away %.0f up to %.0f, a pitch that "
                  "the horn does not reach up to %.0f, tuning up to %.0f, "
                  "difficulty up to %.0f, extreme notes up to %.0f.\n",
                  HBK_SUIT_OUT, HBK_SUIT_OCTAVE, HBK_SUIT_OCTAVES,
                  HBK_SUIT_PITCH, HBK_SUIT_TUNING, HBK_SUIT_DIFFICULTY,
                  HBK_SUIT_COMFORT);
}

void hbk_choose_csv(const struct hbk_choice *choice, struct hbk_text *out)
{
    hbk_text_add(out,
                 "rank,score,horn,name,shift,octaves,notes,out,a4_hz,pitch_hz,"
                 "left_cents,rms_cents,"
                 "worst_cents,hurry,hard,playable_quarters,"
                 "extreme_share,reasons\r\n");
    for (size_t i = 0; i < choice->n; i++) {
        const struct hbk_chosen *const horn = &choice->horns[i];
        const struct hbk_suit *const suit = &horn->suit;
        hbk_text_addf(out, "%zu,%.1f,", i + 1, suit->score);
        hbk_text_add_csv(out, horn->word);
        hbk_text_add(out, ",");
        hbk_text_add_csv(out, horn->name);
        hbk_text_addf(out, ",%d,%d,%zu,%zu,%.2f,%.2f,%.2f,%.2f,%.2f,%.3f,%zu,",
                      hbk_placing_moved(&horn->placing), horn->placing.octaves,
                      suit->n_notes, suit->n_out, suit->a4_hz, suit->pitch_hz,
                      suit->left_cents, suit->rms_cents, suit->worst_cents,
                      suit->hurry, suit->n_hard);
        if (suit->playable_quarters > 0.0) {
            hbk_text_addf(out, "%.1f", suit->playable_quarters);
        }
        hbk_text_addf(out, ",%.4f,", suit->extreme_share);
        hbk_text_add_csv(out, reasons(horn, out->arena));
        hbk_text_add(out, "\r\n");
    }
}

static void json_out(const struct hbk_suit *suit, struct hbk_json *json)
{
    hbk_json_open_array(json, "not_available");
    for (size_t i = 0; i < suit->n_out; i++) {
        char name[HBK_NAME_SIZE];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "bar", suit->out[i].bar);
        hbk_json_string(json, "written",
                        hbk_spelling_name(hbk_note_sharp(suit->out[i].written),
                                          HBK_ASCII, name));
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_lost(const struct hbk_suit *suit, struct hbk_json *json)
{
    hbk_json_open_object(json, "lost");
    hbk_json_number(json, "notes", suit->lost_reach, 2);
    hbk_json_number(json, "octave", suit->lost_octave, 2);
    hbk_json_number(json, "pitch", suit->lost_pitch, 2);
    hbk_json_number(json, "tuning", suit->lost_tuning, 2);
    hbk_json_number(json, "difficulty", suit->lost_difficulty, 2);
    hbk_json_number(json, "extreme_notes", suit->lost_comfort, 2);
    hbk_json_close_object(json);
}

static void json_horn(const struct hbk_chosen *horn, size_t rank,
                      struct hbk_json *json)
{
    const struct hbk_suit *const suit = &horn->suit;
    struct hbk_arena *const arena = json->out->arena;
    char name[HBK_NAME_SIZE];
    hbk_json_open_object(json, NULL);
    hbk_json_whole(json, "rank", (long)rank);
    hbk_json_number(json, "score", suit->score, 2);
    hbk_json_string(json, "horn", horn->word);
    hbk_json_string(json, "name", horn->name);
    hbk_json_string(json, "written_c4_sounds",
                    hbk_spelling_name(hbk_note_sharp(horn->written_c4_sounds),
                                      HBK_ASCII, name));
    if (horn->as_played != NULL) {
        hbk_report_json_player(horn->as_played, json);
    }
    hbk_json_string(json, "taken_as", hbk_taken_name(horn->placing.taken));
    hbk_json_whole(json, "shift", hbk_placing_moved(&horn->placing));
    hbk_json_whole(json, "octaves", horn->placing.octaves);
    hbk_json_whole(json, "notes", (long)suit->n_notes);
    json_out(suit, json);
    hbk_json_number(json, "a4_hz", suit->a4_hz, 2);
    hbk_json_number(json, "pitch_hz", suit->pitch_hz, 2);
    hbk_json_number(json, "left_cents", suit->left_cents, 2);
    hbk_json_number(json, "rms_cents", suit->rms_cents, 2);
    hbk_json_number(json, "worst_cents", suit->worst_cents, 2);
    hbk_json_number(json, "care_share", suit->care_share, 4);
    hbk_json_number(json, "hurry", suit->hurry, 4);
    hbk_json_whole(json, "hard", (long)suit->n_hard);
    if (suit->playable_quarters > 0.0) {
        hbk_json_number(json, "playable_quarters", suit->playable_quarters, 1);
    }
    hbk_json_number(json, "extreme_share", suit->extreme_share, 4);
    json_lost(suit, json);
    hbk_json_string(json, "reasons", reasons(horn, arena));
    hbk_json_close_object(json);
}

void hbk_choose_json(const struct hbk_choice *choice, struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-choose/2", out);
    hbk_json_string(&json, "tune", choice->title);
    hbk_report_json_line(&choice->line, &json);
    hbk_json_number(&json, "quarters", choice->quarters, 1);
    hbk_json_bool(&json, "tempo_assumed", choice->tempo_assumed);
    hbk_json_open_array(&json, "horns");
    for (size_t i = 0; i < choice->n; i++) {
        json_horn(&choice->horns[i], i + 1, &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
