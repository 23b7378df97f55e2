#include "sheet/chart/plate_plan.h"

#include "base/text.h"
#include "engrave/staff.h"
#include "horn/about.h"
#include "notes/beside.h"
#include "sheet/block/heading.h"
#include "sheet/chart/gamut.h"
#include "sheet/chart/plate_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>
#include <string.h>

/* At unit 1, mm. */
static const double label_named = 41.0;
static const double label_bare = 34.0;
static const double half_tone = 1.5; /* of a natural, with both names */
static const double least_for_pairs = 6.7;
static const double least_column = 5.1;
static const double least_column_with_cents = 5.9;
static const double widest_space = 1.9;
static const double widest_space_alone = 2.6; /* without a table */

/* No number is smaller, points. */
static const double least_figure = 10.0;

/* Heights of rows: as they should be, and what may be made of them. */
static const double tall_row = 8.2;
static const double tall_row_of_few = 10.0;
static const double good_row = 5.0;
static const double least_row = 3.65;

static const double most_growth = 1.34;
static const double title_top = 14.0;

/* Further off than this the lips are told of it. */
static const double lip_cents = 10.0;

static bool needs_lip(const struct hbk_note *note)
{
    return note->n > 0 && fabs(note->fingerings[0].cents) >= lip_cents;
}

/* Which columns a player of the other horn must look at: the fewer. */
static void mark_columns(struct hbk_plate *plate)
{
    const struct hbk_notes *beside = plate->options->beside;
    if (beside == NULL) {
        return;
    }
    size_t same = 0;
    for (size_t i = 0; i < plate->n; i++) {
        struct hbk_plate_column *column = &plate->columns[i];
        column->is_marked =
            hbk_beside_note(plate->notes, beside, column->note->written) !=
            HBK_BESIDE_SAME;
        same += column->is_marked ? 0 : 1;
    }
    plate->marks_same = 2 * same < plate->n;
    for (size_t i = 0; plate->marks_same && i < plate->n; i++) {
        plate->columns[i].is_marked = !plate->columns[i].is_marked;
    }
}

static void list_columns(struct hbk_plate *plate,
                         const struct hbk_gamut_notes *chosen)
{
    plate->n = chosen->n;
    plate->columns = HBK_ARENA_ARRAY(plate->pad.sheet->arena,
                                     struct hbk_plate_column, chosen->n);
    for (size_t i = 0; i < chosen->n; i++) {
        const struct hbk_note *note = &plate->notes->notes[chosen->shown[i]];
        const int read =
            hbk_notation_note(&plate->notes->notation, note->written);
        plate->columns[i] =
            (struct hbk_plate_column){.note = note,
                                      .read = read,
                                      .is_half = hbk_note_is_black(read),
                                      .is_c = read % 12 == 0};
        plate->has_lip = plate->has_lip || plate->is_every || needs_lip(note);
        plate->has_slide = plate->has_slide ||
                           (note->n > 0 && note->fingerings[0].drawn_m > 0.0);
    }
    mark_columns(plate);
}

/* Rows that go together: keys before valves, and by the hand. */
static int group_of(const struct hbk_horn *horn, size_t control)
{
    const struct hbk_control *what = &horn->controls[control];
    return (what->kind == HBK_KEY ? 0 : 2) +
           (hbk_finger_is_left(what->fingers[0]) ? 1 : 0);
}

/*
 * Keys stand as on the tube, the farthest from the bell on top, and so do the
 * hands; valves as they are counted.
 */
