#ifndef HBK_HORN_PROVENANCE_H
#define HBK_HORN_PROVENANCE_H

/* What is known of a value: see "provenance" in DEVELOPERS.md. */
enum hbk_provenance {
    HBK_UNSTATED,
    HBK_MEASURED,
    HBK_CATALOGUE,
    HBK_ASSUMED,
    HBK_OF_PATTERN /* of the horn this one is based on, not of this one */
};

/* Parts of a file whose provenance can be stated as a whole. */
enum hbk_part {
    HBK_PART_LENGTH,
    HBK_PART_BORE,
    HBK_PART_MOUTHPIECE,
    HBK_PART_KEYS,
    HBK_PART_HOLES,
    HBK_PART_VALVES,
    HBK_PART_SLIDES,
    HBK_PART_CROOKS,
    HBK_PART_FINGERS,
    HBK_PART_TUNING,
    HBK_PART_PARTIALS,
    HBK_PART_COUNT
};

/* "length", "bore", ... as the file spells them. */
const char *hbk_part_name(enum hbk_part part);

#endif
