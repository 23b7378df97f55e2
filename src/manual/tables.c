/*
 * Writes the tables that manual and completions are made from, as JSON: the
 * commands with their options, and the shipped horns with their crooks. It
 * runs while the project is built and is not installed.
 *
 *   manual_tables TABLES.json DEPENDENCIES
 *
 * The second file tells the build what was read, as makefiles do.
 */
#include "base/file.h"
#include "base/json.h"
#include "cli/cli.h"
#include "cli/command_table.h"
#include "cli/option_list.h"
#include "cli/output.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"

#include <string.h>

static const char *word_of(const struct hbk_command *command,
                           const struct hbk_option_shown *option, size_t i)
{
    return strcmp(option->name, "format") == 0
               ? hbk_output_word(command->writes, i)
               : hbk_option_word(option->name, i);
}

static void add_option(struct hbk_json *json, const struct hbk_command *command,
                       const struct hbk_option_shown *option)
{
    const char letter[] = {option->letter, '\0'};
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "name", option->name);
    hbk_json_string(json, "letter", letter);
    hbk_json_string(json, "value", option->value);
    hbk_json_string(json, "help", option->help);
    if (option->is_number) {
        hbk_json_number(json, "low", option->low, 6);
        hbk_json_number(json, "high", option->high, 6);
        hbk_json_string(json, "unit", option->unit);
    }
    hbk_json_open_array(json, "words");
    const char *word = NULL;
    for (size_t i = 0; (word = word_of(command, option, i)) != NULL; i++) {
        hbk_json_string(json, NULL, word);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

static void add_command(struct hbk_json *json,
                        const struct hbk_command *command)
{
    struct hbk_option_shown shown[HBK_OPTIONS_MOST];
    const size_t n = hbk_options_list(command->takes, shown);
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "name", command->name);
    hbk_json_string(json, "words", command->words);
    hbk_json_string(json, "does", command->does);
    hbk_json_string(json, "example", command->example);
    hbk_json_open_array(json, "options");
    for (size_t i = 0; i < n; i++) {
        add_option(json, command, &shown[i]);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

/* A shipped horn; what it is read from, and its folder, are added to `made`. */
static enum hbk_status add_horn(struct hbk_json *json, struct hbk_text *made,
                                const struct hbk_shipped_horn *shipped,
                                struct hbk_faults *faults)
{
    struct hbk_horn horn = {0};
    const enum hbk_status status = hbk_horn_read(shipped->path, &horn, faults);
    if (status == HBK_OK) {
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "name", shipped->name);
        hbk_json_string(json, "title", hbk_horn_name(&horn));
        hbk_json_open_array(json, "crooks");
        for (size_t i = 0; i < horn.n_crooks; i++) {
            hbk_json_string(json, NULL, horn.crooks[i].name);
        }
        hbk_json_close_array(json);
        hbk_json_close_object(json);
    }
    hbk_horn_finish(&horn);
    const size_t folder = (size_t)(strrchr(shipped->path, '/') - shipped->path);
    hbk_text_addf(made, " %s %.*s", shipped->path, (int)folder, shipped->path);
    return status;
}

static enum hbk_status add_tables(struct hbk_json *json, struct hbk_text *made,
                                  struct hbk_faults *faults)
{
    const struct hbk_shipped_horn *shipped = NULL;
    const size_t n = hbk_shipped_list(json->out->arena, &shipped);
    enum hbk_status status = n == 0 ? HBK_ERR_INPUT : HBK_OK;
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "version", HBK_VERSION);
    hbk_json_open_array(json, "commands");
    for (size_t i = 0; i < hbk_n_commands; i++) {
        add_command(json, &hbk_commands[i]);
    }
    hbk_json_close_array(json);
    hbk_json_open_array(json, "horns");
    for (size_t i = 0; i < n && status == HBK_OK; i++) {
        status = add_horn(json, made, &shipped[i], faults);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
    hbk_json_finish(json);
    return status;
}

int main(int argc, char *argv[])
{
    if (argc != 3) {
        return hbk_usage("tables", "name two files to write");
    }
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_text tables = {.arena = &arena}, made = {.arena = &arena};
    struct hbk_json json = {.out = &tables};
    hbk_text_addf(&made, "%s:", argv[1]);
    enum hbk_status status = add_tables(&json, &made, &faults);
    hbk_text_add(&made, "\n");
    if (status == HBK_OK) {
        const struct hbk_outgoing files[] = {{.path = argv[1],
                                              .bytes = hbk_text_string(&tables),
                                              .length = tables.length},
                                             {.path = argv[2],
                                              .bytes = hbk_text_string(&made),
                                              .length = made.length}};
        status = hbk_files_write(files, 2, &faults);
    }
    hbk_print_faults(&faults, false);
    hbk_arena_finish(&arena);
    return hbk_exit_of(status);
}
