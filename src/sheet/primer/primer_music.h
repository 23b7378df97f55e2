#ifndef HBK_SHEET_PRIMER_PRIMER_MUSIC_H
#define HBK_SHEET_PRIMER_PRIMER_MUSIC_H

#include "sheet/part/part_music.h"
#include "sheet/primer/primer_page.h"

/*
 * Music in a primer, with the chart's first fingerings under its notes; where a
 * finger stays down between two notes (lesson/way.h), with what that gives.
 */

/* How often a note bears its fingering within one piece. */
enum hbk_figured { HBK_FIGURED_NEVER, HBK_FIGURED_ONCE, HBK_FIGURED_ALWAYS };

struct hbk_figures {
    enum hbk_figured of[HBK_NOTE_MAX + 1]; /* by written note */
    bool is_usual; /* by first fingerings: no finger stays down for a step */
};

/* All notes alike. */
struct hbk_figures hbk_figures_all(enum hbk_figured how);

/* A tune, as the horn is written, as its player reads it; in the arena. */
const struct hbk_tune *hbk_booklet_read(struct hbk_booklet *booklet,
                                        const struct hbk_tune *tune);

/* A piece that is engraved and waits for its place. */
struct hbk_booklet_music {
    struct hbk_part_music *music;
    double height; /* of all its lines, mm */
};

/* tune: as the horn is written; it is drawn as its player reads it. */
struct hbk_booklet_music hbk_booklet_engrave(struct hbk_booklet *booklet,
                                             const struct hbk_tune *tune,
                                             const struct hbk_figures *figures,
                                             double x, double width);

/* Draws it with its top at y, on this page; returns what it takes. */
double hbk_booklet_music_at(struct hbk_booklet *booklet,
                            const struct hbk_booklet_music *music, double y);

/*
 * What of it must stand below `above` mm of this page: the whole piece. Where
 * that has no room, and the page that follows faces this one, two of its three
 * lines or more.
 */
double hbk_booklet_music_kept(const struct hbk_booklet *booklet,
                              const struct hbk_booklet_music *music,
                              double above);

/*
 * Draws it over the width of the page, with white below it; where it is not
 * kept, it goes on overleaf.
 */
void hbk_booklet_music(struct hbk_booklet *booklet,
                       const struct hbk_booklet_music *music);

#endif
