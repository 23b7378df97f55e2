#include "sheet/article/form.h"

#include "sheet/article/article.h"
#include "sheet/article/form_picture.h"
#include "sheet/article/form_table.h"
#include "sheet/article/form_words.h"
#include "sheet/block/foot.h"
#include "sheet/block/title.h"
#include "sheet/words/words.h"

/* Rows where nobody says how many keys or valves there are. */
enum { KEYS_USUAL = 12, VALVES_USUAL = 5 };

/* At unit 1, mm. */
static const double title_points = 20.0;
static const double title_rule = 56.0;
static const double words_points = 8.5;
static const double foot_points = 7.5;
static const double field_step = 9.0;
static const double table_gap = 2.6;
static const double leading = 1.2; /* of the em */

/* A page while it is filled from the top; what is fixed below is its foot. */
struct page {
    struct hbk_article article;
    const char *title; /* of the user; or NULL */
    bool has_keys;     /* else valves */
    double end;        /* the top of its foot */
};

static double unit_of(enum hbk_paper paper)
{
    return paper == HBK_A3 ? 1.35 : 1.0;
}

bool hbk_form_takes(enum hbk_paper paper)
{
    return paper == HBK_A4 || paper == HBK_A3 || paper == HBK_LETTER;
}

static double paragraph(struct page *page, double y, const char *text)
{
    struct hbk_article *const article = &page->article;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, words_points, article->unit, HBK_LEFT);
    return hbk_pad_paragraph(
        &article->pad, HBK_TAG_PARAGRAPH, style, leading * style.size,
        (struct hbk_point){article->x, y}, article->width, text);
}

static void draw_title(struct page *page, const char *name, const char *below)
{
    struct hbk_article *const article = &page->article;
    const double u = article->unit;
    const struct hbk_title title = {.name = page->title == NULL ? name
                                                                : page->title,
                                    .below = below,
                                    .points = title_points,
                                    .unit = u,
                                    .rule = title_rule};
    hbk_article_title(article, &title);
}

/* What must be heeded, at the foot of a page; it ends what may be filled. */
static void draw_foot(struct page *page, const char *left)
{
    struct hbk_article *const article = &page->article;
    const struct hbk_foot foot = {.left = left,
                                  .right = hbk_words_cautions(),
                                  .points = foot_points * article->unit,
                                  .width = article->width};
    page->end = article->end - hbk_foot_height(&article->pad, &foot);
    hbk_foot_draw(&article->pad, &foot, article->x, page->end);
    page->end -= 1.6 * article->unit;
}

/* A row of lines to write on, over the whole width. */
static void fields(struct page *page, size_t n,
                   const struct hbk_form_field given[])
{
    struct hbk_article *const article = &page->article;
    struct hbk_form_field *const wide =
        HBK_ARENA_ARRAY(article->pad.sheet->arena, struct hbk_form_field, n);
    const double between = HBK_FORM_BETWEEN * (double)(n - 1);
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += given[i].width;
    }
    for (size_t i = 0; i < n; i++) {
        wide[i] = given[i];
        wide[i].width *= (article->width / article->unit - between) / sum;
    }
    article->y += field_step * article->unit;
    hbk_form_fields_draw(&article->pad, n, wide, article->unit, article->x,
                         article->y);
}

static void table(struct page *page, const struct hbk_form_table *of)
{
    struct hbk_article *const article = &page->article;
    hbk_form_table_draw(&article->pad, of, article->x, article->y);
    article->y += hbk_form_table_height(of) + table_gap * article->unit;
}

static const struct hbk_form_column key_columns[] = {
    {11.0, "key", "no.", NULL},
    {20.0, "called", "name", NULL},
    {25.0, "rest", "mark it", "open   closed"},
    {19.0, "raises", "semitones", NULL},
    {22.0, "from_bell", HBK_FORM_FROM_BELL ", mm", NULL},
    {20.0, "diameter", HBK_FORM_HOLE ", mm", NULL},
    {20.0, "chimney", HBK_FORM_CHIMNEY ", mm", NULL},
    {20.0, "pad_lift", HBK_FORM_LIFT ", mm", NULL},
    {33.0, "finger", "that lies on it", NULL}};

static const struct hbk_form_column valve_columns[] = {
    {12.0, "valve", "no.", NULL},
    {24.0, "loop", HBK_FORM_LOOP ", mm", NULL},
    {24.0, "lowers", "or this, cents", NULL},
    {22.0, "rest", "loop at rest", "out   in"},
    {22.0, "at", HBK_FORM_AT ", mm", NULL},
    {22.0, "diameter", HBK_FORM_LOOP_BORE ", mm", NULL},
    {32.0, "action", "how it is made", NULL},
    {32.0, "finger", "that lies on it", NULL}};

