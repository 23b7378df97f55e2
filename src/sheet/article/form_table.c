#include "sheet/article/form_table.h"

/* At unit 1, mm. */
static const double title_tall = 5.4;
static const double head_tall = 8.6;
static const double rule_pen = 0.13;
static const double edge_pen = 0.3;
static const double cell_gap = 0.9;

static const double title_points = 10.5;
static const double name_points = 8.0;
static const double below_points = 8.5;
static const double number_points = 10.0;
static const double print_points = 9.0;

/* No words are made smaller than this share of their size. */
static const double least_share = 0.95;

static double title_height(const struct hbk_form_table *table)
{
    return table->title[0] == '\0' ? 0.0 : title_tall * table->unit;
}

double hbk_form_table_width(const struct hbk_form_table *table)
{
    double width = 0.0;
    for (size_t i = 0; i < table->n_columns; i++) {
        width += table->columns[i].width * table->unit;
    }
    return width;
}

double hbk_form_table_height(const struct hbk_form_table *table)
{
    return title_height(table) +
           (head_tall + (double)table->n_rows * HBK_FORM_ROW) * table->unit;
}

size_t hbk_form_table_rows(const struct hbk_form_table *table, double room)
{
    const double left = room - title_height(table) - head_tall * table->unit;
    return left < 0.0 ? 0
                      : (size_t)((left + 1e-6) / (HBK_FORM_ROW * table->unit));
}

static void put(struct hbk_pad *pad, double x, double y, struct hbk_style style,
                double room, const char *words)
{
    style = hbk_pad_fit(pad, style, room, least_share, words);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y, style, words);
}

/* The rules, which may cross each other: one group. */
static void draw_rules(struct hbk_pad *pad, const struct hbk_form_table *table,
                       double x, double y)
{
    const double u = table->unit;
    const double width = hbk_form_table_width(table);
    const double head = y + head_tall * u;
    const double bottom = head + (double)table->n_rows * HBK_FORM_ROW * u;
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y, width, 0.0, edge_pen * u);
    for (size_t row = 0; row <= table->n_rows; row++) {
        const bool is_edge = row == 0 || row == table->n_rows;
        hbk_pad_line(pad, x, head + (double)row * HBK_FORM_ROW * u, width, 0.0,
                     (is_edge ? edge_pen : rule_pen) * u);
    }
    for (size_t i = 1; i < table->n_columns; i++) {
        x += table->columns[i - 1].width * u;
        hbk_pad_line(pad, x, y, 0.0, bottom - y, rule_pen * u);
    }
}

static void draw_head(struct hbk_pad *pad, const struct hbk_form_table *table,
                      double x, double y)
{
    const double u = table->unit;
    hbk_pad_open(pad, HBK_TAG_ROW);
    for (size_t i = 0; i < table->n_columns; i++) {
        const struct hbk_form_column *const column = &table->columns[i];
        const double room = (column->width - 2.0 * cell_gap) * u;
        const double middle = x + 0.5 * column->width * u;
        hbk_pad_open(pad, HBK_TAG_COLUMN);
        put(pad, middle, y + 3.4 * u,
            hbk_style_of(HBK_FACE_BOLD, name_points, u, HBK_CENTRE), room,
            column->name);
        put(pad, middle, y + 7.1 * u,
            hbk_style_of(HBK_FACE_ITALIC, below_points, u, HBK_CENTRE), room,
            column->below);
        hbk_pad_close(pad, HBK_TAG_COLUMN);
        x += column->width * u;
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}

static void draw_row(struct hbk_pad *pad, const struct hbk_form_table *table,
                     size_t row, double x, double y)
{
    const double u = table->unit;
    const double base = y + 0.64 * HBK_FORM_ROW * u;
    for (size_t i = 0; i < table->n_columns; i++) {
        const struct hbk_form_column *const column = &table->columns[i];
        const double middle = x + 0.5 * column->width * u;
        const double room = (column->width - 2.0 * cell_gap) * u;
        const bool is_number = i == 0 && table->is_numbered;
        const enum hbk_tag tag = is_number ? HBK_TAG_HEADER : HBK_TAG_CELL;
        hbk_pad_open(pad, tag);
        if (is_number) {
            put(pad, middle, base,
                hbk_style_of(HBK_FACE_BOLD, number_points, u, HBK_CENTRE), room,
                hbk_arena_printf(pad->sheet->arena, "%zu", table->first + row));
        } else if (column->print != NULL) {
            put(pad, middle, base,
                hbk_style_of(HBK_FACE_ITALIC, print_points, u, HBK_CENTRE),
                room, column->print);
        } else {
            hbk_pad_say(pad, middle, base, "to fill in");
        }
        hbk_pad_close(pad, tag);
        x += column->width * u;
    }
}

void hbk_form_table_draw(struct hbk_pad *pad,
                         const struct hbk_form_table *table, double x, double y)
{
    const double u = table->unit;
    if (table->title[0] != '\0') {
        hbk_pad_group(pad);
        hbk_pad_open(pad, HBK_TAG_HEADING);
        hbk_pad_text(pad, x, y + 3.6 * u,
                     hbk_style_of(HBK_FACE_CAPS, title_points, u, HBK_LEFT),
                     table->title);
        hbk_pad_close(pad, HBK_TAG_HEADING);
    }
    y += title_height(table);
    hbk_pad_open(pad, HBK_TAG_TABLE);
    draw_rules(pad, table, x, y);
    draw_head(pad, table, x, y);
    for (size_t row = 0; row < table->n_rows; row++) {
        hbk_pad_open(pad, HBK_TAG_ROW);
        draw_row(pad, table, row, x,
                 y + (head_tall + (double)row * HBK_FORM_ROW) * u);
        hbk_pad_close(pad, HBK_TAG_ROW);
    }
    hbk_pad_close(pad, HBK_TAG_TABLE);
}

void hbk_form_fields_draw(struct hbk_pad *pad, size_t n,
                          const struct hbk_form_field *fields, double unit,
                          double x, double y)
{
    const struct hbk_style bold =
        hbk_style_of(HBK_FACE_BOLD, name_points, unit, HBK_LEFT);
    const struct hbk_style italic =
        hbk_style_of(HBK_FACE_ITALIC, below_points, unit, HBK_LEFT);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_form_field *const field = &fields[i];
        const double end = x + field->width * unit;
        const double base = y - 0.8 * unit;
        const double from =
            x + hbk_pad_width(pad, bold, field->name) + 1.2 * unit;
        const double behind =
            field->unit[0] == '\0'
                ? 0.0
                : hbk_pad_width(pad, italic, field->unit) + 1.0 * unit;
        hbk_pad_group(pad);
        hbk_pad_text(pad, x, base, bold, field->name);
        hbk_pad_text(pad, end - behind + 1.0 * unit, base, italic, field->unit);
        hbk_pad_line(pad, from, y, end - behind - from, 0.0, rule_pen * unit);
        x = end + HBK_FORM_BETWEEN * unit;
    }
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}
