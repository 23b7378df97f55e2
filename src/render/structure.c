#include "render/structure.h"

#include <math.h>
#include <string.h>

/* What the tags are called in PDF (ISO 32000-1, 14.8.4). */
static const char *role_of(enum hbk_tag tag)
{
    static const char *const roles[] = {
        [HBK_TAG_SECTION] = "Sect", [HBK_TAG_TITLE] = "H1",
        [HBK_TAG_HEADING] = "H2",   [HBK_TAG_PARAGRAPH] = "P",
        [HBK_TAG_TABLE] = "Table",  [HBK_TAG_ROW] = "TR",
        [HBK_TAG_COLUMN] = "TH",    [HBK_TAG_HEADER] = "TH",
        [HBK_TAG_CELL] = "TD",      [HBK_TAG_FIGURE] = "Figure",
        [HBK_TAG_ARTIFACT] = NULL};
    return roles[tag];
}

static size_t add_element(struct hbk_structure *structure, const char *role)
{
    HBK_ARENA_GROW(structure->arena, structure->elements, structure->n,
                   structure->capacity);
    struct hbk_element *element = &structure->elements[structure->n];
    *element = (struct hbk_element){.role = role,
                                    .parent = structure->open,
                                    .low = {INFINITY, INFINITY},
                                    .high = {-INFINITY, -INFINITY}};
    return structure->n++;
}

static void add_kid(struct hbk_structure *structure, size_t of,
                    struct hbk_kid kid)
{
    struct hbk_element *element = &structure->elements[of];
    HBK_ARENA_GROW(structure->arena, element->kids, element->n_kids,
                   element->capacity);
    element->kids[element->n_kids++] = kid;
}

static void add_run(struct hbk_structure *structure, size_t element,
                    bool is_said)
{
    const size_t page = structure->n_pages - 1;
    size_t number = 0;
    for (size_t i = structure->n_runs; i > 0; i--) {
        const struct hbk_run *before = &structure->runs[i - 1];
        if (before->page != page) {
            break;
        }
        if (before->element != HBK_NO_ELEMENT) {
            number = before->number + 1;
            break;
        }
    }
    HBK_ARENA_GROW(structure->arena, structure->runs, structure->n_runs,
                   structure->runs_capacity);
    structure->runs[structure->n_runs] =
        (struct hbk_run){element, page, number, is_said};
    if (element != HBK_NO_ELEMENT) {
        add_kid(structure, element,
                (struct hbk_kid){.is_run = true, .index = structure->n_runs});
    }
    structure->n_runs++;
}

void hbk_structure_page(struct hbk_structure *structure)
{
    if (structure->n == 0) {
        add_element(structure, "Document");
    }
    structure->n_pages++;
    add_run(structure, HBK_NO_ELEMENT, false);
}

static void open_part(struct hbk_structure *structure,
                      const struct hbk_mark *mark)
{
    const bool in_figure = structure->elements[structure->open].alt != NULL;
    if (structure->artifacts > 0 || in_figure) {
        structure->hidden++;
        return;
    }
    if (mark->tag == HBK_TAG_ARTIFACT) {
        structure->artifacts++;
        return;
    }
    const size_t element = add_element(structure, role_of(mark->tag));
    struct hbk_element *opened = &structure->elements[element];
    opened->scope = mark->tag == HBK_TAG_COLUMN   ? "Column"
                    : mark->tag == HBK_TAG_HEADER ? "Row"
                                                  : NULL;
    if (mark->tag == HBK_TAG_FIGURE) {
        opened->alt = mark->text == NULL ? "" : mark->text;
    }
    add_kid(structure, structure->open, (struct hbk_kid){.index = element});
    structure->open = element;
}

/* Whether every cell of a row is the head of a column. */
static bool is_head(const struct hbk_structure *structure, size_t row)
{
    const struct hbk_element *element = &structure->elements[row];
    for (size_t i = 0; i < element->n_kids; i++) {
        const char *scope =
            element->kids[i].is_run
                ? NULL
                : structure->elements[element->kids[i].index].scope;
        if (scope == NULL || strcmp(scope, "Column") != 0) {
            return false;
        }
    }
    return element->n_kids > 0;
}

/* The rows of a table that begins with heads go into its head and body. */
static void part_table(struct hbk_structure *structure, size_t table)
{
    const struct hbk_element whole = structure->elements[table];
    size_t heads = 0;
    while (heads < whole.n_kids && !whole.kids[heads].is_run &&
           is_head(structure, whole.kids[heads].index)) {
        heads++;
    }
    if (heads == 0 || heads == whole.n_kids) {
        return;
    }
    structure->elements[table].kids = NULL;
    structure->elements[table].n_kids = 0;
    structure->elements[table].capacity = 0;
    structure->open = table;
    const size_t parts[] = {add_element(structure, "THead"),
                            add_element(structure, "TBody")};
    for (size_t i = 0; i < 2; i++) {
        add_kid(structure, table, (struct hbk_kid){.index = parts[i]});
    }
    for (size_t i = 0; i < whole.n_kids; i++) {
        const size_t part = parts[i < heads ? 0 : 1];
        add_kid(structure, part, whole.kids[i]);
        structure->elements[whole.kids[i].index].parent = part;
    }
}

