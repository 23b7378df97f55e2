#include "support/solved.h"

#include "horn/pull.h"

static void check_pull(const struct hbk_horn *horn, double draw_mm,
                       const char *wanted)
{
    char text[HBK_PULL_SIZE];
    assert_string_equal(hbk_pull_text(horn, 1e-3 * draw_mm, text), wanted);
}

static void an_assumed_length_is_told_in_whole_mm(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    assert_int_equal(s.horn.provenance[HBK_PART_LENGTH], HBK_ASSUMED);
    check_pull(&s.horn, 11.52, "12");
    check_pull(&s.horn, -0.3, "0");
    check_pull(&s.horn, -3.1, "-3");
    s.horn.provenance[HBK_PART_LENGTH] = HBK_UNSTATED;
    check_pull(&s.horn, 11.3, "11");
    solved_close(&s);
}

static void a_known_length_is_told_in_halves(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    static const enum hbk_provenance known[] = {HBK_MEASURED, HBK_CATALOGUE};
    for (size_t i = 0; i < 2; i++) {
        s.horn.provenance[HBK_PART_LENGTH] = known[i];
        check_pull(&s.horn, 11.52, "11.5");
        check_pull(&s.horn, 11.8, "12");
        check_pull(&s.horn, 0.2, "0");
    }
    s.horn.provenance[HBK_PART_LENGTH] = HBK_ASSUMED;
    s.horn.fitted.n_readings = 12;
    check_pull(&s.horn, 11.52, "11.5");
    solved_close(&s);
}

/* Of a bored horn the cup counts: a ml moves it by more than a mm. */
static void an_assumed_mouthpiece_spoils_a_measured_bore(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "ophicleide-c-9-museum");
    s.horn.provenance[HBK_PART_BORE] = HBK_MEASURED;
    s.horn.provenance[HBK_PART_MOUTHPIECE] = HBK_ASSUMED;
    s.horn.bore.mouthpiece.given = true;
    check_pull(&s.horn, 11.52, "12");
    s.horn.provenance[HBK_PART_MOUTHPIECE] = HBK_MEASURED;
    check_pull(&s.horn, 11.52, "11.5");
    s.horn.bore.mouthpiece.given = false;
    s.horn.provenance[HBK_PART_MOUTHPIECE] = HBK_UNSTATED;
    check_pull(&s.horn, 11.52, "11.5");
    solved_close(&s);
}

static void no_slide_is_told_to_go_beyond_its_travel(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    struct hbk_slide slides[1] = {s.horn.slides[0]};
    slides[0].travel_m = 7.6e-3;
    s.horn.slides = slides;
    char text[HBK_PULL_SIZE];
    assert_string_equal(hbk_pull_slide_text(&s.horn, 0, 7.6e-3, text), "7.6");
    assert_string_equal(hbk_pull_slide_text(&s.horn, 0, 7.4e-3, text), "7");
    /* What a slide would want, and has not, is told as it is. */
    assert_string_equal(hbk_pull_slide_text(&s.horn, 0, 9.7e-3, text), "10");
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_assumed_length_is_told_in_whole_mm),
        cmocka_unit_test(a_known_length_is_told_in_halves),
        cmocka_unit_test(an_assumed_mouthpiece_spoils_a_measured_bore),
        cmocka_unit_test(no_slide_is_told_to_go_beyond_its_travel),
    };
    return cmocka_run_group_tests_name("pull", tests, NULL, NULL);
}
