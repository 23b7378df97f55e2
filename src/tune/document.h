#ifndef HBK_TUNE_DOCUMENT_H
#define HBK_TUNE_DOCUMENT_H

#include "tune/melody/document.h"

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
 * A few typed notes: "C5 D5 E5:1/8 (F5:1/8 G5:3/8) r | C5:1/2". A name with its
 * octave is a quarter note; after a colon stands another length, as a part of
 * a whole note, and dots, ":1/4." for ":3/8"; r is a rest, | a bar line, ( ) a
 * slur. `name` serves as the file name in messages; it must outlive the
 * document.
 */
enum hbk_status hbk_tune_from_run(const char *name, const char *text,
                                  struct hbk_tune_document *document,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

/* Releases everything; a zeroed document is fine. */
void hbk_tune_document_finish(struct hbk_tune_document *document);

/*
 * Whether a file of this format can hold the user's own text: MusicXML does
 * with its container or without, ABC holds ABC, and a typed run is written as
 * an ABC tune.
 */
bool hbk_tune_holds(const struct hbk_tune_document *document,
                    enum hbk_tune_format format);

/*
 * Adds to what a tune left out (tune.marks.left_out) what its file holds
 * besides this line of music, which is lost where it is written anew: other
 * parts and voices, comments and the like. The other tunes of a book are not
 * counted.
 *
 * tune    the document's own, or one made of it; keeps what is in `arena`
 */
void hbk_tune_count_besides(const struct hbk_tune_document *document,
                            struct hbk_arena *arena, struct hbk_tune *tune);

/*
 * The user's own file with fingerings below its notes and nothing else
 * changed, byte for byte. Fingerings that an earlier call wrote into this line
 * of music are replaced, those of other parts and voices stay; a note whose own
 * fingering says the same is left as it is.
 *
 * format       one that holds the document (hbk_tune_holds()). A container
 *              that was read keeps what else is in it; a new one holds
 *              nothing but the score
 * fingerings   one for each event of the tune; those of rests and of the
 *              later pieces of tied notes are passed over
 * remark       a few words about them, of ASCII, put where they are counted
 *              or first in the score; no digits; NULL for none
 * out          receives the bytes of the file
 *
 * Returns HBK_OK, HBK_ERR_INPUT (a fingering that is not plain text, earlier
 * annotations that were edited since, or a damaged container) or
 * HBK_ERR_DOMAIN, with the reason in `faults`.
 */
enum hbk_status hbk_tune_annotate(const struct hbk_tune_document *document,
                                  enum hbk_tune_format format,
                                  const struct hbk_tune_fingering *fingerings,
                                  const char *remark, struct hbk_text *out,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The file without the fingerings that hbk_tune_annotate() wrote: the same
 * bytes as before. A container is the same to the byte where zlib packed its
 * score; where something else did, the score in it is.
 */
enum hbk_status hbk_tune_strip(const struct hbk_tune_document *document,
                               enum hbk_tune_format format,
                               struct hbk_text *out,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