static const struct hbk_form_word key_words[] = {
    {"called", "the note engraved on it, or that it is for"},
    {"rest", "the hole while nobody presses the key"},
    {"raises", "by the tuner, from the open note to the note with this key "
               "alone: cents divided by 100, with a minus where pressing it "
               "lowers"},
    {"from_bell", HBK_FORM_FROM_BELL
     ": along the middle of the tube, from the rim of the bell to the middle "
     "of the hole"},
    {"diameter", HBK_FORM_HOLE ": of the hole, inside; leave the pad on and "
                               "measure under it"},
    {"chimney", HBK_FORM_CHIMNEY ": from the wall of the bore to the rim"},
    {"pad_lift", HBK_FORM_LIFT ": from the rim to the open pad"},
    {"bore", HBK_FORM_PLACE ": along the middle of the tube from the edge of "
                            "the receiver, the bell last; " HBK_FORM_ACROSS
                            ": inside there, or outside less twice the wall"},
    {"volume", "of the cup: the water that it holds, 1 g is 1 ml"}};

static const struct hbk_form_word valve_words[] = {
    {"loop", HBK_FORM_LOOP ": the tube that the valve brings in, along its "
                           "middle, its slide as far out as stands_out says; "
                           "a string along the bow, then a ruler"},
    {"lowers", "in its place, by the tuner: cents from the open note to the "
               "note with this valve alone"},
    {"rest", "in for a valve that takes its loop out when it is pressed"},
    {"at", HBK_FORM_AT ": along the middle of the tube from the edge of the "
                       "receiver to the loop"},
    {"diameter", HBK_FORM_LOOP_BORE ": of the loop, inside"},
    {"action", "piston, wide piston (Berlin), early piston (Stoelzel), double "
               "piston (Vienna), rotary or string rotary"},
    {"bore", HBK_FORM_PLACE ": along the middle of the tube from the edge of "
                            "the receiver, without the loops, the bell "
                            "last; " HBK_FORM_ACROSS
                            ": inside there, or outside less twice the wall"},
    {"volume", "of the cup: the water that it holds, 1 g is 1 ml"}};

enum { N_STATIONS = 6, STATION_ROWS = 2 };

/* Stations of the bore, six side by side. */
static struct hbk_form_table bore_table(struct page *page)
{
    const struct hbk_article *const article = &page->article;
    struct hbk_form_column *const columns = HBK_ARENA_ARRAY(
        article->pad.sheet->arena, struct hbk_form_column, 2 * N_STATIONS);
    for (size_t i = 0; i < 2 * N_STATIONS; i++) {
        columns[i] = (struct hbk_form_column){
            article->width / article->unit / (2.0 * N_STATIONS),
            i % 2 == 0 ? "bore" : "",
            i % 2 == 0 ? HBK_FORM_PLACE ", mm" : HBK_FORM_ACROSS ", mm", NULL};
    }
    return (struct hbk_form_table){.title = "",
                                   .n_columns = 2 * N_STATIONS,
                                   .columns = columns,
                                   .n_rows = STATION_ROWS,
                                   .unit = article->unit};
}

/* Columns shared out over the width of the page. */
static struct hbk_form_table wide_table(struct page *page, size_t n,
                                        const struct hbk_form_column columns[],
                                        double width)
{
    struct hbk_arena *const arena = page->article.pad.sheet->arena;
    struct hbk_form_column *const wide =
        HBK_ARENA_ARRAY(arena, struct hbk_form_column, n);
    struct hbk_form_table of = {.title = "",
                                .n_columns = n,
                                .columns = columns,
                                .first = 1,
                                .unit = page->article.unit};
    const double share = width / hbk_form_table_width(&of);
    for (size_t i = 0; i < n; i++) {
        wide[i] = columns[i];
        wide[i].width *= share;
    }
    of.columns = wide;
    return of;
}

static struct hbk_form_table controls_table(struct page *page)
{
    enum {
        KEYS = sizeof(key_columns) / sizeof(key_columns[0]),
        VALVES = sizeof(valve_columns) / sizeof(valve_columns[0])
    };
    struct hbk_form_table of =
        page->has_keys
            ? wide_table(page, KEYS, key_columns, page->article.width)
            : wide_table(page, VALVES, valve_columns, page->article.width);
    of.is_numbered = true;
    return of;
}

static void draw_who(struct page *page)
{
    static const struct hbk_form_field what[] = {
        {"name", 88.0, ""}, {"source", 98.0, "who measured it, when"}};
    static const struct hbk_form_field read[] = {
        {"written_c4_sounds", 50.0, "note"},
        {"clef", 36.0, ""},
        {"fundamental", 46.0, "note"},
        {"compass", 46.0, "notes"}};
    page->article.y -= 2.0 * page->article.unit;
    fields(page, 2, what);
    fields(page, 4, read);
}

