#include "cli/commands.h"

#include "base/messages.h"
#include "cli/output.h"
#include "cli/terminal.h"
#include "horn/about.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"
#include "report/horns.h"

#include <ctype.h>
#include <string.h>

static bool is_letter(char c)
{
    return isalnum((unsigned char)c) != 0;
}

/*
 * Bytes of the flat, "b" or its sign, behind the letter of a note that a word
 * begins with; 0 for any other word.
 */
static size_t flat_sign(const char *word)
{
    static const char sign[] = "\u266D";
    const char *const after = word + 1;
    if (strchr("abcdefgABCDEFG", word[0]) == NULL) {
        return 0;
    }
    if (strncmp(after, sign, sizeof(sign) - 1) == 0) {
        return sizeof(sign) - 1;
    }
    return after[0] == 'b' && !is_letter(after[1]) ? 1 : 0;
}

/*
 * Small letters and blanks for "-" and the like, before and behind as well,
 * and notes as names have them: "Bb" and "B♭" are "b flat".
 */
static const char *plain(const char *text, struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    hbk_text_add(&out, " ");
    for (size_t i = 0; text[i] != '\0'; i++) {
        const bool begins = i == 0 || !is_letter(text[i - 1]);
        const char c = (char)tolower((unsigned char)text[i]);
        const size_t flat = begins ? flat_sign(text + i) : 0;
        if (flat > 0) {
            hbk_text_addf(&out, "%c flat", c);
        } else {
            hbk_text_addf(&out, "%c", is_letter(c) ? c : ' ');
        }
        i += flat;
    }
    hbk_text_add(&out, " ");
    return hbk_text_string(&out);
}

/*
 * Whether each word asked for begins a word in the name or the title of a
 * horn; a single letter must be all of it.
 */
static bool is_asked(const struct hbk_options *options, const char *name,
                     const char *title, struct hbk_arena *arena)
{
    const char *const text = hbk_arena_printf(arena, "%s%s", plain(name, arena),
                                              plain(title, arena));
    for (size_t i = 0; i < options->n_words; i++) {
        const char *const asked = plain(options->words[i], arena);
        const size_t length = strlen(asked);
        const bool whole = length >= 3 && asked[length - 3] == ' ';
        if (strstr(text,
                   whole ? asked : hbk_arena_copy(arena, asked, length - 1)) ==
            NULL) {
            return false;
        }
    }
    return true;
}

/* The horns asked for, as far as they can be read. */
struct listing {
    size_t n;
    struct hbk_listed_horn *horns;
    struct hbk_horn **read; /* the same, to be finished */
    enum hbk_status status; /* the first that went wrong */
};

static struct listing list(const struct hbk_options *options,
                           const struct hbk_shipped_horn *shipped, size_t n,
                           struct hbk_arena *arena, struct hbk_faults *faults)
{
    struct listing found = {
        .horns = HBK_ARENA_ARRAY(arena, struct hbk_listed_horn, n + 1),
        .read = HBK_ARENA_ARRAY(arena, struct hbk_horn *, n + 1)};
    for (size_t i = 0; i < n; i++) {
        struct hbk_horn *const horn = hbk_horn_new(arena);
        const enum hbk_status status =
            hbk_horn_read(shipped[i].path, horn, faults);
        found.status = found.status == HBK_OK ? status : found.status;
        if (status == HBK_OK &&
            is_asked(options, shipped[i].name, hbk_horn_name(horn), arena)) {
            found.read[found.n] = horn;
            found.horns[found.n++] =
                (struct hbk_listed_horn){.word = shipped[i].name,
                                         .horn = horn,
                                         .is_measured = shipped[i].is_measured};
        } else {
            hbk_horn_finish(horn);
        }
    }
    return found;
}

static int write_list(const struct hbk_options *options,
                      const struct listing *found, struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    if (options->json) {
        hbk_horns_json(found->n, found->horns, &out);
        return hbk_write_text(options, HBK_OUT_JSON, &out);
    }
    if (options->brief) {
        hbk_horns_brief(found->n, found->horns, &out);
    } else {
        hbk_horns_text(found->n, found->horns, &out);
    }
    return hbk_write_text(options, HBK_OUT_TEXT, &out);
}

/* "no shipped horn is called 'alphorn'"; the words as they were given. */
static int say_none(const struct hbk_options *options)
{
    hbk_terminal_wipe();
    fputs("hornbook horns: no shipped horn is called '", stderr);
    for (size_t i = 0; i < options->n_words; i++) {
        fprintf(stderr, "%s%s", i == 0 ? "" : " ", options->words[i]);
    }
    fputs("'; 'hornbook horns' lists them all\n", stderr);
    return HBK_EXIT_NO;
}

int hbk_cmd_horns(const struct hbk_options *options)
{
    if (options->json && options->brief) {
        return hbk_usage("horns", "--json and --brief ask two things; give "
                                  "one of them");
    }
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    const struct hbk_shipped_horn *shipped = NULL;
    const size_t n = hbk_shipped_list(&arena, &shipped);
    struct listing found = list(options, shipped, n, &arena, &faults);
    if (n == 0) {
        hbk_fault_add(&faults, (struct hbk_place){0}, HBK_H_NO_SHIPPED_HORNS,
                      "%s", hbk_shipped_none(&arena));
        found.status = HBK_ERR_INPUT;
    }
    hbk_print_faults(&faults, options->quiet);
    int code = hbk_exit_of(found.status);
    if (found.n > 0) {
        const int written = write_list(options, &found, &arena);
        code = written == HBK_EXIT_DONE ? code : written;
    } else if (code == HBK_EXIT_DONE) {
        code = say_none(options);
    }
    for (size_t i = 0; i < found.n; i++) {
        hbk_horn_finish(found.read[i]);
    }
    hbk_arena_finish(&arena);
    return code;
}
