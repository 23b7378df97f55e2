#ifndef HBK_TESTS_MARKED_H
#define HBK_TESTS_MARKED_H

/* Every mark that ABC can say, and each at the places it can have. */
static const char *const marked_tunes[] = {
    "X:1\nT:One\nT:Two\nT:Three\nC:Nobody\nM:4/4\nL:1/4\nQ:\"Allegro\" "
    "1/4=120\n"
    "K:F\n[P:A]!p!\"^dolce\"F!<(!GA!<)!!f!B|\"^rit.\"c2!>(!d2!>)!|Z4|!segno!c4!"
    "fermata!|\n[P:Trio]\"_soft\"!plus!c2!open!d2!D.C.alfine!|]\n",
    "X:1\nT:t\nM:2/4\nL:1/8\nK:C\n!mf!{de}c2 {/f}\"^Solo\"e2|[Q:1/8=90]!coda!"
    "d>d !sfp!e2|(3!<(!cde !<)!c2|z2 !>(!{g}f2|e2 d2!>)!|!D.S.!c4|]\n",
    "X:1\nT:t\nL:1/4\nM:none\nK:C\n\"^as you like\"cde \"_1-2 times\"f|\n",
    "X:1\nT:t\nM:3/4\nL:1/4\nK:C\n[Q:\"Slow\"]ccc|Z3|[M:2/4]Z2|Z|[K:G]Z|Z2:|"
    "Z|:Z2:|\n",
    "X:1\nT:t\nM:2/4\nL:1/4\nK:C\nccz{d}c|c2|cc|c-c|c2|cc|\n"
    "w:Oh my dear-est friend_ * _ so\\-so~good\nw:2.~Hea-ven * * * too\n"
    "W:A line\nW:\nW:100 \\% of it\n",
    "X:1\nT:t\nM:4/4\nL:1/4\nK:C\ncdef|gabc'|cccc|cccc|cccc|cccc|\n"
    "w:a-b-c|d___|e * f_|_ _ g|\n",
};

#endif
