#include "horn/readings.h"

void hbk_readings_finish(struct hbk_readings *readings)
{
    hbk_arena_finish(&readings->arena);
    *readings = (struct hbk_readings){0};
}
