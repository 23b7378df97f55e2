#include "render/pdf.h"

#include "page/paper.h"
#include "render/qpdf.h"

#include <stdlib.h>
#include <string.h>

static const double points_per_mm = HBK_POINTS_PER_INCH / HBK_MM_PER_INCH;

/* A document in the hands of qpdf; ids are those of its objects. */
struct finish {
    const struct hbk_qpdf *qpdf;
    qpdf_data pdf;
    struct hbk_arena *arena;
    const struct hbk_structure *structure;
    const struct hbk_pdf_about *about;
    const int *pages;
    const double *heights; /* of the pages, points */
    int *elements;         /* 0 for one that says nothing */
};

/* What is written in PDF without a word of other objects. */
static qpdf_oh plain(const struct finish *finish, const char *text)
{
    return finish->qpdf->oh_parse(finish->pdf, text);
}

static qpdf_oh object(const struct finish *finish, int id)
{
    return finish->qpdf->get_object_by_id(finish->pdf, id, 0);
}

/* The id of a new object. */
static int add_object(const struct finish *finish, qpdf_oh direct)
{
    return finish->qpdf->oh_get_object_id(
        finish->pdf, finish->qpdf->make_indirect_object(finish->pdf, direct));
}

static void set_key(const struct finish *finish, qpdf_oh of, const char *key,
                    qpdf_oh value)
{
    finish->qpdf->oh_replace_key(finish->pdf, of, key, value);
}

static void append(const struct finish *finish, qpdf_oh array, qpdf_oh item)
{
    finish->qpdf->oh_append_item(finish->pdf, array, item);
}

static qpdf_oh number(const struct finish *finish, size_t value)
{
    return finish->qpdf->oh_new_integer(finish->pdf, (long long)value);
}

static int add_stream(const struct finish *finish, const char *bytes,
                      size_t length)
{
    qpdf_oh stream = finish->qpdf->oh_new_stream(finish->pdf);
    finish->qpdf->oh_replace_stream_data(
        finish->pdf, stream, (const unsigned char *)bytes, length,
        finish->qpdf->oh_new_null(finish->pdf),
        finish->qpdf->oh_new_null(finish->pdf));
    return finish->qpdf->oh_get_object_id(finish->pdf, stream);
}

/* What is read of it, and where on the page it lies. */
static void put_attributes(const struct finish *finish,
                           const struct hbk_element *element, size_t page,
                           struct hbk_text *out)
{
    if (element->scope != NULL) {
        hbk_text_addf(out, " /A << /O /Table /Scope /%s >>", element->scope);
    }
    if (element->alt == NULL) {
        return;
    }
    hbk_text_add(out, " /Alt ");
    hbk_pdf_add_string(out, element->alt);
    /* PDF counts upwards from the foot of the page. */
    const double foot = finish->heights[page];
    hbk_text_addf(
        out,
        " /A << /O /Layout /Placement /Block"
        " /BBox [%.2f %.2f %.2f %.2f] >>",
        element->low.x * points_per_mm, foot - element->high.y * points_per_mm,
        element->high.x * points_per_mm, foot - element->low.y * points_per_mm);
}

/* The page on which what an element says begins. */
static size_t page_of(const struct hbk_structure *structure, size_t element)
{
    const struct hbk_element *asked = &structure->elements[element];
    for (size_t i = 0; i < asked->n_kids; i++) {
        const struct hbk_kid kid = asked->kids[i];
        if (kid.is_run) {
            return structure->runs[kid.index].page;
        }
        if (hbk_structure_says(structure, kid.index)) {
            return page_of(structure, kid.index);
        }
    }
    return 0;
}

