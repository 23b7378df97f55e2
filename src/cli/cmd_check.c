#include "cli/commands.h"

#include "cli/horns_in.h"
#include "cli/output.h"
#include "edition/check.h"
#include "horn/about.h"
#include "reader/horn_word.h"

/* Where the answer goes, as one horn after another is looked at. */
struct answer {
    const struct hbk_options *options;
    struct hbk_text text;
    struct hbk_json json; /* into the text, for --json */
};

static void say_good(const struct hbk_checked *checked,
                     const struct hbk_horn *horn, struct answer *answer)
{
    hbk_text_addf(&answer->text, "%s: %s: %s\n", checked->word,
                  checked->faults->count == 0
                      ? "the file is good"
                      : "can be read, but look at the warnings",
                  hbk_horn_name(horn));
    if (!answer->options->quiet) {
        hbk_check_text(checked->found, &answer->text);
    }
}

/* Looks at one; returns whether it can be used. */
static bool check(const char *word, struct answer *answer)
{
    struct hbk_arena arena = {0};
    struct hbk_horn *const horn = hbk_horn_new(&arena);
    struct hbk_faults faults = {0};
    struct hbk_understood found;
    bool is_usable = hbk_horn_read_word(word, &arena, horn, &faults) == HBK_OK;
    is_usable =
        is_usable && hbk_understand(horn, &arena, &found, &faults) == HBK_OK;
    const struct hbk_checked checked = {
        .word = word, .faults = &faults, .found = is_usable ? &found : NULL};
    hbk_print_faults(&faults, answer->options->quiet);
    if (answer->options->json) {
        hbk_check_json_horn(&checked, &answer->json);
    } else if (is_usable) {
        say_good(&checked, horn, answer);
    }
    hbk_horn_finish(horn);
    hbk_arena_finish(&arena);
    return is_usable;
}

static int write_answer(struct answer *answer)
{
    if (answer->options->json) {
        hbk_check_json_end(&answer->json);
    }
    return answer->text.length == 0
               ? HBK_EXIT_DONE
               : hbk_write_text(answer->options,
                                answer->options->json ? HBK_OUT_JSON
                                                      : HBK_OUT_TEXT,
                                &answer->text);
}

int hbk_cmd_check(const struct hbk_options *options)
{
    if (options->n_words == 0) {
        return hbk_usage(options->command,
                         "name the horn files to look through");
    }
    struct hbk_arena arena = {0};
    struct answer answer = {.options = options, .text = {.arena = &arena}};
    if (options->json) {
        answer.json = hbk_check_json_begin(&answer.text);
    }
    struct hbk_horn_words words;
    int code = hbk_read_horn_words(options, 0, &arena, &words) > 0
                   ? HBK_EXIT_NO
                   : HBK_EXIT_DONE;
    for (size_t i = 0; i < words.n; i++) {
        if (!check(words.words[i], &answer)) {
            code = HBK_EXIT_NO;
        }
    }
    const int written = write_answer(&answer);
    hbk_arena_finish(&arena);
    return written == HBK_EXIT_DONE ? code : written;
}
