#include "support/kept.h"

#include "tune/musicxml/zip.h"

#include <dirent.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/*
 * Fingerings go into the user's file and out again, and not a byte of his has
 * changed, however the file is spelled.
 */

static void abc_comes_back_byte_for_byte(void **state)
{
    (void)state;
    static const struct {
        const char *text, *voice, *tune;
    } cases[] = {
        {rich_abc, NULL, NULL},
        {"\xEF\xBB\xBFX:1\r\nT:t\r\nK:C\r\n\"Gm\"C \"_my own\"D \"_0\"E "
         "{g}\"Am\"v.=G,2 % \"_x\r\n\"_at the end\"|\r\n\r\ntext\r\n",
         NULL, NULL},
        {"X:1\rT:t\rK:C\rC-C|\r", NULL, NULL},
        {"X:3\nT:a\nK:C\n\"_u\"C|\n\nX:4\nT:b\nK:C\n\"_0\"D(E{fg}F)|]", NULL,
         "4"},
        {"X:1\nT:t\nV:1\nV:2\nK:C\n[V:1]\"_1\"CD|\n[V:2]\"_2\"EF|\n", "2",
         NULL},
        {"X:1\nT:t\nK:C\nzz Z|{c}d|\n", NULL, NULL},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_arena arena = {.newest = NULL};
        const struct hbk_tune_options options = {.voice = cases[i].voice,
                                                 .tune = cases[i].tune};
        const struct hbk_text text = text_of(cases[i].text, &arena);
        check_comes_back(&text, &options);
        hbk_arena_finish(&arena);
    }
}

/* ---- files ---- */

static bool ends(const char *name, const char *ending)
{
    const size_t n = strlen(name);
    return n > strlen(ending) && strcmp(name + n - strlen(ending), ending) == 0;
}

/* Every tune of a file that can be read; how many there are. */
static size_t check_tunes(const struct hbk_text *text)
{
    enum { TUNES_MAX = 40 };
    size_t n = 0;
    for (int i = 0; i <= TUNES_MAX; i++) {
        char number[8];
        (void)snprintf(number, sizeof(number), "%d", i);
        const struct hbk_tune_options options = {.tune =
                                                     i == 0 ? NULL : number};
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        if (hbk_tune_read_bytes("t", text->bytes, text->length, &options,
                                &document, &faults) == HBK_OK) {
            check_comes_back(text, &options);
            n++;
        }
        hbk_tune_document_finish(&document);
    }
    return n;
}

static void every_file_comes_back_byte_for_byte(void **state)
{
    (void)state;
    static const char *const folders[] = {"tests/data", "tests/data/marks",
                                          "charts"};
    size_t tunes = 0;
    size_t scores = 0;
    for (size_t i = 0; i < COUNT(folders); i++) {
        DIR *const folder = opendir(folders[i]);
        assert_non_null(folder);
        for (const struct dirent *at = readdir(folder); at != NULL;
             at = readdir(folder)) {
            struct hbk_arena arena = {.newest = NULL};
            const char *const path =
                hbk_arena_printf(&arena, "%s/%s", folders[i], at->d_name);
            if (ends(path, ".abc")) {
                const struct hbk_text text = contents(path, &arena);
                tunes += check_tunes(&text);
            } else if (ends(path, ".musicxml")) {
                const struct hbk_text text = contents(path, &arena);
                check_comes_back(&text, NULL);
                scores++;
            }
            hbk_arena_finish(&arena);
        }
        assert_int_equal(closedir(folder), 0);
    }
    assert_true(tunes > 12);
    assert_true(scores > 1);
}

/* ---- one score in many dresses ---- */

/* A copy with every `old` made `fresh`. */
static struct hbk_text replaced(const struct hbk_text *text, const char *old,
                                const char *fresh)
{
    struct hbk_text out = {.arena = text->arena};
    const size_t n = strlen(old);
    for (size_t i = 0; i < text->length;) {
        if (strncmp(text->bytes + i, old, n) == 0) {
            hbk_text_add(&out, fresh);
            i += n;
        } else {
            hbk_text_put(&out, text->bytes + i++, 1);
        }
    }
    assert_int_equal(out.length == text->length &&
                         memcmp(out.bytes, text->bytes, out.length) == 0,
                     strcmp(old, fresh) == 0);
    return out;
}

/* Without any white space between elements. */
static struct hbk_text tight(const struct hbk_text *text)
{
    struct hbk_text out = {.arena = text->arena};
    for (size_t i = 0; i < text->length; i++) {
        const size_t n = strspn(text->bytes + i, " \t\n");
        if (i > 0 && text->bytes[i - 1] == '>' && text->bytes[i + n] == '<') {
            i += n;
        }
        if (i < text->length) {
            hbk_text_put(&out, text->bytes + i, 1);
        }
    }
    assert_true(out.length < text->length);
    return out;
}

