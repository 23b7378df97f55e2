#ifndef HBK_CLI_OUTPUT_H
#define HBK_CLI_OUTPUT_H

#include "base/text.h"
#include "cli/cli.h"
#include "page/paper.h"
#include "render/render.h"

/* What a result can be written as; bits, so that a command can list its. */
enum hbk_output {
    HBK_OUT_TEXT = 1 << 0,
    HBK_OUT_CSV = 1 << 1,
    HBK_OUT_JSON = 1 << 2,
    HBK_OUT_PDF = 1 << 3,
    HBK_OUT_SVG = 1 << 4,
    HBK_OUT_PNG = 1 << 5,
    HBK_OUT_ABC = 1 << 6,
    HBK_OUT_MUSICXML = 1 << 7,
    HBK_OUT_MXL = 1 << 8
};

#define HBK_OUT_SHEETS (HBK_OUT_PDF | HBK_OUT_SVG | HBK_OUT_PNG)

/* The words of --format for these, one after the other; NULL past the last. */
const char *hbk_output_word(unsigned writes, size_t i);

/*
 * What --json, --format or the ending of --output asks for, out of
 * `allowed`; `usual` when nothing is said. A sheet needs --output.
 *
 * what   begins the sentence that says what there is: "notes are"
 *
 * Returns HBK_EXIT_DONE, or HBK_EXIT_USAGE with the reason printed.
 */
int hbk_read_output(const struct hbk_options *options, unsigned allowed,
                    enum hbk_output usual, const char *what,
                    enum hbk_output *output);

/*
 * Paper, title and sounding names. Returns HBK_EXIT_DONE, or HBK_EXIT_USAGE
 * with the reason printed.
 */
int hbk_read_paper(const struct hbk_options *options,
                   struct hbk_sheet_options *sheet);

/*
 * What follows writes options->with along, all files or none, where it takes
 * options.
 */

/* Writes a finished result to `path`, or standard output for NULL or "-". */
int hbk_write_result(const char *path, const char *bytes, size_t length,
                     bool quiet);

/*
 * The user's own file with something added or taken away, to --output, which
 * may be that very file.
 *
 * over   the file as the user named it
 */
int hbk_write_over(const struct hbk_options *options, const char *over,
                   const struct hbk_text *text);

/*
 * A report to be read, laid out for where it goes (report/screen.h): to
 * `path`, or standard output for NULL or "-".
 */
int hbk_write_report(const char *path, const struct hbk_text *report,
                     bool quiet);

/*
 * The text written so far, to --output; a report to be read (HBK_OUT_TEXT)
 * as above.
 */
int hbk_write_text(const struct hbk_options *options, enum hbk_output output,
                   const struct hbk_text *text);

/*
 * Draws a sheet into --output: a pdf as one file, every further page of an
 * svg or png to "name-2.svg" and so on; all files or none.
 *
 * output   one of HBK_OUT_SHEETS
 * faults   receives what the renderer says and what cannot be written
 */
int hbk_write_sheet(const struct hbk_options *options, enum hbk_output output,
                    struct hbk_fonts *fonts, const struct hbk_sheet *sheet,
                    struct hbk_faults *faults);

/* Lays out a sheet, which is zero-initialised but for its arena. */
typedef enum hbk_status hbk_lay_sheet(void *ctx, const struct hbk_ruler *ruler,
                                      struct hbk_sheet *sheet);

/*
 * Opens the fonts, has a sheet laid out with them and writes it as above.
 *
 * arena   receives the sheet
 * ctx     handed to `lay` untouched
 */
int hbk_draw_sheet(const struct hbk_options *options, enum hbk_output output,
                   hbk_lay_sheet *lay, void *ctx, struct hbk_arena *arena,
                   struct hbk_faults *faults);

/* What a command about one horn may write, and how messages begin. */
struct hbk_one_horn {
    unsigned allowed; /* of enum hbk_output */
    enum hbk_output usual;
    const char *what; /* "slides are" */
};

/*
 * Reads what such a command was given: its output, paper and title, and the
 * horn. Returns an exit code; finish the horn whatever it is.
 */
int hbk_read_one_horn(const struct hbk_options *options,
                      const struct hbk_one_horn *asked, enum hbk_output *output,
                      struct hbk_sheet_options *sheet, struct hbk_horn *horn);

/*
 * Shows "12 of 300 horns" on standard error while work goes on, in one line
 * that is written over; `count` == n wipes it. Nothing where standard error
 * is no terminal, or for `quiet`.
 */
void hbk_progress(bool quiet, size_t count, size_t n, const char *things);

#endif
