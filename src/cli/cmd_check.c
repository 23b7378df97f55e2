#include "cli/commands.h"

#include "cli/horns_in.h"
#include "cli/output.h"
#include "edition/check.h"
#include "horn/about.h"
#include "reader/horn_word.h"

static int check(const char *word, const struct hbk_options *options,
                 struct hbk_arena *arena, struct hbk_text *out)
{
    struct hbk_horn *const horn = hbk_horn_new(arena);
    struct hbk_faults read = {0};
    struct hbk_faults faults = {0};
    struct hbk_understood found;
    int code = hbk_exit_of(hbk_horn_read_word(word, arena, horn, &read));
    hbk_print_faults(&read, options->quiet);
    if (code == HBK_EXIT_DONE) {
        code = hbk_exit_of(hbk_understand(horn, arena, &found, &faults));
        hbk_print_faults(&faults, options->quiet);
    }
    if (code == HBK_EXIT_DONE) {
        const bool is_good = read.count == 0 && faults.count == 0;
        hbk_text_addf(out, "%s: %s: %s\n", word,
                      is_good ? "good"
                              : "can be read, but look at the warnings",
                      hbk_horn_name(horn));
        if (!options->quiet) {
            hbk_check_text(&found, out);
        }
    }
    hbk_horn_finish(horn);
    return code;
}

int hbk_cmd_check(const struct hbk_options *options)
{
    if (options->n_words == 0) {
        return hbk_usage(options->command,
                         "name the horn files to look through");
    }
    struct hbk_arena arena = {0};
    struct hbk_text out = {.arena = &arena};
    struct hbk_horn_words words;
    int code = hbk_read_horn_words(options, 0, &arena, &words) > 0
                   ? HBK_EXIT_NO
                   : HBK_EXIT_DONE;
    for (size_t i = 0; i < words.n; i++) {
        struct hbk_arena scratch = {0};
        struct hbk_text one = {.arena = &scratch};
        if (check(words.words[i], options, &scratch, &one) == HBK_EXIT_DONE) {
            hbk_text_add(&out, hbk_text_string(&one));
        } else {
            code = HBK_EXIT_NO;
        }
        hbk_arena_finish(&scratch);
    }
    if (out.length > 0) {
        const int written =
            hbk_write_result(NULL, out.bytes, out.length, options->quiet);
        code = written == HBK_EXIT_DONE ? code : written;
    }
    hbk_arena_finish(&arena);
    return code;
}