static void close_part(struct hbk_structure *structure, enum hbk_tag tag)
{
    if (structure->hidden > 0) {
        structure->hidden--;
    } else if (tag == HBK_TAG_ARTIFACT) {
        structure->artifacts--;
    } else {
        const size_t closed = structure->open;
        if (tag == HBK_TAG_TABLE) {
            part_table(structure, closed);
        }
        structure->open = structure->elements[closed].parent;
    }
}

static void reach(struct hbk_element *figure, double x, double y)
{
    figure->low.x = fmin(figure->low.x, x);
    figure->low.y = fmin(figure->low.y, y);
    figure->high.x = fmax(figure->high.x, x);
    figure->high.y = fmax(figure->high.y, y);
}

/* The box of a figure grows by a mark; of text, from foot to cap. */
static void enclose(const struct hbk_structure *structure,
                    struct hbk_element *figure, const struct hbk_mark *mark)
{
    const double half = 0.5 * mark->pen;
    double wide = mark->dx;
    double tall = mark->dy;
    double x = mark->x;
    double y = mark->y;
    if (mark->kind == HBK_RING || mark->kind == HBK_DISC) {
        x -= mark->dx;
        y -= mark->dx;
        wide = tall = 2.0 * mark->dx;
    } else if (mark->kind == HBK_TEXT) {
        static const double shares[] = {
            [HBK_LEFT] = 0.0, [HBK_CENTRE] = 0.5, [HBK_RIGHT] = 1.0};
        const double length = structure->ruler->text_width(
            structure->ruler->ctx, mark->face, mark->size, mark->text);
        const double before = shares[mark->align] * length;
        x -= mark->turned ? 0.75 * mark->size : before;
        y -= mark->turned ? length - before : 0.75 * mark->size;
        wide = mark->turned ? mark->size : length;
        tall = mark->turned ? length : mark->size;
    } else if (mark->kind == HBK_GLYPH) {
        y -= 0.5 * mark->size;
        wide = 0.5 * mark->size;
        tall = mark->size;
    }
    for (size_t i = 0; i < mark->n_points; i++) {
        reach(figure, mark->points[i].x - half, mark->points[i].y - half);
        reach(figure, mark->points[i].x + half, mark->points[i].y + half);
    }
    if (mark->n_points == 0) {
        reach(figure, fmin(x, x + wide) - half, fmin(y, y + tall) - half);
        reach(figure, fmax(x, x + wide) + half, fmax(y, y + tall) + half);
    }
}

bool hbk_structure_hears(const struct hbk_structure *structure)
{
    return structure->artifacts == 0 && structure->open != 0 &&
           structure->elements[structure->open].alt == NULL;
}

bool hbk_structure_take(struct hbk_structure *structure,
                        const struct hbk_mark *mark)
{
    if (mark->kind == HBK_OPEN) {
        open_part(structure, mark);
        return false;
    }
    if (mark->kind == HBK_CLOSE) {
        close_part(structure, mark->tag);
        return false;
    }
    struct hbk_element *open = &structure->elements[structure->open];
    const bool in_figure = open->alt != NULL;
    const bool mute = mark->reads != NULL && mark->reads[0] == '\0';
    const bool speaks = (mark->kind == HBK_TEXT && !mute) ||
                        mark->kind == HBK_SAY ||
                        (mark->kind == HBK_GLYPH && mark->text != NULL);
    const bool is_read = structure->artifacts == 0 && structure->open != 0 &&
                         (in_figure || speaks);
    if (is_read && in_figure) {
        enclose(structure, open, mark);
    }
    const bool is_said = mark->kind == HBK_SAY;
    const size_t element = is_read ? structure->open : HBK_NO_ELEMENT;
    const struct hbk_run *last = &structure->runs[structure->n_runs - 1];
    if (last->element == element && !last->is_said && !is_said) {
        return false;
    }
    add_run(structure, element, is_said);
    return true;
}

bool hbk_structure_says(const struct hbk_structure *structure, size_t element)
{
    const struct hbk_element *asked = &structure->elements[element];
    for (size_t i = 0; i < asked->n_kids; i++) {
        if (asked->kids[i].is_run ||
            hbk_structure_says(structure, asked->kids[i].index)) {
            return true;
        }
    }
    return false;
}
