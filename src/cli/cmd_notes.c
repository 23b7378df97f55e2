#include "cli/cli.h"

#include "base/text.h"
#include "cli/notes_out.h"
#include "music/pitch.h"
#include "solve/solve.h"

#include <stdio.h>
#include <string.h>

typedef void format_notes(const struct hbk_notes_view *view,
                          struct hbk_text *out);

/* The writer that --format, --json or the ending of --output asks for. */
static format_notes *choose_format(const struct hbk_options *options)
{
    static const struct {
        const char *name, *ending;
        format_notes *write;
    } formats[] = {{"text", ".txt", hbk_notes_text},
                   {"csv", ".csv", hbk_notes_csv},
                   {"json", ".json", hbk_notes_json}};
    const char *const ending =
        options->output == NULL ? NULL : strrchr(options->output, '.');
    if (options->json) {
        const bool agrees =
            (options->format == NULL || strcmp(options->format, "json") == 0) &&
            (ending == NULL || strcmp(ending, ".csv") != 0);
        return agrees ? hbk_notes_json : NULL;
    }
    for (size_t i = 0; i < sizeof(formats) / sizeof(formats[0]); i++) {
        const bool named = options->format != NULL &&
                           strcmp(options->format, formats[i].name) == 0;
        const bool ended = options->format == NULL && ending != NULL &&
                           strcmp(ending, formats[i].ending) == 0;
        if (named || ended) {
            return formats[i].write;
        }
    }
    const bool asked = options->format != NULL ||
                       (ending != NULL && strchr(ending, '/') == NULL);
    return asked ? NULL : hbk_notes_text;
}

enum { HELD_MAX = 32 };

/* The notes of --hold "E5 G5". */
static int read_held(const char *list, const struct hbk_notes *notes,
                     int held[HELD_MAX], size_t *n)
{
    const char *at = list + strspn(list, " ,");
    while (*at != '\0') {
        char name[HBK_NAME_SIZE];
        const size_t length = strcspn(at, " ,");
        (void)snprintf(name, sizeof(name), "%.*s",
                       (int)(length < sizeof(name) ? length : 0), at);
        int note = 0;
        if (!hbk_note_parse(name, &note)) {
            return hbk_usage("notes",
                             "--hold '%.*s' is not a written note; write "
                             "notes like E5 or Bb4",
                             (int)length, at);
        }
        if (hbk_notes_find(notes, note) == NULL || *n == HELD_MAX) {
            return hbk_usage("notes",
                             "--hold %s lies outside the compass of this horn",
                             name);
        }
        held[(*n)++] = note;
        at += length;
        at += strspn(at, " ,");
    }
    return *n > 0 ? HBK_EXIT_DONE : hbk_usage("notes", "--hold names no note");
}

static int write_notes(const struct hbk_horn *horn,
                       const struct hbk_options *options, format_notes *format,
                       struct hbk_arena *arena)
{
    struct hbk_setting setting;
    const int usable = hbk_read_setting(horn, options, "notes", &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    struct hbk_faults faults = {0};
    struct hbk_notes notes;
    const enum hbk_status status =
        hbk_solve(horn, &setting, arena, &notes, &faults);
    hbk_print_faults(&faults, options->quiet);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    int held[HELD_MAX];
    struct hbk_notes_view view = {
        .notes = &notes, .sounding = options->sounding, .held = held};
    if (options->hold != NULL) {
        const int code = read_held(options->hold, &notes, held, &view.n_held);
        if (code != HBK_EXIT_DONE) {
            return code;
        }
    }
    struct hbk_text out = {.arena = arena};
    format(&view, &out);
    return hbk_write_result(options->output, out.bytes, out.length,
                            options->quiet);
}

int hbk_cmd_notes(int argc, char *argv[])
{
    struct hbk_options options;
    if (!hbk_options_read(argc, argv,
                          HBK_TAKES_SETTING | HBK_TAKES_OUTPUT |
                              HBK_TAKES_NOTES | HBK_TAKES_NAMES,
                          &options)) {
        return HBK_EXIT_USAGE;
    }
    if (options.n_words != 1) {
        return hbk_usage(argv[0], "name one horn (see 'hornbook horns')");
    }
    format_notes *const format = choose_format(&options);
    if (format == NULL) {
        return hbk_usage(argv[0], "notes are written as text (.txt), csv or "
                                  "json");
    }
    struct hbk_horn horn = {0};
    int code = hbk_load_horn(options.words[0], options.quiet, &horn);
    if (code == HBK_EXIT_DONE) {
        struct hbk_arena arena = {0};
        code = write_notes(&horn, &options, format, &arena);
        hbk_arena_finish(&arena);
    }
    hbk_horn_finish(&horn);
    return code;
}
