#include "cli/commands.h"

#include "base/ending.h"
#include "base/messages.h"
#include "begin/make.h"
#include "begin/question.h"
#include "begin/write.h"
#include "cli/ask.h"
#include "cli/cmd_new_form.h"
#include "cli/output.h"
#include "cli/terminal.h"
#include "edition/check.h"
#include "horn/about.h"
#include "reader/horn_file.h"

#include <ctype.h>
#include <math.h>
#include <stddef.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A horn file on its way. */
struct begun {
    const struct hbk_options *options;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_patterns patterns;
    struct hbk_answers answers;
    struct hbk_draft draft;
    const char *path;           /* of the file; NULL for standard output */
    enum hbk_question question; /* that is being asked */
    char hint[HBK_HINT_SIZE];
};

/* What was given for each question, where it is an option in words. */
static const char *option_of(const struct hbk_options *options,
                             enum hbk_question question)
{
    const char *const given[HBK_ASK_COUNT] = {
        [HBK_ASK_KIND] = options->begin.kind,
        [HBK_ASK_KEY] = options->begin.key,
        [HBK_ASK_KEYS] = options->begin.keys,
        [HBK_ASK_VALVES] = options->begin.valves,
        [HBK_ASK_OPEN] = options->begin.open,
        [HBK_ASK_CALLED] = options->begin.called,
        [HBK_ASK_LOWERS] = options->begin.lowers,
        [HBK_ASK_ACTION] = options->begin.action,
        [HBK_ASK_LOOPS] = options->begin.loops,
        [HBK_ASK_CLEF] = options->begin.clef,
        [HBK_ASK_LENGTH] = options->begin.length,
        [HBK_ASK_NAME] = options->begin.name};
    return given[question];
}

/* The pattern that --pattern names. */
static int take_pattern(struct begun *begun)
{
    const struct hbk_options *const options = begun->options;
    const struct hbk_patterns *const all = &begun->patterns;
    const char **const names =
        HBK_ARENA_ARRAY(&begun->arena, const char *, all->n);
    for (size_t i = 0; i < all->n; i++) {
        names[i] = all->items[i].name;
        if (strcmp(names[i], options->begin.pattern) == 0) {
            return hbk_answers_of_pattern(&begun->answers, &all->items[i])
                       ? HBK_EXIT_DONE
                       : hbk_usage(options->command,
                                   "'%s' is no pattern that a horn can be "
                                   "begun from; say --kind",
                                   names[i]);
        }
    }
    const char *const near =
        hbk_text_nearest(options->begin.pattern, names, all->n);
    return hbk_usage(options->command,
                     "'%s' is no pattern that gives its fundamental as a "
                     "note%s%s%s",
                     options->begin.pattern,
                     near == NULL ? "" : "; did you mean '",
                     near == NULL ? "" : near, near == NULL ? "" : "'?");
}

/* What the options say. */
static int take_options(struct begun *begun)
{
    const struct hbk_options *const options = begun->options;
    struct hbk_answers *const answers = &begun->answers;
    if (options->begin.pattern != NULL) {
        const int code = take_pattern(begun);
        if (code != HBK_EXIT_DONE) {
            return code;
        }
    }
    if (!isnan(options->a4_hz)) {
        answers->a4_hz = options->a4_hz;
        answers->given[HBK_ASK_A4] = true;
    }
    if (!isnan(options->temperature_c)) {
        answers->temperature_c = options->temperature_c;
        answers->given[HBK_ASK_TEMPERATURE] = true;
    }
    for (int i = 0; i < HBK_ASK_COUNT; i++) {
        const enum hbk_question question = (enum hbk_question)i;
        const char *const text = option_of(options, question);
        if (text != NULL && !hbk_answer(answers, question, text, begun->hint)) {
            return hbk_usage(options->command, "--%s: %s",
                             hbk_question_option(question), begun->hint);
        }
    }
    return HBK_EXIT_DONE;
}

static bool take_answer(void *ctx, const char *text)
{
    struct begun *const begun = ctx;
    return hbk_answer(&begun->answers, begun->question, text, begun->hint);
}

static const char *why_not(void *ctx)
{
    struct begun *const begun = ctx;
    begun->hint[0] = (char)toupper((unsigned char)begun->hint[0]);
    return begun->hint;
}

