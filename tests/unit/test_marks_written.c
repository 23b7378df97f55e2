#include "support/kept.h"
#include "support/marked.h"
#include "support/marks.h"

#include "tune/abc/abc_export.h"

#include <dirent.h>

/* The marks of a tune that is written anew are read again as they were. */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* And what MusicXML has no sign for: a syllable held up to its hyphen. */
static const char held[] = "X:1\nT:t\nM:4/4\nL:1/4\nK:C\ncdef|\nw:a-b--c|\n";

/* A line of a description without what a format cannot say. */
static void put_line(const char *line, bool is_abc, struct hbk_text *out)
{
    const size_t n = strcspn(line, "\n");
    const size_t kind = strcspn(line, " \n");
    /* ABC puts nothing but words above or below on purpose. */
    const bool has_side = strncmp(line + kind, " above", 6) == 0 ||
                          strncmp(line + kind, " below", 6) == 0;
    const size_t skip =
        is_abc && has_side && strncmp(line, "words", kind) != 0 ? 6 : 0;
    /* MusicXML holds no syllable up to its hyphen. */
    const char *const hold = is_abc ? NULL : strstr(line, "- to e");
    const size_t end =
        hold != NULL && hold < line + n ? (size_t)(hold + 1 - line) : n;
    hbk_text_put(out, line, kind);
    hbk_text_put(out, line + kind + skip, end - kind - skip);
    hbk_text_add(out, "\n");
}

/* The marks of a tune but for what was left out. */
static const char *marks_of(const struct hbk_tune *tune, bool is_abc,
                            struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    for (const char *at = describe_marks(tune, arena);
         *at != '\0' && strncmp(at, "left out:", 9) != 0;
         at += strcspn(at, "\n") + 1) {
        put_line(at, is_abc, &out);
    }
    return hbk_text_string(&out);
}

/* Tells of two texts the first lines that differ. */
static void check_lines(const char *got, const char *want)
{
    const char *a = got;
    const char *b = want;
    while (*a != '\0' && strcspn(a, "\n") == strcspn(b, "\n") &&
           strncmp(a, b, strcspn(a, "\n")) == 0) {
        a += strcspn(a, "\n") + (strchr(a, '\n') != NULL);
        b += strcspn(b, "\n") + (strchr(b, '\n') != NULL);
    }
    if (strcmp(a, b) != 0) {
        print_error("got:  %.*s\nwant: %.*s\n", (int)strcspn(a, "\n"), a,
                    (int)strcspn(b, "\n"), b);
    }
    assert_string_equal(a, b);
}

/* Whether marks are told to have lost something of theirs. */
static bool is_lossy(const struct hbk_faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        const char *const text = faults->items[i].text;
        if (faults->items[i].number == 282 &&
            (strstr(text, "within") != NULL ||
             strstr(text, "metronome") != NULL ||
             strstr(text, "dashed") != NULL)) {
            return true;
        }
    }
    return false;
}

static void check_counts(const struct hbk_tune *got,
                         const struct hbk_tune *want)
{
    enum { KINDS = HBK_TUNE_MARK_OPEN + 1 };
    int n[KINDS] = {0};
    for (size_t i = 0; i < want->marks.n; i++) {
        n[want->marks.items[i].kind]++;
    }
    for (size_t i = 0; i < got->marks.n; i++) {
        n[got->marks.items[i].kind]--;
    }
    for (size_t kind = 0; kind < KINDS; kind++) {
        assert_int_equal(n[kind], 0);
    }
    assert_int_equal(got->marks.n_syllables, want->marks.n_syllables);
}

static void check_marks_again(const struct hbk_tune *tune,
                              const struct hbk_text *written,
                              const struct hbk_faults *lost,
                              struct hbk_arena *arena)
{
    struct hbk_tune_document again = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_read_bytes("t", written->bytes, written->length,
                                         NULL, &again, &faults),
                     HBK_OK);
    const bool is_abc = again.format == HBK_TUNE_ABC;
    if (is_lossy(lost)) {
        check_counts(&again.tune, tune);
    } else {
        check_lines(marks_of(&again.tune, is_abc, arena),
                    marks_of(tune, is_abc, arena));
    }
    assert_string_equal(again.tune.subtitle, tune->subtitle);
    assert_string_equal(again.tune.composer, tune->composer);
    hbk_tune_document_finish(&again);
}