static void draw_rest(struct page *page)
{
    static const struct hbk_form_field mouthpiece[] = {
        {"mouthpiece: volume", 54.0, "ml"},
        {"throat", 56.0, "length, diameter"},
        {"backbore", 72.0, "distances, diameters"}};
    static const struct hbk_form_field broken[] = {
        {"stuck", 84.0, "what cannot move"}, {"remarks", 102.0, ""}};
    page->article.y -= 1.6 * page->article.unit;
    fields(page, 3, mouthpiece);
    fields(page, 2, broken);
    page->article.y += 2.0 * page->article.unit;
}

static struct hbk_form_words words_list(const struct page *page)
{
    static const size_t n_keys = sizeof(key_words) / sizeof(key_words[0]);
    static const size_t n_valves = sizeof(valve_words) / sizeof(valve_words[0]);
    return (struct hbk_form_words){.n = page->has_keys ? n_keys : n_valves,
                                   .items =
                                       page->has_keys ? key_words : valve_words,
                                   .name_width = 17.0,
                                   .unit = page->article.unit,
                                   .width = page->article.width};
}

/* With ruler and caliper. Returns how many rows found room. */
static size_t draw_measures(struct page *page, size_t n)
{
    struct hbk_article *const article = &page->article;
    const double u = article->unit;
    const struct hbk_form_picture picture = {page->has_keys, u, article->width};
    const struct hbk_form_words words = words_list(page);
    struct hbk_form_table of = controls_table(page);
    struct hbk_form_table bore = bore_table(page);
    draw_title(page,
               page->has_keys ? "Measures of a keyed horn"
                              : "Measures of a valved horn",
               "to fill in at the horn, with a ruler and a caliper; the names "
               "in bold are those of its file");
    draw_foot(page, "Leave empty what you cannot measure. Lengths are mm; "
                    "notes are written ones, as in F#4 or Bb3.");
    draw_who(page);
    hbk_form_picture_draw(&article->pad, &picture, article->x, article->y);
    article->y += hbk_form_picture_height(&picture);
    const double after = hbk_form_words_height(&article->pad, &words) +
                         (2.0 * field_step + 2.0 * table_gap + 2.4) * u;
    const double room = page->end - article->y - after;
    const size_t fit =
        hbk_form_table_rows(&of, room - hbk_form_table_height(&bore));
    of.n_rows = n < fit ? n : fit;
    bore.n_rows = hbk_form_table_rows(&bore, room - hbk_form_table_height(&of));
    table(page, &of);
    table(page, &bore);
    draw_rest(page);
    hbk_form_words_draw(&article->pad, &words, article->x, article->y);
    return of.n_rows;
}

static const struct hbk_form_column slide_columns[] = {
    {27.0, "slide", "name", NULL},      {14.0, "valve", "its", NULL},
    {19.0, "travel", "mm", NULL},       {23.0, "stands_out", "mm", NULL},
    {14.0, "legs", "mark it", "1   2"}, {17.0, "set", "pull, mm", NULL}};

static const struct hbk_form_column crook_columns[] = {
    {17.0, "crook", "name", NULL},
    {16.0, "adds", "mm", NULL},
    {36.0, "written_c4_sounds", "note", NULL}};

static const struct hbk_form_column reading_columns[] = {
    {22.0, "note", "written", NULL},
    {26.0, "fingering", "pressed", NULL},
    {20.0, "cents", "+ or \u2212", NULL},
    {24.0, "set", "if not as above", NULL}};

static const struct hbk_form_word slide_words[] = {
    {"travel", "how far it can be pulled and still holds"},
    {"stands_out", HBK_FORM_PULL ": how far it was out when a4 was found and "
                                 "the loops were measured"},
    {"legs", "2 for a bow, 1 for a straight shank"},
    {"set", HBK_FORM_PULL ": how far it is pulled for the readings below"}};

static const char *const reading_words =
    "Warm the horn up, and pull the slides as you play. Read each note twice, "
    "in the middle of a breath and not bent to the tuner: the written note "
    "that you meant, what you pressed (0 for nothing, 1-3 for both), and the "
    "cents that the tuner shows, with + where it is sharp. %s Type the "
    "readings "
    "into a file under these names; hornbook fit takes them.";

static const char *const reading_of_keys =
    "Read each key alone on two notes at least, and the open horn on four; "
    "twenty readings do for nine keys.";
static const char *const reading_of_valves =
    "Read each valve alone, the usual pairs, and the open horn on four notes; "
    "a dozen readings do for three valves.";

