#ifndef HBK_TUNE_MELODY_DOCUMENT_H
#define HBK_TUNE_MELODY_DOCUMENT_H

#include "base/text.h"
#include "tune/melody/tune.h"

/* A tune with the file it came from; tune/document.h reads and writes it. */

enum hbk_tune_format {
    HBK_TUNE_RUN, /* typed on the command line */
    HBK_TUNE_ABC,
    HBK_TUNE_MUSICXML,
    HBK_TUNE_MXL /* MusicXML in its zip container */
};

/* Which line of music of a file; zero where the file leaves no choice. */
struct hbk_tune_options {
    const char *tune;  /* ABC: the number or the title of a tune */
    size_t nth;        /* ABC: which in the order of the file, from 1; 0 where
                          it is not chosen so */
    const char *part;  /* MusicXML: id, name, or number counted from 1 */
    const char *voice; /* the name of a voice within the part or tune */
    /*
     * Whose part it is, where `part` or `voice` is NULL and the file has
     * several: the names of player and horn, each may be NULL
     * (tune/melody/part_name.h).
     */
    const char *player, *horn;
    int line;        /* as hbk_line_parse() has it; 0 is the top one as well */
    bool keep_about; /* ABC: into tune.about, for whoever shows it; else it is
                        counted as left out */
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

/* The fingering of one event: `main` NULL for none. */
struct hbk_tune_fingering {
    const char *main; /* "1-2"; UTF-8 without control characters */
    const char *const *alternates;
    size_t n_alternates;
};

#endif
