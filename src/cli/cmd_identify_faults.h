#ifndef HBK_CLI_CMD_IDENTIFY_FAULTS_H
#define HBK_CLI_CMD_IDENTIFY_FAULTS_H

#include "cli/cli.h"

/* `identify --faults HORN READINGS`: what is wrong with one horn. */
int hbk_identify_faults(const struct hbk_options *options);

#endif
