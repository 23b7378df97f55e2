#ifndef HBK_PASSAGE_LIP_H
#define HBK_PASSAGE_LIP_H

/* What the lip does between two notes, and how well each note is heard. */

/*
 * A trill of the lip between neighbouring partials: 11 highly skilled horn
 * players made 178.3 +- 24.7 times four changes a minute, as fast as they
 * could (Iltis, Frahm, Voit, Joseph, Altenmueller and Miller 2017, Med. Probl.
 * Perform. Art. 32, from the abstract). So the mean of them needs 84 ms for a
 * change.
 */
#define HBK_LIP_TRILL_S 0.084
/*
 * Going to another partial in a run, where the lip has not settled between the
 * two: as long as a trill takes a player who is one standard deviation slower
 * than the mean of those, 60 / (4 * 153.6) s. That players of bands are taken
 * for such is our own choice.
 */
#define HBK_LIP_PARTIAL_S 0.098
/* Each partial that is passed on the way, as over a wide skip: our own. */
#define HBK_LIP_FURTHER_S 0.015

/* The time the lip needs from one partial to another; 0 on the same. */
double hbk_lip_least_s(unsigned from, unsigned to);
/* The same where it goes to and fro, in a trill. */
double hbk_lip_trill_s(unsigned from, unsigned to);

/*
 * How much of a note's deviation counts: length / (length + 0.1 s). Short
 * tones are judged less finely than long ones, most below a tenth of a
 * second (from memory); the form is our own choice, no source.
 */
#define HBK_LIP_HEARD_S 0.1
double hbk_lip_heard(double length_s);

#endif