/* A kid as its element on `page` names it. */
static qpdf_oh kid_of(const struct finish *finish, struct hbk_kid kid,
                      size_t page)
{
    if (!kid.is_run) {
        return object(finish, finish->elements[kid.index]);
    }
    const struct hbk_run *run = &finish->structure->runs[kid.index];
    if (run->page == page) {
        return number(finish, run->number);
    }
    qpdf_oh elsewhere = plain(finish, "<< /Type /MCR >>");
    set_key(finish, elsewhere, "/Pg", object(finish, finish->pages[run->page]));
    set_key(finish, elsewhere, "/MCID", number(finish, run->number));
    return elsewhere;
}

static void fill_element(const struct finish *finish, size_t index)
{
    const struct hbk_element *element = &finish->structure->elements[index];
    const size_t page = page_of(finish->structure, index);
    struct hbk_text out = {.arena = finish->arena};
    hbk_text_addf(&out, "<< /Type /StructElem /S /%s", element->role);
    put_attributes(finish, element, page, &out);
    hbk_text_add(&out, " >>");
    qpdf_oh kids = finish->qpdf->oh_new_array(finish->pdf);
    for (size_t i = 0; i < element->n_kids; i++) {
        const struct hbk_kid kid = element->kids[i];
        if (kid.is_run || finish->elements[kid.index] != 0) {
            append(finish, kids, kid_of(finish, kid, page));
        }
    }
    qpdf_oh filled = plain(finish, hbk_text_string(&out));
    const size_t parent = index == 0 ? finish->structure->n : element->parent;
    set_key(finish, filled, "/P", object(finish, finish->elements[parent]));
    set_key(finish, filled, "/Pg", object(finish, finish->pages[page]));
    set_key(finish, filled, "/K", kids);
    finish->qpdf->replace_object(finish->pdf, finish->elements[index], 0,
                                 filled);
}

/* To which element each run of each page belongs: a tree of numbers. */
static qpdf_oh parents_of(const struct finish *finish)
{
    const struct hbk_structure *structure = finish->structure;
    qpdf_oh all = finish->qpdf->oh_new_array(finish->pdf);
    qpdf_oh of_page = all;
    size_t page = structure->n_pages;
    for (size_t i = 0; i < structure->n_runs; i++) {
        const struct hbk_run *run = &structure->runs[i];
        if (run->page != page) {
            page = run->page;
            const int id =
                add_object(finish, finish->qpdf->oh_new_array(finish->pdf));
            of_page = object(finish, id);
            append(finish, all, number(finish, page));
            append(finish, all, of_page);
        }
        if (run->element != HBK_NO_ELEMENT) {
            append(finish, of_page,
                   object(finish, finish->elements[run->element]));
        }
    }
    qpdf_oh tree = finish->qpdf->oh_new_dictionary(finish->pdf);
    set_key(finish, tree, "/Nums", all);
    return tree;
}

/* The tree of all elements, in place of the library's own. */
static int add_tree(struct finish *finish)
{
    const struct hbk_structure *structure = finish->structure;
    const size_t n = structure->n;
    finish->elements = HBK_ARENA_ARRAY(finish->arena, int, n + 1);
    for (size_t i = 0; i <= n; i++) {
        if (i == n || hbk_structure_says(structure, i)) {
            finish->elements[i] = add_object(
                finish, finish->qpdf->oh_new_dictionary(finish->pdf));
        }
    }
    for (size_t i = 0; i < n; i++) {
        if (finish->elements[i] != 0) {
            fill_element(finish, i);
        }
    }
    qpdf_oh root = object(finish, finish->elements[n]);
    set_key(finish, root, "/Type", plain(finish, "/StructTreeRoot"));
    set_key(finish, root, "/K", object(finish, finish->elements[0]));
    set_key(finish, root, "/ParentTree",
            object(finish, add_object(finish, parents_of(finish))));
    set_key(finish, root, "/ParentTreeNextKey",
            number(finish, structure->n_pages));
    return finish->elements[n];
}