static void list_rows(struct hbk_plate *plate)
{
    const struct hbk_horn *horn = plate->notes->horn;
    double sum[4] = {0.0};
    size_t count[4] = {0};
    for (size_t i = 0; i < horn->n_controls; i++) {
        const int group = group_of(horn, i);
        sum[group] += (double)i;
        count[group]++;
    }
    int order[4] = {0, 1, 2, 3};
    for (int kind = 0; kind < 4; kind += 2) {
        const double a = count[kind] > 0 ? sum[kind] / (double)count[kind] : 0;
        const double b =
            count[kind + 1] > 0 ? sum[kind + 1] / (double)count[kind + 1] : 0;
        if (kind == 0 ? b > a : b < a) {
            order[kind] = kind + 1;
            order[kind + 1] = kind;
        }
    }
    for (int g = 0; g < 4; g++) {
        for (size_t k = 0; k < horn->n_controls; k++) {
            const size_t i = order[g] < 2 ? horn->n_controls - 1 - k : k;
            if (group_of(horn, i) == order[g]) {
                plate->rows[plate->n_rows++] =
                    (struct hbk_plate_row){.control = i,
                                           .is_left = hbk_finger_is_left(
                                               horn->controls[i].fingers[0])};
            }
        }
        if (plate->n_rows > 0) {
            plate->rows[plate->n_rows - 1].ends_group = true;
        }
    }
}

static bool has_names(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].called != NULL) {
            return true;
        }
    }
    return false;
}

/* For whom it is, and how the horn is set. */
static const char *set_words(const struct hbk_plate *plate)
{
    struct hbk_arena *arena = plate->pad.sheet->arena;
    const struct hbk_notes *notes = plate->notes;
    const enum hbk_words_length length =
        plate->is_every ? HBK_WORDS_FULL : HBK_WORDS_BRIEF;
    const char *const words[] = {hbk_words_whom(arena, plate->options->whom),
                                 hbk_words_set(arena, notes, length),
                                 hbk_words_rest(arena, notes, length),
                                 hbk_words_assumed(arena, notes->horn)};
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if (words[i][0] != '\0') {
            hbk_text_addf(&text, "%s%s%s", text.length > 0 ? " " : "", words[i],
                          i == 0 ? "." : "");
        }
    }
    return hbk_text_string(&text);
}

/* "Keyed bugle in C" and "six keys" of a name with a comma. */
static void set_names(struct hbk_plate *plate)
{
    struct hbk_arena *arena = plate->pad.sheet->arena;
    const struct hbk_notes *notes = plate->notes;
    const char *name = plate->options->title == NULL ? notes->horn->name
                                                     : plate->options->title;
    const size_t length = strcspn(name, ",");
    plate->name = hbk_arena_copy(arena, name, length);
    const char *rest = name[length] == ',' ? name + length + 1 : "";
    rest += strspn(rest, " ");
    plate->below = hbk_arena_printf(arena, "%s%s%s", rest,
                                    rest[0] == '\0' ? "" : " \u00B7 ",
                                    hbk_words_read_sounds(arena, notes));
    const char *set = set_words(plate);
    const double width = plate->paper.width - 2.6 * HBK_PLATE_MARGIN * plate->s;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, 10.5, plate->s, HBK_CENTRE);
    const char *joined =
        hbk_arena_printf(arena, "%s \u00B7 %s", plate->below, set);
    /* On one line where it can be read there. */
    const struct hbk_style line =
        hbk_style_of(HBK_FACE_ITALIC, 11.0, plate->s, HBK_CENTRE);
    if (hbk_pad_width(&plate->pad, line, joined) <= width) {
        plate->below = joined;
        plate->set = (struct hbk_lines){0};
        return;
    }
    if (hbk_pad_width(&plate->pad, style, plate->below) > width) {
        set = hbk_arena_printf(arena, "%s. %s", plate->below, set);
        plate->below = "";
    }
    plate->set = hbk_pad_wrap(&plate->pad, style, width, set);
}

bool hbk_plate_begin(struct hbk_plate *plate)
{
    struct hbk_gamut_notes chosen;
    struct hbk_arena *arena = plate->pad.sheet->arena;
    hbk_gamut_choose(arena, plate->notes, &chosen);
    if (chosen.n == 0) {
        return false;
    }
    list_columns(plate, &chosen);
    plate->beyond =
        chosen.n_left_out == 0
            ? ""
            : hbk_arena_printf(arena, "Between %s and %s it cannot play %s. ",
                               hbk_words_read_both(arena, plate->notes,
                                                   plate->notes->lowest),
                               hbk_words_read_both(arena, plate->notes,
                                                   plate->notes->highest),
                               hbk_words_read_runs(arena, plate->notes,
                                                   chosen.n_left_out,
                                                   chosen.left_out));
    list_rows(plate);
    set_names(plate);
    plate->label = (plate->n_rows == 0              ? 16.0
                    : has_names(plate->notes->horn) ? label_named
                                                    : label_bare) *
                   plate->s;
    return true;
}

