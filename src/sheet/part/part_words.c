#include "sheet/part/part_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/words/words.h"

#include <math.h>

/* Drawing and measuring are one walk. */
struct walk {
    struct hbk_pad *pad;
    bool draw;
    double x, y, width;
};

static void paragraph(struct walk *walk, struct hbk_style style,
                      enum hbk_tag tag, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const double leading = 1.25 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(walk->pad, style, walk->width, text);
    if (walk->draw) {
        hbk_pad_block(walk->pad, tag, walk->x, walk->y + 0.76 * style.size,
                      style, leading, &lines);
    }
    walk->y += (double)lines.n * leading;
}

double hbk_part_head(struct hbk_pad *pad, const struct hbk_part_text *text,
                     bool draw, double x, double y)
{
    struct walk walk = {pad, draw, x, y, text->width};
    struct hbk_style composer =
        hbk_style_of(HBK_FACE_PLAIN, 9.0, text->unit, HBK_LEFT);
    double beside = 0.0;
    if (text->composer[0] != '\0') {
        composer =
            hbk_pad_fit(pad, composer, 0.4 * text->width, 0.6, text->composer);
        beside = hbk_pad_width(pad, composer, text->composer) + 5.0;
        beside = beside > 0.5 * text->width ? 0.5 * text->width : beside;
    }
    const struct hbk_style title = hbk_pad_fit(
        pad, hbk_style_of(HBK_FACE_BOLD, 16.0, text->unit, HBK_LEFT),
        text->width - beside, 0.6, text->title);
    walk.width = text->width - beside;
    paragraph(&walk, title, HBK_TAG_TITLE, text->title);
    if (beside > 0.0) {
        const double below = walk.y;
        walk.x = x + text->width - beside + 5.0;
        walk.width = beside - 5.0 + 0.01;
        walk.y = y + 0.76 * (title.size - composer.size);
        paragraph(&walk, composer, HBK_TAG_PARAGRAPH, text->composer);
        walk.x = x;
        walk.y = walk.y > below ? walk.y : below;
    }
    walk.width = text->width;
    walk.y += 0.8 * text->unit;
    if (text->words != NULL) {
        paragraph(&walk,
                  hbk_style_of(HBK_FACE_PLAIN, 9.0, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH,
                  hbk_words_whom(pad->sheet->arena, text->words->whom));
    }
    if (text->words != NULL && text->words->heading != NULL) {
        paragraph(&walk,
                  hbk_style_of(HBK_FACE_PLAIN, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH, text->words->heading);
    }
    if (text->words != NULL && text->words->moved != NULL) {
        paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH, text->words->moved);
    }
    walk.y += 2.2 * text->unit;
    return walk.y - y;
}

/* "each from the thumb down. " */
static void add_order(struct hbk_text *out, const struct hbk_hands *hands,
                      bool rows)
{
    static const char *const digits[] = {"thumb", "index finger",
                                         "middle finger", "ring finger",
                                         "little finger"};
    const char *first[2] = {NULL, NULL};
    for (size_t i = hands->n; i-- > 0;) {
        const struct hbk_spot *spot = &hands->spots[i];
        first[spot->row] = digits[hbk_finger_digit(spot->finger)];
    }
    const char *way = rows ? "outwards" : "down";
    if (hands->n_rows == 2 && first[0] != first[1]) {
        hbk_text_addf(out, "from the left %s and the right %s %s. ", first[0],
                      first[1], way);
    } else if (hands->n_rows > 0) {
        hbk_text_addf(out, "%sfrom the %s %s. ",
                      hands->n_rows == 2 ? "each " : "", first[0], way);
    }
}

static bool is_circles(const struct hbk_fingers *fingers)
{
    return fingers->shape == HBK_FINGERS_HANDS ||
           fingers->shape == HBK_FINGERS_TURNED;
}

static void add_hands(struct hbk_text *out, const struct hbk_fingers *fingers)
{
    const struct hbk_hands *hands = &fingers->hands;
    const bool rows = fingers->shape == HBK_FINGERS_HANDS;
    hbk_text_add(out, "Circles under the notes are the touches; a filled one "
                      "is pressed. ");
    if (hands->n_rows == 2) {
        hbk_text_add(out, rows ? "Left hand above right, "
                               : "Left hand at the left, right hand at the "
                                 "right, ");
    } else if (hands->n_rows == 1) {
        hbk_text_addf(out, "%s hand, ", hands->left[0] ? "Left" : "Right");
    }
    add_order(out, hands, rows);
    bool stands_open = false;
    bool rests_in = false;
    for (size_t i = 0; i < hbk_horn_n_controls(fingers->horn); i++) {
        stands_open =
            stands_open || hbk_horn_control(fingers->horn, i)->stands_open;
        rests_in = rests_in || hbk_horn_control(fingers->horn, i)->rests_in;
    }
    hbk_text_add(out,
                 stands_open ? "A square is a key that stands open. " : "");
    hbk_text_add(out,
                 rests_in ? "A double circle is a valve that raises. " : "");
    hbk_text_add(out, hands->stuck != 0 ? "A crossed one cannot move. " : "");
}

static const char *legend(struct hbk_arena *arena,
                          const struct hbk_part_text *text)
{
    struct hbk_text out = {.arena = arena};
    const struct hbk_fingers *fingers = text->fingers;
    if (text->used.any) {
        switch (fingers->shape) {
        case HBK_FINGERS_ROW:
            hbk_text_add(&out, "Numbers under the notes: what is pressed, 0 "
                               "for nothing. ");
            break;
        case HBK_FINGERS_STACK:
            hbk_text_add(&out, "Numbers under a note, one above the other: "
                               "what is pressed together, 0 for nothing. ");
            break;
        case HBK_FINGERS_HANDS:
        case HBK_FINGERS_TURNED:
            add_hands(&out, fingers);
            break;
        }
    }
    if (text->used.departure) {
        hbk_text_add(&out, "Underlined: not the usual fingering. ");
    }
    if (text->used.hard) {
        hbk_text_add(&out, text->words != NULL && text->words->n_hard > 0
                               ? "Bracketed: too fast at this tempo, see "
                                 "above. "
                               : "Bracketed: too fast at this tempo. ");
    }
    if (text->used.unreachable) {
        hbk_text_add(&out, "A cross under a note: out of reach of this "
                           "horn. ");
    }
    if (fingers->sounding) {
        hbk_text_add(&out, "Small letters: the note that sounds. ");
    }
    return hbk_text_string(&out);
}

/* mm, at text of the usual size: between two circles with their numbers. */
static const double key_pitch = 4.2;
static const double key_points = 6.0;

/* Where each touch of the circles is: the same picture with numbers in it. */
static double draw_key(struct walk *walk, const struct hbk_part_text *text,
                       double *width)
{
    const struct hbk_fingers *fingers = text->fingers;
    const struct hbk_horn *horn = fingers->horn;
    const struct hbk_style style = {.size = HBK_PT(key_points) * text->unit,
                                    .align = HBK_CENTRE};
    double pitch = key_pitch * text->unit;
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const double wide =
            hbk_pad_width(walk->pad, style, hbk_horn_control(horn, i)->name);
        pitch = fmax(pitch, (wide + 0.9) / 0.78);
    }
    double left = 0.0;
    double bottom = 0.0;
    for (size_t i = 0; i < fingers->hands.n; i++) {
        const struct hbk_point at = hbk_fingers_spot(fingers, i);
        left = fmin(left, at.x);
        bottom = fmax(bottom, at.y);
    }
    *width = pitch * (0.8 - 2.0 * left);
    if (walk->draw) {
        hbk_pad_group(walk->pad);
    }
    for (size_t i = 0; i < fingers->hands.n && walk->draw; i++) {
        const struct hbk_point at = hbk_fingers_spot(fingers, i);
        struct hbk_control control =
            *hbk_horn_control(horn, fingers->hands.spots[i].control);
        const double x = walk->x + pitch * (at.x - left + 0.4);
        const double y = walk->y + pitch * at.y;
        control.rests_in = false; /* its inner circle is where the number is */
        hbk_spot_draw(walk->pad, &control, x, y, 0.39 * pitch, false);
        hbk_pad_text(walk->pad, x, y + 0.365 * style.size, style, control.name);
    }
    return pitch * (bottom + 0.4);
}

