#include "cli/output.h"

#include "cli/horn_words.h"

int hbk_cmd_check(const struct hbk_options *options)
{
    if (options->n_words == 0) {
        return hbk_usage(options->command,
                         "name the horn files to look through");
    }
    struct hbk_arena arena = {0};
    struct hbk_text out = {.arena = &arena};
    struct hbk_horn_words words;
    hbk_read_horn_words(options, 0, &arena, &words);
    int code = words.n_faulty > 0 ? HBK_EXIT_NO : HBK_EXIT_DONE;
    for (size_t i = 0; i < words.n; i++) {
        struct hbk_horn horn = {0};
        if (hbk_load_horn(words.words[i], options->quiet, &horn) ==
            HBK_EXIT_DONE) {
            hbk_text_addf(&out, "%s: good: %s\n", words.words[i], horn.name);
        } else {
            code = HBK_EXIT_NO;
        }
        hbk_horn_finish(&horn);
    }
    if (out.length > 0) {
        const int written =
            hbk_write_result(NULL, out.bytes, out.length, options->quiet);
        code = written == HBK_EXIT_DONE ? code : written;
    }
    hbk_arena_finish(&arena);
    return code;
}
