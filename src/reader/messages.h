#ifndef HBK_READER_MESSAGES_H
#define HBK_READER_MESSAGES_H

/*
 * The numbers of what the reader of YAML and horn files can say: 10 to 129.
 * A number keeps its meaning for good and is never used again; each stands
 * in the register of messages with its meaning, and in a file of tests/bad.
 */
enum hbk_reader_message {
    /* The file as text and as YAML. */
    HBK_H_EMPTY = 10,
    HBK_H_NUL = 11,
    HBK_H_UTF8 = 12,
    HBK_H_SYNTAX = 13,
    HBK_H_ALIAS = 14,
    HBK_H_ANCHOR = 15,
    HBK_H_TAG = 16,
    HBK_H_SECOND_DOCUMENT = 17,
    HBK_H_DUPLICATE = 18,
    HBK_H_DEPTH = 19,
    HBK_H_NOT_A_MAPPING = 20,
    HBK_H_NAME_NOT_A_WORD = 21,
    HBK_H_TOO_MANY_VALUES = 22,
    HBK_H_PRINTED_MARKS = 23,
    HBK_H_CUT_BY_COMMENT = 24,

    /* One value. */
    HBK_H_UNKNOWN_NAME = 30,
    HBK_H_MISSING = 31,
    HBK_H_NO_VALUE = 32,
    HBK_H_NOT_A_NUMBER = 33,
    HBK_H_TRAILING = 34,
    HBK_H_QUOTED_NUMBER = 35,
    HBK_H_NOT_FINITE = 36,
    HBK_H_LEADING_ZERO = 37,
    HBK_H_RANGE = 38,
    HBK_H_NOT_WHOLE = 39,
    HBK_H_NOT_TEXT = 40,
    HBK_H_EMPTY_TEXT = 41,
    HBK_H_NOT_BOOL = 42,
    HBK_H_NOT_A_NOTE = 43,
    HBK_H_NOT_A_CHOICE = 44,
    HBK_H_NOT_A_LIST = 45,
    HBK_H_NOT_FIELDS = 46,
    HBK_H_LIST_SIZE = 47,
    HBK_H_CONTROL_NAME = 48,
    HBK_H_TEXT_SIZE = 49,

    /* The horn as a whole. */
    HBK_H_VERSION = 50,
    HBK_H_NO_TUBE = 51,
    HBK_H_TWO_TUBES = 52,
    HBK_H_BORE_ONLY = 53,
    HBK_H_STRETCH_IN_BORE = 54,
    HBK_H_BORE_START = 55,
    HBK_H_BORE_ORDER = 56,
    HBK_H_BORE_STEP = 57,
    HBK_H_PARTIALS_UPSIDE_DOWN = 58,
    HBK_H_COMPASS_UPSIDE_DOWN = 59,
    HBK_H_TUNING_NOTE_OUTSIDE = 60,
    HBK_H_NOT_A_PARTIAL = 61,
    HBK_H_COLUMN_VANISHES = 62,
    HBK_H_TUNING_FINGERING = 63,
    HBK_H_STUCK = 64,

    /* Controls. */
    HBK_H_SAME_CONTROL = 70,
    HBK_H_TOO_MANY_CONTROLS = 71,
    HBK_H_TOO_MANY_SITES = 72,
    HBK_H_NO_FINGER = 73,
    HBK_H_UNKNOWN_FINGER = 74,
    HBK_H_FINGER_TWICE = 75,
    HBK_H_NOT_TOGETHER = 76,

    /* Keys and holes. */
    HBK_H_KEY_WORKS_NOTHING = 80,
    HBK_H_HOLE_NEEDS_PLACE = 81,
    HBK_H_HOLE_NEEDS_DIAMETER = 82,
    HBK_H_TWO_PLACES = 83,
    HBK_H_HOLE_BEYOND_BELL = 84,
    HBK_H_HOLE_BEYOND_MOUTHPIECE = 85,
    HBK_H_HOLE_TOO_WIDE = 86,
    HBK_H_HOLES_TOGETHER = 87,
    HBK_H_OPEN_KEY_RAISES = 88,
    HBK_H_SHUT_KEY_LOWERS = 89,
    HBK_H_OPENS_NO_SUCH_KEY = 90,
    HBK_H_OPENS_OPEN_KEY = 91,
    HBK_H_OPENS_WHILE_OPEN = 92,
    HBK_H_TOO_MANY_TOUCHES = 93,
    HBK_H_PAD_TOO_SMALL = 94,
    HBK_H_PLACE_NEEDS_LENGTH = 95,

    /* Valves, triggers, slides, crooks. */
    HBK_H_VALVE_WORKS_NOTHING = 100,
    HBK_H_TWO_LOOP_LENGTHS = 101,
    HBK_H_LOOP_FORM = 102,
    HBK_H_LOOP_NOT_POSITIVE = 103,
    HBK_H_WHEN_NO_SUCH_VALVE = 104,
    HBK_H_WHEN_WITHOUT_OWN = 105,
    HBK_H_RAISES_BUT_OUT = 106,
    HBK_H_LOWERS_BUT_IN = 107,
    HBK_H_NEEDS_PLACE = 108,
    HBK_H_OUTSIDE_TUBE = 109,
    HBK_H_NO_SUCH_VALVE = 110,
    HBK_H_TRIGGER_ON_LOOP_IN = 111,
    HBK_H_NO_TRAVEL = 112,
    HBK_H_SAME_NAME = 113,
    HBK_H_RESERVED_NAME = 114,
    HBK_H_STANDS_BEYOND = 115,

    /* Horns based on others, and finding them. */
    HBK_H_BASE_NOT_FOUND = 120,
    HBK_H_BASE_CIRCLE = 121,
    HBK_H_BASE_DEPTH = 122,
    HBK_H_NOTHING_TO_REMOVE = 123,
    HBK_H_REMOVE_WITHOUT_BASE = 124,
    HBK_H_NO_SUCH_HORN = 125
};

#endif
