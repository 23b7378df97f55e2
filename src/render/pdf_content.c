#include "render/pdf.h"

#include <string.h>

/* Where the content of a page is read. */
struct scan {
    const char *bytes;
    size_t length;
    size_t at;
    size_t operands; /* where those of the next operator begin */
    size_t copied;   /* up to here it is in `out` */
    size_t depth;    /* of marked content */
    size_t run;      /* how many have begun */
    struct hbk_text *out;
};

static bool is_word(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '\'' ||
           c == '"' || c == '*';
}

static bool is_delimiter(char c)
{
    return strchr(" \t\r\n\f()<>[]{}/%", c) != NULL; /* NUL too */
}

/* Past a string in parentheses, which may hold others. */
static void skip_string(struct scan *scan)
{
    size_t open = 0;
    do {
        const char c = scan->bytes[scan->at];
        if (c == '\\') {
            scan->at++;
        }
        open += c == '(' ? 1 : 0;
        open -= c == ')' ? 1 : 0;
        scan->at++;
    } while (open > 0 && scan->at < scan->length);
}

static void skip_token(struct scan *scan)
{
    const char c = scan->bytes[scan->at];
    if (c == '(') {
        skip_string(scan);
        return;
    }
    const bool begins_two =
        scan->at + 1 < scan->length && scan->bytes[scan->at + 1] == c;
    if (c == '<' && begins_two) {
        scan->at++;
    } else if (c == '<') {
        while (scan->at < scan->length && scan->bytes[scan->at] != '>') {
            scan->at++;
        }
    }
    scan->at++;
    /* The rest of a name or a number. */
    while (!is_delimiter(c) || c == '/') {
        if (scan->at >= scan->length || is_delimiter(scan->bytes[scan->at])) {
            return;
        }
        scan->at++;
    }
}

static void copy_to(struct scan *scan, size_t end)
{
    hbk_text_put(scan->out, scan->bytes + scan->copied, end - scan->copied);
    scan->copied = end;
}

static void begin_run(struct scan *scan, const struct hbk_run *run)
{
    if (run->element == HBK_NO_ELEMENT) {
        hbk_text_add(scan->out, "\n/Artifact BMC");
        return;
    }
    /* In the third way of showing text it is not seen (ISO 32000-1, 9.3.6). */
    hbk_text_addf(scan->out, "\n/P <</MCID %zu>> BDC%s", run->number,
                  run->is_said ? "\n3 Tr" : "");
}

static bool take_operator(struct scan *scan, const struct hbk_run *runs,
                          size_t n, size_t start)
{
    const size_t length = scan->at - start;
    const char *word = scan->bytes + start;
    const bool begins = length == 3 && (memcmp(word, "BDC", 3) == 0 ||
                                        memcmp(word, "BMC", 3) == 0);
    const bool ends = length == 3 && memcmp(word, "EMC", 3) == 0;
    if (begins) {
        if (scan->depth == 0) {
            if (scan->run == n) {
                return false;
            }
            copy_to(scan, scan->operands);
            begin_run(scan, &runs[scan->run++]);
            scan->copied = scan->at;
        }
        scan->depth++;
    } else if (ends) {
        if (scan->depth == 0) {
            return false;
        }
        scan->depth--;
        if (scan->depth == 0 && runs[scan->run - 1].is_said) {
            copy_to(scan, scan->operands);
            hbk_text_add(scan->out, "\n0 Tr");
        }
    }
    scan->operands = scan->at;
    return true;
}

bool hbk_pdf_name_runs(const char *content, size_t length,
                       const struct hbk_run *runs, size_t n,
                       struct hbk_text *out)
{
    struct scan scan = {.bytes = content, .length = length, .out = out};
    while (scan.at < length) {
        const size_t start = scan.at;
        if (!is_word(content[start])) {
            skip_token(&scan);
            continue;
        }
        while (scan.at < length && !is_delimiter(content[scan.at])) {
            scan.at++;
        }
        if (!take_operator(&scan, runs, n, start)) {
            return false;
        }
    }
    copy_to(&scan, length);
    return scan.depth == 0 && scan.run == n;
}

/* The next character of valid UTF-8. */
static uint32_t next_letter(const unsigned char **at)
{
    const unsigned char *p = *at;
    const size_t more = p[0] >= 0xF0   ? 3
                        : p[0] >= 0xE0 ? 2
                        : p[0] >= 0xC0 ? 1
                                       : 0;
    static const unsigned char masks[] = {0x7F, 0x1F, 0x0F, 0x07};
    uint32_t letter = p[0] & masks[more];
    size_t taken = 1;
    while (taken <= more && (p[taken] & 0xC0u) == 0x80u) {
        letter = letter << 6 | (p[taken] & 0x3Fu);
        taken++;
    }
    *at = p + taken;
    return letter;
}

void hbk_pdf_add_string(struct hbk_text *out, const char *utf8)
{
    hbk_text_add(out, "<FEFF");
    for (const unsigned char *at = (const unsigned char *)utf8; *at != 0;) {
        const uint32_t letter = next_letter(&at);
        if (letter >= 0x10000) {
            hbk_text_addf(out, "%04X%04X",
                          0xD800u + ((letter - 0x10000u) >> 10),
                          0xDC00u + ((letter - 0x10000u) & 0x3FFu));
        } else {
            hbk_text_addf(out, "%04X", (unsigned)letter);
        }
    }
    hbk_text_add(out, ">");
}
