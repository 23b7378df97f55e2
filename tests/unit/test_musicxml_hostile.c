#include "support/scores.h"

#include "base/file.h"

/* MusicXML from strangers: nothing is opened, nothing grows, nothing breaks. */

/* Nothing is opened that the user did not name, and nothing grows. */
static void hostile_documents_are_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    static const char *const entities[] = {
        "<!DOCTYPE a [<!ENTITY x SYSTEM \"file:///etc/hostname\">]>\n"
        "<score-partwise>&x;</score-partwise>",
        "<!DOCTYPE a [<!ENTITY % x SYSTEM \"http://example.com/\"> %x;]>\n"
        "<score-partwise/>",
        "<!DOCTYPE a [<!ENTITY a \"&b;\"><!ENTITY b \"&a;\">]>\n"
        "<score-partwise>&a;</score-partwise>",
        "<!DOCTYPE a [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;&a;\">"
        "<!ENTITY c \"&b;&b;&b;&b;&b;&b;\">]>\n<score-partwise t=\"&c;\"/>",
        "<!DOCTYPE score-partwise SYSTEM \"x.dtd\"><score-partwise>&eacute;"
        "</score-partwise>",
        "<!DOCTYPE score-partwise SYSTEM \"x.dtd\"><score-partwise "
        "t=\"&eacute;\"/>",
    };
    for (size_t i = 0; i < COUNT(entities); i++) {
        read_bad("t.xml", entities[i], 241, "entity");
    }
    static const char *const declarations[] = {
        "<!DOCTYPE a [<!ELEMENT a (b,c,d)>]><a/>",
        "<!DOCTYPE a SYSTEM \"<!--\" [ <!ATTLIST a b CDATA 'x'> ]><a/><!-- -->",
        "<!DOCTYPE a PUBLIC '[' \"]>\" [<?p?> <!NOTATION n SYSTEM 'x'>]><a/>",
    };
    for (size_t i = 0; i < COUNT(declarations); i++) {
        read_bad("t.xml", declarations[i], 241, "declared");
    }
    read_bad("t.xml", "<?xml version='1.0' encoding='UTF-7'?><a/>", 240,
             "save the file as UTF-8");
    struct hbk_text crowd = {.arena = &arena};
    hbk_text_add(&crowd, "<!-- <a> -->\n<a b='>'");
    for (int i = 0; i < 201; i++) {
        hbk_text_addf(&crowd, " a%d = \">\"", i);
    }
    hbk_text_add(&crowd, "/>");
    read_bad("t.xml", crowd.bytes, 242, "t.xml:2: error: an element has more");
    struct hbk_text deep = {.arena = &arena};
    for (int i = 0; i < 100000; i++) {
        hbk_text_add(&deep, "<a>");
    }
    read_bad("t.xml", deep.bytes, 242, "nested");
    static const struct {
        const char *begin, *part;
    } floods[] = {{"<score-partwise>", "<a/>"},
                  {"<score-partwise>", "<?a?>"},
                  {"<score-partwise>", "<!---->"},
                  {"<score-partwise>", "<![CDATA[a]]>"}};
    for (size_t i = 0; i < COUNT(floods); i++) {
        struct hbk_text wide = {.arena = &arena};
        hbk_text_add(&wide, floods[i].begin);
        for (int k = 0; k < 510000; k++) {
            hbk_text_add(&wide, floods[i].part);
        }
        read_bad("t.xml", wide.bytes, 242, "500000");
    }
    hbk_arena_finish(&arena);
}

/* A DOCTYPE that names the usual address is fine, and stays unread. */
static void the_usual_doctype_is_not_fetched(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const char *const text = hbk_arena_printf(
        &arena,
        "<?xml version=\"1.0\"?><!DOCTYPE score-partwise PUBLIC "
        "\"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
        "\"http://www.musicxml.org/dtds/partwise.dtd\">%s",
        score(&arena,
              "<measure>" DIVISIONS("1") NOTE("C", "4", "1", "") "</measure>"));
    read_good("t.xml", text, &document, &faults);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void other_encodings_are_read(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    static const char latin[] =
        "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><score-partwise><work>"
        "<work-title>\xC9tude</work-title></work><part-list><score-part "
        "id=\"P1\"><part-name/></score-part></part-list><part id=\"P1\">"
        "<measure number=\"1\">" DIVISIONS("1")
            NOTE("C", "4", "1", "") "</measure></part></score-partwise>";
    struct hbk_text wide = {.arena = &arena};
    hbk_text_put(&wide, "\xFF\xFE", 2);
    for (const char *c = strstr(latin, "<score"); *c != '\0'; c++) {
        hbk_text_put(&wide, c, 1);
        hbk_text_put(&wide, "\0", 1);
    }
    const struct {
        const char *bytes;
        size_t length;
    } files[] = {{latin, strlen(latin)}, {wide.bytes, wide.length}};
    for (size_t i = 0; i < COUNT(files); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(hbk_tune_read_bytes("t.xml", files[i].bytes,
                                             files[i].length, NULL, &document,
                                             &faults),
                         HBK_OK);
        assert_string_equal(document.tune.title, "\xC3\x89tude");
        hbk_tune_document_finish(&document);
    }
    hbk_arena_finish(&arena);
}

static void mutated_scores_are_read_or_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    char *seed = NULL;
    size_t length = 0;
    assert_int_equal(hbk_file_read("tests/data/march.musicxml", 100000, &arena,
                                   &seed, &length, &faults),
                     HBK_OK);
    const size_t room = 2 * length;
    char *const bytes = hbk_arena_zalloc(&arena, room + 1, 1);
    uint32_t random = 1871;
    size_t good = 0;
    for (int i = 0; i < 2000; i++) {
        memcpy(bytes, seed, length);
        const size_t n = mutate(bytes, length, room, &random);
        struct hbk_tune_document document = {.source = NULL};
        faults = (struct hbk_faults){.count = 0};
        const enum hbk_status status =
            hbk_tune_read_bytes("t.xml", bytes, n, NULL, &document, &faults);
        assert_int_equal(status == HBK_OK, faults.errors == 0);
        if (status == HBK_OK) {
            struct hbk_text out = {.arena = &document.arena};
            assert_int_equal(
                hbk_tune_strip(&document, document.format, &out, &faults),
                HBK_OK);
            good++;
        }
        hbk_tune_document_finish(&document);
    }
    assert_true(good > 0);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hostile_documents_are_refused),
        cmocka_unit_test(the_usual_doctype_is_not_fetched),
        cmocka_unit_test(other_encodings_are_read),
        cmocka_unit_test(mutated_scores_are_read_or_refused),
    };
    return cmocka_run_group_tests_name("musicxml_hostile", tests, NULL, NULL);
}