static void check_in_abc(const char *text)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t", text, &document, &faults);
    struct hbk_text abc = {.arena = &arena};
    assert_int_equal(hbk_tune_to_abc(&document.tune, NULL, &abc, &faults),
                     HBK_OK);
    check_marks_again(&document.tune, &abc, &faults, &arena);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void marks_survive_in_abc(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(marked_tunes); i++) {
        check_in_abc(marked_tunes[i]);
    }
    check_in_abc(held);
}

static void marks_survive_in_musicxml(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(marked_tunes); i++) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        read_good("t", marked_tunes[i], &document, &faults);
        const struct hbk_text xml =
            text_of(to_musicxml(&document.tune, &arena), &arena);
        check_order(xml.bytes, xml.length);
        check_marks_again(&document.tune, &xml, &faults, &arena);
        hbk_tune_document_finish(&document);
        hbk_arena_finish(&arena);
    }
}

/* What was read of a file of marks, through both formats. */
static void check_file(const char *path)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options second = {.voice = "2"};
    const bool has_voices = strstr(path, "/10-") != NULL;
    assert_int_equal(
        hbk_tune_read(path, has_voices ? &second : NULL, &document, &faults),
        HBK_OK);
    const struct hbk_text xml =
        text_of(to_musicxml(&document.tune, &arena), &arena);
    check_order(xml.bytes, xml.length);
    check_marks_again(&document.tune, &xml, &faults, &arena);
    struct hbk_text abc = {.arena = &arena};
    assert_int_equal(hbk_tune_to_abc(&document.tune, NULL, &abc, &faults),
                     HBK_OK);
    check_marks_again(&document.tune, &abc, &faults, &arena);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void marks_of_files_survive_in_both(void **state)
{
    (void)state;
    DIR *const folder = opendir("tests/data/marks");
    assert_non_null(folder);
    size_t n = 0;
    for (const struct dirent *at = readdir(folder); at != NULL;
         at = readdir(folder)) {
        char path[300];
        (void)snprintf(path, sizeof(path), "tests/data/marks/%s", at->d_name);
        if (at->d_name[0] != '.') {
            check_file(path);
            n++;
        }
    }
    assert_int_equal(closedir(folder), 0);
    assert_true(n >= 20);
}

/* What is written of any tune that is read can be read again. */
static void check_readable(const struct hbk_tune *tune)
{
    for (int kind = 0; kind < 2; kind++) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_text out = {.arena = &arena};
        struct hbk_faults faults = {.count = 0};
        const enum hbk_status status =
            kind == 0 ? hbk_tune_to_abc(tune, NULL, &out, &faults)
                      : hbk_tune_to_musicxml(tune, NULL, &out, &faults);
        struct hbk_tune_document again = {.source = NULL};
        faults = (struct hbk_faults){.count = 0};
        if (status == HBK_OK &&
            hbk_tune_read_bytes("again", out.bytes, out.length, NULL, &again,
                                &faults) != HBK_OK) {
            print_faults(&faults);
            fail_msg("%s", out.bytes);
        }
        hbk_tune_document_finish(&again);
        hbk_arena_finish(&arena);
    }
}

static void mutated_tunes_are_written_whole(void **state)
{
    (void)state;
    uint32_t random = 1852;
    size_t good = 0;
    for (size_t i = 0; i < 400 * COUNT(marked_tunes); i++) {
        char bytes[2000] = "";
        (void)snprintf(bytes, sizeof(bytes), "%s",
                       marked_tunes[i % COUNT(marked_tunes)]);
        const size_t n =
            mutate(bytes, strlen(bytes), sizeof(bytes) - 1, &random);
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        if (hbk_tune_read_bytes("t", bytes, n, NULL, &document, &faults) ==
            HBK_OK) {
            check_readable(&document.tune);
            good++;
        }
        hbk_tune_document_finish(&document);
    }
    assert_true(good > 1000);
}

