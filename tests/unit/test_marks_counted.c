#include "support/marks.h"
#include "support/musicxml.h"

#include "base/file.h"

#include <dirent.h>

/*
 * Every mark of a file is in its tune, and nothing twice: what a plain look
 * over the bytes or the tree counts, against what the readers keep.
 */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

struct counts {
    size_t marks, hairpins, syllables, stanzas, left_out;
};

static struct counts counts_of(const struct hbk_tune *tune)
{
    struct counts counts = {.marks = tune->marks.n,
                            .syllables = tune->marks.n_syllables,
                            .stanzas = tune->marks.n_stanzas};
    for (size_t i = 0; i < tune->marks.n; i++) {
        counts.hairpins += hbk_mark_is_hairpin(&tune->marks.items[i]);
    }
    for (size_t i = 0; i < tune->marks.n_left_out; i++) {
        counts.left_out += tune->marks.left_out[i].count;
    }
    return counts;
}

static void compare(const char *name, struct counts got, struct counts want)
{
    const bool same =
        got.marks == want.marks && got.hairpins == want.hairpins &&
        got.syllables == want.syllables && got.stanzas == want.stanzas &&
        got.left_out == want.left_out;
    if (!same) {
        print_error("%s: %zu marks, %zu hairpins, %zu syllables, %zu lines, "
                    "%zu left out; in the file %zu, %zu, %zu, %zu, %zu\n",
                    name, got.marks, got.hairpins, got.syllables, got.stanzas,
                    got.left_out, want.marks, want.hairpins, want.syllables,
                    want.stanzas, want.left_out);
    }
    assert_true(same);
}

/* ---- ABC, by its bytes ---- */

static bool is_one_of(const char *name, const char *const *names)
{
    for (; *names != NULL; names++) {
        if (strcmp(name, *names) == 0) {
            return true;
        }
    }
    return false;
}

static void count_decoration(const char *name, struct counts *counts)
{
    static const char *const marks[] = {
        "pppp", "ppp",        "pp",         "p",          "mp",
        "mf",   "f",          "ff",         "fff",        "ffff",
        "sfz",  "rfz",        "fp",         "plus",       "+",
        "open", "segno",      "coda",       "fine",       "D.C.",
        "D.S.", "D.C.alcoda", "D.S.alcoda", "D.C.alfine", NULL};
    static const char *const hairpins[] = {"<(", ">(", "crescendo(",
                                           "diminuendo(", NULL};
    static const char *const others[] = {"arpeggio", "slide", "1", "trill(",
                                         NULL};
    counts->marks += is_one_of(name, marks) || is_one_of(name, hairpins);
    counts->hairpins += is_one_of(name, hairpins);
    counts->left_out += is_one_of(name, others);
}

/* Letters that stand for decorations, before a note and outside of texts. */
static void count_letter(const char *at, struct counts *counts)
{
    const bool is_before =
        at[1] != '\0' && strchr("ABCDEFGabcdefgSOuv!\"+^_=", at[1]) != NULL;
    counts->marks += is_before && (*at == 'S' || *at == 'O' || *at == 'w');
    counts->left_out += is_before && (*at == 'u' || *at == 'v');
}

static void count_text(const char *text, struct counts *counts)
{
    const bool is_annotation = strchr("^_<>@", text[0]) != NULL;
    if (is_annotation && strchr("()", text[1]) != NULL) {
        counts->left_out++; /* brackets about a note */
    } else if (is_annotation && strchr("0123456789", text[1]) != NULL) {
        return; /* a fingering */
    } else if (is_annotation || strncmp(text, "D.C", 3) == 0 ||
               strcmp(text, "Hold") == 0) {
        counts->marks++;
    } else {
        counts->left_out++; /* a chord symbol */
    }
}

static void count_music(const char *line, struct counts *counts)
{
    for (const char *at = line; *at != '\0' && *at != '%'; at++) {
        const char *const close =
            strchr("\"!+", *at) == NULL
                ? NULL
                : strchr(at + 1, *at == '+' && at[1] == '+' ? '!' : *at);
        char name[64] = "";
        if (close != NULL) {
            (void)snprintf(name, sizeof(name), "%.*s", (int)(close - at - 1),
                           at + 1);
        }
        if (*at == '"') {
            count_text(name, counts);
            at = close;
        } else if ((*at == '!' || *at == '+') && close != NULL) {
            count_decoration(name, counts);
            at = close;
        } else if (*at == '[' && at[2] == ':') {
            counts->marks += at[1] == 'Q' || at[1] == 'P';
            at = strchr(at, ']');
        } else {
            count_letter(at, counts);
        }
    }
    /* A fermata before a bar line is a mark; over a note it is none. */
    for (const char *at = strstr(line, "!fermata!|"); at != NULL;
         at = strstr(at + 1, "!fermata!|")) {
        counts->marks++;
    }
}