double hbk_part_foot(struct hbk_pad *pad, const struct hbk_part_text *text,
                     bool draw, double x, double y)
{
    struct walk walk = {pad, draw, x, y, text->width};
    const struct hbk_style words =
        hbk_style_of(HBK_FACE_PLAIN, 8.5, text->unit, HBK_LEFT);
    const struct hbk_part_words *said = text->words;
    if (said != NULL && said->out != NULL) {
        walk.y += 1.5 * text->unit;
        paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_HEADING, "Out of reach");
        walk.y += 0.5 * text->unit;
        paragraph(&walk, words, HBK_TAG_PARAGRAPH, said->out);
    }
    if (said != NULL && said->n_hard > 0) {
        walk.y += 1.5 * text->unit;
        paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_HEADING, "Hard places");
        walk.y += 0.5 * text->unit;
        for (size_t i = 0; i < said->n_hard; i++) {
            paragraph(&walk, words, HBK_TAG_PARAGRAPH, said->hard[i]);
            walk.y += 0.4 * text->unit;
        }
    }
    const char *explained = legend(pad->sheet->arena, text);
    if (explained[0] != '\0') {
        walk.y += 1.5 * text->unit;
        const double top = walk.y;
        double width = 0.0;
        double height = 0.0;
        if (text->used.any && is_circles(text->fingers)) {
            height = draw_key(&walk, text, &width);
            walk.x += width + 3.0;
            walk.width -= width + 3.0;
        }
        paragraph(&walk,
                  hbk_style_of(HBK_FACE_PLAIN, 7.0, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH, explained);
        walk.y = fmax(walk.y, top + height);
    }
    return walk.y - y;
}