static void draw_slides(struct page *page)
{
    struct hbk_article *const article = &page->article;
    const double gap = 4.0 * article->unit;
    const double share = 0.61;
    struct hbk_form_table slides =
        wide_table(page, sizeof(slide_columns) / sizeof(slide_columns[0]),
                   slide_columns, share * (article->width - gap));
    struct hbk_form_table crooks =
        wide_table(page, sizeof(crook_columns) / sizeof(crook_columns[0]),
                   crook_columns, (1.0 - share) * (article->width - gap));
    slides.n_rows = page->has_keys ? 2 : 5;
    crooks.n_rows = slides.n_rows;
    hbk_form_table_draw(&article->pad, &slides, article->x, article->y);
    hbk_form_table_draw(&article->pad, &crooks,
                        article->x + article->width -
                            hbk_form_table_width(&crooks),
                        article->y);
    article->y += hbk_form_table_height(&slides) + 1.2 * article->unit;
    const struct hbk_form_words words = {.n = sizeof(slide_words) /
                                              sizeof(slide_words[0]),
                                         .items = slide_words,
                                         .name_width = 19.0,
                                         .unit = article->unit,
                                         .width = article->width};
    hbk_form_words_draw(&article->pad, &words, article->x, article->y);
    article->y += hbk_form_words_height(&article->pad, &words);
}

/* Two tables side by side, down to the foot. */
static void draw_readings(struct page *page)
{
    struct hbk_article *const article = &page->article;
    const double gap = 6.0 * article->unit;
    struct hbk_form_table of =
        wide_table(page, sizeof(reading_columns) / sizeof(reading_columns[0]),
                   reading_columns, 0.5 * (article->width - gap));
    of.n_rows = hbk_form_table_rows(&of, page->end - article->y);
    for (size_t side = 0; side < 2; side++) {
        const double x =
            article->x + article->width -
            (side == 0 ? article->width : hbk_form_table_width(&of));
        hbk_form_table_draw(&article->pad, &of, x, article->y);
    }
}

/* With the tuner; first the rows from `first` on that are still to come. */
static void draw_tuner_page(struct page *page, size_t first, size_t n)
{
    static const struct hbk_form_field who[] = {
        {"source", 88.0, "who played, when"}, {"mouthpiece", 98.0, ""}};
    static const struct hbk_form_field pitch[] = {
        {"a4", 44.0, "Hz, of the tuner"},
        {"temperature", 66.0, "\u00b0C, in the horn"},
        {"tuning: note", 68.0, "written, to tune on"}};
    struct hbk_article *const article = &page->article;
    hbk_article_page(article);
    draw_title(page,
               page->has_keys ? "Readings of a keyed horn"
                              : "Readings of a valved horn",
               "its slides, and what a tuner shows; the names in bold are "
               "those of its files");
    draw_foot(page, "One page for one setting of the slides, one mouthpiece "
                    "and one player.");
    article->y -= 2.0 * article->unit;
    fields(page, 2, who);
    fields(page, 3, pitch);
    article->y += 4.0 * article->unit;
    if (n > 0) {
        struct hbk_form_table of = controls_table(page);
        of.first = first;
        of.n_rows = n;
        table(page, &of);
    }
    draw_slides(page);
    article->y += 1.0 * article->unit;
    article->y += paragraph(
        page, article->y,
        hbk_arena_printf(article->pad.sheet->arena, reading_words,
                         page->has_keys ? reading_of_keys : reading_of_valves));
    article->y += 1.4 * article->unit;
    draw_readings(page);
}

static void draw_form(struct page *page, size_t n)
{
    const size_t usual = page->has_keys ? KEYS_USUAL : VALVES_USUAL;
    const size_t rows = draw_measures(page, n == 0 ? usual : n);
    draw_tuner_page(page, rows + 1, n > rows ? n - rows : 0);
}

void hbk_sheet_form(const struct hbk_form *form,
                    const struct hbk_sheet_options *options,
                    const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    struct page *const page = HBK_ARENA_ARRAY(sheet->arena, struct page, 1);
    bool has_begun = false;
    sheet->title = "Form to measure a horn by";
    sheet->kind = "form";
    sheet->subject = "What to measure on a horn, and readings to take with a "
                     "tuner";
    for (size_t i = 0; i < 2; i++) {
        if (!(i == 0 ? form->has_keys : form->has_valves)) {
            continue;
        }
        page->has_keys = i == 0;
        page->title = options->title;
        if (has_begun) {
            hbk_article_page(&page->article);
        } else {
            hbk_article_begin(&page->article, sheet, ruler,
                              hbk_paper_size(options->paper),
                              unit_of(options->paper), sheet->title);
        }
        has_begun = true;
        draw_form(page, i == 0 ? form->n_keys : form->n_valves);
    }
}
