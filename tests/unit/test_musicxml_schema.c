#include "support/marked.h"
#include "support/musicxml.h"

#include <dirent.h>

/*
 * What is written is valid by the W3C schema of MusicXML 4.0, where the
 * environment names a folder that has it: musicxml.xsd and catalog.xml of
 * the W3C Music Notation Community Group, tag v4.0.
 */

/* A valid file stays valid with a fingering and two alternates at each note. */
static void check_fingered_file(xmlSchema *schema, const char *path)
{
    static const char *const alternates[] = {"1-3", "<T>"};
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    struct hbk_tune_document document = {.source = NULL};
    assert_int_equal(hbk_tune_read(path, NULL, &document, &faults), HBK_OK);
    struct hbk_text bare = {.arena = &arena};
    assert_int_equal(hbk_tune_strip(&document, document.format, &bare, &faults),
                     HBK_OK);
    check_valid(schema, bare.bytes, bare.length);
    struct hbk_tune_fingering *const fingerings = HBK_ARENA_ARRAY(
        &arena, struct hbk_tune_fingering, document.tune.n_events);
    for (size_t i = 0; i < document.tune.n_events; i++) {
        fingerings[i] = (struct hbk_tune_fingering){
            .main = "1-2", .alternates = alternates, .n_alternates = 2};
    }
    struct hbk_text out = {.arena = &arena};
    assert_int_equal(hbk_tune_annotate(&document, document.format, fingerings,
                                       NULL, &out, &faults),
                     HBK_OK);
    check_valid(schema, out.bytes, out.length);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* The files of marks, written anew, and those that were MusicXML fingered. */
static void check_files_of_marks(xmlSchema *schema)
{
    DIR *const folder = opendir("tests/data/marks");
    assert_non_null(folder);
    for (const struct dirent *at = readdir(folder); at != NULL;
         at = readdir(folder)) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const char *const path =
            hbk_arena_printf(&arena, "tests/data/marks/%s", at->d_name);
        if (at->d_name[0] != '.' &&
            hbk_tune_read(path, NULL, &document, &faults) == HBK_OK) {
            const char *const xml = to_musicxml(&document.tune, &arena);
            check_valid(schema, xml, strlen(xml));
            if (document.format == HBK_TUNE_MUSICXML) {
                check_fingered_file(schema, path);
            }
        }
        hbk_tune_document_finish(&document);
        hbk_arena_finish(&arena);
    }
    assert_int_equal(closedir(folder), 0);
}

static void output_is_valid_by_the_schema(void **state)
{
    (void)state;
    xmlSchema *const schema = load_schema();
    assert_non_null(schema);
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    read_text(rich_abc, &document);
    const char *xml = to_musicxml(&document.tune, &arena);
    check_valid(schema, xml, strlen(xml));
    hbk_tune_document_finish(&document);
    for (int i = 1; i <= 12; i++) {
        char number[8];
        (void)snprintf(number, sizeof(number), "%d", i);
        document = (struct hbk_tune_document){.source = NULL};
        read_book(number, &document);
        xml = to_musicxml(&document.tune, &arena);
        check_valid(schema, xml, strlen(xml));
        hbk_tune_document_finish(&document);
    }
    for (size_t i = 0; i < sizeof(marked_tunes) / sizeof(marked_tunes[0]);
         i++) {
        document = (struct hbk_tune_document){.source = NULL};
        read_text(marked_tunes[i], &document);
        xml = to_musicxml(&document.tune, &arena);
        check_valid(schema, xml, strlen(xml));
        hbk_tune_document_finish(&document);
    }
    check_files_of_marks(schema);
    check_fingered_file(schema, "tests/data/march.musicxml");
    check_fingered_file(schema, "tests/data/quickstep.musicxml");
    hbk_arena_finish(&arena);
    xmlSchemaFree(schema);
}

int main(void)
{
    const char *const folder = getenv("HORNBOOK_MUSICXML");
    if (folder == NULL || folder[0] == '\0') {
        (void)puts("1..0 # SKIP HORNBOOK_MUSICXML names no folder with the "
                   "W3C schema");
        return 0;
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(output_is_valid_by_the_schema),
    };
    return cmocka_run_group_tests_name("musicxml_schema", tests, NULL, NULL);
}
