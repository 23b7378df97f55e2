#include "support/musicxml.h"

#include "tune/musicxml/musicxml_anew.h"
#include "tune/musicxml/zip.h"

#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

/* The zip container of MusicXML: ours, those of others, and damaged ones. */

static const char mimetype[] = "application/vnd.recordare.musicxml";
static const char container[] =
    "<container><rootfiles><rootfile full-path=\"in/score.xml\"/><rootfile "
    "full-path=\"score.pdf\" media-type=\"application/pdf\"/></rootfiles>"
    "</container>";
static const char music[] =
    "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\">"
    "<part-name>Bugle</part-name></score-part></part-list><part id=\"P1\">"
    "<measure number=\"1\"><attributes><divisions>1</divisions></attributes>"
    "<note><pitch><step>C</step><octave>4</octave></pitch><duration>4"
    "</duration></note></measure></part></score-partwise>";

static struct hbk_zip_entry pack(const char *name, const char *text,
                                 struct hbk_arena *arena)
{
    return hbk_zip_pack(name, text, strlen(text), false, arena);
}

static struct hbk_text usual(struct hbk_arena *arena)
{
    const struct hbk_zip_entry entries[] = {
        hbk_zip_pack("mimetype", mimetype, strlen(mimetype), true, arena),
        pack("META-INF/container.xml", container, arena),
        pack("in/score.xml", music, arena),
        pack("in/caf\xC3\xA9.txt", "a file of the user's own", arena),
    };
    struct hbk_text out = {.arena = arena};
    hbk_zip_write(entries, 4, &out);
    return out;
}

static void check_refused(const char *bytes, size_t length, unsigned number)
{
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(
        hbk_tune_read_bytes("t.mxl", bytes, length, NULL, &document, &faults),
        HBK_ERR_INPUT);
    assert_true(faults.count > 0);
    if (faults.items[0].number != number) {
        print_faults(&faults);
    }
    assert_int_equal(faults.items[0].number, number);
    hbk_tune_document_finish(&document);
}

static void check_entries_refused(const struct hbk_zip_entry *entries, size_t n,
                                  unsigned number)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_text out = {.arena = &arena};
    hbk_zip_write(entries, n, &out);
    check_refused(out.bytes, out.length, number);
    hbk_arena_finish(&arena);
}

/*
 * "hello\n" as `zip -X` 3.0 of Info-ZIP packs it, stored: the bytes are from
 * that program, so that the reader is not only tried on its own writer.
 */
static const unsigned char foreign[] = {
    0x50, 0x4b, 0x03, 0x04, 0x0a, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00,
    0x21, 0x00, 0x20, 0x30, 0x3a, 0x36, 0x06, 0x00, 0x00, 0x00, 0x06, 0x00,
    0x00, 0x00, 0x05, 0x00, 0x00, 0x00, 0x61, 0x2e, 0x74, 0x78, 0x74, 0x68,
    0x65, 0x6c, 0x6c, 0x6f, 0x0a, 0x50, 0x4b, 0x01, 0x02, 0x1e, 0x03, 0x0a,
    0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x21, 0x00, 0x20, 0x30, 0x3a,
    0x36, 0x06, 0x00, 0x00, 0x00, 0x06, 0x00, 0x00, 0x00, 0x05, 0x00, 0x00,
    0x00, 0x00, 0x00, 0x00, 0x00, 0x01, 0x00, 0x00, 0x00, 0xa4, 0x81, 0x00,
    0x00, 0x00, 0x00, 0x61, 0x2e, 0x74, 0x78, 0x74, 0x50, 0x4b, 0x05, 0x06,
    0x00, 0x00, 0x00, 0x00, 0x01, 0x00, 0x01, 0x00, 0x33, 0x00, 0x00, 0x00,
    0x29, 0x00, 0x00, 0x00, 0x00, 0x00};

static void zip_files_of_others_are_read(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    struct hbk_zip zip;
    assert_int_equal(hbk_zip_open("a.zip", (const char *)foreign,
                                  sizeof(foreign), &arena, &zip, &faults),
                     HBK_OK);
    const struct hbk_zip_entry *const entry = hbk_zip_find(&zip, "a.txt");
    assert_non_null(entry);
    assert_null(hbk_zip_find(&zip, "A.txt"));
    struct hbk_text out = {.arena = &arena};
    assert_int_equal(hbk_zip_unpack(&zip, entry, 100, &out, &faults), HBK_OK);
    assert_string_equal(out.bytes, "hello\n");
    hbk_arena_finish(&arena);
}