/* Syllables of a line of words, but for the number of its verse. */
static void count_words(const char *line, struct counts *counts)
{
    bool inside = false;
    bool is_number = true;
    for (const char *at = line; *at != '\0'; at++) {
        const bool ends = strchr(" -_*|", *at) != NULL;
        if (!ends && !inside) {
            counts->syllables++;
            is_number = counts->syllables > 0;
        }
        /* "2. Home": the number is in the first syllable. */
        const bool after_number = inside && *at == ' ' && at[-1] == '.' &&
                                  at - line <= 4 && is_number;
        counts->syllables -= after_number;
        inside = !ends;
    }
}

static void count_line(const char *line, bool in_body, struct counts *counts)
{
    const bool is_field =
        line[0] != '\0' && line[1] == ':' && line[0] != '|' && line[0] != ':';
    if (!is_field) {
        if (in_body && line[0] != '%') {
            count_music(line, counts);
        }
        return;
    }
    counts->marks +=
        strchr("QP", line[0]) != NULL || (in_body && line[0] == 'T');
    counts->left_out += strchr("ABDFGHNORSZ", line[0]) != NULL;
    counts->stanzas += line[0] == 'W';
    if (line[0] == 'w') {
        count_words(line + 2, counts);
    } else if (line[0] == 's') {
        count_music(line + 2, counts);
    }
}

static void count_abc(char *text, const char *tune, const char *voice,
                      struct counts *counts)
{
    bool in_body = false;
    bool is_heard = tune == NULL;
    char *rest = NULL;
    for (char *line = strtok_r(text, "\n", &rest); line != NULL;
         line = strtok_r(NULL, "\n", &rest)) {
        if (strncmp(line, "X:", 2) == 0 && tune != NULL) {
            is_heard = strcmp(line + 2, tune) == 0;
            in_body = false;
        } else if (strncmp(line, "V:", 2) == 0 && voice != NULL) {
            is_heard = strncmp(line + 2, voice, strlen(voice)) == 0;
        } else if (is_heard) {
            count_line(line, in_body, counts);
        }
        in_body = in_body || strncmp(line, "K:", 2) == 0;
    }
}

/* ---- MusicXML, by its tree ---- */

static bool says(const xmlNode *node, const char *name, const char *value)
{
    xmlChar *const text = xmlGetProp(node, (const xmlChar *)name);
    const bool same =
        text != NULL && (value == NULL || strcmp((char *)text, value) == 0);
    xmlFree(text);
    return same;
}

static bool has_child(const xmlNode *node, const char *name)
{
    const xmlNode *child = node->children;
    while (child != NULL && strcmp((const char *)child->name, name) != 0) {
        child = child->next;
    }
    return child != NULL;
}

static void count_direction(const xmlNode *node, struct counts *counts)
{
    bool has_words = false;
    for (const xmlNode *type = node->children; type != NULL;
         type = type->next) {
        for (const xmlNode *at = type->children; at != NULL; at = at->next) {
            const char *const name = (const char *)at->name;
            static const char *const ones[] = {"rehearsal", "segno", "coda",
                                               "dynamics", NULL};
            const bool is_wedge =
                strcmp(name, "wedge") == 0 && !says(at, "type", "stop");
            has_words = has_words || strcmp(name, "words") == 0 ||
                        strcmp(name, "metronome") == 0;
            counts->marks += is_one_of(name, ones) || is_wedge;
            counts->hairpins += is_wedge;
        }
    }
    counts->marks += has_words;
}

static void count_node(const xmlNode *node, struct counts *counts)
{
    static const char *const others[] = {
        "harmony", "frame",         "figured-bass", "up-bow", "falloff",
        "tremolo", "double-tongue", "notehead",     NULL};
    static const char *const lines[] = {"octave-shift", "pedal", "bracket",
                                        "glissando", NULL};
    const char *const name = (const char *)node->name;
    const char *const parent = (const char *)node->parent->name;
    if (strcmp(name, "direction") == 0) {
        count_direction(node, counts);
    }
    counts->marks +=
        (strcmp(name, "dynamics") == 0 && strcmp(parent, "notations") == 0) ||
        (strcmp(name, "fermata") == 0 && strcmp(parent, "barline") == 0) ||
        strcmp(name, "stopped") == 0 || strcmp(name, "open") == 0;
    counts->syllables += strcmp(name, "lyric") == 0 && has_child(node, "text");
    counts->left_out += is_one_of(name, others) ||
                        (is_one_of(name, lines) && !says(node, "type", "stop"));
    for (const xmlNode *at = node->children; at != NULL; at = at->next) {
        if (at->type == XML_ELEMENT_NODE) {
            count_node(at, counts);
        }
    }
}

