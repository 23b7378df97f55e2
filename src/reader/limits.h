#ifndef HBK_READER_LIMITS_H
#define HBK_READER_LIMITS_H

/* What every file and the command line let people say of pitch and air. */
#define HBK_A4_LEAST_HZ 300.0
#define HBK_A4_MOST_HZ 600.0
#define HBK_AIR_LEAST_C (-10.0)
#define HBK_AIR_MOST_C 50.0
#define HBK_LIP_MOST_CENTS 300.0

#endif
