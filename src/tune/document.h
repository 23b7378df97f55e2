#ifndef HBK_TUNE_DOCUMENT_H
#define HBK_TUNE_DOCUMENT_H

#include "base/text.h"
#include "tune/tune.h"

enum hbk_tune_format {
    HBK_TUNE_RUN, /* typed on the command line */
    HBK_TUNE_ABC,
    HBK_TUNE_MUSICXML,
    HBK_TUNE_MXL /* MusicXML in its zip container */
};

/* Which line of music of a file; NULL where the file leaves no choice. */
struct hbk_tune_options {
    const char *tune;  /* ABC: the number or the title of a tune */
    const char *part;  /* MusicXML: id, name, or number counted from 1 */
    const char *voice; /* the name of a voice within the part or tune */
};

struct hbk_tune_source; /* what writing back needs of the file */

/*
 * A tune with the file it came from. Zero-initialise before use; owns the
 * tune and everything in it until hbk_tune_document_finish().
 */
struct hbk_tune_document {
    struct hbk_arena arena;
    enum hbk_tune_format format;
    struct hbk_tune tune;
    struct hbk_tune_source *source;
};

/*
 * Reads a tune from a file ("-" for standard input), whose kind is told by
 * its content. Nothing but this file is opened, whatever it names.
 *
 * path      borrowed; must outlive the document
 * options   may be NULL
 *
 * Returns HBK_OK (perhaps with warnings), or HBK_ERR_INPUT with the reasons
 * added to `faults`. The document must be finished in either case.
 */
enum hbk_status hbk_tune_read(const char *path,
                              const struct hbk_tune_options *options,
                              struct hbk_tune_document *document,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/* The same from memory; `name` serves as the file name in messages. */
enum hbk_status hbk_tune_read_bytes(const char *name, const char *bytes,
                                    size_t length,
                                    const struct hbk_tune_options *options,
                                    struct hbk_tune_document *document,
                                    struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * A few typed notes: "C5 D5 E5/2 (F5/2 G5*3/2) r | C5*2". A name with its
 * octave is a quarter note; /n, *n and *n/m divide and multiply that; r is a
 * rest, | a bar line, ( ) a slur.
 */
enum hbk_status hbk_tune_from_run(const char *text,
                                  struct hbk_tune_document *document,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

/* Releases everything; a zeroed document is fine. */
void hbk_tune_document_finish(struct hbk_tune_document *document);

/* The fingering of one event: `main` NULL for none. */
struct hbk_tune_fingering {
    const char *main; /* "1-2"; UTF-8 without control characters */
    const char *const *alternates;
    size_t n_alternates;
};

/*
 * The user's own file with fingerings below its notes and nothing else
 * changed. Fingerings that an earlier call wrote are replaced; a note whose
 * own fingering says the same is left as it is.
 *
 * fingerings   one for each event of the tune; those of rests and of the
 *              later pieces of tied notes are passed over
 * remark       a few words about them, put where they are counted or first
 *              in the score; no digits; NULL for none
 * out          receives the bytes of the file; for a typed run an ABC tune
 *
 * Returns HBK_OK, HBK_ERR_INPUT (a fingering that is not plain text, or
 * earlier annotations that were edited since) or HBK_ERR_DOMAIN, with the
 * reason in `faults`.
 */
enum hbk_status hbk_tune_annotate(const struct hbk_tune_document *document,
                                  const struct hbk_tune_fingering *fingerings,
                                  const char *remark, struct hbk_text *out,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The file without the fingerings that hbk_tune_annotate wrote: the same
 * bytes as before for ABC, the same canonical XML for MusicXML.
 */
enum hbk_status hbk_tune_strip(const struct hbk_tune_document *document,
                               struct hbk_text *out,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The tune written anew, its fingerings marked as hbk_tune_annotate() marks
 * them. `fingerings` may be NULL for those that the tune came with, which are
 * the user's own. Only the one line that was read is written.
 *
 * Returns HBK_OK; HBK_ERR_INPUT for a fingering that is not plain text;
 * HBK_ERR_DOMAIN when no common division of the beat fits the format.
 */
enum hbk_status hbk_tune_to_musicxml(
    const struct hbk_tune *tune, const struct hbk_tune_fingering *fingerings,
    struct hbk_text *out, struct hbk_faults *faults) HBK_MUST_CHECK;
enum hbk_status hbk_tune_to_mxl(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out,
                                struct hbk_faults *faults) HBK_MUST_CHECK;
enum hbk_status hbk_tune_to_abc(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
