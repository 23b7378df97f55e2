#include "solve/rest.h"

#include "acoustics/air.h"
#include "horn/horn.h"
#include "horn/tube.h"

double hbk_length_at_rest(const struct hbk_horn *horn)
{
    return hbk_rest_length(horn, hbk_speed_of_sound(horn->temperature_c));
}

double hbk_axis_at_rest(const struct hbk_horn *horn)
{
    return hbk_axis_length(horn, hbk_speed_of_sound(horn->temperature_c));
}
