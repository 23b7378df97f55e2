/* The grid of the hands that stand chart, card and parts draw. */
#include "support/check.h"
#include "support/solved.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "sheet/block/cells.h"

#include <math.h>

static struct hbk_cells cells_of(const struct solved *solved)
{
    struct hbk_cells cells;
    hbk_cells_arrange(&solved->horn, 0, &cells);
    return cells;
}

/* The spot of a control. */
static const struct hbk_cell_spot *spot_of(const struct hbk_cells *cells,
                                           const char *label)
{
    for (size_t i = 0; i < cells->n; i++) {
        char name[HBK_LABEL_SIZE];
        hbk_horn_control_label(cells->horn, cells->spots[i].control, name,
                               sizeof(name));
        if (strcmp(name, label) == 0) {
            return &cells->spots[i];
        }
    }
    fail();
    return NULL;
}

static void fingers_are_rows_and_hands_are_columns(void **state)
{
    (void)state;
    struct solved solved;
    solved_read(&solved, "keyed-bugle-c-6");
    const struct hbk_cells cells = cells_of(&solved);
    assert_int_equal(cells.n, 6);
    assert_int_equal(cells.n_hands, 2);
    assert_true(cells.left[0] && !cells.left[1]);
    /* No finger is called middle here: thumb, index, ring and little. */
    assert_int_equal(cells.n_rows, 4);
    static const char *const names[] = {"thumb", "index", "ring", "little"};
    for (size_t i = 0; i < 4; i++) {
        assert_string_equal(hbk_cells_finger(&cells, i), names[i]);
    }
    assert_int_equal(spot_of(&cells, "5")->row, 0);
    assert_int_equal(spot_of(&cells, "5")->hand, 0);
    assert_int_equal(spot_of(&cells, "1")->row, 3);
    assert_int_equal(spot_of(&cells, "1")->hand, 1);
    solved_close(&solved);
}

static void two_keys_of_a_finger_stand_side_by_side(void **state)
{
    (void)state;
    struct solved solved;
    solved_read(&solved, "ophicleide-c-11");
    const struct hbk_cells cells = cells_of(&solved);
    const struct hbk_cell_spot *five = spot_of(&cells, "5");
    const struct hbk_cell_spot *seven = spot_of(&cells, "7");
    assert_int_equal(five->row, seven->row);
    assert_int_equal(five->of, 2);
    assert_int_equal(five->place, 0);
    assert_int_equal(seven->place, 1);
    assert_int_equal(hbk_cells_across(&cells), 3);
    solved_close(&solved);
}

/* Twelve keys on one thumb: pairs below each other, the finger named once. */
static void more_keys_of_a_finger_go_on_below(void **state)
{
    (void)state;
    static struct hbk_horn horn;
    hbk_horn_init(&horn);
    static const char *const names[] = {"1", "2", "3", "4", "5"};
    for (size_t i = 0; i < 5; i++) {
        horn.controls[horn.n_controls++] =
            (struct hbk_control){.kind = HBK_KEY,
                                 .name = names[i],
                                 .n_fingers = 1,
                                 .fingers = {HBK_R_THUMB}};
    }
    struct hbk_cells cells;
    hbk_cells_arrange(&horn, 0, &cells);
    assert_int_equal(cells.n_rows, 3);
    assert_int_equal(cells.n_hands, 1);
    assert_false(cells.left[0]);
    assert_string_equal(hbk_cells_finger(&cells, 0), "thumb");
    assert_string_equal(hbk_cells_finger(&cells, 1), "");
    assert_int_equal(cells.spots[4].row, 2);
    assert_int_equal(cells.spots[4].of, 1);
    hbk_horn_finish(&horn);
}

/* No two discs touch at any size, and the least size keeps its promise. */
static void discs_keep_clear_of_each_other(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t h = 0; h < n; h++) {
        struct solved solved;
        solved_read(&solved, horns[h].name);
        const struct hbk_cells cells = cells_of(&solved);
        const struct hbk_cells_size sizes[] = {
            hbk_cells_least(&cells, 1.5), {19.0, 8.0, 3.4}, {14.0, 4.0, 0.0}};
        for (size_t k = 0; k < 3 && cells.n > 0; k++) {
            const double radius = hbk_cells_radius(&cells, &sizes[k]);
            if (k == 0) {
                check_abs(radius, 1.5, 1e-9);
            }
            for (size_t i = 0; i < cells.n; i++) {
                const struct hbk_point a = hbk_cells_at(&cells, &sizes[k], i);
                assert_true(a.x >= radius && a.x <= sizes[k].width - radius);
                for (size_t j = 0; j < i; j++) {
                    const struct hbk_point b =
                        hbk_cells_at(&cells, &sizes[k], j);
                    assert_true(hypot(a.x - b.x, a.y - b.y) > 2.0 * radius);
                }
            }
        }
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fingers_are_rows_and_hands_are_columns),
        cmocka_unit_test(two_keys_of_a_finger_stand_side_by_side),
        cmocka_unit_test(more_keys_of_a_finger_go_on_below),
        cmocka_unit_test(discs_keep_clear_of_each_other),
    };
    return cmocka_run_group_tests_name("cells", tests, NULL, NULL);
}
