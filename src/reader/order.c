#include "reader/order.h"

static const char *const kinds[HBK_ORDER_KIND_COUNT] = {
    [HBK_ORDER_PLATE] = "plate",       [HBK_ORDER_WALL] = "wall",
    [HBK_ORDER_STAND] = "stand",       [HBK_ORDER_CARD] = "card",
    [HBK_ORDER_LARGE] = "large",       [HBK_ORDER_TRILLS] = "trills",
    [HBK_ORDER_SCALES] = "scales",     [HBK_ORDER_SLIDES] = "slides",
    [HBK_ORDER_PRIMER] = "primer",     [HBK_ORDER_PART] = "part",
    [HBK_ORDER_PRACTICE] = "practice",
};

const char *hbk_order_kind_name(enum hbk_order_kind kind)
{
    return kinds[kind];
}

bool hbk_order_kind_has_music(enum hbk_order_kind kind)
{
    return kind == HBK_ORDER_PART || kind == HBK_ORDER_PRACTICE;
}

const char *hbk_order_format_name(enum hbk_order_format format)
{
    static const char *const names[HBK_ORDER_FORMAT_COUNT] = {
        [HBK_ORDER_PDF] = "pdf",
        [HBK_ORDER_SVG] = "svg",
        [HBK_ORDER_PNG] = "png"};
    return names[format];
}

void hbk_order_finish(struct hbk_order *order)
{
    hbk_arena_finish(&order->arena);
    order->n_players = 0;
    order->players = NULL;
}
