#include "begin/write.h"

#include "begin/write_parts.h"
#include "begin/write_yaml.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

static const char *note_name(struct hbk_arena *arena, int note)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(arena, "%s", hbk_note_name(note, HBK_ASCII, name));
}

/* The file's name as a shell takes it; another where that would be odd. */
static const char *shell_word(struct hbk_arena *arena, const char *file)
{
    if (hbk_text_has_control(file) || strchr(file, '\'') != NULL) {
        return "my-horn.yaml";
    }
    return strpbrk(file, " \"\\$`&;|<>()*?[]{}!#~") == NULL
               ? file
               : hbk_arena_printf(arena, "'%s'", file);
}

static void write_head(const struct hbk_draft *draft, const char *file,
                       struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    hbk_write_lines(
        out, "# ",
        hbk_arena_printf(arena,
                         "A horn file to begin with, after the pattern %s.",
                         draft->pattern->name));
    hbk_text_add(out, "#\n");
    hbk_write_lines(
        out, "# ",
        "Where a line says \"measure\", its figure is the pattern's. Measure "
        "it "
        "on your horn, write yours in its place, and say \"measured\" of it in "
        "provenance, at the end. Where it says \"look\", see whether it is so "
        "on your horn.");
    hbk_write_lines(
        out, "# ",
        "Lengths are mm, temperatures degrees Celsius. Notes are written ones, "
        "as in F#4 or Bb3. What follows a # is a remark, like this.");
    hbk_text_add(out, "#\n");
    hbk_text_add(out, "#   hornbook new --form -o form.pdf   a form to fill in "
                      "at the horn\n");
    hbk_text_addf(out, "#   hornbook check %s\n", shell_word(arena, file));
    hbk_text_add(out, "#\n");
    hbk_write_lines(
        out, "# ",
        "Have an unknown old horn looked over by a repairer or conservator "
        "before you move its keys or valves. Never force a key, valve, slide, "
        "crook or mouthpiece.");
    hbk_text_add(out, "hornbook: 1\n");
}

/* What is of this horn: "its pitch and its keys as its player said". */
static const char *said(const struct hbk_answers *answers,
                        struct hbk_arena *arena)
{
    static const struct {
        enum hbk_question question;
        const char *words;
    } parts[] = {
        {HBK_ASK_LENGTH, "length"},          {HBK_ASK_A4, "pitch"},
        {HBK_ASK_OPEN, "open keys"},         {HBK_ASK_CALLED, "names of keys"},
        {HBK_ASK_LOWERS, "order of valves"}, {HBK_ASK_LOOPS, "loops"}};
    struct hbk_text list = {.arena = arena};
    for (size_t i = 0; i < sizeof(parts) / sizeof(parts[0]); i++) {
        if (answers->given[parts[i].question]) {
            hbk_text_addf(&list, "%s%s", list.length == 0 ? "" : ", ",
                          parts[i].words);
        }
    }
    return hbk_text_string(&list);
}

static void write_source(const struct hbk_answers *answers,
                         const struct hbk_draft *draft, struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    const char *const list = said(answers, arena);
    hbk_text_add(out, "# Where the figures come from; charts print it.\n"
                      "source: >-\n");
    hbk_write_lines(
        out, "  ",
        hbk_arena_printf(
            arena, "Figures of the pattern %s, not of this horn%s%s.",
            draft->pattern->name,
            list[0] == '\0' ? "" : "; as its player gave them: ", list));
}

static void write_pitch(const struct hbk_draft *draft, struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    const char *const tuning = note_name(arena, draft->tuning_note);
    hbk_text_add(out, "\n# What sounds when its player reads C4.\n");
    hbk_text_addf(out, "written_c4_sounds: %s\n",
                  hbk_write_sounds(out, draft->written_c4_sounds));
    hbk_text_addf(out, "clef: %s\n", hbk_clef_name(draft->clef));
    hbk_write_lines(
        out, "# ",
        hbk_arena_printf(
            arena,
            "measure a4: play the horn warm, pull each slide as far as its "
            "stands_out says below, and play written %s against a tuner. The "
            "setting of the tuner at which it is in tune is a4. The "
            "temperature is that of the air in the horn.",
            tuning));
    hbk_text_addf(out,
                  "tuning: {note: %s, a4: %g, temperature: %g} # measure\n",
                  tuning, draft->a4_hz, draft->temperature_c);
    if (draft->lowest < draft->highest) {
        hbk_text_add(out, "# The lowest and the highest written note that you "
                          "want.\n");
        hbk_text_addf(out, "compass: [%s, %s]\n",
                      note_name(arena, draft->lowest),
                      note_name(arena, draft->highest));
    }
}