/* Where the columns of a system stand, and how wide they are. */
static void set_columns(struct hbk_plate *plate,
                        const struct hbk_plate_system *system)
{
    double units = 0.0;
    for (size_t i = 0; i < system->n; i++) {
        const bool wide =
            plate->pairs && plate->columns[system->first + i].is_half;
        units += wide ? half_tone : 1.0;
    }
    double x = HBK_PLATE_MARGIN * plate->s + plate->label;
    const double room = plate->paper.width - x -
                        (HBK_PLATE_MARGIN + HBK_PLATE_NUMBERS) * plate->s;
    /* A short system does not spread its columns out. */
    double step = room / units;
    if (system->first == 0) {
        plate->unit_width = step;
    }
    step = fmin(step, 1.3 * plate->unit_width);
    for (size_t i = 0; i < system->n; i++) {
        struct hbk_plate_column *column = &plate->columns[system->first + i];
        column->x = x;
        column->width =
            step * (plate->pairs && column->is_half ? half_tone : 1.0);
        x += column->width;
    }
}

static double narrowest(const struct hbk_plate *plate, bool pairs)
{
    double units = 0.0;
    for (size_t i = 0; i < plate->n; i++) {
        units += pairs && plate->columns[i].is_half ? half_tone : 1.0;
    }
    const double room =
        plate->paper.width -
        (2.0 * HBK_PLATE_MARGIN + HBK_PLATE_NUMBERS) * plate->s - plate->label;
    return room / units;
}

/* Breaks at the C that divides the columns most evenly. */
static void break_at_c(struct hbk_plate *plate)
{
    size_t best = 0;
    for (size_t i = 1; i < plate->n; i++) {
        const double off = fabs((double)i - 0.5 * (double)plate->n);
        if (plate->columns[i].is_c &&
            (best == 0 || off < fabs((double)best - 0.5 * (double)plate->n))) {
            best = i;
        }
    }
    best = best == 0 ? (plate->n + 1) / 2 : best;
    plate->n_systems = 2;
    plate->systems[0] = (struct hbk_plate_system){.first = 0, .n = best};
    plate->systems[1] =
        (struct hbk_plate_system){.first = best, .n = plate->n - best};
}

static void measure_staff(struct hbk_plate *plate,
                          struct hbk_plate_system *system)
{
    const enum hbk_clef clef = plate->notes->notation.clef;
    hbk_clef_reach(clef, &system->staff_above, &system->staff_below);
    for (size_t i = 0; i < system->n; i++) {
        struct hbk_heads heads =
            hbk_heads_of(plate->columns[system->first + i].read);
        heads.n = plate->pairs ? heads.n : 1;
        double above = 0.0;
        double below = 0.0;
        hbk_heads_reach(clef, &heads, &above, &below);
        system->staff_above = fmax(system->staff_above, above);
        system->staff_below = fmax(system->staff_below, below);
    }
}

/* Whether the numbers of the naturals can be read in columns so wide. */
static bool figures_fit(const struct hbk_plate *plate, double width)
{
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_FIGURE, least_figure, plate->s, HBK_CENTRE);
    for (size_t i = 0; i < plate->n; i++) {
        const struct hbk_plate_column *column = &plate->columns[i];
        const struct hbk_fingering *first = hbk_plate_other(plate, column, 0);
        if (first == NULL || column->is_half) {
            continue;
        }
        const char *text =
            hbk_gamut_label(plate->pad.sheet->arena, plate->notes, first);
        const struct hbk_style fit = hbk_plate_fit(
            &plate->pad, style, width - 0.7 * plate->s, 0.5, &text);
        if (fit.size < style.size - 1e-6) {
            return false;
        }
    }
    return true;
}

