#ifndef HBK_CLI_CMD_NEW_FORM_H
#define HBK_CLI_CMD_NEW_FORM_H

struct hbk_options;

/* `new --form`: the form to measure by. Returns an exit code. */
int hbk_new_form(const struct hbk_options *options);

#endif
