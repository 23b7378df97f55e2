#include "render/svg_said.h"

#include <string.h>

/* Attributes of the groups: WAI-ARIA 1.2, which SVG 2 takes over. */
static const char *role_of(enum hbk_tag tag)
{
    static const char *const roles[] = {
        [HBK_TAG_SECTION] = "",
        [HBK_TAG_TITLE] = " role=\"heading\" aria-level=\"1\"",
        [HBK_TAG_HEADING] = " role=\"heading\" aria-level=\"2\"",
        [HBK_TAG_PARAGRAPH] = " role=\"paragraph\"",
        [HBK_TAG_TABLE] = " role=\"table\"",
        [HBK_TAG_ROW] = " role=\"row\"",
        [HBK_TAG_COLUMN] = " role=\"columnheader\"",
        [HBK_TAG_HEADER] = " role=\"rowheader\"",
        [HBK_TAG_CELL] = " role=\"cell\"",
        [HBK_TAG_FIGURE] = " role=\"img\"",
        [HBK_TAG_ARTIFACT] = " aria-hidden=\"true\""};
    return roles[tag];
}

static void begin_line(struct hbk_svg_said *said)
{
    said->line = (struct hbk_text){.arena = said->account.arena};
    said->cells = 0;
    said->has_music = false;
}

static void end_line(struct hbk_svg_said *said)
{
    while (said->line.length > 0 &&
           said->line.bytes[said->line.length - 1] == ' ') {
        said->line.bytes[--said->line.length] = '\0';
    }
    if (said->line.length > 0) {
        hbk_text_addf(&said->account, "%s.\n", said->line.bytes);
    }
}

static void open_part(struct hbk_svg_said *said, const struct hbk_mark *mark)
{
    const enum hbk_tag tag = mark->tag;
    if (said->hidden > 0 || tag == HBK_TAG_FIGURE || tag == HBK_TAG_ARTIFACT) {
        said->is_artifact =
            said->hidden == 0 ? tag == HBK_TAG_ARTIFACT : said->is_artifact;
        said->hidden++;
    } else if (tag == HBK_TAG_ROW || tag == HBK_TAG_PARAGRAPH) {
        said->in_row = tag == HBK_TAG_ROW;
        said->in_words = tag == HBK_TAG_PARAGRAPH;
        begin_line(said);
    } else if (said->in_row) {
        /* "B3: 1, in tune; none." */
        hbk_text_add(&said->line, said->cells == 0   ? ""
                                  : said->cells == 1 ? ": "
                                  : said->cells == 2 ? ", "
                                                     : "; ");
        said->cells++;
    }
}

static void close_part(struct hbk_svg_said *said, const struct hbk_mark *mark)
{
    if (said->hidden > 0) {
        said->hidden--;
    } else if (mark->tag == HBK_TAG_ROW) {
        end_line(said);
        said->in_row = false;
    } else if (mark->tag == HBK_TAG_PARAGRAPH) {
        if (said->has_music) {
            end_line(said);
        }
        said->in_words = false;
    }
}

void hbk_svg_part(struct hbk_svg_said *said, const struct hbk_mark *mark,
                  struct hbk_text *out)
{
    if (mark->kind == HBK_CLOSE) {
        close_part(said, mark);
        hbk_text_add(out, "</g>\n");
        return;
    }
    hbk_text_addf(out, "<g%s", role_of(mark->tag));
    if (mark->tag == HBK_TAG_FIGURE && mark->text != NULL) {
        hbk_text_add(out, " aria-label=\"");
        hbk_text_add_xml(out, mark->text);
        hbk_text_add(out, "\"");
    }
    hbk_text_add(out, ">\n");
    open_part(said, mark);
}

const char *hbk_svg_hush(const struct hbk_svg_said *said, bool is_read)
{
    /* Within a picture or an artifact nothing is. */
    return is_read || said->hidden > 0 ? "" : " aria-hidden=\"true\"";
}

void hbk_svg_account(struct hbk_svg_said *said, const struct hbk_mark *mark,
                     const char *words)
{
    if (said->hidden > 0 || !(said->in_row || said->in_words)) {
        return;
    }
    const size_t length = said->line.length;
    const char last = length == 0 ? ' ' : said->line.bytes[length - 1];
    said->has_music |= mark->kind == HBK_GLYPH;
    hbk_text_add(&said->line, last == ' ' ? "" : " ");
    hbk_text_add(&said->line, words);
}