/* Columns, staves and the size of their staff. */
static void place_systems(struct hbk_plate *plate)
{
    const double s = plate->s;
    double least = 1e9;
    for (size_t i = 0; i < plate->n_systems; i++) {
        set_columns(plate, &plate->systems[i]);
        measure_staff(plate, &plate->systems[i]);
        least = fmin(least, plate->columns[plate->systems[i].first].width);
    }
    for (size_t i = 0; i < plate->n; i++) {
        least = fmin(least, plate->columns[i].width);
    }
    plate->space =
        fmin((plate->n_rows > 0 ? widest_space : widest_space_alone) * s,
             plate->pairs ? least * half_tone / 7.0 : least / 3.75);
}

static void set_systems(struct hbk_plate *plate)
{
    const double s = plate->s;
    plate->n_systems = 1;
    plate->systems[0] = (struct hbk_plate_system){.first = 0, .n = plate->n};
    plate->pairs = narrowest(plate, true) >= least_for_pairs * s &&
                   figures_fit(plate, narrowest(plate, true));
    const double least_width =
        plate->is_every ? least_column_with_cents : least_column;
    if (!plate->pairs && narrowest(plate, false) < least_width * s) {
        break_at_c(plate);
    }
    place_systems(plate);
}

static double title_height(const struct hbk_plate *plate)
{
    return (title_top + 20.0 + 4.6 * (double)plate->set.n) * plate->s;
}

/* What a system takes but for the rows of its table. */
static double system_height(const struct hbk_plate *plate,
                            const struct hbk_plate_system *system)
{
    return hbk_plate_names_height(plate) +
           hbk_plate_staff_height(plate, system) +
           hbk_plate_figure_height(plate) + hbk_plate_below_height(plate);
}

/* What is left for the rows of all tables of a page. */
static double room_for_rows(const struct hbk_plate *plate)
{
    double used =
        title_height(plate) + hbk_instrument_above(&plate->instrument) +
        hbk_instrument_below(&plate->instrument) + 2.0 * plate->s +
        hbk_plate_foot_height(plate) + (HBK_PLATE_FRAME + 3.0) * plate->s;
    for (size_t i = 0; i < plate->with_tube; i++) {
        used += system_height(plate, &plate->systems[i]);
    }
    return plate->paper.height - used;
}

/* The same on a page without the instrument, which has one table. */
static double room_on_further_page(const struct hbk_plate *plate)
{
    double tallest = 0.0;
    for (size_t i = plate->with_tube; i < plate->n_systems; i++) {
        tallest = fmax(tallest, system_height(plate, &plate->systems[i]));
    }
    return plate->paper.height -
           (HBK_PLATE_MARGIN + HBK_PLATE_FRAME + 3.0) * plate->s -
           hbk_running_head_height(plate->s) - hbk_plate_foot_height(plate) -
           tallest;
}

static double room_for_each_table(const struct hbk_plate *plate)
{
    double room = 1e9;
    if (plate->with_tube > 0) {
        room = room_for_rows(plate) / (double)plate->with_tube;
    } else if (room_for_rows(plate) < 0.0) {
        return -1.0;
    }
    if (plate->with_tube < plate->n_systems) {
        room = fmin(room, room_on_further_page(plate));
    }
    return room;
}

/* Whether rows of that height fit with so many lines of other fingerings. */
static bool try_rows(struct hbk_plate *plate, size_t others, double least)
{
    plate->others = others;
    const double room = room_for_each_table(plate);
    if (plate->n_rows == 0) {
        plate->row_height = 0.0;
        return room >= 0.0;
    }
    const double most =
        (plate->n_rows <= 3 ? tall_row_of_few : tall_row) * plate->s;
    plate->row_height = fmin(most, room / (double)plate->n_rows);
    return plate->row_height >= least * plate->s;
}