static void check_lost(const struct hbk_tune_document *document,
                       enum hbk_tune_format format, const char *want)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    struct hbk_text out = {.arena = &arena};
    struct hbk_tune tune = document->tune;
    hbk_tune_count_besides(document, &arena, &tune);
    assert_int_equal(format == HBK_TUNE_ABC
                         ? hbk_tune_to_abc(&tune, NULL, &out, &faults)
                     : format == HBK_TUNE_MXL
                         ? hbk_tune_to_mxl(&tune, NULL, &out, &faults)
                         : hbk_tune_to_musicxml(&tune, NULL, &out, &faults),
                     HBK_OK);
    assert_int_equal(faults.count, want != NULL);
    if (want != NULL) {
        assert_int_equal(faults.items[0].number, 282);
        assert_string_equal(faults.items[0].text, want);
    }
    hbk_arena_finish(&arena);
}

static const char crowded[] =
    "<score-partwise><part-list>\n"
    "<score-part id=\"P1\"><part-name/></score-part>\n"
    "<score-part id=\"P2\"><part-name/></score-part>\n"
    "<score-part id=\"P3\"><part-name/></score-part>\n"
    "</part-list><part id=\"P1\"><!-- a comment --><measure number=\"1\">\n"
    "<print "
    "new-page=\"yes\"/><attributes><divisions>1</divisions></attributes>\n"
    "<direction><direction-type><wedge "
    "type=\"diminuendo\"/></direction-type></direction>\n"
    "<direction><direction-type><words>dolce</words></direction-type>\n"
    "<direction-type><dashes type=\"start\"/></direction-type></direction>\n"
    "<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</"
    "duration></note>\n"
    "<direction><direction-type><dashes "
    "type=\"stop\"/></direction-type></direction>\n"
    "<backup><duration>4</duration></backup>\n"
    "<note><pitch><step>E</step><octave>4</octave></pitch><duration>4</"
    "duration>\n"
    "<voice>2</voice></note><backup><duration>2</duration></backup>\n"
    "<direction><direction-type><wedge type=\"stop\" "
    "niente=\"yes\"/></direction-type>\n"
    "</direction>\n"
    "<direction><direction-type><dynamics><f/></dynamics></direction-type></"
    "direction>\n"
    "<forward><duration>2</duration></forward>\n"
    "<harmony><root><root-step>C</root-step></root><kind>major</kind></"
    "harmony>\n"
    "</measure></part></score-partwise>\n";

static const struct {
    const char *text, *part, *voice;
    enum hbk_tune_format format;
    const char *lost;
} lossy[] = {
    {crowded, "P1", "1", HBK_TUNE_ABC,
     "2 places within long notes, 1 ring at the end of a hairpin, 1 dashed "
     "line, 1 chord symbol, 2 other parts, 1 note of another line, 1 "
     "break "
     "of a line or page and 1 comment do not go into the new file"},
    {"%%titlefont Serif 20\n\nX:1\n%%scale 0.8\nT:t\nZ:someone\nV:1\nV:2\n"
     "K:C\n% all of it\n[V:1]\"Am\"cd\\%e|% here\n[V:2]c|\n\n% after\n"
     "X:2\nT:u\nK:C\nc|\n",
     NULL, "1", HBK_TUNE_MUSICXML,
     "1 line about the tune, 1 chord symbol, 2 instructions to programs, 2 "
     "comments and 1 other voice do not go into the new file"},
    {"X:1\nT:t\nK:C\n\"Am\"cd|\n", NULL, NULL, HBK_TUNE_MXL,
     "1 chord symbol does not go into the new file"},
    {"X:1\nT:t\nK:C\n!p!cd|\nw:a b\n", NULL, NULL, HBK_TUNE_MXL, NULL},
};

/* What is lost is counted and named, and nothing else is. */
static void what_a_new_file_does_not_hold_is_told(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(lossy); i++) {
        const struct hbk_tune_options options = {
            .part = lossy[i].part, .voice = lossy[i].voice, .tune = "1"};
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(hbk_tune_read_bytes("t", lossy[i].text,
                                             strlen(lossy[i].text), &options,
                                             &document, &faults),
                         HBK_OK);
        check_lost(&document, lossy[i].format, lossy[i].lost);
        hbk_tune_document_finish(&document);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marks_survive_in_abc),
        cmocka_unit_test(marks_survive_in_musicxml),
        cmocka_unit_test(marks_of_files_survive_in_both),
        cmocka_unit_test(mutated_tunes_are_written_whole),
        cmocka_unit_test(what_a_new_file_does_not_hold_is_told),
    };
    return cmocka_run_group_tests_name("marks_written", tests, NULL, NULL);
}