static void write_length(const struct hbk_draft *draft, struct hbk_text *out)
{
    if (!isnan(draft->length_mm)) {
        hbk_write_lines(out, "# ",
                        "Half the wave of the lowest note of the open horn; "
                        "longer than the tube.");
        hbk_text_addf(out, "length: %g\n", draft->length_mm);
        return;
    }
    hbk_write_lines(
        out, "# ",
        "The lowest note of the open horn, an octave below the lowest that is "
        "easily played on most horns, at the pitch a4. It follows from the key "
        "of the horn; there is nothing to measure while a4 is right.");
    hbk_text_addf(out, "fundamental: %s\n",
                  hbk_write_sounds(out, draft->fundamental));
}

static void write_partials(const struct hbk_draft *draft, struct hbk_text *out)
{
    const struct hbk_partials *const used = &draft->partials;
    const char *before = "";
    hbk_text_add(out, "# Which partials its players use, counted from the "
                      "fundamental.\n");
    hbk_text_addf(out, "partials: {lowest: %u, highest: %u, avoid: [",
                  used->lowest, used->highest);
    for (unsigned p = 1; p <= HBK_PARTIALS_MAX; p++) {
        if (used->avoid[p] && p <= used->highest) {
            hbk_text_addf(out, "%s%u", before, p);
            before = ", ";
        }
    }
    hbk_text_add(out, "]}\n");
}

static void write_bore(const struct hbk_draft *draft, struct hbk_text *out)
{
    hbk_text_add(out, "\n");
    hbk_write_lines(
        out, "# ",
        "A bore tells more: how surely a note speaks, and what several open "
        "holes do together. Measure with a caliper and write it in place of "
        "fundamental, as in the lines below: distance from the receiver and "
        "diameter of the bore, and the mouthpiece.");
    hbk_text_add(out,
                 "# bore: [[0, 12.1], [60, 11.3], [1090, 36], [1201, 155]]\n"
                 "# mouthpiece: {volume: 3.0, throat: [5, 5.0],\n"
                 "#              backbore: [[0, 5.0], [56, 9.0]]}\n");
    if (draft->n_keys > 0) {
        hbk_text_add(out, "# Every key then has, in place of raises:\n"
                          "#   from_bell: 127, diameter: 27, chimney: 5, "
                          "pad_lift: 8\n");
    }
    if (draft->n_valves > 0) {
        hbk_text_add(out, "# Every valve, and every slide of the main tube, "
                          "then has its place:\n"
                          "#   at: 610 (mm from the receiver)\n");
    }
}

static void write_provenance(const struct hbk_draft *draft,
                             struct hbk_text *out)
{
    static const char *const words[] = {[HBK_UNSTATED] = "",
                                        [HBK_MEASURED] = "measured",
                                        [HBK_CATALOGUE] = "catalogue",
                                        [HBK_ASSUMED] = "assumed",
                                        [HBK_OF_PATTERN] = "pattern"};
    hbk_text_add(out, "\n");
    hbk_write_lines(
        out, "# ",
        "What is known of each part: measured (on this horn), catalogue, "
        "assumed, or pattern (of the horn this one was begun from). Charts "
        "print it.");
    hbk_text_add(out, "provenance:\n");
    for (int part = 0; part < HBK_PART_COUNT; part++) {
        if (draft->provenance[part] != HBK_UNSTATED) {
            hbk_text_addf(out, "  %s: %s\n", hbk_part_name((enum hbk_part)part),
                          words[draft->provenance[part]]);
        }
    }
}

void hbk_draft_write(const struct hbk_answers *answers,
                     const struct hbk_draft *draft, const char *file,
                     struct hbk_text *out)
{
    write_head(draft, file, out);
    hbk_text_add(out, "# What charts call it.\nname: ");
    hbk_write_scalar(out, draft->name, false);
    hbk_text_add(out, "\n");
    write_source(answers, draft, out);
    write_pitch(draft, out);
    write_length(draft, out);
    write_partials(draft, out);
    hbk_write_keys(draft, out);
    hbk_write_valves(draft, out);
    hbk_write_slides(draft, out);
    hbk_write_crooks(draft, out);
    hbk_text_add(out, "\n# What is broken or lost, if anything:\n"
                      "# stuck: [");
    if (draft->n_keys > 0) {
        hbk_text_addf(out, "key:%zu=open, ", draft->n_keys);
    } else if (draft->n_valves > 0) {
        hbk_text_add(out, "valve:1=up, ");
    }
    hbk_text_addf(out, "\"slide:%s=in\"]\n",
                  draft->n_slides > 0 ? draft->slides[0].name : "main");
    write_bore(draft, out);
    write_provenance(draft, out);
}
