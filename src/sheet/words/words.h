#ifndef HBK_SHEET_WORDS_WORDS_H
#define HBK_SHEET_WORDS_WORDS_H

#include "notes/notes.h"

/*
 * What is said about a horn on a sheet, in the trade's words. Sentences end
 * with a full stop and live in the arena. None is ever NULL; where there is
 * nothing to say, it is "".
 */

/* "a semitone", "a tone", "a tone and a half", ... "an octave and a tone". */
const char *hbk_words_interval(struct hbk_arena *arena, int semitones);

/* "For Ada, Larkmoor Band"; "" for NULL. */
const char *hbk_words_whom(struct hbk_arena *arena, const char *whom);

/* "Written C sounds B♭, a tone lower" without the full stop. */
const char *hbk_words_sounds(struct hbk_arena *arena, int written_c4_sounds);

/* The key a horn is said to be in, from what its written C4 sounds. */
struct hbk_spelling hbk_horn_key(int written_c4_sounds);

/* What a written note sounds, spelled as far from it as that key from C. */
struct hbk_spelling hbk_sounding_spelling(int written, int written_c4_sounds);

/*
 * What a written note sounds, spelled as far from it as the horn's key is
 * from C: written F on a horn in E flat sounds A flat, not G sharp. "A♭3".
 */
const char *hbk_words_sounding(struct hbk_arena *arena, int written,
                               int written_c4_sounds);

/*
 * What was asked for: "A = 440 Hz, 20 °C in the horn", or "A = 440 Hz, 20 °C
 * in the room (26 in the horn)" where the room's temperature was given.
 */
const char *hbk_words_pitch(struct hbk_arena *arena,
                            const struct hbk_setting *setting);

/* Brief words are for heads with little room. */
enum hbk_words_length { HBK_WORDS_FULL, HBK_WORDS_BRIEF };

/*
 * Where every slide is: "Tuned on C5 (open): main slide 10 mm out; valve
 * slides 1: 3, 2: 1, 3: 5 mm, keeping each valve's own interval.", or "Tuned
 * on C5: main slide 10 mm out; valve slides: first 3, second 1, third 5 mm.".
 * Nothing of valve slides where there are none; what is stuck is said.
 */
const char *hbk_words_slides(struct hbk_arena *arena,
                             const struct hbk_notes *notes,
                             enum hbk_words_length length);

/* On which note, and pressed how: "Tuned on C5 (open).". */
const char *hbk_words_tuned(struct hbk_arena *arena,
                            const struct hbk_notes *notes);

/*
 * What the horn cannot reach, when it is half a cent or more: "All notes lie
 * 48 cents flat of A = 452.5 Hz: this horn plays at A = 440.1.", or "All
 * notes 48 cents flat of A = 452.5."; else "".
 */
const char *hbk_words_rest(struct hbk_arena *arena,
                           const struct hbk_notes *notes,
                           enum hbk_words_length length);

/* Whether that is more than the lips make up for: 15 cents and more. */
bool hbk_rest_alarms(const struct hbk_notes *notes);

/* For every head: pitch and temperature, crook, what is stuck, slides. */
const char *hbk_words_set(struct hbk_arena *arena,
                          const struct hbk_notes *notes,
                          enum hbk_words_length length);

/*
 * The head of a table printed as text, in lines that end with a newline: the
 * horn, what written C sounds, how it is set, what it cannot reach.
 */
const char *hbk_words_head(struct hbk_arena *arena,
                           const struct hbk_notes *notes);

/* "stuck open", "stuck down"; "" for a control that moves. */
const char *hbk_words_stuck(const struct hbk_notes *notes, size_t control);

/*
 * What a mouthpiece that is not the horn's own does to pitch and octaves, in
 * sentences; "" for its own.
 */
const char *hbk_words_mouthpiece(struct hbk_arena *arena,
                                 const struct hbk_notes *notes);

/* Crook, mouthpiece, what is stuck, and, as it is played, its player; or "". */
const char *hbk_words_setting(struct hbk_arena *arena,
                              const struct hbk_notes *notes);

/* The name of a key with its sign, "A♭ basso" for "Ab basso"; others as is. */
const char *hbk_words_key(struct hbk_arena *arena, const char *name);

/*
 * What is measured, from a catalogue, assumed; for a horn that says nothing
 * of the kind, the parts of which it is not said.
 */
const char *hbk_words_provenance(struct hbk_arena *arena,
                                 const struct hbk_horn *horn);

/* The same, with the file's source, and what the model cannot know. */
const char *hbk_words_known(struct hbk_arena *arena,
                            const struct hbk_horn *horn);

/*
 * That the fingerings are those of a horn whose bore, holes or mouthpiece are
 * assumed, for the head of a sheet; "" for one that assumes none of these. Of
 * a horn, or crook, not to be learnt from, hbk_words_not_to_learn().
 */
const char *hbk_words_assumed(struct hbk_arena *arena,
                              const struct hbk_notes *notes);

/* That nobody should learn its fingerings from this; "" for most horns. */
const char *hbk_words_not_to_learn(struct hbk_arena *arena,
                                   const struct hbk_notes *notes);

/* What the file remarks of the horn, and of a crook that is in. */
const char *hbk_words_remarks(struct hbk_arena *arena,
                              const struct hbk_notes *notes);

/* "C♯4 to F♯4, A4": runs of written notes, both names of the black ones. */
const char *hbk_words_note_runs(struct hbk_arena *arena, size_t n,
                                const int notes[]);

/* The cautions that go with every sheet for an old instrument. */
const char *hbk_words_cautions(void);
/* All of them in few words, for a card. */
const char *hbk_words_cautions_short(void);

/* "one" to "twelve", then figures; with a capital if asked. */
const char *hbk_words_count(struct hbk_arena *arena, size_t n, bool capital);

/*
 * "slide of valve 3: pull 18 mm": how far the hand pulls a slide by its
 * trigger for the note; "pull 18 mm" where the slide is no valve's; "" without.
 */
const char *hbk_words_draw(struct hbk_arena *arena, const struct hbk_horn *horn,
                           const struct hbk_fingering *fingering);

/* "lip up", "lip down", or "" within 10 cents. */
const char *hbk_words_lip(double cents);

#endif