void hbk_plate_turn(struct hbk_plate *plate)
{
    plate->n_rows = 0;
    plate->row_height = 0.0;
    plate->has_slide = false;
    plate->air = 0.0;
    break_at_c(plate);
    plate->pairs = true;
    place_systems(plate);
}

size_t hbk_plate_lines(const struct hbk_plate *plate,
                       const struct hbk_plate_system *system)
{
    size_t lines = 0;
    for (size_t i = 0; i < system->n; i++) {
        const size_t n = plate->columns[system->first + i].note->n;
        lines = n > lines + 1 ? n - 1 : lines;
    }
    return lines;
}

/* The most lines of other fingerings that some note could fill. */
static size_t lines_wanted(const struct hbk_plate *plate, size_t most)
{
    size_t wanted = 0;
    for (size_t i = 0; i < plate->n; i++) {
        size_t k = 0;
        while (k < most &&
               hbk_plate_other(plate, &plate->columns[i], k + 1) != NULL) {
            k++;
        }
        wanted = k > wanted ? k : wanted;
    }
    return wanted;
}

/* Every other fingering stands below the table, or else overleaf. */
static bool try_every(struct hbk_plate *plate)
{
    if (!plate->is_every) {
        return false;
    }
    plate->every_line = lines_wanted(plate, SIZE_MAX);
    if (try_rows(plate, plate->every_line, good_row)) {
        return true;
    }
    plate->overleaf = plate->every_line > 0;
    return false;
}

/* What is given up, in this order. */
static void give_up(struct hbk_plate *plate)
{
    if (try_every(plate)) {
        return;
    }
    const size_t most =
        plate->is_every ? 0 : lines_wanted(plate, plate->s > 1.2 ? 3 : 2);
    for (size_t others = most + 1; others-- > 0;) {
        if (try_rows(plate, others, others > 1 ? good_row : least_row)) {
            return;
        }
    }
    /* What is known of the horn on a further page; then each system. */
    plate->known_apart = true;
    for (size_t with_tube = plate->n_systems + 1; with_tube-- > 0;) {
        plate->with_tube = with_tube;
        for (size_t others = most + 1; others-- > 0;) {
            if (try_rows(plate, others, least_row)) {
                return;
            }
        }
    }
    plate->row_height = least_row * plate->s;
}

/* What is left over: the instrument grows, then air above the names. */
static void share_rest(struct hbk_plate *plate)
{
    const size_t tables = plate->with_tube;
    const double rows = plate->row_height * (double)(tables * plate->n_rows);
    const double left = fmax(0.0, room_for_rows(plate) - rows);
    const double tall = hbk_instrument_above(&plate->instrument) +
                        hbk_instrument_below(&plate->instrument);
    plate->instrument.growth =
        fmin(most_growth, 1.0 + 0.62 * left / fmax(tall, 1.0));
    while (plate->instrument.growth > 1.0 && room_for_rows(plate) < rows) {
        plate->instrument.growth = fmax(1.0, plate->instrument.growth - 0.02);
    }
    plate->air = tables == 0 ? 0.0
                             : 0.5 * fmax(0.0, room_for_rows(plate) - rows) /
                                   (double)tables;
}

void hbk_plate_choose(struct hbk_plate *plate)
{
    const double s = plate->s;
    const double x = (HBK_PLATE_MARGIN + HBK_INSTRUMENT_MOUTHPIECE + 1.0) * s;
    plate->instrument = (struct hbk_instrument){
        .notes = plate->notes,
        .unit = s,
        .growth = 1.0,
        .x = x,
        .width = plate->paper.width - x - (HBK_PLATE_MARGIN + 3.0) * s};
    set_systems(plate);
    plate->with_tube = plate->n_systems;
    plate->others = lines_wanted(plate, plate->is_every  ? SIZE_MAX
                                        : plate->s > 1.2 ? 3
                                                         : 2);
    hbk_plate_words(plate);
    give_up(plate);
    share_rest(plate);
}
