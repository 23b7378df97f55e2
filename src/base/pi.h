#ifndef HBK_BASE_PI_H
#define HBK_BASE_PI_H

/* C11 does not name it. */
#define HBK_PI 3.14159265358979323846

#endif