static void a_container_is_read_and_repacked(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text file = usual(&arena);
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_read_bytes("t.mxl", file.bytes, file.length, NULL,
                                         &document, &faults),
                     HBK_OK);
    assert_int_equal(document.format, HBK_TUNE_MXL);
    assert_int_equal(document.tune.events[0].note, 60);
    const struct hbk_tune_fingering fingering = {.main = "1-2"};
    struct hbk_text out = {.arena = &arena};
    assert_int_equal(hbk_tune_annotate(&document, document.format, &fingering,
                                       NULL, &out, &faults),
                     HBK_OK);

    /* First entry: name of 8 letters, stored, no extra field, no newline. */
    assert_memory_equal(out.bytes, "PK\3\4", 4);
    assert_int_equal(out.bytes[8], 0);
    assert_int_equal(out.bytes[28], 0);
    assert_memory_equal(out.bytes + 30, "mimetypeapplication/vnd.recordare",
                        33);
    assert_memory_equal(out.bytes + 72, "PK\3\4", 4);

    struct hbk_zip zip;
    assert_int_equal(
        hbk_zip_open("t.mxl", out.bytes, out.length, &arena, &zip, &faults),
        HBK_OK);
    assert_int_equal(zip.n, 4);
    struct hbk_text other = {.arena = &arena};
    assert_int_equal(hbk_zip_unpack(&zip,
                                    hbk_zip_find(&zip, "in/caf\xC3\xA9"
                                                       ".txt"),
                                    100, &other, &faults),
                     HBK_OK);
    assert_string_equal(other.bytes, "a file of the user's own");

    struct hbk_tune_document again = {.source = NULL};
    assert_int_equal(hbk_tune_read_bytes("t.mxl", out.bytes, out.length, NULL,
                                         &again, &faults),
                     HBK_OK);
    assert_string_equal(again.tune.events[0].fingering, "1-2");
    struct hbk_text stripped = {.arena = &arena};
    assert_int_equal(hbk_tune_strip(&again, again.format, &stripped, &faults),
                     HBK_OK);
    assert_int_equal(stripped.length, file.length);
    assert_memory_equal(stripped.bytes, file.bytes, file.length);
    hbk_tune_document_finish(&again);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void the_same_tune_gives_the_same_bytes(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(
        hbk_tune_from_run("run", "C5 D5:1/8 E5:1/8", &document, &faults),
        HBK_OK);
    struct hbk_text one = {.arena = &arena};
    struct hbk_text two = {.arena = &arena};
    assert_int_equal(hbk_tune_to_mxl(&document.tune, NULL, &one, &faults),
                     HBK_OK);
    assert_int_equal(hbk_tune_to_mxl(&document.tune, NULL, &two, &faults),
                     HBK_OK);
    assert_int_equal(one.length, two.length);
    assert_memory_equal(one.bytes, two.bytes, one.length);
    struct hbk_tune_document again = {.source = NULL};
    assert_int_equal(hbk_tune_read_bytes("t.mxl", one.bytes, one.length, NULL,
                                         &again, &faults),
                     HBK_OK);
    assert_string_equal(describe(&again.tune, &arena),
                        describe(&document.tune, &arena));
    hbk_tune_document_finish(&again);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void containers_without_a_score_are_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_zip_entry score = pack("in/score.xml", music, &arena);
    check_entries_refused(&score, 1, 265);
    const struct hbk_zip_entry lost =
        pack("META-INF/container.xml", container, &arena);
    check_entries_refused(&lost, 1, 265);
    const struct hbk_zip_entry other =
        pack("META-INF/container.xml",
             "<container><rootfiles><rootfile full-path=\"a\" media-type="
             "\"application/pdf\"/></rootfiles></container>",
             &arena);
    check_entries_refused(&other, 1, 265);
    const struct hbk_zip_entry evil =
        pack("META-INF/container.xml",
             "<!DOCTYPE a [<!ENTITY x \"y\">]><container/>", &arena);
    check_entries_refused(&evil, 1, 241);
    hbk_arena_finish(&arena);
}

static void names_that_lead_out_are_refused(void **state)
{
    (void)state;
    static const char *const names[] = {"../a", "a/../../b", "/etc/a",
                                        "a\\b", "C:a",       "\xFF"};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        struct hbk_arena arena = {.newest = NULL};
        const struct hbk_zip_entry entry = pack(names[i], "x", &arena);
        check_entries_refused(&entry, 1, 264);
        hbk_arena_finish(&arena);
    }
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_zip_entry fine = pack("a..b/..c", "x", &arena);
    check_entries_refused(&fine, 1, 265); /* only for want of a container */
    hbk_arena_finish(&arena);
}

