#include "acoustics/air.h"

struct hbk_air hbk_air_at(double temperature_c)
{
    return (struct hbk_air){
        .speed_m_s = 347.23 * (1.0 + 0.00166 * (temperature_c - 26.85))};
}
