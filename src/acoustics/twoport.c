#include "acoustics/twoport.h"

#include "base/cplx.h"

void hbk_twoport_identity(struct hbk_twoport *out)
{
    *out = (struct hbk_twoport){.ar = {0.0}};
    for (size_t i = 0; i < HBK_LANES; i++) {
        out->ar[i] = 1.0;
        out->dr[i] = 1.0;
    }
}

/*
 * One row of a product: (xr + j xi, yr + j yi) times the matrix `m`, in
 * place.
 */
static void row_times(double *restrict xr, double *restrict xi,
                      double *restrict yr, double *restrict yi,
                      const struct hbk_twoport *restrict m)
{
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double pr = (xr[i] * m->ar[i]) - (xi[i] * m->ai[i]) +
                          (yr[i] * m->cr[i]) - (yi[i] * m->ci[i]);
        const double pi = (xr[i] * m->ai[i]) + (xi[i] * m->ar[i]) +
                          (yr[i] * m->ci[i]) + (yi[i] * m->cr[i]);
        const double qr = (xr[i] * m->br[i]) - (xi[i] * m->bi[i]) +
                          (yr[i] * m->dr[i]) - (yi[i] * m->di[i]);
        const double qi = (xr[i] * m->bi[i]) + (xi[i] * m->br[i]) +
                          (yr[i] * m->di[i]) + (yi[i] * m->dr[i]);
        xr[i] = pr;
        xi[i] = pi;
        yr[i] = qr;
        yi[i] = qi;
    }
}

void hbk_twoport_chain(const struct hbk_twoport *near,
                       const struct hbk_twoport *far, struct hbk_twoport *out)
{
    struct hbk_twoport product = *near;
    row_times(product.ar, product.ai, product.br, product.bi, far);
    row_times(product.cr, product.ci, product.dr, product.di, far);
    *out = product;
}

void hbk_twoport_carry(const struct hbk_twoport *port,
                       const struct hbk_wave *far, struct hbk_wave *out)
{
    const struct hbk_wave w = *far;
    for (size_t i = 0; i < HBK_LANES; i++) {
        out->pr[i] = (port->ar[i] * w.pr[i]) - (port->ai[i] * w.pi[i]) +
                     (port->br[i] * w.ur[i]) - (port->bi[i] * w.ui[i]);
        out->pi[i] = (port->ar[i] * w.pi[i]) + (port->ai[i] * w.pr[i]) +
                     (port->br[i] * w.ui[i]) + (port->bi[i] * w.ur[i]);
        out->ur[i] = (port->cr[i] * w.pr[i]) - (port->ci[i] * w.pi[i]) +
                     (port->dr[i] * w.ur[i]) - (port->di[i] * w.ui[i]);
        out->ui[i] = (port->cr[i] * w.pi[i]) + (port->ci[i] * w.pr[i]) +
                     (port->dr[i] * w.ui[i]) + (port->di[i] * w.ur[i]);
    }
}

void hbk_twoport_set_lane(struct hbk_twoport *port, size_t lane,
                          struct hbk_abcd abcd)
{
    port->ar[lane] = creal(abcd.a);
    port->ai[lane] = cimag(abcd.a);
    port->br[lane] = creal(abcd.b);
    port->bi[lane] = cimag(abcd.b);
    port->cr[lane] = creal(abcd.c);
    port->ci[lane] = cimag(abcd.c);
    port->dr[lane] = creal(abcd.d);
    port->di[lane] = cimag(abcd.d);
}