/* In UTF-16, from ASCII and what Latin-1 adds. */
static struct hbk_text wide(const struct hbk_text *text, bool is_big,
                            bool is_marked)
{
    const struct hbk_text named = replaced(text, "UTF-8", "UTF-16");
    struct hbk_text out = {.arena = text->arena};
    hbk_text_put(&out, is_big ? "\xFE\xFF" : "\xFF\xFE", is_marked ? 2 : 0);
    for (size_t i = 0; i < named.length; i++) {
        unsigned char c = (unsigned char)named.bytes[i];
        if (c >= 0x80) {
            c = (unsigned char)(c << 6 | (named.bytes[++i] & 0x3F));
        }
        const char pair[2] = {is_big ? '\0' : (char)c, is_big ? (char)c : '\0'};
        hbk_text_put(&out, pair, 2);
    }
    return out;
}

/* <m:note> for <note>. */
static struct hbk_text prefixed(const struct hbk_text *text)
{
    struct hbk_text out = {.arena = text->arena};
    for (size_t i = 0; i < text->length; i++) {
        const char *const at = text->bytes + i;
        hbk_text_put(&out, at, 1);
        const bool is_tag = at[0] == '<' && strchr("?!/", at[1]) == NULL;
        const bool is_end = i > 0 && at[-1] == '<' && at[0] == '/';
        hbk_text_add(&out, is_tag || is_end ? "m:" : "");
    }
    return replaced(&out, "<m:score-partwise",
                    "<m:score-partwise "
                    "xmlns:m='urn:of:nobody' ");
}

/* Measures that hold parts. */
static struct hbk_text timewise(const struct hbk_text *text)
{
    struct hbk_text out = replaced(text, "<part id=\"P1\">", "");
    out = replaced(&out, "</part>", "");
    out = replaced(&out, "score-partwise", "score-timewise");
    out = replaced(&out, "\n\t\t</measure>", "\n\t\t</part></measure>");
    out = replaced(&out, "</note></measure>", "</note></part></measure>");
    struct hbk_text all = {.arena = text->arena};
    const char *at = out.bytes;
    for (const char *measure = strstr(at, "<measure "); measure != NULL;
         measure = strstr(at, "<measure ")) {
        const char *const inside = strchr(measure, '>') + 1;
        hbk_text_put(&all, at, (size_t)(inside - at));
        hbk_text_add(&all, "<part id=\"P1\">");
        at = inside;
    }
    hbk_text_add(&all, at);
    return all;
}

static void a_score_comes_back_in_any_dress(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text plain =
        contents("tests/data/quickstep.musicxml", &arena);
    const struct hbk_text accented =
        replaced(&plain, "Quickstep", "Marche lente \xC3\xA0 pied");
    struct hbk_text latin = replaced(&plain, "Quickstep", "\xC9tude");
    latin = replaced(&latin, "UTF-8", "ISO-8859-1");
    struct hbk_text marked = text_of("\xEF\xBB\xBF", &arena);
    hbk_text_add(&marked, accented.bytes);
    const struct hbk_text crlf = replaced(&plain, "\n", "\r\n");
    const struct hbk_text dresses[] = {
        accented,
        latin,
        marked,
        crlf,
        replaced(&plain, "\n", "\r"),
        tight(&plain),
        wide(&accented, false, true),
        wide(&accented, true, true),
        wide(&crlf, false, false),
        prefixed(&plain),
        replaced(&plain, "<score-partwise", "<score-partwise xmlns='urn:of'"),
        timewise(&plain),
        timewise(&crlf),
        replaced(&plain, "'UTF-8'", "'us-ascii'"),
    };
    for (size_t i = 0; i < COUNT(dresses); i++) {
        check_comes_back(&dresses[i], NULL);
    }
    hbk_arena_finish(&arena);
}

