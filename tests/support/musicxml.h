#ifndef HBK_TESTS_MUSICXML_H
#define HBK_TESTS_MUSICXML_H

#include "support/tunes.h"
#include "tune/musicxml/musicxml_anew.h"

#include <libxml/c14n.h>
#include <libxml/catalog.h>
#include <libxml/parser.h>
#include <libxml/xmlschemas.h>

#include <stdlib.h>

/*
 * Checks of written MusicXML with a general XML library: canonical form
 * (W3C Canonical XML 1.0), the W3C schema of MusicXML 4.0 where the
 * environment names it, and the order of children as that schema has it,
 * written down again here for the elements that the program writes.
 */

static inline xmlDoc *parse_xml(const char *bytes, size_t length)
{
    xmlDoc *const document =
        xmlReadMemory(bytes, (int)length, NULL, NULL, XML_PARSE_NONET);
    assert_non_null(document);
    return document;
}

/* The canonical form, in the arena. */
static inline const char *canonical(const char *bytes, size_t length,
                                    struct hbk_arena *arena)
{
    xmlDoc *const document = parse_xml(bytes, length);
    xmlChar *text = NULL;
    const int n =
        xmlC14NDocDumpMemory(document, NULL, XML_C14N_1_0, NULL, 1, &text);
    assert_true(n > 0);
    const char *const copy =
        hbk_arena_copy(arena, (const char *)text, (size_t)n);
    xmlFree(text);
    xmlFreeDoc(document);
    return copy;
}

/* Children that may stand in an element, in the order of the schema. */
static const struct {
    const char *name, *children;
} child_order[] = {
    {"score-partwise", "work movement-title identification defaults credit "
                       "part-list part"},
    {"credit", "credit-type credit-words"},
    {"work", "work-number work-title"},
    {"identification", "creator rights encoding"},
    {"part-list", "score-part"},
    {"score-part", "part-name score-instrument"},
    {"part", "measure"},
    {"attributes", "divisions key time staves clef transpose measure-style"},
    {"key", "fifths mode key-step key-alter"},
    {"time", "beats beat-type senza-misura"},
    {"clef", "sign line clef-octave-change"},
    {"transpose", "diatonic chromatic octave-change double"},
    {"direction", "direction-type offset sound"},
    {"note", "grace pitch rest duration tie voice type dot accidental "
             "time-modification beam notations lyric"},
    {"lyric", "syllabic text extend"},
    {"pitch", "step alter octave"},
    {"time-modification", "actual-notes normal-notes"},
    {"barline", "bar-style fermata ending repeat"},
    {"technical", "fingering stopped open"},
};

/* Where `name` stands in the list, from 1; 0 if it does not. */
static inline size_t rank_in(const char *list, const char *name)
{
    const size_t n = strlen(name);
    size_t rank = 1;
    for (const char *at = list; *at != '\0'; rank++) {
        const size_t length = strcspn(at, " ");
        if (length == n && memcmp(at, name, n) == 0) {
            return rank;
        }
        at += length;
        at += strspn(at, " ");
    }
    return 0;
}

static inline void check_children(const xmlNode *node)
{
    const char *list = NULL;
    for (size_t i = 0; i < sizeof(child_order) / sizeof(child_order[0]); i++) {
        if (strcmp(child_order[i].name, (const char *)node->name) == 0) {
            list = child_order[i].children;
        }
    }
    const bool alternates = strcmp((const char *)node->name, "key") == 0;
    size_t last = 0;
    for (const xmlNode *at = node->children; at != NULL; at = at->next) {
        if (at->type != XML_ELEMENT_NODE) {
            continue;
        }
        if (list != NULL) {
            const size_t rank = rank_in(list, (const char *)at->name);
            if (rank == 0 || (rank < last && !alternates)) {
                print_error("<%s> out of place in <%s>, line %ld\n",
                            (const char *)at->name, (const char *)node->name,
                            xmlGetLineNo(at));
                fail();
            }
            last = rank;
        }
        check_children(at);
    }
}

/* Our own check, which needs no schema. */
static inline void check_order(const char *bytes, size_t length)
{
    xmlDoc *const document = parse_xml(bytes, length);
    const xmlNode *const root = xmlDocGetRootElement(document);
    assert_string_equal((const char *)root->name, "score-partwise");
    check_children(root);
    xmlFreeDoc(document);
}

/*
 * The W3C schema in the folder that HORNBOOK_MUSICXML names, or NULL. Its
 * catalog keeps the parser off the network.
 */
static inline xmlSchema *load_schema(void)
{
    const char *const folder = getenv("HORNBOOK_MUSICXML");
    if (folder == NULL || folder[0] == '\0') {
        return NULL;
    }
    char path[1000];
    (void)snprintf(path, sizeof(path), "%s/catalog.xml", folder);
    assert_int_equal(xmlLoadCatalog(path), 0);
    (void)snprintf(path, sizeof(path), "%s/musicxml.xsd", folder);
    xmlSetExternalEntityLoader(xmlNoNetExternalEntityLoader);
    xmlSchemaParserCtxt *const parser = xmlSchemaNewParserCtxt(path);
    xmlSchema *const schema = xmlSchemaParse(parser);
    xmlSchemaFreeParserCtxt(parser);
    assert_non_null(schema);
    return schema;
}

static inline void check_valid(xmlSchema *schema, const char *bytes,
                               size_t length)
{
    xmlDoc *const document = parse_xml(bytes, length);
    xmlSchemaValidCtxt *const context = xmlSchemaNewValidCtxt(schema);
    const int result = xmlSchemaValidateDoc(context, document);
    if (result != 0) {
        print_error("%s\n", bytes);
    }
    assert_int_equal(result, 0);
    xmlSchemaFreeValidCtxt(context);
    xmlFreeDoc(document);
}

/* Everything the model can hold, in ABC. */
static const char rich_abc[] =
    "%abc-2.1\nX:1\nT:All <of> it & more\nC:N. N.\nM:C|\nL:1/8\nQ:1/4=92.5\n"
    "K:Bbm clef=bass transpose=-14\n"
    "c|:(3:2:3({/_e}.d!>!cTB) (A2|Hd4-d/)e/f/g/ ^c>=d|1,3 (G(A)B) z x2 "
    "!tenuto!!breath!C3/2:|\n[2 [K:D Phr][M:(2+3)/8]D2-DE!marcato!!wedge!F|| "
    "[Q:1/4=60]Z [|] a,2.|[K:D exp _b ^f]{gab}B5[M:none][K:none clef=treble-8]"
    "__B,,{f}^^c''|\n(7abcdefg D,5/4 A/16A/16B/8|]\n";

/* A tune of the book of melodies, and the march, both read whole. */
static inline void read_book(const char *tune,
                             struct hbk_tune_document *document)
{
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.tune = tune};
    assert_int_equal(
        hbk_tune_read("tests/data/tunes.abc", &options, document, &faults),
        HBK_OK);
}

static inline void read_march(struct hbk_tune_document *document)
{
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(
        hbk_tune_read("tests/data/march.musicxml", NULL, document, &faults),
        HBK_OK);
    assert_int_equal(faults.errors, 0);
}

/* A tune that must be read without a fault. */
static inline void read_text(const char *text,
                             struct hbk_tune_document *document)
{
    struct hbk_faults faults = {.count = 0};
    read_good("t", text, document, &faults);
}

/* Written anew without fingerings, in the arena. */
static inline const char *to_musicxml(const struct hbk_tune *tune,
                                      struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_to_musicxml(tune, NULL, &out, &faults), HBK_OK);
    return out.bytes;
}

#endif