/* Everything the options left open. False at the end of the input. */
static bool ask_all(struct begun *begun)
{
    struct hbk_answers *const answers = &begun->answers;
    for (int i = 0; i < HBK_ASK_COUNT; i++) {
        const enum hbk_question question = (enum hbk_question)i;
        if (answers->kind != NULL) {
            hbk_draft_make(answers, &begun->patterns, &begun->draft);
        }
        const char *const words =
            answers->given[question]
                ? NULL
                : hbk_question_words(question, answers, &begun->draft);
        begun->question = question;
        if (words == NULL) {
            continue;
        }
        const char *const usual =
            hbk_question_usual(question, answers, &begun->draft);
        const struct hbk_asking asking = {words, usual, take_answer, why_not,
                                          begun};
        if (!hbk_ask(&asking, &begun->arena)) {
            return false;
        }
        /* Without a kind nothing else can be asked. */
        if (question == HBK_ASK_KIND && answers->kind == NULL) {
            (void)take_answer(begun, usual);
        }
    }
    return true;
}

static bool is_there(const char *path)
{
    struct stat there;
    return stat(path, &there) == 0 && S_ISREG(there.st_mode);
}

/* Whether a horn may be written there; else `hint` says why not. */
static bool take_path(void *ctx, const char *text)
{
    struct begun *const begun = ctx;
    struct stat there;
    text += strspn(text, " \t");
    const char *const path =
        hbk_arena_copy(&begun->arena, text, strcspn(text, "\r"));
    const bool is_new = stat(path, &there) != 0 || S_ISREG(there.st_mode);
    if (strcmp(path, "-") != 0 && is_new && !hbk_ends_as_yaml(path)) {
        (void)snprintf(begun->hint, HBK_HINT_SIZE,
                       "a horn file has a name that ends in .yaml");
        return false;
    }
    if (is_there(path) && !begun->options->begin.replace) {
        (void)snprintf(begun->hint, HBK_HINT_SIZE,
                       "that file is there already; give another name");
        return false;
    }
    begun->path = strcmp(path, "-") == 0 ? NULL : path;
    return true;
}

/* "keyed-bugle-in-b-flat-seven-keys.yaml". */
static const char *usual_path(struct begun *begun)
{
    struct hbk_text text = {.arena = &begun->arena};
    for (const char *c = begun->draft.name; *c != '\0'; c++) {
        const char lower = (char)tolower((unsigned char)*c);
        if (isalnum((unsigned char)lower) != 0 && (unsigned char)lower < 0x80) {
            hbk_text_put(&text, &lower, 1);
        } else if (text.length > 0 && text.bytes[text.length - 1] != '-') {
            hbk_text_add(&text, "-");
        }
    }
    while (text.length > 0 && text.bytes[text.length - 1] == '-') {
        text.bytes[--text.length] = '\0';
    }
    return hbk_arena_printf(&begun->arena, "%s.yaml",
                            text.length == 0 ? "my-horn"
                                             : hbk_text_string(&text));
}

static bool ask_path(struct begun *begun)
{
    const struct hbk_asking asking = {"Into which file shall it go?",
                                      usual_path(begun), take_path, why_not,
                                      begun};
    if (!hbk_ask(&asking, &begun->arena)) {
        return false;
    }
    if (begun->path == NULL && !take_path(begun, asking.usual)) {
        fprintf(stderr, "%s.\n", why_not(begun));
        return ask_path(begun);
    }
    return true;
}

/* Says what is missing, or asks for it. */
static int complete(struct begun *begun)
{
    const struct hbk_options *const options = begun->options;
    const char *const missing = hbk_question_missing(&begun->answers);
    if (missing[0] == '\0') {
        return HBK_EXIT_DONE;
    }
    if (!hbk_can_ask()) {
        return hbk_usage(options->command,
                         "say what horn it is: %s %s missing, as in --kind "
                         "'keyed bugle' --key C --keys 6",
                         missing, strchr(missing, ' ') == NULL ? "is" : "are");
    }
    hbk_terminal_wipe(); /* who is asked takes his time */
    fputs("Enter takes what stands in brackets; Ctrl-D ends without a file.\n",
          stderr);
    bool is_done = ask_all(begun);
    if (is_done) {
        hbk_draft_make(&begun->answers, &begun->patterns, &begun->draft);
        is_done = options->output != NULL || isatty(STDOUT_FILENO) == 0 ||
                  ask_path(begun);
    }
    if (!is_done) {
        fputs("hornbook new: the questions were not all answered; nothing was "
              "written\n",
              stderr);
        return HBK_EXIT_USAGE;
    }
    return HBK_EXIT_DONE;
}

/* "keyed-bugle-c-6 (Keyed bugle in C, six keys)", moved or not. */
static void say_pattern(const struct begun *begun, struct hbk_text *said)
{
    const struct hbk_draft *const draft = &begun->draft;
    hbk_text_addf(said, "  begun   " HBK_HANG "from the pattern %s (%s)%s\n",
                  draft->pattern->name, hbk_horn_name(draft->pattern->horn),
                  draft->moved == 0 ? "" : ", moved to another key");
}