static void put_xmp(struct hbk_text *out, const char *name, const char *around,
                    const char *value)
{
    if (value == NULL || value[0] == '\0') {
        return;
    }
    hbk_text_addf(out, "<%s>", name);
    if (around[0] != '\0') {
        hbk_text_addf(out, "<rdf:%s><rdf:li%s>", around,
                      strcmp(around, "Alt") == 0 ? " xml:lang=\"x-default\""
                                                 : "");
    }
    hbk_text_add_xml(out, value);
    if (around[0] != '\0') {
        hbk_text_addf(out, "</rdf:li></rdf:%s>", around);
    }
    hbk_text_addf(out, "</%s>\n", name);
}

/*
 * The properties of the document once more as XMP (ISO 16684-1), where PDF/UA
 * wants them, and that the document means to be PDF/UA-1: the conditions of
 * ISO 14289-1 that a program can check are checked by the tests.
 */
static int add_metadata(const struct finish *finish)
{
    const struct hbk_pdf_about *about = finish->about;
    struct hbk_text out = {.arena = finish->arena};
    hbk_text_add(
        &out,
        "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
        "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n<rdf:RDF xmlns:rdf="
        "\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
        "<rdf:Description rdf:about=\"\" "
        "xmlns:dc=\"http://purl.org/dc/elements/1.1/\" "
        "xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" "
        "xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\" "
        "xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n");
    put_xmp(&out, "pdfuaid:part", "", "1");
    put_xmp(&out, "dc:title", "Alt", about->title);
    put_xmp(&out, "dc:creator", "Seq", "hornbook");
    put_xmp(&out, "dc:description", "Alt", about->subject);
    put_xmp(&out, "dc:language", "Bag", "en-US");
    put_xmp(&out, "xmp:CreatorTool", "", "hornbook");
    put_xmp(&out, "xmp:CreateDate", "", about->date);
    put_xmp(&out, "xmp:ModifyDate", "", about->date);
    put_xmp(&out, "pdf:Producer", "",
            finish->qpdf->get_info_key(finish->pdf, "/Producer"));
    hbk_text_add(&out, "</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n"
                       "<?xpacket end=\"w\"?>\n");
    const int stream = add_stream(finish, out.bytes, out.length);
    qpdf_oh keys =
        finish->qpdf->oh_get_dict(finish->pdf, object(finish, stream));
    set_key(finish, keys, "/Type", plain(finish, "/Metadata"));
    set_key(finish, keys, "/Subtype", plain(finish, "/XML"));
    return stream;
}

/* The runs of a page are named in its content. */
static const char *name_page(const struct finish *finish, size_t page,
                             const struct hbk_run *runs, size_t n)
{
    unsigned char *content = NULL;
    size_t length = 0;
    qpdf_oh handle = finish->qpdf->get_page_n(finish->pdf, page);
    if ((finish->qpdf->oh_get_page_content_data(finish->pdf, handle, &content,
                                                &length) &
         QPDF_ERRORS) != 0) {
        return "its content cannot be read";
    }
    struct hbk_text named = {.arena = finish->arena};
    const bool fits =
        hbk_pdf_name_runs((const char *)content, length, runs, n, &named);
    free(content);
    if (!fits) {
        return "its content is not marked as it was asked to be";
    }
    const int stream = add_stream(finish, named.bytes, named.length);
    set_key(finish, handle, "/Contents", object(finish, stream));
    set_key(finish, handle, "/StructParents", number(finish, page));
    set_key(finish, handle, "/Tabs", plain(finish, "/S"));
    return NULL;
}

static const char *name_pages(const struct finish *finish)
{
    const struct hbk_structure *structure = finish->structure;
    size_t first = 0;
    for (size_t page = 0; page < structure->n_pages; page++) {
        size_t n = 0;
        while (first + n < structure->n_runs &&
               structure->runs[first + n].page == page) {
            n++;
        }
        const char *wrong = name_page(finish, page, structure->runs + first, n);
        if (wrong != NULL) {
            return wrong;
        }
        first += n;
    }
    return NULL;
}