/* What is put in is spelled as the file is. */
static void what_is_put_in_suits_the_file(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text plain =
        contents("tests/data/quickstep.musicxml", &arena);
    const struct hbk_text crlf = replaced(&plain, "\n", "\r\n");
    const struct hbk_text ascii = replaced(&plain, "'UTF-8'", "'us-ascii'");
    const struct hbk_text prefix = prefixed(&plain);
    const struct {
        const struct hbk_text *text;
        const char *want;
    } cases[] = {
        {&crlf, "<type>eighth</type>\r\n\t\t\t\t<notations />\r\n\t\t\t\t"
                "<?hornbook notations?><notations><technical><fingering"},
        {&plain, "\xC2\xBD \xF0\x9D\x84\x9E</fingering>"},
        {&ascii, "&#189; &#119070;</fingering>"},
        {&prefix, "<m:notations><m:technical/><?hornbook technical?>"
                  "<m:technical><m:fingering placement=\"below\">1-2"
                  "</m:fingering>"},
        {&plain, "<up-bow/></technical></notations><?hornbook notations?>"
                 "<notations>"},
        {&plain, "<open-string/>\n\t\t\t\t\t\t<?hornbook fingering?>"
                 "<fingering placement"},
        {&plain, "<notations><?hornbook technical?><technical><fingering"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_tune_document again = {.source = NULL};
        read_text(cases[i].text->bytes, &document);
        const struct hbk_text out = annotated(&document, NULL, &again);
        if (strstr(out.bytes, cases[i].want) == NULL) {
            print_error("missing: %s\nin: %s\n", cases[i].want, out.bytes);
        }
        assert_non_null(strstr(out.bytes, cases[i].want));
        hbk_tune_document_finish(&document);
        hbk_tune_document_finish(&again);
    }
    hbk_arena_finish(&arena);
}

#define A_NOTE(voice)                                                          \
    "<note><pitch><step>G</step><octave>4</octave></pitch><duration>4"         \
    "</duration><voice>" voice "</voice></note>"
#define A_BAR "<attributes><divisions>1</divisions></attributes>"
#define TWO_NOTES                                                              \
    A_NOTE("1") "<backup><duration>4</duration></backup>" A_NOTE("2")
#define TWO_PARTS                                                              \
    "<part-list><score-part id=\"P1\"><part-name/></score-part><score-part "   \
    "id=\"P2\"><part-name/></score-part></part-list>"

static size_t count_fingerings(const struct hbk_text *text)
{
    size_t n = 0;
    for (const char *at = strstr(text->bytes, "<fingering"); at != NULL;
         at = strstr(at + 1, "<fingering")) {
        n++;
    }
    return n;
}

/* Each player's fingerings stay while another's are written. */
static void each_part_and_voice_keeps_its_own(void **state)
{
    (void)state;
    static const char *const scores[] = {
        "<score-partwise>" TWO_PARTS
        "<part id=\"P1\"><measure number=\"1\">" A_BAR TWO_NOTES
        "</measure></part><part id=\"P2\"><measure "
        "number=\"1\">" A_BAR TWO_NOTES "</measure></part></score-partwise>",
        "<score-timewise>" TWO_PARTS
        "<measure number=\"1\"><part id=\"P1\">" A_BAR TWO_NOTES
        "</part><part id=\"P2\">" A_BAR TWO_NOTES
        "</part></measure></score-timewise>"};
    static const struct hbk_tune_options lines[] = {
        {.part = "P1", .voice = "1"}, {.part = "P2", .voice = "1"},
        {.part = "P1", .voice = "2"}, {.part = "P2", .voice = "2"},
        {.part = "P1", .voice = "2"},
    };
    for (size_t i = 0; i < COUNT(scores); i++) {
        struct hbk_arena arena = {.newest = NULL};
        const struct hbk_text score = text_of(scores[i], &arena);
        struct hbk_text text = score;
        for (size_t k = 0; k < COUNT(lines); k++) {
            struct hbk_tune_document document = {.source = NULL};
            struct hbk_tune_document again = {.source = NULL};
            struct hbk_faults faults = {.count = 0};
            assert_int_equal(hbk_tune_read_bytes("t", text.bytes, text.length,
                                                 &lines[k], &document, &faults),
                             HBK_OK);
            const struct hbk_text out = annotated(&document, &lines[k], &again);
            text = text_of(out.bytes, &arena);
            assert_int_equal(count_fingerings(&text), k < 4 ? k + 1 : 4);
            const struct hbk_text bare = stripped(&again, &arena);
            check_same(&bare, &score);
            hbk_tune_document_finish(&document);
            hbk_tune_document_finish(&again);
        }
        hbk_arena_finish(&arena);
    }
}

/* 40000 notes are read; with what their fingerings need they would not be. */
static void nothing_is_written_that_is_not_read_again(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_text text =
        text_of("<score-partwise><part-list><score-part id=\"P\"><part-name/>"
                "</score-part></part-list><part id=\"P\"><measure number=\"1\">"
                "<attributes><divisions>1</divisions></attributes>",
                &arena);
    for (int i = 0; i < 40000; i++) {
        hbk_text_add(&text, "<note><pitch><step>C</step><octave>4</octave>"
                            "</pitch><duration>1</duration><type>quarter"
                            "</type></note>");
    }
    hbk_text_add(&text, "</measure></part></score-partwise>");
    struct hbk_tune_document document = {.source = NULL};
    read_text(text.bytes, &document);
    struct hbk_text out = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_annotate(&document, HBK_TUNE_MUSICXML,
                                       invent(&document.tune, &arena), NULL,
                                       &out, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.count, 1);
    assert_int_equal(faults.items[0].number, 242);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* ---- containers ---- */

static void a_score_moves_into_a_container_and_back(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_text plain =
        contents("tests/data/quickstep.musicxml", &arena);
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_tune_document packed = {.source = NULL};
    read_text(plain.bytes, &document);
    assert_true(hbk_tune_holds(&document, HBK_TUNE_MXL));
    assert_false(hbk_tune_holds(&document, HBK_TUNE_ABC));
    struct hbk_text mxl = {.arena = &arena};
    assert_int_equal(hbk_tune_annotate(&document, HBK_TUNE_MXL,
                                       invent(&document.tune, &arena), NULL,
                                       &mxl, &faults),
                     HBK_OK);
    assert_int_equal(hbk_tune_read_bytes("t.mxl", mxl.bytes, mxl.length, NULL,
                                         &packed, &faults),
                     HBK_OK);
    check_fingered(&packed.tune);
    struct hbk_text back = {.arena = &arena};
    assert_int_equal(hbk_tune_strip(&packed, HBK_TUNE_MUSICXML, &back, &faults),
                     HBK_OK);
    check_same(&back, &plain);
    hbk_tune_document_finish(&document);
    hbk_tune_document_finish(&packed);
    hbk_arena_finish(&arena);
}

/* Its score lies between a picture and a list; neither is touched. */
static void a_container_comes_back_byte_for_byte(void **state)
{
    (void)state;
    static const char container[] =
        "<container><rootfiles><rootfile full-path=\"in/score.xml\"/>"
        "<rootfile full-path=\"cover.png\" media-type=\"image/png\"/>"
        "</rootfiles></container>";
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text plain =
        contents("tests/data/quickstep.musicxml", &arena);
    for (int is_stored = 0; is_stored < 2; is_stored++) {
        const struct hbk_zip_entry entries[] = {
            hbk_zip_pack("cover.png", "\x89PNG", 4, true, &arena),
            hbk_zip_pack("in/score.xml", plain.bytes, plain.length,
                         is_stored != 0, &arena),
            hbk_zip_pack("META-INF/container.xml", container, strlen(container),
                         false, &arena),
        };
        struct hbk_text file = {.arena = &arena};
        hbk_zip_write(entries, COUNT(entries), &file);
        check_comes_back(&file, NULL);
    }
    hbk_arena_finish(&arena);
}

/* ---- broken on purpose ---- */

static void mutated_scores_keep_their_bytes(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text seed =
        contents("tests/data/quickstep.musicxml", &arena);
    const size_t room = 2 * seed.length;
    char *const bytes = hbk_arena_zalloc(&arena, room + 1, 1);
    uint32_t random = 1846;
    size_t good = 0;
    for (int i = 0; i < 3000; i++) {
        memcpy(bytes, seed.bytes, seed.length);
        const size_t n = mutate(bytes, seed.length, room, &random);
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        if (hbk_tune_read_bytes("t.xml", bytes, n, NULL, &document, &faults) ==
            HBK_OK) {
            struct hbk_tune_document again = {.source = NULL};
            const struct hbk_text bare = stripped(&document, &document.arena);
            (void)annotated(&document, NULL, &again);
            const struct hbk_text out = stripped(&again, &document.arena);
            check_same(&out, &bare);
            good += bare.length == n && memcmp(bare.bytes, bytes, n) == 0;
            hbk_tune_document_finish(&again);
        }
        hbk_tune_document_finish(&document);
    }

    assert_true(good > 150);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(abc_comes_back_byte_for_byte),
        cmocka_unit_test(every_file_comes_back_byte_for_byte),
        cmocka_unit_test(a_score_comes_back_in_any_dress),
        cmocka_unit_test(what_is_put_in_suits_the_file),
        cmocka_unit_test(each_part_and_voice_keeps_its_own),
        cmocka_unit_test(nothing_is_written_that_is_not_read_again),
        cmocka_unit_test(a_score_moves_into_a_container_and_back),
        cmocka_unit_test(a_container_comes_back_byte_for_byte),
        cmocka_unit_test(mutated_scores_keep_their_bytes),
    };
    return cmocka_run_group_tests_name("kept_bytes", tests, NULL, NULL);
}
