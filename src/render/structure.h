#ifndef HBK_RENDER_STRUCTURE_H
#define HBK_RENDER_STRUCTURE_H

#include "page/mark.h"

/*
 * For the files of this folder only: what a document says, in which order.
 * Marks that follow each other and belong to one element are a run, which the
 * drawing library encloses in the content of its page; all else is an
 * artifact, drawn and never read out: rules, tints, staves under the words.
 */

/* A run that belongs to no element. */
#define HBK_NO_ELEMENT ((size_t)-1)

struct hbk_run {
    size_t element; /* or HBK_NO_ELEMENT */
    size_t page;    /* from 0 */
    size_t number;  /* among the runs of its page that are read out */
    bool is_said;   /* its text is there to be read, and is not seen */
};

/* In an element: another, or a run. */
struct hbk_kid {
    bool is_run;
    size_t index;
};

struct hbk_element {
    const char *role;           /* its name in PDF: "TD" */
    const char *scope;          /* "Row" or "Column" of a head; else NULL */
    const char *alt;            /* what stands for a figure; else NULL */
    size_t parent;              /* of the document itself: 0 */
    struct hbk_point low, high; /* of a figure: its box; mm */
    size_t n_kids, capacity;
    struct hbk_kid *kids; /* in the order in which they are read */
};

/* Start with the arena and the ruler. Element 0 is the document. */
struct hbk_structure {
    struct hbk_arena *arena;       /* borrowed */
    const struct hbk_ruler *ruler; /* borrowed */
    size_t n_pages;
    size_t n, capacity;
    struct hbk_element *elements;
    size_t n_runs, runs_capacity;
    struct hbk_run *runs; /* of all pages, in the order drawn */
    size_t open;          /* the innermost element */
    size_t artifacts;     /* how many are open */
    size_t hidden;        /* parts open within a figure or an artifact */
};

/* Begins a page, with a run that is not read out. */
void hbk_structure_page(struct hbk_structure *structure);

/* Whether what is said now is read out: not in a figure or an artifact. */
bool hbk_structure_hears(const struct hbk_structure *structure);

/*
 * Takes the next mark. Returns whether a run begins with it; when not, it
 * draws nothing or is of the run before it. What is said must be heard.
 */
bool hbk_structure_take(struct hbk_structure *structure,
                        const struct hbk_mark *mark);

/* Whether anything of an element is read out. */
bool hbk_structure_says(const struct hbk_structure *structure, size_t element);

#endif
