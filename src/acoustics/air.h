#ifndef HBK_ACOUSTICS_AIR_H
#define HBK_ACOUSTICS_AIR_H

struct hbk_air {
    double speed_m_s;
};

struct hbk_air hbk_air_at(double temperature_c);

#endif