static bool ends_in(const char *name, const char *end)
{
    const size_t n = strlen(name);
    const size_t m = strlen(end);
    return n >= m && strcmp(name + n - m, end) == 0;
}

static void check_file(const char *path, const char *tune, const char *voice,
                       size_t page_lines)
{
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.tune = tune, .voice = voice};
    const enum hbk_status status =
        hbk_tune_read(path, &options, &document, &faults);
    if (status != HBK_OK) {
        print_faults(&faults);
    }
    assert_int_equal(status, HBK_OK);
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(
        hbk_file_read(path, 1 << 20, &document.arena, &bytes, &length, &faults),
        HBK_OK);
    struct counts want = {.left_out = page_lines};
    if (ends_in(path, ".abc")) {
        count_abc(bytes, tune, voice, &want);
    } else {
        xmlDoc *const tree = parse_xml(bytes, length);
        count_node(xmlDocGetRootElement(tree), &want);
        xmlFreeDoc(tree);
    }
    compare(path, counts_of(&document.tune), want);
    assert_true(want.marks > 0 || strstr(path, "/marks/") == NULL);
    hbk_tune_document_finish(&document);
}

static int is_tune(const struct dirent *entry)
{
    return ends_in(entry->d_name, ".abc") ||
           ends_in(entry->d_name, ".musicxml");
}

static void every_mark_of_the_collection_is_kept_once(void **state)
{
    (void)state;
    struct dirent **files = NULL;
    const int n = scandir("tests/data/marks", &files, is_tune, alphasort);
    assert_int_equal(n, 20);
    for (int i = 0; i < n; i++) {
        char path[300];
        const char *const name = files[i]->d_name;
        (void)snprintf(path, sizeof(path), "tests/data/marks/%s", name);
        check_file(path, NULL, strncmp(name, "10", 2) == 0 ? "2" : NULL,
                   strncmp(name, "20", 2) == 0 ? 1 : 0);
        free(files[i]);
    }
    free(files);
}

static void every_mark_of_other_tunes_is_kept_once(void **state)
{
    (void)state;
    check_file("tests/data/galop.abc", NULL, NULL, 0);
    check_file("tests/data/march.musicxml", NULL, NULL, 1);
    for (int number = 1; number <= 12; number++) {
        char tune[8];
        (void)snprintf(tune, sizeof(tune), "%d", number);
        check_file("tests/data/tunes.abc", tune, NULL, 0);
    }
    check_file("tests/data/torture.abc", NULL, NULL, 0);
    check_file("tests/data/ordered.abc", "1", NULL, 0);
    check_file("tests/data/ordered.abc", "2", "low", 0);
    check_file("tests/data/ordered.abc", "3", NULL, 0);
    check_file("tests/data/marks.abc", "1", NULL, 0);
    check_file("tests/data/marks.abc", "2", NULL, 0);
}

/* Whatever is read stands in a bar of the tune, one after the other. */
static void check_places(const char *name, const char *bytes, size_t length)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    if (hbk_tune_read_bytes(name, bytes, length, NULL, &document, &faults) ==
        HBK_OK) {
        const struct hbk_tune_marks *const marks = &document.tune.marks;
        (void)describe_marks(&document.tune, &arena);
        for (size_t i = 1; i < marks->n; i++) {
            assert_true(hbk_ratio_compare(marks->items[i - 1].at.time,
                                          marks->items[i].at.time) <= 0);
        }
        for (size_t i = 1; i < marks->n_syllables; i++) {
            assert_true(marks->syllables[i - 1].event <=
                        marks->syllables[i].event);
        }
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void marks_of_damaged_files_have_their_places(void **state)
{
    (void)state;
    enum { ROUNDS = 40, MORE = 256 };
    uint32_t seed = 20260731;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    struct dirent **files = NULL;
    const int n = scandir("tests/data/marks", &files, is_tune, alphasort);
    for (int i = 0; i < n; i++) {
        char path[300];
        (void)snprintf(path, sizeof(path), "tests/data/marks/%s",
                       files[i]->d_name);
        char *bytes = NULL;
        size_t length = 0;
        assert_int_equal(
            hbk_file_read(path, 1 << 20, &arena, &bytes, &length, &faults),
            HBK_OK);
        for (int round = 0; round < ROUNDS; round++) {
            char *const changed = calloc(1, length + MORE + 1);
            assert_non_null(changed);
            memcpy(changed, bytes, length);
            const size_t size = mutate(changed, length, length + MORE, &seed);
            check_places(path, changed, size);
            free(changed);
        }
        free(files[i]);
    }
    free(files);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_mark_of_the_collection_is_kept_once),
        cmocka_unit_test(every_mark_of_other_tunes_is_kept_once),
        cmocka_unit_test(marks_of_damaged_files_have_their_places),
    };
    return cmocka_run_group_tests_name("marks_counted", tests, NULL, NULL);
}
