/* Horn files with faults: in what order they come, and that none crashes. */
#include "support/horn_files.h"

#include "base/file.h"

static void faults_come_in_the_order_of_the_file(void **state)
{
    (void)state;
    struct hbk_horn horn;
    struct hbk_faults faults;
    /* The reader meets these from the last line to the first. */
    assert_int_equal(
        read_text("hornbook: 1\nslides: [{slide: main}]\nvalves: [{valve: 1}]\n"
                  "bore: [[1, 2]]\nclef: x\nname: ''\nlength: 1312\n",
                  &horn, &faults),
        HBK_ERR_INPUT);
    assert_true(faults.count >= 7);
    for (size_t i = 1; i < faults.count; i++) {
        assert_true(faults.items[i - 1].line <= faults.items[i].line);
    }
    hbk_horn_finish(&horn);
}

static void all_faults_of_a_long_file_are_counted(void **state)
{
    (void)state;
    struct hbk_horn horn;
    struct hbk_faults faults;
    char text[4096] = "hornbook: 1\nname: X\nwritten_c4_sounds: C4\n"
                      "length: 1312\nkeys:\n";
    for (int i = 1; i <= 25; i++) {
        const size_t used = strlen(text);
        (void)snprintf(text + used, sizeof(text) - used,
                       "- {key: %d, rest: shut, raises: 1, finger: none}\n", i);
    }
    assert_int_equal(read_text(text, &horn, &faults), HBK_ERR_INPUT);
    assert_int_equal(faults.count, HBK_FAULTS_MAX);
    assert_int_equal(faults.errors, 25);
    hbk_horn_finish(&horn);
}

/* What horn_file.h promises of every horn it returns. */
static void check_sound(const struct hbk_horn *horn)
{
    uint32_t worked = 0;
    assert_non_null(horn->name);
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        assert_in_range(site->n_terms, 1, HBK_TERMS_MAX);
        for (size_t t = 0; t < site->n_terms; t++) {
            assert_true(site->terms[t] != 0);
            assert_true(horn->n_controls == 32 ||
                        site->terms[t] >> horn->n_controls == 0);
            worked |= site->terms[t];
        }
        if (site->kind == HBK_LOOP) {
            assert_true(site->loop.value > 0.0);
        } else {
            assert_true(!isnan(site->hole.raises) ||
                        site->hole.from_bell_m > 0.0);
        }
        if (horn->model == HBK_MODEL_BORE) {
            const double end =
                horn->bore.stations[horn->bore.n_stations - 1].x_m;
            assert_true(site->at_m >= 0.0 && site->at_m < end);
        }
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        assert_true((worked >> i & 1U) != 0);
        assert_in_range(horn->controls[i].n_fingers, 1, HBK_FINGERS_MAX);
    }
    assert_true(horn->partials.lowest <= horn->partials.highest);
    assert_true(horn->n_slides <= HBK_SLIDES_MAX);
    for (size_t s = 0; s < horn->n_slides; s++) {
        assert_true(horn->slides[s].stands_out_m >= 0.0 &&
                    horn->slides[s].stands_out_m <= horn->slides[s].travel_m);
    }
    if (horn->model == HBK_MODEL_LENGTH) {
        assert_true(isnan(horn->length_m) != isnan(horn->fundamental_hz));
    }
}

/* xorshift32, so that the changes are the same everywhere. */
static uint32_t next_random(uint32_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed;
}

/* Changes a digit, cuts a piece, doubles one, or puts a morsel in. */
static size_t mutate(char *text, size_t length, size_t room, uint32_t *seed)
{
    static const char *const morsels[] = {
        "-",    "0",        "99999",    "[",      "]",
        "{",    "}",        ":",        ": ",     "\n",
        "  ",   "~",        "&a",       "*a",     "!t",
        "\"",   "'",        "|",        "#",      "1e308",
        ".nan", "at: 5",    "rest: in", "key: 1", "when: [1, 2]",
        "\xC3", "\xC3\xA9", "\t",       ",",      "opens: [1]"};
    const size_t n = sizeof(morsels) / sizeof(morsels[0]);
    const size_t at = length == 0 ? 0 : next_random(seed) % length;
    size_t size = 1 + (next_random(seed) % 40);
    size = size < length - at ? size : length - at;
    const uint32_t kind = next_random(seed) % 4;
    if (kind == 3) {
        const size_t digit = at + strcspn(text + at, "0123456789");
        if (digit < length) {
            text[digit] = (char)('0' + (next_random(seed) % 10));
        }
        return length;
    }
    if (kind == 0) {
        memmove(text + at, text + at + size, length - at - size);
        return length - size;
    }
    const char *const piece =
        kind == 1 ? morsels[next_random(seed) % n] : text + at;
    char copy[64];
    size = kind == 1 ? strlen(piece) : size;
    memcpy(copy, piece, size);
    if (length + size > room) {
        return length;
    }
    memmove(text + at + size, text + at, length - at);
    memcpy(text + at, copy, size);
    return length + size;
}

static void damaged_files_are_refused_or_sound(void **state)
{
    (void)state;
    static const char *const names[] = {
        "ascending",       "based-on",
        "bugle-by-bore",   "bugle-with-mouthpiece",
        "compensating",    "keyed-bugle-by-length",
        "six-independent", "yaml-forms"};
    enum { ROUNDS = 700, ROOM = 8192 };
    uint32_t seed = 0x1825;
    size_t accepted = 0;
    size_t refused = 0;
    for (size_t f = 0; f < sizeof(names) / sizeof(names[0]); f++) {
        struct hbk_arena arena = {0};
        struct hbk_faults none = {0};
        char *original = NULL;
        size_t size = 0;
        const char *const path =
            hbk_arena_printf(&arena, "tests/data/good/%s.yaml", names[f]);
        assert_int_equal(
            hbk_file_read(path, ROOM, &arena, &original, &size, &none), HBK_OK);
        for (int round = 0; round < ROUNDS; round++) {
            static char text[ROOM + 1];
            memset(text, 0, sizeof(text));
            memcpy(text, original, size);
            size_t length = size;
            const uint32_t changes = 1 + (next_random(&seed) % 3);
            for (uint32_t c = 0; c < changes; c++) {
                length = mutate(text, length, ROOM, &seed);
            }
            struct hbk_horn horn;
            struct hbk_faults faults = {0};
            if (hbk_horn_read_text(path, text, length, &horn, &faults) ==
                HBK_OK) {
                check_sound(&horn);
                assert_int_equal(faults.errors, 0);
                accepted++;
            } else {
                assert_true(faults.errors > 0);
                refused++;
            }
            hbk_horn_finish(&horn);
        }
        hbk_arena_finish(&arena);
    }
    /* Both ways were really tried. */
    assert_true(accepted > 500);
    assert_true(refused > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faults_come_in_the_order_of_the_file),
        cmocka_unit_test(all_faults_of_a_long_file_are_counted),
        cmocka_unit_test(damaged_files_are_refused_or_sound),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