static void bombs_are_stopped_while_they_unpack(void **state)
{
    (void)state;
    enum { BOMB = 32 * 1024 * 1024 };
    struct hbk_arena arena = {.newest = NULL};
    const char *const zeros = hbk_arena_zalloc(&arena, BOMB, 1);
    struct hbk_zip_entry entries[] = {
        pack("META-INF/container.xml", container, &arena),
        hbk_zip_pack("in/score.xml", zeros, BOMB, false, &arena),
    };
    entries[1].size = 100; /* a false claim must not help */
    check_entries_refused(entries, 2, 263);
    entries[0] =
        hbk_zip_pack("META-INF/container.xml", zeros, BOMB, false, &arena);
    check_entries_refused(entries, 1, 263);
    entries[0] =
        hbk_zip_pack("META-INF/container.xml", zeros, 70000, true, &arena);
    check_entries_refused(entries, 1, 263);
    hbk_arena_finish(&arena);

    struct hbk_zip_entry many[1001];
    for (size_t i = 0; i < 1001; i++) {
        many[i] = hbk_zip_pack("a", "", 0, true, &arena);
    }
    check_entries_refused(many, 1001, 262);
}

static void damaged_and_locked_containers_are_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text file = usual(&arena);
    check_refused(file.bytes, file.length - 30, 260);
    check_refused("PK\3\4", 4, 260);
    char *const bytes = hbk_arena_copy(&arena, file.bytes, file.length);
    char *list = bytes;
    while (memcmp(list, "PK\1\2", 4) != 0) {
        list++;
    }
    list[8] = 1; /* encrypted */
    check_refused(bytes, file.length, 261);
    list[8] = 0;
    list[10] = 12; /* bzip2 */
    check_refused(bytes, file.length, 261);
    list[10] = 0;
    list[42] = 7; /* no header there */
    check_refused(bytes, file.length, 260);
    list[42] = 0;
    struct hbk_zip_entry wrong[] = {
        pack("META-INF/container.xml", container, &arena)};
    wrong[0].crc ^= 1;
    check_entries_refused(wrong, 1, 260);
    hbk_arena_finish(&arena);
}

/* One that claims the bytes of the score as well is read, and left alone. */
static void files_across_the_score_keep_it_from_being_replaced(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text file = usual(&arena);
    char *const bytes = hbk_arena_copy(&arena, file.bytes, file.length);
    char *list = bytes;
    while (memcmp(list, "PK\1\2", 4) != 0) {
        list++;
    }
    list[21] = 1; /* the first is 256 bytes longer, in the list alone */
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_read_bytes("t.mxl", bytes, file.length, NULL,
                                         &document, &faults),
                     HBK_OK);
    const struct hbk_tune_fingering fingering = {.main = "1-2"};
    struct hbk_text out = {.arena = &arena};
    assert_int_equal(hbk_tune_strip(&document, HBK_TUNE_MXL, &out, &faults),
                     HBK_OK);
    assert_memory_equal(out.bytes, bytes, file.length);
    out = (struct hbk_text){.arena = &arena};
    assert_int_equal(hbk_tune_annotate(&document, HBK_TUNE_MXL, &fingering,
                                       NULL, &out, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 260);
    assert_null(out.bytes);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static unsigned fault_of(const char *bytes, size_t length)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    struct hbk_zip zip;
    const enum hbk_status status =
        hbk_zip_open("a.zip", bytes, length, &arena, &zip, &faults);
    assert_int_equal(status == HBK_OK, faults.count == 0);
    hbk_arena_finish(&arena);
    return faults.count == 0 ? 0 : faults.items[0].number;
}

/*
 * What is wrong with the first `length` bytes of a container, 0 for nothing:
 * as they lie, with what would make it sound behind them, and at the end of
 * what memory can be read.
 */
