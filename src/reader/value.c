#include "reader/value.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "reader/shown.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { CONTROL_NAME_MAX = 8 };

static const struct {
    const char *sign, *words;
} units[] = {
    [HBK_UNIT_NONE] = {"", ""},
    [HBK_UNIT_MM] = {" mm", ", in millimeters"},
    [HBK_UNIT_ML] = {" ml", ", in millilitres"},
    [HBK_UNIT_HZ] = {" Hz", ", in hertz"},
    [HBK_UNIT_CENTS] = {" cents", ", in cents"},
    [HBK_UNIT_SEMITONES] = {" semitones", ", in semitones"},
    [HBK_UNIT_CELSIUS] = {" degrees Celsius", ", in degrees Celsius"},
    [HBK_UNIT_PER_CENT] = {" %", ", in per cent"},
};

static bool is_one_of(const char *text, const char *const words[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (strcmp(text, words[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* Numbers of other bases, infinity and NaN as YAML 1.2 writes them. */
static bool is_odd_number(const char *text)
{
    static const char *const words[] = {".inf",  ".Inf",  ".INF",  "+.inf",
                                        "+.Inf", "+.INF", "-.inf", "-.Inf",
                                        "-.INF", ".nan",  ".NaN",  ".NAN"};
    if (is_one_of(text, words, sizeof(words) / sizeof(words[0]))) {
        return true;
    }
    const char *digits = "";
    if (strncmp(text, "0x", 2) == 0) {
        digits = "0123456789abcdefABCDEF";
    } else if (strncmp(text, "0o", 2) == 0) {
        digits = "01234567";
    } else {
        return false;
    }
    return text[2] != '\0' && text[2 + strspn(text + 2, digits)] == '\0';
}

enum hbk_scalar_type hbk_node_type(const struct hbk_node *scalar)
{
    static const char *const nothing[] = {"", "~", "null", "Null", "NULL"};
    static const char *const bools[] = {"true",  "True",  "TRUE",
                                        "false", "False", "FALSE"};
    double number = 0.0;
    if (scalar->is_quoted) {
        return HBK_IS_TEXT;
    }
    if (is_one_of(scalar->text, nothing,
                  sizeof(nothing) / sizeof(nothing[0]))) {
        return HBK_IS_NOTHING;
    }
    if (is_one_of(scalar->text, bools, sizeof(bools) / sizeof(bools[0]))) {
        return HBK_IS_BOOL;
    }
    if (hbk_number_parse(scalar->text, &number) ||
        is_odd_number(scalar->text)) {
        return HBK_IS_NUMBER;
    }
    return HBK_IS_TEXT;
}

void hbk_value_fault(struct hbk_asked asked, unsigned number, const char *fmt,
                     ...)
{
    char sentence[sizeof(asked.faults->items[0].text)];
    va_list args;
    va_start(args, fmt);
    (void)vsnprintf(sentence, sizeof(sentence), fmt, args);
    va_end(args);
    const char *const first = asked.owner[0] == '\0' ? "" : ": ";
    const char *const second = asked.name[0] == '\0' ? "" : ": ";
    hbk_fault_add(asked.faults, asked.node->place, number, "%s%s%s%s%s",
                  asked.owner, first, asked.name, second, sentence);
}

/* Reports anything but a scalar that says something; `wanted` for words. */
static bool is_scalar(struct hbk_asked asked, const char *wanted)
{
    if (asked.node->is_faulty) {
        return false;
    }
    if (asked.node->kind != HBK_SCALAR) {
        hbk_value_fault(asked, HBK_H_NO_VALUE, "write %s, not %s", wanted,
                        asked.node->kind == HBK_LIST ? "a list"
                                                     : "names and values");
        return false;
    }
    if (hbk_node_type(asked.node) == HBK_IS_NOTHING) {
        char shown[HBK_SHOWN_SIZE] = "";
        if (asked.node->comment != NULL) {
            hbk_shown(asked.node->comment, shown);
        }
        hbk_value_fault(asked, HBK_H_NO_VALUE,
                        "nothing is given%s%s%s; write %s, or leave the name "
                        "out",
                        shown[0] == '\0' ? "" : ", for '", shown,
                        shown[0] == '\0' ? "" : "' is a comment", wanted);
        return false;
    }
    return true;
}

/* Whether a text begins with a quotation mark of print, of UTF-8. */
static bool has_printed_marks(const char *text)
{
    static const char *const marks[] = {"\u2018", "\u2019", "\u201A", "\u201B",
                                        "\u201C", "\u201D", "\u201E", "\u201F",
                                        "\u00AB", "\u00BB", "\u2039", "\u203A"};
    for (size_t i = 0; i < sizeof(marks) / sizeof(marks[0]); i++) {
        if (strncmp(text, marks[i], strlen(marks[i])) == 0) {
            return true;
        }
    }
    return false;
}

bool hbk_value_is_word(struct hbk_asked asked, const char *wanted)
{
    if (!is_scalar(asked, wanted)) {
        return false;
    }
    if (has_printed_marks(asked.node->text)) {
        char shown[HBK_SHOWN_SIZE];
        hbk_value_fault(asked, HBK_H_PRINTED_MARKS,
                        "%s: these quotation marks are those of printed text; "
                        "leave them out",
                        hbk_shown(asked.node->text, shown));
        return false;
    }
    return true;
}

/* Whether digits follow a zero that YAML readers take for octal, or not. */
static bool has_leading_zero(const char *text)
{
    const size_t sign = (text[0] == '+' || text[0] == '-') ? 1 : 0;
    return text[sign] == '0' && text[sign + 1] >= '0' && text[sign + 1] <= '9';
}

static bool is_not_finite(const char *text)
{
    static const char *const words[] = {"nan", "inf", "infinity", "infinite"};
    const char *start = text;
    if (*start == '+' || *start == '-') {
        start++;
    }
    if (*start == '.') {
        start++;
    }
    char lower[16] = "";
    for (size_t i = 0; start[i] != '\0' && i + 1 < sizeof(lower); i++) {
        const char c = start[i];
        lower[i] = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
    }
    return is_one_of(lower, words, sizeof(words) / sizeof(words[0]));
}

/* Says why the text is no number at all. */
static void refuse_number(struct hbk_asked asked, enum hbk_unit unit)
{
    const char *const text = asked.node->text;
    const char *const words = units[unit].words;
    char shown[HBK_SHOWN_SIZE];
    double value = 0.0;
    size_t used = 0;
    hbk_shown(text, shown);
    if (is_not_finite(text)) {
        hbk_value_fault(asked, HBK_H_NOT_FINITE,
                        "'%s' cannot be measured; write a number%s", shown,
                        words);
    } else if (is_odd_number(text) || !hbk_number_prefix(text, &value, &used)) {
        hbk_value_fault(asked, HBK_H_NOT_A_NUMBER,
                        "'%s' is not a number; write one%s", shown, words);
    } else if (text[used] == ',') {
        hbk_value_fault(asked, HBK_H_TRAILING,
                        "'%s': write decimals with a point, as in 12.5", shown);
    } else {
        hbk_value_fault(asked, HBK_H_TRAILING, "'%s': write the number alone%s",
                        shown, words);
    }
}

static bool plain_number(struct hbk_asked asked, enum hbk_unit unit,
                         double *value)
{
    if (!hbk_value_is_word(asked, "a number")) {
        return false;
    }
    const char *const text = asked.node->text;
    double number = 0.0;
    if (!hbk_number_parse(text, &number)) {
        refuse_number(asked, unit);
        return false;
    }
    char shown[HBK_SHOWN_SIZE];
    if (asked.node->is_quoted) {
        hbk_value_fault(asked, HBK_H_QUOTED_NUMBER,
                        "'%s': write the number without quotation marks",
                        hbk_shown(text, shown));
        return false;
    }
    if (has_leading_zero(text)) {
        hbk_value_fault(asked, HBK_H_LEADING_ZERO,
                        "'%s': leave out the leading zero, which other "
                        "programs read differently",
                        hbk_shown(text, shown));
        return false;
    }
    *value = number;
    return true;
}

bool hbk_value_number(struct hbk_asked asked, struct hbk_range range,
                      double *value)
{
    double number = 0.0;
    if (!plain_number(asked, range.unit, &number)) {
        return false;
    }
    if (!(number >= range.low && number <= range.high)) {
        hbk_value_fault(asked, HBK_H_RANGE,
                        "%g%s is out of bounds; it must be from %g to %g%s",
                        number, units[range.unit].sign, range.low, range.high,
                        units[range.unit].sign);
        return false;
    }
    *value = number;
    return true;
}

bool hbk_value_whole(struct hbk_asked asked, long low, long high, long *value)
{
    double number = 0.0;
    if (!plain_number(asked, HBK_UNIT_NONE, &number)) {
        return false;
    }
    long whole = 0;
    char shown[HBK_SHOWN_SIZE];
    if (!hbk_number_parse_whole(asked.node->text, -999999999, 999999999,
                                &whole)) {
        hbk_value_fault(asked, HBK_H_NOT_WHOLE,
                        "'%s' is not a whole number; write one from %ld to "
                        "%ld, without a point",
                        hbk_shown(asked.node->text, shown), low, high);
        return false;
    }
    if (whole < low || whole > high) {
        hbk_value_fault(asked, HBK_H_RANGE,
                        "%ld is out of bounds; it must be from %ld to %ld",
                        whole, low, high);
        return false;
    }
    *value = whole;
    return true;
}

bool hbk_value_bool(struct hbk_asked asked, bool *value)
{
    if (!hbk_value_is_word(asked, "true or false")) {
        return false;
    }
    const char *const text = asked.node->text;
    const bool is_true = strcmp(text, "true") == 0;
    if (asked.node->is_quoted || (!is_true && strcmp(text, "false") != 0)) {
        char shown[HBK_SHOWN_SIZE];
        hbk_value_fault(asked, HBK_H_NOT_BOOL,
                        "'%s': write true or false, without quotation marks",
                        hbk_shown(text, shown));
        return false;
    }
    *value = is_true;
    return true;
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* Runs of blanks and line ends to one blank, none at the ends. */
static char *tidied(const char *text, struct hbk_arena *arena)
{
    char *const copy = hbk_arena_copy(arena, text, strlen(text));
    size_t used = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (!is_space(text[i])) {
            copy[used++] = text[i];
        } else if (used > 0 && copy[used - 1] != ' ') {
            copy[used++] = ' ';
        }
    }
    while (used > 0 && copy[used - 1] == ' ') {
        used--;
    }
    copy[used] = '\0';
    return copy;
}

/* "Bugle #3 of the band" is the text "Bugle" and a comment. */
static void warn_of_comment(struct hbk_asked asked)
{
    char shown[HBK_SHOWN_SIZE];
    char comment[HBK_SHOWN_SIZE];
    if (asked.node->comment == NULL) {
        return;
    }
    const char *const first = asked.owner[0] == '\0' ? "" : ": ";
    hbk_fault_warn(asked.faults, asked.node->place, HBK_H_CUT_BY_COMMENT,
                   "%s%s%s: the text is '%s' only, for '%s' is a comment; put "
                   "all of it between quotation marks, or a blank behind the "
                   "'#'",
                   asked.owner, first, asked.name,
                   hbk_shown(asked.node->text, shown),
                   hbk_shown(asked.node->comment, comment));
}

bool hbk_value_text(struct hbk_asked asked, size_t most,
                    struct hbk_arena *arena, const char **value)
{
    if (!is_scalar(asked, "some text")) {
        return false;
    }
    char shown[HBK_SHOWN_SIZE];
    if (hbk_node_type(asked.node) != HBK_IS_TEXT) {
        hbk_value_fault(asked, HBK_H_NOT_TEXT,
                        "'%s' is text here; put it between quotation marks",
                        hbk_shown(asked.node->text, shown));
        return false;
    }
    const char *const text = tidied(asked.node->text, arena);
    if (text[0] == '\0') {
        hbk_value_fault(asked, HBK_H_EMPTY_TEXT,
                        "the text is empty; write some, or leave the name out");
        return false;
    }
    if (hbk_text_columns(text) > most || hbk_text_has_control(text)) {
        hbk_value_fault(asked, HBK_H_TEXT_SIZE,
                        "'%s': write at most %zu characters, none of them a "
                        "control character",
                        hbk_shown(text, shown), most);
        return false;
    }
    warn_of_comment(asked);
    *value = text;
    return true;
}

/* "open, shut or ajar" */
static void list_words(const char *const words[], size_t n, char *text,
                       size_t size)
{
    size_t used = 0;
    for (size_t i = 0; i < n && used < size; i++) {
        const char *const gap = i == 0 ? "" : i + 1 == n ? " or " : ", ";
        const int put =
            snprintf(text + used, size - used, "%s%s", gap, words[i]);
        used += put < 0 ? 0 : (size_t)put;
    }
}

bool hbk_value_choice(struct hbk_asked asked, const char *const words[],
                      size_t n, size_t *value)
{
    char list[240] = "";
    list_words(words, n, list, sizeof(list));
    if (!hbk_value_is_word(asked, list)) {
        return false;
    }
    const char *const text = asked.node->text;
    for (size_t i = 0; i < n; i++) {
        if (strcmp(text, words[i]) == 0) {
            *value = i;
            return true;
        }
    }
    const char *const nearest = hbk_text_nearest(text, words, n);
    char shown[HBK_SHOWN_SIZE];
    hbk_shown(text, shown);
    if (nearest != NULL) {
        hbk_value_fault(asked, HBK_H_NOT_A_CHOICE,
                        "'%s' is unknown; did you mean %s? (it can be %s)",
                        shown, nearest, list);
    } else {
        hbk_value_fault(asked, HBK_H_NOT_A_CHOICE, "'%s' is unknown; write %s",
                        shown, list);
    }
    return false;
}

/* Digits without a leading zero, or text of the allowed characters. */
static bool is_control_name(const struct hbk_node *node)
{
    const char *const text = node->text;
    const size_t length = strlen(text);
    if (length == 0 || length > CONTROL_NAME_MAX || strcmp(text, "0") == 0) {
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        if (text[i] <= ' ' || text[i] > '~' ||
            strchr("-=,:", text[i]) != NULL) {
            return false;
        }
    }
    const enum hbk_scalar_type type = hbk_node_type(node);
    const bool is_digits = text[strspn(text, "0123456789")] == '\0';
    return type == HBK_IS_TEXT ||
           (type == HBK_IS_NUMBER && is_digits && text[0] != '0');
}

bool hbk_value_control_name(struct hbk_asked asked, const char **value)
{
    if (!hbk_value_is_word(asked, "its number or a short name")) {
        return false;
    }
    if (!is_control_name(asked.node)) {
        char shown[HBK_SHOWN_SIZE];
        hbk_value_fault(asked, HBK_H_CONTROL_NAME,
                        "'%s' cannot stand in a fingering; write a number "
                        "from 1, or 1 to %d letters and digits without blank, "
                        "- = , or :",
                        hbk_shown(asked.node->text, shown), CONTROL_NAME_MAX);
        return false;
    }
    *value = asked.node->text;
    return true;
}

/* Whether a comma between two items may be meant for a decimal one. */
static bool has_whole_numbers(const struct hbk_node *list)
{
    bool is_whole = true;
    for (size_t i = 0; i < list->n; i++) {
        long whole = 0;
        is_whole = is_whole && list->items[i].kind == HBK_SCALAR &&
                   hbk_number_parse_whole(list->items[i].text, -999999999,
                                          999999999, &whole);
    }
    return is_whole;
}

bool hbk_value_list(struct hbk_asked asked, size_t low, size_t high)
{
    if (asked.node->is_faulty) {
        return false;
    }
    if (asked.node->kind != HBK_LIST) {
        hbk_value_fault(asked, HBK_H_NOT_A_LIST,
                        "a list is wanted here; write it in [ ], or one line "
                        "beginning with '- ' for each item");
        return false;
    }
    if (asked.node->n >= low && asked.node->n <= high) {
        return true;
    }
    const char *const plural = asked.node->n == 1 ? "" : "s";
    if (low == high) {
        hbk_value_fault(asked, HBK_H_LIST_SIZE,
                        "the list has %zu item%s; it must have exactly %zu%s",
                        asked.node->n, plural, low,
                        asked.node->n > high && has_whole_numbers(asked.node)
                            ? ", and decimals a point, as in 12.5"
                            : "");
    } else {
        hbk_value_fault(asked, HBK_H_LIST_SIZE,
                        "the list has %zu item%s; it must have from %zu to %zu",
                        asked.node->n, plural, low, high);
    }
    return false;
}

bool hbk_value_map(struct hbk_asked asked, const char *form)
{
    if (asked.node->is_faulty) {
        return false;
    }
    if (asked.node->kind != HBK_MAP) {
        hbk_value_fault(asked, HBK_H_NOT_FIELDS,
                        "names and values are wanted here, as in %s", form);
        return false;
    }
    return true;
}