/* Reads the file back and understands it as `check` does. */
static int understand(struct begun *begun, const struct hbk_text *file,
                      struct hbk_text *said)
{
    struct hbk_faults *const faults = &begun->faults;
    struct hbk_horn *const horn = hbk_horn_new(&begun->arena);
    const char *const called =
        begun->path == NULL ? "standard output" : begun->path;
    struct hbk_understood found;
    enum hbk_status status = hbk_horn_read_text(called, hbk_text_string(file),
                                                file->length, horn, faults);
    if (status == HBK_OK) {
        status = hbk_understand(horn, &begun->arena, &found, faults);
    }
    if (status == HBK_OK) {
        hbk_text_addf(said, "%s: %s: %s\n", called,
                      faults->count == 0
                          ? "the file is good"
                          : "can be read, but look at the warnings",
                      hbk_horn_name(horn));
        say_pattern(begun, said);
        hbk_check_text(&found, said);
    }
    hbk_horn_finish(horn);
    return hbk_exit_of(status);
}

/* On standard output, or beside it where the file went there. */
static int print_facts(const struct begun *begun, const struct hbk_text *said)
{
    struct hbk_text laid = {.arena = said->arena};
    const struct hbk_screen screen = hbk_screen_of_file();
    if (begun->path != NULL) {
        return hbk_write_report(NULL, said, true);
    }
    hbk_screen_lay(&screen, hbk_text_string(said), &laid);
    fputs(hbk_text_string(&laid), stderr);
    return HBK_EXIT_DONE;
}

static int write_file(struct begun *begun)
{
    const struct hbk_options *const options = begun->options;
    struct hbk_text file = {.arena = &begun->arena};
    struct hbk_text said = {.arena = &begun->arena};
    hbk_draft_make(&begun->answers, &begun->patterns, &begun->draft);
    hbk_draft_write(&begun->answers, &begun->draft,
                    begun->path == NULL ? "my-horn.yaml" : begun->path, &file);
    const int code = understand(begun, &file, &said);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    const int written = hbk_write_result(begun->path, hbk_text_string(&file),
                                         file.length, options->quiet);
    return written == HBK_EXIT_DONE && !options->quiet
               ? print_facts(begun, &said)
               : written;
}

/* Where the file goes, as far as -o says it. */
static int set_path(struct begun *begun)
{
    const struct hbk_options *const options = begun->options;
    if (options->output == NULL || take_path(begun, options->output)) {
        return HBK_EXIT_DONE;
    }
    if (!is_there(options->output) || !hbk_ends_as_yaml(options->output)) {
        return hbk_usage(options->command, "-o: %s", begun->hint);
    }
    hbk_fault_add(&begun->faults, hbk_whole_file(options->output), HBK_H_EXISTS,
                  "is there already; give another name, or --replace to write "
                  "over it");
    return HBK_EXIT_OUTPUT;
}

static int begin(struct begun *begun)
{
    int code = set_path(begun);
    if (code == HBK_EXIT_DONE) {
        code = hbk_exit_of(
            hbk_patterns_read(&begun->arena, &begun->patterns, &begun->faults));
    }
    if (code == HBK_EXIT_DONE) {
        code = take_options(begun);
    }
    if (code == HBK_EXIT_DONE) {
        code = complete(begun);
    }
    return code == HBK_EXIT_DONE ? write_file(begun) : code;
}

/* What belongs to a sheet alone. */
static const char *sheet_option(const struct hbk_options *options)
{
    return options->paper != NULL    ? "paper"
           : options->title != NULL  ? "title"
           : options->format != NULL ? "format"
           : !isnan(options->dpi)    ? "dpi"
                                     : NULL;
}

int hbk_cmd_new(const struct hbk_options *options)
{
    if (options->n_words > 0) {
        return hbk_usage(options->command,
                         "'%s' is not an option; say what horn it is with "
                         "--kind, --key and --keys or --valves",
                         options->words[0]);
    }
    if (options->begin.form) {
        return hbk_new_form(options);
    }
    if (sheet_option(options) != NULL) {
        return hbk_usage(options->command, "--%s goes with --form",
                         sheet_option(options));
    }
    struct begun begun = {.options = options};
    begun.answers.arena = &begun.arena;
    const int code = begin(&begun);
    hbk_print_faults(&begun.faults, options->quiet);
    hbk_patterns_finish(&begun.patterns);
    hbk_arena_finish(&begun.arena);
    return code;
}