static unsigned look_into(const char *bytes, size_t length)
{
    const unsigned fault = fault_of(bytes, length);
    const size_t page = (size_t)sysconf(_SC_PAGESIZE);
    const int zero = open("/dev/zero", O_RDWR);
    assert_true(zero >= 0 && length <= page);
    char *const pages =
        mmap(NULL, 2 * page, PROT_READ | PROT_WRITE, MAP_PRIVATE, zero, 0);
    assert_true(pages != MAP_FAILED);
    assert_int_equal(mprotect(pages + page, page, PROT_NONE), 0);
    char *const last = pages + page - length;
    memcpy(last, bytes, length);
    assert_int_equal(fault_of(last, length), fault);
    assert_int_equal(munmap(pages, 2 * page), 0);
    assert_int_equal(close(zero), 0);
    return fault;
}

/*
 * Each length is put one too long. Places in `foreign`: the list of files at
 * 41, its end record at 92 (what stands where: APPNOTE.TXT 4.3.7, 4.3.12 and
 * 4.3.16 of PKWARE, from memory).
 */
static void no_length_leads_past_the_end(void **state)
{
    (void)state;
    enum { LIST = 41, END = 92, NAME = 5, PACKED = 6, RECORD = 46 + NAME };
    char bytes[3 * sizeof(foreign)] = "";
    memcpy(bytes, foreign, sizeof(foreign));
    assert_int_equal(look_into(bytes, sizeof(foreign)), 0);
    assert_int_equal(look_into(bytes, sizeof(foreign) - 1), 260);
    /* A comment of the entry that ends with the file, and one byte beyond. */
    bytes[LIST + 32] = (char)(sizeof(foreign) - LIST - RECORD);
    assert_int_equal(look_into(bytes, sizeof(foreign)), 0);
    bytes[LIST + 32]++;
    assert_int_equal(look_into(bytes, sizeof(foreign)), 260);
    bytes[LIST + 32] = 0;
    /* Packed bytes likewise. */
    bytes[LIST + 20] = (char)(sizeof(foreign) - 30 - NAME);
    assert_int_equal(look_into(bytes, sizeof(foreign)), 0);
    bytes[LIST + 20]++;
    assert_int_equal(look_into(bytes, sizeof(foreign)), 260);
    bytes[LIST + 20] = PACKED;
    /* The header of a file, or the list, behind all else and cut off. */
    const size_t at = sizeof(foreign) + 31;
    memcpy(bytes + at, foreign, 30 + NAME + PACKED);
    bytes[LIST + 42] = (char)at;
    for (size_t n = 0; n < 30 + NAME + PACKED; n++) {
        assert_int_equal(look_into(bytes, at + n), 260);
    }
    assert_int_equal(look_into(bytes, at + 30 + NAME + PACKED), 0);
    bytes[LIST + 42] = 0;
    memcpy(bytes + at, foreign + LIST, RECORD);
    bytes[END + 16] = (char)at;
    for (size_t n = 0; n < RECORD; n++) {
        assert_int_equal(look_into(bytes, at + n), 260);
    }
    assert_int_equal(look_into(bytes, at + RECORD), 0);
    /* An end record, of no files, that begins before the bytes given do. */
    bytes[END + 10] = 0;
    assert_int_equal(look_into(bytes + END, 22), 0);
    for (size_t n = 0; n < 22; n++) {
        assert_int_equal(look_into(bytes + END + n, 22 - n - (n == 0)), 260);
    }
}

static void mutated_containers_are_read_or_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const struct hbk_text file = usual(&arena);
    const size_t room = 2 * file.length;
    char *const bytes = hbk_arena_zalloc(&arena, room + 1, 1);
    uint32_t random = 90125;
    for (int i = 0; i < 5000; i++) {
        memcpy(bytes, file.bytes, file.length);
        const size_t n = mutate(bytes, file.length, room, &random);
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const enum hbk_status status =
            hbk_tune_read_bytes("t.mxl", bytes, n, NULL, &document, &faults);
        assert_int_equal(status == HBK_OK, faults.errors == 0);
        hbk_tune_document_finish(&document);
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zip_files_of_others_are_read),
        cmocka_unit_test(a_container_is_read_and_repacked),
        cmocka_unit_test(the_same_tune_gives_the_same_bytes),
        cmocka_unit_test(containers_without_a_score_are_refused),
        cmocka_unit_test(names_that_lead_out_are_refused),
        cmocka_unit_test(bombs_are_stopped_while_they_unpack),
        cmocka_unit_test(damaged_and_locked_containers_are_refused),
        cmocka_unit_test(files_across_the_score_keep_it_from_being_replaced),
        cmocka_unit_test(no_length_leads_past_the_end),
        cmocka_unit_test(mutated_containers_are_read_or_refused),
    };
    return cmocka_run_group_tests_name("mxl", tests, NULL, NULL);
}
