#include "page/pad.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

double hbk_pad_width(const struct hbk_pad *pad, struct hbk_style style,
                     const char *text)
{
    return pad->ruler->text_width(pad->ruler->ctx, style.face, style.size,
                                  text);
}

struct hbk_style hbk_pad_fit(const struct hbk_pad *pad, struct hbk_style style,
                             double width, double least, const char *text)
{
    const double smallest = least * style.size;
    double wide = hbk_pad_width(pad, style, text);
    /* Again, for a face has other letters when it is small, and wider ones. */
    for (int tries = 0; tries < 4 && wide > width && style.size > smallest;
         tries++) {
        style.size = fmax(style.size * width / wide, smallest);
        wide = hbk_pad_width(pad, style, text);
    }
    return style;
}

/* A column being filled. */
struct column {
    const struct hbk_pad *pad;
    struct hbk_style style;
    double width;
    double space; /* between words */
    double used;  /* of the open line */
    struct hbk_text line;
    const char **lines;
    size_t n, capacity;
    double widest;
};

static void end_line(struct column *column)
{
    struct hbk_arena *arena = column->pad->sheet->arena;
    HBK_ARENA_GROW(arena, column->lines, column->n, column->capacity);
    column->lines[column->n++] = hbk_text_string(&column->line);
    if (column->used > column->widest) {
        column->widest = column->used;
    }
    column->line = (struct hbk_text){.arena = arena};
    column->used = 0.0;
}

/* How many bytes the UTF-8 character at `text` takes. */
static size_t letter_bytes(const char *text)
{
    size_t n = 1;
    while ((text[n] & 0xC0) == 0x80) {
        n++;
    }
    return n;
}

/* A word that no line could hold goes letter by letter. */
static void add_letters(struct column *column, const char *word)
{
    while (*word != '\0') {
        const size_t bytes = letter_bytes(word);
        char letter[8] = {0};
        memcpy(letter, word, bytes < 7 ? bytes : 7);
        const double wide = hbk_pad_width(column->pad, column->style, letter);
        if (column->line.length > 0 && column->used + wide > column->width) {
            end_line(column);
        }
        hbk_text_put(&column->line, word, bytes);
        column->used += wide;
        word += bytes;
    }
}

static void add_word(struct column *column, const char *word)
{
    const double wide = hbk_pad_width(column->pad, column->style, word);
    const double gap = column->line.length > 0 ? column->space : 0.0;
    if (column->line.length > 0 && column->used + gap + wide > column->width) {
        end_line(column);
    } else if (gap > 0.0) {
        hbk_text_add(&column->line, " ");
        column->used += gap;
    }
    if (wide > column->width) {
        add_letters(column, word);
        return;
    }
    hbk_text_add(&column->line, word);
    column->used += wide;
}

static bool is_digit(char letter)
{
    return letter >= '0' && letter <= '9';
}

/*
 * Whether the blank there holds what belongs together: "A = 440", "3: 5",
 * a number and its unit.
 */
static bool holds(const char *text, size_t blank)
{
    static const char *const units[] = {"mm", "Hz", "cent", "\u00b0C", "%"};
    const char before = text[blank - 1];
    const char *const after = text + blank + 1;
    if (text[blank] != ' ' || after[0] == '\0') {
        return false;
    }
    if (before == '=' || after[0] == '=') {
        return true;
    }
    if (before == ':' && blank >= 2 && is_digit(text[blank - 2])) {
        return is_digit(after[0]);
    }
    bool is_unit = false;
    for (size_t i = 0; i < sizeof(units) / sizeof(units[0]); i++) {
        is_unit = is_unit || strncmp(after, units[i], strlen(units[i])) == 0;
    }
    return is_unit && is_digit(before);
}

/* Bytes that go on one line: a word, "main", or "A = 452.5 Hz" if it fits. */
static size_t word_length(const struct column *column, const char *text)
{
    const size_t plain = strcspn(text, " \n");
    size_t length = plain;
    while (length > 0 && text[length] != '\0' && holds(text, length)) {
        length += 1 + strcspn(text + length + 1, " \n");
    }
    if (length == plain) {
        return plain;
    }
    const char *const whole =
        hbk_arena_copy(column->pad->sheet->arena, text, length);
    return hbk_pad_width(column->pad, column->style, whole) > column->width
               ? plain
               : length;
}

struct hbk_lines hbk_pad_wrap(const struct hbk_pad *pad, struct hbk_style style,
                              double width, const char *text)
{
    struct hbk_arena *arena = pad->sheet->arena;
    /* Taken between letters, since a lone space may measure nothing. */
    struct column column = {
        .pad = pad,
        .style = style,
        .width = width,
        .space =
            hbk_pad_width(pad, style, "n n") - hbk_pad_width(pad, style, "nn"),
        .line = {.arena = arena},
    };
    while (*text != '\0') {
        const size_t length = word_length(&column, text);
        if (length > 0) {
            add_word(&column, hbk_arena_copy(arena, text, length));
        }
        text += length;
        if (*text == '\n') {
            end_line(&column);
        }
        text += strspn(text, text[0] == '\n' ? "\n" : " ");
    }
    if (column.line.length > 0) {
        end_line(&column);
    }
    const struct hbk_lines lines = {column.n, column.lines, column.widest};
    return lines;
}

void hbk_pad_lines(struct hbk_pad *pad, double x, double y,
                   struct hbk_style style, double leading,
                   const struct hbk_lines *lines)
{
    for (size_t i = 0; i < lines->n; i++) {
        hbk_pad_text(pad, x, y + (double)i * leading, style, lines->text[i]);
    }
}

void hbk_pad_block(struct hbk_pad *pad, enum hbk_tag tag, double x, double y,
                   struct hbk_style style, double leading,
                   const struct hbk_lines *lines)
{
    hbk_pad_group(pad);
    hbk_pad_open(pad, tag);
    hbk_pad_lines(pad, x, y, style, leading, lines);
    hbk_pad_close(pad, tag);
}

/* Of the em: the first baseline below the top of a paragraph. */
static const double first_baseline = 0.8;

double hbk_pad_paragraph_height(const struct hbk_pad *pad,
                                struct hbk_style style, double leading,
                                double width, const char *text)
{
    return text[0] == '\0'
               ? 0.0
               : leading * (double)hbk_pad_wrap(pad, style, width, text).n;
}

double hbk_pad_paragraph(struct hbk_pad *pad, enum hbk_tag tag,
                         struct hbk_style style, double leading,
                         struct hbk_point at, double width, const char *text)
{
    if (text[0] == '\0') {
        return 0.0;
    }
    const struct hbk_lines lines = hbk_pad_wrap(pad, style, width, text);
    hbk_pad_block(pad, tag,
                  style.align == HBK_CENTRE ? at.x + 0.5 * width : at.x,
                  at.y + first_baseline * style.size, style, leading, &lines);
    return leading * (double)lines.n;
}

const char *hbk_pad_cut(const struct hbk_pad *pad, struct hbk_style style,
                        double width, const char *text)
{
    size_t length = strlen(text);
    const char *shown = text;
    while (length > 0 && hbk_pad_width(pad, style, shown) > width) {
        do {
            length--;
        } while (length > 0 && (text[length] & 0xC0) == 0x80);
        shown = hbk_arena_printf(pad->sheet->arena, "%.*s\u2026", (int)length,
                                 text);
    }
    return shown;
}
