#ifndef HBK_CLI_COMMANDS_H
#define HBK_CLI_COMMANDS_H

struct hbk_options;

/* The commands; each takes what its row in cli/command_table.c says. */
int hbk_cmd_check(const struct hbk_options *options);
int hbk_cmd_horns(const struct hbk_options *options);
int hbk_cmd_notes(const struct hbk_options *options);
int hbk_cmd_slides(const struct hbk_options *options);
int hbk_cmd_pitch(const struct hbk_options *options);
int hbk_cmd_choose(const struct hbk_options *options);
int hbk_cmd_chart(const struct hbk_options *options);
int hbk_cmd_resonances(const struct hbk_options *options);
int hbk_cmd_scales(const struct hbk_options *options);
int hbk_cmd_lessons(const struct hbk_options *options);
int hbk_cmd_primer(const struct hbk_options *options);
int hbk_cmd_print(const struct hbk_options *options);
int hbk_cmd_passage(const struct hbk_options *options);
int hbk_cmd_fit(const struct hbk_options *options);
int hbk_cmd_new(const struct hbk_options *options);
int hbk_cmd_identify(const struct hbk_options *options);

#endif