static void list_pages(struct finish *finish)
{
    const size_t n = finish->structure->n_pages;
    int *pages = HBK_ARENA_ARRAY(finish->arena, int, n);
    double *heights = HBK_ARENA_ARRAY(finish->arena, double, n);
    for (size_t i = 0; i < n; i++) {
        const qpdf_oh page = finish->qpdf->get_page_n(finish->pdf, i);
        const qpdf_oh box =
            finish->qpdf->oh_get_key(finish->pdf, page, "/MediaBox");
        pages[i] = finish->qpdf->oh_get_object_id(finish->pdf, page);
        heights[i] = finish->qpdf->oh_get_numeric_value(
            finish->pdf, finish->qpdf->oh_get_array_item(finish->pdf, box, 3));
    }
    finish->pages = pages;
    finish->heights = heights;
}

static const char *add_all(struct finish *finish)
{
    qpdf_data pdf = finish->pdf;
    if ((size_t)finish->qpdf->get_num_pages(pdf) !=
        finish->structure->n_pages) {
        return "it has not the pages that were drawn";
    }
    list_pages(finish);
    const char *wrong = name_pages(finish);
    if (wrong != NULL) {
        return wrong;
    }
    const qpdf_oh root = finish->qpdf->get_root(pdf);
    set_key(finish, root, "/StructTreeRoot", object(finish, add_tree(finish)));
    set_key(finish, root, "/Metadata", object(finish, add_metadata(finish)));
    set_key(finish, root, "/MarkInfo", plain(finish, "<< /Marked true >>"));
    set_key(finish, root, "/Lang", plain(finish, "(en-US)"));
    set_key(finish, root, "/ViewerPreferences",
            plain(finish, "<< /DisplayDocTitle true >>"));
    return NULL;
}

/* Of the first error of the library; when that was want of memory, the end. */
static const char *error_of(const struct finish *finish)
{
    const char *text = finish->qpdf->get_error_full_text(
        finish->pdf, finish->qpdf->get_error(finish->pdf));
    if (strstr(text, "bad_alloc") != NULL) {
        hbk_arena_exhausted();
    }
    return hbk_arena_copy(finish->arena, text, strlen(text));
}

const char *hbk_pdf_finish(const struct hbk_text *drawn,
                           const struct hbk_structure *structure,
                           const struct hbk_pdf_about *about,
                           struct hbk_text *out)
{
    struct finish finish = {.qpdf = hbk_qpdf_load(),
                            .arena = out->arena,
                            .structure = structure,
                            .about = about};
    if (finish.qpdf == NULL) {
        return "the library libqpdf is not there, or too old";
    }
    finish.pdf = finish.qpdf->init();
    finish.qpdf->set_suppress_warnings(finish.pdf, QPDF_TRUE);
    finish.qpdf->silence_errors(finish.pdf);
    const char *wrong = NULL;
    if ((finish.qpdf->read_memory(finish.pdf, "the drawn document",
                                  drawn->bytes, drawn->length, NULL) &
         QPDF_ERRORS) == 0) {
        wrong = add_all(&finish);
    }
    if (wrong == NULL && !finish.qpdf->has_error(finish.pdf) &&
        (finish.qpdf->init_write_memory(finish.pdf) & QPDF_ERRORS) == 0) {
        finish.qpdf->set_deterministic_ID(finish.pdf, QPDF_TRUE);
        finish.qpdf->set_minimum_pdf_version(finish.pdf, "1.7");
        if ((finish.qpdf->write(finish.pdf) & QPDF_ERRORS) == 0) {
            hbk_text_put(out, (const char *)finish.qpdf->get_buffer(finish.pdf),
                         finish.qpdf->get_buffer_length(finish.pdf));
        }
    }
    if (finish.qpdf->has_error(finish.pdf)) {
        wrong = error_of(&finish);
    }
    finish.qpdf->cleanup(&finish.pdf);
    return wrong;
}
